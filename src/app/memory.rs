//! What the shop remembers of its sessions, brought up to date for a command that waits for the whole of it.
//!
//! The screen does not wait: it shows what is remembered and takes the news in as they come. Not here: what an index is
//! (`archive::index`).

use std::io::{self, IsTerminal, Write};
use std::path::PathBuf;

use chrono::Utc;
use directories::ProjectDirs;

use crate::archive::index::News;
use crate::archive::{Archive, Index};
use crate::failure::Failure;

/// How many files are looked at between two words about it.
const BETWEEN_WORDS: usize = 2_048;

/// The index of the folder, with every change since it was last saved.
pub(super) fn up_to_date(archive: &Archive) -> Result<Index, Failure> {
    let remembered = cache().map_or_else(|| Index::empty(archive.identity()), |cache| archive.index(&cache));
    bring_up_to_date(archive, remembered)
}

/// The same with every record read anew, whatever is remembered.
pub(super) fn read_anew(archive: &Archive) -> Result<Index, Failure> {
    bring_up_to_date(archive, Index::empty(archive.identity()))
}

fn bring_up_to_date(archive: &Archive, mut index: Index) -> Result<Index, Failure> {
    let checking = archive.check(&index, Utc::now());
    let mut progress = Progress { told: 0 };
    let news: Vec<News> = checking.all_news().inspect(|piece| progress.take(piece)).collect();
    progress.end();
    let different = index
        .take_in(news)
        .map_err(|error| Failure::new("the records folder could not be looked through").because(error))?;
    if different && let Some(cache) = cache() {
        // Without it the next start takes longer, and nobody could do anything about it now.
        let _ = index.save(&cache);
    }
    Ok(index)
}

/// Where the index lies; nowhere for a user without a home.
pub(super) fn cache() -> Option<PathBuf> {
    ProjectDirs::from("", "", "coilwright").map(|own| own.cache_dir().to_owned())
}

/// Says on a terminal how far a long look has come.
struct Progress {
    told: usize,
}

impl Progress {
    fn take(&mut self, piece: &News) {
        if let News::Looked { files, of } = piece
            && *files > self.told + BETWEEN_WORDS
            && io::stderr().is_terminal()
        {
            self.told = *files;
            let _ = write!(io::stderr(), "\rLooked at {files} of {of} records ");
        }
    }

    fn end(&self) {
        if self.told > 0 {
            let _ = write!(io::stderr(), "\r{:60}\r", "");
        }
    }
}
