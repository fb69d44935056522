//! A file in an older format (an invented one, which only these tests know) on its way through the whole shop.

use std::fs;

use super::*;
use crate::archive::index::Contents;
use crate::archive::seal::{Revision, seal};

const OLD: &str = "(\n    format: 0,\n    opened: \"2026-11-25T10:00:00+01:00\",\n    who: \"Invented Rider\",\n    rider: 180.0,\n    \
                   weather: Rain(mm: [1, 2]),\n    entries: [\n    ],\n)\n";

fn old_file(records: &Path, random: u32) -> (SessionName, String) {
    let opened = DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").expect("a time");
    let (name, text) = (SessionName::new(&opened, random), seal(OLD, Revision::new(4)));
    fs::write(records.join(name.record()), &text).expect("room");
    (name, text)
}

fn opened(shop: &mut DiskShell, name: &SessionName) -> Record {
    match shop.perform(Effect::Open(name.clone())) {
        Answer::Opened { record, keeping: StorageState::Kept, note: None } => *record,
        other => panic!("{other:?}"),
    }
}

#[test]
fn an_older_format_is_opened_gone_on_with_and_saved_in_the_present_one() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let mut shop = shop(&records);
    let (name, old) = old_file(&records, 1);
    let mut record = opened(&mut shop, &name);
    // 180 lb = 81.646 626 6 kg by the exact definition of the pound.
    assert_eq!(record.intake.rider, Some(Mass::kg(180.0 * 0.453_592_37)));
    record.intake.enter(Detail::Bike(Mass::kg(15.0))).expect("possible");
    assert_eq!(shop.perform(Effect::Keep(Box::new(record.clone()))), Answer::Kept(StorageState::Kept));
    let saved = fs::read_to_string(records.join(name.record())).expect("the record");
    for line in
        ["    format: 2,", "    rider_kg: 81.6466266,", "    weather: Rain(mm: [1, 2]),", "// rev 5 crc32 "]
    {
        assert!(saved.lines().any(|written| written.starts_with(line)), "{line} is not in\n{saved}");
    }
    assert!(!saved.contains("rider: "), "{saved}");
    let older = fs::read_to_string(records.join(name.older())).expect("one older generation");
    assert_eq!(older, old, "the version before lies beside it in its old form");
    shop.perform(Effect::LetGo);
    assert_eq!(opened(&mut shop, &name), record, "and neither is in the way of the other");
}

#[test]
fn list_and_index_read_older_and_present_side_by_side() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let (mut shop, _) = shop_with_a_record(&records);
    shop.perform(Effect::LetGo);
    let (name, _) = old_file(&records, 2);
    let Answer::Listed(past) = shop.perform(Effect::List) else { panic!("it lists") };
    assert_eq!(past.newest.len(), 2);
    assert!(past.newest.iter().all(|one| matches!(one.summary, ListedSummary::Read { .. })), "{past:?}");
    let mut index = crate::archive::Index::empty(shop.archive.identity());
    let news: Vec<_> = shop.archive.check(&index, chrono::Utc::now()).all_news().collect();
    index.take_in(news).expect("the folder is there");
    let read = |session: &crate::archive::IndexedSession| matches!(session.contents, Contents::Read(_));
    assert_eq!(index.sessions().iter().filter(|session| read(session)).count(), 2);
    assert!(index.sessions().iter().any(|session| session.name == name));
}

#[test]
fn the_version_before_an_upgrade_takes_the_place_of_a_damaged_record() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let mut shop = shop(&records);
    let (name, _) = old_file(&records, 3);
    let record = opened(&mut shop, &name);
    assert_eq!(shop.perform(Effect::Keep(Box::new(record.clone()))), Answer::Kept(StorageState::Kept));
    shop.perform(Effect::LetGo);
    fs::write(records.join(name.record()), "(format: 1, opened: ").expect("room");
    let Answer::Opened { record: before, .. } = shop.perform(Effect::GoOnBefore(name)) else {
        panic!("it opens")
    };
    assert_eq!(*before, record);
}
