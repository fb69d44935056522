//! The real disk with one operation made to fail in one folder.

use coilwright::archive::lock::LockAnswer;
use coilwright::archive::{Disk, FileKind, RealDisk};
use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::sync::{Arc, Mutex};

/// What fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Failure {
    /// The disk is full: half of a new file is written.
    NoSpace,
    /// All of a new file is written and its sync fails.
    FileSync,
    Link,
    /// Renaming to the older generation.
    RenameOlder,
    /// Renaming over the record.
    RenameRecord,
    FolderSync,
    Lock,
}

/// Shares its rule with the test: what fails, and below which folder.
#[derive(Clone, Debug, Default)]
pub(crate) struct FailingDisk {
    rule: Arc<Mutex<Vec<(Failure, String)>>>,
}

impl FailingDisk {
    pub(crate) fn fail(&self, failure: Failure, folder: &str) {
        self.rule.lock().unwrap().push((failure, folder.to_owned()));
    }

    pub(crate) fn work_again(&self) {
        self.rule.lock().unwrap().clear();
    }

    fn check(&self, failure: Failure, path: &Path) -> io::Result<()> {
        let below = |folder: &str| path.components().any(|part| part.as_os_str() == folder);
        if self.rule.lock().unwrap().iter().any(|(rule, folder)| *rule == failure && below(folder)) {
            Err(io::Error::other(format!("{failure:?} made to fail")))
        } else {
            Ok(())
        }
    }
}

impl Disk for FailingDisk {
    fn create_new(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        if self.check(Failure::NoSpace, path).is_err() {
            RealDisk.create_new(path, &bytes[..bytes.len() / 2])?;
            return Err(io::ErrorKind::StorageFull.into());
        }
        RealDisk.create_new(path, bytes)?;
        self.check(Failure::FileSync, path)
    }

    fn link_or_copy(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.check(Failure::Link, to)?;
        RealDisk.link_or_copy(from, to)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let older = to.extension().is_some_and(|ending| ending == "older");
        self.check(if older { Failure::RenameOlder } else { Failure::RenameRecord }, to)?;
        RealDisk.rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        RealDisk.remove(path)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        self.check(Failure::FolderSync, folder)?;
        RealDisk.sync_folder(folder)
    }

    fn create_folder(&self, folder: &Path) -> io::Result<()> {
        RealDisk.create_folder(folder)
    }

    fn look(&self, path: &Path) -> io::Result<FileKind> {
        RealDisk.look(path)
    }

    fn read(&self, path: &Path, cap: u64) -> io::Result<Vec<u8>> {
        RealDisk.read(path, cap)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        RealDisk.list(folder)
    }

    fn lock(&self, path: &Path) -> LockAnswer {
        match self.check(Failure::Lock, path) {
            Ok(()) => RealDisk.lock(path),
            Err(error) => LockAnswer::Unsupported(error),
        }
    }
}
