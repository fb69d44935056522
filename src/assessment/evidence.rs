//! The sets of readings one by one, as they were read: mean, scatter, standard uncertainty, and readings that stand apart.
//!
//! What was read is not yet the sag at rest: a dragged indicator keeps the deepest place, and one set says less than all
//! together. Uncertainty is put together the GUM's way (JCGM 100:2008): type A from the readings, type B for posture, in
//! quadrature. A reading that stands apart is flagged and counts less; it is never dropped. Not here: what all sets say
//! together (`belief`).

use super::belief::Belief;
use super::belief::prior::curve;
use super::doubts::Doubts;
use serde::{Deserialize, Serialize};

use crate::mechanics::LeverageCurve;
use crate::session::{ReadHow, Reading, ReadingNumber, ReadingSet, Setup, SpringNumber};
use crate::statistics::{self, Contribution};
use crate::units::{Estimate, Length, Share, Turns};

/// What one set of readings says.
#[derive(Debug, Clone, PartialEq)]
pub struct SetFinding {
    /// Its place among all sets of the session, from one.
    pub number: usize,
    /// The spring it was taken with.
    pub spring: SpringNumber,
    /// Which mounting it was read in, from one.
    pub mounting: u16,
    /// How its readings were taken.
    pub how: ReadHow,
    /// Collar turns past contact.
    pub preload_turns: Turns,
    /// Readings that count.
    pub readings_used: usize,
    /// Mean of the readings, as read, with the standard uncertainty of what scatters and of how the rider sat.
    pub average: Estimate<Length>,
    /// Standard deviation of the set's own readings; none for a single reading.
    pub scatter: Option<Length>,
    /// Sag at the shock, of this set alone.
    pub sag: Estimate<Share>,
    /// Half-width of the interval that holds the sag with a chance of 90 %, by Student's t.
    pub ninety_percent: Share,
    /// Sag at the rear wheel.
    pub wheel_sag: Share,
    /// Where the sag lies beside the band.
    pub standing: Standing,
    /// Chance by all readings together that this spring, the collar there, is on target; none for the other posture.
    pub chance: Option<Share>,
    /// A reading that stands apart from its fellows.
    pub apart: Option<ReadingNumber>,
}

impl SetFinding {
    /// The sag with the half-width of its interval of 90 %, as people are told it.
    pub const fn sag_to_tell(&self) -> Estimate<Share> {
        Estimate::new(self.sag.value, self.ninety_percent)
    }
}

/// Where a sag lies beside the band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Standing {
    /// Too little sag.
    Below,
    /// In the band.
    Inside,
    /// Too much sag.
    Above,
}

impl Standing {
    /// Where the sag lies beside the aim of the setup.
    pub fn of(sag: Share, setup: &Setup) -> Self {
        match sag {
            sag if setup.target.holds(sag) => Self::Inside,
            sag if sag < setup.target.sag => Self::Below,
            _ => Self::Above,
        }
    }
}

/// One finding for every set with a counting reading.
pub(super) fn findings(sets: &[ReadingSet], belief: &Belief<'_>) -> Vec<SetFinding> {
    let curve = curve(belief.setup, belief.doubts);
    let ground = Ground { belief, curve, apart: belief.apart().collect() };
    let mut coverage = Coverage::default();
    let counting = sets.iter().enumerate().filter(|(_, set)| set.counting().next().is_some());
    counting.map(|(index, set)| ground.finding(index + 1, set, &mut coverage)).collect()
}

/// The sag of the last set with a counting reading, as [`SetFinding`] has it, without what may be off with it: that costs
/// more than all the rest, and a list of a hundred thousand sessions does not show it.
pub fn last_sag(setup: &Setup, sets: &[ReadingSet], doubts: &Doubts) -> Option<Share> {
    let last = sets.iter().rev().map(distances).find(|distances| !distances.is_empty())?;
    Some(sag_at(steady_mean(&last, doubts), setup))
}

/// The counting readings of a set, in millimetres; of a pair, what lies midway.
fn distances(set: &ReadingSet) -> Vec<f64> {
    let one = |reading: &Reading| {
        let distances = reading.distance.as_mm();
        reading.risen.map_or(distances, |risen| f64::midpoint(distances, risen.as_mm()))
    };
    set.counting().map(one).collect()
}

/// The sag at the shock where the indicator moved so many millimetres.
fn sag_at(distance: f64, setup: &Setup) -> Share {
    Share::fraction(distance / setup.shock.stroke.as_mm())
}

