//! What every spring on the rack would do: sag with uncertainty, chance of the band, whether it fits.
//!
//! The spring on the bike is forecast at its present collar position, every other at contact. A spring that was measured
//! keeps its own label error, so a second look at it is tighter than one at a new spring. Not here: which one to take
//! (`advice`).

use std::cmp::Ordering;

use super::doubts::{DecisionLimits, Doubts};
use super::evidence::NINETY_PERCENT_OF_A_NORMAL;
use super::posterior::{self, Posterior, Prediction};
use crate::mechanics::{
    self, Fit, RideFigures, SeatedBalance, Spring, SpringNumber, balance, ride_figures, spring,
};
use crate::session::shop_rack::{bears, softest_first};
use crate::session::{Setup, State, Target};
use crate::statistics::Normal;
use crate::units::{Estimate, Length, Share, SpringRate, Turns};

/// What one spring would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// Which spring.
    pub spring: SpringNumber,
    /// The rate printed on it, or measured by somebody.
    pub rate: SpringRate,
    /// Collar turns past contact reckoned with.
    pub preload_turns: Turns,
    /// Sag at the shock.
    pub sag: Estimate<Share>,
    /// Sag at the rear wheel.
    pub wheel_sag: Share,
    /// Chance that the true sag lies in the band.
    pub chance: Share,
    /// The same if the collar may be used to trim a little too much sag away.
    pub chance_with_collar: Share,
    /// How much sag that little turn takes away.
    pub collar_reach: Share,
    /// Whether it fits the shock.
    pub fit: Fit,
    /// What is known of it.
    pub known: RateSource,
    /// Energy, bounce, breakaway.
    pub ride: RideFigures,
}

impl Forecast {
    /// What the spring is worth: its chance of the band, and part of the chance that the collar would bring it there.
    pub fn worth(&self, limits: &DecisionLimits) -> Share {
        self.chance + (self.chance_with_collar - self.chance) * limits.rescue.as_fraction()
    }

    /// The better of two to fit comes last: it is worth more; where no spring has a chance it is nearer to the aim; else it
    /// comes first in the order springs are told in.
    pub fn by_worth(&self, other: &Self, target: Target, limits: &DecisionLimits) -> Ordering {
        let worth = |one: &Self| one.worth(limits).value();
        let distance = |one: &Self| (one.sag.value - target.sag).abs().value();
        worth(self)
            .total_cmp(&worth(other))
            .then(distance(other).total_cmp(&distance(self)))
            .then(other.rate.value().total_cmp(&self.rate.value()))
            .then(other.spring.cmp(&self.spring))
    }

    /// Whether nothing tells it from the spring on the bike: a twin promises nothing until readings were taken with it.
    pub fn is_twin_of(&self, present: &Self) -> bool {
        self.known == RateSource::ByLabel && bears(self.rate, present.rate)
    }

    /// Half-width of the interval that holds the sag with a chance of 90 %, by the normal law.
    pub fn ninety_percent(&self) -> Share {
        self.sag.uncertainty * NINETY_PERCENT_OF_A_NORMAL
    }
}

/// What is known of a spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RateSource {
    /// It is on the bike now.
    OnTheBike,
    /// Readings were taken with it earlier in the session.
    Measured,
    /// Only what is printed on it.
    ByLabel,
}

/// Every spring on the rack, softest first.
pub fn all(setup: &Setup, state: &State, posterior: &Posterior, doubts: &Doubts) -> Vec<Forecast> {
    let mut springs: Vec<&Spring> = setup.springs.iter().collect();
    springs.sort_by(|one, other| softest_first(one, other));
    let preload_turns = state.present_set().map_or(Turns::ZERO, |set| set.preload_turns);
    let one = |spring: &&Spring| {
        let fitted = state.on_bike.fitted == Some(spring.number);
        let known = match posterior.knows(spring.number) {
            _ if fitted => RateSource::OnTheBike,
            true => RateSource::Measured,
            false => RateSource::ByLabel,
        };
        let turns = if fitted { preload_turns } else { Turns::ZERO };
        forecast(setup, spring, turns, known, posterior, doubts)
    };
    springs.iter().map(one).collect()
}

