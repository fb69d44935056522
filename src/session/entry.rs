//! What a record is made of: the intake and, in order, the deeds with their times.
//!
//! Nothing is ever erased: undoing, redoing, starting a step anew, voiding a reading and skipping a check are deeds
//! too. Not here: which deed is legal when (`machine`), and how a record looks in a file (`archive::form`).

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};

use super::condition::Condition;
use super::intake::{Detail, Intake, SpringNumber};
use super::moment;
use super::ride_told::RideTold;
use super::sheet::Sheet;
use super::step::{Caution, Check};
use crate::text::FreeText;
use crate::units::{Length, Turns};

/// A moment with its offset from UTC, as the shell's clock told it. Order in a record goes by place, never by clock.
pub type Stamp = DateTime<FixedOffset>;

/// One session: one bike, one rider, one sitting (or several, months apart).
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// When it was opened.
    pub opened: Stamp,
    /// What was told at the intake; complete once [`Deed::IntakeDone`] stands in the entries.
    pub intake: Intake,
    /// What was done, in order.
    pub entries: Vec<Entry>,
}

impl Record {
    /// A record with nothing in it yet.
    pub fn new(opened: Stamp) -> Self {
        Self { opened, intake: Intake::default(), entries: Vec::new() }
    }

    /// The number the next reading will bear.
    pub fn next_reading(&self) -> ReadingNumber {
        let taken = self.entries.iter().filter(|entry| entry.deed.is_reading()).count();
        ReadingNumber(u16::try_from(taken).unwrap_or(u16::MAX).saturating_add(1))
    }
}

/// One deed with its time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// When it was done.
    #[serde(with = "moment")]
    pub at: Stamp,
    /// Whose hand did it, as their settings name them; empty where nobody is named, as in every record before format 3.
    #[serde(default, skip_serializing_if = "FreeText::is_empty", deserialize_with = "note")]
    pub by: FreeText,
    /// What was done.
    #[serde(rename = "did")]
    pub deed: Deed,
}

impl Entry {
    /// A deed of nobody who is named.
    pub const fn new(at: Stamp, deed: Deed) -> Self {
        Self { at, by: FreeText::empty(), deed }
    }
}

/// The number a reading bears for the rest of the session: its place among all readings ever entered, from one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ReadingNumber(pub u16);

/// Something done or decided at the bike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Deed {
    /// The intake is complete; the work at the bike begins.
    IntakeDone,
    /// A detail of the intake corrected, or the aim moved, after the intake was done.
    Entered(Detail),
    /// A caution was shown and acknowledged.
    CautionSeen(Caution),
    /// A check of the present list was done, or there is nothing of the kind on this bike.
    Ticked(Check, TickAnswer),
    /// The rider goes to quick trials: the lists are left to them; the collar stands this far past contact.
    TrialsOpened {
        /// Collar turns past contact.
        preload_turns: Turns,
    },
    /// The collar was backed off; the spring is only just held, this far past contact.
    Unloaded {
        /// Collar turns past contact.
        preload_turns: Turns,
    },
    /// The travel indicator was pushed against the seal.
    IndicatorSeated,
    /// The rider sat and got off; the indicator had moved this far from the seal.
    Read {
        /// Indicator to seal.
        #[serde(rename = "reading_mm")]
        reading: Length,
    },
    /// Indicator seated and reading taken in one go, as in quick trials.
    Trial {
        /// Indicator to seal.
        #[serde(rename = "reading_mm")]
        reading: Length,
    },
    /// How the readings from now on are taken: who puts the indicator where it is read, and how the rider sits.
    ReadHow {
        /// How the indicator comes where it is read.
        indicator: Indicator,
        /// How the rider sits.
        posture: Posture,
    },
    /// What is otherwise than at the intake from now on; nothing once it is as entered again.
    Under(Option<Condition>),
    /// Whether there was a gap between indicator and seal while the rider sat, in this set.
    GapLookedFor(Gap),
    /// The last reading once more with the rear pushed down and let rise: where it then came to rest.
    Risen {
        /// Indicator to seal.
        #[serde(rename = "reading_mm")]
        reading: Length,
    },
    /// Enough readings for this set; on to the verdict.
    EnoughReadings,
    /// The mechanic decided.
    Decided(Decision),
    /// The collar now stands this far past contact; a new set of readings begins.
    PreloadSet {
        /// Collar turns past contact.
        preload_turns: Turns,
    },
    /// Spring changed in one go, as in quick trials; a new set of readings begins.
    Swapped {
        /// The spring now on the bike.
        spring: SpringNumber,
        /// Collar turns past contact.
        preload_turns: Turns,
    },
    /// The kerb drop: how the rear came back, or that it was passed by.
    KerbDropped(KerbReturn),
    /// The trail check was ridden.
    TrailRidden {
        /// How often the shock reached the end of its stroke.
        bottoming: Bottoming,
        /// How the bike sat.
        ride_height: RideHeight,
        /// How it felt.
        feel: Feel,
        /// Anything else.
        #[serde(default, skip_serializing_if = "FreeText::is_empty", deserialize_with = "note")]
        note: FreeText,
    },
    /// The session is closed.
    Closed,
    /// The last deed still in effect is taken back, past a start anew.
    TakenBack,
    /// The present step (or the present set of readings) is started anew.
    StartedAgain,
    /// The last deed is undone; a start anew is a deed like the others, and what it set aside comes back.
    ///
    /// [`Self::TakenBack`], which records from before have, goes past a start anew to the deed that is still in effect.
    Undone,
    /// What was undone last is done again.
    Redone,
    /// A reading does not count.
    Voided {
        /// Which.
        reading: ReadingNumber,
        /// Why.
        because: FreeText,
    },
    /// The check or step at hand is passed over.
    Skipped {
        /// Why.
        because: FreeText,
    },
    /// A remark.
    Noted(FreeText),
    /// The sheet as the bike was found; it takes the place of an earlier one.
    AsFound(Box<Sheet>),
    /// The sheet as the bike was left; it takes the place of an earlier one.
    AsLeft(Box<Sheet>),
    /// What a ride told besides the answers of the trail check.
    RideTold(RideTold),
}

