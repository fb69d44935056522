//! What every spring on the rack would do: sag with uncertainty, chance of the band, whether it fits.
//!
//! The spring on the bike is forecast at its present collar position, every other at contact. A spring that was measured
//! keeps its own label error, so a second look at it is tighter than one at a new spring. Not here: which one to take
//! (`advice`).

use super::belief::{Belief, Outcome};
use super::choice::{Weighed, is_at};
use crate::mechanics::{self, Fit, RideFigures, Spring, SpringNumber, ride_figures};
use crate::session::shop_rack::{bears, softest_first};
use crate::session::{ReadHow, ReadingSet, State};
use crate::statistics;
use crate::units::{Estimate, Length, Share, SpringRate, Turns};

/// What one spring would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// Which spring.
    pub spring: SpringNumber,
    /// The rate printed on it.
    pub label: SpringRate,
    /// The rate to calculate with: measured by somebody, else the printed one; of a progressive spring the one rate that would
    /// push as hard at rest.
    pub rate: SpringRate,
    /// Collar turns past contact reckoned with.
    pub preload_turns: Turns,
    /// Sag at the shock, at rest.
    pub sag: Estimate<Share>,
    /// Half-width of the interval that holds it with a chance of 90 %.
    ninety_percent: Share,
    /// Sag at the rear wheel.
    pub wheel_sag: Share,
    /// Chance that the true sag lies in the band.
    pub chance: Share,
    /// The same with the collar where it helps most, within the turns that are planned.
    pub chance_with_collar: Share,
    /// Whether it fits the shock.
    pub fit: Fit,
    /// What is known of it.
    pub known: RateSource,
    /// Energy, bounce, breakaway.
    pub ride: RideFigures,
}

impl Forecast {
    /// Whether nothing tells it from the spring on the bike: a twin promises nothing until readings were taken with it.
    pub fn is_twin_of(&self, present: &Self) -> bool {
        self.known == RateSource::ByLabel && bears(self.rate, present.rate)
    }

    /// Half-width of the interval that holds the sag with a chance of 90 %.
    pub const fn ninety_percent(&self) -> Share {
        self.ninety_percent
    }

    /// The sag with that half-width, as people are told it.
    pub const fn sag_to_tell(&self) -> Estimate<Share> {
        Estimate::new(self.sag.value, self.ninety_percent)
    }
}

/// What is known of a spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RateSource {
    /// It is on the bike now.
    OnTheBike,
    /// Readings were taken with it earlier in the session.
    Measured,
    /// Past sessions taught what it is, by its mark.
    FoundBefore,
    /// Only what is printed on it.
    ByLabel,
}

/// Two-sided 90 % of a normal law: what Student's t comes to with many readings.
const NINETY_PERCENT_OF_A_NORMAL: f64 = 1.644_853_626_951_472_7;
/// Degrees of freedom from which Student's factor is the normal one to half a per cent.
const MANY_DEGREES: f64 = 200.0;

/// Every spring on the rack, softest first.
pub(super) fn all(state: &State, belief: &Belief<'_>, weighed: &Weighed) -> Vec<Forecast> {
    let mut springs: Vec<&Spring> = belief.setup.springs.iter().collect();
    springs.sort_by(|one, other| softest_first(one, other));
    let set = state.present_set();
    let preload_turns = set.map_or(Turns::ZERO, |set| set.preload_turns);
    let one = |spring: &&Spring| {
        let fitted = state.on_bike.fitted == Some(spring.number);
        if fitted {
            let mounting = set.map(|set| set.mounting);
            of_standing(belief, spring, preload_turns, mounting, weighed)
        } else {
            of_other(belief, spring, weighed)
        }
    };
    springs.iter().map(one).collect()
}

/// The spring on the bike, its interval by its own degrees of freedom.
fn of_standing(
    belief: &Belief<'_>,
    spring: &Spring,
    turns: Turns,
    mounting: Option<u16>,
    weighed: &Weighed,
) -> Forecast {
    let outcome = belief.outcome(spring, turns, mounting);
    let nearest = weighed.turns.iter().min_by(|one, other| {
        let away = |at: &Turns| (*at - turns).abs().value();
        away(&one.turns).total_cmp(&away(&other.turns))
    });
    let freedom = nearest.map_or(f64::INFINITY, |at| at.freedom);
    let at = Forecast { known: RateSource::OnTheBike, ..made(belief, spring, turns, &outcome, freedom) };
    let here = weighed.turns.iter().find(|one| is_at(one.turns, turns)).map(|one| one.chance);
    let best = weighed.turns.iter().map(|one| one.chance).fold(at.chance.as_fraction(), f64::max);
    Forecast {
        chance: here.map_or(at.chance, Share::fraction),
        chance_with_collar: Share::fraction(best),
        ..at
    }
}

