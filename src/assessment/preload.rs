//! Trimming with the collar: what the quarter turns within reach would do for the spring on the bike.
//!
//! More preload only against too much sag, less only against too little; never further than the maker of the shock and
//! the stroke of the spring allow. Not here: whether to trim at all (`advice`).

use super::doubts::Doubts;
use super::forecast::{self, RateSource};
use super::posterior::Posterior;
use crate::mechanics::spring;
use crate::session::{Setup, State};
use crate::units::{Estimate, Share, Turns};

/// A turn of the collar and what it does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PreloadPlan {
    /// Collar turns past contact, in all.
    pub to: Turns,
    /// How far to turn from where it stands; negative backs it off.
    pub by: Turns,
    /// Sag afterwards.
    pub sag_after: Estimate<Share>,
    /// Chance of the band afterwards.
    pub chance_after: Share,
    /// Share of the load that must then arrive before the shock moves.
    pub breakaway: Share,
}

/// Less than half a turn moves the sag by less than anybody can read (common practice, no source).
const LEAST_PRELOAD: Turns = Turns::of(0.5);

/// The best turn of the collar for the spring on the bike, where one goes the right way.
pub fn best(setup: &Setup, state: &State, posterior: &Posterior, doubts: &Doubts) -> Option<PreloadPlan> {
    let fitted = state.fitted()?;
    let from = state.present_set().filter(|set| set.counting().next().is_some())?.preload_turns;
    let at = |turns| forecast::forecast(setup, fitted, turns, RateSource::OnTheBike, posterior, doubts);
    let too_much = at(from).sag.value > setup.target.sag;
    let far_enough = |to: &Turns| (*to - from).abs() >= LEAST_PRELOAD;
    let useful = |to: &Turns| far_enough(to) && if too_much { *to > from } else { *to < from };
    let plan = |to: Turns| {
        let after = at(to);
        PreloadPlan {
            to,
            by: to - from,
            sag_after: after.sag,
            chance_after: after.chance,
            breakaway: after.ride.breakaway,
        }
    };
    let within_reach = quarter_turns(spring::most_turns(fitted, &setup.shock));
    let plans: Vec<PreloadPlan> = within_reach.filter(useful).map(plan).collect();
    let best = plans.iter().map(|plan| plan.chance_after.value()).fold(0.0, f64::max);
    // The least turn that does as well as the best to within a point: every turn costs breakaway.
    let enough = plans.into_iter().filter(|plan| plan.chance_after.value() >= best - 0.01);
    enough.min_by(|one, other| one.by.abs().value().total_cmp(&other.by.abs().value()))
}

/// Quarter turns from contact to the most allowed.
fn quarter_turns(most: Turns) -> impl Iterator<Item = Turns> {
    let quarters = (most.value() * 4.0 + 1e-9).floor().clamp(0.0, 100.0);
    (0..=100u8)
        .map(f64::from)
        .take_while(move |quarter| *quarter <= quarters)
        .map(|quarter| Turns::of(quarter / 4.0))
}
