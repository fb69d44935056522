//! The text of a record parted into names and everything else, so that names alone can be changed.
//!
//! Every character is in exactly one part, in order, whatever the text is: a damaged one is lifted as it stands and judged
//! where every text is judged. Not here: which names change (`format_1`).

use std::iter;

/// A piece of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part<'t> {
    /// The name of a field, with the number of brackets around it.
    Field { name: &'t str, depth: usize },
    /// Another word or a number.
    Word { name: &'t str, depth: usize },
    /// A text, a comment, a bracket, a blank.
    Other(&'t str),
}

/// A text, part by part.
pub(super) fn parts(text: &str) -> impl Iterator<Item = Part<'_>> {
    let (mut rest, mut depth) = (text, 0_usize);
    iter::from_fn(move || {
        let first = rest.chars().next()?;
        let length = length(rest, first);
        let (piece, after) = rest.split_at(length);
        rest = after;
        Some(match first {
            '(' | '[' | '{' => {
                depth += 1;
                Part::Other(piece)
            }
            ')' | ']' | '}' => {
                depth = depth.saturating_sub(1);
                Part::Other(piece)
            }
            _ if !is_of_a_word(first) || piece.ends_with(['"', '#']) => Part::Other(piece),
            _ if is_before_a_colon(after) => Part::Field { name: piece, depth },
            _ => Part::Word { name: piece, depth },
        })
    })
}

/// How far the part goes that begins here.
fn length(text: &str, first: char) -> usize {
    if let Some(raw) = raw_text(text) {
        return raw;
    }
    let until =
        |end: &str, from: usize| text[from..].find(end).map_or(text.len(), |at| from + at + end.len());
    match first {
        '"' => quoted(text),
        '\'' if text.starts_with("'\\") => until("'", 3.min(text.len())),
        '\'' => until("'", 1 + text[1..].chars().next().map_or(0, char::len_utf8)),
        '/' if text.starts_with("//") => text.find('\n').unwrap_or(text.len()),
        '/' if text.starts_with("/*") => comment(text),
        _ if is_of_a_word(first) => text.find(|letter| !is_of_a_word(letter)).unwrap_or(text.len()),
        _ => first.len_utf8(),
    }
}

fn is_of_a_word(letter: char) -> bool {
    letter.is_alphanumeric() || matches!(letter, '_' | '.' | '+' | '-' | '#')
}

/// The length of `"..."`.
fn quoted(text: &str) -> usize {
    let mut escaped = true;
    let end = text.char_indices().find(|(_, letter)| {
        let ends = *letter == '"' && !escaped;
        // The first character is the opening quote, which `escaped` passes by.
        escaped = *letter == '\\' && !escaped;
        ends
    });
    end.map_or(text.len(), |(at, _)| at + 1)
}

/// The length of `r"..."` or `r#"..."#`, if the text begins so.
fn raw_text(text: &str) -> Option<usize> {
    let marks = text.strip_prefix('r').or_else(|| text.strip_prefix("br"))?;
    let hashes = marks.len() - marks.trim_start_matches('#').len();
    let begun = text.len() - marks.len() + hashes;
    text[begun..].starts_with('"').then(|| {
        let end = format!("\"{}", "#".repeat(hashes));
        text[begun + 1..].find(&end).map_or(text.len(), |at| begun + 1 + at + end.len())
    })
}

/// The length of a comment, which may hold others.
fn comment(text: &str) -> usize {
    let (mut at, mut open) = (0, 0_usize);
    while at < text.len() {
        let here = &text[at..];
        if here.starts_with("/*") {
            (at, open) = (at + 2, open + 1);
        } else if here.starts_with("*/") {
            (at, open) = (at + 2, open - 1);
            if open == 0 {
                return at;
            }
        } else {
            at += here.chars().next().map_or(1, char::len_utf8);
        }
    }
    text.len()
}

/// Whether blanks and comments are all that stands before a colon.
fn is_before_a_colon(mut text: &str) -> bool {
    loop {
        text = text.trim_start();
        match text.chars().next() {
            Some('/') if text.starts_with("//") || text.starts_with("/*") => {
                text = &text[length(text, '/')..];
            }
            first => return first == Some(':'),
        }
    }
}
