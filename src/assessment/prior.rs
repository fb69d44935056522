//! What is known of load, fall-off and labels before any reading.
//!
//! The load comes from the weights, a scale under the wheel or an earlier session; the fall-off from the grade of
//! knowledge of the leverage. Not here: what the readings make of it (`posterior`).

use super::doubts::Doubts;
use super::{evidence, next_visit};
use crate::mechanics::Spring;
use crate::session::{Fact, LeverageKnowledge, Setup};
use crate::units::quantity::GRAVITY;
use crate::units::{Estimate, Force, Share};

/// Something for ln W and something for c.
pub(super) type LoadAndFalloff = [f64; 2];

/// Gaussian prior of ln W and c.
pub(super) struct Prior {
    pub(super) means: LoadAndFalloff,
    pub(super) covariance: [LoadAndFalloff; 2],
    /// The inverse of the covariance.
    pub(super) weights: [LoadAndFalloff; 2],
}

impl Prior {
    pub(super) fn of(setup: &Setup, doubts: &Doubts) -> Self {
        let load = load_before_reading(setup, doubts);
        let falloff = falloff_before_reading(setup, doubts);
        // With a scale under the wheel the load is known by itself; what an earlier session knew of both together is not.
        let together = setup.earlier.filter(|_| setup.wheel_load.is_none());
        let correlation =
            together.map_or(0.0, |earlier| earlier.correlation.as_fraction().clamp(-0.99, 0.99));
        let deviations = [load.uncertainty / load.value, falloff.uncertainty.as_fraction()];
        let shared = correlation * deviations[0] * deviations[1];
        let covariance = [[deviations[0].powi(2), shared], [shared, deviations[1].powi(2)]];
        let means = [load.value.as_newtons().ln(), falloff.value.as_fraction()];
        Self { means, covariance, weights: inverse(covariance) }
    }
}

/// The sprung load before any reading: shares of rider and bike, or a scale under the wheel where it was tried.
pub fn load_before_reading(setup: &Setup, doubts: &Doubts) -> Estimate<Force> {
    let table = &doubts.load;
    let unsprung = Estimate::new(table.unsprung.as_kg(), table.u_unsprung.as_kg());
    let (mass, uncertainty) = if let Some(load) = setup.wheel_load {
        let shown = load.shown;
        (shown.value.as_kg() - unsprung.value, shown.uncertainty.as_kg().hypot(unsprung.uncertainty))
    } else {
        let (share, uncertainty) = rider_share(setup, doubts);
        let mass = share * setup.rider.as_kg() + next_visit::bike_load(setup, doubts) / GRAVITY;
        let by_bike = table.bike_share.as_fraction() * unsprung.uncertainty.hypot(bike_doubt(setup, doubts));
        let unknown = if setup.knows_the_load() { 0.0 } else { table.load_unknown.as_fraction() * mass };
        (mass, (uncertainty * setup.rider.as_kg()).hypot(by_bike).hypot(unknown))
    };
    // A scale that shows less than the wheel weighs is a wrong entry; a small load keeps the figures finite.
    Estimate::new(Force::newtons(GRAVITY * mass.max(5.0)), Force::newtons(GRAVITY * uncertainty.max(0.1)))
}

/// How far off the bike's weight may be: not at all where it was entered.
fn bike_doubt(setup: &Setup, doubts: &Doubts) -> f64 {
    if setup.is_entered(Fact::Bike) { 0.0 } else { doubts.load.typical_bike_doubt.as_kg() }
}

/// Share of the seated rider on the rear wheel, with its standard uncertainty: an earlier session's, or anybody's.
fn rider_share(setup: &Setup, doubts: &Doubts) -> (f64, f64) {
    let table = &doubts.load;
    match setup.earlier {
        Some(earlier) => {
            let known = earlier.rider_share;
            (
                known.value.as_fraction(),
                known.uncertainty.as_fraction().hypot(table.season_drift.as_fraction()),
            )
        }
        None => (table.rider_share.as_fraction(), table.u_rider_share.as_fraction()),
    }
}

/// The linear fall-off before any reading: by the grade of knowledge, or what an earlier session made of it.
fn falloff_before_reading(setup: &Setup, doubts: &Doubts) -> Estimate<Share> {
    let base = evidence::prior_curve(setup, doubts).falloff();
    match (&setup.leverage, setup.earlier) {
        (LeverageKnowledge::TravelOnly, Some(earlier)) => earlier.falloff,
        (LeverageKnowledge::TravelOnly, None) => Estimate::new(base, doubts.leverage.travel_only),
        (LeverageKnowledge::Ends { .. }, _) => Estimate::new(base, doubts.leverage.ends),
        (LeverageKnowledge::Measured(_), _) => Estimate::new(base, doubts.leverage.measured),
    }
}

/// Standard uncertainty of ln(rate) of a spring: its label's, or that of whoever measured it.
pub(super) fn label_uncertainty(spring: &Spring, doubts: &Doubts) -> Share {
    spring.measured.map_or(doubts.label, |measured| Share::fraction(measured.uncertainty / measured.value))
}

pub(super) fn dot(one: LoadAndFalloff, other: LoadAndFalloff) -> f64 {
    one[0] * other[0] + one[1] * other[1]
}

/// gᵀ C g.
pub(super) fn along(covariance: [LoadAndFalloff; 2], gradient: LoadAndFalloff) -> f64 {
    dot(gradient, [dot(covariance[0], gradient), dot(covariance[1], gradient)])
}

/// Inverse of a symmetric positive definite two by two matrix; priors see to it that it is one.
pub(super) fn inverse(matrix: [LoadAndFalloff; 2]) -> [LoadAndFalloff; 2] {
    let [[a, b], [_, d]] = matrix;
    let determinant = a * d - b * b;
    [[d / determinant, -b / determinant], [-b / determinant, a / determinant]]
}