/// The chance by all readings together that the spring of a set is on target with the collar as it was there; none for a set
/// of the other posture, whose rest is another.
pub(super) fn chance_of(belief: &Belief<'_>, set: &ReadingSet) -> Option<Share> {
    let spring = belief.setup.spring(set.spring).filter(|_| {
        let how = |how: ReadHow| (how.posture, how.condition);
        how(set.how) == how(belief.how)
    })?;
    let outcome = belief.outcome(spring, set.preload_turns, Some(set.mounting));
    Some(chance(belief, &outcome, f64::INFINITY))
}

/// A spring to be fitted, at contact.
pub(super) fn of_other(belief: &Belief<'_>, spring: &Spring, weighed: &Weighed) -> Forecast {
    let outcome = belief.outcome(spring, Turns::ZERO, None);
    let at = made(belief, spring, Turns::ZERO, &outcome, f64::INFINITY);
    let best = weighed.fitting(spring.number).map_or(0.0, super::choice::Fitting::best_chance);
    Forecast { chance_with_collar: Share::fraction(best.max(at.chance.as_fraction())), ..at }
}

fn made(belief: &Belief<'_>, spring: &Spring, turns: Turns, outcome: &Outcome, freedom: f64) -> Forecast {
    let setup = belief.setup;
    let sag = belief.sag_of(outcome);
    let chance = chance(belief, outcome, freedom);
    let curve = belief.curve();
    Forecast {
        spring: spring.number,
        label: spring.label,
        rate: spring.rate_to(Length::mm(outcome.used) + setup.shock.preload(turns)),
        preload_turns: turns,
        sag,
        ninety_percent: sag.uncertainty * ninety_percent_factor(freedom),
        wheel_sag: Share::fraction(curve.wheel_travel(Length::mm(outcome.used)) / curve.travel()),
        chance,
        chance_with_collar: chance,
        fit: mechanics::fit(spring, &setup.shock, turns),
        known: belief.source(spring),
        ride: ride_figures(&belief.seat(spring, setup.shock.preload(turns))),
    }
}

/// The chance of a rest in the target range, by Student's law with so many degrees of freedom.
fn chance(belief: &Belief<'_>, outcome: &Outcome, freedom: f64) -> Share {
    let (sag, target) = (belief.sag_of(outcome), belief.setup.target);
    let (low, high) = (target.low().as_fraction(), target.high().as_fraction());
    let (mean, scale) = (sag.value.as_fraction(), sag.uncertainty.as_fraction());
    Share::fraction(statistics::student_between(low, high, mean, scale, freedom))
}

pub(super) fn ninety_percent_factor(freedom: f64) -> f64 {
    let few = (freedom < MANY_DEGREES).then(|| statistics::coverage_factor(0.90, freedom).ok()).flatten();
    few.unwrap_or(NINETY_PERCENT_OF_A_NORMAL)
}

/// Sag against spring rate at contact preload, as all sets together have it: from below the softest spring to beyond the
/// stiffest, evenly.
pub(super) fn curve(belief: &Belief<'_>) -> Vec<(SpringRate, Share)> {
    let rates = belief.setup.springs.iter().map(|spring| spring.rate().value());
    let (softest, stiffest) =
        rates.fold((f64::INFINITY, 0.0), |(low, high), rate| (f64::min(low, rate), f64::max(high, rate)));
    if softest > stiffest {
        return Vec::new();
    }
    let point = |index: u8| {
        let share = f64::from(index) / f64::from(CURVE_POINTS);
        let rate = SpringRate::n_per_mm(softest * BELOW + share * (stiffest * BEYOND - softest * BELOW));
        let seat = belief.seat(&Spring::labelled(SpringNumber(u16::MAX), rate), Length::ZERO);
        (rate, Share::fraction(seat.stroke_used() / belief.setup.shock.stroke))
    };
    (0..=CURVE_POINTS).map(point).collect()
}

/// Points of the curve less one: a straight line between two is off by less than anybody can see.
const CURVE_POINTS: u8 = 24;
/// Where the curve begins and ends, as parts of the softest and the stiffest rate.
const BELOW: f64 = 0.95;
const BEYOND: f64 = 1.05;
