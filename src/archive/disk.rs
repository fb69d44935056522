//! The few things the archive asks of a disk, as a trait, and the real one.
//!
//! They are chosen so that a simulated disk can tell, after each, what a power cut may leave: a new file is written and
//! synced in one call, an existing file is never written to, and only a folder sync makes names last. What the order of
//! the calls must be is not decided here but in [`super::write`].

use super::lock::{self, LockAnswer};
use super::sharing::Sharing;
use std::ffi::OsString;
use std::fmt::Debug;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};

/// What stands at a path, links not followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// An ordinary file with this many bytes.
    Plain {
        /// Length in bytes.
        length: u64,
    },
    /// A folder.
    Folder,
    /// A symbolic link, whatever it leads to.
    Link,
    /// A pipe, a socket or a device.
    Special,
}

/// A disk as the archive uses it. Every path is absolute or relative to the working folder, as for [`std::fs`].
///
/// # Errors
/// Each method passes on what the system says, unchanged.
#[expect(clippy::missing_errors_doc, reason = "said once for the whole trait")]
pub trait Disk: Debug + Send + Sync {
    /// Creates a file that was not there, for its owner or for the group of a shared folder ([`Sharing`]), writes all of `bytes` and syncs them. After an error the file may
    /// be there in part; the caller removes it.
    fn create_new(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Gives the file at `from` a second name `to` that was not there: a hard link, or a synced private copy where the file
    /// system has no links.
    fn link_or_copy(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Renames, replacing `to` in one stroke. If both are names of one file, both may stay.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Removes the name of a file.
    fn remove(&self, path: &Path) -> io::Result<()>;

    /// Makes every name made, moved or removed in this folder last.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;

    /// Creates a folder and those above it, each private or as shared as the one above, and makes them last; fine if it is
    /// there.
    fn create_folder(&self, folder: &Path) -> io::Result<()>;

    /// Says what stands at a path, not following a link there.
    fn look(&self, path: &Path) -> io::Result<FileKind>;

    /// Reads a plain file, at most `cap` + 1 bytes, never following a link and never waiting for a writer.
    fn read(&self, path: &Path, cap: u64) -> io::Result<Vec<u8>>;

    /// The names in a folder, in any order.
    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>>;

    /// Tries to lock the sidecar at `path`, creating it if need be, without waiting.
    fn lock(&self, path: &Path) -> LockAnswer;
}

/// What may be done to a file that is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WriteMode {
    /// It is replaced.
    WriteOver,
    /// It stays, and the new one is refused.
    OnlyNew,
}

/// Puts a file in its place whole or not at all and makes it last; its folder is made first, and what programs that were
/// killed left of one that is written over and over is swept away.
///
/// # Errors
/// What the system says: [`io::ErrorKind::AlreadyExists`] where only a new one was wished for. What was there stays.
pub fn put_whole(disk: &dyn Disk, path: &Path, bytes: &[u8], wish: WriteMode) -> io::Result<()> {
    static NUMBER: AtomicU64 = AtomicU64::new(1);
    let name = path.file_name().ok_or(io::ErrorKind::NotFound)?.to_string_lossy();
    let folder = folder_of(path);
    disk.create_folder(folder)?;
    let hidden = format!(".{name}.tmp-");
    if wish == WriteMode::WriteOver {
        sweep(disk, folder, &hidden);
    }
    let number = NUMBER.fetch_add(1, Ordering::Relaxed);
    let temporary = folder.join(format!("{hidden}{}-{number}", std::process::id()));
    let put = disk.create_new(&temporary, bytes).and_then(|()| match wish {
        WriteMode::WriteOver => disk.rename(&temporary, path),
        WriteMode::OnlyNew => disk.link_or_copy(&temporary, path),
    });
    if put.is_err() || wish == WriteMode::OnlyNew {
        let _ = disk.remove(&temporary);
    }
    put.and_then(|()| disk.sync_folder(folder))
}

/// Removes temporary files that were never finished. Taking one from a program that is writing only means that its version
/// is not kept, which it is told.
fn sweep(disk: &dyn Disk, folder: &Path, hidden: &str) {
    for name in disk.list(folder).unwrap_or_default() {
        if name.to_string_lossy().starts_with(hidden) {
            let _ = disk.remove(&folder.join(name));
        }
    }
}

/// The folder a file lies in; of a bare name that is the working folder.
pub fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The disk of this machine.
#[derive(Clone, Copy, Debug, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn create_new(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = private(OpenOptions::new().write(true).create_new(true)).open(path)?;
        Sharing::of(folder_of(path)).give(&file);
        file.write_all(bytes)?;
        file.sync_all()
    }

    fn link_or_copy(&self, from: &Path, to: &Path) -> io::Result<()> {
        match fs::hard_link(from, to) {
            Err(error) if !matches!(error.kind(), io::ErrorKind::AlreadyExists | io::ErrorKind::NotFound) => {
                self.create_new(to, &self.read(from, u64::MAX)?)
            }
            outcome => outcome,
        }
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        match sync_names(folder) {
            // Some network file systems answer that a folder has nothing to sync. Taking that for a failure would send
            // every step to the spool for ever, though there is no more that could be done.
            Err(error)
                if matches!(error.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) =>
            {
                Ok(())
            }
            outcome => outcome,
        }
    }

    fn create_folder(&self, folder: &Path) -> io::Result<()> {
        let parent = folder.parent().filter(|parent| !parent.as_os_str().is_empty());
        if let Some(parent) = parent
            && !parent.is_dir()
        {
            self.create_folder(parent)?;
        }
        match create_private_folder(folder) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
            Err(error) => Err(error),
            Ok(()) => {
                let above = parent.unwrap_or(Path::new("."));
                Sharing::of(above).give_folder(folder);
                self.sync_folder(above)
            }
        }
    }

    fn look(&self, path: &Path) -> io::Result<FileKind> {
        fs::symlink_metadata(path).map(|metadata| kind(&metadata))
    }

    fn read(&self, path: &Path, cap: u64) -> io::Result<Vec<u8>> {
        let file = warily(OpenOptions::new().read(true)).open(path)?;
        let metadata = file.metadata()?;
        if !metadata.is_file() {
            return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is not a plain file"));
        }
        let most = cap.saturating_add(1);
        // One more than the length, so that the read that finds the end needs no more room.
        let room = metadata.len().saturating_add(1).min(most);
        let mut bytes = Vec::with_capacity(usize::try_from(room).unwrap_or(0));
        file.take(most).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.file_name())).collect()
    }

    fn lock(&self, path: &Path) -> LockAnswer {
        lock::take(path)
    }
}

