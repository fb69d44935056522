//! Random histories with a power cut after another: steps, a full records folder, a session let go and taken up again, the
//! power failing at any moment of them and of the recovery before. `power_cut` looks at every state of one history; this
//! draws one state each of very many.

use super::simulated::{Moment, SimulatedDisk};
use super::{a_name, body, carries_on};
use crate::soak;
use coilwright::archive::seal::seal;
use coilwright::archive::{Archive, Disk, FolderIdentity, Held, HoldError, Holding, Kept, OpenError};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use std::path::Path;
use std::sync::Arc;

const RECORDS: &str = "/records";
const SPOOL: &str = "/spool";
const HISTORIES: u32 = 150;
const CUTS: usize = 3;

#[test]
fn no_history_of_power_cuts_loses_an_acknowledged_step() {
    let mut steps = 0;
    for seed in 0..soak::rounds(HISTORIES) {
        steps += history(u64::from(seed));
    }
    soak::came_to(&format!(
        "{} histories of power cuts, {steps} acknowledged steps",
        soak::rounds(HISTORIES)
    ));
}

/// Lives through one history and returns how many steps it came to.
fn history(seed: u64) -> u64 {
    let mut random = StdRng::seed_from_u64(seed);
    let mut disk = Arc::new(SimulatedDisk::new());
    open(&disk, true);
    let mut acknowledged = 0;
    for cut in 0..=CUTS {
        let before = disk.moments().len();
        let reached = live(&disk, &mut random, acknowledged, &format!("history {seed}, cut {cut}"));
        assert!(reached >= acknowledged);
        let moments = disk.moments();
        // The power fails anywhere since the last time, the recovery included.
        let moment: &Moment = &moments[random.random_range(before.saturating_sub(1)..moments.len())];
        acknowledged = acknowledged.max(moment.acknowledged);
        disk = Arc::new(SimulatedDisk::rebooted(&moment.some_remains(&mut random)));
    }
    live(&disk, &mut random, acknowledged, &format!("history {seed}, the end"))
}

fn open(disk: &Arc<SimulatedDisk>, fresh: bool) -> Archive {
    let (records, spool) = (Path::new(RECORDS), Path::new(SPOOL));
    let shared: Arc<dyn Disk> = Arc::<SimulatedDisk>::clone(disk);
    if fresh {
        Archive::create(shared, records, spool, FolderIdentity::new(7)).expect("a fresh folder")
    } else {
        Archive::open(shared, records, spool, None).expect("the marker lasts")
    }
}

/// Takes the session up, which must hold all that was acknowledged, and goes on with it for a while.
fn live(disk: &Arc<SimulatedDisk>, random: &mut StdRng, acknowledged: u64, when: &str) -> u64 {
    let archive = open(disk, false);
    let (mut held, mut step) = take_up(&archive, when);
    assert!(step >= acknowledged, "{when}: step {acknowledged} is lost, {step} is left");
    for _ in 0..random.random_range(1..8) {
        match random.random_range(0..8) {
            0 => disk.fill_up(Some(Path::new(RECORDS))),
            1 => disk.fill_up(None),
            2 => {
                // A session in the spool comes over when it is taken up, which wants room.
                disk.fill_up(None);
                drop(held);
                let (again, reached) = take_up(&archive, when);
                assert_eq!(reached, step, "{when}: let go and taken up again");
                held = again;
            }
            _ => {
                step += 1;
                match held.keep(&body(step)) {
                    Ok(Kept::InRecords { set_aside: None, .. } | Kept::InSpool { .. }) => {
                        disk.acknowledge(step)
                    }
                    other => panic!("{when}: {other:?}"),
                }
            }
        }
    }
    disk.fill_up(None);
    step
}

/// The session held, and the step it has reached.
fn take_up(archive: &Archive, when: &str) -> (Box<Held>, u64) {
    match archive.hold(&a_name(), &carries_on) {
        Ok(Holding::Ours { held, opened, settled }) => {
            assert!(settled.rivals.is_empty(), "{when}: {settled:?}");
            let step = opened.text.matches("// step ").count() as u64;
            assert_eq!(opened.text, seal(&body(step), opened.seal.revision()), "{when}");
            (held, step)
        }
        Err(HoldError::RecordGone { left, .. }) if left[0].opened.seal.is_sound() => {
            archive.restore(&a_name(), &left[0]).unwrap_or_else(|error| panic!("{when}: {error}"));
            take_up(archive, when)
        }
        // A write that broke off before the first step was kept is all there is, or nothing.
        Err(HoldError::RecordGone { .. } | HoldError::Open(OpenError::Missing { .. })) => {
            (Box::new(archive.begin(a_name()).unwrap_or_else(|error| panic!("{when}: {error}"))), 0)
        }
        other => panic!("{when}: {other:?}"),
    }
}
