//! The table of trials, growing downwards: number, spring and collar where they change, reading, and the sag it makes.

use ratatui::text::{Line, Span};

use unicode_width::UnicodeWidthStr;

use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::state::{Reading, ReadingSet};
use crate::session::{Condition, Setup};
use crate::text::Shown;
use crate::units::{Share, Turns, UnitSet};

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
    let [number, spring, moved, sag] = phrase::trials::COLUMNS;
    let heading = format!("{number:>3}  {spring:<SPRING$} {moved:>7} {sag:>8}");
    let mut lines = vec![Line::styled(heading, theme.quiet())];
    let Some(setup) = &session.state.setup else { return lines };
    let table = TrialTable { setup, conditions: &session.state.conditions, units, theme };
    let room = room.saturating_sub(1);
    let all = lines_of(session);
    let end = all.saturating_sub(below).max(room.min(all));
    let mut above = end.saturating_sub(room);
    for set in &session.state.sets {
        let of_set = set.readings.len().max(1);
        if above < of_set {
            lines.extend(table.lines_from(above, set));
        }
        above = above.saturating_sub(of_set);
    }
    lines.truncate(room + 1);
    lines
}

/// What every line of the table is told by.
#[derive(Clone, Copy)]
struct TrialTable<'a> {
    setup: &'a Setup,
    conditions: &'a [Condition],
    units: UnitSet,
    theme: Theme,
}

impl TrialTable<'_> {
    /// A line a reading from this one on, the spring named in the first; a set without a reading is a line of its own, so
    /// that a change is seen at once.
    fn lines_from(self, first: usize, set: &ReadingSet) -> Vec<Line<'static>> {
        let name = self.named(set);
        if set.readings.is_empty() {
            return vec![Line::from(vec![Span::raw("     "), Span::styled(name, self.theme.strong())])];
        }
        let rows = set.readings.iter().skip(first).enumerate();
        rows.map(|(index, reading)| self.row(reading, if index == 0 { &name } else { "" })).collect()
    }

    fn row(self, reading: &Reading, name: &str) -> Line<'static> {
        let theme = self.theme;
        let number = Span::styled(format!("{:>3}  ", reading.number.0), theme.quiet());
        let name = Span::styled(format!("{name:<SPRING$} "), theme.strong());
        let moved = reading.distance.ruled(self.units).figure;
        if let Some(because) = &reading.void {
            let struck = format!("({moved})");
            let gap = Span::raw(" ".repeat(8usize.saturating_sub(struck.width())));
            let because = Span::styled(format!(" {}", because.shown().fitted(7)), theme.quiet());
            return Line::from(vec![number, name, gap, Span::styled(struck, theme.void()), because]);
        }
        let sag = self.units.show(Share::fraction(reading.distance / self.setup.shock.stroke));
        Line::from(vec![
            number,
            name,
            Span::styled(format!("{moved:>7}"), theme.strong()),
            Span::raw(format!(" {sag:>8}")),
        ])
    }

    fn named(self, set: &ReadingSet) -> String {
        let spring = phrase::spring(set.spring, &self.setup.springs, self.units);
        let name = if set.preload_turns == Turns::ZERO {
            spring
        } else {
            format!("{spring} +{}", self.units.show(set.preload_turns))
        };
        let name = phrase::condition::behind(name, set.how.condition.on(self.conditions));
        Shown::from(name.as_str()).fitted(SPRING)
    }
}
