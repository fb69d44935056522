//! How the tally looks: its parts one below the other, each table as wide as its figures ask for.
//!
//! Where a table is wider than the window, the names of its rows stand above their figures. Not here: what is in it.

use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::{Progress, TallyPlace};
use crate::phrase::tally::{self as words, TallyPart, TallyRow};
use crate::screen::model::Desk;
use crate::screen::theme::{Glyphs, Theme};
use crate::text::wrap::wrap;

/// Cells between two columns.
const GAP: usize = 2;
/// Cells of the longest bar.
const LONGEST_BAR: usize = 20;
/// Cells before the figures of a row whose name stands above them.
const INDENT: usize = 2;

/// All of it.
pub(super) fn lines(place: &TallyPlace, width: u16, desk: &Desk) -> Vec<Line<'static>> {
    let (theme, width) = (desk.theme, usize::from(width));
    let text = |text: &str, style| wrap(text, width).into_iter().map(move |line| Line::styled(line, style));
    let mut lines: Vec<Line<'static>> = vec![Line::raw("")];
    match &place.progress {
        Progress::UnderWay(of) => {
            lines.extend(text(&words::progress(place.sessions.len(), *of), theme.accent()));
        }
        Progress::Failed(because) => lines.extend(text(because, theme.alert())),
        Progress::Done => {}
    }
    let is_done = place.progress == Progress::Done;
    if place.tally.sessions > 0 || is_done {
        let head = match place.tally.sessions {
            0 => words::nothing_yet(place.since),
            _ => words::heading(&place.tally, place.since),
        };
        lines.extend(text(&head, theme.strong()));
    }
    lines.extend(words::not_counted(place.not_counted).iter().flat_map(|said| text(said, theme.text())));
    if place.unreadable > 0 {
        lines.extend(text(&words::unreadable(place.unreadable), theme.alert()));
    }
    lines.extend(text(words::PERIODS, theme.quiet()));
    if place.tally.sessions > 0 {
        lines.extend(
            words::parts(&place.tally, desk.units).iter().flat_map(|part| self::part(part, width, theme)),
        );
    }
    lines
}

fn part(part: &TallyPart, width: usize, theme: Theme) -> Vec<Line<'static>> {
    let said = |text: &str, style| wrap(text, width).into_iter().map(move |line| Line::styled(line, style));
    let mut lines = vec![Line::raw("")];
    lines.extend(said(part.heading, theme.strong()));
    if part.columns.is_empty() {
        let name = part.rows.iter().map(|row| row.name.width()).max().unwrap_or(0) + GAP;
        lines.extend(part.rows.iter().flat_map(|row| in_words(row, name, width)));
    } else {
        lines.extend(Columns::of(part, width).lines(part, theme));
    }
    lines.extend(part.below.iter().flat_map(|text| said(text, theme.text())));
    lines
}

/// A row that says it in words: its name, and the words beside it.
fn in_words(row: &TallyRow, name: usize, width: usize) -> Vec<Line<'static>> {
    let lines = wrap(&row.cells.join(" "), width.saturating_sub(name).max(1)).into_iter().enumerate();
    let head = |line| if line == 0 { row.name.as_str() } else { "" };
    lines.map(|(line, text)| Line::raw(format!("{:<name$}{text}", head(line)))).collect()
}

/// How wide the columns of a table are.
struct Columns {
    name: usize,
    cells: Vec<usize>,
    /// Whether the names stand above the figures.
    are_stacked: bool,
    bar: usize,
}

impl Columns {
    fn of(part: &TallyPart, width: usize) -> Self {
        let (first, others) = part.columns.split_first().unwrap_or((&"", &[]));
        let widest = |head: &str, cells: &mut dyn Iterator<Item = &str>| {
            cells.map(UnicodeWidthStr::width).max().unwrap_or(0).max(head.width())
        };
        let name = widest(first, &mut part.rows.iter().map(|row| row.name.as_str()));
        let cell = |(place, head): (usize, &&str)| {
            let mut cells = part.rows.iter().filter_map(|row| row.cells.get(place)).map(String::as_str);
            GAP + widest(head, &mut cells)
        };
        let cells: Vec<usize> = others.iter().enumerate().map(cell).collect();
        let all = name + cells.iter().sum::<usize>();
        let has_bars = part.rows.iter().any(|row| row.bar.is_some());
        let bar = if has_bars { width.saturating_sub(all + GAP).min(LONGEST_BAR) } else { 0 };
        Self { name, cells, are_stacked: all > width, bar }
    }

    fn lines(&self, part: &TallyPart, theme: Theme) -> Vec<Line<'static>> {
        let (first, others) = part.columns.split_first().unwrap_or((&"", &[]));
        let mut heads = self.row(first, &others.iter().map(|head| (*head).to_owned()).collect::<Vec<_>>());
        if first.is_empty() {
            heads.drain(..heads.len() - 1);
        }
        let heads = heads.into_iter().map(|line| Line::styled(line, theme.quiet()));
        heads.chain(part.rows.iter().flat_map(|row| self.with_bar(row, theme))).collect()
    }

    fn with_bar(&self, row: &TallyRow, theme: Theme) -> Vec<Line<'static>> {
        let mut lines: Vec<Line<'static>> =
            self.row(&row.name, &row.cells).into_iter().map(Line::raw).collect();
        let glyph = if theme.glyphs == Glyphs::Full { "▄" } else { "#" };
        let bar = row.bar.filter(|_| self.bar > 0).map(|bar| glyph.repeat(bar.cells(self.bar)));
        if let (Some(bar), Some(last)) = (bar, lines.last_mut()) {
            last.push_span(Span::styled(format!("{:GAP$}{bar}", ""), theme.strong()));
        }
        lines
    }

    /// A row as one line, or its name above its figures.
    fn row(&self, name: &str, cells: &[String]) -> Vec<String> {
        let cells = cells.iter().zip(&self.cells).map(|(cell, width)| format!("{cell:>width$}"));
        let cells: String = cells.collect();
        if self.are_stacked {
            return vec![name.to_owned(), format!("{:INDENT$}{cells}", "")];
        }
        vec![format!("{name:<width$}{cells}", width = self.name)]
    }
}
