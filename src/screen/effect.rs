//! What an update asks of the world, and what the world answers.
//!
//! Updates touch nothing outside the model; the loop hands each [`Effect`] to a [`Shell`], which keeps, opens and lists
//! records and knows the time, and feeds its [`Answer`] back in before the next frame is drawn. So a step is on disk before
//! the screen shows it as done. Not here: how the shell does it (`app`).

mod own_files;

use std::path::PathBuf;
use std::sync::Arc;

use chrono::NaiveDate;

pub use self::own_files::{SettingsFile, ShopRack};
use crate::archive::forget::{Keeping, Traces};
use crate::archive::index::{Location, ScanNews, WorkSummary};
use crate::archive::{Index, SessionName};
use crate::assessment::tally::{LeftOut, SessionOutcome};
use crate::phrase::forget::{ForgetOutcome, WillGo};
use crate::phrase::versions::OtherVersion;
use crate::session::{Origin, Record, ShopSpring, Stamp};
use crate::settings::Settings;
use crate::text::FreeText;
use crate::units::UnitSet;

/// Something asked of the world outside the model.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Take a name for a new record, and hold it. Nothing is written before the first [`Effect::Keep`].
    Begin {
        /// When it was opened; part of the name.
        opened: Stamp,
    },
    /// Open a record of the folder for going on with.
    Open(SessionName),
    /// Put the version before the damage in the place of a damaged record, which is kept beside it, and open it.
    GoOnBefore(SessionName),
    /// Open a demonstration.
    OpenDemonstration(usize),
    /// Write the whole record so that it lasts.
    Keep(Box<Record>),
    /// Put a session into the wastebasket, with all there is of it; the one held now where none is named.
    Discard(Option<SessionName>),
    /// Bring a session back from the wastebasket.
    BringBack(SessionName),
    /// Look at the versions of a session that is in more than one.
    SeeVersions(SessionName),
    /// Do this with the other versions of a session.
    SettleVersions(SessionName, OtherVersionFate),
    /// Look for everything there is of a customer of that name.
    Trace(FreeText),
    /// Forget what was traced.
    Forget(Box<Traces>, Keeping),
    /// Read a table from a file that somebody named.
    ReadTable(PathBuf),
    /// Let go of the record held, so that another program may write it.
    LetGo,
    /// Look again what records there are.
    List,
    /// Fetch what is remembered of all sessions, and look behind it what changed; that comes as [`Behind::News`].
    TakeStock,
    /// Remember what is now known of all sessions.
    Remember(Arc<Index>),
    /// Read every session and work out what came of each; that comes as [`BackgroundNews::Counted`].
    Count,
    /// Read no more of them.
    StopCounting,
    /// Read the shop's rack.
    ReadRack,
    /// Write the shop's rack.
    KeepRack(Vec<ShopSpring>),
    /// Read the settings.
    ReadSettings,
    /// Write the settings.
    KeepSettings(Box<Settings>),
    /// Read several sessions for holding them against each other.
    Compare(Vec<SessionName>),
    /// Read a record of the folder for looking at, without holding it.
    LookAt(SessionName),
    /// Read the last session of a customer who is offered, to begin from.
    Recall(SessionName),
    /// Write the card of a record, show it, and print it where the settings say how.
    HandOver {
        /// The record.
        record: Box<Record>,
        /// What its file is called; none for the one held.
        name: Option<SessionName>,
        /// The units of its figures.
        units: UnitSet,
    },
    /// Paint everything anew.
    Repaint,
    /// Give the terminal back until the program is called to the foreground again.
    Suspend,
    /// Leave the program.
    Leave,
}

/// What came of an effect.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// Nothing to tell.
    Done,
    /// What came of it, in a sentence.
    Said(String),
    /// Where the record was kept, or why not.
    Kept(StorageState),
    /// It is kept in the records folder, and what somebody else had put there was set aside; a sentence says so.
    KeptBeside(String),
    /// A record, opened.
    Opened {
        /// What it holds.
        record: Box<Record>,
        /// Whether it can be gone on with.
        keeping: StorageState,
        /// What came to light in opening it, in a sentence or two.
        note: Option<String>,
    },
    /// It could not be done; a sentence with the way out.
    Failed(String),
    /// The session is in the wastebasket; [`Effect::BringBack`] undoes it.
    Discarded(SessionName),
    /// What is remembered of all sessions; whether it still holds is being looked at.
    Stock(Box<Index>),
    /// The shop's rack.
    Rack(ShopRack),
    /// The shop's rack is on disk, as given.
    RackKept(Vec<ShopSpring>),
    /// The settings.
    Settings(SettingsFile),
    /// The settings are on disk, as given.
    SettingsKept,
    /// The settings could not be written; a sentence saying why.
    SettingsNotKept(String),
    /// Records to be held against each other.
    Compared(Vec<PastRecord>),
    /// A record to look at.
    LookedAt(Box<PastRecord>),
    /// The last session of a customer who is offered.
    Recalled(Box<PastRecord>),
    /// The versions of a session that is in more than one.
    VersionsSeen(Box<VersionsFound>),
    /// Everything there is of a customer.
    Traced(Box<CustomerTraced>),
    /// What came of forgetting a customer.
    Forgotten(Box<ForgetOutcome>),
    /// The text of a table.
    TableRead(String),
    /// What records there are.
    Listed(SessionList),
}

/// A session with its other versions.
#[derive(Debug, Clone, PartialEq)]
pub struct VersionsFound {
    /// Which session.
    pub name: SessionName,
    /// The record that is there.
    pub here: Record,
    /// The others, each brought together with what the ones before it come to.
    pub others: Vec<OtherVersion>,
}

