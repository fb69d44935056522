//! What a keyboard, a web page or a typesetter makes of a figure, brought down to plain ASCII where it has the same
//! meaning: digits of other scripts, the typeset minus, dashes, vulgar fractions, inch marks and every kind of space.

/// Zeros of the scripts whose ten decimal digits stand in a row (Unicode 15, category Nd), plain ASCII excepted.
const ZEROS: [u32; 20] = [
    0x0660, 0x06f0, 0x07c0, 0x0966, 0x09e6, 0x0a66, 0x0ae6, 0x0b66, 0x0be6, 0x0c66, 0x0ce6, 0x0d66, 0x0e50,
    0x0ed0, 0x0f20, 0x1040, 0x17e0, 0x1810, 0x19d0, 0xff10,
];

/// The text with look-alikes made plain, single spaces and none at the ends or round a stroke.
pub(super) fn plain(text: &str) -> String {
    let mut spelled = String::with_capacity(text.len());
    for character in text.chars() {
        spell(character, &mut spelled);
    }
    let spaced = spelled.split_whitespace().collect::<Vec<_>>().join(" ");
    spaced.replace(" /", "/").replace("/ ", "/")
}

fn spell(character: char, spelled: &mut String) {
    match character {
        // Marks that only steer the reading direction, and the zero-width space.
        '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{2066}'..='\u{2069}' | '\u{feff}' => {}
        '\u{2010}'..='\u{2013}' | '\u{2212}' | '\u{fe63}' | '\u{ff0d}' => spelled.push('-'),
        '\u{2044}' | '\u{2215}' | '\u{ff0f}' => spelled.push('/'),
        '\u{66b}' | '\u{ff0e}' => spelled.push('.'),
        '\u{ff0c}' => spelled.push(','),
        '\u{201c}' | '\u{201d}' | '\u{2033}' | '\u{ff02}' => spelled.push('"'),
        '\u{2018}' | '\u{2019}' | '\u{2032}' => spelled.push('\''),
        '\u{66a}' | '\u{ff05}' => spelled.push('%'),
        '½' => spelled.push_str(" 1/2"),
        '¼' => spelled.push_str(" 1/4"),
        '¾' => spelled.push_str(" 3/4"),
        '⅛' => spelled.push_str(" 1/8"),
        '⅜' => spelled.push_str(" 3/8"),
        '⅝' => spelled.push_str(" 5/8"),
        '⅞' => spelled.push_str(" 7/8"),
        '⅓' => spelled.push_str(" 1/3"),
        '⅔' => spelled.push_str(" 2/3"),
        other => spelled.push(ascii_digit(other).unwrap_or(other)),
    }
}

/// The ASCII digit of the same value, for a decimal digit of another script.
fn ascii_digit(character: char) -> Option<char> {
    let code = u32::from(character);
    let zero = ZEROS.into_iter().find(|zero| (*zero..*zero + 10).contains(&code))?;
    char::from_digit(code - zero, 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_of_other_scripts_become_plain() {
        assert_eq!(plain("٦٣٫٥"), "63.5");
        assert_eq!(plain("６３．５"), "63.5");
        assert_eq!(plain("६३"), "63");
    }

    #[test]
    fn every_kind_of_space_becomes_one_plain_space() {
        assert_eq!(plain("\u{a0}63.5\u{202f}\u{2009}mm\u{3000}"), "63.5 mm");
    }

    #[test]
    fn a_vulgar_fraction_is_written_out() {
        assert_eq!(plain("2½"), "2 1/2");
        assert_eq!(plain("1⁄4"), "1/4");
    }
}
