//! Which sessions there are and where each lies: its record, or, where that is missing, what else is left of it.
//!
//! One look for every list, so that the first screen, the review and the commands without a screen show the same. A session
//! whose record is missing though something of it is left (it was kept in the spool while the records folder failed, or its
//! record was removed) is shown from the best version that can be read, and says where that lies. Nothing is locked or
//! touched. Not here: which records changed since they were last read ([`super::scan`]), and putting a version back
//! (`recover`).

use super::{Contents, FileStamp, IndexedSession, Trouble};
use crate::archive::folder::SessionFile;
use crate::archive::name::FileRole;
use crate::archive::open::read_text;
use crate::archive::recover::{Candidate, by_rank};
use crate::archive::stray::is_copy_of_our_own;
use crate::archive::{Archive, FolderError, SessionName};
use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Where the version of a session lies that a list shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Location {
    /// It is the record in the records folder.
    Records,
    /// There is no record; it lies in the spool on this machine.
    Spool,
    /// There is no record; it is another version beside where the record was.
    Beside,
}

impl Location {
    /// Where a version lies that is not the record.
    pub fn of_version(role: FileRole) -> Self {
        if role == FileRole::Spool { Self::Spool } else { Self::Beside }
    }
}

/// The sessions of which anything is there.
#[derive(Debug)]
pub(super) struct FolderListing {
    /// Those with a record, newest name first.
    pub(super) recorded: Vec<SessionName>,
    /// Those without, and what is left of them.
    pub(super) left: BTreeMap<SessionName, Vec<SessionFile>>,
    /// Files beside them that hold another version.
    pub(super) rivals: Vec<String>,
}

/// What a first look at the newest sessions gives.
#[derive(Debug, Default)]
pub struct Newest {
    /// The newest, newest name first.
    pub sessions: Vec<IndexedSession>,
    /// How many older ones there are besides.
    pub older: usize,
    /// Files beside these that hold another version: of a session, of the rack, of the settings or of the marker.
    pub rivals: Vec<String>,
    /// The sessions among all that have a record and such a file, newest name first.
    pub in_two_versions: Vec<SessionName>,
}

impl FolderListing {
    pub(super) fn has(&self, name: &SessionName) -> bool {
        is_among(&self.recorded, name) || self.left.contains_key(name)
    }
}

/// Whether a name is among these, newest first.
fn is_among(newest_first: &[SessionName], name: &SessionName) -> bool {
    newest_first.binary_search_by(|other| name.cmp(other)).is_ok()
}

impl Archive {
    /// The newest sessions, so many at most, read now whatever an index remembers.
    ///
    /// # Errors
    /// [`FolderError`] where the folder has gone or cannot be listed.
    pub fn newest(&self, most: usize, now: DateTime<Utc>) -> Result<Newest, FolderError> {
        let FolderListing { recorded, left, rivals } = self.there()?;
        let all = recorded.len() + left.len();
        let records = recorded.iter().take(most).map(|name| (name, None));
        let others = left.iter().rev().take(most).map(|(name, files)| (name, Some(files)));
        let mut newest: Vec<_> = records.chain(others).collect();
        newest.sort_unstable_by(|(a, _), (b, _)| b.cmp(a));
        let read = |(name, files): (&SessionName, Option<&Vec<SessionFile>>)| match files {
            None => self.read_record(name, None, now),
            Some(files) => Some(self.read_what_is_left(name, files)),
        };
        let sessions = newest.into_iter().take(most).filter_map(read).collect();
        let in_two_versions = in_two_versions(&recorded, &rivals);
        Ok(Newest { sessions, older: all.saturating_sub(most), rivals, in_two_versions })
    }

    /// The sessions that have a record and another version beside it, newest name first.
    ///
    /// # Errors
    /// [`FolderError`] where the folder has gone or cannot be listed.
    pub fn in_two_versions(&self) -> Result<Vec<SessionName>, FolderError> {
        let FolderListing { recorded, rivals, .. } = self.there()?;
        Ok(in_two_versions(&recorded, &rivals))
    }

    /// The sessions of which a copy is kept in the spool, newest name first: all there is while the records folder is away.
    ///
    /// # Errors
    /// [`FolderError`] where the spool cannot be listed. A missing spool is an empty one.
    pub fn spooled(&self) -> Result<Vec<IndexedSession>, FolderError> {
        let copies = self.files_in_spool()?.into_iter().filter(|file| file.role == FileRole::Spool);
        let read = |SessionFile { name, path, .. }: SessionFile| {
            let contents = Contents::of(read_text(&*self.disk, &path).as_ref());
            IndexedSession { name, whereabouts: Location::Spool, contents, trace: None }
        };
        let mut sessions: Vec<_> = copies.map(read).collect();
        sessions.sort_unstable_by(|a, b| b.name.cmp(&a.name));
        Ok(sessions)
    }

