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
    for word in words(text) {
        let word = word.as_str();
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

/// Units that stay on the line of their figure.
const UNITS: [&str; 12] = ["%", "mm", "in", "kg", "lb", "lb/in", "N/mm", "N", "lbf", "turn", "turns", "±"];

/// The words of a text; a figure, its uncertainty and its unit are one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let unit = UNITS.contains(&word.trim_end_matches([',', '.', ':', ';']));
        match words.last_mut() {
            Some(last)
                if last.ends_with('±') || (unit && last.ends_with(|end: char| end.is_ascii_digit())) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
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
    fn a_figure_keeps_its_uncertainty_and_its_unit() {
        assert_eq!(wrap("sag is 36.6 ± 0.9 %, band", 13), ["sag is", "36.6 ± 0.9 %,", "band"]);
    }

    #[test]
    fn the_word_in_is_no_unit_without_a_figure() {
        assert_eq!(wrap("turned in", 6), ["turned", "in"]);
    }

    #[test]
    fn wide_characters_count_for_two() {
        assert_eq!(wrap("漢字漢", 4), ["漢字", "漢"]);
    }
}
