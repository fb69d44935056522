//! From seated readings to sets: mean, scatter, standard uncertainty, and readings that stand apart.
//!
//! Uncertainty is put together the GUM's way (JCGM 100:2008): type A from the readings, type B for ruler, posture and
//! contact, in quadrature. A reading that stands apart is flagged and counts less; it is never dropped. Not here: what
//! several sets say together (`posterior`).

use super::doubts::{Doubts, ReadingDoubts};
use crate::mechanics::LeverageCurve;
use crate::session::{LeverageKnowledge, Reading, ReadingNumber, ReadingSet, Setup, SpringNumber};
use crate::statistics::{self, Contribution};
use crate::units::{Estimate, Length, Share, Turns};

/// What one set of readings says.
#[derive(Debug, Clone, PartialEq)]
pub struct SetFinding {
    /// Its place among all sets of the session, from one.
    pub number: usize,
    /// The spring it was taken with.
    pub spring: SpringNumber,
    /// Collar turns past contact.
    pub preload_turns: Turns,
    /// Readings that count.
    pub readings_used: usize,
    /// Mean of the readings with the standard uncertainty of everything that may be off with it.
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
    /// A reading that stands apart from its fellows.
    pub apart: Option<ReadingNumber>,
}

/// Where a sag lies beside the band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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

/// The curve as it is known before any reading.
pub fn prior_curve(setup: &Setup, doubts: &Doubts) -> LeverageCurve {
    let (travel, stroke) = (setup.travel, setup.shock.stroke);
    match &setup.leverage {
        LeverageKnowledge::TravelOnly => LeverageCurve::linear(travel, stroke, doubts.leverage.falloff),
        LeverageKnowledge::Ends { start, end } => LeverageCurve::between_ends(travel, stroke, *start, *end),
        LeverageKnowledge::Measured(pairs) => LeverageCurve::measured(travel, stroke, pairs)
            .unwrap_or_else(|_| LeverageCurve::linear(travel, stroke, doubts.leverage.falloff)),
    }
}

/// Standard deviation of one seated reading: pooled over all sets, shrunk toward the usual scatter while readings are
/// few. Pooling as in NIST/SEMATECH e-Handbook 2.3.3; the shrinking is a scaled-inverse-chi-square prior.
pub fn scatter(sets: &[ReadingSet], doubts: &Doubts) -> Length {
    let start = doubts.reading.scatter.as_mm();
    let weight = doubts.reading.start_weight;
    let (mut squares, mut freedom) = (weight * start * start, weight);
    for set in sets {
        let readings: Vec<f64> = set.counting().map(|reading| reading.distance.as_mm()).collect();
        // A bounced reading says nothing about careful ones: its pull on the scatter is cut off where it stands apart.
        let middle = median(&readings);
        let cap = doubts.reading.stands_apart * start;
        squares += readings.iter().map(|distance| (distance - middle).abs().min(cap).powi(2)).sum::<f64>();
        freedom += (readings.len() as f64 - 1.0).max(0.0);
    }
    Length::mm((squares / freedom).sqrt())
}

/// One finding for every set with a counting reading.
pub fn findings(setup: &Setup, sets: &[ReadingSet], scatter: Length, doubts: &Doubts) -> Vec<SetFinding> {
    let freedom = doubts.reading.start_weight
        + sets.iter().map(|set| (set.counting().count() as f64 - 1.0).max(0.0)).sum::<f64>();
    let curve = prior_curve(setup, doubts);
    let mut ground = Ground { setup, curve, scatter, freedom, coverage: Coverage::default(), doubts };
    let counting = sets.iter().enumerate().filter(|(_, set)| set.counting().next().is_some());
    counting.map(|(index, set)| ground.finding(index + 1, set)).collect()
}

/// The sag of the last set with a counting reading, as [`findings`] has it, without what may be off with it: that costs
/// more than all the rest, and a list of a hundred thousand sessions does not show it.
pub fn last_sag(setup: &Setup, sets: &[ReadingSet], doubts: &Doubts) -> Option<Share> {
    let distances =
        |set: &ReadingSet| set.counting().map(|reading| reading.distance.as_mm()).collect::<Vec<_>>();
    let last = sets.iter().rev().map(distances).find(|distances| !distances.is_empty())?;
    Some(sag_at(steady_mean(&last, scatter(sets, doubts), &doubts.reading), setup))
}

