//! The shell of the screen: begins, opens, keeps and lists records through the archive, and reads the clock.
//!
//! Not here: the steps of a write (`archive::write`) and the form of a record (`archive::form`).

use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::Local;

use super::hand_over::Desktop;
use super::look::{self, Looking};
use super::said::{cleaned, note, read_only, sentence};
use super::{backup, hand_over, merge, own_files, random, stock, table};
use crate::archive::form::{self, Unknown};
use crate::archive::index::NOTHING_READABLE;
use crate::archive::{
    Archive, Candidate, FileRole, HoldError, HoldOutcome, OpenError, OwnFile, RealDisk, Revision, Seal,
    SessionName, SessionWriter, StoredIn, open::read_text, settings_file,
};
use crate::assets;
use crate::phrase;
use crate::screen::effect::{Answer, Behind, Effect, SessionList, SettingsFile, Shell, StorageState};
use crate::screen::model::Shelf;
use crate::session::{Record, Stamp};
use crate::settings::Settings;
use crate::text::Shown;
use crate::units::UnitSet;

/// How often another random part is drawn for a name that is taken.
const DRAWS: u32 = 32;

/// A record put back from the spool.
const IN_THE_SPOOL: &str = "This session was saved only in the spool on this computer, because the records folder did not \
                            take it; it has been put into the records folder now.";
/// A record put back from a version beside it.
const BESIDE_IT: &str =
    "The record of this session was gone; the last version found beside it has been put in its place.";
/// A session without a record that cannot be put back.
const ONLY_WHAT_IS_LEFT: &str = "The record of this session is not in the records folder and cannot be put there now: \
                                 another program has it open, or the folder takes nothing. What was found of it can be \
                                 looked at.";

/// The workshop round the screen.
#[derive(Debug)]
pub struct DiskShell {
    archive: Archive,
    looking: Looking,
    springs: OwnFile,
    settings: OwnFile,
    open: Option<OpenRecord>,
    desktop: Desktop,
}

/// The record held for writing.
#[derive(Debug)]
struct OpenRecord {
    held: SessionWriter,
    /// What a later program wrote into it and this one does not know; it goes back with every save.
    unknown: Unknown,
}

impl DiskShell {
    /// A workshop with its records, remembering what it knows of them in the cache folder, if there is one.
    pub fn new(archive: Archive, cache: Option<PathBuf>) -> Self {
        let springs = archive.rack_file();
        let settings = own_file(archive.records_folder().join(settings_file::NAME));
        Self {
            archive,
            looking: Looking::new(cache),
            springs,
            settings,
            open: None,
            desktop: Desktop::Nothing,
        }
    }

    /// The workshop with its settings in that file; without a word they lie beside its records.
    #[must_use]
    pub fn with_settings_in(self, file: PathBuf) -> Self {
        Self { settings: own_file(file), ..self }
    }

    /// The workshop with a desktop to show pages on.
    #[must_use]
    pub fn with_desktop(self, desktop: Desktop) -> Self {
        Self { desktop, ..self }
    }

    /// The settings.
    pub fn settings(&mut self) -> SettingsFile {
        own_files::read_settings(&mut self.settings)
    }

    /// What the first screen lists.
    pub fn shelf(&mut self, folder: String) -> Shelf {
        let past = stock::past(&self.archive);
        let demonstrations = assets::DEMONSTRATIONS.iter().map(|one| one.title.to_owned()).collect();
        Shelf { folder, past, rack: own_files::read_rack(&mut self.springs), demonstrations, discarded: None }
    }

    /// What there is, after what was kept on this machine has gone home, where the folder is back.
    fn list(&self) -> SessionList {
        let brought = backup::bring_in(&self.archive);
        let past = stock::past(&self.archive);
        SessionList { note: brought.or(past.note), ..past }
    }

