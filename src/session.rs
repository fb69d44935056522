//! Floor 2: the session record and the walk through it, pure.
//!
//! A [`Record`] is what was told at the intake and what was done since, in order. [`machine::replay`] folds it to the
//! [`State`] of the walk; [`machine::advance`] accepts one more [`Deed`] or refuses it with a [`Refusal`]. Everything
//! else (sag, verdicts, advice) is recomputed from the record, so nothing stored can go stale. Not here: files, the
//! clock, words for people.

pub mod earlier;
pub mod entry;
pub mod facts;
pub mod intake;
pub mod limits;
pub mod machine;
pub mod moment;
pub mod rack;
pub mod refusal;
pub mod state;
pub mod step;
pub mod way;

pub use earlier::Earlier;
pub use entry::{
    Bottoming, Decision, Deed, Entry, Feel, ReadingNumber, Record, RideHeight, Stamp, TickedHow, TrailReport,
};
pub use intake::{
    About, Aim, Detail, Fact, FormRow, FrameLengths, Group, Intake, LeverageKnowledge, LeveragePair, Origin,
    Setup, Shape, Shock, Spring, SpringNumber, Value, WheelLoad,
};
pub use rack::ShopSpring;
pub use refusal::Refusal;
pub use state::{Reading, ReadingSet, State};
pub use step::{Awaiting, Caution, Check, Planned, Step};
