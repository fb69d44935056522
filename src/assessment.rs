//! Floor 3: record in, assessment out. The one door to the mathematics.
//!
//! [`assess`] reads the state of the walk (never a file, never a clock) and says what the readings mean, what every
//! spring on the rack would do, and what to do next. It is called anew after every entry, so nothing it says can be
//! stale. Inside: `evidence` turns readings into sets with uncertainty, `posterior` learns load, fall-off and labels
//! from all sets together, `forecast` predicts every spring, `advice` chooses one thing to do, `changes` sets the springs
//! it speaks of side by side, `trail` reads the trail check, `what_if` says what small changes do. Beside it, [`shop_alternatives()`] looks past the session's list at the
//! springs of the shop. Not here: words (`phrase`).

pub mod advice;
pub mod changes;
mod choice;
pub mod doubts;
pub mod evidence;
pub mod forecast;
pub mod front;
pub mod next_visit;
pub mod posterior;
pub mod preload;
pub mod prior;
pub mod ridden;
pub mod season;
pub mod shop_alternatives;
pub mod symptom;
pub mod trail;
pub mod warning;
pub mod what_if;

pub use advice::{Advice, Cause, KeepReason, ListEnd, ReadAgainReason, SpringStep, Suspect};
pub use changes::{AgainstFitted, SpringComparison, WhyCompared};
pub use doubts::Doubts;
pub use evidence::{SetFinding, Standing};
pub use forecast::{Forecast, RateSource};
pub use front::Balance;
pub use posterior::Agreement;
pub use preload::PreloadPlan;
pub use ridden::Ridden;
pub use shop_alternatives::{Availability, ShopAlternative, ShopAlternatives, shop_alternatives};
pub use symptom::Remedy;
pub use trail::{Elsewhere, TrailFinding};
pub use warning::Warning;
pub use what_if::{OtherAim, OtherLoad, WhatIf};

use crate::session::{Setup, SpringNumber, State, Symptom};
use crate::units::{Estimate, Force, Length, Share, SpringRate, Turns};

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
    /// What to do next.
    pub advice: Advice,
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
    /// Linear fall-off of the leverage ratio over the stroke, as a share of its mean.
    pub falloff: Estimate<Share>,
    /// How the doubts of the two hang together: a correlation, from -1 to 1 as parts of one.
    pub correlation: Share,
    /// Standard deviation of one seated reading about its set's mean.
    pub scatter: Length,
    /// The rate that would rest at the middle of the band, at contact preload.
    pub needed_rate: Estimate<SpringRate>,
    /// Whether the sets go together.
    pub agreement: Agreement,
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
    /// The forecast of the spring on the bike.
    pub fn present(&self) -> Option<&Forecast> {
        self.forecasts.iter().find(|forecast| forecast.known == RateSource::OnTheBike)
    }
}

/// What the readings say: their scatter, the sets, and what is learned from all of them.
fn learn(setup: &Setup, state: &State, doubts: &Doubts) -> (Length, Vec<SetFinding>, posterior::Posterior) {
    let scatter = evidence::scatter(&state.sets, doubts);
    let sets = evidence::findings(setup, &state.sets, scatter, doubts);
    let posterior = posterior::learn(setup, &sets, doubts);
    (scatter, sets, posterior)
}

/// Reads the state of the walk and says what it means.
pub fn assess(setup: &Setup, state: &State, doubts: &Doubts) -> Assessment {
    let (scatter, sets, posterior) = learn(setup, state, doubts);
    let forecasts = forecast::all(setup, state, &posterior, doubts);
    let findings = BikeFindings {
        load: posterior.load(),
        falloff: posterior.falloff(),
        correlation: posterior.correlation(),
        scatter,
        needed_rate: forecast::needed_rate(setup, &posterior, doubts),
        agreement: posterior.agreement,
    };
    let curve = forecast::curve(setup, &posterior);
    let preload_plan = preload::best(setup, state, &posterior, doubts);
    let situation = advice::AdviceInput {
        setup,
        state,
        sets: &sets,
        findings: &findings,
        forecasts: &forecasts,
        preload_plan,
        doubts,
    };
    let advice = advice::advise(&situation);
    let best_to_fit = situation.best_match().map(|forecast| forecast.spring);
    let changes = changes::gather(&advice, &forecasts, setup.frame);
    let bothers = state.rides.last().and_then(|ride| ride.symptom);
    let trail = state.trail.last().map(|report| trail::read(report, setup.target));
    let trail = trail.map(|finding| symptom::before_the_spring(finding, bothers));
    let preload_turns = state.present_set().map_or(Turns::ZERO, |set| set.preload_turns);
    let remedy = bothers.map(|bothers| (bothers, symptom::remedy(bothers, preload_turns)));
    let warnings = warning::gather(&situation);
    let ridden = ridden::ridden(setup, state, &forecasts);
    let balance = front::balance(setup, state, &findings, &forecasts, doubts);
    let what_if = what_if::what_if(setup, state, &posterior, doubts);
    Assessment {
        sets,
        findings,
        forecasts,
        curve,
        advice,
        best_to_fit,
        changes,
        trail,
        warnings,
        ridden,
        remedy,
        balance,
        what_if,
    }
}
