//! Worth of fitting each other spring: what it comes to once it was read twice and the collar set as that tells.
//!
//! No second swap is thought of: looking two springs ahead was measured and gains nothing. Not here: the spring on the bike
//! (`stop`).

use super::{Basis, FittedSpring, NODES, fits, is_twin};
use crate::assessment::belief::{Outcome, Sight};
use crate::mechanics::{Spring, SpringNumber};
use crate::session::shop_rack::softest_first;
use crate::units::Turns;

/// Readings after a swap that its worth reckons with.
const LOOKS: f64 = 2.0;

/// Another spring, weighed.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::assessment) struct Fitting {
    pub(in crate::assessment) spring: SpringNumber,
    /// The mean of its readings at contact.
    pub(super) sight: Sight,
    /// Where it would rest at each collar position allowed, contact first, with how that hangs together with the readings.
    pub(in crate::assessment) turns: Vec<(Turns, Outcome, f64)>,
    /// Its chance of the band at each of them, in parts of one.
    pub(in crate::assessment) chances: Vec<f64>,
    /// In minutes.
    pub(in crate::assessment) worth: f64,
}

/// A rest as it looks once something is known: the collar, the mean, its variance and how it hangs together with the
/// readings to come.
pub(super) type RestOnceKnown = (Turns, f64, f64, f64);

/// A gain in chance that is worth setting the collar for before any reading.
const CARRIED_FROM: f64 = 0.15;

impl Fitting {
    /// The likeliest collar position, with its chance: contact unless a little preload does clearly more.
    pub(in crate::assessment) fn carried(&self) -> (Turns, &Outcome, f64) {
        let contact = self.chances[0];
        let best = super::first_best(self.chances.iter().copied().enumerate());
        let index = best.filter(|(_, chance)| *chance > contact + CARRIED_FROM).map_or(0, |(index, _)| index);
        (self.turns[index].0, &self.turns[index].1, self.chances[index])
    }

    /// Its chance at the likeliest collar position.
    pub(in crate::assessment) fn best_chance(&self) -> f64 {
        self.chances.iter().copied().fold(0.0, f64::max)
    }

    /// The rests as they look now.
    fn looked(&self) -> Vec<RestOnceKnown> {
        self.turns
            .iter()
            .map(|(turns, outcome, with)| (*turns, outcome.used, outcome.variance, *with))
            .collect()
    }
}

impl Basis<'_> {
    /// Every other spring that fits, softest first.
    pub(super) fn fittings(&self, standing: Option<FittedSpring<'_>>) -> Vec<Fitting> {
        let others = |spring: &&Spring| {
            let known = self.belief.source(spring);
            let fitted = standing.map(|standing| standing.spring);
            let stands = fitted.is_some_and(|fitted| fitted.number == spring.number);
            !stands
                && !fitted.is_some_and(|fitted| is_twin(spring, fitted, known))
                && fits(spring, self.setup())
        };
        let mut springs: Vec<&Spring> = self.setup().springs.iter().filter(others).collect();
        springs.sort_by(|one, other| softest_first(one, other));
        springs.into_iter().filter_map(|spring| self.fitting(spring)).collect()
    }

    /// A spring newly fitted, weighed; none where it fits at no turn allowed.
    pub(in crate::assessment) fn fitting(&self, spring: &Spring) -> Option<Fitting> {
        let outcome = |turns| (turns, self.belief.outcome(spring, turns, None));
        let outcomes: Vec<(Turns, Outcome)> = self.allowed(spring).into_iter().map(outcome).collect();
        let sight = self.belief.sight_of_new(&outcomes.first()?.1, LOOKS);
        let with = |(turns, outcome): (Turns, Outcome)| {
            let with = outcome.with(&sight);
            (turns, outcome, with)
        };
        let turns: Vec<_> = outcomes.into_iter().map(with).collect();
        let price = self.belief.doubts.prices.in_range.value();
        let chance = |outcome: &Outcome| self.worth_of(outcome.used, outcome.variance, f64::INFINITY) / price;
        let chances = turns.iter().map(|(_, outcome, _)| chance(outcome)).collect();
        let mut fitting = Fitting { spring: spring.number, sight, turns, chances, worth: 0.0 };
        fitting.worth = self.worth(&fitting.looked(), fitting.sight.variance);
        Some(fitting)
    }

    /// What fitting is worth, given how its rests look and how sure its readings will be.
    pub(super) fn worth(&self, looked: &[RestOnceKnown], variance: f64) -> f64 {
        self.worth_or(looked, variance, f64::NEG_INFINITY)
    }

    /// The same where something else can be done once it was read, which is worth so much.
    pub(super) fn worth_or(&self, looked: &[RestOnceKnown], variance: f64, else_worth: f64) -> f64 {
        let deviation = variance.max(1e-9).sqrt();
        let after = |node: f64| {
            let worth = |(turns, mean, variance, with): &RestOnceKnown| {
                let pull = with / deviation;
                let turning = if turns.value() > 0.0 { self.turn_price() } else { 0.0 };
                let in_range = self.worth_of(mean + pull * node, variance - pull * pull, f64::INFINITY);
                in_range - turning - self.preload_price(*turns)
            };
            looked.iter().map(worth).fold(else_worth, f64::max)
        };
        let prices = &self.belief.doubts.prices;
        let price = prices.swap.value() + LOOKS * prices.sit.value();
        NODES.iter().map(|(node, weight)| weight * after(*node)).sum::<f64>() - price
    }

    /// What is left to do once a spring was read and misses: another, by then chosen from what this one showed, so that it is
    /// off by its own label and contact and by what the readings leave open.
    pub(super) fn worth_of_the_next(&self, fitting: &Fitting) -> f64 {
        let Some((_, outcome, with)) = fitting.turns.first() else { return f64::NEG_INFINITY };
        let left = outcome.variance - with * with / fitting.sight.variance + outcome.own_variance();
        let (low, high) = self.band();
        let prices = &self.belief.doubts.prices;
        self.worth_of(f64::midpoint(low, high), left, f64::INFINITY)
            - prices.swap.value()
            - LOOKS * prices.sit.value()
    }

    /// What fitting would be worth after one more reading now came out at a node.
    pub(super) fn worth_after(&self, fitting: &Fitting, last: &Sight, node: f64) -> f64 {
        let deviation = last.variance.sqrt();
        let sights = fitting.sight.with(last);
        let looked = |(turns, outcome, with): &(Turns, Outcome, f64)| {
            let pull = outcome.with(last);
            let variance = (outcome.variance - pull * pull / last.variance).max(1e-6);
            (*turns, outcome.used + pull / deviation * node, variance, with - pull * sights / last.variance)
        };
        let looked: Vec<RestOnceKnown> = fitting.turns.iter().map(looked).collect();
        let variance = (fitting.sight.variance - sights * sights / last.variance).max(fitting.sight.noise);
        self.worth(&looked, variance)
    }
}
