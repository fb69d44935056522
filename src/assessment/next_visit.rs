//! What a session taught of rider and bike, for the next time they come.
//!
//! The load and the fall-off are learned together and their doubts hang together, so both are carried with their
//! correlation. Posture, kit and tyres change from season to season; [`Doubts`] says by how much the share may drift.
//! Not here: choosing which earlier session to carry from.

use super::doubts::Doubts;
use super::{Assessment, BikeFindings};
use crate::session::{Detail, Earlier, EarlierGas, LearnedOn, Setup, Stamp, State};
use crate::text::FreeText;
use crate::units::{Estimate, Force, Mass, Share};

/// What the session taught, to be told to a new one.
pub fn carried(setup: &Setup, findings: &BikeFindings, opened: Stamp, doubts: &Doubts) -> Earlier {
    let weight = setup.rider.weight();
    let share = (findings.load.value - bike_load(setup, doubts)) / weight;
    let uncertainty = findings.load.uncertainty / weight;
    Earlier {
        opened,
        rider_share: Estimate::new(Share::fraction(share), Share::fraction(uncertainty)),
        falloff: findings.falloff,
        correlation: findings.correlation,
        gas: Some(EarlierGas {
            force: findings.gas,
            with_share: findings.load_with_gas,
            with_falloff: findings.falloff_with_gas,
        }),
        spring: findings.found,
        learned_on: Some(LearnedOn { rider: setup.rider, travel: setup.travel, stroke: setup.shock.stroke }),
    }
}

/// What to tell a new session of the same rider and bike: all that was told of them, the spring fitted last as the one on
/// the bike, and what the readings taught. The notes and the scale under the wheel belong to their own day and stay
/// behind. Without readings nothing was taught, and without the
/// weights the share of the rider is not known.
pub fn for_next_visit(opened: Stamp, state: &State, assessment: &Assessment, doubts: &Doubts) -> Vec<Detail> {
    let mut entered = state.entered.clone();
    entered.notes = FreeText::default();
    entered.wheel_load = None;
    entered.spring_on_arrival = state.on_bike.fitted;
    let measured = |setup: &&Setup| setup.knows_the_load() && !assessment.sets.is_empty();
    let taught = state.setup.as_ref().filter(measured);
    entered.earlier = taught.map(|setup| carried(setup, &assessment.findings, opened, doubts));
    entered.details()
}

/// The part of the load that the bike itself puts on the spring: the whole wheel hangs on the rear axle and rests on none.
pub(super) fn bike_load(setup: &Setup, doubts: &Doubts) -> Force {
    (setup.bike * doubts.load.bike_share.value.as_fraction() - unsprung(setup, doubts).value).weight()
}

/// What does not rest on the spring: as it was told, half the doubt left, or as usual.
pub(super) fn unsprung(setup: &Setup, doubts: &Doubts) -> Estimate<Mass> {
    let usual = doubts.load.unsprung;
    setup.unsprung.map_or(usual, |entered| Estimate::new(entered, usual.uncertainty * 0.5))
}
