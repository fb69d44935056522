//! A mark: the short word a shop writes on a coil, by which it knows that spring from every other.
//!
//! One word of few letters and digits that begins with a letter, so that no line of springs takes it for a rate, and in
//! capitals, so that `a3` and `A3` are one mark. Nothing in it acts on a terminal, a page or a cell. Not here: which marks a
//! shop has given (`session::shop_rack`), and the words for a fault (`phrase`).

use std::fmt;

use unicode_width::UnicodeWidthChar;

/// The most letters and digits of a mark: what fits on a coil, and in a column.
pub const LONGEST_MARK: usize = 8;

/// Words that mean something else on a line of springs.
const OTHERWISE_READ: [&str; 21] = [
    "BY", "STROKE", "BORE", "LENGTH", "MEASURED", "COUNT", "MARK", "T", "TURN", "TURNS", "N", "NMM", "LB",
    "LBS", "LBF", "KG", "MM", "CM", "IN", "INCH", "INCHES",
];

/// A mark on a coil.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mark([char; LONGEST_MARK]);

/// Why a text is no mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MarkFault {
    /// It is no single word that begins with a letter and goes on with letters and digits, or is too long.
    NoShortWord,
    /// It means something else on a line of springs.
    OtherwiseRead,
}

/// Behind the last letter.
const NOTHING: char = '\0';

impl Mark {
    /// Reads a mark; small letters become capitals.
    ///
    /// # Errors
    /// [`MarkFault`] where the text is none.
    pub fn read(text: &str) -> Result<Self, MarkFault> {
        let letters: Vec<char> = text.trim().chars().flat_map(char::to_uppercase).collect();
        let is_seen = |letter: char| letter.width().is_some_and(|cells| cells > 0);
        let belongs = |letter: &char| (letter.is_alphanumeric() && is_seen(*letter)) || *letter == '-';
        let begins = letters.first().is_some_and(|first| first.is_alphabetic());
        if !begins || letters.len() > LONGEST_MARK || !letters.iter().all(belongs) {
            return Err(MarkFault::NoShortWord);
        }
        let word: String = letters.iter().collect();
        // Behind x stands how many springs are meant, or their stroke.
        let digits = |rest: &str| rest.chars().all(|letter| letter.is_ascii_digit());
        if word.strip_prefix('X').is_some_and(digits) || OTHERWISE_READ.contains(&word.as_str()) {
            return Err(MarkFault::OtherwiseRead);
        }
        let mut mark = [NOTHING; LONGEST_MARK];
        mark[..letters.len()].copy_from_slice(&letters);
        Ok(Self(mark))
    }
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word: String = self.0.iter().take_while(|letter| **letter != NOTHING).collect();
        f.pad(&word)
    }
}

impl fmt::Debug for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Mark({self})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_is_one_short_word_in_capitals() {
        for (typed, mark) in
            [("A3", "A3"), (" a3 ", "A3"), ("red-2", "RED-2"), ("grün", "GRÜN"), ("xt", "XT")]
        {
            assert_eq!(Mark::read(typed).map(|mark| mark.to_string()), Ok(mark.to_owned()));
        }
        assert_eq!(Mark::read("a3"), Mark::read("A3"));
    }

    #[test]
    fn what_could_be_a_rate_or_would_act_is_no_mark() {
        for typed in
            ["", "3A", "450", "-A", "A 3", "A,3", "A3\u{1b}[2J", "A\u{202e}3", "A\u{200b}", "NINELETTERS"]
        {
            assert_eq!(Mark::read(typed), Err(MarkFault::NoShortWord), "{typed:?}");
        }
    }

    #[test]
    fn a_word_that_the_line_of_springs_takes_otherwise_is_no_mark() {
        for typed in ["by", "x2", "x65", "X", "mm", "Stroke"] {
            assert_eq!(Mark::read(typed), Err(MarkFault::OtherwiseRead), "{typed}");
        }
    }
}
