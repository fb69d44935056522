//! What a measurement saves: how much better the best choice becomes, over all that it may show.
//!
//! What each choice comes to with and without it is reckoned at the same nodes, so that what the nodes miss of one choice they
//! miss of both, and nothing known ever makes the expected best worse. A spring that misses once it was read is no bike lost:
//! the next one is fitted, and that is what is saved. Not here: which measurements there are and what they
//! cost (`measurement`).

use super::fit::RestOnceKnown;
use super::{AtTurns, Basis, FittedSpring, Fitting, NODES, Weighed};
use crate::assessment::belief::{Belief, Sight};
use crate::mechanics::SpringNumber;
use crate::units::{Minutes, Turns};

/// What a measurement lets one see: one thing or two.
pub(in crate::assessment) struct Measured {
    pub(in crate::assessment) sights: Vec<Sight>,
    /// The spring whose own label it is of.
    pub(in crate::assessment) of_spring: Option<SpringNumber>,
}

/// How far something moves with each of the things seen, each by itself and of unit variance.
type Pulls = [f64; 2];

/// Three nodes for each of two (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, table 25.10, in the variable
/// of the normal law).
const THREE: [(f64, f64); 3] =
    [(-1.732_050_807_568_877_2, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];

/// The springs nearest to the aim that are looked at.
const NEAREST: usize = 6;

impl Measured {
    /// Two things seen made independent of each other, each to unit variance.
    fn pulls(&self, with: impl Fn(&Sight) -> f64) -> Pulls {
        let Some(first) = self.sights.first() else { return [0.0; 2] };
        let deviation = first.variance.sqrt();
        let one = with(first) / deviation;
        let Some(second) = self.sights.get(1) else { return [one, 0.0] };
        let both = first.along(second) / deviation;
        let rest = (second.variance - both * both).max(1e-12);
        [one, (with(second) - one * both) / rest.sqrt()]
    }

    fn nodes(&self) -> Vec<(Pulls, f64)> {
        if self.sights.len() < 2 {
            return NODES.iter().map(|(node, weight)| ([*node, 0.0], *weight)).collect();
        }
        let beside = |(one, weight): &(f64, f64)| {
            let (one, weight) = (*one, *weight);
            THREE.iter().map(move |(other, share)| ([one, *other], weight * share))
        };
        THREE.iter().flat_map(beside).collect()
    }

    fn says_of(&self, fitting: &Fitting) -> bool {
        self.of_spring.is_none_or(|spring| spring == fitting.spring)
    }
}

fn product(one: &Pulls, other: &Pulls) -> f64 {
    one[0] * other[0] + one[1] * other[1]
}

/// What it is expected to save over the best there is without it.
pub(in crate::assessment) fn saved_by(
    belief: &Belief<'_>,
    standing: Option<FittedSpring<'_>>,
    weighed: &Weighed,
    measured: &Measured,
) -> Minutes {
    let basis = Basis { belief };
    let now = standing.map_or(Turns::ZERO, |standing| standing.set.preload_turns);
    let stops = weighed.turns.iter().map(|at| basis.stop_at_nodes(at, now, measured));
    let near = basis.nearest_to_the_aim(&weighed.springs, NEAREST);
    let fits = near.into_iter().map(|fitting| basis.fit_at_nodes(fitting, measured));
    let choices: Vec<Vec<f64>> = stops.chain(fits).collect();
    let nodes = measured.nodes();
    let largest = |values: &mut dyn Iterator<Item = f64>| values.fold(f64::NEG_INFINITY, f64::max);
    let of =
        |choice: &Vec<f64>| choice.iter().zip(&nodes).map(|(worth, (_, weight))| worth * weight).sum::<f64>();
    let without = largest(&mut choices.iter().map(of));
    let best = |(index, (_, weight)): (usize, &(Pulls, f64))| {
        weight * largest(&mut choices.iter().map(|choice| choice[index]))
    };
    let with: f64 = nodes.iter().enumerate().map(best).sum();
    let saved = with - without - read_saves(weighed);
    Minutes::of(if saved.is_finite() { saved.max(0.0) } else { 0.0 })
}

/// What one more reading saves already, where that is the best there is.
fn read_saves(weighed: &Weighed) -> f64 {
    let worth = |minutes: Option<Minutes>| minutes.map_or(f64::NEG_INFINITY, Minutes::value);
    let best = worth(weighed.stop.map(|(_, worth)| worth)).max(worth(weighed.swap.map(|(_, worth)| worth)));
    let saves = worth(weighed.read) - best;
    if saves.is_finite() { saves.max(0.0) } else { 0.0 }
}

impl Basis<'_> {
    /// Worth of leaving the spring at one collar position, at every node.
    fn stop_at_nodes(&self, at: &AtTurns, now: Turns, measured: &Measured) -> Vec<f64> {
        let pulls = match measured.of_spring {
            Some(_) => [0.0; 2],
            None => measured.pulls(|sight| at.outcome.with(sight)),
        };
        let variance = at.outcome.variance - product(&pulls, &pulls);
        let worth = |(node, _): (Pulls, f64)| {
            let mean = at.outcome.used + product(&pulls, &node);
            self.worth_of(mean, variance, at.freedom) - self.stop_price(at.turns, now)
        };
        measured.nodes().into_iter().map(worth).collect()
    }

    /// Worth of fitting another spring, at every node.
    fn fit_at_nodes(&self, fitting: &Fitting, measured: &Measured) -> Vec<f64> {
        let nodes = measured.nodes();
        let says = measured.says_of(fitting);
        let pulls = |with: &dyn Fn(&Sight) -> f64| if says { measured.pulls(with) } else { [0.0; 2] };
        let of_sight = pulls(&|sight| fitting.sight.along(sight));
        let of_rests: Vec<Pulls> =
            fitting.turns.iter().map(|(_, outcome, _)| pulls(&|sight| outcome.with(sight))).collect();
        let next = self.worth_of_the_next(fitting);
        let variance = (fitting.sight.variance - product(&of_sight, &of_sight)).max(fitting.sight.noise);
        let worth = |(node, _): &(Pulls, f64)| {
            let looked = |((turns, outcome, with), pulls): (&(Turns, _, f64), &Pulls)| -> RestOnceKnown {
                let outcome: &crate::assessment::belief::Outcome = outcome;
                let left = (outcome.variance - product(pulls, pulls)).max(1e-6);
                (*turns, outcome.used + product(pulls, node), left, with - product(pulls, &of_sight))
            };
            let looked: Vec<RestOnceKnown> = fitting.turns.iter().zip(&of_rests).map(looked).collect();
            self.worth_or(&looked, variance, next)
        };
        nodes.iter().map(worth).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_nodes_have_the_moments_of_the_normal_law_up_to_the_fifth() {
        for (power, moment) in [(0, 1.0), (1, 0.0), (2, 1.0), (3, 0.0), (4, 3.0), (5, 0.0)] {
            let sum: f64 = THREE.iter().map(|(node, weight)| weight * node.powi(power)).sum();
            assert!((sum - moment).abs() < 1e-12, "{power}: {sum}");
        }
    }
}
