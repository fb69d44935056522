//! How the rack looks: its springs in columns, the line being typed below, or the faults of a file that cannot be read.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use super::{Editing, Rack};
use crate::phrase;
use crate::screen::effect::ShopRack;
use crate::screen::hits::{Hits, ListInSight};
use crate::screen::model::Desk;
use crate::screen::part::field;
use crate::text::Shown;
use crate::text::wrap::wrap;

/// Cells of each column.
const CELLS: [usize; 6] = [10, 6, 9, 10, 9, 18];

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, rack: &Rack, desk: &Desk, hits: &mut Hits) {
    if let ShopRack::Unreadable(faults) = &desk.shelf.rack {
        return draw_faults(frame, area, faults, desk);
    }
    let below = if rack.editing.is_some() { 5 } else { 3 };
    let [list, below] = Layout::vertical([Constraint::Min(1), Constraint::Length(below)]).areas(area);
    draw_list(frame, list, rack, desk, hits);
    match &rack.editing {
        Some(editing) => draw_line(frame, below, editing, desk),
        None => draw_state(frame, below, rack, desk),
    }
}

fn draw_list(frame: &mut Frame<'_>, area: Rect, rack: &Rack, desk: &Desk, hits: &mut Hits) {
    let theme = desk.theme;
    let springs = rack.springs(desk);
    let marked = rack.marked(desk);
    let room = usize::from(area.height).saturating_sub(2);
    let first = marked.saturating_sub(room / 2).min(springs.len().saturating_sub(room));
    if rack.editing.is_none() {
        let below = Rect { y: area.y.saturating_add(2), height: area.height.saturating_sub(2), ..area };
        let count = (springs.len() - first).min(room);
        hits.list(below, ListInSight { first, count, marked: Some(marked) });
    }
    let mut lines =
        vec![Line::raw(""), Line::styled(set(" ", phrase::rack::COLUMNS.map(str::to_owned)), theme.quiet())];
    lines.extend(springs.iter().enumerate().skip(first).take(room).map(|(place, spring)| {
        let (mark, style) = match spring.count {
            _ if place == marked && rack.editing.is_none() => ("▸", theme.marked()),
            0 => (" ", theme.quiet()),
            _ => (" ", theme.text()),
        };
        Line::styled(set(mark, phrase::rack::columns(spring, desk.units)), style)
    }));
    if springs.is_empty() {
        lines.push(Line::raw(phrase::rack::EMPTY));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// Texts in their columns, to the right, behind the mark of the line.
fn set(mark: &str, texts: [String; 6]) -> String {
    let fitted = |(text, cells): (String, usize)| {
        let text = Shown::from(text.as_str()).fitted(cells);
        format!("{}{text}  ", " ".repeat(cells - text.width().min(cells)))
    };
    std::iter::once(mark.to_owned()).chain(texts.into_iter().zip(CELLS).map(fitted)).collect()
}

fn draw_line(frame: &mut Frame<'_>, area: Rect, editing: &Editing, desk: &Desk) {
    let theme = desk.theme;
    let mut lines = vec![Line::raw(""), Line::styled("▸ ", theme.accent())];
    lines.extend(text(phrase::rack::LINE_TAKES, area.width, theme.text()));
    frame.render_widget(Paragraph::new(lines), area);
    let line = Rect {
        x: area.x.saturating_add(2),
        y: area.y.saturating_add(1),
        width: area.width.saturating_sub(2),
        height: 1,
    };
    field::draw(frame, line.intersection(area), &editing.field, theme);
}

fn draw_state(frame: &mut Frame<'_>, area: Rect, rack: &Rack, desk: &Desk) {
    let theme = desk.theme;
    let mut lines = vec![Line::raw("")];
    if rack.changed.is_some() {
        lines.extend(text(phrase::rack::NOT_SAVED, area.width, theme.alert()));
    }
    if rack.changed.is_none() && !rack.springs(desk).is_empty() {
        lines.extend(text(phrase::rack::ARROWS, area.width, theme.quiet()));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn draw_faults(frame: &mut Frame<'_>, area: Rect, faults: &[String], desk: &Desk) {
    let theme = desk.theme;
    let mut lines = vec![Line::raw(""), Line::styled(phrase::rack::FAULTS, theme.alert()), Line::raw("")];
    lines.extend(faults.iter().flat_map(|fault| text(fault, area.width, theme.text())));
    lines.push(Line::raw(""));
    lines.extend(text(phrase::rack::FAULTS_WAY_OUT, area.width, theme.text()));
    frame.render_widget(Paragraph::new(lines), area);
}

fn text(text: &str, width: u16, style: Style) -> Vec<Line<'static>> {
    let safe = Shown::from(text);
    wrap(safe.as_str(), usize::from(width)).into_iter().map(|line| Line::styled(line, style)).collect()
}
