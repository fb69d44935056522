//! The sets of readings so far, one line a set: spring, collar, readings, sag with its uncertainty, and where it lies.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::assessment::{SetFinding, Standing};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::text::Shown;
use crate::units::{Turns, UnitSet};

/// The mark for where a sag lies; its shape says it without colour.
pub const fn mark(standing: Standing) -> &'static str {
    match standing {
        Standing::Below => "▼",
        Standing::Inside => "●",
        Standing::Above => "▲",
    }
}

/// The ink for where a sag lies.
pub fn ink(standing: Standing, theme: Theme) -> Style {
    match standing {
        Standing::Inside => theme.good(),
        Standing::Below | Standing::Above => theme.strong(),
    }
}

/// Mark and words for where a sag lies.
pub fn standing(standing: Standing, theme: Theme) -> Span<'static> {
    Span::styled(format!("{} {}", mark(standing), phrase::guide::standing(standing)), ink(standing, theme))
}

/// The last sets that fit into so many lines, oldest first.
pub fn lines(session: &OpenSession, room: usize, units: UnitSet, theme: Theme) -> Vec<Line<'static>> {
    let sets = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.sets);
    if sets.is_empty() {
        return vec![Line::styled(phrase::guide::NO_SETS, theme.quiet())];
    }
    let shown = sets.iter().skip(sets.len().saturating_sub(room));
    shown.map(|set| line(set, session, units, theme)).collect()
}

fn line(set: &SetFinding, session: &OpenSession, units: UnitSet, theme: Theme) -> Line<'static> {
    let spring = phrase::spring(set.spring, &session.state.told.rack, units);
    let spring = Shown::from(spring.as_str()).fitted(22);
    let collar = if set.past_contact == Turns::ZERO {
        String::new()
    } else {
        format!("+{}", units.show(set.past_contact))
    };
    Line::from(vec![
        Span::styled(format!("{:>2}  ", set.number), theme.quiet()),
        Span::raw(format!("{spring:<11} {collar:<11} {:>2}x ", set.readings_used)),
        Span::styled(format!("{:>12}  ", set.sag.shown(units)), theme.strong()),
        standing(set.standing, theme),
    ])
}
