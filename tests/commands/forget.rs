//! A customer who wants to be forgotten: nothing of the name is left in any file, and nothing of anybody else is lost.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use coilwright::archive::form::{self, Unknown};
use coilwright::archive::seal::{Revision, seal};
use coilwright::archive::{Archive, FolderIdentity, HoldOutcome, RealDisk, SessionName};
use coilwright::assets;
use coilwright::session::{Deed, Detail, Origin, Record, Sheet, machine};
use coilwright::text::FreeText;
use tempfile::TempDir;

use super::folder::{printed, run};

const ANNA: &str = "Anna Exämple";
const SPOOL: &str = "XDG_DATA_HOME/coilwright/spool/0000000000000007";

fn archive(home: &Path) -> Archive {
    let spool = home.join("XDG_DATA_HOME/coilwright/spool");
    Archive::create(Arc::new(RealDisk), &home.join("records"), &spool, FolderIdentity::new(7))
        .expect("a folder")
}

/// An invented session of a customer, with a note and a work order.
fn record(customer: &str, note: &str) -> Record {
    let mut record = form::read(assets::DEMONSTRATIONS[0].text).expect("it reads").record;
    record.intake.origin = Origin::Workshop;
    // A closed one takes nothing more.
    record.entries.retain(|entry| entry.deed != Deed::Closed);
    record.intake.enter(Detail::Customer(FreeText::new(customer))).expect("possible");
    record.intake.enter(Detail::BikeName(FreeText::new("red trail bike"))).expect("possible");
    let sheet = Sheet { work_order: Some(FreeText::new("order 4711")), ..Sheet::default() };
    let at = record.opened;
    for deed in [Deed::Noted(FreeText::new(note)), Deed::AsFound(Box::new(sheet))] {
        machine::advance(&mut record, at, deed).expect("at any step");
    }
    record
}

fn text(record: &Record, revision: u64) -> String {
    seal(&form::write(record, &Unknown::default()).expect("it can be written"), Revision::new(revision))
}

fn name(number: usize) -> SessionName {
    format!("2026-03-10-1005-{number:06x}.ron").parse().expect("a name")
}

/// Every file below a folder, with its bytes.
fn everything(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let (mut open, mut found) = (vec![folder.to_owned()], BTreeMap::new());
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).expect("a folder").flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else {
                found.insert(path.clone(), fs::read(path).expect("a file"));
            }
        }
    }
    found
}

/// The files in which the name is, in any spelling of it.
fn naming(home: &Path) -> Vec<PathBuf> {
    let named = |bytes: &Vec<u8>| {
        let text = String::from_utf8_lossy(bytes).to_lowercase();
        text.contains("exämple") || text.contains("example")
    };
    everything(home).into_iter().filter(|(_, bytes)| named(bytes)).map(|(path, _)| path).collect()
}

/// A shop of so many sessions, every seventh of them Anna's, with all that can lie about of one.
fn shop(sessions: usize) -> TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    archive(home.path());
    let records = home.path().join("records");
    let put = |path: &Path, text: &str| fs::write(path, text).expect("room");
    let (hers, others) = (record(ANNA, "call Anna Example"), record("Ben Other", "all well"));
    for number in 0..sessions {
        let (name, record) = (name(number), if number % 7 == 0 { &hers } else { &others });
        put(&records.join(name.record()), &text(record, 2));
        put(&records.join(name.older()), &text(record, 1));
    }
    for folder in ["wastebasket", "cards"] {
        fs::create_dir(records.join(folder)).expect("room");
    }
    fs::create_dir_all(home.path().join(SPOOL)).expect("room");
    put(&records.join("2026-03-10-1005-000000 (conflict).ron"), &text(&hers, 1));
    put(&records.join(name(7).aside(1)), &text(&hers, 1));
    put(&records.join("wastebasket/2026-03-10-1005-ffffff.ron"), &text(&hers, 1));
    put(&records.join("cards/2026-03-10-1005-000007.html"), "<p>Anna Ex&auml;mple</p>");
    put(&records.join("2026 anna.ron"), &text(&hers, 1));
    put(&home.path().join(SPOOL).join(name(14).record()), &text(&hers, 3));
    // Another's: the bike was Anna's once, and a note says so.
    let mut bens = record("ANNA EXÄMPLE", "bought from Anna Exämple in May");
    let at = bens.opened;
    machine::advance(&mut bens, at, Deed::Entered(Detail::Customer(FreeText::new("Ben Other"))))
        .expect("at any step");
    put(&records.join(name(1).record()), &text(&bens, 2));
    home
}

