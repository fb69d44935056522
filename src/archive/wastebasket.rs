//! The wastebasket: a session begun by mistake goes into a folder beside the records, and can be brought back.
//!
//! The record moves last on the way in and first on the way out, so that a power cut in between leaves it in one of the two
//! places and never only an older version of it where somebody would find that. No name is ever written over in there. Not
//! here: removing for good.

use super::disk::Disk;
use super::folder::{FolderError, SessionFile};
use super::hold::HoldError;
use super::name::{FileRole, SessionName};
use super::write::{RecordsFault, SessionWriter, WriteStep, make_new};
use super::{Archive, OpenError};
use std::path::{Path, PathBuf};

/// What the folder is called.
pub const FOLDER: &str = "wastebasket";

impl Archive {
    /// Puts a session and everything there is of it into the wastebasket. Whoever holds it lets go of it first.
    ///
    /// # Errors
    /// [`HoldError`] where another program holds it, nothing is there, or a file cannot be moved; then the record is where it
    /// was, or calling again moves what is left.
    pub fn discard(&self, name: &SessionName) -> Result<(), HoldError> {
        let _lock = self.lock_to_write(name)?;
        let mut files = self.files_of(name)?;
        if files.is_empty() {
            return Err(OpenError::Missing { path: self.record_path(name) }.into());
        }
        let bin = self.make_wastebasket()?;
        // The record, or what would be found in its place, moves last.
        files.sort_by_key(|file| (file.role == FileRole::Record, file.role == FileRole::Spool));
        let last = files.len() - 1;
        for (place, file) in files.iter().enumerate() {
            let expected = if place == last { name.record() } else { own_name(file) };
            move_into(&*self.disk, &file.path, &bin, &expected, name)?;
        }
        Ok(())
    }

    /// Brings a session back from the wastebasket, with what was beside its record.
    ///
    /// # Errors
    /// [`HoldError::Taken`] if a record of that name is there, [`HoldError::Open`] if nothing of it is in the wastebasket,
    /// else what failed.
    pub fn bring_back(&self, name: &SessionName) -> Result<(), HoldError> {
        let _lock = self.lock_to_write(name)?;
        if self.disk.look(&self.record_path(name)).is_ok() {
            return Err(HoldError::Taken { name: name.clone() });
        }
        let bin = self.wastebasket();
        let mut files: Vec<_> =
            self.files_if_any(&bin)?.into_iter().filter(|file| file.name == *name).collect();
        if files.is_empty() {
            return Err(OpenError::Missing { path: bin.join(name.record()) }.into());
        }
        files.sort_by_key(|file| file.role != FileRole::Record);
        for file in files {
            move_into(&*self.disk, &file.path, &self.records, &own_name(&file), name)?;
        }
        Ok(())
    }

    /// The sessions in the wastebasket, newest name first. Another version of a session that is still among the records is none.
    ///
    /// # Errors
    /// [`FolderError`] where it cannot be listed. A missing wastebasket is an empty one.
    pub fn discarded(&self) -> Result<Vec<SessionName>, FolderError> {
        self.check_marker()?;
        let files = self.files_if_any(&self.wastebasket())?.into_iter();
        let mut names: Vec<_> =
            files.filter(|file| file.role == FileRole::Record).map(|file| file.name).collect();
        names.sort_by(|a, b| b.cmp(a));
        names.dedup();
        Ok(names)
    }

    fn make_wastebasket(&self) -> Result<PathBuf, RecordsFault> {
        let bin = self.wastebasket();
        self.disk.create_folder(&bin).map_err(|source| RecordsFault::at(WriteStep::Folder, &bin, source))?;
        Ok(bin)
    }

    pub(super) fn wastebasket(&self) -> PathBuf {
        self.records.join(FOLDER)
    }
}

impl SessionWriter {
    /// Puts another version of the session held into the wastebasket, as it is.
    ///
    /// # Errors
    /// [`RecordsFault`] where it cannot be moved; then it lies where it lay.
    pub fn put_away(&self, version: &Path) -> Result<(), RecordsFault> {
        let archive = self.archive();
        let bin = archive.make_wastebasket()?;
        let own_name = version.file_name().unwrap_or_default().to_string_lossy();
        move_into(&*archive.disk, version, &bin, &own_name, self.name())
    }
}

fn own_name(file: &SessionFile) -> String {
    file.path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// Moves a file into another folder under the name wanted, or one of those for versions set aside where that is taken.
fn move_into(
    disk: &dyn Disk,
    file: &Path,
    folder: &Path,
    expected: &str,
    name: &SessionName,
) -> Result<(), RecordsFault> {
    let mut number = 0;
    let next = || {
        number += 1;
        folder.join(if number == 1 { expected.to_owned() } else { name.aside(number - 1) })
    };
    let to = make_new(disk, next, |path| disk.link_or_copy(file, path))
        .map_err(|(path, source)| RecordsFault::at(WriteStep::Aside, &path, source))?;
    let left = file.parent().unwrap_or(folder);
    disk.sync_folder(folder)
        .and_then(|()| disk.remove(file))
        .and_then(|()| disk.sync_folder(left))
        .map_err(|source| RecordsFault::at(WriteStep::Aside, &to, source))
}
