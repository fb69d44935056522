//! A whole coil-spring setup in a pseudo-terminal, with a swap: killed twice in the middle, reopened at the same step,
//! finished, and everything of it in the record.

use std::fs;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

use coilwright::archive::{FileRole, form};
use coilwright::session::{Deed, Record, Step, machine};

use super::{Running, home};

/// An invented rider's figures, row after row of the intake, and the spring on the bike.
const INTAKE: [&str; 9] = [
    "\u{1b}[A\u{1b}[AInvented Rider\r",
    "trail bike\r",
    "82\r",
    "150\r",
    "60\r",
    "\t\t400-550 by 25, stroke 65\r",
    "15,6 kg\r",
    "\u{1b}[A\u{1b}[A\u{1b}[A\u{1b}[A500\r",
    "\r",
];

/// What the screen waits for, by a piece of it, and the keys that answer.
const ANSWERS: [(&str, &str); 8] = [
    ("Enter: read and understood", "\r"),
    ("Press Enter once the indicator", "\r"),
    ("Press Enter for 0", "\r"),
    ("Go on without the kerb drop", "\u{1b}[B\r"),
    ("advised", "\r"),
    ("Choose with left and right", "\u{1b}[C\r\u{1b}[C\u{1b}[C\r\u{1b}[C\u{1b}[C\r\r"),
    ("Close the session", "\r"),
    // The line of a tick list that is at hand.
    ("▶  ", "\r"),
];

/// The rider's readings: too little sag on 500 lb/in, then in the band.
const READINGS: [&str; 6] = ["15", "16", "18", "18", "18", "18"];

/// A mechanic who answers what the screen asks.
struct Mechanic {
    running: Running,
    readings: std::vec::IntoIter<&'static str>,
    records: PathBuf,
}

impl Mechanic {
    /// One answer, and the wait until its step is on disk and on the screen.
    fn answer(&mut self) {
        let (screen, keys) = self.question();
        let before = self.entries();
        // Somebody who reads is never as quick as a key that is held down.
        Running::take_time_to_read();
        self.running.type_keys(&keys);
        self.running.wait_until("the step in the record and on the screen", |seen| {
            entries(&self.records) > before && seen.screen.screen().contents() != screen
        });
    }

    /// The screen and the keys that answer it; looked at again while a slow machine is still drawing.
    fn question(&mut self) -> (String, String) {
        for _ in 0..40 {
            self.running.settle();
            let screen = self.running.contents();
            if screen.contains("Type the distance") {
                let reading = self.readings.next().expect("a reading more than the advice asks for");
                return (screen, format!("{reading}\r"));
            }
            if let Some((_, keys)) = ANSWERS.iter().find(|(piece, _)| screen.contains(piece)) {
                return (screen, (*keys).to_owned());
            }
        }
        panic!("nothing known to answer to:\n{}", self.running.contents());
    }

    fn entries(&self) -> usize {
        entries(&self.records)
    }

    fn answer_until(&mut self, entry: usize) {
        while self.entries() < entry {
            self.answer();
        }
    }

    /// Killed without warning and started again: the first thing offered is to go on.
    fn killed_and_reopened(&mut self, home: &Path) {
        self.running.kill();
        self.running = Running::start(home, &[]);
        self.running.wait_for("Go on: Invented Rider");
        self.running.type_keys("\r");
        self.running.wait_for("Guided walk");
    }
}

/// The records of a folder.
pub(super) fn record_files(records: &Path) -> Vec<PathBuf> {
    let is_record = |path: &PathBuf| {
        matches!(path.file_name().and_then(|name| FileRole::of(name.to_str()?)), Some((_, FileRole::Record)))
    };
    let files = fs::read_dir(records).into_iter().flatten();
    files.filter_map(|file| Some(file.ok()?.path())).filter(is_record).collect()
}

fn record_file(records: &Path) -> Option<PathBuf> {
    record_files(records).pop()
}

fn read(records: &Path) -> Record {
    let text = fs::read_to_string(record_file(records).expect("one record")).expect("readable");
    form::read(&text).expect("a sound record").record
}

/// Entries on disk; while the file is being replaced it may be looked at again.
fn entries(records: &Path) -> usize {
    let text = record_file(records).and_then(|path| fs::read_to_string(path).ok()).unwrap_or_default();
    text.matches("(at: ").count()
}

fn step(records: &Path) -> Step {
    machine::replay(&read(records)).expect("a legal walk").step
}

/// The program with the whole intake typed in, at the bench check.
pub(super) fn at_the_bench(home: &Path) -> Running {
    let mut running = Running::start(home, &[]);
    running.wait_for("New session");
    running.type_keys("\r");
    running.wait_for("Customer");
    for row in INTAKE {
        running.type_keys(row);
    }
    running.wait_for("Bench check");
    running
}

/// The same, the last key of the intake let go.
fn unhurried_at_the_bench(home: &Path) -> Running {
    let running = at_the_bench(home);
    running.settle();
    Running::take_time_to_read();
    running
}

#[test]
fn twenty_enters_in_one_burst_do_not_go_through_the_cautions_and_checks() {
    let home = home();
    let records = home.path().join("records");
    let mut running = unhurried_at_the_bench(home.path());
    let before = entries(&records);
    running.type_keys(&"\r".repeat(20));
    running.wait_for("One at a time");
    running.settle();
    // The terminal may hand the burst over in a few pieces, a frame between them.
    let answered = entries(&records) - before;
    assert!((1..=4).contains(&answered), "{answered} answers in one burst");
}

#[test]
fn a_key_held_down_in_a_terminal_that_sends_its_repeat_as_presses_does_not_go_through_the_checks() {
    let home = home();
    let records = home.path().join("records");
    let mut running = unhurried_at_the_bench(home.path());
    let before = entries(&records);
    for _ in 0..20 {
        running.type_keys("\r");
        sleep(Duration::from_millis(33));
    }
    running.wait_for("One at a time");
    running.settle();
    // The first caution, and on a machine that stalls for a quarter of a second the checks up to the next that guards from
    // harm.
    let answered = entries(&records) - before;
    assert!((1..=4).contains(&answered), "{answered} answers from one held key");
}

#[test]
fn a_whole_setup_with_a_swap_survives_two_kills_and_is_all_in_the_record() {
    let home = home();
    let records = home.path().join("records");
    let running = at_the_bench(home.path());
    let mut mechanic =
        Mechanic { running, readings: READINGS.to_vec().into_iter(), records: records.clone() };

    // In the middle of the first set of readings.
    mechanic.answer_until(16);
    assert_eq!(step(&records), Step::SeatIndicator);
    mechanic.killed_and_reopened(home.path());
    mechanic.running.wait_for("reading 2 of 2");

    // In the middle of the swap, the shock in pieces.
    mechanic.answer_until(24);
    assert_eq!(step(&records), Step::Swap);
    mechanic.killed_and_reopened(home.path());
    mechanic.running.wait_for("fitting 425 lb/in");

    while step(&records) != Step::Closed {
        mechanic.answer();
    }
    let record = read(&records);
    let state = machine::replay(&record).expect("a legal walk");
    assert_eq!(state.on_bike.swaps, 1);
    let readings: Vec<f64> =
        state.sets.iter().flat_map(|set| &set.readings).map(|reading| reading.distance.as_mm()).collect();
    assert_eq!(readings, [15.0, 16.0, 18.0, 18.0, 18.0]);
    assert!(record.entries.iter().any(|entry| matches!(entry.deed, Deed::TrailRidden { .. })));
    assert_eq!(state.entered.customer.as_typed(), "Invented Rider");
}
