//! One line of text being typed: its text, its cursor, and how it is drawn.
//!
//! The cursor steps over whole characters as people see them, accents and all. What is typed is kept as typed; what is
//! drawn is safe to show. Not here: what the text means.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::Modifier;
use unicode_segmentation::UnicodeSegmentation;

use crate::screen::keys::Edit;
use crate::screen::theme::Theme;
use crate::text::{LONGEST, Shown};

/// A field being typed into.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TextField {
    text: String,
    /// Byte offset in the text, always between two whole characters.
    cursor: usize,
    first: First,
    /// Text and cursor before each of the last changes.
    before: Vec<(String, usize)>,
}

/// How many changes can be taken back.
const CHANGES: usize = 100;

/// What the first text typed does to what stands in the field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum First {
    #[default]
    Adds,
    /// It takes its place, until the cursor is moved or something is deleted.
    Replaces,
}

impl TextField {
    /// A field with this text, the cursor behind it.
    pub fn holding(text: &str) -> Self {
        Self { text: text.to_owned(), cursor: text.len(), ..Self::default() }
    }

    /// Takes note that the focus came to it: what is typed now takes the place of what is there, unless a blank goes before it.
    pub fn reached(&mut self) {
        (self.cursor, self.first) = (self.text.len(), First::Replaces);
    }

    /// What stands in it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether nothing stands in it.
    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// Takes all text out.
    pub fn clear(&mut self) {
        *self = Self::default();
    }

    /// Changes the text.
    pub fn edit(&mut self, edit: Edit) {
        let first = std::mem::take(&mut self.first);
        let was = (self.text.clone(), self.cursor);
        match edit {
            Edit::Undo => return self.undo(),
            Edit::Insert(text) if first == First::Replaces && !text.starts_with(' ') => {
                self.remove(0..self.text.len());
                self.insert(&text);
            }
            Edit::Insert(text) => self.insert(&text),
            Edit::Backspace => self.remove(self.left_of()..self.cursor),
            Edit::Delete => self.remove(self.cursor..self.right_of()),
            Edit::DeleteWord => self.remove(self.word_start()..self.cursor),
            Edit::DeleteAll => self.remove(0..self.text.len()),
            Edit::DeleteRest => self.remove(self.cursor..self.text.len()),
            Edit::Left => self.cursor = self.left_of(),
            Edit::Right => self.cursor = self.right_of(),
            Edit::Start => self.cursor = 0,
            Edit::End => self.cursor = self.text.len(),
        }
        if self.text != was.0 {
            self.before.push(was);
            let oldest = self.before.len().saturating_sub(CHANGES);
            self.before.drain(..oldest);
        }
    }

    fn undo(&mut self) {
        if let Some(before) = self.before.pop() {
            (self.text, self.cursor) = before;
        }
    }

    fn insert(&mut self, text: &str) {
        let room = LONGEST.saturating_sub(self.text.chars().count());
        let one_line: String =
            text.replace("\r\n", " ").replace(['\r', '\n', '\t'], " ").chars().take(room).collect();
        self.text.insert_str(self.cursor, &one_line);
        self.cursor += one_line.len();
    }

    fn remove(&mut self, range: std::ops::Range<usize>) {
        self.cursor = range.start;
        self.text.replace_range(range, "");
    }

    fn left_of(&self) -> usize {
        self.text[..self.cursor].grapheme_indices(true).next_back().map_or(0, |(start, _)| start)
    }

    fn right_of(&self) -> usize {
        self.text[self.cursor..].graphemes(true).next().map_or(self.cursor, |one| self.cursor + one.len())
    }

    fn word_start(&self) -> usize {
        let trimmed = self.text[..self.cursor].trim_end();
        trimmed.rfind(' ').map_or(0, |blank| blank + 1)
    }
}

/// Whether the text ends in a unit of its own, so that the one a bare figure is taken in need not stand behind it.
pub fn names_a_unit(text: &str) -> bool {
    text.contains(|letter: char| letter.is_ascii_digit()) && text.trim_end().ends_with(char::is_alphabetic)
}

