//! The records folder as a whole: its marker, and the list of the sessions in it.
//!
//! The marker holds an identity drawn once at random. It is read again before every write, so that after an unmount
//! nothing is written into the empty mount point, nor into another folder mounted there. (The identity stands where a
//! device number could: device numbers of network shares change when they reconnect.) An index for quick searching is not
//! here, and no record is opened.

use super::disk::{WriteMode, put_whole};
use super::name::{FileRole, SessionName};
use super::open::{OpenError, read_text};
use super::seal::fingerprint;
use super::{Archive, Disk};
use std::collections::BTreeSet;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

pub(super) const MARKER: &str = "coilwright-records.txt";
const EXPLANATION: &str =
    "This folder holds coilwright sessions. Leave this file here: the program knows the folder by it.\n";
const IDENTITY_LINE: &str = "format 1 identity ";
const CHECK_LINE: &str = "check ";

/// Tells one records folder from another, wherever it is mounted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FolderIdentity(u64);

impl FolderIdentity {
    /// An identity from a random number, or one remembered from [`FolderIdentity::get`].
    pub const fn new(random: u64) -> Self {
        Self(random)
    }

    /// The identity as a marker or a folder name spells it.
    pub fn of_text(text: &str) -> Option<Self> {
        let identity = u64::from_str_radix(text, 16).ok().map(Self)?;
        (identity.to_string() == text).then_some(identity)
    }

    /// The number, for remembering.
    pub const fn get(self) -> u64 {
        self.0
    }
}

impl fmt::Display for FolderIdentity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:016x}", self.0)
    }
}

/// The sessions in the folder, newest name first in both lists.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listing {
    /// Sessions whose record is there.
    pub sessions: Vec<SessionName>,
    /// Sessions of which more is there than the record and its older generation, or of which the record is missing though
    /// something is left: to be settled ([`Archive::settle`]), offered, or shown.
    pub unsettled: Vec<SessionName>,
}

impl Archive {
    /// Opens the records folder `records` with the spool under `spool_root`. `expected` is the identity remembered for
    /// this folder, if there is one.
    ///
    /// # Errors
    /// [`FolderError::NoMarker`] where the folder or its marker is missing, [`FolderError::Another`] where the marker has
    /// another identity (something else is mounted there), else what kept us from reading the marker.
    pub fn open(
        disk: Arc<dyn Disk>,
        records: &Path,
        spool_root: &Path,
        expected: Option<FolderIdentity>,
    ) -> Result<Self, FolderError> {
        let found = read_marker(&*disk, records)?;
        let expected = expected.unwrap_or(found);
        agree(records, expected, found)?;
        Ok(Self::unseen(disk, records, spool_root, found))
    }

    /// Opens the records folder, making it and its marker first if they are not there. Of two programs doing so at once,
    /// the one that comes second takes the first one's identity. Where an identity is remembered, use [`Archive::open`]:
    /// this would mark an empty mount point.
    ///
    /// # Errors
    /// [`FolderError`] where the folder cannot be made or written, or holds a marker that is not ours.
    pub fn create(
        disk: Arc<dyn Disk>,
        records: &Path,
        spool_root: &Path,
        fresh: FolderIdentity,
    ) -> Result<Self, FolderError> {
        if let Err(FolderError::NoMarker { .. }) = read_marker(&*disk, records) {
            write_marker(&*disk, records, fresh, WriteMode::OnlyNew)?;
        }
        Self::open(disk, records, spool_root, None)
    }

    /// Opens a records folder whose marker is damaged: it is written anew with the identity remembered for the folder.
    ///
    /// # Errors
    /// [`FolderError`] where it cannot be written.
    pub fn mend(
        disk: Arc<dyn Disk>,
        records: &Path,
        spool_root: &Path,
        remembered: FolderIdentity,
    ) -> Result<Self, FolderError> {
        write_marker(&*disk, records, remembered, WriteMode::WriteOver)?;
        Self::open(disk, records, spool_root, Some(remembered))
    }

    /// The archive of a records folder known by its identity, without a look at it: for one that is not connected now. Every
    /// step goes to its spool until the folder is there.
    pub fn unseen(disk: Arc<dyn Disk>, records: &Path, spool_root: &Path, identity: FolderIdentity) -> Self {
        Self { disk, records: records.to_owned(), spool: spool_root.join(identity.to_string()), identity }
    }

