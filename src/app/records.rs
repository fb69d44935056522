//! The records folder asked for: made where there is none yet, known again where there was one, and done without where it is
//! away.
//!
//! After an unmount nothing tells an empty mount point from a fresh folder but what this machine remembers
//! (`archive::known_folders`). Not here: what a marker is (`archive::folder`).

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::archive::{Archive, FolderError, FolderIdentity, KnownFolders, RealDisk};
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

/// The records folder, or the way to do without it.
#[derive(Debug)]
pub(super) struct Entered {
    pub(super) archive: Archive,
    /// What has to be said first.
    pub(super) note: Option<String>,
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
    let entered = match (remembered, empty) {
        (Some(identity), Empty::MountPoint) => enter_again(records, spool, identity)?,
        (identity, _) => {
            let identity = identity.unwrap_or(fresh);
            Entered { archive: Archive::create(Arc::new(RealDisk), records, spool, identity)?, note: None }
        }
    };
    if let Some(known) = &mut known {
        // Not remembered, an unmounted folder is not noticed at the next start; nothing of this one is lost.
        let _ = known.remember(&RealDisk, &place, entered.archive.identity());
    }
    Ok(entered)
}

fn enter_again(records: &Path, spool: &Path, identity: FolderIdentity) -> Result<Entered, FolderError> {
    let shown = Shown::from(records.to_string_lossy().as_ref());
    let (archive, note) = match Archive::open(Arc::new(RealDisk), records, spool, Some(identity)) {
        Ok(archive) => (archive, None),
        Err(FolderError::Another { found, .. }) => {
            let archive = Archive::open(Arc::new(RealDisk), records, spool, Some(found))?;
            (archive, Some(phrase::folder::another(&shown)))
        }
        Err(FolderError::NoMarker { .. } | FolderError::Unusable { .. }) => {
            let archive = Archive::unseen(Arc::new(RealDisk), records, spool, identity);
            (archive, Some(phrase::folder::away(&shown)))
        }
        Err(error @ FolderError::ForeignMarker { .. }) => return Err(error),
    };
    Ok(Entered { archive, note })
}

#[cfg(test)]
mod tests;
