//! A line that is typed on top of something, and set aside when it is left before it was accepted.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line as Text;
use ratatui::widgets::Paragraph;

use crate::phrase;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Notice};
use crate::screen::part::field::{self, TextField};
use crate::screen::theme::Theme;

/// A line that may be open, for a purpose of type `For`.
#[derive(Debug)]
pub struct TypedLine<For> {
    open: Option<EditedLine<For>>,
    aside: Option<EditedLine<For>>,
}

impl<For> Default for TypedLine<For> {
    fn default() -> Self {
        Self { open: None, aside: None }
    }
}

#[derive(Debug)]
struct EditedLine<For> {
    what: For,
    field: TextField,
    at_first: String,
}

/// What a key came to on an open line.
#[derive(Debug, PartialEq, Eq)]
pub enum TypedKey {
    /// The line is to be taken in; it stays open until it is closed.
    Accepted,
    /// Nothing more to be done.
    Taken,
}

impl<For: Copy + PartialEq> TypedLine<For> {
    /// Opens a line with a text, or the same one as it was left.
    pub fn open(&mut self, what: For, text: &str) {
        let same = self.aside.take().filter(|aside| aside.what == what && aside.at_first == text);
        let fresh = || EditedLine { what, field: TextField::holding(text), at_first: text.to_owned() };
        self.open = Some(same.unwrap_or_else(fresh));
    }

    /// Closes it: what was typed has been taken in.
    pub fn close(&mut self) {
        self.open = None;
    }

    /// What is open, and the text on it.
    pub fn typed(&self) -> Option<(For, &str)> {
        self.open.as_ref().map(|open| (open.what, open.field.text()))
    }

    /// Takes a key in while a line is open; none where no line is.
    pub fn take(&mut self, pressed: &Pressed, desk: &mut Desk) -> Option<TypedKey> {
        let open = self.open.as_mut()?;
        match pressed {
            Pressed::Edit(edit) => open.field.edit(edit.clone()),
            Pressed::Action(Action::Accept) => return Some(TypedKey::Accepted),
            Pressed::Action(Action::Back) => {
                self.aside = self.open.take().filter(|line| line.field.text() != line.at_first);
                if self.aside.is_some() {
                    desk.say(Notice::Said(phrase::rack::SET_ASIDE.to_owned()));
                }
            }
            Pressed::Action(_) | Pressed::Line(_) => {}
        }
        Some(TypedKey::Taken)
    }

    /// Draws the open line below a blank one, and below it what it takes.
    pub fn draw(&self, frame: &mut Frame<'_>, area: Rect, takes: Vec<Text<'_>>, widest: u16, theme: Theme) {
        let Some(open) = &self.open else { return };
        let lines = [Text::raw(""), Text::styled("▸ ", theme.accent())].into_iter().chain(takes);
        frame.render_widget(Paragraph::new(lines.collect::<Vec<_>>()), area);
        let [x, y] = [area.x.saturating_add(2), area.y.saturating_add(1)];
        let line = Rect { x, y, width: area.width.saturating_sub(2).min(widest), height: 1 };
        field::draw(frame, line.intersection(area), &open.field, theme);
    }
}
