//! An entry as it stands in a file, one a line: its time and the deed.
//!
//! Each type mirrors one of `session::entry`; a choice added there does not compile here until it has a name in the
//! file. Not here: whether the deed fits the walk (`session::machine`).

use serde::{Deserialize, Serialize};

use super::figure::{Figure, Moment, Text};
use super::told::Detail;
use crate::session::{self, ReadingNumber, SpringNumber};

/// Names the choices of a session enum in the file, both ways.
macro_rules! mirror {
    ($($name:ident { $($choice:ident),* $(,)? })*) => {
        $(
            #[derive(Debug, Clone, Copy, Serialize, Deserialize)]
            enum $name { $($choice),* }

            impl From<session::$name> for $name {
                fn from(choice: session::$name) -> Self {
                    match choice { $(session::$name::$choice => Self::$choice),* }
                }
            }
            impl From<$name> for session::$name {
                fn from(choice: $name) -> Self {
                    match choice { $($name::$choice => Self::$choice),* }
                }
            }
        )*
    };
}

mirror! {
    Caution {
        BikeSteady, LooseCollar, ShaftScratch, SitGently, LoadedSpring, SpringBinds, LooseBolts, FirstRide,
    }
    Check {
        BikeSupported, AdjustersOpen, TyresAtPressure, LinkageBoltsTight, ShockCleanAndDry, IndicatorPresent,
        BikeHung, CollarFullyOff, ShockBoltsOut, ClipOrKnobOff, SpringExchanged, ClipSeated, KnobSnug,
        CollarToContact, BoltsToFigure, CollarHolds, BoltsChecked, CycledByHand, AdjustersReset,
    }
    TickedHow { Done, HasNone }
    Bottoming { Never, NowAndThen, Often }
    RideHeight { High, Right, Deep }
    Feel { Dull, Right, Nervous }
}

/// One entry.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Entry {
    at: Moment,
    did: Deed,
}

/// What was done.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
enum Deed {
    IntakeDone,
    Told(Detail),
    CautionSeen(Caution),
    Ticked(Check, TickedHow),
    TrialsOpened {
        turns_past_contact: Figure,
    },
    Unloaded {
        turns_past_contact: Figure,
    },
    IndicatorSeated,
    Read {
        moved_mm: Figure,
    },
    Trial {
        moved_mm: Figure,
    },
    EnoughReadings,
    Decided(Decision),
    Trimmed {
        turns_past_contact: Figure,
    },
    Refitted {
        spring: u16,
        turns_past_contact: Figure,
    },
    TrailRidden {
        bottoming: Bottoming,
        ride_height: RideHeight,
        feel: Feel,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        note: Option<Text>,
    },
    Closed,
    Back,
    Redo,
    Voided {
        reading: u16,
        because: Text,
    },
    Skipped {
        because: Text,
    },
    Noted(Text),
}

/// What the mechanic decided.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
enum Decision {
    Keep,
    ReadAgain,
    Trim { turns_past_contact: Figure },
    Swap { spring: u16 },
    AnotherRound,
}

impl From<session::Entry> for Entry {
    fn from(entry: session::Entry) -> Self {
        Self { at: Moment(entry.at), did: entry.deed.into() }
    }
}

impl From<Entry> for session::Entry {
    fn from(entry: Entry) -> Self {
        Self { at: entry.at.0, deed: entry.did.into() }
    }
}

impl From<session::Decision> for Decision {
    fn from(decision: session::Decision) -> Self {
        use session::Decision as D;
        match decision {
            D::Keep => Self::Keep,
            D::ReadAgain => Self::ReadAgain,
            D::Trim { to } => Self::Trim { turns_past_contact: to.into() },
            D::Swap { to } => Self::Swap { spring: to.0 },
            D::AnotherRound => Self::AnotherRound,
        }
    }
}

