//! Where a command's text goes: standard output, or a new file that appears whole or not at all.
//!
//! A file that is there already is written over only on request, and one that is no plain file never. Not here: records
//! (`archive`), which nobody else writes.

use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{self, BufWriter, ErrorKind, Stdout, Write};
#[cfg(target_os = "linux")]
use std::os::fd::AsRawFd;
use std::path::{Path, PathBuf};

use flate2::Compression;
use flate2::write::GzEncoder;

use super::random;
use crate::archive::disk::{WriteMode, folder_of, private};
use crate::archive::stray::is_ours;
use crate::archive::{Disk, FileKind, RealDisk};
use crate::cli::OutOptions;
use crate::failure::Failure;

/// A place for a text, open for writing.
pub(super) enum Outlet {
    /// Whoever reads our output.
    Standard(BufWriter<Stdout>),
    /// A file not yet under its name.
    File(NewFile),
    /// Either, through gzip.
    Compressed(Box<Outlet>, GzEncoder<Vec<u8>>),
}

/// Whether anybody still takes what is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reader {
    /// Somebody does.
    There,
    /// The reader has gone, as `head` does; that is no error.
    Gone,
}

impl Outlet {
    /// Opens the place asked for. Nothing stands under the file's name before [`Self::finish`].
    pub(super) fn open(to: &OutOptions) -> Result<Self, Failure> {
        let target = to.out.as_ref().filter(|target| *target != Path::new("-"));
        let Some(target) = target else { return Ok(Self::Standard(BufWriter::new(io::stdout()))) };
        let wish = if to.force { WriteMode::WriteOver } else { WriteMode::OnlyNew };
        NewFile::open(target, wish).map(Self::File)
    }

    /// The same place, for gzip (RFC 1952) of what is written.
    pub(super) fn compressed(self) -> Self {
        Self::Compressed(Box::new(self), GzEncoder::new(Vec::new(), Compression::default()))
    }

    /// Writes more.
    pub(super) fn write(&mut self, text: &str) -> Result<Reader, Failure> {
        self.put(text.as_bytes())
    }

    fn put(&mut self, bytes: &[u8]) -> Result<Reader, Failure> {
        match self {
            Self::Standard(output) => taken(output.write_all(bytes)),
            Self::File(file) => {
                let written = file.writer.write_all(bytes);
                written.map(|()| Reader::There).map_err(|error| file.failed(error))
            }
            Self::Compressed(place, zip) => {
                zip.write_all(bytes)
                    .map_err(|error| Failure::new("The text cannot be compressed.").because(error))?;
                place.put(&std::mem::take(zip.get_mut()))
            }
        }
    }

    /// Ends the writing; a file appears under its name.
    pub(super) fn finish(self) -> Result<(), Failure> {
        match self {
            Self::Standard(mut output) => taken(output.flush()).map(|_| ()),
            Self::File(file) => file.finish(),
            Self::Compressed(mut place, zip) => {
                let rest = zip.finish();
                place.put(
                    &rest.map_err(|error| Failure::new("The text cannot be compressed.").because(error))?,
                )?;
                place.finish()
            }
        }
    }
}

fn taken(written: io::Result<()>) -> Result<Reader, Failure> {
    match written {
        Ok(()) => Ok(Reader::There),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(Reader::Gone),
        Err(error) => Err(Failure::new("Cannot write to standard output.").because(error)),
    }
}

/// A file being written beside the one wanted; gone again unless it is finished. It is private: what it holds is as personal
/// as a record.
pub(super) struct NewFile {
    writer: BufWriter<File>,
    /// Its name meanwhile; none where the system keeps it without a name, so that even a kill leaves nothing.
    temporary: Option<PathBuf>,
    target: PathBuf,
    wish: WriteMode,
}

impl NewFile {
    /// A file where none is.
    pub(super) fn only_new(target: &Path) -> Result<Self, Failure> {
        Self::open(target, WriteMode::OnlyNew)
    }

    /// A file in place of the one that may be there.
    pub(super) fn written_over(target: &Path) -> Result<Self, Failure> {
        Self::open(target, WriteMode::WriteOver)
    }

    /// Where its bytes go.
    pub(super) fn writer(&mut self) -> &mut dyn Write {
        &mut self.writer
    }

    fn open(target: &Path, wish: WriteMode) -> Result<Self, Failure> {
        match RealDisk.look(target) {
            Ok(FileKind::Plain { .. }) if wish == WriteMode::OnlyNew => return Err(is_there(target)),
            Ok(FileKind::Plain { .. }) if is_ours(target) => {
                let sentence =
                    format!("{} belongs to a records folder, so it is not written over", target.display());
                return Err(Failure::of_use(sentence).way_out("Name another file with --out."));
            }
            Ok(FileKind::Plain { .. }) | Err(_) => {}
            Ok(_) => {
                let sentence = format!("{} is no plain file, so it is not written over", target.display());
                return Err(Failure::of_use(sentence).way_out("Name another file with --out."));
            }
        }
        let Some(name) = target.file_name() else {
            return Err(Failure::of_use(format!("{} names no file", target.display())));
        };
        let (file, temporary) = if let Ok(file) = unnamed(folder_of(target)) {
            (file, None)
        } else {
            let named = temporary_beside(target, name);
            let file = private(File::options().write(true).create_new(true)).open(&named);
            (file.map_err(|error| cannot_write(target, error))?, Some(named))
        };
        Ok(Self { writer: BufWriter::new(file), temporary, target: target.to_owned(), wish })
    }

