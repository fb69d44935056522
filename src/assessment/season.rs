//! Two sessions of one bike held against each other: a spring that sags more than it did under a like rider.
//!
//! A steel spring that was pressed to its coils may take a set, a weight may have been told wrong, a linkage bearing may
//! bind less: the figures cannot tell which, so the finding names the springs and leaves the cause to a look. Not here:
//! which sessions are of one bike.

use super::evidence::SetFinding;
use crate::session::Setup;
use crate::units::{Estimate, Length, Mass, Share, SpringRate, Turns};

/// Riders this far apart are alike: what kit, water and lunch make of one person (common practice, no source).
const ALIKE: Mass = Mass::kg(2.0);
/// A difference counts beyond so many of its standard uncertainties: coverage of about 95 % (JCGM 100:2008, 6.3.3).
const COVERAGE: f64 = 2.0;

/// A session as far as it is compared.
#[derive(Debug, Clone, Copy)]
pub struct ComparedVisit<'a> {
    /// Its details.
    pub setup: &'a Setup,
    /// Its sets of readings.
    pub sets: &'a [SetFinding],
}

/// A spring that sagged more the later time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoreSag {
    /// The rate printed on it.
    pub label: SpringRate,
    /// Collar turns past contact, both times.
    pub preload_turns: Turns,
    /// Sag the earlier time.
    pub before: Estimate<Share>,
    /// Sag the later time.
    pub after: Estimate<Share>,
}

/// Every spring that sagged more at the later visit than at the earlier one, by more than the readings may be off, the
/// collar standing alike, under a rider no heavier than `ALIKE` beyond; none where rider or shock differ.
pub fn sags_more(earlier: ComparedVisit<'_>, later: ComparedVisit<'_>) -> Vec<MoreSag> {
    let heavier = later.setup.rider - earlier.setup.rider > ALIKE;
    let same = |one: Length, other: Length| (one - other).abs() < Length::mm(0.5);
    let same_shock = same(earlier.setup.shock.stroke, later.setup.shock.stroke)
        && same(earlier.setup.travel, later.setup.travel);
    if heavier || !same_shock {
        return Vec::new();
    }
    let pair = |after: &SetFinding| {
        let label = later.setup.spring(after.spring)?.label;
        let before = earlier.sets.iter().rev().find(|before| {
            let its = earlier.setup.spring(before.spring).map(|spring| spring.label);
            its.is_some_and(|its| (its - label).abs() < SpringRate::lb_per_in(0.5))
                && (before.preload_turns - after.preload_turns).abs() < Turns::of(0.125)
        })?;
        let rise = after.sag.value - before.sag.value;
        let uncertainty = before.sag.uncertainty.as_fraction().hypot(after.sag.uncertainty.as_fraction());
        (rise.as_fraction() > COVERAGE * uncertainty).then_some(MoreSag {
            label,
            preload_turns: after.preload_turns,
            before: before.sag,
            after: after.sag,
        })
    };
    later.sets.iter().filter_map(pair).collect()
}
