//! Steps on the real disk, and on one that fails in every part of a write.

use super::failing::{FailingDisk, Failure};
use super::{Shop, a_name, body, files_in};
use coilwright::archive::seal::seal;
use coilwright::archive::{
    FolderError, HoldOutcome, KeepError, LARGEST_RECORD, RecordsFault, Revision, SessionName, StoredIn,
    WriteStep,
};
use std::fs;
use std::sync::Arc;

const EVERY_PART: [(Failure, WriteStep); 6] = [
    (Failure::NoSpace, WriteStep::Temporary),
    (Failure::FileSync, WriteStep::Temporary),
    (Failure::Link, WriteStep::Older),
    (Failure::RenameOlder, WriteStep::Older),
    (Failure::RenameRecord, WriteStep::Rename),
    (Failure::FolderSync, WriteStep::Sync),
];

fn sealed(step: u64, revision: u64) -> String {
    seal(&body(step), Revision::new(revision))
}

#[test]
fn a_kept_step_leaves_the_record_and_one_older_generation() {
    let shop = Shop::with_steps(3);
    let name = a_name();
    assert_eq!(fs::read_to_string(shop.beside(&name.record())).unwrap(), sealed(3, 3));
    assert_eq!(fs::read_to_string(shop.beside(&name.older())).unwrap(), sealed(2, 2));
    assert_eq!(files_in(&shop.records()), [name.older(), name.record(), "coilwright-records.txt".to_owned()]);
}

#[cfg(unix)]
#[test]
fn only_the_owner_may_read_what_is_written() {
    use std::os::unix::fs::PermissionsExt;
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    let mode = |path: &std::path::Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    let mut held = shop.begin();
    held.keep(&body(1)).unwrap();
    assert_eq!(mode(&shop.records()), 0o700);
    assert_eq!(mode(&shop.beside(&a_name().record())), 0o600);
    assert_eq!(mode(&shop.beside(&a_name().lock())), 0o600);
    disk.fail(Failure::FileSync, "records");
    held.keep(&body(2)).unwrap();
    assert_eq!(mode(shop.archive.spool_folder()), 0o700);
    assert_eq!(mode(&shop.spooled(&a_name())), 0o600);
}

#[test]
fn whatever_part_of_a_write_fails_the_step_goes_to_the_spool_and_comes_back() {
    for (failure, step) in EVERY_PART {
        let disk = FailingDisk::default();
        let shop = Shop::on(disk.clone());
        let mut held = shop.begin();
        held.keep(&body(1)).unwrap();
        held.keep(&body(2)).unwrap();
        disk.fail(failure, "records");
        match held.keep(&body(3)).unwrap() {
            StoredIn::InSpool { reason: RecordsFault::Refused { step: failed, .. }, path, .. } => {
                assert_eq!((failed, &path), (step, &shop.spooled(&a_name())), "{failure:?}");
            }
            other => panic!("{failure:?}: {other:?}"),
        }
        assert_eq!(fs::read_to_string(shop.spooled(&a_name())).unwrap(), sealed(3, 3), "{failure:?}");
        assert!(!files_in(&shop.records()).iter().any(|name| name.contains(".tmp-")), "{failure:?}");
        disk.work_again();
        let kept = held.keep(&body(3)).unwrap();
        assert!(matches!(kept, StoredIn::InRecords { set_aside: None, .. }), "{failure:?}: {kept:?}");
        assert_eq!(fs::read_to_string(shop.beside(&a_name().record())).unwrap(), sealed(3, 4), "{failure:?}");
        assert_eq!(files_in(shop.archive.spool_folder()), [] as [String; 0], "{failure:?}");
    }
}

#[test]
fn a_failed_write_leaves_the_record_before_it_unless_the_rename_came_about() {
    for (failure, step) in EVERY_PART {
        let disk = FailingDisk::default();
        let shop = Shop::on(disk.clone());
        let mut held = shop.begin();
        held.keep(&body(1)).unwrap();
        disk.fail(failure, "records");
        held.keep(&body(2)).unwrap();
        let reached = if step == WriteStep::Sync { 2 } else { 1 };
        assert_eq!(
            shop.archive.read(&a_name()).unwrap().seal.revision(),
            Revision::new(reached),
            "{failure:?}"
        );
    }
}

