//! Why a step could not be written, in values and in plain sentences.
//!
//! What is done about it (the spool, another try) is decided in [`super`]; exit codes are not here.

use crate::archive::folder::FolderError;
use crate::archive::name::SessionName;
use crate::archive::open::{LARGEST_RECORD, OpenError};
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// Which part of a write failed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WriteStep {
    /// Making the folder.
    Folder,
    /// Locking the session again after its folder was away.
    Lock,
    /// Writing and syncing the temporary file.
    Temporary,
    /// Keeping the version before.
    Older,
    /// Keeping a version that came from elsewhere.
    Aside,
    /// Putting the new file in the place of the old one.
    Rename,
    /// Making its name last; the step may be there all the same.
    Sync,
}

impl WriteStep {
    /// The folder a path of this step stands for.
    fn folder_of(self, path: &Path) -> &Path {
        match self {
            Self::Folder | Self::Sync => path,
            Self::Lock | Self::Temporary | Self::Older | Self::Aside | Self::Rename => {
                path.parent().unwrap_or(path)
            }
        }
    }

    fn in_words(self) -> &'static str {
        match self {
            Self::Folder => "making the folder",
            Self::Lock => "locking the session again by",
            Self::Temporary => "writing the temporary file",
            Self::Older => "keeping the version before as",
            Self::Aside => "setting a version from elsewhere aside as",
            Self::Rename => "putting the new version in the place of",
            Self::Sync => "making the new version last in",
        }
    }
}

/// What is wrong with a folder and the way out, as far as the system tells.
fn lead(f: &mut fmt::Formatter<'_>, folder: &Path, source: &io::Error) -> fmt::Result {
    let folder = folder.display();
    match source.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
            write!(f, "the folder {folder} is full; make room there")
        }
        io::ErrorKind::ReadOnlyFilesystem => {
            write!(f, "the folder {folder} can only be read; make it writable")
        }
        io::ErrorKind::PermissionDenied => {
            write!(f, "you are not allowed to write in the folder {folder}; have its rights put right")
        }
        io::ErrorKind::FileTooLarge => {
            write!(f, "the system lets no file in the folder {folder} grow as large; raise that limit")
        }
        io::ErrorKind::NotFound => write!(f, "the folder {folder} is not there; connect it"),
        _ => write!(
            f,
            "the folder {folder} does not take it ({}); check that it is connected and in order",
            said(source)
        ),
    }
}

/// What the system said, without its number.
pub fn said(source: &io::Error) -> String {
    let said = source.to_string();
    said.split(" (os error").next().unwrap_or(&said).to_owned()
}

/// Why a folder did not take a step.
#[derive(Debug)]
pub enum RecordsFault {
    /// The records folder is not there, or is another one.
    Folder(FolderError),
    /// What lies in the place of the record cannot be read, so it is not written over.
    Record(OpenError),
    /// Another program has come to hold the session.
    InUse {
        /// Which session.
        name: SessionName,
    },
    /// The system refused a part of the write.
    Refused {
        /// Which part.
        step: WriteStep,
        /// The file or folder it was about.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl RecordsFault {
    pub(in crate::archive) fn at(step: WriteStep, path: &Path, source: io::Error) -> Self {
        Self::Refused { step, path: path.to_owned(), source }
    }
}

impl fmt::Display for RecordsFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Folder(error) => error.fmt(f),
            Self::Record(error) => write!(f, "the record cannot be replaced: {error}"),
            Self::InUse { name } => {
                write!(f, "another program holds the session {name}; close it there, or go on in a copy")
            }
            Self::Refused { step, path, source } => {
                lead(f, step.folder_of(path), source)?;
                let file = path.file_name().unwrap_or(path.as_os_str());
                write!(f, " ({} {} failed)", step.in_words(), file.display())
            }
        }
    }
}

impl std::error::Error for RecordsFault {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Folder(error) => error.source(),
            Self::Record(error) => error.source(),
            Self::InUse { .. } => None,
            Self::Refused { source, .. } => Some(source),
        }
    }
}

/// Why a step is kept nowhere but in memory.
#[derive(Debug)]
pub enum KeepError {
    /// Longer than a record may be.
    TooLarge {
        /// Which session.
        name: SessionName,
        /// Length in bytes with its check line.
        length: u64,
    },
    /// Neither the records folder nor the spool took it.
    Nowhere {
        /// Which session.
        name: SessionName,
        /// Why the records folder did not.
        records: RecordsFault,
        /// Why the spool did not.
        spool: RecordsFault,
    },
}

impl fmt::Display for KeepError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { name, length } => write!(
                f,
                "the session {name} has grown to {length} bytes and at most {LARGEST_RECORD} can be saved; shorten its notes, \
                 or go on in a new session"
            ),
            Self::Nowhere { records, spool, .. } => {
                f.write_str("leave the program open: ")?;
                match records {
                    RecordsFault::Refused { step, path, source } => lead(f, step.folder_of(path), source)?,
                    other => other.fmt(f)?,
                }
                f.write_str("; the spool on this computer does not take it either")?;
                match spool {
                    RecordsFault::Refused { source, .. } => write!(f, " ({})", said(source)),
                    other => write!(f, " ({other})"),
                }
            }
        }
    }
}

impl std::error::Error for KeepError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::TooLarge { .. } => None,
            Self::Nowhere { records, .. } => records.source(),
        }
    }
}
