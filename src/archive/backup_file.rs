//! A whole records folder in one file, to be kept elsewhere or taken to another computer.
//!
//! A tar archive (POSIX.1-2017 pax, the ustar part), which any system can open: first what it is, then the files as they lie in
//! the folder, each record before what is beside it, and last the SHA-256 of each (FIPS 180-4), in the form that
//! `sha256sum -c` reads. A file that was cut short has no list of check values and is refused whole. Records, their other versions,
//! the rack, the marker, the wastebasket and the log of what was forgotten are in it; settings, cards and locks are not, and
//! neither is what only the spool has. Not here: putting it into a folder ([`restore`]).

pub mod restore;

use super::folder::{FolderError, MARKER};
use super::forget::LOG;
use super::name::FileRole;
use super::open::{LARGEST_RECORD, OpenError, read_bytes};
use super::{Archive, FolderIdentity, rack_file, settings_file, wastebasket};
use crate::phrase;
use crate::session::Stamp;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt;
use std::io::{self, Read, Write};
use std::path::PathBuf;

/// The entry that says what the file is.
const ABOUT: &str = "coilwright-backup.txt";
/// Its first line.
const FORMAT: &str = "coilwright backup, format 1";
/// The entry with the check values.
const CHECKS: &str = "SHA256SUMS";
/// The folder the others are in.
const FOLDER: &str = "records/";
/// The longest list of check values that is read: more than a million files.
const LONGEST_LIST: u64 = 256 * 1024 * 1024;

/// What was put into a backup.
#[derive(Debug, Default)]
pub struct BackedUp {
    /// Sessions whose record is in it.
    pub sessions: usize,
    /// Files in it.
    pub files: usize,
    /// Files of the folder that are not in it, because they cannot be read or are too large.
    pub left_out: Vec<PathBuf>,
}

/// What a backup holds, every check value of it found right.
#[derive(Debug)]
pub struct CheckedBackup {
    /// The folder it was made of.
    pub identity: FolderIdentity,
    /// How many sessions have their record in it.
    pub sessions: usize,
    /// The check value of every file, by its name below the records folder.
    pub(super) checks: BTreeMap<String, String>,
}

/// Why a backup cannot be written or read.
#[derive(Debug)]
pub enum BackupFault {
    /// The records folder cannot be used.
    Folder(FolderError),
    /// The backup cannot be read or written.
    File(io::Error),
    /// It is no backup of this program, or a later program made it.
    NotABackup,
    /// It ends before its list of check values.
    CutShort,
    /// A file in it is not the one its check value was made of.
    Changed {
        /// Its name.
        name: String,
    },
    /// A file in it has no business in a records folder.
    Foreign {
        /// Its name.
        name: String,
    },
}

impl Archive {
    /// Writes a backup of the folder; says after each file how many of all are in it.
    ///
    /// # Errors
    /// [`BackupFault`] where the folder cannot be listed or the backup not be written.
    pub fn write_backup(
        &self,
        to: &mut dyn Write,
        now: Stamp,
        done: &mut dyn FnMut(usize, usize),
    ) -> Result<BackedUp, BackupFault> {
        self.check_marker()?;
        let names = self.names_for_backup()?;
        let mut tar = tar::Builder::new(to);
        let mut backed = BackedUp::default();
        put(&mut tar, ABOUT, format!("{FORMAT}\n{}\n", phrase::backup::about(now)).as_bytes(), now)?;
        let mut checks = String::new();
        for (place, name) in names.iter().enumerate() {
            let path = self.records_folder().join(name);
            match read_bytes(&*self.disk, &path) {
                Ok(bytes) => {
                    put(&mut tar, &format!("{FOLDER}{name}"), &bytes, now)?;
                    checks.extend([&check_of(&bytes), "  ", FOLDER, name, "\n"]);
                    backed.files += 1;
                    backed.sessions += usize::from(is_record(name));
                }
                // Replaced by a rename, or gone, since the folder was listed.
                Err(OpenError::Missing { .. }) => {}
                Err(_) => backed.left_out.push(path),
            }
            done(place + 1, names.len());
        }
        put(&mut tar, CHECKS, checks.as_bytes(), now)?;
        tar.finish()?;
        Ok(backed)
    }

