//! A text longer than its window. No key is dead: the last page is a full one, and a key goes on from what was drawn.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use crate::screen::click_targets::{ClickTargets, ViewSize};
use crate::screen::keys::{Action, Pressed};

/// How far a text is scrolled, in lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Scroll {
    first: usize,
}

impl Scroll {
    /// Takes a key in that scrolls; false for any other.
    pub fn take(&mut self, pressed: &Pressed, window: ViewSize) -> bool {
        let (here, page) = (self.first.min(window.last), window.page());
        let there = match pressed {
            Pressed::Action(Action::Next) => here + 1,
            Pressed::Action(Action::Previous) => here.saturating_sub(1),
            Pressed::Action(Action::PageDown) => here + page,
            Pressed::Action(Action::PageUp) => here.saturating_sub(page),
            _ => return false,
        };
        self.first = there.min(window.last);
        true
    }

    /// Draws the lines in sight.
    pub fn draw(
        self,
        frame: &mut Frame<'_>,
        area: Rect,
        lines: Vec<Line<'_>>,
        click_targets: &mut ClickTargets,
    ) {
        let window = ViewSize::of(self.first, area, lines.len());
        let shown: Vec<Line<'_>> =
            lines.into_iter().skip(window.first).take(usize::from(area.height)).collect();
        frame.render_widget(Paragraph::new(shown), area);
        click_targets.window(window);
    }
}
