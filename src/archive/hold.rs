//! Beginning a session, taking one over for writing, and the start of the program's look at what was left.
//!
//! One program at a time holds a session; everybody else may read it. What becomes of files found beside a record is
//! decided in [`super::recover`], and how a step is written in [`super::write`].

use super::Archive;
use super::folder::{FolderError, SessionFile};
use super::lock::{LockAnswer, SessionLock};
use super::name::{FileRole, SessionName};
use super::open::{OpenError, OpenedSession, read_text};
use super::recover::{Candidate, CarriesOn, Recovered, SessionFiles, by_rank, put};
use super::seal::Revision;
use super::write::{RecordsFault, SessionWriter, WriteStep, link_aside};
use std::fmt;
use std::io;
use std::path::PathBuf;

/// The state of a session at the moment it is looked at for writing.
#[derive(Debug)]
pub enum FoundSession {
    /// The record is there, and what lay beside it is settled.
    Settled(Recovered),
    /// Another program holds the session, or nobody can lock it; nothing was touched.
    ReadOnly(ReadOnly),
    /// The record is gone, and these versions of it are left, the highest revision first.
    Offered(Vec<Candidate>),
}

/// Why a session can only be read.
#[derive(Debug)]
pub enum ReadOnly {
    /// Another program holds it.
    InUse,
    /// The folder lets nobody lock.
    NoLocks {
        /// What the system said.
        source: io::Error,
    },
}

/// A session opened.
#[derive(Debug)]
pub enum HoldOutcome {
    /// It is ours to write.
    Ours {
        /// The session.
        held: Box<SessionWriter>,
        /// The record.
        opened: OpenedSession,
        /// What was found beside it.
        settled: Recovered,
    },
    /// It can be read, and gone on with in a copy.
    ReadOnly {
        /// Why.
        why: ReadOnly,
        /// The record.
        opened: OpenedSession,
    },
}

/// Why a session could not be opened or settled.
#[derive(Debug)]
pub enum HoldError {
    /// A new session has the name of one that is there; draw another.
    Taken {
        /// The name.
        name: SessionName,
    },
    /// The records folder cannot be used.
    Folder(FolderError),
    /// The record cannot be read.
    Open(OpenError),
    /// The record is gone; these versions are left, the highest revision first ([`Archive::restore`]).
    RecordGone {
        /// Which session.
        name: SessionName,
        /// What is left.
        left: Vec<Candidate>,
    },
    /// What was found could not be put in order; it lies where it lay.
    Write(RecordsFault),
}

impl Archive {
    /// Begins a session under a name no file has yet. Nothing is written before the first [`SessionWriter::keep`]; where the
    /// records folder cannot be locked or is away, that goes to the spool.
    ///
    /// # Errors
    /// [`HoldError::Taken`] if the name is in use.
    pub fn begin(&self, name: SessionName) -> Result<SessionWriter, HoldError> {
        let lock = match self.lock_session(&name) {
            Ok(lock) => Some(lock),
            Err(ReadOnly::InUse) => return Err(HoldError::Taken { name }),
            Err(ReadOnly::NoLocks { .. }) => None,
        };
        let places = [self.record_path(&name), self.records.join(name.older()), self.spool_path(&name)];
        if places.iter().any(|path| self.disk.look(path).is_ok()) {
            return Err(HoldError::Taken { name });
        }
        Ok(SessionWriter::new(self.clone(), name, lock, Revision::default(), Vec::new()))
    }

    /// Opens a session for writing if no other program holds it, having settled what lay beside it; else for reading. Where
    /// nobody can lock, it is opened for writing all the same, and [`Recovered::unlocked`] says the risk: what another program
    /// writes meanwhile is set aside and told, never lost.
    ///
    /// # Errors
    /// [`HoldError::RecordGone`] where only other versions are left, [`HoldError::Open`] where the record cannot be read,
    /// else what failed.
    pub fn hold(&self, name: &SessionName, carries_on: CarriesOn) -> Result<HoldOutcome, HoldError> {
        self.check_marker()?;
        let (lock, unlocked) = match self.lock_session(name) {
            Ok(lock) => (Some(lock), None),
            Err(ReadOnly::NoLocks { source }) => (None, Some(source)),
            Err(why) => return Ok(HoldOutcome::ReadOnly { why, opened: self.read(name)? }),
        };
        let mut bench = SessionFiles::gather(self, name, lock.as_ref())?;
        let Some(record) = bench.record.take() else { return Err(bench.record_gone()) };
        let settled = Recovered { unlocked, ..bench.settle(&record, carries_on)? };
        let opened = self.read(name)?;
        let revision = bench.highest.max(opened.seal.revision());
        let held = SessionWriter::new(self.clone(), name.clone(), lock, revision, vec![opened.fingerprint]);
        Ok(HoldOutcome::Ours { held: Box::new(held), opened, settled })
    }

    /// Opens the spool copy of a session for writing while its records folder is away or takes nothing. What the folder holds
    /// of the session is set aside, not written over, when it takes something again, unless the copy carries it on.
    ///
    /// # Errors
    /// [`HoldError::Open`] where there is no copy or it cannot be read.
    pub fn hold_spooled(&self, name: &SessionName, carries_on: CarriesOn) -> Result<HoldOutcome, HoldError> {
        let path = self.spool_path(name);
        let lock = match self.disk.lock(&self.spool.join(name.lock())) {
            LockAnswer::Ours(lock) => Some(lock),
            LockAnswer::Unsupported(_) => None,
            LockAnswer::InUse => {
                return Ok(HoldOutcome::ReadOnly {
                    why: ReadOnly::InUse,
                    opened: read_text(&*self.disk, &path)?,
                });
            }
        };
        let opened = read_text(&*self.disk, &path)?;
        let record = self.read(name).ok().filter(|record| carries_on(&opened.text, &record.text));
        let own = record.map(|record| record.fingerprint).into_iter().collect();
        let held = SessionWriter::in_spool(self.clone(), name.clone(), lock, opened.seal.revision(), own);
        Ok(HoldOutcome::Ours { held: Box::new(held), opened, settled: Recovered::default() })
    }

