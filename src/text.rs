//! Floor 0: text from people and files, and the one way to show it.
//!
//! A name can hold an escape code, a bidirectional override or a zero-width joiner; a terminal, a page or a table cell
//! would obey it. So [`FreeText`] keeps what was typed and has no `Display`; [`Shown`] is what may reach an eye, with
//! everything that moves the pen turned into a visible mark. Not here: quoting for a table cell or a page, which the
//! writers of those formats add on top.

pub mod mark;
pub mod wrap;

use std::fmt;

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// The longest text a record keeps in one place, in characters; a pasted book is cut off with a word about it.
pub const LONGEST: usize = 2_000;

/// Text as a person typed it or a file held it: kept faithfully, never shown as it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FreeText(String);

impl FreeText {
    /// Keeps the text, trimmed at both ends and at most [`LONGEST`] characters long.
    pub fn new(text: &str) -> Self {
        let trimmed = text.trim();
        match trimmed.char_indices().nth(LONGEST) {
            Some((end, _)) => Self(trimmed[..end].trim_end().to_owned()),
            None => Self(trimmed.to_owned()),
        }
    }

    /// Nothing.
    pub const fn empty() -> Self {
        Self(String::new())
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What was typed, for the record and for searching; not for showing.
    pub fn as_typed(&self) -> &str {
        &self.0
    }

    /// What may be shown of it.
    pub fn shown(&self) -> Shown {
        Shown::from(self.0.as_str())
    }
}

/// Text safe to show: no character in it moves the pen, hides, or turns the reading direction.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Shown(String);

impl Shown {
    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Cells the text takes on a terminal.
    pub fn width(&self) -> usize {
        self.0.width()
    }

    /// The text cut to at most `cells` terminal cells, with an ellipsis where something was cut off.
    pub fn fitted(&self, cells: usize) -> String {
        if self.width() <= cells {
            return self.0.clone();
        }
        let mut room = cells.saturating_sub(1);
        let mut cut = String::new();
        for cluster in self.0.graphemes(true) {
            let width = cluster.width();
            if width > room {
                break;
            }
            room -= width;
            cut.push_str(cluster);
        }
        if cells > 0 {
            cut.push('…');
        }
        cut
    }
}

impl From<&str> for Shown {
    fn from(text: &str) -> Self {
        Self(text.chars().map(visible).collect())
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A visible stand-in for every character that would act instead of being seen.
fn visible(character: char) -> char {
    match character {
        '\t' | '\n' | '\r' => ' ',
        '\u{0}'..='\u{1f}' => char::from_u32(0x2400 + u32::from(character)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        '\u{80}'..='\u{9f}'
        | '\u{ad}'
        | '\u{61c}'
        | '\u{180e}'
        | '\u{200b}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{feff}'
        | '\u{fff9}'..='\u{fffb}'
        | '\u{e0000}'..='\u{e007f}' => '\u{fffd}',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_escape_code_becomes_a_visible_mark() {
        assert_eq!(Shown::from("a\u{1b}[31mb").as_str(), "a␛[31mb");
    }

    #[test]
    fn a_bidirectional_override_becomes_a_visible_mark() {
        assert_eq!(Shown::from("a\u{202e}b").as_str(), "a\u{fffd}b");
    }

    #[test]
    fn a_long_name_is_cut_at_a_whole_character() {
        assert_eq!(Shown::from("Übergröße").fitted(5), "Über…");
        assert_eq!(Shown::from("漢字漢字").fitted(4), "漢…");
        assert_eq!(Shown::from("abc").fitted(0), "");
    }

    #[test]
    fn keeping_a_text_twice_changes_nothing() {
        let once = FreeText::new(&format!("{} and more", "x".repeat(LONGEST - 1)));
        assert_eq!(FreeText::new(once.as_typed()), once);
    }

    #[test]
    fn a_pasted_book_is_cut_to_what_a_record_keeps() {
        assert_eq!(FreeText::new(&"x".repeat(9_000)).as_typed().len(), LONGEST);
    }
}