    fn hand_over(&mut self, record: &Record, name: Option<SessionName>, units: UnitSet) -> Answer {
        let held = self.open.as_ref().map(|open| open.held.name().clone());
        // A demonstration lies in no file; its own time names it.
        let name = name.or(held).unwrap_or_else(|| SessionName::new(&record.opened, 0));
        let settings = match self.settings() {
            SettingsFile::Read(settings) => *settings,
            SettingsFile::Unreadable(_) => Settings::default(),
        };
        // What lies in no file was changed by nobody else.
        let path = self.archive.record_path(&name);
        let seal = read_text(&RealDisk, &path)
            .map_or(Seal::Sound { revision: Revision::default() }, |file| file.seal);
        let (name, records) = (name.to_string(), self.archive.records_folder());
        Answer::Said(hand_over::hand_over((record, seal), &name, records, &settings, (units, self.desktop)))
    }

    fn begin(&mut self, opened: Stamp) -> Answer {
        for _ in 0..DRAWS {
            // The name keeps the low 24 bits.
            let drawn = u32::try_from(random() & 0x00ff_ffff).unwrap_or_default();
            match self.archive.begin(SessionName::new(&opened, drawn)) {
                Ok(held) => {
                    self.open = Some(OpenRecord { held, unknown: Unknown::default() });
                    return Answer::Done;
                }
                Err(HoldError::Taken { .. }) => {}
                Err(error) => return Answer::Kept(StorageState::OnlyInMemory { because: sentence(&error) }),
            }
        }
        Answer::Kept(StorageState::OnlyInMemory {
            because: "No free name was found for a new record.".to_owned(),
        })
    }

    fn open(&mut self, name: &SessionName) -> Answer {
        // The lock of a record held before must go first, or it would refuse this one.
        self.open = None;
        if look::is_damaged(&self.archive, name) {
            // Holding it would settle what lies beside it, and that is what a damaged record may be mended from.
            return Answer::LookedAt(Box::new(look::at(&self.archive, name.clone())));
        }
        match self.archive.hold(name, &carries_on) {
            Err(HoldError::RecordGone { left, .. }) => self.put_back(name, &left),
            Err(HoldError::Open(OpenError::Missing { .. })) => self.look_at_what_is_left(name),
            Err(HoldError::Folder(_)) => self.go_on_in_spool(name, phrase::folder::FROM_THE_SPOOL),
            Err(HoldError::Write(fault)) => {
                match self.go_on_in_spool(name, &phrase::folder::folder_takes_nothing(&sentence(&fault))) {
                    // Nothing is kept of it on this machine.
                    Answer::Failed(_) => Answer::Failed(sentence(&fault)),
                    answer => answer,
                }
            }
            Err(HoldError::Open(_)) => Answer::LookedAt(Box::new(look::at(&self.archive, name.clone()))),
            held => self.take_up(held),
        }
    }

    /// Goes on from what the spool holds of a session while the records folder is away or takes nothing.
    fn go_on_in_spool(&mut self, name: &SessionName, because: &str) -> Answer {
        let mut answer = self.take_up(self.archive.hold_spooled(name, &carries_on));
        if let Answer::Opened { keeping: keeping @ StorageState::Kept, note, .. } = &mut answer {
            *note = None;
            *keeping = StorageState::InSpool { because: because.to_owned() };
        }
        answer
    }

    /// Puts the version before the damage in the place of a damaged record, and opens it. A record that somebody mended, or a
    /// later program wrote, since it was looked at is opened as it is.
    fn replace_damaged(&mut self, name: &SessionName) -> Answer {
        self.open = None;
        if let Some(version) = look::only_the_older(&self.archive, name)
            && self.archive.restore(name, &version).is_ok()
        {
            let mut answer = self.open(name);
            if let Answer::Opened { note, .. } = &mut answer {
                *note = Some(BESIDE_IT.to_owned());
            }
            return answer;
        }
        let Some((version, _)) = look::version_before_damage(&self.archive, name) else {
            return self.open(name);
        };
        let aside = match self.archive.replace_damaged(name, &version) {
            Ok(aside) => aside,
            Err(error) => return Answer::Failed(sentence(&error)),
        };
        let mut answer = self.open(name);
        if let Answer::Opened { note, .. } = &mut answer {
            *note = Some(phrase::folder::replaced(&file_name(&aside)));
        }
        answer
    }

