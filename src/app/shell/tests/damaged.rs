//! A record that is damaged, or that a later program wrote: what is offered, and that the file stays as it is.

use std::fs;

use super::*;
use crate::screen::effect::{FoundRecord, PastRecord};

/// Ways a file may be no record any more.
const DAMAGES: [&[u8]; 4] = [b"", b"\xff\xfe", b"(format: 1, opened: \"2026-", b"something else"];

/// A shop with a record of two steps, and the record at the first.
fn two_steps(records: &Path) -> (DiskShell, SessionName, Record) {
    let (mut shop, earlier) = shop_with_a_record(records);
    let mut later = earlier.clone();
    later.intake.enter(Detail::Bike(Mass::kg(15.0))).expect("possible");
    assert_eq!(shop.perform(Effect::Keep(Box::new(later))), Answer::Kept(StorageState::Kept));
    shop.perform(Effect::LetGo);
    let name = only_session(&mut shop);
    (shop, name, earlier)
}

fn looked_at(answer: Answer) -> FoundRecord {
    match answer {
        Answer::LookedAt(past) => {
            let PastRecord { found, .. } = *past;
            found
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_version_before_the_damage_is_offered_and_takes_its_place_on_a_word() {
    for damage in DAMAGES {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let records = folder.path().join("records");
        let (mut shop, name, earlier) = two_steps(&records);
        fs::write(records.join(name.record()), damage).expect("room");
        let found = looked_at(shop.perform(Effect::Open(name.clone())));
        let FoundRecord::Unreadable { before, .. } = found else { panic!("{found:?}") };
        assert_eq!(before.as_deref(), Some(&earlier));
        assert_eq!(fs::read(records.join(name.record())).expect("bytes"), damage, "looking changes nothing");
        let Answer::Opened { record, keeping: StorageState::Kept, note: Some(note) } =
            shop.perform(Effect::GoOnBefore(name.clone()))
        else {
            panic!("it opens")
        };
        assert_eq!(*record, earlier);
        assert!(note.contains(&name.aside(1)), "{note}");
        assert_eq!(fs::read(records.join(name.aside(1))).expect("bytes"), damage);
        assert_eq!(shop.perform(Effect::Keep(record)), Answer::Kept(StorageState::Kept));
        assert_eq!(fs::read(records.join(name.aside(1))).expect("bytes"), damage, "nor does a later step");
    }
}

#[test]
fn a_pipe_or_a_gigabyte_in_the_place_of_a_record_is_put_aside_unread() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let (mut shop, name, earlier) = two_steps(&records);
    fs::remove_file(records.join(name.record())).expect("it can be removed");
    let huge = fs::File::create(records.join(name.record())).expect("room");
    huge.set_len(1 << 30).expect("a sparse file");
    let found = looked_at(shop.perform(Effect::Open(name.clone())));
    assert!(matches!(found, FoundRecord::Unreadable { before: Some(_), .. }), "{found:?}");
    let Answer::Opened { record, .. } = shop.perform(Effect::GoOnBefore(name.clone())) else {
        panic!("it opens")
    };
    assert_eq!(*record, earlier);
    assert_eq!(fs::metadata(records.join(name.aside(1))).expect("it is there").len(), 1 << 30);
}

#[test]
fn a_session_held_elsewhere_is_not_replaced() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let (mut shop, name, _) = two_steps(&records);
    let mut other = super::shop(&records);
    assert!(matches!(other.perform(Effect::Open(name.clone())), Answer::Opened { .. }));
    fs::write(records.join(name.record()), "damaged").expect("room");
    let answer = shop.perform(Effect::GoOnBefore(name.clone()));
    assert!(matches!(&answer, Answer::Failed(said) if said.starts_with("Another program")), "{answer:?}");
    assert_eq!(fs::read(records.join(name.record())).expect("bytes"), b"damaged");
}

#[test]
fn a_record_mended_or_written_by_a_later_program_since_it_was_looked_at_is_not_replaced() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let (mut shop, name, _) = two_steps(&records);
    let path = records.join(name.record());
    let whole = fs::read(&path).expect("bytes");
    fs::write(&path, "damaged").expect("room");
    looked_at(shop.perform(Effect::Open(name.clone())));
    for meanwhile in [&whole[..], b"(format: 7, entries: [])"] {
        fs::write(&path, meanwhile).expect("room");
        shop.perform(Effect::GoOnBefore(name.clone()));
        assert_eq!(fs::read(&path).expect("bytes"), meanwhile);
        assert!(!records.join(name.aside(1)).exists());
    }
}

#[test]
fn a_record_of_a_later_program_is_only_looked_at_and_nothing_before_it_is_offered() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let records = folder.path().join("records");
    let (mut shop, name, _) = two_steps(&records);
    let newer = "(format: 7, entries: {\"as\": [nobody, knows]})";
    fs::write(records.join(name.record()), newer).expect("room");
    let found = looked_at(shop.perform(Effect::Open(name.clone())));
    let FoundRecord::Unreadable { because, readable: None, before: None } = found else {
        panic!("{found:?}")
    };
    assert!(because.contains("format 7") && because.contains("newer program"), "{because}");
    assert_eq!(fs::read_to_string(records.join(name.record())).expect("text"), newer);
}

#[test]
fn a_session_begun_while_the_folder_is_away_can_be_gone_on_with_after_a_new_start() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (records, stick) = (folder.path().join("records"), folder.path().join("stick"));
    drop(shop(&records));
    fs::rename(&records, &stick).expect("it can be moved");
    fs::create_dir(&records).expect("an empty mount point");
    let away = || {
        let spool = records.join("../spool");
        DiskShell::new(Archive::unseen(Arc::new(RealDisk), &records, &spool, FolderIdentity::new(7)), None)
    };
    let mut first = away();
    let mut record = Record::new(first.now());
    record.intake.enter(Detail::Rider(Mass::kg(82.0))).expect("possible");
    first.perform(Effect::Begin { opened: record.opened });
    let kept = first.perform(Effect::Keep(Box::new(record.clone())));
    assert!(matches!(kept, Answer::Kept(StorageState::InSpool { .. })), "{kept:?}");
    drop(first);
    let mut second = away();
    let name = only_session(&mut second);
    let opened = second.perform(Effect::Open(name.clone()));
    assert!(
        matches!(&opened, Answer::Opened { record: found, keeping: StorageState::InSpool { .. }, .. } if **found == record)
    );
    assert_eq!(fs::read_dir(&records).expect("a folder").count(), 0, "nothing lies in the mount point");
    fs::remove_dir(&records).expect("it is empty");
    fs::rename(&stick, &records).expect("it can be moved");
    assert_eq!(second.perform(Effect::Keep(Box::new(record.clone()))), Answer::Kept(StorageState::Kept));
    drop(second);
    let mut third = shop(&records);
    let again = third.perform(Effect::Open(name));
    let kept = Answer::Opened { record: Box::new(record), keeping: StorageState::Kept, note: None };
    assert_eq!(again, kept);
}
