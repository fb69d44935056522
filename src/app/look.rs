//! Looking at what is kept without holding it: all sessions from memory with a check behind them, and one in full.
//!
//! Not here: opening a record for going on (`shell`), and commands that wait for the whole check (`index`).

use std::error::Error;
use std::path::PathBuf;

use chrono::Utc;

use super::forget::{self, TraceFault};
use super::said::{cleaned, sentence};
use super::tally::Counting;
use crate::archive::forget::{Keeping, Traces};
use crate::archive::form::{self, FormError};
use crate::archive::index::{FolderScan, Location, NOTHING_READABLE, ScanNews};
use crate::archive::{Archive, Candidate, FileRole, Index, OpenError, Register, SessionName};
use crate::assets;
use crate::phrase;
use crate::screen::effect::{
    Answer, BackgroundNews, Behind, CountNews, FoundRecord, PastRecord, StorageState,
};
use crate::session::Record;
use crate::text::FreeText;

/// The look at all sessions, and the reading of each for the tally.
#[derive(Debug)]
pub(super) struct Looking {
    /// Where the index lies; nowhere for a user without a home.
    cache: Option<PathBuf>,
    checking: Option<FolderScan>,
    counting: Option<Counting>,
}

impl Looking {
    /// Nothing looked at yet.
    pub(super) fn new(cache: Option<PathBuf>) -> Self {
        Self { cache, checking: None, counting: None }
    }

    /// What is remembered; a check of it goes on behind.
    pub(super) fn begin(&mut self, archive: &Archive) -> Index {
        let cache = self.cache.as_deref();
        let index = cache.map_or_else(|| Index::empty(archive.identity()), |cache| archive.index(cache));
        self.checking = Some(archive.check(&index, Utc::now()));
        index
    }

    /// Saves what is now known. Where it cannot be, the next start takes longer and nothing else is lost.
    pub(super) fn remember(&self, index: &Index) {
        if let Some(cache) = &self.cache {
            let _ = index.save(cache);
        }
    }

    /// Everything there is of a customer; those whose names are nearly this one are taken from what is remembered.
    pub(super) fn trace(&self, archive: &Archive, customer: &FreeText) -> Answer {
        let register = self.cache.as_deref().map(|cache| Register::of(&archive.index(cache)));
        match forget::traced(archive, &[customer.as_typed()], register.as_ref(), &mut |_, _| ()) {
            Ok(found) => Answer::Traced(Box::new(found)),
            Err(TraceFault::NoName) => Answer::Failed(phrase::forget::NAMELESS.to_owned()),
            Err(TraceFault::Folder(sentence) | TraceFault::Nobody { sentence, .. }) => {
                Answer::Failed(sentence)
            }
        }
    }

    /// Forgets a customer. What a look under way still finds is of before, and is dropped with it.
    pub(super) fn forget(&mut self, archive: &Archive, traces: &Traces, keeping: Keeping) -> Answer {
        (self.checking, self.counting) = (None, None);
        let outcome = forget::forget(archive, traces, keeping, self.cache.as_deref(), &mut |_, _| ());
        Answer::Forgotten(Box::new(outcome))
    }

    /// Begins to read every session for the tally.
    pub(super) fn begin_counting(&mut self, archive: &Archive) {
        self.counting = Some(Counting::begin(archive));
    }

    /// Reads no more of them.
    pub(super) fn stop_counting(&mut self) {
        self.counting = None;
    }

    /// What either found since the last call.
    pub(super) fn behind(&mut self) -> Behind {
        let scanned = self.scanned().map(|news| news.into_iter().map(BackgroundNews::Scanned).collect());
        let counted = self.counted().map(|news| news.into_iter().map(BackgroundNews::Counted).collect());
        let both: Vec<Vec<BackgroundNews>> = [scanned, counted].into_iter().flatten().collect();
        if both.is_empty() { Behind::Nothing } else { Behind::News(both.into_iter().flatten().collect()) }
    }

    /// What was counted; none where nobody counts.
    fn counted(&mut self) -> Option<Vec<CountNews>> {
        let news = self.counting.as_ref()?.news();
        if news.iter().any(|piece| matches!(piece, CountNews::Done | CountNews::Failed(_))) {
            self.counting = None;
        }
        Some(news)
    }

    /// What the check found; none where no check goes on.
    fn scanned(&mut self) -> Option<Vec<ScanNews>> {
        let checking = self.checking.as_ref()?;
        let news: Vec<ScanNews> = checking.news().collect();
        if news.iter().any(|piece| matches!(piece, ScanNews::Done | ScanNews::Failed(_))) {
            self.checking = None;
        }
        Some(news)
    }
}

