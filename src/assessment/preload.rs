//! Trimming with the collar: what a turn does for the spring on the bike, and what it costs.
//!
//! Not here: which turns are planned and whether one pays (`choice`).

use super::belief::Belief;
use super::choice::AtTurns;
use super::forecast::ninety_percent_factor;
use crate::mechanics::{Spring, ride_figures};
use crate::units::{Estimate, Share, Turns};

/// A turn of the collar and what it does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PreloadPlan {
    /// Collar turns past contact, in all.
    pub to: Turns,
    /// How far to turn from where it stands; negative backs it off.
    pub by: Turns,
    /// Sag afterwards.
    pub sag_after: Estimate<Share>,
    /// The same with the half-width of its interval of 90 %, as people are told it.
    pub sag_to_tell: Estimate<Share>,
    /// Chance of the band afterwards.
    pub chance_after: Share,
    /// Share of the load that must then arrive before the shock moves.
    pub breakaway: Share,
}

/// The turn from one collar position to another, as it was weighed.
pub(super) fn plan(belief: &Belief<'_>, spring: &Spring, from: Turns, at: &AtTurns) -> PreloadPlan {
    let seat = belief.seat(spring, belief.setup.shock.preload(at.turns));
    let sag = belief.sag_of(&at.outcome);
    PreloadPlan {
        to: at.turns,
        by: at.turns - from,
        sag_after: sag,
        sag_to_tell: Estimate::new(sag.value, sag.uncertainty * ninety_percent_factor(at.freedom)),
        chance_after: Share::fraction(at.chance),
        breakaway: ride_figures(&seat).breakaway,
    }
}