impl From<Decision> for session::Decision {
    fn from(decision: Decision) -> Self {
        use Decision as W;
        match decision {
            W::Keep => Self::Keep,
            W::ReadAgain => Self::ReadAgain,
            W::Trim { turns_past_contact } => Self::Trim { to: turns_past_contact.into() },
            W::Swap { spring } => Self::Swap { to: SpringNumber(spring) },
            W::AnotherRound => Self::AnotherRound,
        }
    }
}

impl From<session::Deed> for Deed {
    fn from(deed: session::Deed) -> Self {
        use session::Deed as D;
        match deed {
            D::IntakeDone => Self::IntakeDone,
            D::Told(detail) => Self::Told(detail.into()),
            D::CautionSeen(caution) => Self::CautionSeen(caution.into()),
            D::Ticked(check, how) => Self::Ticked(check.into(), how.into()),
            D::TrialsOpened { past_contact } => {
                Self::TrialsOpened { turns_past_contact: past_contact.into() }
            }
            D::Unloaded { past_contact } => Self::Unloaded { turns_past_contact: past_contact.into() },
            D::IndicatorSeated => Self::IndicatorSeated,
            D::Read { moved } => Self::Read { moved_mm: moved.into() },
            D::Trial { moved } => Self::Trial { moved_mm: moved.into() },
            D::EnoughReadings => Self::EnoughReadings,
            D::Decided(decision) => Self::Decided(decision.into()),
            D::Trimmed { past_contact } => Self::Trimmed { turns_past_contact: past_contact.into() },
            D::Refitted { spring, past_contact } => {
                Self::Refitted { spring: spring.0, turns_past_contact: past_contact.into() }
            }
            D::TrailRidden(report) => Self::TrailRidden {
                bottoming: report.bottoming.into(),
                ride_height: report.ride_height.into(),
                feel: report.feel.into(),
                note: Text::unless_empty(&report.note),
            },
            D::Closed => Self::Closed,
            D::Back => Self::Back,
            D::Redo => Self::Redo,
            D::Voided { reading, because } => Self::Voided { reading: reading.0, because: Text(because) },
            D::Skipped { because } => Self::Skipped { because: Text(because) },
            D::Noted(text) => Self::Noted(Text(text)),
        }
    }
}

impl From<Deed> for session::Deed {
    fn from(deed: Deed) -> Self {
        use Deed as W;
        match deed {
            W::IntakeDone => Self::IntakeDone,
            W::Told(detail) => Self::Told(detail.into()),
            W::CautionSeen(caution) => Self::CautionSeen(caution.into()),
            W::Ticked(check, how) => Self::Ticked(check.into(), how.into()),
            W::TrialsOpened { turns_past_contact: turns } => {
                Self::TrialsOpened { past_contact: turns.into() }
            }
            W::Unloaded { turns_past_contact: turns } => Self::Unloaded { past_contact: turns.into() },
            W::IndicatorSeated => Self::IndicatorSeated,
            W::Read { moved_mm } => Self::Read { moved: moved_mm.into() },
            W::Trial { moved_mm } => Self::Trial { moved: moved_mm.into() },
            W::EnoughReadings => Self::EnoughReadings,
            W::Decided(decision) => Self::Decided(decision.into()),
            W::Trimmed { turns_past_contact: turns } => Self::Trimmed { past_contact: turns.into() },
            W::Refitted { spring, turns_past_contact: turns } => {
                Self::Refitted { spring: SpringNumber(spring), past_contact: turns.into() }
            }
            W::TrailRidden { bottoming, ride_height, feel, note } => {
                Self::TrailRidden(session::TrailReport {
                    bottoming: bottoming.into(),
                    ride_height: ride_height.into(),
                    feel: feel.into(),
                    note: note.map(|Text(text)| text).unwrap_or_default(),
                })
            }
            W::Closed => Self::Closed,
            W::Back => Self::Back,
            W::Redo => Self::Redo,
            W::Voided { reading, because: Text(because) } => {
                Self::Voided { reading: ReadingNumber(reading), because }
            }
            W::Skipped { because: Text(because) } => Self::Skipped { because },
            W::Noted(Text(text)) => Self::Noted(text),
        }
    }
}
