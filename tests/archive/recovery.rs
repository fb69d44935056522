//! What is found beside a record at the next start, and what becomes of it.

use super::failing::{FailingDisk, Failure};
use super::{Shop, a_name, body, carries_on, files_in};
use coilwright::archive::seal::seal;
use coilwright::archive::{
    Archive, FileRole, FoundSession, HoldError, HoldOutcome, ReadOnly, RealDisk, Recovered, Revision,
    StoredIn,
};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

fn sealed(steps: u64) -> String {
    seal(&body(steps), Revision::new(steps))
}

/// The text of a session that went another way after its first step.
fn other_way(revision: u64) -> String {
    seal(&format!("{}// another way\n", body(1)), Revision::new(revision))
}

fn settle(shop: &Shop) -> Recovered {
    match shop.archive.settle(&a_name(), &carries_on) {
        Ok(FoundSession::Settled(settled)) => settled,
        other => panic!("{other:?}"),
    }
}

fn record(shop: &Shop) -> String {
    fs::read_to_string(shop.beside(&a_name().record())).unwrap()
}

/// Puts a spool copy there as a program that was killed leaves it.
fn leave_in_spool(shop: &Shop, text: &str) {
    fs::create_dir_all(shop.archive.spool_folder()).unwrap();
    fs::write(shop.spooled(&a_name()), text).unwrap();
}

#[test]
fn a_spool_copy_that_carries_the_record_on_takes_its_place() {
    let shop = Shop::with_steps(2);
    leave_in_spool(&shop, &sealed(4));
    // A clock gone wrong: the later version bears the earlier date.
    fs::File::open(shop.spooled(&a_name())).unwrap().set_modified(SystemTime::UNIX_EPOCH).unwrap();
    let settled = settle(&shop);
    assert_eq!(settled.taken_over.map(|from| from.role), Some(FileRole::Spool));
    assert_eq!(record(&shop), sealed(4));
    assert_eq!(fs::read_to_string(shop.beside(&a_name().older())).unwrap(), sealed(2));
    assert!(!shop.spooled(&a_name()).exists());
    assert_eq!(shop.archive.list().unwrap().unsettled, []);
}

#[test]
fn a_spool_copy_the_record_carries_on_is_tidied_away() {
    let shop = Shop::with_steps(3);
    leave_in_spool(&shop, &sealed(2));
    let settled = settle(&shop);
    assert!(settled.taken_over.is_none() && settled.rivals.is_empty());
    assert_eq!(record(&shop), sealed(3));
    assert!(!shop.spooled(&a_name()).exists());
}

#[test]
fn versions_that_went_different_ways_are_both_kept_whatever_their_revision() {
    for revision in [2, 3, 9] {
        let shop = Shop::with_steps(3);
        leave_in_spool(&shop, &other_way(revision));
        let settled = settle(&shop);
        assert!(settled.taken_over.is_none());
        let [rival] = &settled.rivals[..] else { panic!("{:?}", settled.rivals) };
        assert_eq!(fs::read_to_string(&rival.path).unwrap(), other_way(revision));
        assert!(rival.path.starts_with(shop.records()), "where no later step writes over it");
        assert_eq!(record(&shop), sealed(3));
        let again = settle_again_finds(&shop);
        assert_eq!(again, std::slice::from_ref(&rival.path), "it is shown again until somebody decides");
    }
}

fn settle_again_finds(shop: &Shop) -> Vec<PathBuf> {
    settle(shop).rivals.into_iter().map(|rival| rival.path).collect()
}

#[test]
fn a_rival_older_generation_outlives_the_spool_copy_that_takes_the_records_place() {
    let shop = Shop::with_steps(2);
    fs::write(shop.beside(&a_name().older()), other_way(1)).unwrap();
    leave_in_spool(&shop, &sealed(3));
    let settled = settle(&shop);
    assert_eq!(record(&shop), sealed(3));
    let [rival] = &settled.rivals[..] else { panic!("{:?}", settled.rivals) };
    assert_eq!(fs::read_to_string(&rival.path).unwrap(), other_way(1));
    assert_eq!(fs::read_to_string(shop.beside(&a_name().older())).unwrap(), sealed(2));
}

#[test]
fn a_whole_temporary_file_takes_over_and_a_broken_one_goes() {
    let shop = Shop::with_steps(2);
    let half = &sealed(3)[..20];
    fs::write(shop.beside(&a_name().temporary(1, 1)), half).unwrap();
    fs::write(shop.beside(&a_name().temporary(1, 2)), sealed(3)).unwrap();
    fs::write(shop.beside(&a_name().temporary(1, 3)), b"\xc3").unwrap();
    let settled = settle(&shop);
    assert_eq!(settled.taken_over.map(|from| from.role), Some(FileRole::Temporary));
    assert!(settled.rivals.is_empty() && settled.unreadable.is_empty());
    assert_eq!(record(&shop), sealed(3));
    assert_eq!(files_in(&shop.records()).len(), 3, "record, older generation and marker are left");
}

