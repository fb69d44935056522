//! Breaks text into lines no wider than an area, by the cells it takes on a terminal or a page of even letters.
//!
//! Not here: what makes a text safe to show ([`super::Shown`]).

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// The text in lines of at most `width` cells; a word longer than a line is broken inside. Nothing fits no width.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    if width == 0 {
        return lines;
    }
    for word in text.split_whitespace() {
        let last = lines.last().map_or(0, |line| line.width());
        let gap = usize::from(last > 0);
        if last + gap + word.width() <= width {
            if let Some(line) = lines.last_mut() {
                line.push_str(if gap == 1 { " " } else { "" });
                line.push_str(word);
            }
        } else {
            lines.extend(pieces(word, width));
        }
    }
    if lines.len() > 1 && lines[0].is_empty() {
        lines.remove(0);
    }
    lines
}

/// A word in pieces of at most `width` cells.
fn pieces(word: &str, width: usize) -> Vec<String> {
    let mut pieces = vec![String::new()];
    for cluster in word.graphemes(true) {
        let full = pieces.last().is_some_and(|piece| piece.width() + cluster.width() > width);
        if full && pieces.last().is_some_and(|piece| !piece.is_empty()) {
            pieces.push(String::new());
        }
        if let Some(piece) = pieces.last_mut() {
            piece.push_str(cluster);
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_asked() {
        assert_eq!(wrap("the collar just holds", 10), ["the collar", "just holds"]);
    }

    #[test]
    fn a_word_longer_than_a_line_is_broken() {
        assert_eq!(wrap("a preloadcollar", 7), ["a", "preload", "collar"]);
    }

    #[test]
    fn wide_characters_count_for_two() {
        assert_eq!(wrap("漢字漢", 4), ["漢字", "漢"]);
    }
}
