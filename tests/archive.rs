//! The archive at the level of bytes: what a power cut, a kill, a full disk, a second program or a strange file may do.
//!
//! The disks that misbehave stand in `simulated` and `failing`; records are stood in for by numbered lines, of which a
//! later text carries an earlier one on if it begins with all of its lines. Only `indexing` and `searching` know records.

mod failing;
#[cfg(target_os = "linux")]
mod file_systems;
mod folder;
mod histories;
mod indexing;
mod kill;
mod locking;
mod naming;
mod opening;
mod power_cut;
mod recovery;
mod register;
mod sealing;
mod searching;
mod simulated;
#[cfg(target_os = "linux")]
mod system_calls;
mod two_computers;
mod wastebasket;
mod writing;

use chrono::{TimeZone, Utc};
use coilwright::archive::{Archive, Disk, FolderIdentity, HoldOutcome, RealDisk, SessionName, SessionWriter};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tempfile::TempDir;

/// A records folder and a spool that vanish with the value.
struct Shop {
    folder: TempDir,
    archive: Archive,
}

impl Shop {
    fn on(disk: impl Disk + 'static) -> Self {
        Self::sharing(Arc::new(disk))
    }

    fn sharing(disk: Arc<dyn Disk>) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let (records, spool) = (folder.path().join("records"), folder.path().join("spool"));
        let archive =
            Archive::create(disk, &records, &spool, FolderIdentity::new(7)).expect("a fresh folder");
        Self { folder, archive }
    }

    fn real() -> Self {
        Self::on(RealDisk)
    }

    fn records(&self) -> PathBuf {
        self.folder.path().join("records")
    }

    fn beside(&self, file_name: &str) -> PathBuf {
        self.records().join(file_name)
    }

    fn spooled(&self, name: &SessionName) -> PathBuf {
        self.archive.spool_folder().join(name.record())
    }

    fn begin(&self) -> SessionWriter {
        self.archive.begin(a_name()).expect("a free name")
    }

    /// Begins the session and keeps its first `steps` steps.
    fn with_steps(steps: u64) -> Self {
        let shop = Self::real();
        let mut held = shop.begin();
        for step in 1..=steps {
            held.keep(&body(step)).expect("a disk with room");
        }
        shop
    }

    fn hold(&self) -> HoldOutcome {
        self.archive.hold(&a_name(), &carries_on).expect("a session to hold")
    }
}

fn a_name() -> SessionName {
    SessionName::new(&Utc.with_ymd_and_hms(2026, 11, 25, 10, 12, 0).unwrap(), 0x7f_3a9c)
}

/// The text of a record of so many steps.
fn body(steps: u64) -> String {
    (1..=steps).fold(String::new(), |text, step| text + &format!("// step {step}\n"))
}

fn without_check_line(text: &str) -> &str {
    text.find("// rev ").map_or(text, |at| &text[..at])
}

fn carries_on(longer: &str, shorter: &str) -> bool {
    without_check_line(longer).starts_with(without_check_line(shorter))
}

fn files_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<_> = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}
