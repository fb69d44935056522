//! The steps of the walk, the checks on their tick lists and the cautions that stand at them.
//!
//! Which check belongs to which step, and which caution to which moment, is decided here and nowhere else; the words
//! are in `phrase`. Not here: the transitions (`machine`).

use super::intake::SpringNumber;
use crate::units::Turns;

/// A step of the walk.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
pub enum Step {
    /// Who, which bike, which shock, which springs, what aim.
    Intake,
    /// Is the bike fit to be measured?
    BenchCheck,
    /// Back the collar off until the spring is only just held.
    Unload,
    /// Push the travel indicator against the seal.
    SeatIndicator,
    /// The rider sits; read the indicator.
    SeatedReading,
    /// What to do about it.
    Decision,
    /// Turn the collar.
    SetPreload,
    /// Exchange the spring.
    Swap,
    /// Before it is ridden.
    FinalChecks,
    /// Rolled off a kerb, seated: how the rear comes back.
    KerbDrop,
    /// What the trail says.
    TrailCheck,
    /// Close, or go round again.
    AfterTrail,
    /// Nothing more to do.
    Closed,
}

impl Step {
    /// Every step in the order of the walk.
    pub const ALL: [Self; 13] = [
        Self::Intake,
        Self::BenchCheck,
        Self::Unload,
        Self::SeatIndicator,
        Self::SeatedReading,
        Self::Decision,
        Self::SetPreload,
        Self::Swap,
        Self::FinalChecks,
        Self::KerbDrop,
        Self::TrailCheck,
        Self::AfterTrail,
        Self::Closed,
    ];

    /// The tick list of the step, in the order of the work; empty for a step without one.
    pub const fn checks(self) -> &'static [Check] {
        match self {
            Self::BenchCheck => &[
                Check::BikeSupported,
                Check::AdjustersOpen,
                Check::TyresAtPressure,
                Check::LinkageBoltsTight,
                Check::ShockCleanAndDry,
                Check::IndicatorPresent,
            ],
            Self::Swap => &[
                Check::BikeHung,
                Check::CollarFullyOff,
                Check::ShockBoltsOut,
                Check::ClipOrKnobOff,
                Check::SpringExchanged,
                Check::ClipSeated,
                Check::KnobSnug,
                Check::CollarToContact,
                Check::BoltsToFigure,
            ],
            Self::FinalChecks => {
                &[Check::CollarHolds, Check::BoltsChecked, Check::CycledByHand, Check::AdjustersReset]
            }
            _ => &[],
        }
    }

    /// Cautions that stand at the opening of the step.
    const fn opening_cautions(self) -> &'static [Caution] {
        match self {
            Self::BenchCheck => &[Caution::BikeSteady],
            Self::Unload | Self::SetPreload | Self::FinalChecks => &[Caution::LooseCollar],
            Self::SeatIndicator => &[Caution::ShaftScratch, Caution::CrushedFingers],
            Self::SeatedReading => &[Caution::SitGently, Caution::DriveOn],
            Self::Swap => &[Caution::LoadedSpring, Caution::FlyingClip],
            // The kerb comes first: a record from before has the first ride alone (`machine::transition`).
            Self::KerbDrop => &[Caution::KerbDrop, Caution::FirstRide],
            Self::TrailCheck => &[Caution::FirstRide],
            _ => &[],
        }
    }

    /// Cautions that must stand before the given check of this step (or before the step itself, with no check).
    pub fn cautions(self, check: Option<Check>) -> impl Iterator<Item = Caution> {
        let before_check = match check {
            Some(Check::BoltsToFigure | Check::BoltsChecked) => Some(Caution::LooseBolts),
            Some(Check::SpringExchanged) => Some(Caution::SpringBinds),
            Some(Check::CycledByHand) => Some(Caution::CrushedFingers),
            _ => None,
        };
        self.opening_cautions().iter().copied().chain(before_check)
    }

    /// Whether the final checks are done.
    pub const fn is_after_the_final_checks(self) -> bool {
        matches!(self, Self::KerbDrop | Self::TrailCheck | Self::AfterTrail | Self::Closed)
    }

    /// The part of the work the step belongs to, for a hazard that is put before the mechanic once in each; none where the
    /// hazard is just being dealt with, or nothing more is done.
    pub const fn stage(self) -> Option<Stage> {
        match self {
            Self::Intake | Self::BenchCheck | Self::Unload | Self::SeatIndicator | Self::SeatedReading => {
                Some(Stage::Measuring)
            }
            Self::Decision => Some(Stage::Verdict),
            Self::FinalChecks | Self::KerbDrop | Self::TrailCheck => Some(Stage::Ride),
            Self::SetPreload | Self::Swap | Self::AfterTrail | Self::Closed => None,
        }
    }
}

/// A part of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// From the details to the last reading.
    Measuring,
    /// The verdict.
    Verdict,
    /// Before and on the kerb and the trail.
    Ride,
}

