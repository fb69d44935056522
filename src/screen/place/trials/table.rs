//! The table of trials, growing downwards: number, spring and collar where they change, reading, and the sag it makes.

use ratatui::text::{Line, Span};

use unicode_width::UnicodeWidthStr;

use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::Setup;
use crate::session::state::{Reading, ReadingSet};
use crate::text::Shown;
use crate::units::{Share, Show, Turns, UnitSet};

/// Cells of the table.
pub(super) const WIDTH: u16 = 45;
/// Cells of the column of springs.
const SPRING: usize = 22;

/// How many lines the table has.
pub(super) fn lines_of(session: &OpenSession) -> usize {
    session.state.sets.iter().map(|set| set.readings.len().max(1)).sum()
}

/// The heading, and the last lines that fit above so many that are left out.
pub(super) fn lines(
    session: &OpenSession,
    room: usize,
    below: usize,
    units: UnitSet,
    theme: Theme,
) -> Vec<Line<'static>> {
    let [number, spring, moved, sag] = phrase::guide::TRIAL_COLUMNS;
    let heading = format!("{number:>3}  {spring:<SPRING$} {moved:>7} {sag:>8}");
    let mut lines = vec![Line::styled(heading, theme.quiet())];
    let Some(setup) = &session.state.setup else { return lines };
    let all: Vec<Line<'static>> =
        session.state.sets.iter().flat_map(|set| of_set(set, setup, units, theme)).collect();
    let room = room.saturating_sub(1);
    let end = all.len().saturating_sub(below).max(room.min(all.len()));
    let first = end.saturating_sub(room);
    lines.extend(all.into_iter().skip(first).take(room));
    lines
}

/// A line a reading; a set without one is a line of its own, so that a change is seen at once.
fn of_set(set: &ReadingSet, setup: &Setup, units: UnitSet, theme: Theme) -> Vec<Line<'static>> {
    let name = named(set, setup, units);
    if set.readings.is_empty() {
        return vec![Line::from(vec![Span::raw("     "), Span::styled(name, theme.strong())])];
    }
    let rows = set.readings.iter().enumerate();
    rows.map(|(index, reading)| row(reading, if index == 0 { &name } else { "" }, setup, units, theme))
        .collect()
}

fn row(reading: &Reading, name: &str, setup: &Setup, units: UnitSet, theme: Theme) -> Line<'static> {
    let number = Span::styled(format!("{:>3}  ", reading.number.0), theme.quiet());
    let name = Span::styled(format!("{name:<SPRING$} "), theme.strong());
    let moved = reading.moved.even(units).figure;
    if let Some(because) = &reading.void {
        let struck = format!("({moved})");
        let gap = Span::raw(" ".repeat(8usize.saturating_sub(struck.width())));
        let because = Span::styled(format!(" {}", because.shown().fitted(7)), theme.quiet());
        return Line::from(vec![number, name, gap, Span::styled(struck, theme.void()), because]);
    }
    let sag = units.show(Share::fraction(reading.moved / setup.shock.stroke));
    Line::from(vec![
        number,
        name,
        Span::styled(format!("{moved:>7}"), theme.strong()),
        Span::raw(format!(" {sag:>8}")),
    ])
}

fn named(set: &ReadingSet, setup: &Setup, units: UnitSet) -> String {
    let spring = phrase::spring(set.spring, &setup.rack, units);
    let name = if set.past_contact == Turns::ZERO {
        spring
    } else {
        format!("{spring} +{}", units.show(set.past_contact))
    };
    Shown::from(name.as_str()).fitted(SPRING)
}
