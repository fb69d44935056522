//! A session in two versions, found on the first screen and brought together there.

use std::fs;
use std::path::Path;

use coilwright::archive::form::{self, Unknown};
use coilwright::archive::seal::{Revision, seal};
use coilwright::session::{Deed, Detail, Origin, Record, machine};
use coilwright::text::FreeText;
use coilwright::units::Mass;

use super::noon;
use super::shopfloor::{Shopfloor, demonstrations};

/// Where the session lies in this folder.
pub(crate) const NAME: &str = "2026-03-10-1005-0000ab";

/// An invented session that goes on.
fn session() -> Record {
    let mut record =
        form::read(&fs::read_to_string(&demonstrations()[0]).expect("text")).expect("it reads").record;
    record.intake.origin = Origin::Workshop;
    record.entries.retain(|entry| entry.deed != Deed::Closed);
    record.intake.enter(Detail::Customer(FreeText::new("Invented Rider"))).expect("possible");
    record
}

fn write(file: &Path, record: &Record, revision: u64) {
    let text = form::write(record, &Unknown::default()).expect("it can be written");
    fs::write(file, seal(&text, Revision::new(revision))).expect("room");
}

fn noted(mut record: Record, by: &str, note: &str) -> Record {
    let deed = Deed::Noted(FreeText::new(note));
    machine::advance_by(&mut record, noon(), FreeText::new(by), deed).expect("at any step");
    record
}

/// One session of which a sync tool left a second version: a note in each.
pub(crate) fn two_notes(records: &Path) {
    let mut there = noted(session(), "BK", "collar felt rough");
    machine::advance_by(
        &mut there,
        noon(),
        FreeText::new("BK"),
        Deed::Entered(Detail::Rider(Mass::kg(84.0))),
    )
    .expect("possible");
    let mut here = noted(session(), "AL", "new bushings fitted");
    machine::advance(&mut here, noon(), Deed::Entered(Detail::Rider(Mass::kg(82.5)))).expect("possible");
    write(&records.join(format!("{NAME}.ron")), &here, 9);
    write(&records.join(format!("{NAME} (conflict copy).ron")), &there, 9);
}

/// The same with other details at the start, so that nobody can bring them together.
pub(crate) fn other_details(records: &Path) {
    two_notes(records);
    let mut there = session();
    there.intake.enter(Detail::Rider(Mass::kg(61.0))).expect("possible");
    write(&records.join(format!("{NAME} (conflict copy).ron")), &there, 9);
}

fn record(shop: &Shopfloor) -> Record {
    let text = fs::read_to_string(shop.records.join(format!("{NAME}.ron"))).expect("text");
    form::read(&text).expect("it reads").record
}

#[test]
fn what_is_only_in_the_other_version_goes_over_and_that_goes_to_the_wastebasket() {
    let mut shop = Shopfloor::with(two_notes);
    let copy = fs::read(shop.records.join(format!("{NAME} (conflict copy).ron"))).expect("a copy");
    shop.must_show("Two versions");
    shop.press("2").must_show("BK: Note: collar felt rough").must_show("entered here too; that stays");
    let before = record(&shop);
    shop.press("<Enter>").must_show("1 step went over, 1 did not.");
    let after = record(&shop);
    assert!(after.entries.starts_with(&before.entries) && after.entries.len() == before.entries.len() + 1);
    let away = shop.records.join("wastebasket").join(format!("{NAME} (conflict copy).ron"));
    assert_eq!(fs::read(away).expect("it is kept"), copy);
    assert!(!shop.shows("Two versions"), "{}", shop.frame(80, 24));
    // What went over is undone like any other step; the note is no step of the walk and stays.
    assert_eq!(
        fs::read_dir(&shop.records).expect("a folder").filter_map(Result::ok).filter(is_copy).count(),
        0
    );
}

fn is_copy(file: &fs::DirEntry) -> bool {
    file.file_name().to_string_lossy().contains("conflict")
}

#[test]
fn leaving_touches_neither_and_putting_away_asks_first() {
    let mut shop = Shopfloor::with(other_details);
    shop.press("2").must_show("The details entered at the start differ: rider");
    let before = record(&shop);
    shop.press("<Enter>").must_show("Two versions");
    shop.press("2<Del>").must_show("Press Del again");
    // Reading on is no yes.
    shop.press("<Down><Esc>").must_show("Two versions");
    shop.press("2<Del><Del>").must_show("nothing of it");
    assert_eq!(record(&shop), before);
    assert!(!shop.shows("Two versions"));
}
