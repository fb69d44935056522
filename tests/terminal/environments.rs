//! What the environment says of the terminal, and what the program then sends: colours, dimness, letters.

use super::{Running, home};

/// Keys that lead past most of what is drawn: the trials of a demonstration, its verdict, what changes, the rack, the help.
const TOUR: [(&str, &str); 6] = [
    ("New session", "\u{1b}[A\u{1b}[A\u{1b}[A\r"),
    ("invented sessions", "\u{1b}[B\r"),
    ("The decision", "\u{6}"),
    ("What changes", "\u{1b}"),
    ("The decision", "\u{1b}OP"),
    ("Keys:", "\u{1b}"),
];

/// Runs the tour, leaves, and hands back every byte the program sent.
fn toured(environment: &[(&str, &str)]) -> Vec<u8> {
    let home = home();
    let mut running = Running::start(home.path(), environment);
    for (piece, keys) in TOUR {
        running.wait_for(piece);
        running.settle();
        running.type_keys(keys);
        running.settle();
    }
    running.type_keys("\u{3}");
    assert!(running.gave_the_terminal_back().success());
    let seen = running.screen.lock().expect("nobody panicked");
    seen.bytes.clone()
}

/// The parameters of every sequence that sets how letters look (SGR, ECMA-48 8.3.117).
fn looks(bytes: &[u8]) -> Vec<Vec<u16>> {
    let text = String::from_utf8_lossy(bytes);
    let numbers = |piece: &str| {
        let (numbers, _) = piece.split_once('m')?;
        numbers.split(';').map(|number| number.parse().ok()).collect::<Option<Vec<u16>>>()
    };
    text.split("\u{1b}[").skip(1).filter_map(numbers).collect()
}

fn is_dim(look: &[u16]) -> bool {
    look.first() == Some(&2)
}

/// Whether an ink or a ground is set; 39 and 49 give back the terminal's own.
fn is_coloured(look: &[u16]) -> bool {
    look.first().is_some_and(|number| matches!(number, 30..=38 | 40..=48 | 90..=107))
}

#[test]
fn a_colour_terminal_gets_colours_and_dimness() {
    let looks = looks(&toured(&[]));
    assert!(looks.iter().any(|look| is_coloured(look)) && looks.iter().any(|look| is_dim(look)));
}

#[test]
fn without_colour_no_colour_is_set() {
    for environment in [("NO_COLOR", "1"), ("TERM", "dumb")] {
        let looks = looks(&toured(&[environment]));
        assert!(!looks.is_empty(), "bold and reverse are still there");
        let coloured: Vec<_> = looks.iter().filter(|look| is_coloured(look)).collect();
        assert!(coloured.is_empty(), "{environment:?}: {coloured:?}");
    }
}

#[test]
fn the_linux_console_gets_no_braille_no_round_corners_and_nothing_dimmed() {
    let bytes = toured(&[("TERM", "linux")]);
    assert!(bytes.is_ascii(), "{}", String::from_utf8_lossy(&bytes));
    assert!(!looks(&bytes).iter().any(|look| is_dim(look)), "dimmed text cannot be read there");
}

#[test]
fn a_locale_without_utf_8_gets_ascii_only() {
    for environment in [("LC_ALL", "C"), ("LANG", "C"), ("LC_CTYPE", "POSIX")] {
        let bytes = toured(&[("LANG", "en_GB.ISO-8859-1"), environment]);
        assert!(bytes.is_ascii(), "{environment:?}: {}", String::from_utf8_lossy(&bytes));
    }
}

#[test]
fn a_light_ground_gets_dark_inks_and_nothing_dimmed() {
    let looks = looks(&toured(&[("COLORFGBG", "0;15")]));
    assert!(!looks.iter().any(|look| is_dim(look)), "dimmed text is lost on a light ground");
    let inks: Vec<&[u16]> = looks.iter().filter_map(|look| look.strip_prefix(&[38, 5])).collect();
    assert!(!inks.is_empty(), "colours are set");
    // The darker eight of the sixteen, yellow, cyan and white not among them; white only on the blue of the target range,
    // where it is legible on any ground.
    let is_dark = |ink: &&[u16]| matches!(**ink, [0 | 1 | 4 | 5, ..] | [15, 48, 5, 4]);
    assert!(inks.iter().all(is_dark), "{inks:?}");
}
