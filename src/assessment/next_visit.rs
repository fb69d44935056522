//! What a session taught of rider and bike, for the next time they come.
//!
//! The load and the fall-off are learned together and their doubts hang together, so both are carried with their
//! correlation. Posture, kit and tyres change from season to season; [`Doubts`] says by how much the share may drift.
//! Not here: choosing which earlier session to carry from.

use super::doubts::Doubts;
use super::{Assessment, BikeFindings};
use crate::session::{Detail, Earlier, Setup, Stamp, State};
use crate::text::FreeText;
use crate::units::quantity::GRAVITY;
use crate::units::{Estimate, Share};

/// What the session taught, to be told to a new one.
pub fn carried(setup: &Setup, findings: &BikeFindings, opened: Stamp, doubts: &Doubts) -> Earlier {
    let by_bike = bike_load(setup, doubts);
    let weight = GRAVITY * setup.rider.as_kg();
    let share = (findings.load.value.as_newtons() - by_bike) / weight;
    let uncertainty = findings.load.uncertainty.as_newtons() / weight;
    Earlier {
        opened,
        rider_share: Estimate::new(Share::fraction(share), Share::fraction(uncertainty)),
        falloff: findings.falloff,
        correlation: findings.correlation,
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

/// The part of the load that the bike itself puts on the spring, in newtons.
pub(super) fn bike_load(setup: &Setup, doubts: &Doubts) -> f64 {
    let sprung = (setup.bike.as_kg() - doubts.load.unsprung.as_kg()).max(1.0);
    GRAVITY * doubts.load.bike_share.as_fraction() * sprung
}