fn kind(metadata: &fs::Metadata) -> FileKind {
    match metadata.file_type() {
        found if found.is_file() => FileKind::Plain { length: metadata.len() },
        found if found.is_dir() => FileKind::Folder,
        found if found.is_symlink() => FileKind::Link,
        _ => FileKind::Special,
    }
}

#[cfg(unix)]
/// Lets nobody else read what is made.
pub fn private(options: &mut OpenOptions) -> &mut OpenOptions {
    std::os::unix::fs::OpenOptionsExt::mode(options, 0o600)
}

#[cfg(not(unix))]
/// Lets nobody else read what is made.
pub fn private(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

/// Adds the flags that refuse a link and never wait.
#[cfg(unix)]
pub(super) fn warily(options: &mut OpenOptions) -> &mut OpenOptions {
    use rustix::fs::OFlags;
    let flags = (OFlags::NOFOLLOW | OFlags::NONBLOCK).bits();
    std::os::unix::fs::OpenOptionsExt::custom_flags(options, flags.cast_signed())
}

#[cfg(not(unix))]
pub(super) fn warily(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

#[cfg(unix)]
fn create_private_folder(folder: &Path) -> io::Result<()> {
    std::os::unix::fs::DirBuilderExt::mode(&mut fs::DirBuilder::new(), 0o700).create(folder)
}

#[cfg(not(unix))]
fn create_private_folder(folder: &Path) -> io::Result<()> {
    fs::create_dir(folder)
}

#[cfg(unix)]
fn sync_names(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Windows keeps names in its own journal and offers no sync of a folder.
#[cfg(not(unix))]
fn sync_names(folder: &Path) -> io::Result<()> {
    fs::metadata(folder).map(|_| ())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_named_without_a_folder_lies_in_the_working_folder() {
        assert_eq!(folder_of(Path::new("own.ron")), Path::new("."));
        assert_eq!(folder_of(Path::new("/shop/own.ron")), Path::new("/shop"));
        RealDisk.create_folder(folder_of(Path::new("own.ron"))).expect("it is there");
    }
}
