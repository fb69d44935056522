//! A layer over the live screen: what is beneath stays in sight at its edges, and a line that is typed narrows what it lists.
//!
//! In a window too small for both it takes all the room. Not here: what is listed (`place::help`, `place::palette`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::{Block, BorderType, Clear, Padding};

use crate::phrase::review::FIND;
use crate::screen::click_targets::ClickTargets;
use crate::screen::is_full;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::Model;
use crate::screen::part::field::{self, TextField};

/// Cells of the widest layer.
const WIDEST: u16 = 106;
/// Cells of the line that narrows, at most.
const FIELD: u16 = 24;
/// Cells of the place beneath in sight at either side, and its lines above and below.
const SIDE: u16 = 3;
const ABOVE: u16 = 2;
const BELOW: u16 = 1;

/// A layer, by what is typed on its line.
#[derive(Debug, Default)]
pub struct Layer {
    field: TextField,
}

/// What a key came to on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayerKey {
    /// Other words narrow the list.
    Narrowed,
    /// It is to be closed.
    Closed,
    /// Nothing: the key is for what is listed.
    Listed,
}

/// The room inside a layer.
#[derive(Debug, Clone, Copy)]
pub struct LayerRoom {
    /// Right of the line that narrows.
    pub beside: Rect,
    /// Below it.
    pub below: Rect,
}

impl Layer {
    /// What narrows the list.
    pub fn query(&self) -> &str {
        self.field.text()
    }

    /// Takes a key in. The way back first clears the line, then closes.
    pub fn take(&mut self, pressed: &Pressed) -> LayerKey {
        match pressed {
            Pressed::Edit(edit) => self.field.edit(edit.clone()),
            Pressed::Action(Action::Back) if self.field.is_empty() => return LayerKey::Closed,
            Pressed::Action(Action::Back) => self.field.clear(),
            Pressed::Action(_) | Pressed::Line(_) => return LayerKey::Listed,
        }
        LayerKey::Narrowed
    }

    /// Draws the place beneath, the layer over it and the line on top of the layer.
    pub fn draw(&self, frame: &mut Frame<'_>, area: Rect, title: &str, model: &Model) -> LayerRoom {
        let theme = model.desk.theme;
        let mut inside = area;
        if is_full(frame.area()) {
            // Nothing beneath can be clicked.
            model.ground().draw(frame, area, model, &mut ClickTargets::default());
            let over = over(area);
            let block = Block::bordered()
                .border_type(BorderType::Rounded)
                .border_style(theme.quiet())
                .title(Line::styled(format!(" {title} "), theme.strong()))
                .padding(Padding::horizontal(1));
            inside = block.inner(over);
            frame.render_widget(Clear, over);
            frame.render_widget(block, over);
        }
        let [line, _, below] =
            Layout::vertical([Constraint::Length(1), Constraint::Length(1), Constraint::Min(0)])
                .areas(inside);
        let label = u16::try_from(FIND.len()).unwrap_or(0) + 2;
        let [name, typed, _, beside] = Layout::horizontal([
            Constraint::Length(label),
            Constraint::Length(FIELD.min(line.width / 3)),
            Constraint::Length(3),
            Constraint::Min(0),
        ])
        .areas(line);
        frame.render_widget(Line::styled(FIND, theme.strong()), name);
        field::draw(frame, typed, &self.field, theme);
        LayerRoom { beside, below }
    }
}

/// The part of the place that the layer covers.
fn over(area: Rect) -> Rect {
    let width = area.width.saturating_sub(2 * SIDE).min(WIDEST);
    let height = area.height.saturating_sub(ABOVE + BELOW);
    Rect { x: area.x + (area.width - width) / 2, y: area.y + ABOVE.min(area.height), width, height }
}
