//! What the program writes to a terminal: whole frames in bursts, nothing while nothing changes, little for a key; and the
//! wheel and the mouse taken and given back.

use super::{Running, Seen, home};

/// A synchronised update begins and ends (private mode 2026, as terminals that know it document it).
const BEGIN: &[u8] = b"\x1b[?2026h";
const END: &[u8] = b"\x1b[?2026l";
/// The wheel as arrows on the other screen: saved, set, restored (xterm's control sequences, XTSAVE and XTRESTORE of 1007).
const WHEEL_TAKEN: &[u8] = b"\x1b[?1007s\x1b[?1007h";
const WHEEL_RESTORED: &[u8] = b"\x1b[?1007r";
/// The mouse: presses in SGR form, and given back.
const MOUSE_TAKEN: &[u8] = b"\x1b[?1000h\x1b[?1006h";
const MOUSE_GIVEN: &[u8] = b"\x1b[?1006l\x1b[?1000l";

/// The most bytes that one typed digit may cost. Measured: 86, with the weight below it in other units; several times
/// that is still a single packet on any network.
const MOST_FOR_A_DIGIT: usize = 400;

/// Where a sequence begins in the bytes, from a place on.
fn find(bytes: &[u8], sequence: &[u8], from: usize) -> Option<usize> {
    bytes[from..].windows(sequence.len()).position(|window| window == sequence).map(|place| from + place)
}

fn count(bytes: &[u8], sequence: &[u8]) -> usize {
    bytes.windows(sequence.len()).filter(|window| *window == sequence).count()
}

fn bytes(running: &Running) -> Vec<u8> {
    running.screen.lock().expect("nobody panicked").bytes.clone()
}

/// What stands outside the bursts, and whether each burst that began has ended.
fn outside(bytes: &[u8]) -> Vec<u8> {
    let (mut rest, mut from) = (Vec::new(), 0);
    while let Some(begin) = find(bytes, BEGIN, from) {
        rest.extend(&bytes[from..begin]);
        let end = find(bytes, END, begin).expect("a burst that begins ends");
        assert_eq!(count(&bytes[begin + 1..end], BEGIN), 0, "a burst within a burst");
        from = end + END.len();
    }
    rest.extend(&bytes[from..]);
    rest
}

#[test]
fn every_frame_lies_in_a_burst_and_nothing_is_written_while_nothing_changes() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.settle();
    let first = find(&bytes(&running), BEGIN, 0).expect("a first frame");
    running.type_keys("\r");
    running.wait_for("nothing entered yet");
    running.type_keys("82\r15\t\u{1b}[A?");
    running.wait_for("Keys: Details");
    running.settle();
    let drawn = bytes(&running);
    assert!(outside(&drawn[first..]).is_empty(), "{:?}", String::from_utf8_lossy(&outside(&drawn[first..])));
    assert!(count(&drawn, BEGIN) >= 3);

    // Nothing while nobody does anything, and nothing for a key that changes nothing.
    std::thread::sleep(std::time::Duration::from_millis(400));
    assert_eq!(bytes(&running).len(), drawn.len());
    // Up at the top of the help.
    running.type_keys("\u{1b}[A\u{1b}[A");
    std::thread::sleep(std::time::Duration::from_millis(400));
    assert_eq!(bytes(&running).len(), drawn.len());
}

#[test]
fn a_typed_digit_costs_few_bytes() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.type_keys("\r8");
    running.wait_for("= 8 kg");
    running.settle();
    let before = bytes(&running).len();
    running.type_keys("2");
    running.wait_for("= 82 kg");
    running.settle();
    let cost = bytes(&running).len() - before;
    assert!((1..=MOST_FOR_A_DIGIT).contains(&cost), "{cost} bytes for a digit");
}

#[test]
fn the_wheel_and_the_mouse_are_taken_and_given_back() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.settle();
    let taken = bytes(&running);
    assert_eq!((count(&taken, WHEEL_TAKEN), count(&taken, MOUSE_TAKEN)), (1, 0));
    // F2 lets clicks work the screen: the line of the rack, marked by a click on it.
    running.type_keys("\u{1b}OQ");
    running.wait_until("the mouse taken", |seen: &Seen| count(&seen.bytes, MOUSE_TAKEN) == 1);
    running.wait_for("Clicks and wheel work the screen");
    running.type_keys("\u{1b}[<0;10;9M\u{1b}[<0;10;9m");
    running.wait_for("▸ 4  Spring rack");
    running.type_keys("\u{1b}[<65;10;9M");
    running.wait_for("▸ 5  Rate from wire");
    running.type_keys("\u{3}");
    running.gave_the_terminal_back();
    let left = bytes(&running);
    let last = |sequence| find(&left, sequence, taken.len()).expect("given back");
    assert!(last(MOUSE_GIVEN) > find(&left, MOUSE_TAKEN, 0).expect("taken"));
    assert!(last(WHEEL_RESTORED) > taken.len());
}

#[test]
fn settings_named_on_the_command_line_or_in_the_environment_hold_from_the_first_frame() {
    let home = home();
    let file = home.path().join("another.ron");
    std::fs::write(&file, "(format: 1, glyphs: Ascii, theme: Plain, mouse: On)").expect("room");
    let named = [("COILWRIGHT_SETTINGS", file.to_str().expect("a plain path"))];
    let mut running = Running::start(home.path(), &named);
    running.wait_until("the mouse taken", |seen: &Seen| count(&seen.bytes, MOUSE_TAKEN) == 1);
    running.wait_for("New session");
    running.type_keys("\u{3}");
    running.gave_the_terminal_back();
    assert!(bytes(&running).is_ascii());
    assert_eq!(count(&bytes(&running), MOUSE_GIVEN), 1);
}

#[test]
fn a_signal_gives_mouse_and_wheel_back_too() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.type_keys("\u{1b}OQ");
    running.wait_for("Clicks and wheel work the screen");
    running.signal("TERM");
    running.gave_the_terminal_back();
    let left = bytes(&running);
    assert_eq!((count(&left, MOUSE_GIVEN), count(&left, WHEEL_RESTORED)), (1, 1));
}

#[test]
fn a_theme_that_was_chosen_holds_where_no_colour_is_the_rule() {
    let home = home();
    let file = home.path().join("coloured.ron");
    std::fs::write(&file, "(format: 1, theme: Dark)").expect("room");
    let named = [("NO_COLOR", "1"), ("COILWRIGHT_SETTINGS", file.to_str().expect("a plain path"))];
    let mut running = Running::start(home.path(), &named);
    running.wait_for("New session");
    running.type_keys("\u{3}");
    running.gave_the_terminal_back();
    // The accent of the dark theme, light blue, is the thirteenth of the sixteen.
    assert!(count(&bytes(&running), b"\x1b[38;5;12") > 0);
}
