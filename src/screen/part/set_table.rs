//! The sets of readings so far, one line a set: spring, collar, readings, sag with its uncertainty, and where it lies.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::assessment::{SetFinding, Standing};
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::theme::Theme;
use crate::text::Shown;
use crate::units::Turns;

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

/// The same with the condition that readings are taken under now.
pub fn standing_now(lies: Standing, session: &OpenSession, theme: Theme) -> Line<'static> {
    let with = session.state.condition().map(|now| format!(" {}", phrase::condition::with(now)));
    let with = with.map(|with| Span::styled(with, theme.strong()));
    std::iter::once(standing(lies, theme)).chain(with).collect()
}

/// Cells a line takes with the number of readings in it.
const FULL: usize = 56;

/// The last sets that fit into so many lines, oldest first.
pub fn lines(session: &OpenSession, width: usize, room: usize, desk: &Desk) -> Vec<Line<'static>> {
    let sets = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.sets);
    if sets.is_empty() {
        return vec![Line::styled(phrase::guide::NO_SETS, desk.theme.quiet())];
    }
    let shown = sets.iter().skip(sets.len().saturating_sub(room));
    shown.map(|set| line(set, session, width, desk)).collect()
}

fn line(set: &SetFinding, session: &OpenSession, width: usize, desk: &Desk) -> Line<'static> {
    let (units, theme) = (desk.units, desk.theme);
    let spring = phrase::spring(set.spring, &session.state.entered.springs, units);
    let collar = if set.preload_turns == Turns::ZERO {
        String::new()
    } else {
        format!("+{}", units.show(set.preload_turns))
    };
    let condition = set.how.condition.on(&session.state.conditions);
    let mounted = phrase::condition::behind(format!("{spring:<10}{collar}").trim_end().to_owned(), condition);
    let mounted = Shown::from(mounted.as_str()).fitted(22);
    let readings = if width < FULL { String::new() } else { format!("{:>2}x ", set.readings_used) };
    Line::from(vec![
        Span::styled(format!("{:>2} ", set.number), theme.quiet()),
        Span::raw(format!("{mounted:<22} {readings}")),
        Span::styled(format!("{:>12} ", set.sag_to_tell().shown(units)), theme.strong()),
        standing(set.standing, theme),
    ])
}
