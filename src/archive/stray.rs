//! Files of the records folder that are not under the program's own names: a record that a person renamed, and the copies
//! that sync tools make of the shop's rack, the settings and the marker.
//!
//! A renamed record has a name to go back to: that of the session it was, as far as what lies beside tells, else one made
//! from what it holds, the same on every computer. Not here: copies of a record beside it, whose names still tell the session
//! (`leftover`).

use super::folder::{FolderError, MARKER};
use super::hold::HoldError;
use super::name::{FileRole, SessionName};
use super::open::{OpenedSession, read_text};
use super::seal::Seal;
use super::write::{RecordsFault, WriteStep};
use super::{Archive, form, rack_file, settings_file};
use crate::session::Stamp;
use std::path::{Path, PathBuf};

/// What a stray file is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StrayKind {
    /// A record under another name than the program gave it; this is the name it goes back to.
    Renamed(SessionName),
    /// A copy of the record of a session that is there.
    CopyOf(SessionName),
    /// Another version of the shop's rack.
    Rack,
    /// Another version of the settings.
    Settings,
    /// Another version of the marker.
    Marker,
}

/// A file that belongs to the folder and is under no name the program gave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stray {
    /// Where it lies.
    pub path: PathBuf,
    /// What it is.
    pub kind: StrayKind,
}

impl Archive {
    /// The stray files of the folder, by their names. What is neither a record nor named after a file of ours is not told.
    ///
    /// # Errors
    /// [`FolderError`] where the folder has gone or cannot be listed.
    pub fn strays(&self) -> Result<Vec<Stray>, FolderError> {
        self.check_marker()?;
        let listed = self
            .disk
            .list(&self.records)
            .map_err(|source| FolderError::Unusable { folder: self.records.clone(), source })?;
        let mut names: Vec<&str> = listed.iter().filter_map(|name| name.to_str()).collect();
        names.retain(|name| is_stray(name));
        names.sort_unstable();
        let stray = |name: &str| {
            let path = self.records.join(name);
            Some(Stray { kind: self.kind_of(name, &path)?, path })
        };
        Ok(names.into_iter().filter_map(stray).collect())
    }

    fn kind_of(&self, name: &str, path: &Path) -> Option<StrayKind> {
        let opened = read_text(&*self.disk, path).ok();
        if let Some((opened, begun)) = opened.and_then(|opened| begun(&opened).map(|begun| (opened, begun))) {
            return Some(self.name_for(&opened, &begun));
        }
        match () {
            () if is_copy_of(name, rack_file::NAME) => Some(StrayKind::Rack),
            () if is_copy_of(name, settings_file::NAME) => Some(StrayKind::Settings),
            () if is_copy_of(name, MARKER) => Some(StrayKind::Marker),
            () => None,
        }
    }

    /// The session a record belongs to that is under a foreign name.
    fn name_for(&self, opened: &OpenedSession, begun: &Stamp) -> StrayKind {
        let made = SessionName::new(begun, opened.fingerprint);
        let minute = made.minute();
        let files = self.files_in(&self.records).unwrap_or_default();
        let of_that_minute: Vec<_> = files.into_iter().filter(|file| file.name.minute() == minute).collect();
        let same = |file: &&super::folder::SessionFile| {
            read_text(&*self.disk, &file.path).ok().and_then(|other| self::begun(&other)) == Some(*begun)
        };
        if let Some(record) = of_that_minute.iter().filter(|file| file.role == FileRole::Record).find(same) {
            return StrayKind::CopyOf(record.name.clone());
        }
        let older = of_that_minute.iter().filter(|file| file.role == FileRole::Older).find(same);
        StrayKind::Renamed(older.map_or(made, |file| file.name.clone()))
    }

    /// Gives a renamed record the name it goes back to.
    ///
    /// # Errors
    /// [`HoldError::Taken`] where that is taken meanwhile, else what failed; then it lies where it lay.
    pub fn name_again(&self, file: &Path, name: &SessionName) -> Result<(), HoldError> {
        let _lock = self.lock_to_write(name)?;
        let record = self.record_path(name);
        let refused = |source: std::io::Error| match source.kind() {
            std::io::ErrorKind::AlreadyExists => HoldError::Taken { name: name.clone() },
            _ => RecordsFault::at(WriteStep::Rename, &record, source).into(),
        };
        self.disk.link_or_copy(file, &record).map_err(refused)?;
        self.disk
            .sync_folder(&self.records)
            .and_then(|()| self.disk.remove(file))
            .and_then(|()| self.disk.sync_folder(&self.records))
            .map_err(refused)
    }
}

/// Whether the file at a path is one of a records folder: a record, something beside one, or one of the folder's own. By its
/// name, and a record by its check line too.
pub fn is_ours(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let own = [rack_file::NAME, settings_file::NAME, MARKER].contains(&name.as_ref());
    let sealed = || read_text(&super::RealDisk, path).is_ok_and(|opened| opened.seal != Seal::None);
    own || FileRole::of(&name).is_some() || sealed()
}

/// Whether a name could be that of a stray file.
fn is_stray(name: &str) -> bool {
    let own = [rack_file::NAME, settings_file::NAME, MARKER];
    let kind = ["ron", "txt"].contains(&ending(name).unwrap_or_default());
    kind && !name.starts_with('.') && !own.contains(&name) && FileRole::of(name).is_none()
}

/// Whether a sync tool made it of the rack, the settings or the marker, as far as its name tells.
pub(super) fn is_copy_of_our_own(name: &str) -> bool {
    is_stray(name) && [rack_file::NAME, settings_file::NAME, MARKER].iter().any(|own| is_copy_of(name, own))
}

fn is_copy_of(name: &str, own: &str) -> bool {
    name.starts_with(stem(own)) && ending(name) == ending(own)
}

fn stem(name: &str) -> &str {
    name.rsplit_once('.').map_or(name, |(stem, _)| stem)
}

fn ending(name: &str) -> Option<&str> {
    name.rsplit_once('.').map(|(_, ending)| ending)
}

/// When the session of a record was begun; none where it is no record.
fn begun(opened: &OpenedSession) -> Option<Stamp> {
    form::read(&opened.text).ok().map(|read| read.record.opened)
}
