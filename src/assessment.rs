//! Floor 3: record in, assessment out. The one door to the mathematics.
//!
//! [`assess`] reads the state of the walk (never a file, never a clock) and says what the readings mean, what every
//! spring on the rack would do, and what to do next. It is called anew after every entry, so nothing it says can be
//! stale. Inside: `evidence` tells the sets as they were read, `belief` learns load, gas, leverage, indicator and labels
//! from all sets together, `check` holds readings against what was expected, `forecast` predicts every spring, `choice`
//! weighs what could be done in minutes, `measurement` what could be measured, `advice` makes one thing to do of it and `enter` says what the key does, `changes`
//! sets the springs it speaks of side by side, `trail` reads the trail check, `what_if` says what small changes do, `marks` what past
//! sessions taught of a marked spring. Beside it, [`shop_alternatives()`] looks past the
//! session's list at the springs of the shop. Not here: words (`phrase`).

pub mod advice;
mod belief;
pub mod changes;
pub mod check;
pub mod choice;
pub mod doubts;
pub mod enter;
pub mod evidence;
pub mod forecast;
pub mod front;
pub mod kerb;
pub mod marks;
pub mod measurement;
pub mod next_visit;
pub mod preload;
pub mod prices;
pub mod ridden;
pub mod season;
pub mod shop_alternatives;
pub mod symptom;
pub mod tally;
pub mod trail;
pub mod warning;
pub mod what_if;

pub use advice::{Advice, Cause, KeepReason, Lands, ListEnd, ReadAgainReason, SpringStep, Suspect};
pub use changes::{AgainstFitted, SpringComparison, WhyCompared};
pub use check::Off;
pub use choice::{NextMove, Weighed};
pub use doubts::Doubts;
pub use enter::{Does, Enter};
pub use evidence::{SetFinding, Standing};
pub use forecast::{Forecast, RateSource};
pub use front::Balance;
pub use measurement::{Measurement, Measuring, Priced};
pub use preload::PreloadPlan;
pub use prices::Prices;
pub use ridden::Ridden;
pub use shop_alternatives::{Availability, ShopAlternative, ShopAlternatives, shop_alternatives};
pub use symptom::Remedy;
pub use trail::{Elsewhere, TrailFinding};
pub use warning::Warning;
pub use what_if::{OtherLoad, OtherTarget, WhatIf};

use self::belief::prior::{FALLOFF, GAS, SEATED};
use self::belief::{Belief, seen};
use crate::session::{FoundSpring, ReadHow, ReadingSet, Setup, SpringNumber, State, Symptom};
use crate::units::{Estimate, Force, Length, Minutes, Share, SpringRate, Turns};

/// What the record says, all of it recomputed.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment {
    /// One finding a set of readings, in order; sets without a counting reading are left out.
    pub sets: Vec<SetFinding>,
    /// What all sets together say.
    pub findings: BikeFindings,
    /// Every spring on the rack, softest first; the one on the bike at its present preload, the others at contact.
    pub forecasts: Vec<Forecast>,
    /// Sag against spring rate at contact preload, softest first; empty where no spring is at hand.
    pub curve: Vec<(SpringRate, Share)>,
    /// What could be done now, weighed.
    pub weighed: Weighed,
    /// What work costs in minutes.
    pub prices: Prices,
    /// What to do next.
    pub advice: Advice,
    /// What the key does that takes the advice.
    pub enter: Enter,
    /// What the next reading should be, the standard uncertainty of one reading with it; none where no spring is fitted.
    pub expected: Option<Estimate<Length>>,
    /// What could be measured next with its price, the best first; see [`Priced::pays`].
    pub measurements: Vec<Priced>,
    /// The best spring to fit, whatever is advised: one that is not on the bike and that fits.
    pub best_to_fit: Option<SpringNumber>,
    /// The spring on the bike beside those the advice speaks of.
    pub changes: Vec<SpringComparison>,
    /// What the last trail check says about the aim.
    pub trail: Option<TrailFinding>,
    /// What deserves a look.
    pub warnings: Vec<Warning>,
    /// How deep the last ride went, and would go on other springs.
    pub ridden: Option<Ridden>,
    /// What the last kerb drop says of the rebound knob.
    pub kerb: Option<kerb::KerbFinding>,
    /// The first thing to try for what bothered on the last ride.
    pub remedy: Option<(Symptom, Remedy)>,
    /// Front and rear together, once the sheet says enough of the fork.
    pub balance: Option<Balance>,
    /// What a few kilograms, a turn or a step would do; none before there is a reading with the spring on the bike.
    pub what_if: Option<WhatIf>,
}