#[test]
fn a_customer_is_forgotten_in_every_file_of_a_shop_of_2000_sessions() {
    let home = shop(2_000);
    let home = home.path();
    assert_eq!(printed(home, &["list"]).lines().count(), 2_000);
    let before = everything(&home.join("records"));
    assert!(naming(home).len() > 2 * 2_000 / 7);
    assert!(naming(home).iter().any(|path| path.ends_with("0000000000000007.index")), "it is remembered");
    let said = printed(home, &["forget", "anna EXAMPLE", "--yes"]);
    assert!(said.contains("287 sessions will be removed") && said.contains("and 267 more"), "{said}");
    assert!(
        said.contains("- 1 backup on this computer") && said.contains("- 1 file in the wastebasket"),
        "{said}"
    );
    assert_eq!(naming(home), Vec::<PathBuf>::new());
    // What is another's is there to the last byte, but for the one that named her.
    let after = everything(&home.join("records"));
    let log = home.join("records/forgotten.txt");
    let changed = home.join("records").join(name(1).record());
    for (path, bytes) in after.iter().filter(|(path, _)| **path != log && **path != changed) {
        assert_eq!(before.get(path), Some(bytes), "{}", path.display());
    }
    let of_others = |files: &BTreeMap<PathBuf, Vec<u8>>| {
        let others = |bytes: &&Vec<u8>| String::from_utf8_lossy(bytes).contains("Ben Other");
        files.values().filter(others).count()
    };
    assert_eq!(of_others(&after), of_others(&before));
    let bens = form::read(&fs::read_to_string(&changed).expect("text")).expect("it reads").record;
    assert!(format!("{bens:?}").contains("bought from forgotten customer 1 in May"), "{bens:?}");
    assert_eq!(printed(home, &["list"]).lines().count(), 2_000 - 286);
    let log = fs::read_to_string(log).expect("a log");
    assert!(log.contains("removed 287 sessions: 2026-03-10-1005-ffffff"), "{log}");
    // Only the backup in the spool would have brought this one back, and that is gone as well.
    assert!(printed(home, &["check"]).starts_with("1714 records are just as"));
}

#[test]
fn an_anonymous_session_keeps_every_figure() {
    let home = shop(15);
    let home = home.path();
    let figures = |home: &Path| printed(home, &["export", "--lines", "--without-names"]);
    let without_revision = |lines: &str| -> Vec<serde_json::Value> {
        let line = |line: &str| {
            let mut line: serde_json::Value = serde_json::from_str(line).expect("JSON");
            line.as_object_mut().expect("an object").remove("revision");
            line
        };
        lines.lines().map(line).collect()
    };
    let before = figures(home);
    let said = printed(home, &["forget", ANNA, "--anonymous", "--yes"]);
    assert!(said.contains("made 3 sessions anonymous"), "{said}");
    assert_eq!(naming(home), Vec::<PathBuf>::new());
    assert_eq!(without_revision(&figures(home)), without_revision(&before));
    let all = printed(home, &["list"]);
    assert_eq!(all.matches("forgotten customer 1, bike 1  ").count(), 3, "{all}");
    let record = fs::read_to_string(home.join("records").join(name(0).record())).expect("text");
    assert!(!record.contains("4711") && !record.contains("trail") && record.contains("removed"), "{record}");
    assert_eq!(printed(home, &["check"]), "15 records are just as this program wrote them.\n");
}

#[test]
fn a_session_that_is_open_elsewhere_stays_and_is_named() {
    let home = shop(8);
    let archive = archive(home.path());
    let held = archive.hold(&name(7), &|_, _| false).expect("it opens");
    assert!(matches!(held, HoldOutcome::Ours { .. }));
    let output = run(home.path(), &["forget", ANNA, "--yes"]);
    let complained = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1));
    assert!(
        complained.contains(name(7).as_str()) && complained.contains("open in another program"),
        "{complained}"
    );
    assert!(home.path().join("records").join(name(7).record()).exists());
    assert!(!home.path().join("records").join(name(0).record()).exists());
    drop(held);
    printed(home.path(), &["forget", ANNA, "--yes"]);
    assert_eq!(naming(home.path()), Vec::<PathBuf>::new());
}

#[test]
fn nothing_goes_without_a_word_and_a_similar_name_is_offered() {
    let home = shop(8);
    let before = everything(&home.path().join("records"));
    let output = run(home.path(), &["forget", ANNA]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stdout).contains("4 sessions will be removed"));
    let output = run(home.path(), &["forget", "Anna Exampel", "--yes"]);
    let complained = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(complained.contains("Similar name, left alone: Anna Exämple, 3 sessions"), "{complained}");
    assert_eq!(everything(&home.path().join("records")), before);
}

#[test]
fn a_backup_of_a_forgotten_session_on_another_computer_is_not_brought_back() {
    let home = shop(8);
    printed(home.path(), &["forget", ANNA, "--yes"]);
    let elsewhere = home.path().join("elsewhere");
    let other = Archive::open(Arc::new(RealDisk), &home.path().join("records"), &elsewhere, None);
    let other = other.expect("the same folder on another computer");
    fs::create_dir_all(other.spool_folder()).expect("room");
    fs::write(other.spool_folder().join(name(0).record()), text(&record(ANNA, "late"), 9)).expect("room");
    let brought = other.bring_in(&|_, _| false).expect("the folder is there");
    assert_eq!((brought.forgotten, brought.sessions), (vec![name(0)], Vec::new()));
    assert_eq!(naming(home.path()), Vec::<PathBuf>::new());
}

#[test]
fn what_was_done_is_said_also_where_the_log_cannot_be_written() {
    let home = shop(8);
    let home = home.path();
    // Nothing can be kept at the log's path.
    fs::create_dir(home.join("records/forgotten.txt")).expect("room");
    let output = run(home, &["forget", "anna EXAMPLE", "--yes"]);
    let said = String::from_utf8_lossy(&[output.stdout, output.stderr].concat()).into_owned();
    assert!(said.contains("Removed 4 sessions"), "{said}");
    assert!(said.contains("could not be written into forgotten.txt"), "{said}");
    assert!(!said.contains("Nothing was changed"), "{said}");
}