/// A demonstration, opened.
pub(super) fn demonstration(index: usize) -> Answer {
    let Some(demonstration) = assets::DEMONSTRATIONS.get(index) else {
        return Answer::Failed("There is no such demonstration.".to_owned());
    };
    match form::read(demonstration.text) {
        Ok(read) => Answer::Opened {
            record: Box::new(read.record),
            keeping: StorageState::ReadOnly {
                because: "This is a demonstration with invented figures, view only.".to_owned(),
            },
            note: None,
        },
        Err(error) => Answer::Failed(sentence(&error)),
    }
}

/// One record, read without being held.
pub(super) fn at(archive: &Archive, name: SessionName) -> PastRecord {
    let found = match archive.read(&name) {
        Ok(opened) => match form::read(&opened.text) {
            Ok(read) if opened.seal.is_sound() => FoundRecord::Sound(read.record),
            Ok(read) => FoundRecord::Edited(read.record),
            Err(error) => unreadable(&error, before(archive, &name), readable(error.clone())),
        },
        Err(error @ OpenError::Missing { .. }) => {
            what_is_left(archive, &name).unwrap_or_else(|| unreadable(&error, None, None))
        }
        Err(error) => unreadable(&error, before(archive, &name), None),
    };
    PastRecord { name, found }
}

/// Whether the record is there, can be read from its disk, and is none.
pub(super) fn is_damaged(archive: &Archive, name: &SessionName) -> bool {
    match archive.read(name) {
        Ok(opened) => form::read(&opened.text).is_err(),
        Err(OpenError::Missing { .. } | OpenError::Unreadable { .. }) => false,
        Err(_) => true,
    }
}

/// The best of these versions that can be read, which come best first.
pub(super) fn best(versions: &[Candidate]) -> Option<(&Candidate, Record)> {
    versions.iter().find_map(|version| Some((version, form::read(&version.opened.text).ok()?.record)))
}

/// The best version of a session whose record is not there; none where nothing is left.
fn what_is_left(archive: &Archive, name: &SessionName) -> Option<FoundRecord> {
    let versions = archive.versions(name).unwrap_or_default();
    let nothing =
        || FoundRecord::Unreadable { because: cleaned(NOTHING_READABLE), readable: None, before: None };
    let left = |(version, record): (&Candidate, _)| FoundRecord::Left {
        record,
        whereabouts: Location::of_version(version.role),
    };
    (!versions.is_empty()).then(|| best(&versions).map_or_else(nothing, left))
}

/// A session whose record somebody removed, and the version before its last step, to be gone on with on a word.
pub(super) fn removed(name: SessionName, before: Record) -> PastRecord {
    let because = phrase::folder::REMOVED.to_owned();
    PastRecord {
        name,
        found: FoundRecord::Unreadable { because, readable: None, before: Some(Box::new(before)) },
    }
}

/// The older version of a session of which nothing else is left.
pub(super) fn only_the_older(archive: &Archive, name: &SessionName) -> Option<Candidate> {
    let mut versions = archive.versions(name).ok()?;
    let only = versions.iter().all(|version| version.role == FileRole::Older);
    (only && !versions.is_empty()).then(|| versions.remove(0))
}

fn unreadable(error: &dyn Error, before: Option<Box<Record>>, readable: Option<Record>) -> FoundRecord {
    FoundRecord::Unreadable { because: sentence(error), readable, before }
}

fn readable(error: FormError) -> Option<Record> {
    match error {
        FormError::Damaged(damage) => damage.readable,
        FormError::Newer { .. } | FormError::NotARecord | FormError::Unwritable(_) => None,
    }
}

fn before(archive: &Archive, name: &SessionName) -> Option<Box<Record>> {
    version_before_damage(archive, name).map(|(_, record)| Box::new(record))
}

/// The latest version beside a damaged record that is whole. None where the record reads, is gone, or was written by a later
/// program: nothing is wrong with those, and going back behind them is nothing to offer.
pub(super) fn version_before_damage(archive: &Archive, name: &SessionName) -> Option<(Candidate, Record)> {
    match archive.read(name).map(|opened| form::read(&opened.text)) {
        Ok(Ok(_) | Err(FormError::Newer { .. })) | Err(OpenError::Missing { .. }) => return None,
        Ok(Err(_)) | Err(_) => {}
    }
    let versions = archive.versions(name).ok()?.into_iter();
    let mut beside =
        versions.filter(|version| version.role != FileRole::Record && version.opened.seal.is_sound());
    beside.find_map(|version| {
        let record = form::read(&version.opened.text).ok()?.record;
        Some((version, record))
    })
}
