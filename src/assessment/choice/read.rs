//! Worth of one more reading of the present set: what it could change, over all it may show.
//!
//! Not here: whether the readings contradict what was expected (`check`), which comes before any weighing.

use super::{AtTurns, Basis, FittedSpring, Fitting, NODES};

/// The springs nearest to the aim suffice: no other becomes the best after one reading, and with so many the worth is theirs to a
/// thousandth of a minute.
const NEAREST: usize = 12;

impl Basis<'_> {
    /// None where enough readings stand in the set, or nothing can be weighed.
    pub(super) fn read(
        &self,
        standing: FittedSpring<'_>,
        turns: &[AtTurns],
        springs: &[Fitting],
    ) -> Option<f64> {
        let most = usize::from(self.belief.doubts.reading.most);
        let now = standing.set.preload_turns;
        if standing.set.counting().count() >= most {
            return None;
        }
        let away = |at: &&AtTurns| (at.turns - now).abs().value();
        let nearest = turns.iter().min_by(|one, other| away(one).total_cmp(&away(other)))?;
        let sight = self.belief.sight_of_last(&nearest.outcome);
        let deviation = sight.variance.sqrt();
        let near = self.nearest_to_the_aim(springs, NEAREST);
        let after = |node: f64| {
            let stop = turns.iter().map(|at| {
                let pull = at.outcome.with(&sight) / deviation;
                let variance = at.outcome.variance - pull * pull;
                let worth = self.worth_of(at.outcome.used + pull * node, variance, at.freedom + 1.0);
                worth - self.stop_price(at.turns, now)
            });
            let swap = near.iter().map(|fitting| self.worth_after(fitting, &sight, node));
            stop.chain(swap).fold(f64::NEG_INFINITY, f64::max)
        };
        let expected: f64 = NODES.iter().map(|(node, weight)| weight * after(*node)).sum();
        Some(expected - self.belief.doubts.prices.sit.value())
    }

    /// So many of the springs whose rest at contact lies nearest to the middle of the band.
    pub(super) fn nearest_to_the_aim<'f>(&self, springs: &'f [Fitting], most: usize) -> Vec<&'f Fitting> {
        let (low, high) = self.band();
        let middle = f64::midpoint(low, high);
        let away = |fitting: &Fitting| {
            fitting.turns.first().map_or(f64::INFINITY, |(_, outcome, _)| (outcome.used - middle).abs())
        };
        let mut near: Vec<&Fitting> = springs.iter().collect();
        near.sort_by(|one, other| away(one).total_cmp(&away(other)));
        near.truncate(most);
        near
    }
}