/// The sag at the shock where the indicator moved so many millimetres.
fn sag_at(distance: f64, setup: &Setup) -> Share {
    Share::fraction(distance / setup.shock.stroke.as_mm())
}

/// What all sets of a session are judged by.
struct Ground<'a> {
    setup: &'a Setup,
    curve: LeverageCurve,
    /// The pooled scatter and the degrees of freedom behind it.
    scatter: Length,
    freedom: f64,
    coverage: Coverage,
    doubts: &'a Doubts,
}

impl Ground<'_> {
    fn finding(&mut self, number: usize, set: &ReadingSet) -> SetFinding {
        let readings: Vec<&Reading> = set.counting().collect();
        let distances: Vec<f64> = readings.iter().map(|reading| reading.distance.as_mm()).collect();
        let apart = stands_apart(&distances, self.scatter, &self.doubts.reading);
        let mean = steady_mean(&distances, self.scatter, &self.doubts.reading);
        let parts = self.contributions(mean, distances.len());
        let uncertainty = combined(&parts.map(|part| part.standard_uncertainty));
        let factor = self.coverage.ninety_percent(&parts);
        let stroke = self.setup.shock.stroke;
        let sag = sag_at(mean, self.setup);
        SetFinding {
            number,
            spring: set.spring,
            preload_turns: set.preload_turns,
            readings_used: distances.len(),
            average: Estimate::new(Length::mm(mean), Length::mm(uncertainty)),
            scatter: statistics::standard_deviation(&distances).ok().map(Length::mm),
            sag: Estimate::new(sag, Share::fraction(uncertainty / stroke.as_mm())),
            ninety_percent: Share::fraction(factor * uncertainty / stroke.as_mm()),
            wheel_sag: Share::fraction(self.curve.wheel_travel(Length::mm(mean)) / self.curve.travel()),
            standing: Standing::of(sag, self.setup),
            apart: apart.map(|index| readings[index].number),
        }
    }

    /// What may be off with the mean of a set, in millimetres: repeatability over √n, half a division of the ruler once
    /// a set (the same eye, the same ruler), posture once a set. Where the collar was called "at contact" moves the sag
    /// itself and is added where sags are predicted.
    fn contributions(&self, mean: f64, count: usize) -> [Contribution; 3] {
        let judged = f64::INFINITY;
        let part = |standard_uncertainty, degrees_of_freedom| Contribution {
            standard_uncertainty,
            degrees_of_freedom,
        };
        [
            part(self.scatter.as_mm() / (count as f64).sqrt(), self.freedom),
            part(statistics::resolution_uncertainty(self.setup.ruler.as_mm()).unwrap_or_default(), judged),
            part(self.doubts.reading.posture.as_fraction() * mean, judged),
        ]
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
pub(super) const NINETY_PERCENT_OF_A_NORMAL: f64 = 1.644_853_626_951_472_7;

/// The reading that stands apart: by Grubbs' test at 5 % where the set is large enough for it, or by its distance from
/// the median measured in scatters of the whole session, which three readings cannot hide.
fn stands_apart(distances: &[f64], scatter: Length, doubts: &ReadingDoubts) -> Option<usize> {
    if distances.len() < 3 {
        return None;
    }
    let middle = median(distances);
    let distance = |value: f64| (value - middle).abs();
    let farthest =
        (0..distances.len()).max_by(|&a, &b| distance(distances[a]).total_cmp(&distance(distances[b])))?;
    let far = distance(distances[farthest]) > doubts.stands_apart * scatter.as_mm();
    let grubbs = || statistics::suspicious_reading(distances, 0.05).ok().flatten() == Some(farthest);
    // Grubbs on three nearly equal readings flags differences far below what a ruler shows.
    let visible = distance(distances[farthest]) > doubts.stands_apart * doubts.scatter.as_mm();
    (far || (visible && grubbs())).then_some(farthest)
}

/// The mean, with a reading that stands apart pulled in to where it stops standing apart (Huber's estimator, Annals of
/// Mathematical Statistics 35, 1964; from memory): it still counts, but cannot move the mean by more than its share.
fn steady_mean(distances: &[f64], scatter: Length, doubts: &ReadingDoubts) -> f64 {
    let reach = 0.5 * doubts.stands_apart * scatter.as_mm();
    let mut centre = median(distances);
    for _ in 0..8 {
        let pulled = distances.iter().map(|value| value.clamp(centre - reach, centre + reach));
        centre = pulled.sum::<f64>() / distances.len() as f64;
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
