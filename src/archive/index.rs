//! The memory of a records folder: what a list wants of every session, in one file in the user's local cache folder.
//!
//! The records are the only truth; this can be thrown away at any time. It is shown at once, while a check in the
//! background ([`scan`]) looks which files are no longer those that were read and reads only these anew. An index that
//! does not fit (another folder, format or program, a byte wrong) is dropped in silence, and the check rebuilds it. It never
//! lies beside the records: there other programs and sync tools would see it, and a share would carry it about.
//!
//! Not here: finding by words ([`super::search`]).

mod encoding;
mod file_stamp;
mod location;
pub mod scan;
mod summary;

pub use file_stamp::FileStamp;
pub use location::{Location, NOTHING_READABLE, Newest};
pub use scan::{FolderScan, ScanNews};
pub use summary::{Contents, MarkedReadings, SessionSummary, Trouble, WorkSummary};

use super::disk::{WriteMode, put_whole};
use super::{Archive, Disk, FolderError, FolderIdentity, RealDisk, SessionName};
use serde::{Deserialize, Serialize};
use std::io;
use std::path::{Path, PathBuf};

/// The largest index read back, in bytes: more than a million sessions.
const LARGEST_INDEX: u64 = 512 * 1024 * 1024;

/// A session as the index knows it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct IndexedSession {
    /// Its name.
    pub name: SessionName,
    /// Where the version lies that was read.
    pub whereabouts: Location,
    /// What it holds.
    pub contents: Contents,
    /// The file that was read; none where it has to be read again at the next check whatever the folder says, because it
    /// was too fresh, or because it could not be read.
    pub(super) trace: Option<FileStamp>,
}

impl IndexedSession {
    /// A session whose file was not looked at; the next check reads it.
    pub fn untraced(name: SessionName, contents: Contents) -> Self {
        Self { name, whereabouts: Location::Records, contents, trace: None }
    }
}

/// All sessions of one records folder, newest name first.
#[derive(Clone, Debug, PartialEq)]
pub struct Index {
    identity: FolderIdentity,
    sessions: Vec<IndexedSession>,
}

impl Index {
    /// An index that knows nothing yet.
    pub fn empty(identity: FolderIdentity) -> Self {
        Self { identity, sessions: Vec::new() }
    }

    /// The index of this folder as it was last saved below `cache`, or an empty one if there is none that fits.
    pub fn load(cache: &Path, identity: FolderIdentity) -> Self {
        let bytes = RealDisk.read(&path_below(cache, identity), LARGEST_INDEX);
        let sessions = bytes.ok().and_then(|bytes| encoding::decode(&bytes, identity)).unwrap_or_default();
        Self { identity, sessions }
    }

    /// Saves the index below `cache`, whole or not at all. Where two programs save at once, one of them wins.
    ///
    /// # Errors
    /// What the system says; an index that could not be saved costs time at the next start and nothing else.
    pub fn save(&self, cache: &Path) -> io::Result<()> {
        let bytes = encoding::encode(self.identity, &self.sessions).map_err(io::Error::other)?;
        put_whole(&RealDisk, &path_below(cache, self.identity), &bytes, WriteMode::WriteOver)
    }

    /// The sessions, newest name first.
    pub fn sessions(&self) -> &[IndexedSession] {
        &self.sessions
    }

    /// Takes in what a check found, in any number of portions. Says whether anything is different now.
    ///
    /// # Errors
    /// [`FolderError`] where the check says that the folder could not be listed; what was known stays known.
    pub fn take_in(&mut self, news: impl IntoIterator<Item = ScanNews>) -> Result<bool, FolderError> {
        let (mut fresh, mut gone) = (Vec::new(), Vec::new());
        for piece in news {
            match piece {
                ScanNews::Read(sessions) => fresh.extend(sessions),
                ScanNews::Gone(names) => gone.extend(names),
                ScanNews::Looked { .. } | ScanNews::Done => {}
                ScanNews::Failed(error) => return Err(error),
            }
        }
        let changed = self.put(fresh) || !gone.is_empty();
        if !gone.is_empty() {
            gone.sort_unstable();
            self.sessions.retain(|session| gone.binary_search(&session.name).is_err());
        }
        Ok(changed)
    }

    /// Puts what was read anew in the place of what was known, or beside it. Says whether anything differs.
    fn put(&mut self, fresh: Vec<IndexedSession>) -> bool {
        let known = self.sessions.len();
        let mut different = false;
        for anew in fresh {
            match self.sessions[..known].binary_search_by(|session| anew.name.cmp(&session.name)) {
                Ok(place) => {
                    let session = &mut self.sessions[place];
                    different |= *session != anew;
                    *session = anew;
                }
                Err(_) => self.sessions.push(anew),
            }
        }
        let more = self.sessions.len() > known;
        if more {
            // Stable, and of two of one name the later stays.
            self.sessions.sort_by(|a, b| b.name.cmp(&a.name));
            self.sessions.dedup_by(|later, earlier| {
                let same = later.name == earlier.name;
                if same {
                    std::mem::swap(later, earlier);
                }
                same
            });
        }
        different || more
    }

    /// What is known of each file, newest name first, for a check.
    fn traces(&self) -> Vec<(SessionName, Option<FileStamp>)> {
        self.sessions.iter().map(|session| (session.name.clone(), session.trace)).collect()
    }
}

impl Archive {
    /// The index of this folder as it was last saved below `cache`.
    pub fn index(&self, cache: &Path) -> Index {
        Index::load(cache, self.identity)
    }
}

fn path_below(cache: &Path, identity: FolderIdentity) -> PathBuf {
    cache.join(format!("{identity}.index"))
}
