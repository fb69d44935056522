//! The records folder asked for: made where there is none yet, known again where there was one, and done without where it is
//! away.
//!
//! After an unmount nothing tells an empty mount point from a fresh folder but what this machine remembers
//! (`archive::known_folders`). Not here: what a marker is (`archive::folder`).

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::archive::{Archive, FolderError, FolderIdentity, FolderRole, KnownFolders, RealDisk};
use crate::cli::Cli;
use crate::phrase;
use crate::text::Shown;

/// What an empty folder is taken for where another one is remembered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Empty {
    /// The place of a folder that is not connected.
    MountPoint,
    /// The folder that takes the place of the one remembered. It takes over its identity, so that what was kept on this
    /// machine meanwhile goes there.
    NewFolder,
}

impl Empty {
    pub(super) fn taken_for(cli: &Cli) -> Self {
        if cli.new_folder { Self::NewFolder } else { Self::MountPoint }
    }
}

/// The records folder, or the way to do without it.
#[derive(Debug)]
pub(super) struct Entered {
    pub(super) archive: Archive,
    /// What has to be said first.
    pub(super) note: Option<String>,
    /// Whether it is the folder itself or a copy of it.
    pub(super) role: FolderRole,
}

/// Opens the folder at `records`. `known` is the file in which this machine remembers its folders, if it has one.
pub(super) fn enter(
    records: &Path,
    spool: &Path,
    known: Option<PathBuf>,
    empty: Empty,
    fresh: FolderIdentity,
) -> Result<Entered, FolderError> {
    let place = std::path::absolute(records).unwrap_or_else(|_| records.to_owned());
    let mut known = known.map(|file| KnownFolders::read(&RealDisk, &file));
    let remembered = known.as_ref().and_then(|known| known.identity_at(&place));
    let (archive, note) = match (remembered, empty) {
        (Some(identity), Empty::MountPoint) => enter_again(records, spool, identity)?,
        (identity, _) => (create(records, spool, identity, fresh)?, None),
    };
    let mut entered = Entered { archive, note, role: FolderRole::Home };
    if let Some(known) = &mut known {
        let identity = entered.archive.identity();
        if empty == Empty::MountPoint {
            entered.role = known.role_of(&place, identity);
        }
        // Not remembered, an unmounted folder is not noticed at the next start; nothing of this one is lost.
        let _ = known.remember(&RealDisk, &place, identity, entered.role);
    }
    if entered.role == FolderRole::Copy {
        entered.archive = entered.archive.as_a_copy();
        entered.note = entered.note.or(Some(phrase::folder::a_copy(&shown(records))));
    }
    Ok(entered)
}

fn enter_again(
    records: &Path,
    spool: &Path,
    identity: FolderIdentity,
) -> Result<(Archive, Option<String>), FolderError> {
    let shown = shown(records);
    let disk = || Arc::new(RealDisk);
    Ok(match Archive::open(disk(), records, spool, Some(identity)) {
        Ok(archive) => (archive, None),
        Err(FolderError::Another { found, .. }) => {
            (Archive::open(disk(), records, spool, Some(found))?, Some(phrase::folder::another(&shown)))
        }
        Err(FolderError::DamagedMarker { .. }) => match Archive::mend(disk(), records, spool, identity) {
            Ok(archive) => (archive, Some(phrase::folder::marker_mended(&shown))),
            // It cannot be written there now; what is kept goes to the spool.
            Err(_) => (Archive::unseen(disk(), records, spool, identity), Some(phrase::folder::away(&shown))),
        },
        Err(FolderError::NoMarker { .. } | FolderError::Unusable { .. }) => {
            (Archive::unseen(disk(), records, spool, identity), Some(phrase::folder::away(&shown)))
        }
        Err(error @ FolderError::ForeignMarker { .. }) => return Err(error),
    })
}

/// A folder nobody has used here, or, on a word, in the place of the one remembered.
fn create(
    records: &Path,
    spool: &Path,
    remembered: Option<FolderIdentity>,
    fresh: FolderIdentity,
) -> Result<Archive, FolderError> {
    match (Archive::create(Arc::new(RealDisk), records, spool, remembered.unwrap_or(fresh)), remembered) {
        (Err(FolderError::DamagedMarker { .. }), Some(identity)) => {
            Archive::mend(Arc::new(RealDisk), records, spool, identity)
        }
        (outcome, _) => outcome,
    }
}

fn shown(records: &Path) -> Shown {
    Shown::from(records.to_string_lossy().as_ref())
}

#[cfg(test)]
mod tests;