    /// Lists the sessions from their file names alone, in the records folder and in the spool.
    ///
    /// # Errors
    /// [`FolderError`] where the records folder has gone or cannot be listed. A missing spool is an empty one.
    pub fn list(&self) -> Result<Listing, FolderError> {
        self.check_marker()?;
        let files = self.files_in(&self.records)?.into_iter().chain(self.files_in_spool()?);
        Ok(sort_out(&files.map(|file| (file.name, file.role)).collect()))
    }

    /// Looks whether the folder is there and still the one that was opened.
    ///
    /// # Errors
    /// [`FolderError`] where it is not.
    pub fn check_marker(&self) -> Result<(), FolderError> {
        agree(&self.records, self.identity, read_marker(&*self.disk, &self.records)?)
    }

    /// The files of sessions in `folder`, told by their names.
    pub(super) fn files_in(&self, folder: &Path) -> Result<Vec<SessionFile>, FolderError> {
        let names = self
            .disk
            .list(folder)
            .map_err(|source| FolderError::Unusable { folder: folder.to_owned(), source })?;
        let file = |file_name: &str| {
            let (name, role) = FileRole::of(file_name)?;
            Some(SessionFile { name, role, path: folder.join(file_name) })
        };
        Ok(names.iter().filter_map(|name| file(name.to_str()?)).collect())
    }

    /// The same where a missing folder is an empty one.
    pub(super) fn files_if_any(&self, folder: &Path) -> Result<Vec<SessionFile>, FolderError> {
        match self.files_in(folder) {
            Err(FolderError::Unusable { source, .. }) if source.kind() == io::ErrorKind::NotFound => {
                Ok(Vec::new())
            }
            outcome => outcome,
        }
    }

    /// Everything there is of a session in the records folder and the spool, but for its lock.
    pub(super) fn files_of(&self, name: &SessionName) -> Result<Vec<SessionFile>, FolderError> {
        let files = self.files_in(&self.records)?.into_iter().chain(self.files_in_spool()?);
        Ok(files.filter(|file| file.name == *name && file.role != FileRole::Lock).collect())
    }

    /// The files of sessions in the spool; a missing spool is an empty one.
    pub(super) fn files_in_spool(&self) -> Result<Vec<SessionFile>, FolderError> {
        let files = self.files_if_any(&self.spool)?;
        let spooled = |file: SessionFile| match file.role {
            FileRole::Record => Some(SessionFile { role: FileRole::Spool, ..file }),
            FileRole::Temporary | FileRole::Aside => Some(file),
            _ => None,
        };
        Ok(files.into_iter().filter_map(spooled).collect())
    }
}

/// A file in the records folder or the spool that belongs to a session.
#[derive(Debug)]
pub(super) struct SessionFile {
    pub(super) name: SessionName,
    pub(super) role: FileRole,
    pub(super) path: PathBuf,
}

fn sort_out(found: &BTreeSet<(SessionName, FileRole)>) -> Listing {
    let has = |name: &SessionName, role| found.contains(&(name.clone(), role));
    let mut listing = Listing::default();
    let names: BTreeSet<&SessionName> = found.iter().map(|(name, _)| name).collect();
    for name in names.into_iter().rev() {
        let recorded = has(name, FileRole::Record);
        let extra = [FileRole::Spool, FileRole::Temporary, FileRole::Aside, FileRole::ConflictCopy]
            .iter()
            .any(|&role| has(name, role));
        if recorded {
            listing.sessions.push(name.clone());
        }
        if extra || (has(name, FileRole::Older) && !recorded) {
            listing.unsettled.push(name.clone());
        }
    }
    listing
}

fn agree(folder: &Path, expected: FolderIdentity, found: FolderIdentity) -> Result<(), FolderError> {
    if expected == found {
        Ok(())
    } else {
        Err(FolderError::Another { folder: folder.to_owned(), expected, found })
    }
}

