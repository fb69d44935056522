//! A list with a mark.
//!
//! Which line is drawn first follows ratatui's own rule (no further than the mark needs) from the line that was first in
//! the frame before, and a page is what that frame showed.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::{List as Widget, ListState};

use crate::screen::click_targets::{ClickTarget, ClickTargets, ViewSize};
use crate::screen::keys::{Action, Pressed};

/// The mark in a list of any length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct List {
    marked: usize,
    goes_round: bool,
}

/// A line of a list, and its place in it; a heading has none.
pub type ListLine<'a> = (Line<'a>, Option<usize>);

impl List {
    /// A list in which the line after the last is the first.
    pub const ROUND: Self = Self { marked: 0, goes_round: true };

    /// The marked place of so many; the list may have become shorter since it was marked.
    pub fn marked(self, count: usize) -> usize {
        self.marked.min(count.saturating_sub(1))
    }

    /// Marks a place.
    pub fn mark(&mut self, place: usize) {
        self.marked = place;
    }

    /// Takes a key in that moves the mark among so many places; false for any other.
    pub fn take(&mut self, pressed: &Pressed, count: usize, window: ViewSize) -> bool {
        let (here, page, last) = (self.marked(count), window.page(), count.saturating_sub(1));
        let there = match pressed {
            Pressed::Action(Action::Next) if self.goes_round && here == last => 0,
            Pressed::Action(Action::Previous) if self.goes_round && here == 0 => last,
            Pressed::Line(place) => *place,
            Pressed::Action(Action::Next) => here + 1,
            Pressed::Action(Action::Previous) => here.saturating_sub(1),
            Pressed::Action(Action::PageDown) => here + page,
            Pressed::Action(Action::PageUp) => here.saturating_sub(page),
            _ => return false,
        };
        self.marked = there.min(last);
        true
    }

    /// Draws the lines in sight and notes where each place stands; nothing to click where `click_targets` is none.
    pub fn draw(
        self,
        frame: &mut Frame<'_>,
        area: Rect,
        items: Vec<ListLine<'_>>,
        before: ViewSize,
        click_targets: Option<&mut ClickTargets>,
    ) {
        let marked = self.marked(items.iter().filter(|(_, place)| place.is_some()).count());
        let here = items.iter().position(|(_, place)| *place == Some(marked));
        let mut state = ListState::default().with_offset(before.first).with_selected(here);
        let (lines, places): (Vec<_>, Vec<_>) = items.into_iter().unzip();
        let length = lines.len();
        frame.render_stateful_widget(Widget::new(lines), area, &mut state);
        let Some(click_targets) = click_targets else { return };
        click_targets.window(ViewSize::of(state.offset(), area, length));
        for (row, place) in area.rows().zip(&places[state.offset().min(length)..]) {
            if let Some(place) = place {
                click_targets.note(
                    row,
                    if *place == marked { ClickTarget::Marked } else { ClickTarget::Line(*place) },
                );
            }
        }
    }
}
