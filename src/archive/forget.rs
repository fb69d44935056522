//! Forgetting a person: their sessions removed, or kept as figures of nobody, in every place this computer can reach.
//!
//! A session goes file by file with its record last, so that a run that is cut off leaves the session to be forgotten again
//! and never an older version to be found in its place. Of a session kept as figures the record is written first and everything else of it
//! goes then. What was done stands in [`LOG`] beside the records, by the names of the files and not of the person; by it a
//! computer that was away knows at its return what it no longer brings in. Not here: asking (`app`).

mod person;
mod traces;

pub use crate::phrase::forget::Keeping;
pub use person::Person;
pub use traces::{Among, CARDS, TracedFile, TracedSession, Traces};

use super::disk::{WriteMode, folder_of, put_whole};
use super::form::{self, Unknown};
use super::lock::LockAnswer;
use super::name::FileRole;
use super::open::read_text;
use super::own_file::{OwnFile, OwnFileError};
use super::seal::{Revision, Seal, seal};
use super::search::fold;
use super::{Archive, FileKind, FolderError, SessionName};
use crate::phrase;
use crate::session::{Record, Stamp, TextOf};
use crate::text::FreeText;
use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What the file is called in which is written what was forgotten, and when.
pub const LOG: &str = "forgotten.txt";

/// What came of forgetting.
#[derive(Debug, Default)]
pub struct Forgotten {
    /// Sessions that are gone.
    pub removed: Vec<SessionName>,
    /// Sessions that are those of nobody now.
    pub anonymous: Vec<SessionName>,
    /// Sessions of others from which the name was taken.
    pub cleaned: Vec<SessionName>,
    /// Sessions that stay as they were, with the reason.
    pub refused: Vec<(SessionName, ForgetFault)>,
    /// Why the log does not say so; none where it does.
    pub unlogged: Option<OwnFileError>,
}