/// What a spring would do with the collar this far past contact.
pub fn forecast(
    setup: &Setup,
    spring: &Spring,
    preload_turns: Turns,
    known: RateSource,
    posterior: &Posterior,
    doubts: &Doubts,
) -> Forecast {
    let preload = setup.shock.preload(preload_turns);
    let prediction = posterior.predict(spring, preload, doubts);
    let sag = sag_of(&prediction, setup, posterior, doubts);
    let curve = posterior.curve();
    let balance = SeatedBalance {
        load: posterior.load().value,
        rate: posterior.rate(spring),
        preload,
        leverage: &curve,
    };
    let most = spring::most_turns(spring, &setup.shock).value().min(doubts.decision.little_preload.value());
    let collar = setup.shock.preload(Turns::of(most) - preload_turns).as_mm().max(0.0);
    let reach = Share::fraction(-prediction.per_preload * collar / setup.shock.stroke.as_mm());
    Forecast {
        spring: spring.number,
        rate: spring.rate(),
        preload_turns,
        sag,
        wheel_sag: Share::fraction(curve.wheel_travel(balance.stroke_used()) / curve.travel()),
        chance: chance_between(sag, setup.target.low(), setup.target.high()),
        chance_with_collar: chance_between(sag, setup.target.low(), setup.target.high() + reach),
        collar_reach: reach,
        fit: mechanics::fit(spring, &setup.shock, preload_turns),
        known,
        ride: ride_figures(&balance),
    }
}

/// Sag and its standard uncertainty: what was learned, where contact is called when it is fitted, and how far the
/// curve may be from the assumed shape between the nearest measured stroke and this one.
fn sag_of(prediction: &Prediction, setup: &Setup, posterior: &Posterior, doubts: &Doubts) -> Estimate<Share> {
    let contact = prediction.per_preload * posterior::contact_uncertainty(setup, doubts);
    let reach =
        posterior.strokes.iter().map(|stroke| (stroke - prediction.used).abs()).fold(f64::INFINITY, f64::min);
    let far = if reach.is_finite() { reach * doubts.leverage.far_spring.as_fraction() } else { 0.0 };
    let deviation = (prediction.variance + contact.powi(2) + far.powi(2)).sqrt();
    let stroke = setup.shock.stroke.as_mm();
    Estimate::new(Share::fraction(prediction.used / stroke), Share::fraction(deviation / stroke))
}

/// Sag against spring rate at contact preload, as all sets together have it: from below the softest spring to beyond the
/// stiffest, evenly.
pub fn curve(setup: &Setup, posterior: &Posterior) -> Vec<(SpringRate, Share)> {
    let rates = setup.springs.iter().map(|spring| spring.rate().value());
    let (softest, stiffest) =
        rates.fold((f64::INFINITY, 0.0), |(low, high), rate| (f64::min(low, rate), f64::max(high, rate)));
    if softest > stiffest {
        return Vec::new();
    }
    let leverage = posterior.curve();
    let point = |index: u8| {
        let share = f64::from(index) / f64::from(CURVE_POINTS);
        let rate = SpringRate::n_per_mm(softest * BELOW + share * (stiffest * BEYOND - softest * BELOW));
        let balance =
            SeatedBalance { load: posterior.load().value, rate, preload: Length::ZERO, leverage: &leverage };
        (rate, Share::fraction(balance.stroke_used() / setup.shock.stroke))
    };
    (0..=CURVE_POINTS).map(point).collect()
}

/// Points of the curve less one: a straight line between two is off by less than anybody can see.
const CURVE_POINTS: u8 = 24;
/// Where the curve begins and ends, as parts of the softest and the stiffest rate.
const BELOW: f64 = 0.95;
const BEYOND: f64 = 1.05;

/// The chance that a sag lies between two others.
pub(super) fn chance_between(sag: Estimate<Share>, low: Share, high: Share) -> Share {
    let normal = Normal::new(sag.value.as_fraction(), sag.uncertainty.as_fraction().max(1e-9));
    normal.map_or(Share::ZERO, |normal| {
        Share::fraction(normal.probability_between(low.as_fraction(), high.as_fraction()))
    })
}

/// The rate that would rest in the middle of the band at contact preload, with the uncertainty of a spring as labelled.
pub fn needed_rate(setup: &Setup, posterior: &Posterior, doubts: &Doubts) -> Estimate<SpringRate> {
    let used = setup.target.sag.of(setup.shock.stroke);
    let rate = balance::rate_for(posterior.load().value, used, Length::ZERO, &posterior.curve());
    let relative = (posterior.needed_variance(used) + doubts.label.as_fraction().powi(2)).sqrt();
    Estimate::new(rate, rate * relative)
}