    /// Puts the best version left of a session in the place of its record, which is gone, and opens it.
    fn put_back(&mut self, name: &SessionName, left: &[Candidate]) -> Answer {
        let Some((version, record)) = look::best(left) else {
            return self.look_at_what_is_left(name);
        };
        if left.iter().all(|version| version.role == FileRole::Older) {
            // Somebody removed the record; an older version brings it back on a word only.
            return Answer::LookedAt(Box::new(look::removed(name.clone(), record)));
        }
        if self.archive.restore(name, version).is_err() {
            return self.look_at_what_is_left(name);
        }
        let mut answer = self.take_up(self.archive.hold(name, &carries_on));
        if let Answer::Opened { note, .. } = &mut answer {
            let place = if version.role == FileRole::Spool { IN_THE_SPOOL } else { BESIDE_IT };
            let more = note.take().map(|more| format!(" {more}")).unwrap_or_default();
            *note = Some(format!("{place}{more}"));
        }
        answer
    }

    /// Opens the best version left of a session for looking at: another program has it, or nothing can be put in the place
    /// of its record.
    fn look_at_what_is_left(&self, name: &SessionName) -> Answer {
        let left = match self.archive.versions(name) {
            Ok(left) => left,
            Err(error) => return Answer::Failed(sentence(&error)),
        };
        look::best(&left).map_or_else(
            || Answer::Failed(cleaned(NOTHING_READABLE)),
            |(_, record)| Answer::Opened {
                record: Box::new(record),
                keeping: StorageState::ReadOnly { because: ONLY_WHAT_IS_LEFT.to_owned() },
                note: Some(ONLY_WHAT_IS_LEFT.to_owned()),
            },
        )
    }

    /// Takes a session up that was held, or says why not.
    fn take_up(&mut self, holding: Result<HoldOutcome, HoldError>) -> Answer {
        match holding {
            Ok(HoldOutcome::Ours { held, opened, settled }) => {
                let Ok(read) = form::read(&opened.text) else {
                    return Answer::LookedAt(Box::new(look::at(&self.archive, held.name().clone())));
                };
                self.open = Some(OpenRecord { held: *held, unknown: read.unknown });
                let note = note(opened.seal, &settled);
                Answer::Opened { record: Box::new(read.record), keeping: StorageState::Kept, note }
            }
            Ok(HoldOutcome::ReadOnly { why, opened }) => match form::read(&opened.text) {
                Ok(read) => Answer::Opened {
                    record: Box::new(read.record),
                    keeping: StorageState::ReadOnly { because: read_only(&why) },
                    note: None,
                },
                Err(error) => Answer::Failed(sentence(&error)),
            },
            Err(error) => Answer::Failed(sentence(&error)),
        }
    }

    /// Puts a session into the wastebasket; without a name the one held, which is let go of first.
    fn discard(&mut self, name: Option<SessionName>) -> Answer {
        let held = self.open.take().map(|open| open.held.name().clone());
        let Some(name) = name.or(held) else { return Answer::Done };
        match self.archive.discard(&name) {
            // Begun and never written: there is nothing to move.
            Err(HoldError::Open(OpenError::Missing { .. })) => Answer::Done,
            Err(error) => Answer::Failed(sentence(&error)),
            Ok(()) => Answer::Discarded(name),
        }
    }

    fn keep(&mut self, record: &Record) -> Answer {
        if self.open.is_none() {
            // Beginning failed before; what stood in the way may be gone.
            self.begin(record.opened);
        }
        let only_in_memory = |because| Answer::Kept(StorageState::OnlyInMemory { because });
        let Some(open) = &mut self.open else {
            return only_in_memory("No record is held for writing.".to_owned());
        };
        let body = match form::write(record, &open.unknown) {
            Ok(body) => body,
            Err(error) => return only_in_memory(sentence(&error)),
        };
        match open.held.keep(&body) {
            Ok(StoredIn::InRecords { set_aside: None, .. }) => Answer::Kept(StorageState::Kept),
            Ok(StoredIn::InRecords { set_aside: Some(aside), .. }) => {
                Answer::KeptBeside(phrase::folder::set_aside(&file_name(&aside)))
            }
            Ok(StoredIn::InSpool { reason, .. }) => {
                Answer::Kept(StorageState::InSpool { because: sentence(&reason) })
            }
            Err(error) => only_in_memory(sentence(&error)),
        }
    }
}

