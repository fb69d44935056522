//! Putting a backup into a records folder: only what is not there, and nothing before every check value was found right.
//!
//! A folder with other sessions takes a backup on a word only. Then what differs is put beside, under a name nothing has, as a version
//! that came from elsewhere: the program settles or shows it as it does with any other. A session of a customer who was
//! forgotten in this folder does not come back. Not here: reading a backup through ([`super`]).

use super::{BackupFault, CheckedBackup, FOLDER, belongs, bytes_of, check_of, name_of};
use crate::archive::disk::{Disk, folder_of};
use crate::archive::folder::MARKER;
use crate::archive::forget::LOG;
use crate::archive::name::FileRole;
use crate::archive::open::{LARGEST_RECORD, read_bytes};
use crate::archive::recover::CarriesOn;
use crate::archive::write::make_new;
use crate::archive::{Archive, SessionName, rack_file};
use std::collections::BTreeSet;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// What there is in a folder that is to take a backup.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Meeting {
    /// No session that is not in the backup as it is there.
    Same,
    /// These sessions are not in the backup, or in another version.
    Other(Vec<SessionName>),
}

/// What came of putting a backup into a folder.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Restored {
    /// Sessions whose record was put there.
    pub sessions: usize,
    /// Sessions that were there, the same or further on.
    pub there: usize,
    /// Sessions of which the version of the backup was put beside the one that is there.
    pub beside: Vec<SessionName>,
    /// Sessions of forgotten customers, which were left out.
    pub forgotten: usize,
}

impl Archive {
    /// What the folder holds beside what the backup does.
    ///
    /// # Errors
    /// [`BackupFault::Folder`] where it cannot be listed.
    pub fn meeting(&self, backup: &CheckedBackup) -> Result<Meeting, BackupFault> {
        let differs = |name: &SessionName| {
            let bytes = read_bytes(&*self.disk, &self.record_path(name)).unwrap_or_default();
            backup.checks.get(&name.record()) != Some(&check_of(&bytes))
        };
        let others: Vec<_> = self.list()?.sessions.into_iter().filter(differs).collect();
        Ok(if others.is_empty() { Meeting::Same } else { Meeting::Other(others) })
    }

    /// How many records lie in a folder, whether it is marked or not.
    pub fn sessions_without_marker(&self) -> usize {
        let files = self.files_if_any(self.records_folder()).unwrap_or_default();
        files.iter().filter(|file| file.role == FileRole::Record).count()
    }

    /// Puts what a backup holds into the folder, where it is not there; says after each file how many of all were looked at.
    ///
    /// # Errors
    /// [`BackupFault`] where the backup is no longer the one that was checked, or the folder takes nothing. What was put there
    /// by then is whole; calling again goes on.
    pub fn restore_backup(
        &self,
        backup: &CheckedBackup,
        from: &mut dyn Read,
        carries_on: CarriesOn,
        done: &mut dyn FnMut(usize, usize),
    ) -> Result<Restored, BackupFault> {
        let mut restoring = Restoring {
            archive: self,
            forgotten: self.forgotten_sessions(),
            new: BTreeSet::new(),
            restored: Restored::default(),
            carries_on,
        };
        let mut tar = tar::Archive::new(from);
        let mut seen = 0;
        for entry in tar.entries()? {
            let mut entry = entry?;
            let name = name_of(&entry)?;
            let Some(file) = name.strip_prefix(FOLDER).filter(|file| belongs(file)) else { continue };
            let bytes = bytes_of(&mut entry, file, LARGEST_RECORD)?;
            if backup.checks.get(file) != Some(&check_of(&bytes)) {
                return Err(BackupFault::Changed { name: file.to_owned() });
            }
            restoring.take(file, &bytes)?;
            seen += 1;
            done(seen, backup.checks.len());
        }
        let folders = [self.records_folder().to_owned(), self.wastebasket()];
        for folder in folders.iter().filter(|folder| self.disk.look(folder).is_ok()) {
            self.disk.sync_folder(folder)?;
        }
        Ok(restoring.restored)
    }
}

/// A restoring under way.
struct Restoring<'a> {
    archive: &'a Archive,
    forgotten: BTreeSet<SessionName>,
    /// Sessions of which nothing was there.
    new: BTreeSet<SessionName>,
    restored: Restored,
    carries_on: CarriesOn<'a>,
}

