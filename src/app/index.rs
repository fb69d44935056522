//! What the shop remembers of its sessions, brought up to date for a command that waits for the whole of it.
//!
//! The screen does not wait: it shows what is remembered and takes the news in as they come. Not here: what an index is
//! (`archive::index`).

use std::path::PathBuf;
use std::sync::mpsc::RecvTimeoutError;

use chrono::{TimeDelta, Utc};
use directories::ProjectDirs;

use super::progress::{PATIENCE_MS, ProgressLine};
use crate::archive::index::{FolderScan, ScanNews};
use crate::archive::{Archive, Index};
use crate::failure::Failure;

/// The index of the folder, with every change since it was last saved.
pub(super) fn up_to_date(archive: &Archive) -> Result<Index, Failure> {
    let remembered = cache().map_or_else(|| Index::empty(archive.identity()), |cache| archive.index(&cache));
    bring_up_to_date(archive, remembered)
}

/// The same with every record read anew, whatever is remembered.
pub(super) fn read_again(archive: &Archive) -> Result<Index, Failure> {
    bring_up_to_date(archive, Index::empty(archive.identity()))
}

fn bring_up_to_date(archive: &Archive, mut index: Index) -> Result<Index, Failure> {
    let news = all_news(&archive.check(&index, Utc::now()));
    let different = index
        .take_in(news)
        .map_err(|error| Failure::new("the records folder could not be looked through").because(error))?;
    if different && let Some(cache) = cache() {
        // Without it the next start takes longer, and nobody could do anything about it now.
        let _ = index.save(&cache);
    }
    Ok(index)
}

/// Waits for the end of a check, saying how far it is.
fn all_news(checking: &FolderScan) -> Vec<ScanNews> {
    let mut progress = ProgressLine::begin("Looked at");
    let mut news = Vec::new();
    loop {
        match checking.next(TimeDelta::milliseconds(PATIENCE_MS)) {
            Ok(ScanNews::Looked { files, of }) => progress.at(files, of),
            Ok(piece) => news.push(piece),
            Err(RecvTimeoutError::Timeout) if news.is_empty() => progress.listing(),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return news,
        }
    }
}

/// Where the index lies; nowhere for a user without a home.
pub(super) fn cache() -> Option<PathBuf> {
    ProjectDirs::from("", "", "coilwright").map(|own| own.cache_dir().to_owned())
}
