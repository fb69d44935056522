//! A window pulled about, and a program sent to the background: place and typed text are there afterwards.

use portable_pty::{CommandBuilder, PtySize, native_pty_system};

use super::{PROGRAM, Running, home, whole_session};

fn size(cols: u16, rows: u16) -> PtySize {
    PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }
}

#[test]
fn a_storm_of_sizes_keeps_place_and_typed_text() {
    let home = home();
    let mut running = whole_session::at_the_bench(home.path());
    running.resize(size(140, 40));
    // A remark, which is text that no size may lose.
    running.wait_for("Enter: read and understood");
    running.type_keys("o");
    running.wait_for("▸");
    let typed: String = ('a'..='z').collect();
    for (step, letter) in (0u16..).zip(typed.chars()) {
        let (across, down) = if step < 13 {
            (140 - 10 * step, 40 - 3 * step)
        } else {
            (20 + 10 * (step - 13), 5 + 3 * (step - 13))
        };
        running.resize(size(across.max(20), down.max(5)));
        running.type_keys(&letter.to_string());
    }
    running.resize(size(20, 5));
    running.wait_for("The window is");
    running.resize(size(140, 40));
    running.wait_for(&typed);
    running.wait_for("Guided walk");
    running.type_keys("\r");
    running.wait_for("Note saved");
    running.settle();
    assert!(running.contents().contains("Bench check"), "{}", running.contents());
}

#[test]
fn a_pasted_page_in_a_field_is_one_line_and_nothing_of_it_is_a_key() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.type_keys("\r");
    running.wait_for("nothing entered yet");
    running.type_keys("\u{1b}[A\u{1b}[A\u{1b}[200~Invented\r\nRider\n\u{1b}[Aq\u{3}\u{1b}[201~");
    running.wait_for("Invented Rider");
    running.settle();
    let screen = running.contents();
    assert!(screen.contains("▸ Customer") && screen.contains("nothing entered yet"), "{screen}");
}

#[test]
fn the_way_back_loses_nothing_that_was_typed() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.type_keys("\r");
    running.wait_for("nothing entered yet");
    running.type_keys("\u{1b}[A\u{1b}[AInvented Rider");
    running.wait_for("Invented Rider");
    running.type_keys("\u{1b}");
    running.wait_for("text that was not accepted");
    running.type_keys("\r");
    running.wait_for("✓ saved");
    assert!(running.contents().contains("Invented Rider"));
}

/// A shell with job control in front of the program, as in a terminal window.
#[test]
fn the_program_pauses_and_comes_back_where_it_was() {
    let home = home();
    let pair = native_pty_system().openpty(size(100, 30)).expect("a pseudo-terminal");
    let mut shell = CommandBuilder::new("/bin/sh");
    shell.arg("-i");
    shell.env_clear();
    shell.env("HOME", home.path());
    for (name, value) in
        [("PS1", "shell> "), ("TERM", "xterm-256color"), ("LANG", "C.UTF-8"), ("PATH", "/usr/bin:/bin")]
    {
        shell.env(name, value);
    }
    let mut running = Running::seen_on(pair, shell, size(100, 30));
    running.wait_for("shell>");
    running.type_keys(&format!("{PROGRAM} --records {}\r", home.path().join("records").display()));
    running.wait_for("New session");
    running.type_keys("\r\u{1b}[A\u{1b}[AInvented");
    running.wait_for("Invented");
    running.type_keys("\u{1a}");
    running.wait_until("the shell's own screen", |seen| {
        let screen = seen.screen.screen();
        !screen.alternate_screen() && !screen.hide_cursor() && !screen.bracketed_paste()
    });
    running.type_keys("echo $((20 + 3))\r");
    running.wait_for("23");
    running.type_keys("fg\r");
    running.wait_until("the program's screen again", |seen| seen.screen.screen().alternate_screen());
    running.wait_for("Invented");
    running.type_keys(" Rider\r");
    running.wait_for("Invented Rider");
    running.wait_for("✓ saved");
    running.type_keys("\u{3}");
    running.wait_until("the shell's own screen", |seen| !seen.screen.screen().alternate_screen());
    running.type_keys("exit\r");
    running.child.wait().expect("the shell ends");
}