impl Deed {
    /// Whether a reading was taken by it.
    pub const fn is_reading(&self) -> bool {
        matches!(self, Self::Read { .. } | Self::Trial { .. })
    }
}

/// How the indicator comes to the place where it is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub enum Indicator {
    /// Sitting down drags it, and it keeps the deepest place; every session begins so.
    #[default]
    Kept,
    /// Somebody pushes it against the seal while the rider sits still: it shows the rest.
    Pushed,
}

/// How the rider is on the bike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub enum Posture {
    /// In the saddle.
    #[default]
    Seated,
    /// On level pedals.
    Standing,
}

/// Whether indicator and seal stood apart while the rider sat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Gap {
    /// There was a gap: sitting down had gone deeper than the rest.
    Seen,
    /// There was none.
    None,
}

/// How a check was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TickAnswer {
    /// Done and seen.
    Done,
    /// This bike or shock has nothing of the kind.
    HasNone,
}

/// What the mechanic decided at the verdict; the advice may have said otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Decision {
    /// Leave the spring and the collar; go on to the final checks.
    Keep,
    /// Take a further reading with the same spring and collar.
    ReadAgain,
    /// Turn the collar to this many turns past contact.
    SetPreload {
        /// Collar turns past contact, in all.
        #[serde(rename = "preload_turns")]
        to: Turns,
    },
    /// Fit another spring.
    Swap {
        /// The spring to fit.
        #[serde(rename = "spring")]
        to: SpringNumber,
    },
    /// After the trail: go round once more.
    AnotherRound,
}

/// How the rear came back when the rider rolled off a kerb, seated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum KerbReturn {
    /// Nobody rolled off, or not once more.
    NotDone,
    /// Once, and no second bounce.
    Once,
    /// It bounces on: rebound is too fast.
    BouncesOn,
    /// It comes back slowly or stays down: rebound is too slow.
    Slow,
}

/// What the trail check told.
#[derive(Debug, Clone, PartialEq)]
pub struct TrailReport {
    /// How often the shock reached the end of its stroke.
    pub bottoming: Bottoming,
    /// How the bike sat.
    pub ride_height: RideHeight,
    /// How it felt.
    pub feel: Feel,
    /// Anything else.
    pub note: FreeText,
}

/// How often the shock bottomed out on the trail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Bottoming {
    /// Not once.
    Never,
    /// On the biggest hits.
    NowAndThen,
    /// Again and again.
    Often,
}

/// How the rear of the bike sat on the trail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum RideHeight {
    /// It sits high.
    High,
    /// As it should.
    Right,
    /// It sits deep.
    Deep,
}

/// How the rear suspension felt on the trail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Feel {
    /// Dull, dead, without pop.
    Dull,
    /// As it should.
    Right,
    /// Nervous, harsh, skittish.
    Nervous,
}

/// A note may be left out or be `None`.
fn note<'de, D: serde::Deserializer<'de>>(deserializer: D) -> Result<FreeText, D::Error> {
    Ok(Option::deserialize(deserializer)?.unwrap_or_default())
}

impl From<TrailReport> for Deed {
    fn from(TrailReport { bottoming, ride_height, feel, note }: TrailReport) -> Self {
        Self::TrailRidden { bottoming, ride_height, feel, note }
    }
}
