//! The shell on a real disk: what it keeps, finds again, puts back and lists. Not here: the steps of a write
//! (`tests/archive`).

mod damaged;
mod older_format;

use std::path::Path;
use std::sync::Arc;

use chrono::DateTime;

use super::*;
use crate::archive::{FolderIdentity, RealDisk};
use crate::screen::effect::{FoundRecord, ListedSession, ListedSummary, SessionProgress};
use crate::session::Detail;
use crate::units::Mass;

fn text(details: &[Detail]) -> String {
    let mut record = Record::new(DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").expect("a time"));
    for detail in details {
        record.intake.enter(detail.clone()).expect("possible");
    }
    form::write(&record, &Unknown::default()).expect("it can be written")
}

fn shop(records: &Path) -> DiskShell {
    let spool = records.join("../spool");
    let archive = Archive::create(Arc::new(RealDisk), records, &spool, FolderIdentity::new(7));
    DiskShell::new(archive.expect("a records folder"), None)
}

/// A shop with a record begun and kept in it, and the record.
fn shop_with_a_record(records: &Path) -> (DiskShell, Record) {
    let mut shop = shop(records);
    let mut record = Record::new(shop.now());
    record.intake.enter(Detail::Rider(Mass::kg(82.0))).expect("possible");
    assert_eq!(shop.perform(Effect::Begin { opened: record.opened }), Answer::Done);
    assert_eq!(shop.perform(Effect::Keep(Box::new(record.clone()))), Answer::Kept(StorageState::Kept));
    (shop, record)
}

fn only_session(shop: &mut DiskShell) -> SessionName {
    let Answer::Listed(past) = shop.perform(Effect::List) else { panic!("it lists") };
    let [only] = &past.newest[..] else { panic!("one session, not {past:?}") };
    only.name.clone()
}

#[test]
fn what_was_kept_is_listed_and_opens_as_it_was() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (mut shop, record) = shop_with_a_record(&folder.path().join("records"));
    shop.perform(Effect::LetGo);
    let name = only_session(&mut shop);
    let opened = Answer::Opened { record: Box::new(record), keeping: StorageState::Kept, note: None };
    assert_eq!(shop.perform(Effect::Open(name)), opened);
}

#[test]
fn a_session_open_elsewhere_can_only_be_looked_at() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let (mut first, _) = shop_with_a_record(&records);
    let name = only_session(&mut first);
    let Answer::Opened { keeping, .. } = shop(&records).perform(Effect::Open(name)) else {
        panic!("it opens")
    };
    assert!(matches!(keeping, StorageState::ReadOnly { .. }), "{keeping:?}");
}

#[test]
fn a_records_folder_that_went_away_sends_the_step_to_the_spool() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let (mut shop, record) = shop_with_a_record(&records);
    std::fs::rename(&records, folder.path().join("away")).expect("it can be moved");
    let kept = shop.perform(Effect::Keep(Box::new(record)));
    assert!(matches!(kept, Answer::Kept(StorageState::InSpool { .. })), "{kept:?}");
}

/// A name of a folder may hold anything but a stroke; what is said of it must not act on a terminal.
#[cfg(unix)]
#[test]
fn no_sentence_about_a_folder_acts_whatever_its_name() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("\u{202e}records\u{1b}[2J");
    let (mut shop, record) = shop_with_a_record(&records);
    let name = only_session(&mut shop);
    std::fs::write(records.join("rack.ron"), b"\xff").expect("room");
    let rack = shop.perform(Effect::ReadRack);
    std::fs::remove_file(shop.archive.record_path(&name)).expect("it can be removed");
    std::fs::create_dir(shop.archive.record_path(&name)).expect("room");
    let looked_at = shop.perform(Effect::LookAt(name));
    std::fs::rename(&records, folder.path().join("away")).expect("it can be moved");
    let kept = shop.perform(Effect::Keep(Box::new(record)));
    for answer in [rack, looked_at, kept] {
        // Debug writes such letters as codes of this kind.
        let said = format!("{answer:?}");
        assert!(said.contains("records") && !said.contains("\\u{"), "{said}");
    }
}

