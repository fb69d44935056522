//! Everything the records folder, the backups on this computer, the wastebasket and the cards hold of a person: looked for,
//! not touched.
//!
//! A session is theirs by the name its record has now; one that had the name before, or has it in a note, is another's and
//! names them. Every file of a session is looked at, for an older version may say what the record no longer does. Not here:
//! what becomes of it ([`super`]).

use super::Person;
use crate::archive::folder::SessionFile;
use crate::archive::form::{self, FormError};
use crate::archive::lock::LockAnswer;
use crate::archive::name::FileRole;
use crate::archive::open::{OpenError, read_text};
use crate::archive::{Archive, FileKind, FolderError, SessionName, stray, wastebasket};
use crate::session::{Record, Stamp};
use crate::text::FreeText;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The folder of the setup cards, in the records folder.
pub const CARDS: &str = "cards";

/// What is there of a person.
#[derive(Debug, Clone, PartialEq)]
pub struct Traces {
    /// Who.
    pub person: Person,
    /// Their sessions, newest name first.
    pub sessions: Vec<TracedSession>,
    /// Sessions of others that name them.
    pub others: Vec<TracedSession>,
    /// Cards, and records under a foreign name.
    pub loose: Vec<PathBuf>,
}

/// A session with every file there is of it.
#[derive(Debug, Clone, PartialEq)]
pub struct TracedSession {
    /// Which.
    pub name: SessionName,
    /// When it was opened, as far as it could be read.
    pub opened: Option<Stamp>,
    /// The bike.
    pub bike: FreeText,
    /// Its files, the record last.
    pub files: Vec<TracedFile>,
    /// Whether a program holds it now.
    pub is_open: bool,
}

/// A file of a session.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TracedFile {
    /// Where it lies.
    pub path: PathBuf,
    /// Among what.
    pub among: Among,
    /// What it is to its session.
    pub role: FileRole,
}

/// Where a file of a session lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Among {
    /// The records.
    Records,
    /// The backups on this computer.
    Spool,
    /// What was discarded.
    Wastebasket,
}

/// What a file says of the person.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Says {
    /// Nothing that can be read.
    Nothing,
    /// It names them.
    Named,
    /// It is their session.
    Theirs,
}

/// A file looked at.
struct Looked {
    file: TracedFile,
    says: Says,
    record: Option<Record>,
}

impl Traces {
    /// Whether nothing at all is there.
    pub fn is_empty(&self) -> bool {
        self.sessions.is_empty() && self.others.is_empty() && self.loose.is_empty()
    }

    /// Every file that is removed or written again.
    pub fn files(&self) -> impl Iterator<Item = &Path> {
        let of_sessions = self.sessions.iter().chain(&self.others).flat_map(|session| &session.files);
        of_sessions.map(|file| file.path.as_path()).chain(self.loose.iter().map(PathBuf::as_path))
    }
}

impl TracedSession {
    /// Its record in the records folder.
    pub(super) fn record(&self) -> Option<&TracedFile> {
        self.files.iter().find(|file| file.is_record())
    }
}

impl TracedFile {
    /// Whether it is the record that the lists show.
    pub fn is_record(&self) -> bool {
        (self.among, self.role) == (Among::Records, FileRole::Record)
    }
}

impl Archive {
    /// Looks for everything there is of a person; says after each session how many of all were looked at.
    ///
    /// # Errors
    /// [`FolderError`] where a folder has gone or cannot be listed.
    pub fn traces(
        &self,
        person: Person,
        looked: &mut dyn FnMut(usize, usize),
    ) -> Result<Traces, FolderError> {
        self.check_marker()?;
        let files = self.files_by_session()?;
        let (mut sessions, mut others, all) = (Vec::new(), Vec::new(), files.len());
        for (place, (name, files)) in files.into_iter().rev().enumerate() {
            match self.trace(&person, name, files) {
                Some((session, Says::Theirs)) => sessions.push(session),
                Some((session, _)) => others.push(session),
                None => {}
            }
            looked(place + 1, all);
        }
        let loose = self.loose(&person, &sessions);
        Ok(Traces { person, sessions, others, loose })
    }

    /// Every file of every session, on this computer and in the folder.
    fn files_by_session(&self) -> Result<BTreeMap<SessionName, Vec<TracedFile>>, FolderError> {
        let bin = self.records_folder().join(wastebasket::FOLDER);
        let mut all: BTreeMap<_, Vec<_>> = BTreeMap::new();
        let mut take = |among, files: Vec<SessionFile>| {
            for SessionFile { name, role, path } in files {
                if role != FileRole::Lock {
                    all.entry(name).or_default().push(TracedFile { path, among, role });
                }
            }
        };
        for folder in self.spools() {
            take(Among::Spool, self.files_if_any(&folder)?);
        }
        take(Among::Wastebasket, self.files_if_any(&bin)?);
        take(Among::Records, self.files_in(self.records_folder())?);
        for files in all.values_mut() {
            // What would be found in the place of a record goes before it does.
            files.sort_by_key(TracedFile::is_record);
        }
        Ok(all)
    }