    /// The files that go into a backup, below the folder: the marker first, each record before what is beside it.
    fn names_for_backup(&self) -> Result<Vec<String>, FolderError> {
        let folder = self.records_folder();
        let list = |below: &str| {
            let listed = self.disk.list(&folder.join(below)).unwrap_or_default();
            listed.into_iter().filter_map(|name| name.into_string().ok()).collect::<Vec<_>>()
        };
        let own = self
            .disk
            .list(folder)
            .map_err(|source| FolderError::Unusable { folder: folder.to_owned(), source })?;
        let own = own.into_iter().filter_map(|name| name.into_string().ok());
        let discarded = list(wastebasket::FOLDER).into_iter();
        let discarded = discarded.map(|name| format!("{}/{name}", wastebasket::FOLDER));
        let mut names: Vec<String> = own.chain(discarded).filter(|name| belongs(name)).collect();
        names.sort_by_key(|name| (name != MARKER, !is_record(name), name.clone()));
        Ok(names)
    }
}

/// Reads a backup through and holds every file in it against its check value. Nothing is kept of the files.
///
/// # Errors
/// [`BackupFault`], naming the file at fault.
pub fn check_backup(from: &mut dyn Read) -> Result<CheckedBackup, BackupFault> {
    let mut found = BTreeMap::new();
    let (mut identity, mut list) = (None, None);
    let mut tar = tar::Archive::new(from);
    for (place, entry) in tar.entries()?.enumerate() {
        let mut entry =
            entry.map_err(|error| if place == 0 { BackupFault::NotABackup } else { cut(error) })?;
        let name = name_of(&entry)?;
        let most = if name == CHECKS { LONGEST_LIST } else { LARGEST_RECORD };
        let bytes = bytes_of(&mut entry, &name, most)?;
        match name.strip_prefix(FOLDER) {
            None if name == ABOUT && place == 0 => is_ours(&bytes)?,
            _ if place == 0 => return Err(BackupFault::NotABackup),
            None if name == CHECKS && list.is_none() => list = Some(bytes),
            Some(file) if belongs(file) && list.is_none() => {
                if file == MARKER {
                    identity = super::folder::identity_in(&String::from_utf8_lossy(&bytes));
                }
                found.insert(file.to_owned(), check_of(&bytes));
            }
            _ => return Err(BackupFault::Foreign { name }),
        }
    }
    let listed = listed_in(&String::from_utf8_lossy(&list.ok_or(BackupFault::CutShort)?));
    let differs = |(name, check): (&String, &String)| (listed.get(name) != Some(check)).then(|| name.clone());
    let missing = || listed.keys().find(|name| !found.contains_key(*name)).cloned();
    if let Some(name) = found.iter().find_map(differs).or_else(missing) {
        return Err(BackupFault::Changed { name });
    }
    let identity = identity.ok_or_else(|| BackupFault::Changed { name: MARKER.to_owned() })?;
    let sessions = found.keys().filter(|name| is_record(name)).count();
    Ok(CheckedBackup { identity, sessions, checks: found })
}

/// The check values of a list, by the names below the records folder.
fn listed_in(text: &str) -> BTreeMap<String, String> {
    let line = |line: &str| {
        let (check, name) = line.split_once("  ")?;
        Some((name.strip_prefix(FOLDER)?.to_owned(), check.to_owned()))
    };
    text.lines().filter_map(line).collect()
}

fn is_ours(about: &[u8]) -> Result<(), BackupFault> {
    let text = String::from_utf8_lossy(about);
    if text.lines().next() == Some(FORMAT) { Ok(()) } else { Err(BackupFault::NotABackup) }
}

