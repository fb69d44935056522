//! The lock that lets one program at a time write a session.
//!
//! It lies on a sidecar file, because a lock on the record would stay with the old file when the new one is renamed over
//! it. The system drops it when the process ends, however it ends, so there are no stale locks and no process numbers to
//! judge. Who may read is not decided here: reading needs no lock, since a record is only ever replaced whole.

use super::disk::{folder_of, private, warily};
use super::sharing::Sharing;
use chrono::TimeDelta;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::thread;

/// How often a lock file may vanish under us before we call the session in use.
const TRIES: usize = 16;
/// How long the maker of a sidecar in a shared folder takes at most to give it to the group, as far as one waits for it.
const SHARED_SOON: TimeDelta = TimeDelta::milliseconds(2);

/// What came of trying to lock a session.
#[derive(Debug)]
pub enum LockAnswer {
    /// It is ours until this value is dropped.
    Ours(SessionLock),
    /// Another program (or another part of this one) holds it: open read-only.
    InUse,
    /// The folder lets nobody lock, perhaps because it is read-only: open read-only.
    Unsupported(io::Error),
}

/// A lock held. Dropping it removes the sidecar and then lets go.
#[derive(Debug)]
pub struct SessionLock {
    file: File,
    path: PathBuf,
}

impl SessionLock {
    /// Whether the lock still lies where other programs look for it: not if the folder was unmounted and came back, or if
    /// somebody removed the sidecar.
    pub fn is_in_force(&self) -> bool {
        named_or_unknown(&self.file, &self.path)
    }
}

impl Drop for SessionLock {
    /// Removes the sidecar while it is still locked, so that nobody can be holding the file we remove. Where the system
    /// cannot tell whether the name still leads to our file, the sidecar stays; an unlocked one does no harm.
    fn drop(&mut self) {
        if still_named(&self.file, &self.path) {
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// Locks the sidecar at `path` without waiting. A holder removes the file before it lets go, so whoever opened it earlier
/// finds the name gone or given to another file and tries again.
pub(super) fn take(path: &Path) -> LockAnswer {
    let sharing = Sharing::of(folder_of(path));
    let mut refused = None;
    for _ in 0..TRIES {
        let file =
            match warily(private(OpenOptions::new().read(true).write(true).create(true).truncate(false)))
                .open(path)
            {
                Ok(file) => file,
                // Somebody else of the group has just made it and is about to share it.
                Err(error)
                    if sharing == Sharing::Group && error.kind() == io::ErrorKind::PermissionDenied =>
                {
                    refused = Some(error);
                    thread::sleep(SHARED_SOON.to_std().unwrap_or_default());
                    continue;
                }
                Err(error) => return LockAnswer::Unsupported(error),
            };
        refused = None;
        sharing.give(&file);
        match file.try_lock() {
            Ok(()) if named_or_unknown(&file, path) => {
                return LockAnswer::Ours(SessionLock { file, path: path.to_owned() });
            }
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return LockAnswer::InUse,
            Err(TryLockError::Error(error)) => return LockAnswer::Unsupported(error),
        }
    }
    refused.map_or(LockAnswer::InUse, LockAnswer::Unsupported)
}

#[cfg(unix)]
fn still_named(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let of = |metadata: fs::Metadata| (metadata.dev(), metadata.ino());
    match (file.metadata(), fs::symlink_metadata(path)) {
        (Ok(ours), Ok(there)) => of(ours) == of(there),
        _ => false,
    }
}

#[cfg(unix)]
fn named_or_unknown(file: &File, path: &Path) -> bool {
    still_named(file, path)
}

#[cfg(not(unix))]
fn still_named(_: &File, _: &Path) -> bool {
    false
}

/// Where sidecars are never removed, the name always leads to the file we opened.
#[cfg(not(unix))]
fn named_or_unknown(_: &File, _: &Path) -> bool {
    true
}
