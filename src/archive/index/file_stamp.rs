//! What tells without reading whether a file is still the one that was read: inode, time of last change, size.
//!
//! Every step is a new file renamed into place, so that the inode changes with it; time and size find edits in place. Where
//! a system has no inodes, time and size have to do. Not here: reading the file (`open`).

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use std::fs;
use std::io;
use std::path::Path;

/// How long a file must have been left alone before its time of change is trusted, in nanoseconds: 2 s, the coarsest time
/// stamp in use (FAT; Microsoft, "File Times").
const TRUSTED_AFTER_NS: i64 = 2_000_000_000;

/// The identity of a file's content, as far as the folder alone tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct FileStamp {
    /// Number of the file in its file system; 0 where there are none.
    pub(super) inode: u64,
    /// Time of the last change, in nanoseconds since 1970; a time before 1678 or after 2262 is the nearest of these.
    pub(super) changed_ns: i64,
    /// Length in bytes.
    pub(super) length: u64,
}

impl FileStamp {
    /// Looks at the file at `path`, not following a link there.
    ///
    /// # Errors
    /// What the system says.
    pub fn of(path: &Path) -> io::Result<Self> {
        let metadata = fs::symlink_metadata(path)?;
        Ok(Self { inode: inode(&metadata), changed_ns: changed_ns(&metadata)?, length: metadata.len() })
    }

    /// Whether the file had been left alone for so long before `now` that any later change shows in its trace. A time of
    /// change ahead of our clock never counts as long ago: clocks of file servers differ, and ours may have been set back.
    pub(super) fn is_settled(&self, now: DateTime<Utc>) -> bool {
        now.timestamp_nanos_opt()
            .is_some_and(|now_ns| self.changed_ns.saturating_add(TRUSTED_AFTER_NS) < now_ns)
    }
}

#[cfg(unix)]
fn inode(metadata: &fs::Metadata) -> u64 {
    std::os::unix::fs::MetadataExt::ino(metadata)
}

#[cfg(not(unix))]
fn inode(_: &fs::Metadata) -> u64 {
    0
}

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "other systems may not tell")]
fn changed_ns(metadata: &fs::Metadata) -> io::Result<i64> {
    use std::os::unix::fs::MetadataExt;
    Ok(metadata.mtime().saturating_mul(1_000_000_000).saturating_add(metadata.mtime_nsec()))
}

#[cfg(not(unix))]
fn changed_ns(metadata: &fs::Metadata) -> io::Result<i64> {
    let changed = DateTime::<Utc>::from(metadata.modified()?);
    let nearest = if changed.timestamp() < 0 { i64::MIN } else { i64::MAX };
    Ok(changed.timestamp_nanos_opt().unwrap_or(nearest))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changed_at(seconds: i64) -> FileStamp {
        FileStamp { inode: 1, changed_ns: seconds * 1_000_000_000, length: 1 }
    }

    fn clock(seconds: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(seconds, 0).expect("a time")
    }

    #[test]
    fn a_file_is_trusted_once_it_was_left_alone_for_two_seconds() {
        assert!(!changed_at(100).is_settled(clock(100)));
        assert!(!changed_at(100).is_settled(clock(102)));
        assert!(changed_at(100).is_settled(clock(103)));
    }

    #[test]
    fn a_change_that_lies_ahead_of_our_clock_is_never_trusted() {
        assert!(!changed_at(100).is_settled(clock(50)));
    }
}
