//! Random histories with a power cut after another: steps, a full records folder, a session let go and taken up again, the
//! power failing at any moment of them and of the recovery before. `power_cut` looks at every state of one history; this
//! draws one state each of very many.

use super::simulated::{Defect, Moment, SimulatedDisk};
use super::{a_name, body, carries_on};
use crate::soak;
use coilwright::archive::seal::seal;
use coilwright::archive::{
    Archive, Disk, FolderIdentity, HoldError, HoldOutcome, OpenError, SessionWriter, StoredIn,
};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use std::path::Path;
use std::sync::Arc;

const RECORDS: &str = "/records";
const SPOOL: &str = "/spool";
const HISTORIES: u32 = 60;
const CUTS: usize = 3;

#[test]
fn no_history_of_power_cuts_loses_an_acknowledged_step() {
    let histories = soak::rounds(HISTORIES);
    let lived = (0..histories).map(|seed| {
        history(seed.into(), Defect::None).unwrap_or_else(|fault| panic!("history {seed}: {fault}"))
    });
    let steps: u64 = lived.sum();
    soak::came_to(&format!("{histories} histories of {CUTS} power cuts each, {steps} steps, none lost"));
}

#[test]
fn the_histories_see_each_mistake_a_writer_could_make() {
    for defect in [Defect::NoFileSync, Defect::NoFolderSync, Defect::TruncateInPlace] {
        let faults = (0..HISTORIES).filter(|seed| history((*seed).into(), defect).is_err()).count();
        assert!(faults > 0, "{defect:?} goes unseen in {HISTORIES} histories");
    }
}

/// Lives through one history and returns how many steps it came to.
fn history(seed: u64, defect: Defect) -> Result<u64, String> {
    let mut random = StdRng::seed_from_u64(seed);
    let mut disk = Arc::new(SimulatedDisk::new());
    open(&disk, Folder::New);
    let mut acknowledged = 0;
    for cut in 0..=CUTS {
        disk.spoil(defect);
        let before = disk.moments().len();
        live(&disk, &mut random, acknowledged).map_err(|fault| format!("cut {cut}: {fault}"))?;
        let moments = disk.moments();
        if moments.len() == before {
            continue;
        }
        // The power fails anywhere since the last time, the recovery included.
        let moment: &Moment = &moments[random.random_range(before.saturating_sub(1)..moments.len())];
        acknowledged = acknowledged.max(moment.acknowledged);
        disk = Arc::new(SimulatedDisk::rebooted(&moment.some_remains(&mut random)));
    }
    live(&disk, &mut random, acknowledged)
}

/// Whether the records folder is there already.
#[derive(Clone, Copy)]
enum Folder {
    New,
    There,
}

fn open(disk: &Arc<SimulatedDisk>, folder: Folder) -> Archive {
    let (records, spool) = (Path::new(RECORDS), Path::new(SPOOL));
    let shared: Arc<dyn Disk> = Arc::<SimulatedDisk>::clone(disk);
    match folder {
        Folder::New => {
            Archive::create(shared, records, spool, FolderIdentity::new(7)).expect("a fresh folder")
        }
        Folder::There => Archive::open(shared, records, spool, None).expect("the marker lasts"),
    }
}

/// Takes the session up, which must hold all that was acknowledged, and goes on with it for a while.
fn live(disk: &Arc<SimulatedDisk>, random: &mut StdRng, acknowledged: u64) -> Result<u64, String> {
    let archive = open(disk, Folder::There);
    let (mut held, mut step) = take_up(&archive)?;
    if step < acknowledged {
        return Err(format!("step {acknowledged} is lost, {step} is left"));
    }
    for _ in 0..random.random_range(1..8) {
        match random.random_range(0..8) {
            0 => disk.fill_up(Some(Path::new(RECORDS))),
            1 => disk.fill_up(None),
            2 => {
                // A session in the spool comes over when it is taken up, which wants room.
                disk.fill_up(None);
                drop(held);
                let reached;
                (held, reached) = take_up(&archive)?;
                if reached != step {
                    return Err(format!("let go at step {step}, taken up at {reached}"));
                }
            }
            _ => {
                step += 1;
                match held.keep(&body(step)) {
                    Ok(StoredIn::InRecords { set_aside: None, .. } | StoredIn::InSpool { .. }) => {
                        disk.acknowledge(step);
                    }
                    other => return Err(format!("step {step}: {other:?}")),
                }
            }
        }
    }
    disk.fill_up(None);
    Ok(step)
}

/// The session held, and the step it has reached.
fn take_up(archive: &Archive) -> Result<(Box<SessionWriter>, u64), String> {
    match archive.hold(&a_name(), &carries_on) {
        Ok(HoldOutcome::Ours { held, opened, settled }) if settled.rivals.is_empty() => {
            let step = opened.text.matches("// step ").count() as u64;
            if opened.text != seal(&body(step), opened.seal.revision()) {
                return Err(format!("the record is {:?}", opened.text));
            }
            Ok((held, step))
        }
        Err(HoldError::RecordGone { left, .. }) if left[0].opened.seal.is_sound() => {
            archive.restore(&a_name(), &left[0]).map_err(|error| error.to_string())?;
            take_up(archive)
        }
        // A write that broke off before the first step was kept is all there is, or nothing.
        Err(HoldError::RecordGone { .. } | HoldError::Open(OpenError::Missing { .. })) => {
            Ok((Box::new(archive.begin(a_name()).map_err(|error| error.to_string())?), 0))
        }
        other => Err(format!("{other:?}")),
    }
}
