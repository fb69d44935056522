//! What the readings of one session say of the marked springs in it, by themselves.
//!
//! Nothing that was known of any spring beforehand is in it, and nothing that an earlier session taught: no label, no mark,
//! no earlier visit. So a spring without a mark lends nothing but what a scale measured of it, and sessions can be added up
//! without counting anything twice. Not here: the sum (`marks`).

use serde::{Deserialize, Serialize};

use super::MarkedLabel;
use crate::assessment::Doubts;
use crate::mechanics::spring::Marked;
use crate::session::{Origin, Setup, Spring, State, Step};
use crate::statistics::{Information, StatisticsError};
use crate::text::mark::Mark;
use crate::units::{Share, SpringRate};

/// Of a spring nothing is known beforehand: that it may be half or twice its label.
const NOTHING_KNOWN: Share = Share::percent(50.0);

/// What one session says of the marked springs that were read in it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MarkEvidence {
    /// The marks, with the labels in newtons a millimetre.
    springs: Vec<(Mark, f64)>,
    /// Of ln(rate/label) of these springs, as [`Information::parts`] gives it.
    triangle: Vec<f64>,
    pull: Vec<f64>,
}

impl MarkEvidence {
    /// The springs, in the order of what is said of them.
    pub(super) fn springs(&self) -> impl Iterator<Item = MarkedLabel> + '_ {
        self.springs
            .iter()
            .map(|(mark, label)| MarkedLabel { mark: *mark, label: SpringRate::n_per_mm(*label) })
    }

    /// What is said of them together.
    pub(super) fn information(&self) -> Result<Information, StatisticsError> {
        Information::of_parts(&self.triangle, &self.pull)
    }

    /// How much it says in all.
    pub(super) fn total(&self) -> f64 {
        self.information().map_or(0.0, |information| information.total())
    }
}

/// What a session says of its marked springs; none where it is not finished, is a demonstration, or read none.
pub fn evidence(state: &State, doubts: &Doubts) -> Option<MarkEvidence> {
    let setup = state.setup.as_ref().filter(|_| state.step == Step::Closed)?;
    if state.entered.origin == Origin::Demonstration
        || setup.springs.iter().all(|spring| spring.marked.is_none())
    {
        return None;
    }
    let setup = by_itself(setup);
    let doubts = Doubts { label: NOTHING_KNOWN, ..*doubts };
    let belief = crate::assessment::learn(&setup, state, &doubts);
    let read = |spring: &&Spring| belief.sets.iter().any(|set| set.spring == spring.number);
    let read: Vec<(Mark, &Spring)> =
        setup.springs.iter().filter(read).filter_map(|spring| Some((spring.mark()?, spring))).collect();
    let numbers: Vec<_> = read.iter().map(|(_, spring)| spring.number).collect();
    let (triangle, pull) = belief.information(&numbers).filter(|_| !numbers.is_empty())?.parts();
    let springs = read.into_iter().map(|(mark, spring)| (mark, spring.label.as_n_per_mm())).collect();
    Some(MarkEvidence { springs, triangle, pull })
}

/// The setup without what any other session taught, and without what is known of its marked springs.
fn by_itself(setup: &Setup) -> Setup {
    let unknown = |mark| Some(Marked { mark, learned: None });
    let alone = |spring: &Spring| match spring.mark() {
        Some(mark) => Spring { measured: None, marked: unknown(mark), ..*spring },
        None => *spring,
    };
    Setup { earlier: None, springs: setup.springs.iter().map(alone).collect(), ..setup.clone() }
}