/// A shop whose records folder was away from the start, with a record begun and kept all the same; the folder is back.
fn shop_with_a_record_in_the_spool(folder: &Path) -> (DiskShell, Record) {
    let (records, away) = (folder.join("records"), folder.join("away"));
    let mut shop = shop(&records);
    std::fs::rename(&records, &away).expect("it can be moved");
    let mut record = Record::new(shop.now());
    record.intake.enter(Detail::Rider(Mass::kg(82.0))).expect("possible");
    assert_eq!(shop.perform(Effect::Begin { opened: record.opened }), Answer::Done);
    let kept = shop.perform(Effect::Keep(Box::new(record.clone())));
    assert!(matches!(kept, Answer::Kept(StorageState::InSpool { .. })), "{kept:?}");
    std::fs::rename(&away, &records).expect("it can be moved back");
    (shop, record)
}

fn progress_of_the_only_session(shop: &mut DiskShell) -> SessionProgress {
    let Answer::Listed(past) = shop.perform(Effect::List) else { panic!("it lists") };
    let [ListedSession { summary: ListedSummary::Read { progress, .. }, .. }] = &past.newest[..] else {
        panic!("one readable session, not {past:?}")
    };
    *progress
}

#[test]
fn a_session_kept_only_in_the_spool_is_put_back_when_it_is_opened() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (gone, record) = shop_with_a_record_in_the_spool(folder.path());
    let name = gone.open.as_ref().expect("it is held").held.name().clone();
    drop(gone);
    let mut shop = shop(&folder.path().join("records"));
    let opened = Answer::Opened {
        record: Box::new(record.clone()),
        keeping: StorageState::Kept,
        note: Some(IN_THE_SPOOL.to_owned()),
    };
    assert_eq!(shop.perform(Effect::Open(name.clone())), opened);
    assert_eq!(shop.perform(Effect::Keep(Box::new(record))), Answer::Kept(StorageState::Kept));
    shop.perform(Effect::LetGo);
    assert_eq!(progress_of_the_only_session(&mut shop), SessionProgress::Unfinished);
    assert_eq!(
        shop.archive.versions(&name).expect("it lists").first().map(|one| one.role),
        Some(FileRole::Record)
    );
}

#[test]
fn what_was_kept_in_the_spool_goes_home_with_the_next_list_and_that_is_said() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (gone, _) = shop_with_a_record_in_the_spool(folder.path());
    drop(gone);
    let mut shop = shop(&folder.path().join("records"));
    let Answer::Listed(past) = shop.perform(Effect::List) else { panic!("it lists") };
    assert!(past.note.is_some_and(|words| words.starts_with("Steps of 1 session")));
    assert_eq!(progress_of_the_only_session(&mut shop), SessionProgress::Unfinished);
    let name = only_session(&mut shop);
    let roles: Vec<_> = shop.archive.versions(&name).expect("it lists").iter().map(|one| one.role).collect();
    assert_eq!(roles, [FileRole::Record]);
}

#[test]
fn a_folder_that_cannot_be_listed_is_not_an_empty_one() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let mut shop = shop(&records);
    std::fs::write(records.join("coilwright-records.txt"), "").expect("room");
    std::fs::remove_dir_all(folder.path().join("spool")).ok();
    std::fs::write(folder.path().join("spool"), "a file where a folder should be").expect("room");
    let Answer::Listed(past) = shop.perform(Effect::List) else { panic!("it lists") };
    assert!(past.unlisted.is_some(), "{past:?}");
}

#[test]
fn what_somebody_else_wrote_meanwhile_is_told_at_that_step() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (mut shop, mut record) = shop_with_a_record(&folder.path().join("records"));
    let name = only_session(&mut shop);
    std::fs::write(shop.archive.record_path(&name), "// by another hand\n").expect("room");
    record.intake.enter(Detail::Bike(Mass::kg(15.0))).expect("possible");
    let Answer::KeptBeside(words) = shop.perform(Effect::Keep(Box::new(record))) else {
        panic!("it is entered")
    };
    assert!(words.contains(".aside-1"), "{words}");
}