impl Restoring<'_> {
    /// Takes one file of the backup in. Records come before what lies beside them.
    fn take(&mut self, file: &str, bytes: &[u8]) -> io::Result<()> {
        let path = self.archive.records_folder().join(file);
        let session = path.file_name().and_then(|name| FileRole::of(name.to_str()?));
        let is_discarded = folder_of(&path) != self.archive.records_folder();
        match session {
            Some((name, _)) if self.forgotten.contains(&name) => {
                // One that was made anonymous is there, and as it is in a later backup.
                let is_there = read_bytes(&*self.archive.disk, &path).is_ok_and(|there| there == bytes);
                let one = usize::from(path == self.archive.record_path(&name));
                let counted = if is_there { &mut self.restored.there } else { &mut self.restored.forgotten };
                *counted += one;
                Ok(())
            }
            Some((name, _)) if is_discarded => {
                let has_it = self.archive.disk.look(&self.archive.record_path(&name)).is_ok();
                if has_it { Ok(()) } else { self.put_if_free(&path, bytes) }
            }
            Some((name, FileRole::Record)) => self.take_record(name, &path, bytes),
            // An older version is one of the record it lay beside.
            Some((name, FileRole::Older)) if !self.new.contains(&name) => Ok(()),
            Some(_) => self.put_if_free(&path, bytes),
            None if file == MARKER => Ok(()),
            None if file == LOG => self.put_if_free(&path, bytes),
            None => self.put_beside(file, &path, bytes),
        }
    }

    fn take_record(&mut self, name: SessionName, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let disk = &*self.archive.disk;
        let Ok(there) = read_bytes(disk, path) else {
            self.put(path, bytes)?;
            self.new.insert(name);
            self.restored.sessions += 1;
            return Ok(());
        };
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        if there == bytes || (self.carries_on)(&text(&there), &text(bytes)) {
            self.restored.there += 1;
            return Ok(());
        }
        let asides = (1..).map(|number| self.archive.records_folder().join(name.aside(number)));
        if self.put_under_one_of(asides, bytes)? {
            self.restored.beside.push(name);
        } else {
            self.restored.there += 1;
        }
        Ok(())
    }

    /// The rack, or another file of the folder itself: beside the one that is there, where they differ.
    fn put_beside(&self, file: &str, path: &Path, bytes: &[u8]) -> io::Result<()> {
        if file != rack_file::NAME {
            return self.put_if_free(path, bytes);
        }
        let stem = file.strip_suffix(".ron").unwrap_or(file);
        let others = (1..).map(|number| path.with_file_name(format!("{stem} (backup {number}).ron")));
        self.put_under_one_of(std::iter::once(path.to_owned()).chain(others), bytes).map(drop)
    }

    /// Puts the bytes under the first of these names at which nothing lies, unless they lie at one already. Says whether they
    /// were put.
    fn put_under_one_of(&self, paths: impl Iterator<Item = PathBuf>, bytes: &[u8]) -> io::Result<bool> {
        for path in paths {
            match self.archive.disk.look(&path) {
                Err(error) if error.kind() == io::ErrorKind::NotFound => {
                    return self.put(&path, bytes).map(|()| true);
                }
                _ if read_bytes(&*self.archive.disk, &path).is_ok_and(|there| there == bytes) => {
                    return Ok(false);
                }
                _ => {}
            }
        }
        Ok(false)
    }

    fn put_if_free(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        match self.put(path, bytes) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
            outcome => outcome,
        }
    }

    /// Puts a file where none is, whole or not at all. The folder is made last by the caller, once for all.
    fn put(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let disk: &dyn Disk = &*self.archive.disk;
        let folder = folder_of(path);
        disk.create_folder(folder)?;
        let mut number = 0;
        let next = || {
            number += 1;
            folder.join(format!(".coilwright-restore.tmp-{}-{number}", std::process::id()))
        };
        let temporary =
            make_new(disk, next, |path| disk.create_new(path, bytes)).map_err(|(_, error)| error)?;
        let put = disk.link_or_copy(&temporary, path);
        let _ = disk.remove(&temporary);
        put
    }
}
