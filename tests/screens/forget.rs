//! A customer who wants to be forgotten, on the screen: shown first, done on a typed word only, and said what is left.

use std::fs;
use std::path::Path;

use coilwright::archive::form::{self, Unknown};
use coilwright::archive::seal::{Revision, seal};
use coilwright::session::{Deed, Detail, Origin, Record, machine};
use coilwright::text::FreeText;

use super::noon;
use super::review::TO_LIST;
use super::shopfloor::{Shopfloor, demonstrations};

/// An invented session of a customer, with a note.
fn session(customer: &str, note: &str) -> Record {
    let mut record =
        form::read(&fs::read_to_string(&demonstrations()[0]).expect("text")).expect("it reads").record;
    record.intake.origin = Origin::Workshop;
    record.entries.retain(|entry| entry.deed != Deed::Closed);
    record.intake.enter(Detail::Customer(FreeText::new(customer))).expect("possible");
    machine::advance(&mut record, noon(), Deed::Noted(FreeText::new(note))).expect("at any step");
    record
}

fn put(file: &Path, record: &Record) {
    let text = form::write(record, &Unknown::default()).expect("it can be written");
    fs::write(file, seal(&text, Revision::new(1))).expect("room");
}

/// Sessions of two invented customers.
pub(crate) fn two_customers(records: &Path) {
    fs::create_dir(records.join("wastebasket")).expect("room");
    let annas = session("Anna Example", "call Anna Example");
    for file in [
        "2026-03-10-1005-0000a1.ron",
        "2026-03-10-1005-0000a1 (conflict copy).ron",
        "2026-03-10-1005-0000a2.ron",
    ] {
        put(&records.join(file), &annas);
    }
    put(&records.join("wastebasket/2026-03-10-1005-0000a3.ron"), &annas);
    put(&records.join("2026-03-10-1005-000001.ron"), &session("Ben Other", "bought from Anna Example"));
    put(&records.join("2026-03-10-1005-000002.ron"), &session("Anna Exampel", "a similar name"));
}

/// The same, and an export beside their sessions that holds the name of one.
fn two_customers_and_an_export(records: &Path) {
    two_customers(records);
    fs::write(records.join("sets.csv"), "customer\nAnna Example\n").expect("room");
}

/// Every file below the folder, with what is in it.
fn everything(folder: &Path) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        if entry.path().is_dir() {
            found.extend(everything(&entry.path()));
        } else {
            let text = String::from_utf8_lossy(&fs::read(entry.path()).expect("a file")).into_owned();
            found.push((entry.path().display().to_string(), text));
        }
    }
    found.sort();
    found
}

fn naming(shop: &Shopfloor) -> Vec<String> {
    let home = shop.records.parent().expect("a home");
    everything(home)
        .into_iter()
        .filter(|(_, text)| text.contains("Anna Example"))
        .map(|(path, _)| path)
        .collect()
}

#[test]
fn a_customer_is_forgotten_on_a_typed_word_and_what_is_left_is_said() {
    let mut shop = Shopfloor::with(two_customers_and_an_export);
    let text = |shop: &Shopfloor| shop.frame(100, 60);
    shop.press(&format!("{TO_LIST}<F12>"));
    let page = text(&shop);
    for words in [
        "3 sessions will be removed",
        "2 session files",
        "1 conflict copy",
        "1 file in the wastebasket",
        "sets.csv",
        "1 session of other customers",
        "Similar name, left alone: Anna Exampel",
        "Exports, backup files and printed cards",
        "This cannot be undone.",
    ] {
        assert!(page.contains(words), "{words} is not on:\n{page}");
    }
    shop.press("remove").must_show("remove all of this for good");
    shop.press("<Enter>").must_show("Removed 3 sessions and took the name out of 1 session of others.");
    assert!(text(&shop).contains("sets.csv"), "{}", text(&shop));
    let left = naming(&shop);
    assert!(left.len() == 1 && left[0].ends_with("sets.csv"), "{left:?}");
    // Back in the list, which has the others only.
    shop.press("<Enter>").must_show("Past sessions").must_show("Ben Other");
    assert!(!shop.shows("Anna Example"), "{}", shop.frame(80, 24));
}

#[test]
fn enter_alone_or_another_word_touches_nothing() {
    let mut shop = Shopfloor::with(two_customers);
    shop.press(TO_LIST);
    let before = everything(&shop.records);
    shop.press("<F12>").must_show("Forget a customer").must_show("Enter leave everything as it is");
    shop.press("<Enter>").must_show("Past sessions");
    shop.press("<F12>yes<Enter>").must_show("was changed.").must_show("Forget a customer");
    shop.press("<Esc>").must_show("Past sessions");
    assert_eq!(everything(&shop.records), before);
}

#[test]
fn the_figures_stay_on_the_other_word_and_the_session_looked_at_is_left_behind() {
    let mut shop = Shopfloor::with(two_customers);
    shop.press(&format!("{TO_LIST}<Enter>")).must_show("Past session");
    shop.press("<F12>figures<Enter>").must_show("2 sessions anonymous");
    shop.press("<Esc>").must_show("Past sessions");
    let record = fs::read_to_string(shop.records.join("2026-03-10-1005-0000a2.ron")).expect("text");
    assert!(record.contains("forgotten customer 1") && !record.contains("Anna"), "{record}");
}
