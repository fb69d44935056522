//! The round so far: one line a set, in order, so that the way to the answer is seen; readings, mean and doubt on the scale
//! the springs share.
//!
//! Not here: what a set says (`assessment::evidence`).

use ratatui::text::{Line, Span};

use super::sag_columns::{SagColumns, SagLine};
use super::set_table;
use crate::assessment::SetFinding;
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::ReadingSet;
use crate::units::{Length, Share, Show, Turns, UnitSet};

/// A reading that counts.
const READING: &str = "•";
/// A reading that does not.
const VOID: &str = "×";

/// The last sets that fit into so many lines, oldest first.
pub fn lines(
    session: &OpenSession,
    columns: SagColumns,
    room: usize,
    units: UnitSet,
    theme: Theme,
) -> Vec<Line<'static>> {
    let sets = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.sets);
    if sets.is_empty() {
        return vec![Line::styled(phrase::guide::NO_SETS, theme.quiet())];
    }
    let shown = sets.iter().skip(sets.len().saturating_sub(room));
    shown.map(|set| line(set, session, columns, units, theme)).collect()
}

/// One set.
pub fn line(
    set: &SetFinding,
    session: &OpenSession,
    columns: SagColumns,
    units: UnitSet,
    theme: Theme,
) -> Line<'static> {
    columns.line(entry(set, session, columns, units, theme))
}

/// The heading, with the ticks of the scale.
pub fn heading(columns: SagColumns, theme: Theme) -> Line<'static> {
    columns.heading(phrase::guide::SETS, phrase::guide::SET_COLUMNS, theme)
}

fn entry(
    set: &SetFinding,
    session: &OpenSession,
    columns: SagColumns,
    units: UnitSet,
    theme: Theme,
) -> SagLine {
    let latest = set.number == session.state.sets.len();
    let style = if latest { theme.strong() } else { theme.text() };
    let mut row = columns.scale.row(theme);
    row.interval(set.sag.value, set.sag.uncertainty, set.ninety_percent, style);
    if let (Some(taken), Some(setup)) = (session.state.sets.get(set.number - 1), &session.state.setup) {
        for (sag, mark) in readings(taken, setup.shock.stroke) {
            row.mark(sag, mark, theme.text());
        }
    }
    row.mark(set.sag.value, set_table::mark(set.standing), set_table::ink(set.standing, theme));
    SagLine {
        mark: Span::styled(set.number.to_string(), theme.quiet()),
        name: Span::styled(name(set, session, units), style),
        row,
        sag: (set.sag_to_tell(), style),
        tail: vec![
            // Never bold: the cross on the shaft is, which says that the coils touch.
            Span::styled(format!("{:>3}× ", set.readings_used), theme.text()),
            Span::styled(set_table::mark(set.standing), set_table::ink(set.standing, theme)),
        ],
    }
}

/// The spring of a set, the collar where it is past contact, and what was otherwise.
pub fn name(set: &SetFinding, session: &OpenSession, units: UnitSet) -> String {
    let spring = phrase::spring(set.spring, &session.state.entered.springs, units);
    let place = match set.preload_turns {
        Turns::ZERO => spring,
        turns => format!("{spring} +{}", turns.written(units).figure),
    };
    phrase::condition::behind(place, set.how.condition.on(&session.state.conditions))
}

/// The sag of each reading, and whether it counts, by its mark.
fn readings(set: &ReadingSet, stroke: Length) -> impl Iterator<Item = (Share, &'static str)> {
    set.readings.iter().map(move |reading| {
        let mark = if reading.void.is_some() { VOID } else { READING };
        (Share::fraction(reading.distance / stroke), mark)
    })
}