fn name_of<R: Read>(entry: &tar::Entry<'_, R>) -> Result<String, BackupFault> {
    let name = String::from_utf8_lossy(&entry.path_bytes()).into_owned();
    if entry.header().entry_type().is_file() { Ok(name) } else { Err(BackupFault::Foreign { name }) }
}

fn bytes_of<R: Read>(entry: &mut tar::Entry<'_, R>, name: &str, most: u64) -> Result<Vec<u8>, BackupFault> {
    if entry.size() > most {
        return Err(BackupFault::Foreign { name: name.to_owned() });
    }
    let mut bytes = Vec::new();
    entry.read_to_end(&mut bytes).map_err(cut)?;
    if (bytes.len() as u64) < entry.size() { Err(BackupFault::CutShort) } else { Ok(bytes) }
}

/// What the reader says of an archive that ends too early.
fn cut(error: io::Error) -> BackupFault {
    match error.kind() {
        io::ErrorKind::UnexpectedEof | io::ErrorKind::Other | io::ErrorKind::InvalidData => {
            BackupFault::CutShort
        }
        _ => BackupFault::File(error),
    }
}

/// Whether a file of that name below the records folder is one that a backup holds. No name leads out of the folder.
fn belongs(name: &str) -> bool {
    match name.strip_prefix(wastebasket::FOLDER).and_then(|rest| rest.strip_prefix('/')) {
        Some(discarded) => is_of_a_session(discarded),
        None => is_of_a_session(name) || is_of_the_folder(name),
    }
}

fn is_of_a_session(name: &str) -> bool {
    let lasts = |role| !matches!(role, FileRole::Lock | FileRole::Temporary);
    !name.contains(['/', '\\']) && FileRole::of(name).is_some_and(|(_, role)| lasts(role))
}

/// The marker, the rack, the log, and what a person or a sync tool put beside them.
fn is_of_the_folder(name: &str) -> bool {
    let kind = name.rsplit_once('.').is_some_and(|(_, ending)| ["ron", "txt"].contains(&ending));
    let ours = [MARKER, rack_file::NAME, LOG].contains(&name);
    ours || (kind && !name.starts_with('.') && !name.contains(['/', '\\']) && name != settings_file::NAME)
}

fn is_record(name: &str) -> bool {
    matches!(FileRole::of(name), Some((_, FileRole::Record)))
}

fn check_of(bytes: &[u8]) -> String {
    format!("{:x}", Sha256::digest(bytes))
}

fn put(tar: &mut tar::Builder<&mut dyn Write>, name: &str, bytes: &[u8], now: Stamp) -> io::Result<()> {
    let mut header = tar::Header::new_ustar();
    header.set_mode(0o600);
    header.set_mtime(u64::try_from(now.timestamp()).unwrap_or_default());
    header.set_size(bytes.len() as u64);
    tar.append_data(&mut header, name, bytes)
}

impl From<FolderError> for BackupFault {
    fn from(error: FolderError) -> Self {
        Self::Folder(error)
    }
}

impl From<io::Error> for BackupFault {
    fn from(error: io::Error) -> Self {
        Self::File(error)
    }
}

impl fmt::Display for BackupFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Folder(error) => error.fmt(f),
            Self::File(_) => f.write_str(phrase::backup::UNREADABLE),
            Self::NotABackup => f.write_str(phrase::backup::NOT_A_BACKUP),
            Self::CutShort => f.write_str(phrase::backup::CUT_SHORT),
            Self::Changed { name } => f.write_str(&phrase::backup::changed(name)),
            Self::Foreign { name } => f.write_str(&phrase::backup::foreign(name)),
        }
    }
}

impl std::error::Error for BackupFault {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Folder(error) => error.source(),
            Self::File(error) => Some(error),
            _ => None,
        }
    }
}
