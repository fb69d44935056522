//! How deep the ride's deepest hit would take every other spring at hand.
//!
//! The same energy goes in; what each spring has taken up at its sag is the forecast's. Where the bumper's place was told,
//! it is said whether the hit reached it. Not here: the formula (`mechanics::deepest`), and words (`phrase::ride`).

use super::Forecast;
use super::forecast::RateSource;
use crate::mechanics::SpringNumber;
use crate::mechanics::deepest::{AtSag, deepest_on};
use crate::session::{Setup, State};
use crate::units::Length;

/// The deepest hit on one spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deepest {
    /// The spring.
    pub spring: SpringNumber,
    /// How deep; none where it goes through all of the stroke.
    pub stroke: Option<Length>,
}

/// What the deepest stroke of the last ride says.
#[derive(Debug, Clone, PartialEq)]
pub struct Ridden {
    /// The deepest stroke, on the spring that is fitted.
    pub deepest: Length,
    /// Whether it reached the bumper; none where nobody told where that begins.
    pub bumper: Option<Bumper>,
    /// The same hit on the other springs at hand that fit, softest first.
    pub others: Vec<Deepest>,
}

/// Whether a hit reached the bumper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bumper {
    /// It ended before it, by this much.
    Before(Length),
    /// It went into it, by this much.
    Into(Length),
}

/// What the last ride with a deepest stroke says; none without one, and none where it was no deeper than sag.
pub(super) fn ridden(setup: &Setup, state: &State, forecasts: &[Forecast]) -> Option<Ridden> {
    let deepest = state.rides.iter().rev().find_map(|ride| ride.deepest)?;
    let fitted = forecasts.iter().find(|forecast| forecast.known == RateSource::OnTheBike)?;
    let stroke = setup.shock.stroke;
    let at_sag = |forecast: &Forecast| AtSag {
        rate: forecast.rate,
        preload: setup.shock.preload(forecast.preload_turns),
        used: forecast.sag.value.of(stroke),
    };
    let first = at_sag(fitted);
    deepest_on(first, deepest, first)?;
    let other = |forecast: &Forecast| {
        let deep = deepest_on(first, deepest, at_sag(forecast))?;
        Some(Deepest { spring: forecast.spring, stroke: (deep < stroke).then_some(deep) })
    };
    let others = forecasts.iter().filter(|other| other.spring != fitted.spring && other.fit.is_possible());
    let bumper = state.left.bumper_mm.or(state.found.bumper_mm).map(|before_end| {
        let begins = stroke - before_end;
        if deepest > begins { Bumper::Into(deepest - begins) } else { Bumper::Before(begins - deepest) }
    });
    Some(Ridden { deepest, bumper, others: others.filter_map(other).collect() })
}
