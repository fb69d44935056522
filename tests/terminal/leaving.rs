//! The terminal is given back exactly: no burst left open, nothing after the farewell, no signal that leaves it taken, no
//! stalled terminal that keeps the program alive, and a stop from outside that is come back from.

use std::io::{Read, Write};
use std::time::{Duration, Instant};

use portable_pty::{CommandBuilder, native_pty_system};

use super::{PROGRAM, Running, SIZE, Seen, cells, home};

/// A synchronised update begins (private mode 2026).
const BEGIN: &[u8] = b"\x1b[?2026h";
/// The last bytes of all: the main screen, the wheel as it was, the cursor shown.
const FAREWELL: &[u8] = b"\x1b[?1049l\x1b[?1007r\x1b[?25h";

fn ends_in_order(running: &Running) {
    let bytes = running.screen.lock().expect("nobody panicked").bytes.clone();
    assert!(bytes.ends_with(FAREWELL), "{:?}", String::from_utf8_lossy(&bytes[bytes.len() - 60..]));
    let count = |what: &[u8]| bytes.windows(what.len()).filter(|window| *window == what).count();
    // The farewell ends whatever may have begun, so there is one end more than beginnings.
    assert_eq!(count(b"\x1b[?2026l"), count(BEGIN) + 1);
}

#[test]
fn whoever_leaves_leaves_no_burst_open_and_the_farewell_is_the_last_of_it() {
    for keys in ["\u{3}", "q", "\u{c}\u{c}\u{c}\u{3}", "\u{1b}[B\u{1b}[B\u{1b}[Bq"] {
        let home = home();
        let mut running = Running::start(home.path(), &[]);
        running.wait_for("New session");
        running.type_keys(keys);
        assert!(running.gave_the_terminal_back().success());
        running.settle();
        ends_in_order(&running);
    }
}

#[test]
fn no_piece_of_a_frame_follows_the_farewell_of_a_signal() {
    for round in 0..8 {
        let home = home();
        let mut running = Running::start(home.path(), &[]);
        running.wait_for("New session");
        // Frames of every cell, one after another, and a signal into the midst of them.
        running.type_keys(&"\u{c}".repeat(40));
        std::thread::sleep(Duration::from_millis(3 * round));
        running.signal("TERM");
        assert!(!running.gave_the_terminal_back().success());
        running.settle();
        ends_in_order(&running);
    }
}

#[test]
fn a_terminal_that_reads_no_more_does_not_outlive_a_signal() {
    for signal in ["TERM", "HUP", "INT"] {
        let home = home();
        let pair = native_pty_system().openpty(SIZE).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(PROGRAM);
        command.env("HOME", home.path());
        command.env("COILWRIGHT_RECORDS", home.path().join("records"));
        let mut child = pair.slave.spawn_command(command).expect("the program starts");
        let mut keys = pair.master.take_writer().expect("a writer");
        std::thread::sleep(Duration::from_millis(600));
        // Nobody reads: whole frames fill what the system holds for a terminal, and the program waits in the midst of one.
        for _ in 0..60 {
            keys.write_all(b"\x0c").expect("the terminal takes keys");
            std::thread::sleep(Duration::from_millis(15));
        }
        let process = child.process_id().expect("it runs").to_string();
        let sent = std::process::Command::new("kill").args(["-s", signal, &process]).status();
        assert!(sent.expect("kill is there").success());
        let start = Instant::now();
        while child.try_wait().expect("it can be asked").is_none() {
            if start.elapsed() > Duration::from_secs(8) {
                let _ = child.kill();
                panic!("{signal} did not end it");
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }
}

/// Sets the terminal as a shell does that has it meanwhile: lines, echo, its own screen.
fn somebody_else_has_it(running: &Running) {
    let terminal = running.terminal.tty_name().expect("a terminal has a name");
    let terminal = std::fs::File::open(terminal).expect("the terminal is there");
    let set = std::process::Command::new("stty").arg("sane").stdin(terminal).status();
    assert!(set.expect("stty is there").success());
}

fn taken(seen: &Seen) -> bool {
    seen.screen.screen().alternate_screen() && seen.screen.screen().bracketed_paste()
}

#[test]
fn after_a_stop_from_outside_the_screen_is_there_again_and_keys_work() {
    for signal in ["STOP", "TSTP"] {
        let home = home();
        let mut running = Running::start(home.path(), &[]);
        running.wait_for("New session");
        running.settle();
        running.signal(signal);
        if signal == "TSTP" {
            running.wait_until("the terminal as it was", |seen| !taken(seen));
        }
        std::thread::sleep(Duration::from_millis(200));
        somebody_else_has_it(&running);
        running.screen.lock().expect("nobody panicked").screen.process(b"\x1b[2J\x1b[?2004l");
        running.signal("CONT");
        running.wait_for("New session");
        running.wait_until("the screen taken", taken);
        running.type_keys("\r");
        running.wait_for("nothing entered yet");
        running.type_keys("\u{3}");
        assert!(running.gave_the_terminal_back().success());
    }
}

#[test]
#[cfg(target_os = "linux")]
fn a_program_outside_the_session_of_its_terminal_ends_with_it_and_lets_its_record_go() {
    let home = home();
    let pair = native_pty_system().openpty(SIZE).expect("a pseudo-terminal");
    // As `su -c` does it: the program has the terminal and is not of its session, so that no signal tells it of the end.
    let mut command = CommandBuilder::new("setsid");
    command.args(["--wait", PROGRAM]);
    command.env("HOME", home.path());
    command.env("TERM", "xterm-256color");
    command.env("LANG", "C.UTF-8");
    command.env("COILWRIGHT_RECORDS", home.path().join("records"));
    let Ok(mut setsid) = pair.slave.spawn_command(command) else {
        eprintln!("skipped: no setsid here");
        return;
    };
    drop(pair.slave);
    let mut out = pair.master.try_clone_reader().expect("a reader");
    let mut keys = pair.master.take_writer().expect("a writer");
    let mut screen = vt100::Parser::new(cells(SIZE.rows), cells(SIZE.cols), 0);
    let mut see = |what: &str| {
        let mut buffer = [0; 4096];
        while !screen.screen().contents().contains(what) {
            let count = out.read(&mut buffer).expect("the program draws");
            screen.process(&buffer[..count]);
        }
    };
    see("New session");
    keys.write_all(b"\r84\r").expect("the terminal takes keys");
    see("✓ saved");
    let files = std::fs::read_dir(home.path().join("records")).expect("a folder").flatten();
    let lock = files.map(|file| file.path()).find(|path| path.extension().is_some_and(|end| end == "lock"));
    let lock = std::fs::File::open(lock.expect("the record is held")).expect("it is there");
    assert!(lock.try_lock().is_err());
    drop((out, keys, pair.master));
    let start = Instant::now();
    while lock.try_lock().is_err() {
        assert!(start.elapsed() < Duration::from_secs(10), "it lives on without its terminal");
        std::thread::sleep(Duration::from_millis(20));
    }
    let _ = setsid.wait();
}
