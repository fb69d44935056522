//! Why a deed or a detail is not accepted, as data; `phrase` turns each into a sentence with a way out.

use super::entry::ReadingNumber;
use super::hazard::Hazard;
use super::intake::{Fact, LimitFrom, SpringNumber};
use super::limits::Figure;
use super::step::{Caution, Check, Step};
use crate::mechanics::damper::Knob;
use crate::text::mark::Mark;
use crate::units::{Angle, Force, Length, Quantity, Turns};

/// Why something was not accepted. Nothing has changed when one of these comes back.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// The deed belongs to another step.
    NotAtThisStep {
        /// The step the walk stands at.
        step: Step,
    },
    /// A caution has to be acknowledged first.
    CautionFirst(Caution),
    /// Another check of the list comes first.
    CheckFirst(Check),
    /// Every shock and bike has this; "has none" is no answer to it.
    EveryBikeHasIt(Check),
    /// This check guards from harm and cannot be skipped.
    CannotBeSkipped(Check),
    /// The step cannot be skipped: what follows needs its figure.
    StepCannotBeSkipped(Step),
    /// A reason has to be given.
    ReasonNeeded,
    /// The intake still lacks something.
    IntakeIncomplete(Vec<Fact>),
    /// A figure outside what is possible.
    Outside {
        /// Which figure.
        field: Figure,
        /// What was told.
        entered: Quantity,
        /// The least that is accepted.
        least: Quantity,
        /// The most that is accepted.
        most: Quantity,
    },
    /// The shock's stroke cannot exceed the wheel's travel.
    StrokeBeyondTravel {
        /// The stroke told.
        stroke: Length,
        /// The travel told.
        travel: Length,
    },
    /// The indicator cannot have moved further than the stroke.
    BeyondStroke {
        /// The reading.
        reading: Length,
        /// The stroke.
        stroke: Length,
    },
    /// No damper pushes with that.
    ChargeBeyond {
        /// What was told, or comes of it.
        force: Force,
        /// The most that is accepted.
        most: Force,
    },
    /// The ratio at the start and end of the travel do not go with travel over stroke.
    LeverageEndsOff,
    /// A knob stands further from closed than it has clicks.
    ClicksBeyondAll(Knob),
    /// No bike has such a head angle.
    NoHeadAngle(Angle),
    /// A measured leverage pair is at fault.
    LeveragePairs(PairsFault),
    /// The collar would stand further past contact than the limit.
    BeyondTurnsLimit {
        /// What was asked.
        asked: Turns,
        /// What is allowed.
        allowed: Turns,
        /// Where the limit comes from.
        from: LimitFrom,
    },
    /// What is fitted must not be ridden as it is.
    Unfit(Hazard),
    /// No spring of that number is on the rack.
    NoSuchSpring(SpringNumber),
    /// Two springs on the rack have one number.
    SameNumberTwice(SpringNumber),
    /// Two springs bear one mark.
    SameMarkTwice(Mark),
    /// Several springs cannot bear one mark.
    MarkOfSeveral(Mark),
    /// That spring is on the bike already.
    AlreadyFitted(SpringNumber),
    /// The spring would bind before the shock's stroke ends.
    WouldBind {
        /// Which.
        spring: SpringNumber,
        /// How far it may be compressed.
        spring_stroke: Length,
        /// How far the shock would compress it.
        needed: Length,
    },
    /// The spring's inner diameter does not clear the shock body.
    TooNarrow {
        /// Which.
        spring: SpringNumber,
    },
    /// A spring that is on the bike or was measured cannot leave the rack.
    SpringInUse(SpringNumber),
    /// No reading has that number.
    NoSuchReading(ReadingNumber),
    /// That reading is void already.
    AlreadyVoid(ReadingNumber),
    /// There is no reading to judge by.
    NoReadingYet,
    /// There is nothing to take back.
    NothingToUndo,
    /// Nothing was undone that could be done again.
    NothingToRedo,
    /// A condition needs a name, so that its sets can be told from others.
    ConditionUnnamed,
    /// As many conditions as a session takes are on its list.
    ConditionsFull,
    /// The session is closed.
    SessionClosed,
    /// The record holds as many entries as it can.
    RecordFull,
}

/// What is wrong with a set of measured leverage pairs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PairsFault {
    /// Fewer than four pairs.
    TooFew,
    /// More than a curve can use.
    TooMany,
    /// The pair of this number (from one) does not lie beyond the one before it.
    NotIncreasing(usize),
    /// Before the shock has moved the wheel has moved: heights of the axle were taken for wheel travel.
    NotZeroAtStart,
    /// The last pair is off the wheel travel by more than 3 %, or does not reach the end of the stroke.
    EndOffTravel,
}