/// What all sets together say about rider, linkage and springs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BikeFindings {
    /// Sprung load on the rear wheel.
    pub load: Estimate<Force>,
    /// Force of the charge in the damper.
    pub gas: Estimate<Force>,
    /// How far a dragged indicator stands beyond the rest.
    pub kept: Estimate<Length>,
    /// Linear fall-off of the leverage ratio over the stroke, as a share of its mean.
    pub falloff: Estimate<Share>,
    /// How the doubts of load and fall-off hang together: a correlation, from -1 to 1 as parts of one.
    pub correlation: Share,
    /// The same of load and gas.
    pub load_with_gas: Share,
    /// The same of fall-off and gas.
    pub falloff_with_gas: Share,
    /// Standard deviation of one seated reading about its set's mean.
    pub scatter: Length,
    /// Friction at the shock, from readings taken from above and from below; none without such a pair.
    pub friction: Option<Force>,
    /// The part of the doubt of the sag that no further reading of this set lowers; none before a reading.
    pub left_by_sits: Option<Share>,
    /// The spring on the bike as all readings have it; none before a reading with it.
    pub found: Option<FoundSpring>,
    /// The rate that would rest at the middle of the band, at contact preload.
    pub needed_rate: Estimate<SpringRate>,
}

/// Two-sided 90 % of a normal law.
const NINETY_PERCENT: f64 = 1.645;

impl BikeFindings {
    /// The softest and the stiffest rate that may turn out right, with a chance of 90 %.
    pub fn needed_range(&self) -> (SpringRate, SpringRate) {
        let spread = self.needed_rate.uncertainty * NINETY_PERCENT;
        (self.needed_rate.value - spread, self.needed_rate.value + spread)
    }
}

impl Assessment {
    /// The measurement that clearly pays, the best of them; none where none does.
    pub fn worth_measuring(&self) -> Option<&Priced> {
        self.measurements.iter().find(|priced| priced.pays())
    }

    /// What one more reading is expected to save before its own price; none where it saves nothing.
    pub fn reading_saves(&self) -> Option<Minutes> {
        let worth = |minutes: Option<Minutes>| minutes.map_or(f64::NEG_INFINITY, Minutes::value);
        let weighed = &self.weighed;
        let stop = worth(weighed.stop.map(|(_, worth)| worth));
        let saves = weighed.read?.value() - stop.max(worth(weighed.swap.map(|(_, worth)| worth)));
        Some(Minutes::of(saves) + self.prices.sit).filter(|saves| *saves > Minutes::ZERO)
    }

    /// The forecast of the spring on the bike.
    pub fn present(&self) -> Option<&Forecast> {
        self.forecasts.iter().find(|forecast| forecast.known == RateSource::OnTheBike)
    }
}

/// What all readings of a session say together.
fn learn<'a>(setup: &'a Setup, state: &'a State, doubts: &'a Doubts) -> Belief<'a> {
    Belief::from(setup, seen::all(&state.sets, setup), how_now(state), &state.conditions, doubts)
}

/// How readings are taken now: as in the present set, else as the next will be.
fn how_now(state: &State) -> ReadHow {
    state.present_set().map_or(state.how, |set| set.how)
}

/// The spring on the bike with its set, once a reading of it says something.
fn standing<'a>(state: &'a State, belief: &Belief<'_>) -> Option<choice::FittedSpring<'a>> {
    let (spring, set) = (state.fitted()?, state.present_set()?);
    let is_last = belief.sets.last().is_some_and(|last| last.number == state.sets.len());
    is_last.then_some(choice::FittedSpring { spring, set })
}

