//! The built program killed at random moments while trials are typed: every trial it had shown is in the record.

use std::path::Path;
use std::time::Duration;

use chrono::{DateTime, TimeDelta};
use coilwright::archive::form::{self, Unknown};
use coilwright::archive::seal::{Revision, seal};
use coilwright::archive::{Archive, FolderIdentity, RealDisk, SessionName};
use coilwright::session::{Caution, Deed, Record, machine};
use coilwright::units::Turns;

use super::{Running, home};
use crate::soak;
use crate::walk::sample;

/// Kills in an ordinary run.
const ROUNDS: u32 = 3;
/// Trials typed after each start.
const TRIALS: usize = 8;

/// An invented session at quick trials with no trial made.
fn at_trials() -> Record {
    let mut record = sample::entered();
    let at = DateTime::parse_from_rfc3339("2026-11-25T12:00:00+01:00").expect("a time");
    let opening = [Deed::IntakeDone].into_iter().chain(Caution::ALL.map(Deed::CautionSeen));
    for (minute, deed) in (1..).zip(opening.chain([Deed::TrialsOpened { preload_turns: Turns::ZERO }])) {
        // Cautions that do not belong here are refused, which leaves the record as it was.
        let _ = machine::advance(&mut record, at + TimeDelta::minutes(minute), deed);
    }
    record
}

fn trials_in(archive: &Archive, name: &SessionName) -> usize {
    let read = form::read(&archive.read(name).expect("the record is there").text).expect("it is whole");
    read.record.entries.iter().filter(|entry| matches!(entry.deed, Deed::Trial { .. })).count()
}

/// Whether the list on the screen has a line for this trial.
fn shows(screen: &str, trial: usize) -> bool {
    screen.contains(&format!("  #{trial} "))
}

#[test]
fn a_killed_program_has_kept_every_trial_it_showed() {
    let (rounds, mut shown, mut kept) = (soak::rounds(ROUNDS), 0, 0);
    for round in 0..rounds {
        let home = home();
        let (in_round, on_disk) = type_and_kill(home.path(), round);
        assert!(on_disk >= in_round, "round {round}: {in_round} trials were shown and {on_disk} are saved");
        (shown, kept) = (shown + in_round, kept + on_disk);
    }
    assert!(shown > 0, "the killed program leaves its last frame");
    soak::came_to(&format!("the program killed {rounds} times, {shown} trials shown, {kept} saved"));
}

/// Types trials, kills the program somewhere in the last of them, and returns how many it had shown and how many are kept.
fn type_and_kill(home: &Path, round: u32) -> (usize, usize) {
    let disk = std::sync::Arc::new(RealDisk);
    let archive = Archive::create(disk, &home.join("records"), &home.join("spool"), FolderIdentity::new(7))
        .expect("a folder");
    let record = at_trials();
    let name = SessionName::new(&record.opened, round);
    let text = form::write(&record, &Unknown::default()).expect("it can be written");
    std::fs::write(archive.record_path(&name), seal(&text, Revision::new(1))).expect("room");
    let mut running = Running::start(home, &[]);
    running.wait_for("Go on:");
    running.type_keys("\r");
    running.wait_for("17.5 = a trial");
    let last = 1 + round as usize % TRIALS;
    for trial in 1..last {
        running.type_keys(&format!("1{}.5\r", 5 + trial % 4));
        running.wait_until("the trial", |seen| shows(&seen.screen.screen().contents(), trial));
    }
    running.type_keys("16\r");
    std::thread::sleep(Duration::from_micros(u64::from(round) * 7919 % 30_000));
    running.kill();
    running.settle();
    let seen = running.contents();
    let shown = (1..=last).rev().find(|trial| shows(&seen, *trial)).unwrap_or(0);
    (shown, trials_in(&archive, &name))
}
