//! The commands that save the records folder in one file and put it into another folder.
//!
//! Not here: what such a file holds (`archive::backup_file`), and what this machine keeps while a folder is away (`backup`).

use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::Local;

use super::backup;
use super::outlet::NewFile;
use super::print;
use super::progress::ProgressLine;
use super::records::Empty;
use super::shell::carries_on;
use crate::archive::backup_file::{BackupFault, CheckedBackup, check_backup, restore::Meeting};
use crate::archive::{Archive, FolderError, KnownFolders, RealDisk, SessionName};
use crate::failure::Failure;
use crate::phrase::backup as words;

/// What a folder with other sessions in it is taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Others {
    /// The wrong folder.
    Refused,
    /// One to be added to.
    Merged,
}

impl Others {
    pub(super) fn asked(merge: bool) -> Self {
        if merge { Self::Merged } else { Self::Refused }
    }
}

/// Makes a backup, and reads it through before it says so.
pub(super) fn make(file: &Path, archive: &Archive) -> Result<(), Failure> {
    if let Some(brought) = backup::bring_in(archive) {
        print(&brought)?;
    }
    let mut new = NewFile::only_new(file)?;
    let mut progress = ProgressLine::begin("Saved");
    let now = Local::now().fixed_offset();
    let backed = archive
        .write_backup(new.writer(), now, &mut |done, of| progress.at(done, of))
        .map_err(|fault| Failure::new("the backup could not be made").because(fault))?;
    drop(progress);
    new.finish()?;
    checked(file)?;
    let place = file.to_string_lossy();
    print(&words::made(backed.sessions, backed.files, &place))?;
    if backed.left_out.is_empty() {
        return Ok(());
    }
    let left: Vec<String> = backed.left_out.iter().map(|path| path.to_string_lossy().into_owned()).collect();
    Err(Failure::new(words::LEFT_OUT).listing(left.iter().map(String::as_str)).way_out(words::REST_IS_THERE))
}

/// Puts a backup into a records folder, once every check value was found right.
pub(super) fn restore(
    file: &Path,
    others: Others,
    place: &(PathBuf, PathBuf),
    empty: Empty,
) -> Result<(), Failure> {
    let backup = checked(file)?;
    let (records, spool) = place;
    let archive = match Archive::open(Arc::new(RealDisk), records, spool, None) {
        Ok(archive) => archive,
        Err(FolderError::NoMarker { .. }) => made_for(&backup, place, empty)?,
        Err(error) => return Err(super::unusable(error).way_out(words::NOTHING_WRITTEN)),
    };
    let folder = records.to_string_lossy();
    let meeting = archive.meeting(&backup).map_err(refused)?;
    if let (Meeting::Other(sessions), Others::Refused) = (&meeting, others) {
        return Err(Failure::of_use(words::not_empty(&folder, sessions.len())).way_out(words::MERGE));
    }
    let mut progress = ProgressLine::begin("Restored");
    let restored = archive
        .restore_backup(&backup, &mut opened(file)?, &carries_on, &mut |done, of| progress.at(done, of))
        .map_err(|fault| {
            Failure::new("the backup was not restored whole; run the command again").because(fault)
        })?;
    drop(progress);
    print(&words::restored(restored.sessions, restored.there, restored.forgotten, &folder))?;
    if restored.beside.is_empty() {
        return Ok(());
    }
    let names: Vec<&str> = restored.beside.iter().map(SessionName::as_str).collect();
    print(&words::beside(&names.join(", ")))
}

/// A folder without a marker: one that is empty becomes the folder the backup was made of. One that this machine has used
/// before may only be away, and one with sessions stays as it is.
fn made_for(
    backup: &CheckedBackup,
    (records, spool): &(PathBuf, PathBuf),
    empty: Empty,
) -> Result<Archive, Failure> {
    let folder = records.to_string_lossy();
    let unmarked = Archive::unseen(Arc::new(RealDisk), records, spool, backup.identity);
    match unmarked.sessions_without_marker() {
        0 if empty == Empty::MountPoint && is_remembered(records) => {
            return Err(Failure::of_use(words::perhaps_away(&folder)).way_out(words::NEW_FOLDER));
        }
        0 => {}
        there => {
            return Err(Failure::of_use(words::no_marker(&folder, there)).way_out(words::NOTHING_WRITTEN));
        }
    }
    Archive::create(Arc::new(RealDisk), records, spool, backup.identity)
        .map_err(|error| super::unusable(error).way_out(words::NOTHING_WRITTEN))
}

fn is_remembered(records: &Path) -> bool {
    let place = std::path::absolute(records).unwrap_or_else(|_| records.to_owned());
    let known = super::known_folders().map(|file| KnownFolders::read(&RealDisk, &file));
    known.is_some_and(|known| known.identity_at(&place).is_some())
}

fn checked(file: &Path) -> Result<CheckedBackup, Failure> {
    check_backup(&mut opened(file)?).map_err(refused)
}

fn opened(file: &Path) -> Result<BufReader<File>, Failure> {
    let opened = File::open(file);
    opened.map(BufReader::new).map_err(|error| {
        Failure::new(format!("{} cannot be read", file.display()))
            .because(error)
            .way_out(words::NOTHING_WRITTEN)
    })
}

fn refused(fault: BackupFault) -> Failure {
    Failure::new("the backup cannot be used").because(fault).way_out(words::NOTHING_WRITTEN)
}