#[test]
fn a_session_discarded_is_in_no_list_and_comes_back() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (mut shop, record) = shop_with_a_record(&folder.path().join("records"));
    let Answer::Discarded(name) = shop.perform(Effect::Discard(None)) else { panic!("it is discarded") };
    let Answer::Listed(past) = shop.perform(Effect::List) else { panic!("it lists") };
    assert_eq!(past.newest, []);
    assert_eq!(shop.perform(Effect::BringBack(name.clone())), Answer::Done);
    let opened = Answer::Opened { record: Box::new(record), keeping: StorageState::Kept, note: None };
    assert_eq!(shop.perform(Effect::Open(name)), opened);
}

#[test]
fn a_session_that_goes_on_in_the_spool_elsewhere_can_only_be_looked_at() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (_goes_on, record) = shop_with_a_record_in_the_spool(folder.path());
    let mut shop = shop(&folder.path().join("records"));
    let name = only_session(&mut shop);
    let Answer::Opened { record: opened, keeping, .. } = shop.perform(Effect::Open(name)) else {
        panic!("it opens")
    };
    assert_eq!(*opened, record);
    assert!(matches!(keeping, StorageState::ReadOnly { .. }), "{keeping:?}");
}

#[test]
fn a_record_that_somebody_removed_comes_back_on_a_word_only() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (mut shop, earlier) = shop_with_a_record(&folder.path().join("records"));
    let mut later = earlier.clone();
    later.intake.enter(Detail::Bike(Mass::kg(15.0))).expect("possible");
    assert_eq!(shop.perform(Effect::Keep(Box::new(later))), Answer::Kept(StorageState::Kept));
    shop.perform(Effect::LetGo);
    let name = only_session(&mut shop);
    std::fs::remove_file(shop.archive.record_path(&name)).expect("it can be removed");
    assert_eq!(progress_of_the_only_session(&mut shop), SessionProgress::FoundBeside);
    let opened = Answer::Opened {
        record: Box::new(earlier),
        keeping: StorageState::Kept,
        note: Some(BESIDE_IT.to_owned()),
    };
    let Answer::LookedAt(past) = shop.perform(Effect::Open(name.clone())) else { panic!("it is looked at") };
    assert!(matches!(&past.found, FoundRecord::Unreadable { before: Some(_), .. }), "{past:?}");
    assert!(!shop.archive.record_path(&name).exists(), "an older version never brings it back by itself");
    assert_eq!(shop.perform(Effect::GoOnBefore(name)), opened);
}

#[test]
fn every_demonstration_opens_and_says_that_it_is_one() {
    for index in 0..assets::DEMONSTRATIONS.len() {
        let Answer::Opened { record, keeping, .. } = look::demonstration(index) else {
            panic!("{index} opens")
        };
        assert_eq!(record.intake.origin, crate::session::Origin::Demonstration);
        assert!(matches!(keeping, StorageState::ReadOnly { .. }));
    }
}

#[test]
fn every_session_that_ships_is_a_demonstration() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sessions");
    let files = std::fs::read_dir(folder).expect("the folder of demonstrations is there");
    assert_eq!(files.count(), assets::DEMONSTRATIONS.len());
}

#[test]
fn a_version_with_one_more_detail_carries_the_other_on() {
    let (earlier, later) = (text(&[]), text(&[Detail::Rider(Mass::kg(82.0))]));
    assert!(carries_on(&later, &earlier));
    assert!(!carries_on(&earlier, &later));
}

#[test]
fn two_versions_that_differ_in_a_detail_carry_neither_on() {
    let [one, other] = [82.0, 84.0].map(|kg| text(&[Detail::Rider(Mass::kg(kg))]));
    assert!(!carries_on(&one, &other) && !carries_on(&other, &one));
}
