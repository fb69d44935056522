//! Text as it is compared: without case, accents and marks that cannot be seen.
//!
//! Letters are taken apart by the compatibility decomposition of Unicode (UAX #15, by the crate `unicode-normalization`),
//! and what was on top of them is dropped. A few letters carry their stroke inside and have no decomposition; these stand in
//! a table here. What is folded is for comparing only, never for showing.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// The text folded; white space and control characters become plain spaces. Folding twice changes nothing.
pub fn fold(text: &str) -> String {
    if text.is_ascii() {
        return text.chars().map(|letter| spaced(letter.to_ascii_lowercase())).collect();
    }
    let small = text.nfkd().flat_map(char::to_lowercase).nfkd();
    let bare = small.filter(|letter| !is_combining_mark(*letter) && !is_invisible(*letter));
    let mut folded = String::with_capacity(text.len());
    for letter in bare {
        match plain(letter) {
            Some(letters) => folded.push_str(letters),
            None => folded.push(spaced(letter)),
        }
    }
    folded
}

fn spaced(letter: char) -> char {
    if letter.is_control() || letter.is_whitespace() { ' ' } else { letter }
}

/// Characters that turn the reading direction, join or tag and leave nothing to see: those that [`crate::text::Shown`]
/// marks.
fn is_invisible(letter: char) -> bool {
    matches!(letter,
        '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// What people type instead of a letter that has no decomposition.
fn plain(letter: char) -> Option<&'static str> {
    Some(match letter {
        'ł' => "l",
        'ø' => "o",
        'đ' | 'ð' => "d",
        'ħ' => "h",
        'ŧ' => "t",
        'ı' => "i",
        'ŋ' => "n",
        'ß' => "ss",
        'æ' => "ae",
        'œ' => "oe",
        'þ' => "th",
        'ς' => "σ",
        '’' | '‘' | 'ʼ' => "'",
        '‐' | '‑' | '–' | '—' | '−' => "-",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn case_and_accents_do_not_count() {
        for (typed, written) in [
            ("lukasz", "Łukasz"),
            ("bjorn", "Bjørn"),
            ("gross", "Groß"),
            ("uber", "ÜBER"),
            ("nguyen", "Nguyễn"),
            ("istanbul", "İSTANBUL"),
            ("σοφοσ", "Σοφός"),
            ("елка", "Ёлка"),
            ("o'neil", "O’Neil"),
        ] {
            assert_eq!(fold(typed), fold(written));
            assert_eq!(fold(written), typed);
        }
    }

    #[test]
    fn what_cannot_be_seen_does_not_hide_a_word() {
        assert_eq!(fold("an\u{202e}na\u{200b}"), "anna");
        assert_eq!(fold("a\u{1b}[31mb"), "a [31mb");
    }

    proptest! {
        #[test]
        fn folding_twice_changes_nothing(text in any::<String>()) {
            let once = fold(&text);
            prop_assert_eq!(fold(&once), once);
        }
    }
}