/// Draws the field into one line and puts the terminal's cursor into it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, field: &TextField, theme: Theme) {
    let area = area.intersection(frame.area());
    if area.is_empty() {
        return;
    }
    let width = usize::from(area.width);
    let before = Shown::from(&field.text[..field.cursor]);
    let all = Shown::from(field.text.as_str());
    // Scrolls so that the cursor, one cell behind the text, is always inside.
    let skip = (before.width() + 1).saturating_sub(width);
    let visible = cut_left(all.as_str(), skip);
    let style = theme.field();
    frame.buffer_mut().set_style(Rect { height: 1, ..area }, style);
    frame.buffer_mut().set_stringn(area.x, area.y, visible, width, style.add_modifier(Modifier::BOLD));
    let column = u16::try_from(before.width() - skip.min(before.width())).unwrap_or(u16::MAX);
    frame.set_cursor_position(Position::new(
        area.x.saturating_add(column).min(area.right().saturating_sub(1)),
        area.y,
    ));
}

/// The text without its first cells.
fn cut_left(text: &str, cells: usize) -> String {
    let mut gone = 0;
    let rest = text.graphemes(true).skip_while(|one| {
        let past = gone >= cells;
        gone += Shown::from(*one).width();
        !past
    });
    rest.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(edits: &[Edit]) -> TextField {
        let mut field = TextField::default();
        for edit in edits {
            field.edit(edit.clone());
        }
        field
    }

    #[test]
    fn a_pasted_line_break_becomes_a_blank() {
        assert_eq!(typed(&[Edit::Insert("a\r\nb\nc".to_owned())]).text(), "a b c");
    }

    #[test]
    fn backspace_takes_a_letter_with_its_accent() {
        let field = typed(&[Edit::Insert("ae\u{301}".to_owned()), Edit::Backspace]);
        assert_eq!(field.text(), "a");
    }

    #[test]
    fn a_word_back_goes_with_its_blanks() {
        assert_eq!(typed(&[Edit::Insert("400 425 ".to_owned()), Edit::DeleteWord]).text(), "400 ");
    }

    #[test]
    fn a_line_goes_all_at_once_or_from_the_cursor_on_and_comes_back() {
        let typed = |edits: &[Edit]| {
            let mut field = TextField::holding("s 450 t 1");
            for edit in edits {
                field.edit(edit.clone());
            }
            field.text().to_owned()
        };
        assert_eq!(typed(&[Edit::DeleteAll]), "");
        assert_eq!(typed(&[Edit::DeleteAll, Edit::Undo]), "s 450 t 1");
        assert_eq!(typed(&[Edit::Start, Edit::Right, Edit::DeleteRest]), "s");
        let twice = [Edit::DeleteWord, Edit::Backspace, Edit::Undo, Edit::Undo, Edit::Undo];
        assert_eq!(typed(&twice), "s 450 t 1");
    }

    #[test]
    fn typing_in_the_middle_keeps_what_stands_right_of_it() {
        let field = typed(&[Edit::Insert("65".to_owned()), Edit::Left, Edit::Insert("3.".to_owned())]);
        assert_eq!(field.text(), "63.5");
    }

    #[test]
    fn a_figure_reached_is_replaced_unless_it_is_gone_into_first() {
        let after = |edits: &[Edit]| {
            let mut field = TextField::holding("31.8");
            field.reached();
            for edit in edits {
                field.edit(edit.clone());
            }
            field.text().to_owned()
        };
        let six = Edit::Insert("6".to_owned());
        assert_eq!(after(&[six.clone(), six.clone()]), "66");
        assert_eq!(after(&[Edit::End, six.clone()]), "31.86");
        assert_eq!(after(&[Edit::Left, six.clone()]), "31.68");
        assert_eq!(after(&[Edit::Insert(" ".to_owned()), six.clone()]), "31.8 6", "a blank adds to a list");
        assert_eq!(after(&[Edit::Backspace, six]), "31.6");
    }

    #[test]
    fn a_pasted_book_is_cut_to_what_a_record_keeps() {
        assert_eq!(typed(&[Edit::Insert("x".repeat(9_000))]).text().len(), LONGEST);
    }
}
