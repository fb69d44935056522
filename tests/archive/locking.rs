//! Two programs and one session.

use super::failing::{FailingDisk, Failure};
use super::{Shop, a_name, body};
use coilwright::archive::lock::LockAnswer;
use coilwright::archive::{Disk, HoldOutcome, ReadOnly, RealDisk, RecordsFault, StoredIn, WriteStep};
use std::fs;
use std::sync::atomic::{AtomicU32, Ordering};

#[test]
fn the_second_to_open_a_session_can_read_it_only() {
    let shop = Shop::with_steps(2);
    let HoldOutcome::Ours { mut held, .. } = shop.hold() else { panic!("the session is free") };
    let HoldOutcome::ReadOnly { why: ReadOnly::InUse, opened } = shop.hold() else {
        panic!("two hold one session")
    };
    assert!(opened.text.starts_with(&body(2)));
    held.keep(&body(3)).unwrap();
    assert!(
        matches!(shop.hold(), HoldOutcome::ReadOnly { .. }),
        "the lock outlives the rename of the record"
    );
    drop(held);
    assert!(matches!(shop.hold(), HoldOutcome::Ours { .. }));
    assert!(!shop.beside(&a_name().lock()).exists(), "a session let go leaves no sidecar");
}

#[test]
fn a_sidecar_left_by_a_program_that_was_killed_locks_nobody_out() {
    let shop = Shop::with_steps(1);
    fs::write(shop.beside(&a_name().lock()), "").unwrap();
    assert!(matches!(shop.hold(), HoldOutcome::Ours { .. }));
}

#[cfg(unix)]
#[test]
fn a_holder_whose_sidecar_was_removed_locks_again_before_it_writes() {
    let shop = Shop::with_steps(1);
    let HoldOutcome::Ours { mut held, .. } = shop.hold() else { panic!("the session is free") };
    fs::remove_file(shop.beside(&a_name().lock())).unwrap();
    held.keep(&body(2)).unwrap();
    assert!(matches!(shop.hold(), HoldOutcome::ReadOnly { .. }));
    fs::remove_file(shop.beside(&a_name().lock())).unwrap();
    let HoldOutcome::Ours { held: other, .. } = shop.hold() else { panic!("the lock lies nowhere") };
    assert!(
        matches!(held.keep(&body(3)).unwrap(), StoredIn::InSpool { .. }),
        "the other program holds it now"
    );
    drop(held);
    assert!(shop.beside(&a_name().lock()).exists(), "and its sidecar is left alone");
    drop(other);
}

#[cfg(unix)]
#[test]
fn a_holder_that_lost_its_lock_and_cannot_lock_again_writes_to_the_spool() {
    let disk = FailingDisk::default();
    let shop = Shop::on(disk.clone());
    let mut held = shop.begin();
    held.keep(&body(1)).unwrap();
    fs::remove_file(shop.beside(&a_name().lock())).unwrap();
    disk.fail(Failure::Lock, "records");
    let kept = held.keep(&body(2)).unwrap();
    assert!(
        matches!(kept, StoredIn::InSpool { reason: RecordsFault::Refused { step: WriteStep::Lock, .. }, .. }),
        "{kept:?}"
    );
}

#[test]
fn of_many_threads_one_at_a_time_holds_the_lock() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lock");
    let (inside, times) = (AtomicU32::new(0), AtomicU32::new(0));
    std::thread::scope(|scope| {
        for _ in 0..8 {
            scope.spawn(|| {
                for _ in 0..500 {
                    if let LockAnswer::Ours(lock) = RealDisk.lock(&path) {
                        assert_eq!(inside.fetch_add(1, Ordering::SeqCst), 0, "two hold the lock");
                        times.fetch_add(1, Ordering::SeqCst);
                        std::thread::yield_now();
                        inside.fetch_sub(1, Ordering::SeqCst);
                        drop(lock);
                    }
                }
            });
        }
    });
    assert!(times.into_inner() > 0);
}

#[test]
fn where_the_folder_is_missing_locking_is_unsupported() {
    let folder = tempfile::tempdir().unwrap();
    assert!(matches!(RealDisk.lock(&folder.path().join("gone/lock")), LockAnswer::Unsupported(_)));
}