/// One line of a tick list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
pub enum Check {
    /// Bench: the bike stands supported, someone holds it.
    BikeSupported,
    /// Bench: lockout and compression open.
    AdjustersOpen,
    /// Bench: tyres at riding pressure.
    TyresAtPressure,
    /// Bench: linkage bolts at the maker's figures.
    LinkageBoltsTight,
    /// Bench: shock clean, no oil on the shaft or below the seal.
    ShockCleanAndDry,
    /// Bench: travel indicator present.
    IndicatorPresent,
    /// Swap: bike hung or supported, rear wheel unloaded.
    BikeHung,
    /// Swap: collar fully backed off before anything comes apart.
    CollarFullyOff,
    /// Swap: shock bolts out, order noted.
    ShockBoltsOut,
    /// Swap: retaining clip or adjuster knob off, where the shock has one.
    ClipOrKnobOff,
    /// Swap: old spring off, new spring on.
    SpringExchanged,
    /// Swap: clip seated in its groove, where the shock has one.
    ClipSeated,
    /// Swap: knob snug only, where the shock has one.
    KnobSnug,
    /// Swap: collar to contact.
    CollarToContact,
    /// Swap: shock bolts and any linkage hardware loosened for fitting tightened to the frame maker's figures.
    BoltsToFigure,
    /// Final: collar holds the spring and is secured.
    CollarHolds,
    /// Final: every bolt that was touched is at its figure.
    BoltsChecked,
    /// Final: cycled by hand, spring seated, nothing rubs.
    CycledByHand,
    /// Final: adjusters back to the rider's settings.
    AdjustersReset,
}

impl Check {
    /// Whether a shock or bike may have nothing of the kind.
    pub const fn may_be_absent(self) -> bool {
        matches!(self, Self::ClipOrKnobOff | Self::ClipSeated | Self::KnobSnug)
    }

    /// Whether skipping it would leave a bike that tips, a loaded spring, a loose collar or clip, or an untightened bolt.
    pub const fn guards_from_harm(self) -> bool {
        matches!(
            self,
            Self::BikeSupported
                | Self::LinkageBoltsTight
                | Self::BikeHung
                | Self::CollarFullyOff
                | Self::SpringExchanged
                | Self::ClipSeated
                | Self::CollarToContact
                | Self::BoltsToFigure
                | Self::CollarHolds
                | Self::BoltsChecked
                | Self::CycledByHand
        )
    }
}

/// Something that can hurt rider, mechanic or bike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
pub enum Caution {
    /// A bike that tips over.
    BikeSteady,
    /// A collar backed off too far, or left loose.
    LooseCollar,
    /// A scratched shaft leaks.
    ShaftScratch,
    /// A rider who drops in or bounces; a rider without support.
    SitGently,
    /// A spring under load lets go.
    LoadedSpring,
    /// A spring that goes solid before the shock's stroke ends.
    SpringBinds,
    /// A bolt not tightened to the maker's figure.
    LooseBolts,
    /// The first ride after the work.
    FirstRide,
    /// A roll off a kerb with a loose bolt, off too high an edge, or without a helmet.
    KerbDrop,
    /// Fingers in the coils or the linkage while the shock moves.
    CrushedFingers,
    /// A retaining clip that flies off, or is not seated.
    FlyingClip,
    /// A motor-assisted bike with its drive on while the rider sits on it.
    DriveOn,
    /// The spring on the bike goes solid before the shock's stroke ends: both strokes are known.
    FittedBinds,
    /// The spring on the bike does not pass over the shock body.
    FittedTooNarrow,
    /// The collar is further past contact than the limit.
    CollarBeyondLimit,
    /// The stroke of the spring on the bike is asked for; acknowledged, it is not known.
    FittedStrokeUnknown,
}

impl Caution {
    /// Every caution.
    pub const ALL: [Self; 16] = [
        Self::BikeSteady,
        Self::LooseCollar,
        Self::ShaftScratch,
        Self::SitGently,
        Self::LoadedSpring,
        Self::SpringBinds,
        Self::LooseBolts,
        Self::FirstRide,
        Self::KerbDrop,
        Self::CrushedFingers,
        Self::FlyingClip,
        Self::DriveOn,
        Self::FittedBinds,
        Self::FittedTooNarrow,
        Self::CollarBeyondLimit,
        Self::FittedStrokeUnknown,
    ];

    /// Whether it must be acknowledged again at every change of spring, because another spring is a new danger; the others
    /// are read once a session and stand as a line at their place from then on.
    pub const fn every_time(self) -> bool {
        matches!(self, Self::LoadedSpring | Self::SpringBinds)
    }

    /// Whether it tells of a hazard of the spring on the bike or its collar.
    pub const fn is_of_what_is_fitted(self) -> bool {
        matches!(
            self,
            Self::FittedBinds | Self::FittedTooNarrow | Self::CollarBeyondLimit | Self::FittedStrokeUnknown
        )
    }

    /// Whether every record has it. One that records from before do not have is asked of new deeds only.
    pub(super) const fn is_in_every_record(self) -> bool {
        matches!(
            self,
            Self::BikeSteady
                | Self::LooseCollar
                | Self::ShaftScratch
                | Self::SitGently
                | Self::LoadedSpring
                | Self::SpringBinds
                | Self::LooseBolts
                | Self::FirstRide
        )
    }
}

/// What the walk waits for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Awaiting {
    /// The details of the intake.
    Details,
    /// A caution to be acknowledged.
    Acknowledgement(Caution),
    /// A check of the list to be ticked.
    Tick(Check),
    /// How far past contact the collar stands.
    ContactTurns,
    /// The indicator to be seated.
    Indicator,
    /// A reading.
    Reading,
    /// A decision: keep, read again, trim or swap.
    Decision,
    /// The first spring to be chosen: nothing is fitted yet.
    FirstSpring,
    /// The collar to be turned to this many turns past contact.
    PreloadTurns(Turns),
    /// How the rear came back off the kerb.
    KerbReturn,
    /// What the trail check told.
    TrailReport,
    /// Close, or another round.
    CloseOrAnotherRound,
    /// Nothing: the session is closed.
    Nothing,
}

/// The change a swap or trim is about to make; kept until the step is done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Plan {
    /// Nothing is planned.
    Nothing,
    /// This spring is to be fitted.
    Spring(SpringNumber),
    /// The collar is to be turned to here.
    Collar(Turns),
}
