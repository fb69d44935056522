//! The sets of readings as the mathematics takes them: figures that can be readings, and what they share.
//!
//! A reading beyond nine tenths of the stroke says no more than that the rest lies there or further, because bump stop and
//! top of the fork carry part of the load; one below a thirtieth says nothing of a rider. Not here: means for people
//! (`evidence`).

use crate::mechanics::SpringNumber;
use crate::session::{Gap, Indicator, ReadHow, Reading, ReadingNumber, ReadingSet, Setup};
use crate::units::Turns;

/// From this share of the stroke on a reading is a bound (common practice, no source).
pub(crate) const BOUND_FROM: f64 = 0.90;
/// Below this share of the stroke a reading is a fault (common practice, no source).
pub(crate) const FAULT_BELOW: f64 = 0.03;

/// A set with a reading that says something.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Seen {
    /// Its place among all sets of the session, from one.
    pub(crate) number: usize,
    pub(crate) spring: SpringNumber,
    pub(crate) mounting: u16,
    pub(crate) preload_turns: Turns,
    /// How it was read; a set looked at under the seated rider without a gap kept nothing, as if it had been pushed.
    pub(crate) how: ReadHow,
    pub(crate) figures: Vec<SeenReading>,
}

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SeenReading {
    pub(crate) number: ReadingNumber,
    /// Stroke used as it was read, in millimetres.
    pub(crate) moved: f64,
    /// How much of what the indicator keeps is in it.
    pub(crate) kept: f64,
    /// Whether the rest lies here or further.
    pub(crate) is_bound: bool,
}

impl Seen {
    /// The set of this number as far as it says something.
    fn of(number: usize, set: &ReadingSet, setup: &Setup) -> Option<Self> {
        let stroke = setup.shock.stroke.as_mm();
        let indicator = match (set.how.indicator, set.gap) {
            (Indicator::Pushed, _) | (Indicator::Kept, Some(Gap::None)) => Indicator::Pushed,
            (Indicator::Kept, Some(Gap::Seen) | None) => Indicator::Kept,
        };
        let figure = |reading: &Reading| figure(reading, indicator, stroke);
        let figures: Vec<SeenReading> = set.counting().filter_map(figure).collect();
        let ReadingSet { spring, mounting, preload_turns, how, .. } = *set;
        let how = ReadHow { indicator, ..how };
        let seen = Self { number, spring, mounting, preload_turns, how, figures };
        (!seen.figures.is_empty()).then_some(seen)
    }
}

/// Every set that says something, in order.
pub(crate) fn all(sets: &[ReadingSet], setup: &Setup) -> Vec<Seen> {
    sets.iter().enumerate().filter_map(|(index, set)| Seen::of(index + 1, set, setup)).collect()
}

/// A pair, settled from above and let rise from below, has its mean where there is no friction: that is half free of what a
/// dragged indicator keeps, and all free of what leans one way.
fn figure(reading: &Reading, indicator: Indicator, stroke: f64) -> Option<SeenReading> {
    let moved = reading.distance.as_mm();
    let both = reading.risen.map(|risen| f64::midpoint(moved, risen.as_mm()));
    let kept = match (both, indicator) {
        (None, _) => 1.0,
        (Some(_), Indicator::Kept) => 0.5,
        (Some(_), Indicator::Pushed) => 0.0,
    };
    let moved = both.unwrap_or(moved);
    let is_bound = moved > BOUND_FROM * stroke;
    let figure =
        SeenReading { number: reading.number, moved: moved.min(BOUND_FROM * stroke), kept, is_bound };
    (moved >= FAULT_BELOW * stroke).then_some(figure)
}
