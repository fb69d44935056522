//! Two computers with a synced folder: they write one session apart and together, the sync tool makes conflict copies, somebody
//! brings the versions together on either. Whatever the order, no step is lost and none is doubled.
//!
//! The sync tool is the usual kind (common practice, no source): what only one side changed is copied; where both did, one
//! version stays under the name and the other is put beside it. Not here: what goes over (`walk::merging`).

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use coilwright::app::shell::DiskShell;
use coilwright::archive::{Archive, FolderIdentity, RealDisk, SessionName};
use coilwright::screen::effect::{Answer, Effect, OtherVersionFate, Shell};
use coilwright::session::{Deed, Entry, Record, machine};
use coilwright::text::FreeText;
use coilwright::units::Length;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::soak;
use crate::walk::sample::at;
use crate::walk::sessions::in_trials;

const HISTORIES: u32 = 5;
const EVENTS: usize = 80;

#[test]
fn no_history_of_two_computers_loses_or_doubles_a_step() {
    let histories = soak::rounds(HISTORIES);
    let lived = (0..histories).map(|seed| history(seed.into()));
    let (steps, conflicts) = lived.fold((0, 0), |all, one| (all.0 + one.0, all.1 + one.1));
    assert!(conflicts > histories as usize, "there was something to bring together: {conflicts} conflicts");
    soak::came_to(&format!(
        "{histories} histories of two computers, {steps} steps and {conflicts} conflicts, none lost and none doubled"
    ));
}

/// One of them.
struct Computer {
    shop: DiskShell,
    records: PathBuf,
}

impl Computer {
    fn new(home: &Path) -> Self {
        let records = home.join("records");
        let identity = FolderIdentity::new(7);
        let archive = Archive::create(Arc::new(RealDisk), &records, &home.join("spool"), identity);
        Self { shop: DiskShell::new(archive.expect("a records folder"), None), records }
    }

    fn read(&self, name: &SessionName) -> Vec<u8> {
        fs::read(self.records.join(name.record())).expect("it is there")
    }

    fn record(&mut self, name: &SessionName) -> Record {
        match self.shop.perform(Effect::Open(name.clone())) {
            Answer::Opened { record, .. } => *record,
            other => panic!("it opens: {other:?}"),
        }
    }

    /// Does one step in the session, and lets go of it.
    fn does(&mut self, name: &SessionName, minute: usize, deed: Deed) -> Entry {
        let mut record = self.record(name);
        machine::advance(&mut record, at(minute), deed).expect("possible at any time");
        let entry = record.entries.last().cloned().expect("just done");
        self.shop.perform(Effect::Keep(Box::new(record)));
        self.shop.perform(Effect::LetGo);
        entry
    }

    fn copies(&self) -> Vec<PathBuf> {
        let files = fs::read_dir(&self.records).expect("a folder").map(|file| file.expect("a file").path());
        files.filter(|file| file.to_string_lossy().contains("(conflict")).collect()
    }

    fn brings_together(&mut self, name: &SessionName) {
        if !self.copies().is_empty() {
            let fate = OtherVersionFate::BroughtTogether;
            let answer = self.shop.perform(Effect::SettleVersions(name.clone(), fate));
            assert!(matches!(answer, Answer::Said(_) | Answer::Failed(_)), "{answer:?}");
            assert!(self.copies().is_empty(), "{answer:?}");
        }
    }
}

/// The sync tool between them.
struct Sync {
    /// What both had when they last saw each other.
    common: Vec<u8>,
    conflicts: usize,
}

impl Sync {
    fn runs(&mut self, name: &SessionName, [one, other]: [&Computer; 2]) {
        let (here, there) = (one.read(name), other.read(name));
        let file = |computer: &Computer| computer.records.join(name.record());
        if here != there && there == self.common {
            fs::write(file(other), &here).expect("room");
        } else if here != there && here == self.common {
            fs::write(file(one), &there).expect("room");
        } else if here != there {
            self.conflicts += 1;
            let copy = format!("{name} (conflict {}).ron", self.conflicts);
            fs::write(file(other), &here).expect("room");
            for computer in [one, other] {
                fs::write(computer.records.join(&copy), &there).expect("room");
            }
        }
        self.common = one.read(name);
    }
}

/// Lives through one history and returns how many steps and how many conflicts it came to.
fn history(seed: u64) -> (usize, usize) {
    let mut random = StdRng::seed_from_u64(seed);
    let homes = [tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder")];
    let mut computers = homes.each_ref().map(|home| Computer::new(home.path()));
    let mut done = Vec::new();
    let begun = in_trials();
    computers[0].shop.perform(Effect::Begin { opened: begun.opened });
    computers[0].shop.perform(Effect::Keep(Box::new(begun)));
    computers[0].shop.perform(Effect::LetGo);
    let Answer::Listed(list) = computers[0].shop.perform(Effect::List) else { panic!("it lists") };
    let name = list.newest[0].name.clone();
    let common = computers[0].read(&name);
    fs::write(computers[1].records.join(name.record()), &common).expect("room");
    let mut sync = Sync { common, conflicts: 0 };
    for event in 0..EVENTS {
        let which = random.random_range(0..2);
        match random.random_range(0..10) {
            0..=1 => {
                let [one, other] = &computers;
                let pair = if which == 0 { [one, other] } else { [other, one] };
                sync.runs(&name, pair);
            }
            2 => computers[which].brings_together(&name),
            3..=6 => {
                let note = Deed::Noted(FreeText::new(&format!("note {event}")));
                done.push(computers[which].does(&name, 1_000 + event, note));
            }
            _ => {
                let reading = Length::mm(random.random_range(28..40_u32).into()) * 0.5;
                done.push(computers[which].does(&name, 1_000 + event, Deed::Trial { reading }));
            }
        }
    }
    // They see each other until nothing is left to bring together.
    for _ in 0..10 {
        sync.runs(&name, computers.each_ref());
        for computer in &mut computers {
            computer.brings_together(&name);
        }
    }
    assert_eq!(computers[0].read(&name), computers[1].read(&name), "history {seed}");
    for computer in &mut computers {
        let entries = computer.record(&name).entries;
        for step in &done {
            let times = entries.iter().filter(|entry| *entry == step).count();
            assert_eq!(times, 1, "history {seed}: {step:?}");
        }
    }
    (done.len(), sync.conflicts)
}
