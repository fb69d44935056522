//! The keys live at the present place, from the same table that binds them.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, Borders, Paragraph};
use unicode_width::UnicodeWidthStr;

use crate::screen::keys::{Action, Binding, Typing, binding};
use crate::screen::model::Model;

/// Cells between two keys.
const GAP: usize = 3;

/// Lines it takes at that width, the rule above it included.
pub fn height(width: u16, model: &Model) -> u16 {
    let lines = rows(usize::from(width.saturating_sub(4)), model).len();
    u16::try_from(lines.min(4)).unwrap_or(4) + 1
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, model: &Model) {
    let theme = model.desk.theme;
    let line = |row: Vec<(String, &'static str)>| {
        let mut spans = Vec::new();
        for (key, name) in row {
            spans.push(Span::styled(key, theme.key()));
            spans.push(Span::styled(format!(" {name}{}", " ".repeat(GAP)), theme.text()));
        }
        Line::from(spans)
    };
    let lines: Vec<Line<'_>> =
        rows(usize::from(area.width.saturating_sub(4)), model).into_iter().map(line).collect();
    let block = Block::new()
        .borders(Borders::TOP)
        .border_style(theme.quiet())
        .padding(ratatui::widgets::Padding::horizontal(2));
    frame.render_widget(Paragraph::new(lines).block(block), area);
}

/// Key and name of everything live, broken into lines.
fn rows(width: usize, model: &Model) -> Vec<Vec<(String, &'static str)>> {
    let typing = model.place().typing(&model.desk);
    let mut rows = vec![Vec::new()];
    let mut used = 0;
    for (key, name) in shown(&model.place().live(&model.desk), typing) {
        let cells = key.width() + 1 + name.width() + GAP;
        if used + cells > width + GAP && used > 0 {
            rows.push(Vec::new());
            used = 0;
        }
        used += cells;
        if let Some(row) = rows.last_mut() {
            row.push((key, name));
        }
    }
    rows
}

/// Key and name of the live actions that the footer shows, in their order.
pub fn shown(live: &[Action], typing: Typing) -> Vec<(String, &'static str)> {
    let one = |action: &Action| {
        let row: &Binding = binding(*action);
        row.shown(typing).map(|key| (key, row.name))
    };
    live.iter().filter(|action| action.in_footer()).filter_map(one).collect()
}