#[test]
fn a_revision_once_tried_is_never_given_to_another_text() {
    for (failure, _) in EVERY_PART {
        let disk = FailingDisk::default();
        let shop = Shop::on(disk.clone());
        let mut held = shop.begin();
        held.keep(&body(1)).unwrap();
        disk.fail(failure, "records");
        for step in 2..=4 {
            assert!(
                matches!(held.keep(&body(step)).unwrap(), StoredIn::InSpool { revision, .. } if revision.get() == step)
            );
            assert_eq!(
                fs::read_to_string(shop.spooled(&a_name())).unwrap(),
                sealed(step, step),
                "{failure:?}"
            );
        }
        disk.fail(failure, "spool");
        let _ = held.keep(&body(5));
        disk.work_again();
        assert!(
            matches!(held.keep(&body(6)).unwrap(), StoredIn::InRecords { revision, .. } if revision.get() == 6)
        );
    }
}

#[test]
fn where_nothing_can_be_written_the_step_lives_in_memory_and_the_next_try_starts_anew() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    let mut held = shop.begin();
    disk.fail(Failure::NoSpace, "records");
    disk.fail(Failure::NoSpace, "spool");
    let error = held.keep(&body(1)).unwrap_err();
    assert!(matches!(error, KeepError::Nowhere { .. }));
    assert!(error.to_string().contains("leave the program open"), "{error}");
    assert!(!shop.spooled(&a_name()).exists());
    disk.work_again();
    assert!(matches!(held.keep(&body(1)).unwrap(), StoredIn::InRecords { .. }));
}

#[test]
fn an_empty_mount_point_in_the_place_of_the_folder_is_not_written_to() {
    let shop = Shop::with_steps(1);
    let HoldOutcome::Ours { mut held, .. } = shop.hold() else { panic!("the session is free") };
    let away = shop.folder.path().join("unmounted");
    fs::rename(shop.records(), &away).unwrap();
    fs::create_dir(shop.records()).unwrap();
    let kept = held.keep(&body(2)).unwrap();
    assert!(
        matches!(kept, StoredIn::InSpool { reason: RecordsFault::Folder(FolderError::NoMarker { .. }), .. }),
        "{kept:?}"
    );
    assert_eq!(files_in(&shop.records()), [] as [String; 0]);
    fs::remove_dir(shop.records()).unwrap();
    let kept = held.keep(&body(3)).unwrap();
    assert!(matches!(kept, StoredIn::InSpool { .. }), "a folder that is not there: {kept:?}");
    fs::rename(&away, shop.records()).unwrap();
    assert!(matches!(held.keep(&body(4)).unwrap(), StoredIn::InRecords { set_aside: None, .. }));
    assert!(!shop.spooled(&a_name()).exists());
}

#[test]
fn a_version_from_elsewhere_is_set_aside_and_not_written_over() {
    let shop = Shop::with_steps(2);
    let HoldOutcome::Ours { mut held, .. } = shop.hold() else { panic!("the session is free") };
    fs::write(shop.beside(&a_name().record()), "// written by a sync tool meanwhile\n").unwrap();
    let StoredIn::InRecords { set_aside: Some(aside), .. } = held.keep(&body(3)).unwrap() else {
        panic!("nothing set aside")
    };
    assert_eq!(fs::read_to_string(aside).unwrap(), "// written by a sync tool meanwhile\n");
    assert_eq!(shop.archive.read(&a_name()).unwrap().text, sealed(3, 3));
    assert!(matches!(held.keep(&body(4)).unwrap(), StoredIn::InRecords { set_aside: None, .. }));
}

#[test]
fn a_record_that_reading_would_refuse_is_not_written() {
    let shop = Shop::with_steps(1);
    let HoldOutcome::Ours { mut held, .. } = shop.hold() else { panic!("the session is free") };
    let largest = usize::try_from(LARGEST_RECORD).unwrap();
    assert!(matches!(held.keep(&"x".repeat(largest)), Err(KeepError::TooLarge { .. })));
    let check_line = sealed(1, 2).len() - body(1).len();
    held.keep(&"x".repeat(largest - check_line - 1)).unwrap();
    assert_eq!(shop.archive.read(&a_name()).unwrap().text.len(), largest);
}