fn read_marker(disk: &dyn Disk, folder: &Path) -> Result<FolderIdentity, FolderError> {
    let folder = folder.to_owned();
    match read_text(disk, &folder.join(MARKER)) {
        Ok(opened) => match identity_in(&opened.text) {
            Some(identity) => Ok(identity),
            None if is_of_a_later_program(&opened.text) => Err(FolderError::ForeignMarker { folder }),
            None => Err(FolderError::DamagedMarker { folder }),
        },
        Err(OpenError::Missing { .. }) => Err(FolderError::NoMarker { folder }),
        Err(OpenError::Unreadable { source, .. }) => Err(FolderError::Unusable { folder, source }),
        Err(OpenError::NotText { .. }) => Err(FolderError::DamagedMarker { folder }),
        Err(_) => Err(FolderError::ForeignMarker { folder }),
    }
}

/// The identity a marker holds. Markers made before there was a check line are taken without one.
pub(super) fn identity_in(marker: &str) -> Option<FolderIdentity> {
    let line = marker.lines().find(|line| line.starts_with(IDENTITY_LINE))?.trim_end();
    let digits = line.strip_prefix(IDENTITY_LINE)?;
    let checked = check_in(marker).is_none_or(|check| check == check_of(line));
    FolderIdentity::of_text(digits).filter(|_| checked)
}

/// Whether another format stands there under a check value that is right: then it is no damage.
fn is_of_a_later_program(marker: &str) -> bool {
    let line = marker
        .lines()
        .map(str::trim_end)
        .find(|line| line.starts_with("format ") && line.contains(" identity "));
    line.is_some_and(|line| !line.starts_with(IDENTITY_LINE) && check_in(marker) == Some(&check_of(line)))
}

fn check_in(marker: &str) -> Option<&str> {
    marker.lines().find_map(|line| line.strip_prefix(CHECK_LINE)).map(str::trim_end)
}

fn check_of(identity_line: &str) -> String {
    format!("{:08X}", fingerprint(identity_line.as_bytes()))
}

/// Makes the folder and its marker. The marker appears whole, and where only a new one is wished for, one that appeared
/// meanwhile stays.
fn write_marker(
    disk: &dyn Disk,
    folder: &Path,
    identity: FolderIdentity,
    wish: WriteMode,
) -> Result<(), FolderError> {
    let line = format!("{IDENTITY_LINE}{identity}");
    let text = format!("{EXPLANATION}{line}\n{CHECK_LINE}{}\n", check_of(&line));
    match put_whole(disk, &folder.join(MARKER), text.as_bytes(), wish) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        Err(source) => Err(FolderError::Unusable { folder: folder.to_owned(), source }),
        Ok(()) => Ok(()),
    }
}

/// Why a records folder cannot be used.
#[derive(Debug)]
pub enum FolderError {
    /// No such folder, or no marker in it.
    NoMarker {
        /// Which folder.
        folder: PathBuf,
    },
    /// A marker is there and cannot be understood.
    ForeignMarker {
        /// Which folder.
        folder: PathBuf,
    },
    /// A marker is there and is damaged: emptied, cut short, or changed.
    DamagedMarker {
        /// Which folder.
        folder: PathBuf,
    },
    /// Another records folder than the one remembered.
    Another {
        /// Which folder.
        folder: PathBuf,
        /// Who it was.
        expected: FolderIdentity,
        /// Who it is.
        found: FolderIdentity,
    },
    /// The system would not let us.
    Unusable {
        /// Which folder.
        folder: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl fmt::Display for FolderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoMarker { folder } => write!(
                f,
                "the folder {} is not a records folder, or is not connected: its file {MARKER} is missing; connect it, or choose \
                 another folder",
                folder.display()
            ),
            Self::ForeignMarker { folder } => write!(
                f,
                "the file {MARKER} in {} was written by a later version of the program; use that version, or choose another \
                 folder",
                folder.display()
            ),
            Self::DamagedMarker { folder } => write!(
                f,
                "the file {MARKER} in {} is damaged; start `coilwright` with this folder on a computer that has used it before, \
                 which writes the file again, or put it back from a backup. The records themselves are not touched by this",
                folder.display()
            ),
            Self::Another { folder, expected, found } => write!(
                f,
                "the folder {} holds another records folder than before ({found} instead of {expected}); connect the right one, or \
                 start again to use this one",
                folder.display()
            ),
            Self::Unusable { folder, .. } => write!(
                f,
                "the folder {} could not be used; check that it is connected, that there is room and that you may write there",
                folder.display()
            ),
        }
    }
}

impl std::error::Error for FolderError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Unusable { source, .. } => Some(source),
            _ => None,
        }
    }
}