impl Shell for DiskShell {
    fn now(&self) -> Stamp {
        Local::now().fixed_offset()
    }

    fn perform(&mut self, effect: Effect) -> Answer {
        match effect {
            Effect::Begin { opened } => self.begin(opened),
            Effect::Open(name) => self.open(&name),
            Effect::GoOnBefore(name) => self.replace_damaged(&name),
            Effect::OpenDemonstration(index) => look::demonstration(index),
            Effect::Keep(record) => self.keep(&record),
            Effect::Discard(name) => self.discard(name),
            Effect::BringBack(name) => match self.archive.bring_back(&name) {
                Ok(()) => Answer::Done,
                Err(error) => Answer::Failed(sentence(&error)),
            },
            Effect::SeeVersions(name) => merge::seen(&self.archive, &name),
            Effect::SettleVersions(name, fate) => {
                // The lock of a record held would refuse this.
                self.open = None;
                merge::settle(&self.archive, &name, fate).map_or_else(Answer::Failed, Answer::Said)
            }
            Effect::Trace(customer) => self.looking.trace(&self.archive, &customer),
            Effect::Forget(traces, keeping) => {
                self.open = None;
                self.looking.forget(&self.archive, &traces, keeping)
            }
            Effect::ReadTable(path) => table::read(&path),
            Effect::LetGo => {
                self.open = None;
                Answer::Done
            }
            Effect::List => Answer::Listed(self.list()),
            Effect::TakeStock => Answer::Stock(Box::new(self.looking.begin(&self.archive))),
            Effect::Remember(index) => {
                self.looking.remember(&index);
                Answer::Done
            }
            Effect::Count => {
                self.looking.begin_counting(&self.archive);
                Answer::Done
            }
            Effect::StopCounting => {
                self.looking.stop_counting();
                Answer::Done
            }
            Effect::ReadRack => Answer::Rack(own_files::read_rack(&mut self.springs)),
            Effect::KeepRack(_) | Effect::HandOver { .. } if self.archive.check_marker().is_err() => {
                Answer::Failed(phrase::folder::AWAY.to_owned())
            }
            Effect::KeepRack(springs) => own_files::keep_rack(&mut self.springs, springs),
            Effect::ReadSettings => Answer::Settings(self.settings()),
            Effect::KeepSettings(settings) => own_files::keep_settings(&mut self.settings, &settings),
            Effect::Compare(names) => {
                Answer::Compared(names.into_iter().map(|name| look::at(&self.archive, name)).collect())
            }
            Effect::Recall(name) => Answer::Recalled(Box::new(look::at(&self.archive, name))),
            Effect::LookAt(name) => Answer::LookedAt(Box::new(look::at(&self.archive, name))),
            Effect::HandOver { record, name, units } => self.hand_over(&record, name, units),
            Effect::Repaint | Effect::Suspend | Effect::Leave => Answer::Done,
        }
    }

    fn behind(&mut self) -> Behind {
        self.looking.behind()
    }
}

/// The name of a file, safe to show.
pub(super) fn file_name(path: &Path) -> Shown {
    Shown::from(path.file_name().unwrap_or_default().to_string_lossy().as_ref())
}

fn own_file(path: PathBuf) -> OwnFile {
    OwnFile::new(Arc::new(RealDisk), path)
}

/// Whether one version of a record holds all that another does, in its order.
pub(super) fn carries_on(one: &str, other: &str) -> bool {
    let (Ok(one), Ok(other)) = (form::read(one), form::read(other)) else { return false };
    one.record.opened == other.record.opened
        && one.record.entries.starts_with(&other.record.entries)
        && one.record.intake.holds_all_of(&other.record.intake)
}

#[cfg(test)]
mod tests;
