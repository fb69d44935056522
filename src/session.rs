//! Floor 2: the session record and the walk through it, pure.
//!
//! A [`Record`] is what was told at the intake and what was done since, in order. [`machine::replay`] folds it to the
//! [`State`] of the walk; [`machine::advance`] accepts one more [`Deed`] or refuses it with a [`Refusal`]. Everything
//! else (sag, verdicts, advice) is recomputed from the record, so nothing stored can go stale. Not here: files, the
//! clock, words for people.

pub mod condition;
pub mod earlier;
pub mod entry;
pub mod facts;
pub mod hazard;
pub mod intake;
pub mod limits;
pub mod machine;
pub mod moment;
pub mod refusal;
pub mod ride_told;
pub mod sheet;
pub mod sheet_typed;
pub mod shop_rack;
pub mod state;
pub mod step;
pub mod typed_texts;
pub mod typical;
pub mod work_mode;

pub use condition::{Condition, ConditionNumber};
pub use earlier::{Earlier, EarlierGas, FoundSpring, LearnedOn};
pub use entry::{
    Bottoming, Decision, Deed, Entry, Feel, Gap, Indicator, KerbReturn, Posture, ReadingNumber, Record,
    RideHeight, Stamp, TickAnswer, TrailReport,
};
pub use hazard::Hazard;
pub use intake::{
    About, Charge, Detail, Fact, FormRow, FrameLengths, Group, Intake, LeverageKnowledge, LeveragePair,
    LimitFrom, Origin, Setup, Shape, Shock, Spring, SpringNumber, Target, Value, WheelLoad,
};
pub use refusal::Refusal;
pub use ride_told::{RideTold, Symptom};
pub use sheet::{Item, Sheet, Takes, Written};
pub use shop_rack::ShopSpring;
pub use state::{ReadHow, Reading, ReadingSet, State};
pub use step::{Awaiting, Caution, Check, Plan, Step};
pub use typed_texts::TextOf;
