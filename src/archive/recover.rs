//! Settling what an earlier run, another machine or a sync tool left beside a record.
//!
//! The rules: only the holder of the lock touches anything. Among versions exactly as the program wrote them the highest
//! revision wins, but only if it carries the record on; that question goes to the caller, who can read records. What does
//! not fit stays, under a name nothing is written over, and is reported. A record edited outside or damaged is never
//! touched, and a session whose record is gone is offered, not put back unasked: somebody may have meant to remove it.

use super::Archive;
use super::folder::SessionFile;
use super::hold::HoldError;
use super::lock::{LockAnswer, SessionLock};
use super::name::{FileRole, SessionName};
use super::open::{OpenError, OpenedSession, read_text, revision_in};
use super::seal::{Revision, Seal};
use super::write::{RecordsFault, install, keep_older, set_aside, write_temporary};
use std::io;
use std::path::{Path, PathBuf};

/// Whether the first text carries the second on: whether all that is in the second is in the first, and in its order.
pub type CarriesOn<'a> = &'a dyn Fn(&str, &str) -> bool;

/// A version of a session other than its record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// Where it lies.
    pub path: PathBuf,
    /// What it is.
    pub role: FileRole,
    /// Its text and what its check line says.
    pub opened: OpenedSession,
}

/// What came of settling a session.
#[derive(Debug, Default)]
pub struct Recovered {
    /// The record is now what lay here, written later than the record that was there.
    pub taken_over: Option<Candidate>,
    /// Versions that differ from the record; they were kept and lie where their paths say.
    pub rivals: Vec<Candidate>,
    /// Files of the session that could not be read; they were left alone, and nothing is ever written over them.
    pub unreadable: Vec<OpenError>,
    /// Nobody can lock here, for this reason: another program may write the session at the same time.
    pub unlocked: Option<io::Error>,
}

/// Writes a version into the record's place, in the order of a step.
pub(super) fn put(
    archive: &Archive,
    name: &SessionName,
    version: &OpenedSession,
    before: impl Fn(&Archive) -> Result<(), RecordsFault>,
) -> Result<(), RecordsFault> {
    let disk = &*archive.disk;
    let temporary = write_temporary(disk, &archive.records, name, version.text.as_bytes())?;
    before(archive)
        .and_then(|()| install(disk, &archive.records, &temporary, &archive.record_path(name)))
        .inspect_err(|_| drop(disk.remove(&temporary)))
}

/// All that lies about of one session, while it is locked.
pub(super) struct SessionFiles<'a> {
    archive: &'a Archive,
    name: &'a SessionName,
    pub(super) record: Option<OpenedSession>,
    /// The highest revision first.
    pub(super) others: Vec<Candidate>,
    unreadable: Vec<(FileRole, OpenError)>,
    pub(super) highest: Revision,
    /// Whether another program holds the spool copy, which is then no candidate.
    pub(super) goes_on_in_spool: bool,
    /// Keeps another program from writing the spool copy while we judge it.
    _spool_lock: Option<SessionLock>,
}

impl<'a> SessionFiles<'a> {
    /// Without the lock of the session a temporary file may be a write under way in another program, and is passed over.
    pub(super) fn gather(
        archive: &'a Archive,
        name: &'a SessionName,
        lock: Option<&SessionLock>,
    ) -> Result<Self, HoldError> {
        archive.check_marker()?;
        let mut files = archive.files_in(&archive.records)?;
        files.retain(|file| lock.is_some() || file.role != FileRole::Temporary);
        let spooled: Vec<_> =
            archive.files_in_spool()?.into_iter().filter(|file| file.name == *name).collect();
        let (mut spool_lock, mut goes_on_in_spool) = (None, false);
        if !spooled.is_empty() {
            match archive.disk.lock(&archive.spool.join(name.lock())) {
                // A copy in use belongs to a session that goes on; its program brings it in itself.
                LockAnswer::InUse => goes_on_in_spool = true,
                LockAnswer::Ours(lock) => {
                    spool_lock = Some(lock);
                    files.extend(spooled);
                }
                LockAnswer::Unsupported(_) => files.extend(spooled),
            }
        }
        let mut bench = Self {
            archive,
            name,
            record: None,
            others: Vec::new(),
            unreadable: Vec::new(),
            highest: Revision::default(),
            goes_on_in_spool,
            _spool_lock: spool_lock,
        };
        for file in files.into_iter().filter(|file| file.name == *name && file.role != FileRole::Lock) {
            bench.take_in(file)?;
        }
        bench.others = by_rank(bench.others);
        Ok(bench)
    }

