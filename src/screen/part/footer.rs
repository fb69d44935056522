//! The keys live at the present place, from the same table that binds them.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, Borders};
use unicode_width::UnicodeWidthStr;

use crate::screen::click_targets::{ClickTarget, ClickTargets};
use crate::screen::keys::{Action, Binding, Typing, binding};
use crate::screen::model::Model;
use crate::screen::{is_full, margin};

/// Cells between two keys.
const GAP: u16 = 3;

/// Lines it takes in that window, the rule above it included; a small one has room for a line of keys and no rule.
pub fn height(window: Rect, model: &Model) -> u16 {
    if !is_full(window) {
        return 1;
    }
    let lines = rows(usize::from(window.width.saturating_sub(4)), model).len();
    u16::try_from(lines.min(4)).unwrap_or(4) + 1
}

/// A key in the footer.
struct FooterKey {
    action: Action,
    key: String,
    name: &'static str,
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
    let width = usize::from(inner.width);
    let rows = if full { rows(width, model) } else { vec![few(width, model)] };
    for (row, line) in rows.into_iter().zip(inner.rows()) {
        let mut rest = line;
        let mut spans = Vec::new();
        for label in row {
            let cells = u16::try_from(label.width()).unwrap_or(u16::MAX).min(rest.width);
            click_targets.note(Rect { width: cells, ..rest }, ClickTarget::Key(label.action));
            let step = cells.saturating_add(GAP).min(rest.width);
            rest = Rect { x: rest.x + step, width: rest.width - step, ..rest };
            spans.push(Span::styled(label.key, theme.key()));
            spans
                .push(Span::styled(format!(" {}{}", label.name, " ".repeat(usize::from(GAP))), theme.text()));
        }
        frame.render_widget(Line::from(spans), line);
    }
}

/// The keys there is room for in one line: help, which names the others, and before it those that come first.
fn few(width: usize, model: &Model) -> Vec<FooterKey> {
    let typing = model.place().typing(&model.desk);
    let all = labels(&model.place().live(&model.desk), typing);
    let (help, others): (Vec<FooterKey>, Vec<FooterKey>) =
        all.into_iter().partition(|label| label.action == Action::Help);
    let gap = usize::from(GAP);
    let mut left = width.saturating_sub(help.iter().map(FooterKey::width).sum());
    let fits = |label: &FooterKey| {
        let room = left.checked_sub(label.width() + gap);
        left = room.unwrap_or(0);
        room.is_some()
    };
    others.into_iter().take_while(fits).chain(help).collect()
}

/// Everything live, broken into lines.
fn rows(width: usize, model: &Model) -> Vec<Vec<FooterKey>> {
    let typing = model.place().typing(&model.desk);
    let gap = usize::from(GAP);
    let mut rows = vec![Vec::new()];
    let mut used = 0;
    for label in labels(&model.place().live(&model.desk), typing) {
        let cells = label.width() + gap;
        if used + cells > width + gap && used > 0 {
            rows.push(Vec::new());
            used = 0;
        }
        used += cells;
        if let Some(row) = rows.last_mut() {
            row.push(label);
        }
    }
    rows
}

fn labels(live: &[Action], typing: Typing) -> Vec<FooterKey> {
    let one = |action: &Action| {
        let row: &Binding = binding(*action);
        row.shown(typing).map(|key| FooterKey { action: *action, key, name: row.name })
    };
    live.iter().filter(|action| action.in_footer()).filter_map(one).collect()
}

/// Key and name of the live actions that the footer shows, in their order.
pub fn shown(live: &[Action], typing: Typing) -> Vec<(String, &'static str)> {
    labels(live, typing).into_iter().map(|label| (label.key, label.name)).collect()
}
