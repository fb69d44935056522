//! What to do next: one thing at a time, the first that applies, as data with its reason.
//!
//! Order: a first spring where none is fitted, readings where there are too few, a check where they are not where they
//! should be, then what is worth most of leaving, turning, fitting and reading (`choice`). Where nothing at hand lands it
//! says what would. What there is to say is here, when it is said in `rules`. Not here: the weighing, and words (`phrase`).

mod rules;

use super::preload::PreloadPlan;
use crate::mechanics::SpringNumber;
use crate::session::ReadingNumber;
use crate::units::{Estimate, Share, SpringRate, Turns};

pub(super) use rules::{AdviceInput, advise};

/// What to do next.
#[derive(Debug, Clone, PartialEq)]
pub enum Advice {
    /// No spring is fitted: begin with this one.
    FirstSpring {
        /// The spring that is worth most.
        best_match: SpringNumber,
        /// Softest rate that may turn out right (90 %).
        softest: SpringRate,
        /// Stiffest rate that may turn out right (90 %).
        stiffest: SpringRate,
    },
    /// Readings are still wanted before anything can be said.
    TakeReadings {
        /// Readings that count so far.
        have: usize,
        /// Readings wanted.
        needed: usize,
    },
    /// Readings are not where they should be: check, then read again.
    Check {
        /// What stands apart.
        suspect: Suspect,
        /// What it may be, the likeliest first.
        causes: Vec<Cause>,
    },
    /// Another seated reading is worth its time.
    ReadAgain {
        /// Why.
        because: ReadAgainReason,
    },
    /// Leave spring and collar.
    Keep {
        /// Why.
        because: KeepReason,
    },
    /// Turn the collar.
    SetPreload(PreloadPlan),
    /// Fit another spring.
    Swap {
        /// The next spring step of 25 or 50 lb/in toward it: the careful way.
        step: SpringStep,
        /// The spring that is worth most.
        best_match: SpringNumber,
        /// Where and how it lands.
        lands: Lands,
    },
    /// No spring at hand lands in the band.
    NothingOnTheList {
        /// The rate that would.
        needed: SpringRate,
        /// Which end of the rack it is past.
        end: ListEnd,
        /// The best spring at hand, where that is not the one on the bike.
        nearest: Option<SpringNumber>,
        /// More preload than is planned for that holds the spring on the bike up until the right one is there.
        today: Option<PreloadPlan>,
    },
    /// No spring at hand can be fitted safely, the one on the bike included.
    NoneFits {
        /// The rate that would land.
        needed: SpringRate,
    },
}

/// What stands apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Suspect {
    /// One reading from its fellows.
    Reading(ReadingNumber),
    /// A reading that can be none.
    NoReading(ReadingNumber),
    /// A set from where the others put it.
    Set(usize),
    /// The first readings from where weights, travel and stroke put them.
    Told,
    /// Readings, weights and springs from each other: no load explains them.
    Figures,
}

/// What may have gone wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// The rider bounced or dropped in.
    Bounced,
    /// The indicator did not sit against the seal.
    IndicatorNotSeated,
    /// The collar was not where it was said to be.
    PreloadDiffers,
    /// The spring's label is far off.
    WrongLabel,
    /// A climb switch or compression adjuster was closed.
    AdjusterClosed,
    /// The figure was misread or mistyped.
    Misread,
    /// The rider was not fully seated.
    NotFullySeated,
    /// Weight, travel, stroke or leverage were told wrong.
    ToldWrong,
}

/// Why another reading can change the answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadAgainReason {
    /// The sag lies too near the edge of the band to call.
    NearTheEdge,
    /// That it is out is sure, which spring would land is not yet.
    WhichSpring,
    /// The readings scatter too much to call it.
    Scatter,
}

/// Why the spring stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeepReason {
    /// It lies in the band.
    OnTarget,
    /// It may not, but no other spring at hand is enough better to be worth a swap.
    NothingBetter,
}

/// Which end of the rack the wanted rate is past.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListEnd {
    /// Softer than anything at hand.
    Softest,
    /// Stiffer than anything at hand.
    Stiffest,
    /// Between two springs that both miss the band.
    Between,
}

/// How a spring to be fitted lands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lands {
    /// Where its collar goes at once; contact unless a little preload does clearly more.
    pub turns: Turns,
    /// The sag it gives there, with the half-width of its interval of 90 %.
    pub sag_to_tell: Estimate<Share>,
    /// Its chance of the band there.
    pub chance: Share,
}

/// The next spring step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringStep {
    /// Difference of the labels, softer negative.
    pub change: SpringRate,
    /// The spring that makes it.
    pub to: SpringNumber,
}
