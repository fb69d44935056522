//! What changes with the spring: a column a spring, a row a figure.
//!
//! Not here: the words of the table (`phrase::changes`).

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use crate::phrase::ChangesTable;
use crate::screen::theme::Theme;
use crate::text::Shown;
use crate::text::wrap::wrap;

/// Cells of the column of names.
const NAMES: usize = 27;
/// The widest a spring's column gets.
const WIDEST: usize = 24;
/// Cells of the widest line of the note.
const NOTE: usize = 100;

/// Draws the table and the note below it, and says how many lines it took; the springs share what the names leave.
pub fn draw(frame: &mut Frame<'_>, area: Rect, table: &ChangesTable, theme: Theme) -> u16 {
    let lines = lines(table, usize::from(area.width), theme);
    let taken = u16::try_from(lines.len()).unwrap_or(u16::MAX).min(area.height);
    frame.render_widget(Paragraph::new(lines), area);
    taken
}

fn lines(table: &ChangesTable, width: usize, theme: Theme) -> Vec<Line<'static>> {
    let share = width.saturating_sub(NAMES).checked_div(table.springs.len()).unwrap_or(0);
    let column = share.min(WIDEST);
    let line = |name: &str, cells: Vec<&str>, styles: [Style; 2]| {
        let mut spans = vec![Span::styled(padded(name, NAMES), styles[0])];
        spans.extend(cells.into_iter().map(|cell| Span::styled(padded(cell, column), styles[1])));
        Line::from(spans)
    };
    let (text, strong) = (theme.text(), theme.strong());
    let names = table.springs.iter().map(|spring| spring.name.as_str()).collect();
    let roles = table.springs.iter().map(|spring| spring.role.as_str()).collect();
    let mut lines = vec![
        Line::styled(table.title, theme.title()),
        Line::raw(""),
        line("", names, [text, strong]),
        line("", roles, [text, theme.quiet()]),
        Line::raw(""),
    ];
    for row in &table.rows {
        lines.push(line(row.name, row.cells.iter().map(String::as_str).collect(), [text, strong]));
    }
    lines.push(Line::raw(""));
    lines.extend(wrap(table.note, width.min(NOTE)).into_iter().map(|line| Line::styled(line, text)));
    lines
}

/// A cell of its column: cut where it is too long, a blank at its end in any case.
fn padded(text: &str, cells: usize) -> String {
    let fitted = Shown::from(text).fitted(cells.saturating_sub(1));
    let gap = " ".repeat(cells.saturating_sub(fitted.width()));
    fitted + &gap
}
