//! How the rack looks: its springs in columns, the line being typed below, or the faults of a file that cannot be read.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use super::{RackPlace, shelf};
use crate::phrase;
use crate::phrase::rack::COUNT;
use crate::screen::click_targets::ClickTargets;
use crate::screen::effect::ShopRack;
use crate::screen::model::Desk;
use crate::session::ShopSpring;
use crate::text::Shown;
use crate::text::mark::LONGEST_MARK;
use crate::text::wrap::wrap;

/// Cells of each column, where no spring has a mark.
const CELLS: [usize; COUNT] = [0, 10, 6, 9, 10, 9, 18, 0];
/// The same where one has; the last is there where past sessions found something and the window is wide.
const CELLS_WITH_MARKS: [usize; COUNT] = [LONGEST_MARK, 10, 5, 7, 7, 8, 15, 17];
/// From this width on all columns are shown.
const WIDE: u16 = 100;

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
    let learned = learned(rack, desk);
    let below = match learned {
        _ if is_typed => 5,
        Some(_) => 4,
        None => 3,
    };
    let [top, list, below] =
        Layout::vertical([Constraint::Length(2), Constraint::Min(1), Constraint::Length(below)]).areas(area);
    let list = beside_the_shelf(frame, list, rack, desk);
    draw_list(frame, [top, list], rack, desk, (!is_typed).then_some(click_targets));
    if is_typed {
        let takes = text(phrase::rack::line_takes(desk.units), area.width, desk.theme.text());
        rack.line.draw(frame, below, takes, area.width, desk.theme);
    } else {
        draw_state(frame, below, rack, learned.as_deref(), desk);
    }
}

/// Draws the shelf where there is room for it, and says what is left for the list.
fn beside_the_shelf(frame: &mut Frame<'_>, area: Rect, rack: &RackPlace, desk: &Desk) -> Rect {
    let springs = rack.springs(desk);
    if area.width < shelf::WIDE || springs.is_empty() {
        return area;
    }
    let [list, side] = Layout::horizontal([Constraint::Length(shelf::LIST), Constraint::Min(0)]).areas(area);
    frame.render_widget(Paragraph::new(shelf::lines(springs, desk)), side);
    list
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
    let cells = cells(springs, area.width);
    let heads = set(" ", phrase::rack::COLUMNS.map(str::to_owned), cells);
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
        (Line::styled(set(mark, phrase::rack::columns(spring, desk.units), cells), style), Some(place))
    };
    rack.list.draw(frame, area, springs.iter().enumerate().map(line).collect(), desk.window, click_targets);
}

/// Cells of each column; one without any is not shown.
fn cells(springs: &[ShopSpring], width: u16) -> [usize; COUNT] {
    if springs.iter().all(|spring| spring.marked.is_none()) {
        return CELLS;
    }
    let mut cells = CELLS_WITH_MARKS;
    if width < WIDE {
        cells[COUNT - 1] = 0;
    }
    cells
}

/// Texts in their columns behind the mark of the line: the mark of a spring to the left, figures to the right.
fn set(mark: &str, texts: [String; COUNT], cells: [usize; COUNT]) -> String {
    let fitted = |(column, (text, cells)): (usize, (String, usize))| {
        let text = Shown::from(text.as_str()).fitted(cells);
        let blank = " ".repeat(cells - text.width().min(cells));
        if column == 0 { format!(" {text}{blank} ") } else { format!("{blank}{text}  ") }
    };
    let shown = texts.into_iter().zip(cells).enumerate().filter(|(_, (_, cells))| *cells > 0);
    std::iter::once(mark.to_owned()).chain(shown.map(fitted)).collect()
}

/// What past sessions found the spring under the mark of the list to be.
fn learned(rack: &RackPlace, desk: &Desk) -> Option<String> {
    let marked = rack.springs(desk).get(rack.marked(desk))?.marked?;
    Some(phrase::rack::learned(marked.mark, marked.learned?, desk.units))
}

fn draw_state(frame: &mut Frame<'_>, area: Rect, rack: &RackPlace, learned: Option<&str>, desk: &Desk) {
    let theme = desk.theme;
    let mut lines = vec![Line::raw("")];
    if rack.changed.is_some() {
        lines.extend(text(phrase::rack::NOT_SAVED, area.width, theme.alert()));
    }
    lines.extend(learned.into_iter().flat_map(|learned| text(learned, area.width, theme.text())));
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