    fn failed(&self, error: io::Error) -> Failure {
        cannot_write(&self.target, error)
    }

    /// Gives the file its name.
    pub(super) fn finish(mut self) -> Result<(), Failure> {
        self.put_in_place().map_err(|error| match error.kind() {
            ErrorKind::AlreadyExists => is_there(&self.target),
            _ => self.failed(error),
        })
    }

    fn put_in_place(&mut self) -> io::Result<()> {
        self.writer.flush()?;
        let file = self.writer.get_ref();
        if self.wish == WriteMode::WriteOver
            && let Ok(before) = fs::metadata(&self.target)
        {
            file.set_permissions(before.permissions())?;
        }
        file.sync_all()?;
        // A link is refused where a name has appeared meanwhile; a rename would take it.
        match (self.wish, &self.temporary) {
            (WriteMode::OnlyNew, None) => name(file, &self.target)?,
            (WriteMode::OnlyNew, Some(temporary)) => RealDisk.link_or_copy(temporary, &self.target)?,
            (WriteMode::WriteOver, None) => {
                let named = temporary_beside(&self.target, self.target.file_name().unwrap_or_default());
                name(file, &named)?;
                self.temporary = Some(named.clone());
                RealDisk.rename(&named, &self.target)?;
            }
            (WriteMode::WriteOver, Some(temporary)) => RealDisk.rename(temporary, &self.target)?,
        }
        RealDisk.sync_folder(folder_of(&self.target))
    }
}

impl Drop for NewFile {
    fn drop(&mut self) {
        // Gone already if it was renamed.
        if let Some(temporary) = &self.temporary {
            let _ = RealDisk.remove(temporary);
        }
    }
}

fn temporary_beside(target: &Path, name: &OsStr) -> PathBuf {
    folder_of(target).join(format!(".{}.tmp-{:016x}", name.to_string_lossy(), random()))
}

/// A private file without a name, on the disk of that folder.
#[cfg(target_os = "linux")]
fn unnamed(folder: &Path) -> io::Result<File> {
    use rustix::fs::{Mode, OFlags};
    // It gets its name by way of this folder.
    fs::metadata("/proc/self/fd")?;
    let flags = OFlags::TMPFILE | OFlags::WRONLY | OFlags::CLOEXEC;
    Ok(rustix::fs::open(folder, flags, Mode::RUSR | Mode::WUSR)?.into())
}

#[cfg(not(target_os = "linux"))]
fn unnamed(_: &Path) -> io::Result<File> {
    Err(ErrorKind::Unsupported.into())
}

/// Gives a file without a name one that was not there.
#[cfg(target_os = "linux")]
fn name(file: &File, path: &Path) -> io::Result<()> {
    use rustix::fs::{AtFlags, CWD, linkat};
    let open = format!("/proc/self/fd/{}", file.as_raw_fd());
    Ok(linkat(CWD, open, CWD, path, AtFlags::SYMLINK_FOLLOW)?)
}

#[cfg(not(target_os = "linux"))]
fn name(_: &File, _: &Path) -> io::Result<()> {
    Err(ErrorKind::Unsupported.into())
}

fn is_there(target: &Path) -> Failure {
    Failure::of_use(format!("{} is there already and was left as it is", target.display()))
        .way_out("Name another file, or write over it with --force.")
}

fn cannot_write(target: &Path, error: io::Error) -> Failure {
    Failure::new(format!("{} cannot be written", target.display())).because(error)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(out: &Path, force: bool, text: &str) -> Result<(), Failure> {
        let mut outlet = Outlet::open(&OutOptions { out: Some(out.to_owned()), force })?;
        outlet.write(text)?;
        outlet.finish()
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = std::fs::read_dir(folder).expect("a folder");
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect()
    }

    #[test]
    fn a_file_that_is_there_is_written_over_only_on_request() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let out = folder.path().join("card.txt");
        written(&out, false, "first").expect("a new file");
        let refused = written(&out, false, "second").expect_err("it is there");
        assert!(refused.to_string().contains("--force"), "{refused}");
        assert_eq!(std::fs::read_to_string(&out).expect("text"), "first");
        written(&out, true, "third").expect("asked for");
        assert_eq!(std::fs::read_to_string(&out).expect("text"), "third");
        assert_eq!(names(folder.path()), ["card.txt"]);
    }

    #[test]
    fn a_file_that_was_not_finished_leaves_nothing() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let to = OutOptions { out: Some(folder.path().join("card.txt")), force: false };
        let mut outlet = Outlet::open(&to).expect("a new file");
        outlet.write("half").expect("room");
        drop(outlet);
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    fn a_file_that_appeared_meanwhile_is_left_as_it_is() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let out = folder.path().join("card.txt");
        let outlet = Outlet::open(&OutOptions { out: Some(out.clone()), force: false }).expect("a new file");
        std::fs::write(&out, "another's").expect("room");
        outlet.finish().expect_err("it is there now");
        assert_eq!(std::fs::read_to_string(&out).expect("text"), "another's");
    }

    #[test]
    fn a_folder_is_never_written_over() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        written(folder.path(), true, "card").expect_err("a folder is there");
    }
}