/// What all sets of a session are judged by.
struct Ground<'a> {
    belief: &'a Belief<'a>,
    /// The curve before any reading.
    curve: LeverageCurve,
    /// Readings that stand apart, with the number of their set.
    apart: Vec<(usize, ReadingNumber)>,
}

impl Ground<'_> {
    fn finding(&self, number: usize, set: &ReadingSet, coverage: &mut Coverage) -> SetFinding {
        let Belief { setup, doubts, scatter, freedom, .. } = *self.belief;
        let distances = distances(set);
        let mean = steady_mean(&distances, doubts);
        let parts = [
            Contribution {
                standard_uncertainty: scatter / (distances.len() as f64).sqrt(),
                degrees_of_freedom: freedom,
            },
            Contribution {
                standard_uncertainty: doubts.reading.posture.as_fraction() * mean,
                degrees_of_freedom: f64::INFINITY,
            },
        ];
        let uncertainty = combined(&parts.map(|part| part.standard_uncertainty));
        let factor = coverage.ninety_percent(&parts);
        let stroke = setup.shock.stroke;
        let (sag, curve) = (sag_at(mean, setup), &self.curve);
        SetFinding {
            number,
            spring: set.spring,
            mounting: set.mounting,
            how: set.how,
            preload_turns: set.preload_turns,
            readings_used: distances.len(),
            average: Estimate::new(Length::mm(mean), Length::mm(uncertainty)),
            scatter: statistics::standard_deviation(&distances).ok().map(Length::mm),
            sag: Estimate::new(sag, Share::fraction(uncertainty / stroke.as_mm())),
            ninety_percent: Share::fraction(factor * uncertainty / stroke.as_mm()),
            wheel_sag: Share::fraction(curve.wheel_travel(Length::mm(mean)) / curve.travel()),
            standing: Standing::of(sag, setup),
            chance: super::forecast::chance_of(self.belief, set),
            apart: self.apart.iter().find(|(set, _)| *set == number).map(|(_, reading)| *reading),
        }
    }
}

/// Uncertainties in quadrature; those of a checked setup are finite and not below zero, and so is what they come to.
fn combined(parts: &[f64]) -> f64 {
    statistics::in_quadrature(parts).unwrap_or(f64::MAX)
}

/// Coverage factors looked up so far: many sets share their degrees of freedom once these are cut to whole ones.
#[derive(Default)]
struct Coverage {
    known: Vec<(f64, f64)>,
}

impl Coverage {
    /// The factor for 90 %, from the effective degrees of freedom cut to the next lower whole number (GUM G.4.1).
    fn ninety_percent(&mut self, parts: &[Contribution]) -> f64 {
        let freedom =
            statistics::effective_degrees_of_freedom(parts).map_or(1.0, |freedom| freedom.floor().max(1.0));
        if freedom > MANY_DEGREES {
            return NINETY_PERCENT_OF_A_NORMAL;
        }
        if let Some((_, factor)) = self.known.iter().find(|(known, _)| known.total_cmp(&freedom).is_eq()) {
            return *factor;
        }
        let factor = statistics::coverage_factor(0.90, freedom).unwrap_or(NINETY_PERCENT_OF_A_NORMAL);
        self.known.push((freedom, factor));
        factor
    }
}

/// Degrees of freedom from which Student's factor is the normal one to half a per cent.
const MANY_DEGREES: f64 = 200.0;

/// Two-sided 90 % of a normal law: what Student's t comes to with many readings.
const NINETY_PERCENT_OF_A_NORMAL: f64 = 1.644_853_626_951_472_7;

/// The mean, each reading weighed as Student's t of four degrees has it with the usual scatter: an ordinary one counts
/// fully, a slipped one cannot move the mean by more than its share.
fn steady_mean(distances: &[f64], doubts: &Doubts) -> f64 {
    let variance = doubts.reading.scatter.as_mm().powi(2);
    let mut centre = median(distances);
    for _ in 0..8 {
        let weight = |value: f64| (5.0 / (4.0 + (value - centre).powi(2) / variance)).min(1.0);
        let weighed = distances.iter().map(|value| (weight(*value), *value));
        let (weights, sum) = weighed
            .fold((0.0, 0.0), |(weights, sum), (weight, value)| (weights + weight, sum + weight * value));
        centre = sum / weights;
    }
    centre
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    match sorted.len() {
        0 => 0.0,
        count if count % 2 == 1 => sorted[count / 2],
        count => 0.5 * (sorted[count / 2 - 1] + sorted[count / 2]),
    }
}