/// Reads the state of the walk and says what it means.
pub fn assess(setup: &Setup, state: &State, doubts: &Doubts) -> Assessment {
    let belief = learn(setup, state, doubts);
    let standing = standing(state, &belief);
    let weighed = choice::weigh(&belief, standing);
    let forecasts = forecast::all(state, &belief, &weighed);
    let findings = findings(&belief, state, &weighed);
    let off = [check::against_told, check::against_sets]
        .map(|against| against(setup, &belief.sets, belief.how, &state.conditions, doubts));
    let situation = advice::AdviceInput {
        setup,
        state,
        belief: &belief,
        findings: &findings,
        forecasts: &forecasts,
        weighed: &weighed,
        off,
        doubts,
    };
    let advice = advice::advise(&situation);
    let warnings = warning::gather(&situation);
    let best_to_fit = situation.best_match();
    let bothers = state.rides.last().and_then(|ride| ride.symptom);
    let trail = state.trail.last().map(|report| trail::read(report, setup.target));
    let preload_turns = state.present_set().map_or(Turns::ZERO, |set| set.preload_turns);
    let mut assessment = Assessment {
        sets: evidence::findings(&state.sets, &belief),
        curve: forecast::curve(&belief),
        changes: changes::gather(&advice, &forecasts, setup.frame),
        trail: trail.map(|finding| symptom::before_the_spring(finding, bothers)),
        ridden: ridden::ridden(setup, state, &forecasts),
        kerb: kerb::finding(state),
        remedy: bothers.map(|bothers| (bothers, symptom::remedy(bothers, preload_turns))),
        balance: front::balance(setup, state, &findings, &forecasts, doubts),
        what_if: what_if::what_if(&belief, state),
        enter: Enter::nothing(),
        expected: expected(state, &belief),
        measurements: measurement::priced(&belief, standing, &weighed, &advice),
        findings,
        advice,
        best_to_fit,
        warnings,
        weighed,
        prices: doubts.prices,
        forecasts,
    };
    assessment.enter = enter::of(&assessment, state);
    assessment
}

fn findings(belief: &Belief<'_>, state: &State, weighed: &Weighed) -> BikeFindings {
    BikeFindings {
        load: belief.load(),
        gas: belief.gas(),
        kept: belief.kept(),
        falloff: belief.falloff(),
        correlation: belief.correlation(SEATED, FALLOFF),
        load_with_gas: belief.correlation(SEATED, GAS),
        falloff_with_gas: belief.correlation(FALLOFF, GAS),
        scatter: Length::mm(belief.scatter),
        friction: friction(belief, state),
        left_by_sits: left_by_sits(belief, state, weighed),
        found: standing(state, belief).and_then(|standing| belief.found(standing.spring)),
        needed_rate: belief.needed_rate(),
    }
}

/// Half the way between a reading from above and one from below, times the rate there: the mean over all such pairs.
fn friction(belief: &Belief<'_>, state: &State) -> Option<Force> {
    let of_set = |set: &ReadingSet| {
        let rate = belief.setup.spring(set.spring).map(|spring| belief.rate(spring))?;
        let pairs =
            set.counting().filter_map(|reading| Some((reading.risen? - reading.distance).abs() * 0.5));
        Some(pairs.map(|half| rate * half).collect::<Vec<_>>())
    };
    let all: Vec<Force> = state.sets.iter().filter_map(of_set).flatten().collect();
    let sum = all.iter().fold(Force::ZERO, |sum, force| sum + *force);
    (!all.is_empty()).then(|| sum / all.len() as f64)
}

/// The doubt that would be left of the sag at the present place after readings without end.
fn left_by_sits(belief: &Belief<'_>, state: &State, weighed: &Weighed) -> Option<Share> {
    let now = state.present_set()?.preload_turns;
    let at = weighed.turns.iter().find(|at| choice::is_at(at.turns, now))?;
    let sight = belief.sight_of_last(&at.outcome);
    let entered = at.outcome.with(&sight).powi(2) / (sight.variance - sight.noise);
    let left = (at.outcome.variance - entered).max(0.0).sqrt();
    Some(Share::fraction(left / belief.setup.shock.stroke.as_mm()))
}

fn expected(state: &State, belief: &Belief<'_>) -> Option<Estimate<Length>> {
    let (spring, set) = (state.fitted()?, state.present_set());
    let outcome =
        belief.outcome(spring, set.map_or(Turns::ZERO, |set| set.preload_turns), set.map(|set| set.mounting));
    let sight = match standing(state, belief) {
        Some(_) => belief.sight_of_last(&outcome),
        None => belief.sight_of_new(&outcome, 1.0),
    };
    Some(Estimate::new(Length::mm(sight.mean), Length::mm(sight.variance.sqrt())))
}