/// Why a session stays.
#[derive(Debug)]
pub enum ForgetFault {
    /// Another program holds it.
    InUse,
    /// A file could not be read, written or removed.
    File {
        /// Which.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// The words that take the place of those of one person: the same bike gets the same words in all their sessions.
struct Stand {
    customer: String,
    bikes: BTreeMap<String, usize>,
}

impl Stand {
    fn word(&mut self, person: &Person, of: TextOf, text: &FreeText) -> FreeText {
        match of {
            TextOf::Customer => FreeText::new(&self.customer),
            TextOf::Bike => {
                let next = self.bikes.len() + 1;
                let number = *self.bikes.entry(fold(text.as_typed())).or_insert(next);
                FreeText::new(&phrase::forget::bike(number))
            }
            TextOf::WorkOrder | TextOf::Note => FreeText::new(phrase::forget::REMOVED),
            TextOf::Setting | TextOf::Mechanic => person.taken_out_of(text, &self.customer),
        }
    }
}

impl Archive {
    /// Forgets what was traced; says after each session how many of all are done. What could not be done is in the answer, and the log
    /// has what was, where it could be written.
    pub fn forget(
        &self,
        traces: &Traces,
        keeping: Keeping,
        now: Stamp,
        done: &mut dyn FnMut(usize, usize),
    ) -> Forgotten {
        let mut log = self.log_file();
        let before = log.read(|text| Ok(text.to_owned())).unwrap_or_default().unwrap_or_default();
        let number = lines_in(&before) + 1;
        let mut stand = Stand { customer: phrase::forget::customer(number), bikes: BTreeMap::new() };
        let mut forgotten = Forgotten::default();
        let all = traces.sessions.len() + traces.others.len();
        let of_others = traces.others.iter().map(|session| (session, None));
        let theirs = traces.sessions.iter().map(|session| (session, Some(keeping)));
        for (place, (session, keeping)) in theirs.chain(of_others).enumerate() {
            let outcome = self.forget_session(&traces.person, session, keeping, &mut stand);
            let into = match &outcome {
                Ok(Fate::Removed) => &mut forgotten.removed,
                Ok(Fate::Anonymous) => &mut forgotten.anonymous,
                Ok(Fate::Cleaned) => &mut forgotten.cleaned,
                Err(_) => {
                    let why = outcome.err();
                    forgotten.refused.extend(why.map(|why| (session.name.clone(), why)));
                    continue;
                }
            };
            into.push(session.name.clone());
            done(place + 1, all);
        }
        for path in &traces.loose {
            // What stays is found by the look afterwards.
            let _ = self.disk.remove(path);
        }
        self.make_last(traces);
        let line = phrase::forget::log_line(now, &names(&forgotten.removed), &names(&forgotten.anonymous));
        let Some(line) = line else { return forgotten };
        let head = if before.is_empty() { phrase::forget::LOG_HEAD } else { &before };
        forgotten.unlogged = log.keep(format!("{head}{line}\n")).err();
        forgotten
    }

    fn forget_session(
        &self,
        person: &Person,
        session: &TracedSession,
        keeping: Option<Keeping>,
        stand: &mut Stand,
    ) -> Result<Fate, ForgetFault> {
        let mut locks = Vec::new();
        for folder in self.lock_folders(&session.files) {
            match self.disk.lock(&folder.join(session.name.lock())) {
                LockAnswer::Ours(lock) => locks.push(lock),
                LockAnswer::InUse => return Err(ForgetFault::InUse),
                // Where nobody can lock, nobody can be asked either.
                LockAnswer::Unsupported(_) => {}
            }
        }
        match keeping {
            Some(Keeping::Nothing) => self.remove_all(&session.files).map(|()| Fate::Removed),
            Some(Keeping::Figures) => match session.record() {
                Some(record) if self.keep_figures(person, &record.path, stand)? => {
                    self.remove_all(session.files.iter().filter(|file| *file != record))?;
                    Ok(Fate::Anonymous)
                }
                // Nothing of it can be read, so that nothing could be kept without what was typed.
                _ => self.remove_all(&session.files).map(|()| Fate::Removed),
            },
            None => {
                for file in &session.files {
                    self.clean(person, file, stand)?;
                }
                Ok(Fate::Cleaned)
            }
        }
    }

    fn remove_all<'f>(&self, files: impl IntoIterator<Item = &'f TracedFile>) -> Result<(), ForgetFault> {
        for TracedFile { path, .. } in files {
            match self.disk.remove(path) {
                Err(source) if source.kind() != io::ErrorKind::NotFound => {
                    return Err(ForgetFault::File { path: path.clone(), source });
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// Writes a record again as that of nobody. Says whether it could be read.
    fn keep_figures(&self, person: &Person, path: &Path, stand: &mut Stand) -> Result<bool, ForgetFault> {
        let Ok(opened) = read_text(&*self.disk, path) else { return Ok(false) };
        let Ok(read) = form::read(&opened.text) else { return Ok(false) };
        let record = read.record.with_texts(&mut |of, text| stand.word(person, of, text));
        // What a later program wrote into it may be anything.
        self.write_again(path, &record, &Unknown::default(), next(opened.seal))?;
        Ok(true)
    }

    /// Takes the name out of a file of another's session. An older version, which nobody needs, goes instead.
    fn clean(&self, person: &Person, file: &TracedFile, stand: &Stand) -> Result<(), ForgetFault> {
        // What cannot be read is found by the look afterwards.
        let Ok(opened) = read_text(&*self.disk, &file.path) else { return Ok(()) };
        if matches!(file.role, FileRole::Older | FileRole::Temporary) && person.is_named_in(&opened.text) {
            return self.remove_all([file]);
        }
        let Ok(read) = form::read(&opened.text) else { return Ok(()) };
        let record = read.record.with_texts(&mut |_, text| person.taken_out_of(text, &stand.customer));
        let unknown = if read.unknown.says(|text| person.is_named_in(text)) {
            Unknown::default()
        } else {
            read.unknown
        };
        if record == read.record && !person.is_named_in(&opened.text) {
            return Ok(());
        }
        let seal = if file.is_record() { next(opened.seal) } else { opened.seal };
        self.write_again(&file.path, &record, &unknown, seal)
    }

    /// Writes a record in the place of what is there. One that was not as the program wrote it does not become so.
    fn write_again(
        &self,
        path: &Path,
        record: &Record,
        unknown: &Unknown,
        sealed: Seal,
    ) -> Result<(), ForgetFault> {
        let refused = |source| ForgetFault::File { path: path.to_owned(), source };
        let body =
            form::write(record, unknown).map_err(|error| refused(io::Error::other(error.to_string())))?;
        let text = match sealed {
            Seal::Sound { revision } => seal(&body, revision),
            Seal::EditedOutside { .. } | Seal::None => body,
        };
        put_whole(&*self.disk, path, text.as_bytes(), WriteMode::WriteOver).map_err(refused)
    }

    /// Makes what was removed last in every folder.
    fn make_last(&self, traces: &Traces) {
        let folders: BTreeSet<&Path> = traces.files().map(folder_of).collect();
        for folder in folders {
            let _ = self.disk.sync_folder(folder);
        }
    }

    /// The sessions that were forgotten in this folder, by the log.
    pub fn forgotten_sessions(&self) -> BTreeSet<SessionName> {
        let log = self.records_folder().join(LOG);
        let text = read_text(&*self.disk, &log).map(|opened| opened.text).unwrap_or_default();
        let words = text.split(|letter: char| letter.is_whitespace() || [',', ':', '.'].contains(&letter));
        words.filter_map(SessionName::of_stem).collect()
    }

    /// The files that still hold the name, in the records folder and the spools: what the program cannot take it out of.
    ///
    /// # Errors
    /// [`FolderError`] where the records folder has gone.
    pub fn still_named_in(&self, person: &Person) -> Result<Vec<PathBuf>, FolderError> {
        self.check_marker()?;
        let mut open = self.spools();
        open.push(self.records_folder().to_owned());
        let mut found = Vec::new();
        while let Some(folder) = open.pop() {
            for name in self.disk.list(&folder).unwrap_or_default() {
                let path = folder.join(name);
                match self.disk.look(&path) {
                    Ok(FileKind::Folder) => open.push(path),
                    Ok(FileKind::Plain { .. }) if self.holds_name(person, &path) => found.push(path),
                    _ => {}
                }
            }
        }
        found.sort();
        Ok(found)
    }

    fn holds_name(&self, person: &Person, path: &Path) -> bool {
        let bytes = self.disk.read(path, super::LARGEST_RECORD).unwrap_or_default();
        person.is_named_in(&String::from_utf8_lossy(&bytes))
    }

    fn log_file(&self) -> OwnFile {
        OwnFile::new(Arc::clone(&self.disk), self.records_folder().join(LOG))
    }
}

/// What became of a session.
enum Fate {
    Removed,
    Anonymous,
    Cleaned,
}

/// The seal of the next version, where there was one.
fn next(seal: Seal) -> Seal {
    match seal {
        Seal::Sound { revision } => Seal::Sound { revision: Revision::next(revision) },
        other => other,
    }
}

/// How often somebody was forgotten, by a log.
fn lines_in(log: &str) -> usize {
    log.lines().filter(|line| line.starts_with(|first: char| first.is_ascii_digit())).count()
}

fn names(sessions: &[SessionName]) -> Vec<&str> {
    sessions.iter().map(SessionName::as_str).collect()
}