    /// The spools of this machine, whatever folder they are for.
    pub(super) fn spools(&self) -> Vec<PathBuf> {
        let root = crate::archive::disk::folder_of(self.spool_folder());
        let below = self.disk.list(root).unwrap_or_default().into_iter().map(|name| root.join(name));
        below.filter(|path| self.disk.look(path).is_ok_and(|kind| kind == FileKind::Folder)).collect()
    }

    /// What the files of a session say of the person; none where that is nothing.
    fn trace(
        &self,
        person: &Person,
        name: SessionName,
        files: Vec<TracedFile>,
    ) -> Option<(TracedSession, Says)> {
        let looked: Vec<Looked> = files.into_iter().map(|file| self.look_for(person, file)).collect();
        if looked.iter().all(|one| one.says == Says::Nothing) {
            return None;
        }
        // The record says whose it is; where it cannot, any version may.
        let most = looked.iter().map(|one| one.says).max()?;
        let own = looked.iter().find(|one| one.file.is_record());
        let says = match own {
            Some(own) if own.says == Says::Nothing && self.reads(&own.file) => Says::Named,
            Some(own) if own.record.is_some() => own.says.max(Says::Named),
            _ => most,
        };
        let shown = looked.iter().rfind(|one| one.record.is_some());
        let (opened, bike) = shown.and_then(|one| one.record.as_ref()).map_or_else(
            || (None, FreeText::default()),
            |record| (Some(record.opened), record.intake.bike_name.clone()),
        );
        let files: Vec<TracedFile> = looked.into_iter().map(|one| one.file).collect();
        let is_open = self.is_open(&name, &files);
        Some((TracedSession { name, opened, bike, files, is_open }, says))
    }

    fn look_for(&self, person: &Person, file: TracedFile) -> Looked {
        let nothing = |file| Looked { file, says: Says::Nothing, record: None };
        let text = match read_text(&*self.disk, &file.path) {
            Ok(opened) => opened.text,
            Err(OpenError::NotText { .. }) => {
                let bytes = self.disk.read(&file.path, crate::archive::LARGEST_RECORD).unwrap_or_default();
                String::from_utf8_lossy(&bytes).into_owned()
            }
            Err(_) => return nothing(file),
        };
        let named = person.is_named_in(&text);
        // A letter may be written as an escape.
        if !named && !text.contains('\\') {
            return nothing(file);
        }
        let (record, customer) = match form::read(&text) {
            Ok(read) => (Some(read.record), read.state.entered.customer),
            Err(FormError::Damaged(damage)) => {
                let readable = damage.readable;
                let customer = readable.as_ref().map(|record| record.intake.customer.clone());
                (readable, customer.unwrap_or_default())
            }
            Err(_) => (None, FreeText::default()),
        };
        let says = match () {
            () if person.is(customer.as_typed()) => Says::Theirs,
            () if named || record.as_ref().is_some_and(|record| names(person, record)) => Says::Named,
            () => Says::Nothing,
        };
        Looked { file, says, record }
    }

    fn reads(&self, file: &TracedFile) -> bool {
        read_text(&*self.disk, &file.path).is_ok_and(|opened| form::read(&opened.text).is_ok())
    }

    /// Cards, and records that somebody renamed.
    fn loose(&self, person: &Person, sessions: &[TracedSession]) -> Vec<PathBuf> {
        let folder = self.records_folder().join(CARDS);
        let cards = self.disk.list(&folder).unwrap_or_default().into_iter().map(|name| folder.join(name));
        let of_theirs = |card: &Path| {
            let stem = card.file_name().unwrap_or_default().to_string_lossy();
            sessions.iter().any(|session| stem.starts_with(session.name.as_str()))
        };
        let names_them = |path: &Path| {
            let text = read_text(&*self.disk, path).map(|opened| opened.text).unwrap_or_default();
            person.is_named_in(&text.replace("&#39;", "'").replace("&quot;", "\""))
        };
        let cards = cards.filter(|card| of_theirs(card) || names_them(card));
        let strays = self.strays().unwrap_or_default().into_iter().filter_map(|stray| {
            let record = matches!(stray.kind, stray::StrayKind::Renamed(_) | stray::StrayKind::CopyOf(_));
            let text = read_text(&*self.disk, &stray.path).ok().filter(|_| record)?.text;
            let customer = form::read(&text).ok()?.state.entered.customer;
            person.is(customer.as_typed()).then_some(stray.path)
        });
        cards.chain(strays).collect()
    }

    /// Whether a program holds the session, in the records folder or in a spool.
    fn is_open(&self, name: &SessionName, files: &[TracedFile]) -> bool {
        self.lock_folders(files)
            .iter()
            .any(|folder| matches!(self.disk.lock(&folder.join(name.lock())), LockAnswer::InUse))
    }

    /// The folders in which the files of a session are locked.
    pub(super) fn lock_folders(&self, files: &[TracedFile]) -> Vec<PathBuf> {
        let spools = files.iter().filter(|file| file.among == Among::Spool);
        let mut folders: Vec<_> = spools.filter_map(|file| Some(file.path.parent()?.to_owned())).collect();
        folders.push(self.records_folder().to_owned());
        folders.dedup();
        folders
    }
}

/// Whether any text of the record names the person.
fn names(person: &Person, record: &Record) -> bool {
    let mut found = false;
    let _ = record.with_texts(&mut |_, text| {
        found |= person.is_named_in(text.as_typed());
        text.clone()
    });
    found
}
