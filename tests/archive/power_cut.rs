//! The power fails at any moment of twelve steps, and of the writes that follow a recovery.

use super::simulated::{Defect, Moment, Remains, SimulatedDisk};
use super::{a_name, body, carries_on};
use coilwright::archive::seal::seal;
use coilwright::archive::{
    Archive, Disk, FolderIdentity, FoundSession, HoldError, HoldOutcome, OpenError, Revision, Seal, StoredIn,
};
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

const RECORDS: &str = "/records";
const SPOOL: &str = "/spool";
const STEPS: u64 = 12;

/// Writes twelve steps, then returns every state that a power cut at any moment may leave, with the last step that had
/// been acknowledged by then.
fn states(defect: Defect, steps: u64) -> BTreeSet<(u64, Remains)> {
    let disk = Arc::new(SimulatedDisk::new());
    let archive =
        Archive::create(disk.clone(), Path::new(RECORDS), Path::new(SPOOL), FolderIdentity::new(7)).unwrap();
    // The folder was set up on another day, by a disk without fault.
    let set_up = disk.moments().len();
    disk.spoil(defect);
    let mut held = archive.begin(a_name()).unwrap();
    for step in 1..=steps {
        let kept = held.keep(&body(step)).unwrap();
        assert!(matches!(kept, StoredIn::InRecords { revision, set_aside: None } if revision.get() == step));
        disk.acknowledge(step);
    }
    let moments = disk.moments();
    let later = moments.iter().skip(set_up);
    later
        .flat_map(|moment| moment.remains().into_iter().map(|remains| (moment.acknowledged, remains)))
        .collect()
}

/// Says what is wrong with a state, if anything is.
fn fault(acknowledged: u64, remains: &Remains) -> Option<String> {
    let disk = Arc::new(SimulatedDisk::rebooted(remains));
    let archive = match Archive::open(disk, Path::new(RECORDS), Path::new(SPOOL), None) {
        Ok(archive) => archive,
        Err(error) => return Some(error.to_string()),
    };
    let before = reached(&archive);
    match archive.settle(&a_name(), &carries_on) {
        Ok(FoundSession::Settled(settled)) if settled.rivals.is_empty() && settled.unreadable.is_empty() => {}
        Ok(FoundSession::Offered(_)) | Err(HoldError::Open(OpenError::Missing { .. }))
            if acknowledged == 0 =>
        {
            return None;
        }
        other => return Some(format!("settling gave {other:?}")),
    }
    match (before, reached(&archive)) {
        (Ok(before), Ok(after)) if before >= acknowledged && after >= before => goes_on(&archive, after),
        other => Some(format!("{acknowledged} acknowledged, before and after settling {other:?}")),
    }
}

/// The step the record has reached, if it is exactly the text of that step.
fn reached(archive: &Archive) -> Result<u64, String> {
    let opened = archive.read(&a_name()).map_err(|error| error.to_string())?;
    match opened.seal {
        Seal::Sound { revision } if opened.text == seal(&body(revision.get()), revision) => {
            Ok(revision.get())
        }
        other => Err(format!("{other:?}: {:?}", opened.text)),
    }
}

fn goes_on(archive: &Archive, step: u64) -> Option<String> {
    let Ok(HoldOutcome::Ours { mut held, .. }) = archive.hold(&a_name(), &carries_on) else {
        return Some("the session cannot be held".to_owned());
    };
    let kept = held.keep(&body(step + 1));
    let expected = matches!(kept, Ok(StoredIn::InRecords { set_aside: None, revision }) if revision == Revision::new(step + 1));
    (!expected).then(|| format!("going on gave {kept:?}"))
}

#[test]
fn a_power_cut_at_any_moment_loses_no_acknowledged_step() {
    let states = states(Defect::None, STEPS);
    assert!(states.len() > 100, "only {} states were looked at", states.len());
    for (acknowledged, remains) in &states {
        if let Some(fault) = fault(*acknowledged, remains) {
            panic!("after step {acknowledged}: {fault}\nleft: {remains:#?}");
        }
    }
}

/// How many states lose a step that had been acknowledged, and how many there are.
fn losses(defect: Defect) -> (usize, usize) {
    let states = states(defect, 2);
    let lost = |(acknowledged, remains): &&(u64, Remains)| {
        let disk = Arc::new(SimulatedDisk::rebooted(remains));
        let archive =
            Archive::open(disk, Path::new(RECORDS), Path::new(SPOOL), None).expect("the marker is as it was");
        let lost = reached(&archive).map_or(0, |step| step) < *acknowledged;
        assert!(!lost || fault(*acknowledged, remains).is_some(), "a lost step goes unnoticed: {remains:?}");
        lost
    };
    (states.iter().filter(lost).count(), states.len())
}

#[test]
fn the_check_sees_each_mistake_a_writer_could_make() {
    for defect in [Defect::NoFileSync, Defect::NoFolderSync, Defect::TruncateInPlace] {
        let (lost, all) = losses(defect);
        assert!(lost > 0, "{defect:?}: none of {all} states loses a step");
    }
    assert_eq!(losses(Defect::None).0, 0);
}

#[test]
fn a_power_cut_loses_no_version_that_came_from_elsewhere() {
    const ELSEWHERE: &[u8] = b"// written by a sync tool meanwhile\n";
    let disk = Arc::new(SimulatedDisk::new());
    let archive =
        Archive::create(disk.clone(), Path::new(RECORDS), Path::new(SPOOL), FolderIdentity::new(7)).unwrap();
    let mut held = archive.begin(a_name()).unwrap();
    held.keep(&body(1)).unwrap();
    let record = archive.record_path(&a_name());
    disk.remove(&record).unwrap();
    disk.create_new(&record, ELSEWHERE).unwrap();
    disk.sync_folder(Path::new(RECORDS)).unwrap();
    let written = disk.moments().len();
    assert!(matches!(held.keep(&body(2)).unwrap(), StoredIn::InRecords { set_aside: Some(_), .. }));
    let states: BTreeSet<_> = disk.moments()[written - 1..].iter().flat_map(Moment::remains).collect();
    assert!(states.len() > 10, "only {} states were looked at", states.len());
    for remains in states {
        assert!(remains.values().any(|bytes| bytes == ELSEWHERE), "gone: {remains:#?}");
    }
}
