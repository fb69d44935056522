//! What a condition does to the sag, beside the same spring and collar read as entered.
//!
//! Not here: the words (`phrase::condition`), and the sets themselves (`set_table`).

use crate::assessment::SetFinding;
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::set_chart;
use crate::session::{ConditionNumber, ReadHow};
use crate::units::{Estimate, Share};

/// What the condition of the moment does to the sag on the spring and collar it was read with, beside the same as entered.
pub fn difference(session: &OpenSession, desk: &Desk) -> Option<String> {
    let condition = session.state.condition()?;
    let sets = &session.assessment.as_ref()?.sets;
    let under = sets.iter().rev().find(|set| set.how == session.state.how)?;
    let as_entered = ReadHow { condition: ConditionNumber::AS_ENTERED, ..under.how };
    let place = |set: &SetFinding| (set.spring, set.preload_turns);
    let before = sets.iter().rev().find(|set| set.how == as_entered && place(set) == place(under))?;
    let doubt = under.sag.uncertainty.as_fraction().hypot(before.sag.uncertainty.as_fraction());
    let more = Estimate::new(under.sag.value - before.sag.value, Share::fraction(doubt));
    let place = set_chart::name(before, session, desk.units);
    Some(phrase::condition::difference(condition, more, &place, desk.units))
}
