//! Reading a file that may be anything: a pipe, a link to itself, a gigabyte, a picture.
//!
//! Only plain files up to a cap are read; what comes back is text with plain line feeds and without a byte order mark, and
//! what its check line says. Whether the text is a record is for the parser, which is not here.

use super::disk::{Disk, FileKind};
use super::seal::{Revision, Seal, fingerprint, read_seal};
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// The largest record read or written, in bytes: 1 MiB, some hundred times a long session.
pub const LARGEST_RECORD: u64 = 1024 * 1024;

/// The text of a file and what its check line says of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenedSession {
    /// The whole text, check line included (to RON it is a comment).
    pub text: String,
    /// What the check line says.
    pub seal: Seal,
    /// Tells whether the bytes on disk are still these.
    pub(super) fingerprint: u32,
}

/// Why a file could not be read as text.
#[derive(Debug)]
pub enum OpenError {
    /// Nothing there.
    Missing {
        /// Where.
        path: PathBuf,
    },
    /// A folder, link, pipe or device.
    NotPlain {
        /// Where.
        path: PathBuf,
        /// What it is instead.
        kind: FileKind,
    },
    /// Longer than [`LARGEST_RECORD`].
    TooLarge {
        /// Where.
        path: PathBuf,
        /// Its length in bytes, as far as it is known.
        length: u64,
    },
    /// Not UTF-8.
    NotText {
        /// Where.
        path: PathBuf,
        /// Counted from 1: the first byte that does not belong.
        byte: usize,
    },
    /// The system would not let us.
    Unreadable {
        /// Where.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// Reads the file at `path`.
///
/// # Errors
/// [`OpenError`], each cause told apart.
pub fn read_text(disk: &dyn Disk, path: &Path) -> Result<OpenedSession, OpenError> {
    let bytes = read_bytes(disk, path)?;
    let fingerprint = fingerprint(&bytes);
    let mut text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            return Err(OpenError::NotText {
                path: path.to_owned(),
                byte: error.utf8_error().valid_up_to() + 1,
            });
        }
    };
    if text.starts_with('\u{feff}') {
        text.remove(0);
    }
    if text.contains('\r') {
        text = text.replace("\r\n", "\n");
    }
    Ok(OpenedSession { seal: read_seal(&text), text, fingerprint })
}

/// The revision that the check line of a file names that is no text any more; 0 where none can be made out.
pub(super) fn revision_in(disk: &dyn Disk, path: &Path) -> Revision {
    let bytes = read_bytes(disk, path).unwrap_or_default();
    read_seal(&String::from_utf8_lossy(&bytes)).revision()
}

/// Reads the bytes of a plain file within the cap.
pub(super) fn read_bytes(disk: &dyn Disk, path: &Path) -> Result<Vec<u8>, OpenError> {
    let refused = |error| unreadable(path, error);
    match disk.look(path).map_err(refused)? {
        FileKind::Plain { length } if length > LARGEST_RECORD => {
            return Err(OpenError::TooLarge { path: path.to_owned(), length });
        }
        FileKind::Plain { .. } => {}
        kind => return Err(OpenError::NotPlain { path: path.to_owned(), kind }),
    }
    let bytes = disk.read(path, LARGEST_RECORD).map_err(refused)?;
    // It may have grown since the look.
    match bytes.len() as u64 {
        length if length > LARGEST_RECORD => Err(OpenError::TooLarge { path: path.to_owned(), length }),
        _ => Ok(bytes),
    }
}

fn unreadable(path: &Path, source: io::Error) -> OpenError {
    let path = path.to_owned();
    match source.kind() {
        io::ErrorKind::NotFound => OpenError::Missing { path },
        _ => OpenError::Unreadable { path, source },
    }
}

impl OpenError {
    /// The file it is about.
    pub fn path(&self) -> &Path {
        match self {
            Self::Missing { path }
            | Self::NotPlain { path, .. }
            | Self::TooLarge { path, .. }
            | Self::NotText { path, .. }
            | Self::Unreadable { path, .. } => path,
        }
    }
}

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.path().display();
        match self {
            Self::Missing { .. } => {
                write!(f, "there is no file {place}; check the name and the folder")
            }
            Self::NotPlain { kind, .. } => {
                let found = match kind {
                    FileKind::Folder => "a folder",
                    FileKind::Link => "a link",
                    FileKind::Plain { .. } | FileKind::Special => "a pipe or a device",
                };
                write!(f, "{place} is {found}, not a plain file; give the file of the session itself")
            }
            Self::TooLarge { length, .. } => write!(
                f,
                "{place} is too large for a session ({length} bytes or more, at most {LARGEST_RECORD} are read); \
                 check that it is the right file"
            ),
            Self::NotText { byte, .. } => write!(
                f,
                "{place} is not text: byte {byte} is not UTF-8; save it as UTF-8, or take the older version beside it"
            ),
            Self::Unreadable { .. } => {
                write!(
                    f,
                    "{place} could not be read; check that the folder is connected and that you may read it"
                )
            }
        }
    }
}

impl std::error::Error for OpenError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Unreadable { source, .. } => Some(source),
            _ => None,
        }
    }
}