#[test]
fn a_session_begun_where_nobody_can_lock_is_written_and_locks_when_it_can() {
    let disk = FailingDisk::default();
    let shop = Shop::sharing(Arc::new(disk.clone()));
    disk.fail(Failure::Lock, "records");
    let mut held = shop.begin();
    assert!(matches!(held.keep(&body(1)).unwrap(), StoredIn::InRecords { .. }));
    let HoldOutcome::Ours { settled, .. } = shop.hold() else { panic!("it can be gone on with") };
    assert!(settled.unlocked.is_some(), "with the risk said");
    disk.work_again();
    held.keep(&body(2)).unwrap();
    assert!(shop.beside(&a_name().lock()).exists());
    assert!(matches!(shop.hold(), HoldOutcome::ReadOnly { .. }), "others can only read it");
}

#[test]
fn a_name_in_use_is_not_begun_again() {
    let shop = Shop::with_steps(2);
    assert!(shop.archive.begin(a_name()).is_err());
    fs::remove_file(shop.beside(&a_name().record())).unwrap();
    assert!(shop.archive.begin(a_name()).is_err(), "its older generation is there");
    let other: SessionName = "2026-11-25-1012-000000.ron".parse().unwrap();
    assert!(shop.archive.begin(other).is_ok());
}

/// Permission bits do not bind the superuser, so there the test runs itself again as another user.
#[cfg(unix)]
#[test]
fn a_read_only_folder_can_be_read_and_new_sessions_go_to_the_spool() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    use std::path::Path;
    const FOLDER: &str = "COILWRIGHT_TEST_READ_ONLY_FOLDER";
    const NOBODY: u32 = 65534;
    if let Ok(folder) = std::env::var(FOLDER) {
        return read_only_folder(Path::new(&folder));
    }
    let shop = Shop::with_steps(1);
    let set_mode = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    fs::create_dir(shop.folder.path().join("spool")).unwrap();
    for (file, mode) in [("spool", 0o777), ("records", 0o555), (".", 0o755)] {
        set_mode(&shop.folder.path().join(file), mode);
    }
    for file in files_in(&shop.records()) {
        set_mode(&shop.beside(&file), 0o444);
    }
    if fs::metadata(shop.folder.path()).unwrap().uid() == 0 {
        let test = "archive::writing::a_read_only_folder_can_be_read_and_new_sessions_go_to_the_spool";
        let mut again = std::process::Command::new(std::env::current_exe().unwrap());
        again.args(["--exact", test]).env(FOLDER, shop.folder.path()).uid(NOBODY).gid(NOBODY);
        match again.output() {
            Ok(output) => {
                let said = String::from_utf8_lossy(&output.stdout);
                assert!(said.contains("1 passed"), "{said}{}", String::from_utf8_lossy(&output.stderr));
            }
            Err(error) => eprintln!(
                "SKIPPED: the superuser may write anywhere, and the test cannot run as another: {error}"
            ),
        }
    } else {
        read_only_folder(shop.folder.path());
    }
    set_mode(&shop.records(), 0o755);
}

#[cfg(unix)]
fn read_only_folder(folder: &std::path::Path) {
    use coilwright::archive::{Archive, RealDisk};
    let archive =
        Archive::open(Arc::new(RealDisk), &folder.join("records"), &folder.join("spool"), None).unwrap();
    match archive.hold(&a_name(), &super::carries_on).unwrap() {
        HoldOutcome::Ours { mut held, opened, settled } => {
            assert_eq!(opened.text, sealed(1, 1));
            assert!(settled.unlocked.is_some(), "the risk is said");
            assert!(matches!(held.keep(&body(2)), Ok(StoredIn::InSpool { .. })), "and no step is lost");
        }
        other @ HoldOutcome::ReadOnly { .. } => panic!("{other:?}"),
    }
    let other: SessionName = "2026-11-25-1012-000001.ron".parse().unwrap();
    let mut held = archive.begin(other.clone()).unwrap();
    let kept = held.keep(&body(1)).unwrap();
    assert!(
        matches!(
            kept,
            StoredIn::InSpool { reason: RecordsFault::Refused { step: WriteStep::Temporary, .. }, .. }
        ),
        "{kept:?}"
    );
    assert_eq!(fs::read_to_string(archive.spool_folder().join(other.record())).unwrap(), sealed(1, 1));
}
