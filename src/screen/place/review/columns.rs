//! The columns of the list of past sessions: which there is room for, and what stands in them.
//!
//! Date, customer, bike, spring, sag and state are always there; the aim, the swaps and the time of day come with the
//! room. A name that is too long gives way, a figure never does.

use ratatui::text::Line;
use unicode_width::UnicodeWidthStr;

use crate::archive::index::{Contents, IndexedSession, Location, SessionSummary, Trouble};
use crate::phrase;
use crate::phrase::review::{COLUMNS, DEMONSTRATION_SIGN, NO_NAME, NOT_KNOWN};
use crate::screen::model::Desk;
use crate::session::{Origin, Step};
use crate::text::Shown;
use crate::units::{Kind, Show, UnitSet};

/// From this width on the aim has a column.
const AIM: u16 = 96;
/// From this width on the swaps, the time of day and the step have their columns.
const WIDE: u16 = 116;
/// From this width on the longest state is there in full.
const ROOMY: u16 = 132;
/// Cells a name keeps where there is room for it.
const LEAST_NAME: usize = 10;
/// Cells of the marks before a line.
const MARKS: usize = 2;
/// Cells between columns.
const GAP: usize = 2;

/// Cells of each column; none for one there is no room for.
#[derive(Debug, Clone, Copy)]
pub(super) struct ReviewColumns {
    cells: [usize; 8],
}

impl ReviewColumns {
    /// The columns there is room for; the names share what the others leave, a customer's `longest` first.
    pub(super) fn of(width: u16, longest: usize) -> Self {
        let wide = width >= WIDE;
        let mut cells = [10, 0, 0, 5, 5, 0, 9, 0];
        if width >= AIM {
            cells[5] = 5;
        }
        if wide {
            (cells[0], cells[6], cells[7]) = (16, if width >= ROOMY { 34 } else { 24 }, 5);
        }
        let taken: usize = cells.iter().filter(|cells| **cells > 0).map(|cells| cells + GAP).sum();
        let names = usize::from(width).saturating_sub(taken + 2 * GAP + MARKS);
        cells[1] = longest.clamp(LEAST_NAME, names.saturating_sub(LEAST_NAME).max(LEAST_NAME)).min(names);
        cells[2] = names - cells[1];
        Self { cells }
    }

    /// The headings, with the units of figures that stand without.
    pub(super) fn headings(&self, units: UnitSet) -> String {
        let mut headings = COLUMNS.map(str::to_owned);
        units.unit(Kind::Rate).symbol().clone_into(&mut headings[3]);
        self.set(&" ".repeat(MARKS), headings)
    }

    /// One session as a line behind its marks.
    pub(super) fn line(&self, marks: &str, session: &IndexedSession, desk: &Desk) -> Line<'static> {
        let theme = desk.theme;
        let texts = match &session.contents {
            Contents::Read(summary) => self.texts(summary, session.whereabouts, desk),
            Contents::Unreadable { trouble, .. } => unreadable(session, *trouble),
        };
        let style = match &session.contents {
            Contents::Read(_) => theme.text(),
            Contents::Unreadable { .. } => theme.quiet(),
        };
        Line::styled(self.set(marks, texts), style)
    }

    fn texts(&self, summary: &SessionSummary, whereabouts: Location, desk: &Desk) -> [String; 8] {
        let (work, units) = (&summary.work, desk.units);
        let is_wide = self.cells[7] > 0;
        let or_not = |text: Option<String>| text.unwrap_or_else(|| NOT_KNOWN.to_owned());
        let sign = if !is_wide && is_demonstration(summary) { DEMONSTRATION_SIGN } else { "" };
        let customer = if summary.customer.is_empty() {
            NO_NAME.to_owned()
        } else {
            summary.customer.shown().to_string()
        };
        let day = if is_wide { "%Y-%m-%d %H:%M" } else { "%Y-%m-%d" };
        [
            summary.opened.format(day).to_string(),
            format!("{sign}{customer}"),
            summary.bike.shown().to_string(),
            or_not(work.fitted.map(|rate| rate.written(units).figure)),
            or_not(work.sag.map(|sag| sag.written(units).figure)),
            or_not(work.target.map(|target| target.written(units).figure)),
            state(summary, whereabouts, is_wide),
            work.swaps.to_string(),
        ]
    }

    /// Texts in their columns, figures to the right, behind the marks of the line.
    fn set(self, marks: &str, texts: [String; 8]) -> String {
        let mut line = String::from(marks);
        for (index, (text, cells)) in texts.into_iter().zip(self.cells).enumerate() {
            if cells == 0 {
                continue;
            }
            let text = Shown::from(text.as_str()).fitted(cells);
            let blanks = " ".repeat(cells - text.width().min(cells));
            let is_figure = matches!(index, 3..=5 | 7);
            let (before, after) = if is_figure { (blanks.as_str(), "") } else { ("", blanks.as_str()) };
            line.extend([before, &text, after, &" ".repeat(GAP)]);
        }
        line
    }
}

