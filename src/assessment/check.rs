//! Whether readings go with what was expected of them, before anything is made of them.
//!
//! The first mean of a set is held against its forecast from all that was known before: for the first set from weights,
//! travel and stroke, for another from the sets before it. Beyond three doubts of that it is checked first and believed
//! after (false alarms on one set in a hundred at most). Not here: which advice that becomes (`advice`).

use super::belief::Belief;
use super::belief::seen::{FAULT_BELOW, Seen};
use super::doubts::Doubts;
use crate::session::{Condition, ReadHow, Reading, ReadingNumber, ReadingSet, Setup};
use crate::units::{Estimate, Length, Turns};

/// A set whose first mean is not where it should be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Off {
    /// The number of the set.
    pub set: usize,
    /// What it was held against.
    pub against: Against,
    /// The mean of its first readings.
    pub read: Length,
    /// What was expected.
    pub expected: Estimate<Length>,
    /// Whether an error of the collar could explain it.
    pub collar: CollarSuspect,
}

/// What a set was held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// Weights, travel, stroke and leverage as told.
    Told,
    /// The sets before it.
    SetsBefore,
}

/// Whether the collar may have stood elsewhere than entered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CollarSuspect {
    /// It was touched since the set before, and a turn would explain the difference.
    MayBe,
    /// It was not touched, or no turn it could be off by explains it.
    HardlyIs,
}

/// Readings the first mean of a set is made of: two of the first set, one afterwards.
pub(super) const fn first_readings(set: usize) -> usize {
    if set <= 1 { 2 } else { 1 }
}

/// The first set beside what was told, where it is off.
pub(super) fn against_told(
    setup: &Setup,
    seen: &[Seen],
    how: ReadHow,
    conditions: &[Condition],
    doubts: &Doubts,
) -> Option<Off> {
    let set = seen.first()?;
    let belief =
        Belief::from(setup, Vec::new(), ReadHow { indicator: how.indicator, ..set.how }, conditions, doubts);
    off(&belief, set, Against::Told, CollarSuspect::MayBe)
}

/// The last set beside those before it, where it is off.
pub(super) fn against_sets(
    setup: &Setup,
    seen: &[Seen],
    how: ReadHow,
    conditions: &[Condition],
    doubts: &Doubts,
) -> Option<Off> {
    let (set, before) = seen.split_last()?;
    let last = before.last()?;
    let belief = Belief::from(
        setup,
        before.to_vec(),
        ReadHow { indicator: how.indicator, ..set.how },
        conditions,
        doubts,
    );
    let touched =
        last.mounting != set.mounting || (last.preload_turns - set.preload_turns).abs() > Turns::ZERO;
    let collar = if touched { CollarSuspect::MayBe } else { CollarSuspect::HardlyIs };
    off(&belief, set, Against::SetsBefore, collar)
}

/// A turn and a half is the most a collar is miscounted by (common practice, no source).
const MISCOUNTED: Turns = Turns::of(1.5);

fn off(belief: &Belief<'_>, set: &Seen, against: Against, collar: CollarSuspect) -> Option<Off> {
    let spring = belief.setup.spring(set.spring)?;
    let outcome = belief.outcome(spring, set.preload_turns, Some(set.mounting));
    let mut first = set.clone();
    first.figures.truncate(first_readings(set.number));
    let sight = belief.sight_of(&outcome, &first);
    let read = first.figures.iter().map(|figure| figure.moved).sum::<f64>() / first.figures.len() as f64;
    let uncertainty = sight.variance.sqrt();
    let distance = (read - sight.mean).abs();
    let explained = distance < belief.setup.shock.preload(MISCOUNTED).as_mm() + uncertainty;
    let found = Off {
        set: set.number,
        against,
        read: Length::mm(read),
        expected: Estimate::new(Length::mm(sight.mean), Length::mm(uncertainty)),
        collar: if explained { collar } else { CollarSuspect::HardlyIs },
    };
    (distance > belief.doubts.reading.stands_apart * uncertainty).then_some(found)
}

/// The reading of a set that lies furthest from the middle one.
pub(super) fn furthest(set: &ReadingSet) -> Option<ReadingNumber> {
    let mut moved: Vec<Length> = set.counting().map(|reading| reading.distance).collect();
    moved.sort_unstable_by(|one, other| one.value().total_cmp(&other.value()));
    let middle = *moved.get(moved.len() / 2)?;
    let away = |reading: &Reading| (reading.distance - middle).abs().value();
    let furthest = set.counting().max_by(|one, other| away(one).total_cmp(&away(other)));
    furthest.map(|reading| reading.number)
}

/// A reading that can be none: the indicator hardly moved under a rider.
pub(super) fn faulty(sets: &[ReadingSet], setup: &Setup) -> Option<ReadingNumber> {
    let least = setup.shock.stroke * FAULT_BELOW;
    let readings = sets.last().into_iter().flat_map(ReadingSet::counting);
    readings.into_iter().find(|reading| reading.distance < least).map(|reading| reading.number)
}
