//! The built program in a pseudo-terminal: it gives the terminal back as it was, whatever ends it, and what it showed as
//! kept is there afterwards.
#![cfg(unix)]

mod bytes;
mod environments;
mod fault;
mod kills;
mod leaving;
mod pictures;
mod random_keys;
mod resizing;
mod svg;
mod whole_session;

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::{Arc, Mutex};
use std::thread::{self, sleep};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtyPair, PtySize, native_pty_system};
use tempfile::TempDir;

const PROGRAM: &str = env!("CARGO_BIN_EXE_coilwright");
const SIZE: PtySize = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };

/// A terminal with the program running in it.
struct Running {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    screen: Arc<Mutex<Seen>>,
    /// Held open: without it the program would lose its terminal.
    terminal: Box<dyn MasterPty + Send>,
}

/// What came out of the program, as bytes and as a screen.
struct Seen {
    bytes: Vec<u8>,
    screen: vt100::Parser,
}

impl Running {
    fn start(home: &Path, environment: &[(&str, &str)]) -> Self {
        Self::of(Path::new(PROGRAM), &[], home, environment, SIZE)
    }

    /// Starts the program in a terminal of that size.
    fn start_in(home: &Path, environment: &[(&str, &str)], size: PtySize) -> Self {
        Self::of(Path::new(PROGRAM), &[], home, environment, size)
    }

    /// The same for another program.
    fn of(
        program: &Path,
        arguments: &[&str],
        home: &Path,
        environment: &[(&str, &str)],
        size: PtySize,
    ) -> Self {
        let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(program);
        command.args(arguments);
        command.env_clear();
        command.env("HOME", home);
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        command.env("COILWRIGHT_RECORDS", home.join("records"));
        for (name, value) in environment {
            command.env(name, value);
        }
        Self::seen_on(pair, command, size)
    }

    /// Starts a command in a terminal, and reads along.
    fn seen_on(pair: PtyPair, command: CommandBuilder, size: PtySize) -> Self {
        let child = pair.slave.spawn_command(command).expect("the program starts");
        let mut out = pair.master.try_clone_reader().expect("a reader");
        let keys = pair.master.take_writer().expect("a writer");
        let parser = vt100::Parser::new(cells(size.rows), cells(size.cols), 0);
        let seen = Seen { bytes: Vec::new(), screen: parser };
        let screen = Arc::new(Mutex::new(seen));
        let shared = Arc::clone(&screen);
        thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(count @ 1..) = out.read(&mut buffer) {
                let mut seen = shared.lock().expect("nobody panicked");
                seen.bytes.extend(&buffer[..count]);
                seen.screen.process(&buffer[..count]);
            }
        });
        Self { child, keys, screen, terminal: pair.master }
    }

    /// Pulls the window to another size.
    fn resize(&self, size: PtySize) {
        let mut seen = self.screen.lock().expect("nobody panicked");
        seen.screen.screen_mut().set_size(cells(size.rows), cells(size.cols));
        self.terminal.resize(size).expect("the terminal takes a size");
    }

    fn type_keys(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).expect("the terminal takes keys");
        self.keys.flush().expect("the terminal takes keys");
    }

    /// Waits until something holds of what was seen.
    fn wait_until(&self, what: &str, holds: impl Fn(&Seen) -> bool) {
        let start = Instant::now();
        while !holds(&self.screen.lock().expect("nobody panicked")) {
            let seen = self.screen.lock().expect("nobody panicked").screen.screen().contents();
            assert!(start.elapsed() < Duration::from_secs(20), "never saw {what} in:\n{seen}");
            sleep(Duration::from_millis(10));
        }
    }

    /// Waits until nothing more comes: a frame read while it is being drawn would be half the old one.
    fn settle(&self) {
        let count = || self.screen.lock().expect("nobody panicked").bytes.len();
        let mut before = count();
        loop {
            sleep(Duration::from_millis(80));
            let now = count();
            if now == before {
                return;
            }
            before = now;
        }
    }

    /// Lets as much time go by as somebody needs who reads before answering: what comes sooner is no answer to a caution.
    fn take_time_to_read() {
        sleep(Duration::from_millis(260));
    }

    fn contents(&self) -> String {
        self.screen.lock().expect("nobody panicked").screen.screen().contents()
    }

    fn wait_for(&self, text: &str) {
        self.wait_until(text, |seen| seen.screen.screen().contents().contains(text));
    }

    /// Sends a signal.
    fn signal(&self, name: &str) {
        let process = self.child.process_id().expect("it runs").to_string();
        let sent = Command::new("kill").args(["-s", name, &process]).status().expect("kill is there");
        assert!(sent.success());
    }

    /// Kills the program so that it cannot do anything more; the pseudo-terminal's own way would hang up first, which the
    /// program answers.
    fn kill(&mut self) {
        self.signal("KILL");
        self.child.wait().expect("the program ends");
    }

    /// Waits for the end and the terminal as it was: main screen, cursor shown, no bracketed paste.
    fn gave_the_terminal_back(&mut self) -> portable_pty::ExitStatus {
        let status = self.child.wait().expect("the program ends");
        self.wait_until("the terminal as it was", |seen| {
            let screen = seen.screen.screen();
            !screen.alternate_screen() && !screen.hide_cursor() && !screen.bracketed_paste()
        });
        status
    }
}

fn cells(count: u16) -> NonZero<u16> {
    NonZero::new(count).expect("a terminal has cells")
}

fn home() -> TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

#[test]
fn leaving_gives_the_terminal_back() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.wait_until("the screen taken", |seen| {
        seen.screen.screen().alternate_screen() && seen.screen.screen().bracketed_paste()
    });
    running.type_keys("\r\u{1b}[A\u{1b}[AInvented Rider\r");
    running.wait_for("✓ saved");
    running.type_keys("\u{3}");
    assert!(running.gave_the_terminal_back().success());
}

#[test]
fn a_signal_gives_the_terminal_back_and_is_the_reason_of_the_end() {
    for signal in ["TERM", "HUP", "INT", "QUIT", "USR1", "ABRT"] {
        let home = home();
        let mut running = Running::start(home.path(), &[]);
        running.wait_for("New session");
        running.signal(signal);
        assert!(!running.gave_the_terminal_back().success(), "{signal} is no success");
    }
}

#[test]
fn a_step_shown_as_kept_outlives_a_kill() {
    let home = home();
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("New session");
    running.type_keys("\r\u{1b}[A\u{1b}[AInvented Rider\r");
    running.wait_for("✓ saved");
    running.kill();
    let again = Running::start(home.path(), &[]);
    again.wait_for("Go on: Invented Rider");
}

#[test]
fn a_records_folder_that_cannot_be_made_is_said_in_plain_words_before_the_screen_is_taken() {
    let home = home();
    std::fs::write(home.path().join("records"), "not a folder").expect("room");
    let mut running = Running::start(home.path(), &[]);
    running.wait_for("Start it again with --records FOLDER");
    assert!(!running.child.wait().expect("the program ends").success());
    let seen = running.screen.lock().expect("nobody panicked");
    let text = String::from_utf8_lossy(&seen.bytes);
    assert!(text.contains("because a file is where a folder is needed."), "{text}");
    assert!(!text.contains("os error"), "{text}");
}

#[test]
fn without_a_terminal_the_command_without_a_screen_is_named() {
    let home = home();
    let output = Command::new(PROGRAM)
        .env("HOME", home.path())
        .stdin(Stdio::null())
        .output()
        .expect("the program starts");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("coilwright assess FILE"));
}
