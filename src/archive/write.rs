//! Writing a step so that it is there after a power cut, or saying plainly that it is not.
//!
//! The order is fixed: the lock is held, the text sealed, a new temporary file in the same folder written and synced, the
//! version before kept as the older generation, the temporary file renamed over the record, the folder synced. On any
//! failure the temporary file goes, the same text goes to the spool, and the next try starts from a new temporary file: a
//! failed sync is never repeated, since the system may have dropped what it could not write. A failure does not mean "not
//! saved" either, so a revision once tried is spent.
//!
//! The text is not read back: it would come from memory, not from the disk. Whether it parses is the caller's to check.

use super::Archive;
use super::disk::Disk;
use super::folder::FolderError;
use super::lock::{LockAnswer, SessionLock};
use super::name::SessionName;
use super::open::{LARGEST_RECORD, OpenError, read_bytes};
use super::seal::{Revision, fingerprint, seal};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

mod fault;

pub use fault::{KeepError, RecordsFault, WriteStep, said};

/// How many numbers are tried for a file name that must be new.
const NAMES_TRIED: u32 = 1000;

/// A session this program holds: nobody else writes it until the value is dropped.
#[derive(Debug)]
pub struct SessionWriter {
    archive: Archive,
    name: SessionName,
    /// `None` for a session begun where nobody can lock: then no other program can come to hold it either.
    lock: Option<SessionLock>,
    revision: Revision,
    /// Fingerprints of what may lie at the record's path by our own doing; anything else there came from elsewhere.
    own: Vec<u32>,
    /// There since our first write to the spool.
    spool: Option<SpoolCopy>,
}

#[derive(Debug)]
struct SpoolCopy {
    /// Keeps other programs from tidying the copy away. `None` where the spool cannot be locked.
    _lock: Option<SessionLock>,
}

/// Where a step was kept.
#[derive(Debug)]
pub enum StoredIn {
    /// In the records folder, where it outlasts a power cut.
    InRecords {
        /// Which write it was.
        revision: Revision,
        /// Where the version went that another program or person had put in place of ours, if one had.
        set_aside: Option<PathBuf>,
    },
    /// Only in the spool on this machine; the session goes on, and the next step tries the records folder again.
    InSpool {
        /// Which write it was.
        revision: Revision,
        /// Where it is.
        path: PathBuf,
        /// Why the records folder did not take it.
        reason: RecordsFault,
    },
}

impl SessionWriter {
    pub(super) fn new(
        archive: Archive,
        name: SessionName,
        lock: Option<SessionLock>,
        revision: Revision,
        own: Vec<u32>,
    ) -> Self {
        Self { archive, name, lock, revision, own, spool: None }
    }

    /// A session gone on with in the spool, whose copy there is locked already where it can be.
    pub(super) fn in_spool(
        archive: Archive,
        name: SessionName,
        spool_lock: Option<SessionLock>,
        revision: Revision,
        own: Vec<u32>,
    ) -> Self {
        let spool = Some(SpoolCopy { _lock: spool_lock });
        Self { spool, ..Self::new(archive, name, None, revision, own) }
    }

    /// Which session.
    pub fn name(&self) -> &SessionName {
        &self.name
    }

    pub(super) fn archive(&self) -> &Archive {
        &self.archive
    }

    /// The last revision spent; 0 before the first.
    pub fn revision(&self) -> Revision {
        self.revision
    }

    /// Writes `body`, the text of the whole record without check line, as the next revision. Only
    /// [`StoredIn::InRecords`] may be shown as saved.
    ///
    /// # Errors
    /// [`KeepError::TooLarge`] where reading would refuse it; [`KeepError::Nowhere`] where neither the records folder nor
    /// the spool took it. The record then lives in memory only; calling again tries everything anew.
    pub fn keep(&mut self, body: &str) -> Result<StoredIn, KeepError> {
        let revision = self.revision.next();
        let sealed = seal(body, revision);
        if sealed.len() as u64 > LARGEST_RECORD {
            return Err(KeepError::TooLarge { name: self.name.clone(), length: sealed.len() as u64 });
        }
        self.revision = revision;
        match self.write_to_records(sealed.as_bytes()) {
            Ok(set_aside) => {
                self.forget_spool();
                Ok(StoredIn::InRecords { revision, set_aside })
            }
            Err(reason) => match self.write_to_spool(sealed.as_bytes()) {
                Ok(path) => Ok(StoredIn::InSpool { revision, path, reason }),
                Err(spool) => Err(KeepError::Nowhere { name: self.name.clone(), records: reason, spool }),
            },
        }
    }

