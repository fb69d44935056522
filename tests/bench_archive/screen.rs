//! What somebody at the keys waits for: the built program in a pseudo-terminal on the large folder.
//!
//! First without an index, so that it is rebuilt behind the list; then with one. A key's time ends with the last byte of the
//! frame it brought about. Memory is what the kernel says of the program (Linux, proc(5)).

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::thread::{self, sleep};
use std::time::{Duration, Instant};
use std::{env, fs};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

use coilwright::phrase::review::counted;

use crate::stopwatch::{Case, enter, tell_memory_of};

const PROGRAM: &str = env!("CARGO_BIN_EXE_coilwright");
const SIZE: PtySize = PtySize { rows: 40, cols: 140, pixel_width: 0, pixel_height: 0 };
/// From the first screen to the list of past sessions: seven lines up from the top, round the end.
const TO_LIST: &str = "\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A\r";
/// After so long without a byte a frame has come to its end.
const QUIET: Duration = Duration::from_millis(40);
/// Longer than any of this takes.
const TOO_LONG: Duration = Duration::from_mins(3);
/// The tally says this while the check runs.
const CHECKING: &str = "looking for changes";

/// The program in a terminal.
struct Running {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    seen: Arc<Mutex<Seen>>,
    _terminal: Box<dyn MasterPty + Send>,
}

struct Seen {
    screen: vt100::Parser,
    /// When the last bytes came.
    last: Instant,
}

impl Running {
    fn start(folder: &Path) -> Self {
        let pair = native_pty_system().openpty(SIZE).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(PROGRAM);
        command.env_clear();
        // The pseudo-terminal starts the program there.
        fs::create_dir_all(folder.join("home")).expect("a home folder");
        command.env("HOME", folder.join("home"));
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        command.env("COILWRIGHT_RECORDS", folder.join("records"));
        let child = pair.slave.spawn_command(command).expect("the program starts");
        let mut out = pair.master.try_clone_reader().expect("a reader");
        let keys = pair.master.take_writer().expect("a writer");
        let cells = |count| NonZero::new(count).expect("a terminal has cells");
        let screen = vt100::Parser::new(cells(SIZE.rows), cells(SIZE.cols), 0);
        let seen = Arc::new(Mutex::new(Seen { screen, last: Instant::now() }));
        let shared = Arc::clone(&seen);
        thread::spawn(move || {
            let mut buffer = vec![0; 65_536];
            while let Ok(count @ 1..) = out.read(&mut buffer) {
                let last = Instant::now();
                let mut seen = shared.lock().expect("nobody panicked");
                seen.screen.process(&buffer[..count]);
                seen.last = last;
            }
        });
        Self { child, keys, seen, _terminal: pair.master }
    }

    fn type_keys(&mut self, keys: &str) -> Instant {
        let sent = Instant::now();
        self.keys.write_all(keys.as_bytes()).expect("the terminal takes keys");
        self.keys.flush().expect("the terminal takes keys");
        sent
    }

    /// Waits until the screen shows something, or shows it no more; when the bytes came that made it so.
    fn wait_until(&self, what: &str, holds: impl Fn(&str) -> bool) -> Instant {
        let start = Instant::now();
        loop {
            let seen = self.seen.lock().expect("nobody panicked");
            let contents = seen.screen.screen().contents();
            if holds(&contents) {
                return seen.last;
            }
            drop(seen);
            assert!(start.elapsed() < TOO_LONG, "never saw {what} in:\n{contents}");
            sleep(Duration::from_micros(300));
        }
    }

    fn wait_for(&self, text: &str) -> Instant {
        self.wait_until(text, |contents| contents.contains(text))
    }

    /// Types a key and waits for the end of the frame it brings about.
    fn frame_after(&mut self, key: &str) -> Duration {
        let sent = self.type_keys(key);
        loop {
            sleep(Duration::from_millis(1));
            let last = self.seen.lock().expect("nobody panicked").last;
            if last > sent && last.elapsed() > QUIET {
                return last - sent;
            }
        }
    }

    fn tell_memory(&self, what: &str) {
        match self.child.process_id() {
            Some(process) => tell_memory_of(what, &process.to_string()),
            None => println!("NOT MEASURED: {what}"),
        }
    }

    fn leave(mut self) {
        self.type_keys("\u{3}");
        self.child.wait().expect("the program ends");
    }
}

pub(crate) fn screen(folder: &Path, sessions: u32) {
    let cache = folder.join("home/.cache");
    if cache.exists() {
        fs::remove_dir_all(&cache).expect("the cache can be emptied");
    }
    rebuilt(folder);
    remembered(folder, sessions);
}

/// Nothing remembered: the list fills behind the screen.
fn rebuilt(folder: &Path) {
    let start = Instant::now();
    let mut running = Running::start(folder);
    enter("screen: start to first frame", running.wait_for("New session") - start);
    let sent = running.type_keys(TO_LIST);
    enter("screen: review shown, nothing remembered", running.wait_for(" sag %") - sent);
    let mut case = Case::new("screen: a key while all is read anew");
    running.wait_for(CHECKING);
    while running.seen.lock().expect("nobody panicked").screen.screen().contents().contains(CHECKING) {
        for letter in ["q", "\u{7f}"] {
            let sent = running.type_keys(letter);
            let typed = letter == "q";
            case.took(running.wait_until("the key", |contents| contents.contains("Find  q") == typed) - sent);
            sleep(Duration::from_millis(150));
        }
    }
    enter("screen: all read anew after", sent.elapsed());
    case.enter();
    running.tell_memory("screen: memory, all read anew");
    running.leave();
}

/// With an index from before: shown at once, checked behind.
fn remembered(folder: &Path, sessions: u32) {
    let mut shown = Case::new("screen: review shown, from the index");
    let mut checked = Case::new("screen: then checked after");
    for round in 0..5 {
        let mut running = Running::start(folder);
        running.wait_for("New session");
        sleep(QUIET);
        let sent = running.type_keys(TO_LIST);
        shown.took(running.wait_for(&format!("{} sessions", counted(sessions as usize))) - sent);
        if round == 0 {
            running.tell_memory("screen: memory, review shown");
        }
        checked
            .took(running.wait_until("the end of the check", |contents| !contents.contains(CHECKING)) - sent);
        if round == 0 {
            running.tell_memory("screen: memory, checked");
            typing(&mut running);
            running.tell_memory("screen: memory, after the searches");
        }
        running.leave();
    }
    shown.enter();
    checked.enter();
}

fn typing(running: &mut Running) {
    for query in ["a", "450 enduro march", "lukaszz tolbin", "2026-03 e", "katazryna 500 trail green"] {
        let mut case = Case::new(&format!("screen: find \"{query}\", key to frame"));
        for letter in query.chars().filter(|letter| *letter != ' ') {
            case.took(running.frame_after(&letter.to_string()));
        }
        case.enter();
        running.frame_after("\u{1b}");
    }
    let mut case = Case::new("screen: a line on, key to frame");
    (0..20).for_each(|_| case.took(running.frame_after("\u{1b}[B")));
    case.enter();
}