impl VersionsFound {
    /// Whether any of them can be brought together with the record.
    pub fn can_be_brought_together(&self) -> bool {
        self.others.iter().any(|other| other.outcome.is_ok())
    }
}

/// Everything there is of a customer: for reading, and for doing something about it.
#[derive(Debug, Clone, PartialEq)]
pub struct CustomerTraced {
    /// As it is said.
    pub will_go: WillGo,
    /// The files themselves.
    pub traces: Traces,
}

/// What becomes of the other version of a session.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OtherVersionFate {
    /// What is only in it goes over; then it goes to the wastebasket.
    BroughtTogether,
    /// It goes to the wastebasket as it is.
    PutAway,
}

/// A record read without being held.
#[derive(Debug, Clone, PartialEq)]
pub struct PastRecord {
    /// What its file is called.
    pub name: SessionName,
    /// What is in the file.
    pub found: FoundRecord,
}

/// What was found in the file of a record.
#[derive(Debug, Clone, PartialEq)]
pub enum FoundRecord {
    /// The record, as this program wrote it.
    Sound(Record),
    /// The record; somebody changed the file outside this program.
    Edited(Record),
    /// The record is gone; the best version left of it.
    Left {
        /// What it holds.
        record: Record,
        /// Where it lies.
        whereabouts: Location,
    },
    /// No record that can be read whole.
    Unreadable {
        /// Why, and the way out, in a sentence.
        because: String,
        /// What of it can be read all the same.
        readable: Option<Record>,
        /// The version before the damage, where it is whole.
        before: Option<Box<Record>>,
    },
}

/// What comes of work going on behind the screen.
#[derive(Debug)]
pub enum Behind {
    /// No such work is going on.
    Nothing,
    /// Work is going on; this came of it since the last look, which may be nothing.
    News(Vec<BackgroundNews>),
}

/// A piece of what work behind the screen finds.
#[derive(Debug)]
pub enum BackgroundNews {
    /// Of the look which sessions there are.
    Scanned(ScanNews),
    /// Of the reading of every session.
    Counted(CountNews),
}

/// A piece of what the reading of every session finds.
#[derive(Debug)]
pub enum CountNews {
    /// These were read, of so many in all.
    Read {
        /// What came of each.
        sessions: Vec<CountedSession>,
        /// In all.
        of: usize,
    },
    /// All were read; nothing comes after this.
    Done,
    /// The folder could not be listed; a sentence, and nothing comes after it.
    Failed(String),
}

/// What came of a session, for the tally.
#[derive(Debug, Clone, PartialEq)]
pub struct CountedSession {
    /// The day it was begun; none of one that cannot be read.
    pub begun: Option<NaiveDate>,
    /// What came of it.
    pub count: SessionCount,
}

/// Whether a session is counted.
#[derive(Debug, Clone, PartialEq)]
pub enum SessionCount {
    /// It is.
    Counted(Box<SessionOutcome>),
    /// It is not.
    LeftOut(LeftOut),
    /// It cannot be read.
    Unreadable,
}

/// Where the open record is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StorageState {
    /// Nothing was told yet, so nothing is written.
    NothingYet,
    /// The last step is on disk in the records folder.
    Kept,
    /// The records folder does not take it; the last step is in the spool on this machine.
    InSpool {
        /// Why, in a sentence.
        because: String,
    },
    /// It could not be written; the last step is in the memory of this program only.
    OnlyInMemory {
        /// Why, in a sentence.
        because: String,
    },
    /// It can be looked at, not gone on with.
    ReadOnly {
        /// Why, in a sentence.
        because: String,
    },
}

/// What records there are.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SessionList {
    /// The newest, newest first.
    pub newest: Vec<ListedSession>,
    /// How many older ones there are besides.
    pub older: usize,
    /// Why the folder could not be listed, in a sentence, where it could not.
    pub unlisted: Option<String>,
    /// What has to be said of the folder as a whole.
    pub note: Option<String>,
    /// The sessions that are there in more than one version, newest first.
    pub in_two_versions: Vec<SessionName>,
}

/// A line of the list of past sessions.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedSession {
    /// What its file is called.
    pub name: SessionName,
    /// What it holds, as far as it could be read.
    pub summary: ListedSummary,
}

/// What a list shows of a record.
#[derive(Debug, Clone, PartialEq)]
pub enum ListedSummary {
    /// It was read.
    Read {
        /// When it was opened.
        opened: Stamp,
        /// Whose bike.
        customer: FreeText,
        /// Which bike.
        bike: FreeText,
        /// A real session or a demonstration.
        origin: Origin,
        /// Whether work is left.
        progress: SessionProgress,
        /// How far the work has come.
        work: WorkSummary,
    },
    /// It could not be read; a sentence saying why.
    Unreadable(String),
}

/// Whether work is left in a session.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SessionProgress {
    /// It can be gone on with.
    Unfinished,
    /// It is closed.
    Closed,
    /// Its record is not in the records folder; what was kept of it lies in the spool on this machine.
    FoundInSpool,
    /// Its record is gone; another version of it lies in the records folder.
    FoundBeside,
}

/// The world outside the model.
pub trait Shell {
    /// The time now, with its offset from UTC.
    fn now(&self) -> Stamp;
    /// Does what an update asked for.
    fn perform(&mut self, effect: Effect) -> Answer;
    /// What came of work going on behind the screen, without waiting.
    fn behind(&mut self) -> Behind {
        Behind::Nothing
    }
}