    /// Lists the records folder and the spool.
    pub(super) fn there(&self) -> Result<FolderListing, FolderError> {
        self.check_marker()?;
        let names = self
            .disk
            .list(&self.records)
            .map_err(|source| FolderError::Unusable { folder: self.records.clone(), source })?;
        let listed = names.iter().filter_map(|name| name.to_str());
        let of_sessions = listed.filter_map(|file| FileRole::of(file).map(|(name, role)| (file, name, role)));
        let rivals = rivals(names.iter().filter_map(|name| name.to_str()));
        let record = |(_, name, role)| (role == FileRole::Record).then_some(name);
        let mut recorded: Vec<SessionName> = of_sessions.clone().filter_map(record).collect();
        recorded.sort_unstable_by(|a, b| b.cmp(a));
        // A record has its lock and its older generation beside it: only where it is missing do they need their paths.
        let beside =
            of_sessions.filter(|(_, name, role)| *role != FileRole::Lock && !is_among(&recorded, name));
        let beside =
            beside.map(|(file, name, role)| SessionFile { name, role, path: self.records.join(file) });
        let mut left: BTreeMap<_, Vec<_>> = BTreeMap::new();
        for file in beside.chain(self.files_in_spool()?) {
            if !is_among(&recorded, &file.name) {
                left.entry(file.name.clone()).or_default().push(file);
            }
        }
        Ok(FolderListing { recorded, left, rivals })
    }

    /// A session from its record, unless its file is the one that was read before.
    pub(super) fn read_record(
        &self,
        name: &SessionName,
        known: Option<FileStamp>,
        now: DateTime<Utc>,
    ) -> Option<IndexedSession> {
        let path = self.record_path(name);
        // The trace is taken before the text is read: a change in between shows at the next check.
        let trace = FileStamp::of(&path).ok();
        if trace.is_some() && trace == known {
            return None;
        }
        let contents = Contents::of(read_text(&*self.disk, &path).as_ref());
        let lasting = !matches!(contents, Contents::Unreadable { trouble: Trouble::OutOfReach, .. });
        let trace = trace.filter(|trace| lasting && trace.is_settled(now));
        Some(IndexedSession { name: name.clone(), whereabouts: Location::Records, contents, trace })
    }

    /// A session without a record, from the best version that can be read. It has no trace: every check reads it again.
    pub(super) fn read_what_is_left(&self, name: &SessionName, files: &[SessionFile]) -> IndexedSession {
        let read = |file: &SessionFile| {
            let opened = read_text(&*self.disk, &file.path).ok()?;
            Some(Candidate { path: file.path.clone(), role: file.role, opened })
        };
        let versions = by_rank(files.iter().filter_map(read).collect());
        let readable = versions.iter().find_map(|version| {
            let contents = Contents::of(Ok(&version.opened));
            matches!(contents, Contents::Read(_)).then_some((version.role, contents))
        });
        let (role, contents) = readable.unwrap_or_else(|| {
            let because = NOTHING_READABLE.to_owned();
            (
                files.first().map_or(FileRole::Older, |file| file.role),
                Contents::Unreadable { trouble: Trouble::Damaged, because },
            )
        });
        let whereabouts = Location::of_version(role);
        IndexedSession { name: name.clone(), whereabouts, contents, trace: None }
    }
}

fn in_two_versions(recorded: &[SessionName], rivals: &[String]) -> Vec<SessionName> {
    let sessions = rivals.iter().filter_map(|file| FileRole::of(file)).map(|(name, _)| name);
    let mut names: Vec<SessionName> = sessions.filter(|name| is_among(recorded, name)).collect();
    names.sort_unstable_by(|a, b| b.cmp(a));
    names.dedup();
    names
}

/// The files among these that hold another version of something, as far as their names tell.
fn rivals<'n>(names: impl Iterator<Item = &'n str>) -> Vec<String> {
    let is_rival = |name: &&str| match FileRole::of(name) {
        Some((_, role)) => matches!(role, FileRole::Aside | FileRole::ConflictCopy),
        None => is_copy_of_our_own(name),
    };
    let mut rivals: Vec<String> = names.filter(is_rival).map(str::to_owned).collect();
    rivals.sort_unstable();
    rivals
}

/// Nothing left of a session can be read.
pub const NOTHING_READABLE: &str = "its record is gone, and what is left of it cannot be read";
