//! `coilwright merge`: what it shows, that it asks, and that the script that runs it can go by its exit code.

use std::fs;

use coilwright::archive::form::{self, Unknown};
use coilwright::archive::seal::{Revision, seal};
use coilwright::session::{Deed, Origin, Record, machine};
use coilwright::text::FreeText;

use super::folder::{home, printed, run};

const NAME: &str = "2026-03-10-1005-000000";

/// The record of the home with a note behind it, as the text of a file.
fn noted(record: &Record, note: &str) -> String {
    let mut record = record.clone();
    let at = record.opened;
    machine::advance(&mut record, at, Deed::Noted(FreeText::new(note))).expect("at any step");
    seal(&form::write(&record, &Unknown::default()).expect("it can be written"), Revision::new(9))
}

#[test]
fn two_versions_are_shown_asked_about_and_brought_together() {
    let home = home();
    let file = home.path().join("records").join(format!("{NAME}.ron"));
    let mut record = form::read(&fs::read_to_string(&file).expect("text")).expect("it reads").record;
    record.intake.origin = Origin::Workshop;
    fs::write(&file, noted(&record, "from the shop")).expect("room");
    assert!(printed(home.path(), &["merge"]).contains("No session of this folder is in two versions."));
    let copy = file.with_file_name(format!("{NAME} (conflict copy).ron"));
    fs::write(&copy, noted(&record, "from the trail")).expect("room");

    let unasked = run(home.path(), &["merge"]);
    assert_eq!(unasked.status.code(), Some(2), "there is nobody to ask");
    assert!(String::from_utf8_lossy(&unasked.stdout).contains("Note: from the trail"));
    assert!(copy.exists());
    let named = format!("{NAME}.ron");
    assert!(printed(home.path(), &["merge", "--yes", &named]).contains("1 step went over."));
    let merged = form::read(&fs::read_to_string(&file).expect("text")).expect("it reads").record;
    let notes: Vec<_> = merged.entries.iter().rev().take(2).map(|entry| &entry.deed).collect();
    let note = |words: &str| Deed::Noted(FreeText::new(words));
    assert_eq!(notes, [&note("from the trail"), &note("from the shop")]);
    assert!(
        !copy.exists()
            && home.path().join("records/wastebasket").join(copy.file_name().expect("one")).exists()
    );
    assert!(run(home.path(), &["check"]).status.success(), "nothing is left to look at");
}
