//! The keys live at the present place, from the same table that binds them: one line, what Enter does first, help last.
//!
//! Where not all fit, those of the place come before those of every place; the help names them all.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, Borders};
use unicode_width::UnicodeWidthStr;

use crate::screen::click_targets::{ClickTarget, ClickTargets};
use crate::screen::keys::{Action, Binding, Typing, binding};
use crate::screen::model::Model;
use crate::screen::theme::Theme;
use crate::screen::{is_full, margin};
use crate::text::Shown;

/// Cells between two keys.
const GAP: u16 = 3;
/// Cells what Enter does has at least.
const ENTER: usize = 24;
/// Cells kept free of what Enter does: the gap, and the key of the help with its name.
const HELP: usize = 10;

/// Lines it takes in that window: the keys, and in a full one the rule above them.
pub const fn height(window: Rect) -> u16 {
    if is_full(window) { 2 } else { 1 }
}

/// A key in the footer.
struct FooterKey {
    action: Action,
    key: String,
    name: String,
    /// Its place among the live ones.
    place: usize,
}

impl FooterKey {
    /// Cells of key and name.
    fn width(&self) -> usize {
        self.key.width() + 1 + self.name.width()
    }
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
    let theme = model.desk.theme;
    let full = is_full(frame.area());
    let block = Block::new()
        .borders(if full { Borders::TOP } else { Borders::NONE })
        .border_style(theme.quiet())
        .padding(ratatui::widgets::Padding::horizontal(margin(frame.area())));
    let inner = block.inner(area);
    frame.render_widget(block, area);
    let keys = fitting(usize::from(inner.width), model);
    let (first, others): (Vec<FooterKey>, Vec<FooterKey>) =
        keys.into_iter().partition(|key| key.action == Action::Accept);
    put(frame, inner, first, theme, click_targets);
    // What Enter does changes as one types; the others stay where they are.
    let cells: usize = others.iter().map(|key| key.width() + usize::from(GAP)).sum();
    let cells = u16::try_from(cells).unwrap_or(u16::MAX).saturating_sub(GAP).min(inner.width);
    let right = Rect { x: inner.x + inner.width - cells, width: cells, ..inner };
    put(frame, right, others, theme, click_targets);
}

/// Draws keys in a row, and notes where they can be clicked.
fn put(
    frame: &mut Frame<'_>,
    area: Rect,
    keys: Vec<FooterKey>,
    theme: Theme,
    click_targets: &mut ClickTargets,
) {
    let mut rest = area;
    let mut spans = Vec::new();
    for label in keys {
        let cells = u16::try_from(label.width()).unwrap_or(u16::MAX).min(rest.width);
        click_targets.note(Rect { width: cells, ..rest }, ClickTarget::Key(label.action));
        let step = cells.saturating_add(GAP).min(rest.width);
        rest = Rect { x: rest.x + step, width: rest.width - step, ..rest };
        spans.push(Span::styled(label.key, theme.key()));
        spans.push(Span::styled(format!(" {}{}", label.name, " ".repeat(usize::from(GAP))), theme.text()));
    }
    frame.render_widget(Line::from(spans), area);
}

/// The keys there is room for, in the order of the table with help at the end: those that come first by rank.
fn fitting(width: usize, model: &Model) -> Vec<FooterKey> {
    let (place, desk) = (model.place(), &model.desk);
    let mut keys = labels(&place.live(desk), place.typing(desk));
    if let Some(enter) = place.enter(desk) {
        for key in keys.iter_mut().filter(|key| key.action == Action::Accept) {
            // Help fits beside it whatever is to be done.
            key.name = Shown::from(enter.as_str()).fitted(width.saturating_sub(key.key.width() + 1 + HELP));
        }
    }
    keys.sort_by_key(|key| key.action.footer_rank());
    let gap = usize::from(GAP);
    let mut left = width + gap;
    keys.retain(|key| {
        // Room kept for what Enter may come to, so that no other key comes and goes as one types.
        let least = if key.action == Action::Accept { ENTER.min(width / 3) } else { 0 };
        let room = left.checked_sub(key.width().max(least) + gap);
        left = room.unwrap_or(left);
        room.is_some()
    });
    keys.sort_by_key(|key| (key.action == Action::Help, key.place));
    keys
}

fn labels(live: &[Action], typing: Typing) -> Vec<FooterKey> {
    let one = |(place, action): (usize, &Action)| {
        let row: &Binding = binding(*action);
        row.shown(typing).map(|key| FooterKey { action: *action, key, name: row.name.to_owned(), place })
    };
    live.iter().enumerate().filter(|(_, action)| action.in_footer()).filter_map(one).collect()
}

/// Key and name of the live actions that the footer shows, in their order.
pub fn shown(live: &[Action], typing: Typing) -> Vec<(String, String)> {
    labels(live, typing).into_iter().map(|label| (label.key, label.name)).collect()
}