#[test]
fn a_record_edited_outside_is_never_touched() {
    let shop = Shop::with_steps(3);
    let edited = record(&shop).replace("step 2", "step two");
    fs::write(shop.beside(&a_name().record()), &edited).unwrap();
    assert!(settle(&shop).rivals.is_empty(), "the older generation of an edited record is no rival");
    leave_in_spool(&shop, &sealed(5));
    let settled = settle(&shop);
    assert_eq!(record(&shop), edited);
    assert_eq!(settled.rivals.len(), 1);
    assert_eq!(fs::read_to_string(&settled.rivals[0].path).unwrap(), sealed(5));
}

#[test]
fn a_step_taken_out_of_the_record_by_hand_is_not_put_back() {
    let shop = Shop::with_steps(3);
    let edited = record(&shop).replace("// step 3\n", "");
    fs::write(shop.beside(&a_name().record()), &edited).unwrap();
    leave_in_spool(&shop, &sealed(5));
    let settled = settle(&shop);
    assert!(settled.taken_over.is_none());
    assert_eq!(record(&shop), edited);
}

#[test]
fn a_sync_tools_copy_is_shown_and_left_where_it_is() {
    let shop = Shop::with_steps(3);
    let copy = shop.beside(&format!("{} (copy of the van laptop).ron", a_name()));
    fs::write(&copy, other_way(3)).unwrap();
    assert_eq!(settle_again_finds(&shop), std::slice::from_ref(&copy));
    fs::write(&copy, sealed(2)).unwrap();
    assert_eq!(settle_again_finds(&shop), [] as [PathBuf; 0], "nothing is in it that the record has not");
    assert!(copy.exists());
}

#[test]
fn a_session_whose_record_is_gone_is_offered_and_put_back_only_on_a_word() {
    let shop = Shop::with_steps(3);
    fs::remove_file(shop.beside(&a_name().record())).unwrap();
    assert!(
        matches!(shop.archive.hold(&a_name(), &carries_on), Err(HoldError::RecordGone { left, .. }) if left.len() == 1)
    );
    let Ok(FoundSession::Offered(left)) = shop.archive.settle(&a_name(), &carries_on) else {
        panic!("nothing offered")
    };
    assert_eq!((left[0].role, left[0].opened.text.as_str()), (FileRole::Older, sealed(2).as_str()));
    assert!(!shop.beside(&a_name().record()).exists());
    shop.archive.restore(&a_name(), &left[0]).unwrap();
    assert_eq!(record(&shop), sealed(2));
    assert!(
        matches!(shop.archive.restore(&a_name(), &left[0]), Err(HoldError::Taken { .. })),
        "never over a record"
    );
}

#[test]
fn of_the_versions_offered_the_highest_sound_revision_comes_first() {
    let shop = Shop::with_steps(3);
    fs::remove_file(shop.beside(&a_name().record())).unwrap();
    leave_in_spool(&shop, &sealed(5));
    fs::write(shop.beside(&a_name().aside(1)), sealed(9).replace("step 1", "step one")).unwrap();
    let Ok(FoundSession::Offered(left)) = shop.archive.settle(&a_name(), &carries_on) else {
        panic!("nothing offered")
    };
    assert_eq!(
        left.iter().map(|left| left.role).collect::<Vec<_>>(),
        [FileRole::Spool, FileRole::Older, FileRole::Aside]
    );
    shop.archive.restore(&a_name(), &left[0]).unwrap();
    assert_eq!(record(&shop), sealed(5));
    assert!(!shop.spooled(&a_name()).exists());
}

#[test]
fn a_damaged_record_stays_and_its_versions_can_be_read() {
    let shop = Shop::with_steps(3);
    fs::write(shop.beside(&a_name().record()), b"\xff\xfe").unwrap();
    assert!(matches!(shop.archive.hold(&a_name(), &carries_on), Err(HoldError::Open(_))));
    let versions = shop.archive.versions(&a_name()).unwrap();
    assert_eq!(versions.iter().map(|version| version.role).collect::<Vec<_>>(), [FileRole::Older]);
    assert_eq!(fs::read(shop.beside(&a_name().record())).unwrap(), b"\xff\xfe");
}

#[test]
fn a_session_held_elsewhere_is_not_settled() {
    let shop = Shop::with_steps(2);
    let HoldOutcome::Ours { held, .. } = shop.hold() else { panic!("the session is free") };
    leave_in_spool(&shop, &sealed(4));
    assert!(matches!(
        shop.archive.settle(&a_name(), &carries_on),
        Ok(FoundSession::ReadOnly(ReadOnly::InUse))
    ));
    assert_eq!(record(&shop), sealed(2));
    drop(held);
    assert_eq!(settle(&shop).taken_over.map(|from| from.role), Some(FileRole::Spool));
}

#[test]
fn a_session_going_on_in_the_spool_is_left_to_its_program() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    disk.fail(Failure::Lock, "records");
    disk.fail(Failure::NoSpace, "records");
    let mut held = shop.begin();
    assert!(matches!(held.keep(&body(1)).unwrap(), StoredIn::InSpool { .. }));
    let second = Archive::open(Arc::new(RealDisk), &shop.records(), &spool_root(&shop), None).unwrap();
    assert!(matches!(second.settle(&a_name(), &carries_on), Ok(FoundSession::ReadOnly(ReadOnly::InUse))));
    assert!(shop.spooled(&a_name()).exists());
    drop(held);
    assert!(
        matches!(second.settle(&a_name(), &carries_on), Ok(FoundSession::Offered(left)) if left.len() == 1)
    );
}

