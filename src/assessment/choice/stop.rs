//! The spring on the bike at the turns allowed: its chance of the band now, or after a turn of the collar.
//!
//! Its degrees of freedom grow with what is doubtful beside the scatter: where most of the doubt is posture, label or the
//! indicator, few readings make little difference. Not here: other springs (`fit`).

use super::{Basis, FittedSpring, first_best, is_at};
use crate::assessment::belief::Outcome;
use crate::mechanics::Spring;
use crate::session::ReadingSet;
use crate::units::Turns;

/// The spring on the bike at one collar position.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::assessment) struct AtTurns {
    pub(in crate::assessment) turns: Turns,
    pub(in crate::assessment) outcome: Outcome,
    /// Effective degrees of freedom.
    pub(in crate::assessment) freedom: f64,
    /// Chance of the band, in parts of one.
    pub(in crate::assessment) chance: f64,
}

impl Basis<'_> {
    /// The spring on the bike at every collar position allowed.
    pub(super) fn at_turns(&self, standing: FittedSpring<'_>) -> Vec<AtTurns> {
        let at = |turns| self.at(standing.spring, standing.set, turns);
        let mut all: Vec<AtTurns> = self.allowed(standing.spring).into_iter().map(at).collect();
        let least = all.iter().map(|at| at.outcome.variance).fold(f64::INFINITY, f64::min);
        for at in &mut all {
            *at = self.calculated(at.turns, at.outcome.clone(), least);
        }
        all
    }

    /// The spring on the bike at one collar position, taken by itself.
    pub(super) fn at(&self, spring: &Spring, set: &ReadingSet, turns: Turns) -> AtTurns {
        let outcome = self.belief.outcome(spring, turns, Some(set.mounting));
        let least = outcome.variance;
        self.calculated(turns, outcome, least)
    }

    fn calculated(&self, turns: Turns, outcome: Outcome, least: f64) -> AtTurns {
        let belief = self.belief;
        let of_readings = belief.scatter.powi(2) / belief.last_weight().max(0.5);
        let freedom = belief.freedom * (outcome.variance / least.min(of_readings)).max(1.0).powi(2);
        let worth = self.worth_of(outcome.used, outcome.variance, freedom);
        let chance = worth / belief.doubts.prices.in_range.value();
        AtTurns { turns, outcome, freedom, chance }
    }

    /// The collar position worth most, beside where it stands.
    pub(super) fn best_stop(&self, turns: &[AtTurns], now: Turns) -> Option<(Turns, f64)> {
        let price = self.belief.doubts.prices.in_range.value();
        first_best(turns.iter().map(|at| (at.turns, price * at.chance - self.stop_price(at.turns, now))))
    }

    /// What it costs to leave the collar there.
    pub(super) fn stop_price(&self, to: Turns, now: Turns) -> f64 {
        let turning = if is_at(to, now) { 0.0 } else { self.turn_price() };
        turning + self.preload_price(to)
    }
}
