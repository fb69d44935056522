//! All that is said around the spring, in sections: what if, rebound, the sheet, the ride, the front, what to order.
//!
//! One place, so that screen and paper tell the same. Not here: the sentences of each (their own files), the sag itself
//! (`advice`).

use super::{damper, fit, front, kerb, ride, sheet, what_if};
use crate::assessment::{self, Assessment};
use crate::session::{Setup, State};
use crate::units::UnitSet;

/// A heading and its sentences.
pub type Section = (&'static str, Vec<String>);

/// Every section that has something to say.
pub fn sections(setup: &Setup, state: &State, assessment: &Assessment, units: UnitSet) -> Vec<Section> {
    let sections = [
        (
            what_if::WHAT_IF,
            assessment.what_if.iter().flat_map(|entered| what_if::what_if(entered, units)).collect(),
        ),
        (damper::DAMPER, rebound(setup, state, units)),
        (fit::ORDER, fit::order(setup, state, assessment, units).into_iter().collect()),
        (fit::FIT, fit::fit(setup, state, units)),
        (ride::RIDE, rides(setup, state, assessment, units)),
        (front::FRONT, assessment.balance.iter().flat_map(|balance| front::front(balance, units)).collect()),
        (sheet::BOTH, sheet_rows(state, units)),
    ];
    sections.into_iter().filter(|(_, entered)| !entered.is_empty()).collect()
}

/// What the spring on the bike asks of the rebound knob, against the spring it came with, and what the kerb drop did.
pub fn rebound(setup: &Setup, state: &State, units: UnitSet) -> Vec<String> {
    let came_with = state.entered.spring_on_arrival.and_then(|number| setup.spring(number));
    let by_spring = came_with.zip(state.fitted()).and_then(|(came_with, now)| {
        damper::after_the_spring(came_with.rate(), now.rate(), state.found.rebound, units)
    });
    by_spring.into_iter().chain(assessment::kerb::finding(state).and_then(kerb::told)).collect()
}

/// What the rides told and what to try first.
pub fn rides(setup: &Setup, state: &State, assessment: &Assessment, units: UnitSet) -> Vec<String> {
    let several = state.rides.len() > 1;
    let entered = state.rides.iter().enumerate().map(|(index, one)| {
        let number = if several { format!("Ride {}: ", index + 1) } else { String::new() };
        format!("{}.", super::opening(&format!("{number}{}", ride::entered(one, units))))
    });
    let first = assessment.remedy.map(|(bothers, first)| ride::first_remedy(bothers, first));
    let deepest = assessment.ridden.iter().flat_map(|ridden| ride::deepest(ridden, setup, units));
    let once = (!state.rides.is_empty()).then(|| ride::ONE_AT_A_TIME.to_owned());
    entered.chain(first).chain(deepest).chain(once).collect()
}

fn sheet_rows(state: &State, units: UnitSet) -> Vec<String> {
    let both = sheet::both(&state.found, &state.left, units);
    both.into_iter().map(|[name, found, left]| format!("{name}: found {found}; left {left}.")).collect()
}