/// Whether some of these are demonstrations that only their sign tells, because the state has no room to.
pub(super) fn has_signs<'a>(width: u16, mut sessions: impl Iterator<Item = &'a IndexedSession>) -> bool {
    let is_signed = |session: &IndexedSession| match &session.contents {
        Contents::Read(summary) => is_demonstration(summary),
        Contents::Unreadable { .. } => false,
    };
    width < WIDE && sessions.any(is_signed)
}

fn is_demonstration(summary: &SessionSummary) -> bool {
    summary.origin == Origin::Demonstration
}

/// How far the work has come; that it is invented, that there is no record, or one changed outside, goes before. Where there
/// is no room for more than one of these, a sign before the customer says that it is invented.
fn state(summary: &SessionSummary, whereabouts: Location, is_wide: bool) -> String {
    use phrase::review::{CLOSED, EDITED, GONE, IN_SPOOL, INVENTED, UNFINISHED, stands_at};
    let marks = [
        (is_wide && is_demonstration(summary)).then_some(INVENTED),
        match whereabouts {
            Location::Spool => Some(IN_SPOOL),
            Location::Beside => Some(GONE),
            Location::Records => (!summary.seal.is_sound()).then_some(EDITED),
        },
    ];
    let marks = marks.into_iter().flatten();
    if is_wide {
        let parts = marks.map(str::to_owned).chain([stands_at(summary.work.step)]);
        return parts.collect::<Vec<_>>().join(", ");
    }
    let closed = if summary.work.step == Step::Closed { CLOSED } else { UNFINISHED };
    marks.last().unwrap_or(closed).to_owned()
}

/// A record that cannot be read, as what it is.
fn unreadable(session: &IndexedSession, trouble: Trouble) -> [String; 8] {
    use phrase::review::{DAMAGED, NEWER, NOT_A_RECORD, OUT_OF_REACH};
    let state = match trouble {
        Trouble::Newer => NEWER,
        Trouble::Damaged => DAMAGED,
        Trouble::NotARecord => NOT_A_RECORD,
        Trouble::OutOfReach => OUT_OF_REACH,
    };
    let day = session.name.as_str().get(..10).unwrap_or_default().to_owned();
    let none = || NOT_KNOWN.to_owned();
    [day, session.name.record(), String::new(), none(), none(), none(), state.to_owned(), none()]
}

/// Cells the name of a customer takes.
pub(super) fn customer_width(session: &IndexedSession, width: u16) -> usize {
    match &session.contents {
        Contents::Read(summary) => {
            let is_signed = width < WIDE && is_demonstration(summary);
            summary.customer.shown().width() + if is_signed { DEMONSTRATION_SIGN.width() } else { 0 }
        }
        Contents::Unreadable { .. } => session.name.record().len(),
    }
}