    fn write_to_records(&mut self, sealed: &[u8]) -> Result<Option<PathBuf>, RecordsFault> {
        self.archive.check_marker()?;
        self.lock_if_needed()?;
        let archive = self.archive.clone();
        let temporary = write_temporary(&*archive.disk, &archive.records, &self.name, sealed)?;
        let ours = fingerprint(sealed);
        self.own.push(ours);
        let outcome = self.put_in_place(&archive, &temporary);
        match outcome {
            Ok(_) => self.own = vec![ours],
            // Gone already if the rename came about and only its lasting is in doubt.
            Err(_) => drop(archive.disk.remove(&temporary)),
        }
        outcome
    }

    /// Takes the lock where it is not held: in a session begun where locking failed, or when the folder was away and came
    /// back without our lock.
    fn lock_if_needed(&mut self) -> Result<(), RecordsFault> {
        if self.lock.as_ref().is_some_and(SessionLock::is_in_force) {
            return Ok(());
        }
        let path = self.archive.records.join(self.name.lock());
        match self.archive.disk.lock(&path) {
            LockAnswer::Ours(lock) => self.lock = Some(lock),
            LockAnswer::InUse => return Err(RecordsFault::InUse { name: self.name.clone() }),
            LockAnswer::Unsupported(_) if self.lock.is_none() => {}
            LockAnswer::Unsupported(source) => return Err(RecordsFault::at(WriteStep::Lock, &path, source)),
        }
        Ok(())
    }

    fn put_in_place(&mut self, archive: &Archive, temporary: &Path) -> Result<Option<PathBuf>, RecordsFault> {
        let record = archive.record_path(&self.name);
        let set_aside = self.keep_previous(archive, &record)?;
        install(&*archive.disk, &archive.records, temporary, &record)?;
        Ok(set_aside)
    }

    /// Keeps what lies at the record's path: ours as the older generation, what came from elsewhere under a name nothing
    /// is written over.
    fn keep_previous(&mut self, archive: &Archive, record: &Path) -> Result<Option<PathBuf>, RecordsFault> {
        let present = match read_bytes(&*archive.disk, record) {
            Err(OpenError::Missing { .. }) => return Ok(None),
            outcome => fingerprint(&outcome?),
        };
        if self.own.contains(&present) {
            keep_older(&*archive.disk, &archive.records, &self.name)?;
            return Ok(None);
        }
        let aside = set_aside(&*archive.disk, record, &archive.records, &self.name)?;
        self.own.push(present);
        Ok(Some(aside))
    }

    fn write_to_spool(&mut self, sealed: &[u8]) -> Result<PathBuf, RecordsFault> {
        let (disk, folder) = (&*self.archive.disk, &self.archive.spool);
        disk.create_folder(folder).map_err(|source| RecordsFault::at(WriteStep::Folder, folder, source))?;
        if self.spool.is_none() {
            let lock = match disk.lock(&folder.join(self.name.lock())) {
                LockAnswer::Ours(lock) => Some(lock),
                LockAnswer::InUse => return Err(RecordsFault::InUse { name: self.name.clone() }),
                LockAnswer::Unsupported(_) => None,
            };
            self.spool = Some(SpoolCopy { _lock: lock });
            self.keep_what_lies_in_spool()?;
        }
        let path = self.archive.spool_path(&self.name);
        let temporary = write_temporary(disk, folder, &self.name, sealed)?;
        install(disk, folder, &temporary, &path).inspect_err(|_| drop(disk.remove(&temporary)))?;
        Ok(path)
    }

    /// Gives a copy that lies in the spool already another name before ours is written there: it was not read when the
    /// session was opened, or it would be gone. It is renamed unread, for it may be unreadable.
    fn keep_what_lies_in_spool(&self) -> Result<(), RecordsFault> {
        let (disk, folder) = (&*self.archive.disk, &self.archive.spool);
        let copy = self.archive.spool_path(&self.name);
        if disk.look(&copy).is_err() {
            return Ok(());
        }
        let mut next = aside_paths(folder, &self.name);
        let mut aside = next();
        while disk.look(&aside).is_ok() {
            aside = next();
        }
        disk.rename(&copy, &aside)
            .and_then(|()| disk.sync_folder(folder))
            .map_err(|source| RecordsFault::at(WriteStep::Aside, &aside, source))
    }

    /// Removes the spool copy we wrote. One that cannot be removed is older than the record and carried on by it, so the
    /// next start tidies it away.
    fn forget_spool(&mut self) {
        if self.spool.take().is_some() {
            let _ = self.archive.disk.remove(&self.archive.spool_path(&self.name));
            let _ = self.archive.disk.sync_folder(&self.archive.spool);
        }
    }
}

