//! How the rack looks: its springs in columns, the line being typed below, or the faults of a file that cannot be read.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use super::RackPlace;
use crate::phrase;
use crate::screen::click_targets::ClickTargets;
use crate::screen::effect::ShopRack;
use crate::screen::model::Desk;
use crate::session::ShopSpring;
use crate::text::Shown;
use crate::text::wrap::wrap;

/// Cells of each column.
const CELLS: [usize; 6] = [10, 6, 9, 10, 9, 18];

/// Draws it.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    rack: &RackPlace,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    if let ShopRack::Unreadable(faults) = &desk.shelf.rack {
        return draw_faults(frame, area, faults, desk);
    }
    let is_typed = rack.line.typed().is_some();
    let below = if is_typed { 5 } else { 3 };
    let [top, list, below] =
        Layout::vertical([Constraint::Length(2), Constraint::Min(1), Constraint::Length(below)]).areas(area);
    draw_list(frame, [top, list], rack, desk, (!is_typed).then_some(click_targets));
    if is_typed {
        let takes = text(phrase::rack::line_takes(desk.units), area.width, desk.theme.text());
        rack.line.draw(frame, below, takes, area.width, desk.theme);
    } else {
        draw_state(frame, below, rack, desk);
    }
}

fn draw_list(
    frame: &mut Frame<'_>,
    [top, area]: [Rect; 2],
    rack: &RackPlace,
    desk: &Desk,
    click_targets: Option<&mut ClickTargets>,
) {
    let theme = desk.theme;
    let (springs, marked) = (rack.springs(desk), rack.marked(desk));
    let heads = set(" ", phrase::rack::COLUMNS.map(str::to_owned));
    frame.render_widget(Paragraph::new(vec![Line::raw(""), Line::styled(heads, theme.quiet())]), top);
    if springs.is_empty() {
        return frame.render_widget(Paragraph::new(phrase::rack::EMPTY), area);
    }
    let line = |(place, spring): (usize, &ShopSpring)| {
        let (mark, style) = match spring.count {
            _ if place == marked && click_targets.is_some() => ("▸", theme.marked()),
            0 => (" ", theme.quiet()),
            _ => (" ", theme.text()),
        };
        (Line::styled(set(mark, phrase::rack::columns(spring, desk.units)), style), Some(place))
    };
    rack.list.draw(frame, area, springs.iter().enumerate().map(line).collect(), desk.window, click_targets);
}

/// Texts in their columns, to the right, behind the mark of the line.
fn set(mark: &str, texts: [String; 6]) -> String {
    let fitted = |(text, cells): (String, usize)| {
        let text = Shown::from(text.as_str()).fitted(cells);
        format!("{}{text}  ", " ".repeat(cells - text.width().min(cells)))
    };
    std::iter::once(mark.to_owned()).chain(texts.into_iter().zip(CELLS).map(fitted)).collect()
}

fn draw_state(frame: &mut Frame<'_>, area: Rect, rack: &RackPlace, desk: &Desk) {
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