    fn take_in(&mut self, file: SessionFile) -> Result<(), OpenError> {
        match read_text(&*self.archive.disk, &file.path) {
            Ok(opened) => {
                self.highest = self.highest.max(opened.seal.revision());
                if file.role == FileRole::Record {
                    self.record = Some(opened);
                } else {
                    self.others.push(Candidate { path: file.path, role: file.role, opened });
                }
            }
            // Gone since the folder was listed.
            Err(OpenError::Missing { .. }) => {}
            Err(error) if file.role == FileRole::Record => return Err(error),
            Err(error) => {
                self.highest = self.highest.max(revision_in(&*self.archive.disk, &file.path));
                self.unreadable.push((file.role, error));
            }
        }
        Ok(())
    }

    pub(super) fn record_gone(self) -> HoldError {
        if self.others.is_empty() {
            HoldError::Open(OpenError::Missing { path: self.archive.record_path(self.name) })
        } else {
            HoldError::RecordGone { name: self.name.clone(), left: self.others }
        }
    }

    /// Rivals are brought to safety before anything is put in the record's place, since that replaces the older generation.
    pub(super) fn settle(
        &mut self,
        record: &OpenedSession,
        carries_on: CarriesOn,
    ) -> Result<Recovered, RecordsFault> {
        let others = std::mem::take(&mut self.others);
        let taken_over = others.iter().find(|other| takes_over(other, record, carries_on)).cloned();
        let winner = taken_over.as_ref().map_or(record, |later| &later.opened);
        let (contained, rivals): (Vec<_>, Vec<_>) =
            others.into_iter().partition(|other| is_contained(other, winner, carries_on));
        let rivals = rivals.into_iter().map(|rival| self.protect(rival)).collect::<Result<_, _>>()?;
        if let Some(later) = &taken_over {
            put(self.archive, self.name, &later.opened, |archive| {
                keep_older(&*archive.disk, &archive.records, self.name)
            })?;
        }
        for other in contained {
            self.tidy(other.role, &other.path);
        }
        let unreadable = self.judge_unreadable(winner.seal);
        Ok(Recovered { taken_over, rivals, unreadable, unlocked: None })
    }

    /// Half-written temporary files beside a sound record never were a step anybody was told of.
    fn judge_unreadable(&mut self, record: Seal) -> Vec<OpenError> {
        let broken_off = |role, error: &OpenError| {
            role == FileRole::Temporary && record.is_sound() && matches!(error, OpenError::NotText { .. })
        };
        let (rubbish, unreadable): (Vec<_>, Vec<_>) =
            self.unreadable.drain(..).partition(|(role, error)| broken_off(*role, error));
        for (role, error) in rubbish {
            self.tidy(role, error.path());
        }
        unreadable.into_iter().map(|(_, error)| error).collect()
    }

    /// Removes what only our own writes leave; the older generation and what others put here stays. What cannot be removed
    /// is found again at the next start.
    fn tidy(&self, role: FileRole, path: &Path) {
        if matches!(role, FileRole::Temporary | FileRole::Spool) {
            let _ = self.archive.disk.remove(path);
        }
    }

    /// Moves a rival out of a place that later steps write over.
    fn protect(&self, rival: Candidate) -> Result<Candidate, RecordsFault> {
        if matches!(rival.role, FileRole::Aside | FileRole::ConflictCopy) {
            return Ok(rival);
        }
        let disk = &*self.archive.disk;
        let path = set_aside(disk, &rival.path, &self.archive.records, self.name)?;
        let _ = disk.remove(&rival.path);
        Ok(Candidate { path, role: FileRole::Aside, ..rival })
    }
}

/// Sound versions before others, then the highest revision first.
pub(super) fn by_rank(mut candidates: Vec<Candidate>) -> Vec<Candidate> {
    let rank = |candidate: &Candidate| (candidate.opened.seal.is_sound(), candidate.opened.seal.revision());
    candidates.sort_by(|a, b| rank(b).cmp(&rank(a)).then_with(|| a.path.cmp(&b.path)));
    candidates
}

fn takes_over(other: &Candidate, record: &OpenedSession, carries_on: CarriesOn) -> bool {
    other.opened.seal.is_sound()
        && record.seal.is_sound()
        && other.opened.seal.revision() > record.seal.revision()
        && carries_on(&other.opened.text, &record.text)
}

/// Whether nothing is lost if `other` goes: the record carries it on, it is the older generation of an edit, or it is a
/// write that broke off.
fn is_contained(other: &Candidate, record: &OpenedSession, carries_on: CarriesOn) -> bool {
    if other.opened.text == record.text {
        return true;
    }
    let not_later = other.opened.seal.revision() <= record.seal.revision();
    match (other.role, other.opened.seal.is_sound(), record.seal.is_sound()) {
        (FileRole::Older, true, false) => not_later,
        (FileRole::Older | FileRole::Temporary, false, true) => true,
        (_, true, true) => not_later && carries_on(&record.text, &other.opened.text),
        _ => false,
    }
}