    /// Settles what lies beside a session without opening it; for the start of the program.
    ///
    /// # Errors
    /// [`HoldError`] where the folder cannot be listed, the record cannot be read, or putting in order failed.
    pub fn settle(&self, name: &SessionName, carries_on: CarriesOn) -> Result<FoundSession, HoldError> {
        let lock = match self.lock_session(name) {
            Ok(lock) => lock,
            Err(why) => return Ok(FoundSession::ReadOnly(why)),
        };
        let mut bench = SessionFiles::gather(self, name, Some(&lock))?;
        match bench.record.take() {
            Some(record) => Ok(FoundSession::Settled(bench.settle(&record, carries_on)?)),
            None if bench.goes_on_in_spool => Ok(FoundSession::ReadOnly(ReadOnly::InUse)),
            None if bench.others.is_empty() => Err(bench.record_gone()),
            None => Ok(FoundSession::Offered(bench.others)),
        }
    }

    /// Puts a version that was offered in the place of a record that is gone.
    ///
    /// # Errors
    /// [`HoldError::Taken`] if the record is there after all or another program holds it, else what failed.
    pub fn restore(&self, name: &SessionName, candidate: &Candidate) -> Result<(), HoldError> {
        let _lock = self.lock_to_write(name)?;
        if self.disk.look(&self.record_path(name)).is_ok() {
            return Err(HoldError::Taken { name: name.clone() });
        }
        put(self, name, &candidate.opened, |_| Ok(()))?;
        if matches!(candidate.role, FileRole::Spool | FileRole::Temporary) {
            let _ = self.disk.remove(&candidate.path);
        }
        Ok(())
    }

    /// Puts a version in the place of a record that is damaged. The damaged file, whatever it is, keeps its bytes under a name
    /// that is never written over; that is returned.
    ///
    /// # Errors
    /// [`HoldError::Write`] where another program holds the session or the write fails; then the record is as it was.
    pub fn replace_damaged(&self, name: &SessionName, version: &Candidate) -> Result<PathBuf, HoldError> {
        let _lock = self.lock_to_write(name)?;
        let aside = link_aside(&*self.disk, &self.record_path(name), &self.records, name)?;
        put(self, name, &version.opened, |_| Ok(()))?;
        Ok(aside)
    }

    /// Reads every version of a session that can be read, the record among them, the highest revision first. Nothing is
    /// locked or touched: for a record that is damaged, or one that can only be read.
    ///
    /// # Errors
    /// [`FolderError`] where the folder has gone or cannot be listed.
    pub fn versions(&self, name: &SessionName) -> Result<Vec<Candidate>, FolderError> {
        self.check_marker()?;
        let ours = self.files_of(name)?.into_iter();
        let read = |SessionFile { path, role, .. }: SessionFile| {
            read_text(&*self.disk, &path).ok().map(|opened| Candidate { path, role, opened })
        };
        Ok(by_rank(ours.filter_map(read).collect()))
    }

    pub(super) fn lock_to_write(&self, name: &SessionName) -> Result<SessionLock, HoldError> {
        self.check_marker()?;
        let fault = |why| match why {
            ReadOnly::InUse => RecordsFault::InUse { name: name.clone() },
            ReadOnly::NoLocks { source } => {
                RecordsFault::at(WriteStep::Lock, &self.records.join(name.lock()), source)
            }
        };
        Ok(self.lock_session(name).map_err(fault)?)
    }

    /// Locks the session. Where the folder is away no sidecar is made: it would lie in an empty mount point.
    fn lock_session(&self, name: &SessionName) -> Result<SessionLock, ReadOnly> {
        if let Err(error) = self.check_marker() {
            return Err(ReadOnly::NoLocks { source: io::Error::other(error.to_string()) });
        }
        match self.disk.lock(&self.records.join(name.lock())) {
            LockAnswer::Ours(lock) => Ok(lock),
            LockAnswer::InUse => Err(ReadOnly::InUse),
            LockAnswer::Unsupported(source) => Err(ReadOnly::NoLocks { source }),
        }
    }
}

impl From<FolderError> for HoldError {
    fn from(error: FolderError) -> Self {
        Self::Folder(error)
    }
}

impl From<OpenError> for HoldError {
    fn from(error: OpenError) -> Self {
        Self::Open(error)
    }
}

impl From<RecordsFault> for HoldError {
    fn from(error: RecordsFault) -> Self {
        Self::Write(error)
    }
}

impl fmt::Display for HoldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Taken { name } => {
                write!(f, "there is a session {name} already; begin again, which draws another name")
            }
            Self::Folder(error) => error.fmt(f),
            Self::Open(error) => error.fmt(f),
            Self::RecordGone { name, left } => write!(
                f,
                "the record of the session {name} is gone, and {} other version(s) of it are left; choose one to put in its \
                 place",
                left.len()
            ),
            Self::Write(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for HoldError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Taken { .. } | Self::RecordGone { .. } => None,
            Self::Folder(error) => error.source(),
            Self::Open(error) => error.source(),
            Self::Write(error) => error.source(),
        }
    }
}