fn spool_root(shop: &Shop) -> PathBuf {
    shop.archive.spool_folder().parent().map(Path::to_owned).unwrap()
}

#[test]
fn a_step_spooled_before_a_crash_is_in_the_records_after_the_next_hold() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    let mut held = shop.begin();
    held.keep(&body(1)).unwrap();
    disk.fail(Failure::FileSync, "records");
    held.keep(&body(2)).unwrap();
    drop(held);
    disk.work_again();
    let HoldOutcome::Ours { mut held, opened, .. } = shop.hold() else { panic!("the session is free") };
    assert_eq!(opened.text, sealed(2));
    held.keep(&body(3)).unwrap();
    assert_eq!(record(&shop), sealed(3));
}

#[test]
fn revisions_go_on_above_every_version_found() {
    let shop = Shop::with_steps(2);
    fs::write(shop.beside(&a_name().aside(1)), other_way(40)).unwrap();
    let HoldOutcome::Ours { mut held, .. } = shop.hold() else { panic!("the session is free") };
    held.keep(&body(3)).unwrap();
    assert_eq!(held.revision(), Revision::new(41));
}

#[test]
fn where_there_is_no_room_to_settle_everything_stays_where_it_was() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    shop.begin().keep(&body(1)).unwrap();
    leave_in_spool(&shop, &sealed(2));
    disk.fail(Failure::NoSpace, "records");
    let before = files_in(&shop.records());
    assert!(matches!(shop.archive.settle(&a_name(), &carries_on), Err(HoldError::Write(_))));
    assert_eq!((record(&shop), files_in(&shop.records())), (sealed(1), before));
    assert_eq!(fs::read_to_string(shop.spooled(&a_name())).unwrap(), sealed(2));
}

#[test]
fn an_unreadable_copy_in_the_spool_is_said_counted_and_never_written_over() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    shop.begin().keep(&body(1)).unwrap();
    disk.fail(Failure::NoSpace, "records");
    let HoldOutcome::Ours { mut held, .. } = shop.hold() else { panic!("it is free") };
    for step in 2..=3 {
        assert!(matches!(held.keep(&body(step)), Ok(StoredIn::InSpool { .. })));
    }
    drop(held);
    let mut bytes = fs::read(shop.spooled(&a_name())).unwrap();
    bytes[3] |= 0x80;
    fs::write(shop.spooled(&a_name()), &bytes).unwrap();
    let HoldOutcome::Ours { mut held, settled, .. } = shop.hold() else { panic!("it is free") };
    assert_eq!(settled.unreadable.len(), 1);
    assert!(held.revision() >= Revision::new(3), "its revision counts: {:?}", held.revision());
    assert!(matches!(held.keep("// another way\n"), Ok(StoredIn::InSpool { .. })));
    let aside = shop.archive.spool_folder().join(a_name().aside(1));
    assert_eq!(fs::read(aside).unwrap(), bytes, "what was acknowledged is still there");
    let entered: Vec<_> = shop.archive.leftovers().unwrap().into_iter().map(|left| left.role).collect();
    assert!(entered.contains(&FileRole::Aside), "{entered:?}");
}

#[test]
fn a_session_goes_on_where_nobody_can_lock_and_the_risk_is_said() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    disk.fail(Failure::Lock, "records");
    shop.begin().keep(&body(1)).unwrap();
    let under_way = shop.beside(&a_name().temporary(9, 9));
    fs::write(&under_way, "of another program").unwrap();
    let HoldOutcome::Ours { mut held, settled, .. } = shop.hold() else { panic!("it can be gone on with") };
    assert!(settled.unlocked.is_some() && under_way.exists());
    fs::write(shop.beside(&a_name().record()), other_way(5)).unwrap();
    let Ok(StoredIn::InRecords { set_aside: Some(aside), .. }) = held.keep(&body(2)) else {
        panic!("told at once")
    };
    assert_eq!(fs::read_to_string(aside).unwrap(), other_way(5));
}

#[test]
fn while_the_folder_is_full_a_session_goes_on_from_its_copy_and_comes_home_afterwards() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    shop.begin().keep(&body(1)).unwrap();
    disk.fail(Failure::NoSpace, "records");
    leave_in_spool(&shop, &sealed(2));
    assert!(matches!(shop.archive.hold(&a_name(), &carries_on), Err(HoldError::Write(_))));
    let Ok(HoldOutcome::Ours { mut held, .. }) = shop.archive.hold_spooled(&a_name(), &carries_on) else {
        panic!("the copy can be gone on with")
    };
    disk.work_again();
    assert!(matches!(held.keep(&body(3)), Ok(StoredIn::InRecords { set_aside: None, .. })));
    assert_eq!(record(&shop), sealed(3));
}