/// Step 3: a new file, private, written whole and synced.
pub(super) fn write_temporary(
    disk: &dyn Disk,
    folder: &Path,
    name: &SessionName,
    bytes: &[u8],
) -> Result<PathBuf, RecordsFault> {
    make_new(disk, || temporary_path(folder, name), |path| disk.create_new(path, bytes))
        .map_err(|(path, source)| RecordsFault::at(WriteStep::Temporary, &path, source))
}

/// Step 4: gives the present record the name of the older generation as well. The name is changed in one stroke, so that
/// at no instant there is no older generation.
pub(super) fn keep_older(disk: &dyn Disk, folder: &Path, name: &SessionName) -> Result<(), RecordsFault> {
    let (record, older) = (folder.join(name.record()), folder.join(name.older()));
    let refused = |source| RecordsFault::at(WriteStep::Older, &older, source);
    let link = make_new(disk, || temporary_path(folder, name), |path| disk.link_or_copy(&record, path))
        .map_err(|(_, source)| refused(source))?;
    let renamed = disk.rename(&link, &older);
    // Also after success: where both were names of one file, the rename leaves both.
    let _ = disk.remove(&link);
    renamed.map_err(refused)
}

/// Step 5: renames the temporary file over `target` and makes the name last.
pub(super) fn install(
    disk: &dyn Disk,
    folder: &Path,
    temporary: &Path,
    target: &Path,
) -> Result<(), RecordsFault> {
    disk.rename(temporary, target).map_err(|source| RecordsFault::at(WriteStep::Rename, target, source))?;
    disk.sync_folder(folder).map_err(|source| RecordsFault::at(WriteStep::Sync, folder, source))
}

/// Copies `file` to a name in the records folder that is never written over, and makes it last before anything else is
/// put in its place.
pub(super) fn set_aside(
    disk: &dyn Disk,
    file: &Path,
    records: &Path,
    name: &SessionName,
) -> Result<PathBuf, RecordsFault> {
    let bytes = read_bytes(disk, file)?;
    let refused = |(path, source): (PathBuf, io::Error)| RecordsFault::at(WriteStep::Aside, &path, source);
    let aside =
        make_new(disk, aside_paths(records, name), |path| disk.create_new(path, &bytes)).map_err(refused)?;
    disk.sync_folder(records).map_err(|source| refused((aside.clone(), source)))?;
    Ok(aside)
}

/// Gives a damaged record a second name that is never written over, and makes it last. Nothing of it is read: it may be too
/// large, or no text.
pub(super) fn link_aside(
    disk: &dyn Disk,
    record: &Path,
    records: &Path,
    name: &SessionName,
) -> Result<PathBuf, RecordsFault> {
    let refused = |(path, source): (PathBuf, io::Error)| RecordsFault::at(WriteStep::Aside, &path, source);
    let aside = make_new(disk, aside_paths(records, name), |path| disk.link_or_copy(record, path))
        .map_err(refused)?;
    disk.sync_folder(records).map_err(|source| refused((aside.clone(), source)))?;
    Ok(aside)
}

/// The names a version from elsewhere may be given, one after another.
fn aside_paths(records: &Path, name: &SessionName) -> impl FnMut() -> PathBuf {
    let mut number = 0;
    move || {
        number += 1;
        records.join(name.aside(number))
    }
}

/// A path no other thread of this process is given, and no other living process on this machine.
fn temporary_path(folder: &Path, name: &SessionName) -> PathBuf {
    static NUMBER: AtomicU64 = AtomicU64::new(1);
    folder.join(name.temporary(std::process::id(), NUMBER.fetch_add(1, Ordering::Relaxed)))
}

/// Calls `make` with one path after another until one was free. What a failure left half made is removed.
pub(super) fn make_new(
    disk: &dyn Disk,
    mut next: impl FnMut() -> PathBuf,
    make: impl Fn(&Path) -> io::Result<()>,
) -> Result<PathBuf, (PathBuf, io::Error)> {
    let mut tried = 0;
    loop {
        let path = next();
        tried += 1;
        match make(&path) {
            Ok(()) => return Ok(path),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && tried < NAMES_TRIED => {}
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => return Err((path, error)),
            Err(error) => {
                let _ = disk.remove(&path);
                return Err((path, error));
            }
        }
    }
}

impl From<FolderError> for RecordsFault {
    fn from(error: FolderError) -> Self {
        Self::Folder(error)
    }
}

impl From<OpenError> for RecordsFault {
    fn from(error: OpenError) -> Self {
        Self::Record(error)
    }
}
