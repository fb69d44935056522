//! The stroke of the spring on the bike, asked for once before the verdict: typed, or answered with nobody knows.
//!
//! A stroke is a correction of the list of springs; "not known" is an acknowledged caution. Not here: where it is asked
//! (`guide`, `trials`), and what becomes of a spring that binds (`session::hazard`).

use super::key_outcome::ConfirmOnce;
use crate::screen::model::{Notice, OpenSession};
use crate::session::limits::Figure;
use crate::session::{Caution, Deed, Detail, Hazard, Spring};
use crate::units::{Quantity, UnitSet, parse};

/// The deed an answer comes to.
///
/// # Errors
/// With what has to be said first: the text is no length, or an unusual one not yet asked about.
pub(super) fn answered(
    text: &str,
    session: &OpenSession,
    asked: &mut ConfirmOnce,
    units: UnitSet,
) -> Result<Deed, Notice> {
    if text.trim().is_empty() {
        return Ok(Deed::CautionSeen(Caution::FittedStrokeUnknown));
    }
    let stroke = parse::length(text, units).map_err(Notice::Unreadable)?.value;
    let entered = Quantity::Length(stroke);
    Figure::SpringStroke.check(entered).map_err(Notice::Refused)?;
    asked.once(Figure::SpringStroke, entered)?;
    let fitted = session.state.on_bike.fitted;
    let rack = session.state.entered.springs.iter().map(|spring| {
        if Some(spring.number) == fitted { Spring { stroke: Some(stroke), ..*spring } } else { *spring }
    });
    Ok(Deed::Entered(Detail::Springs(rack.collect())))
}

/// The hazard to be put before the mechanic over the whole width: one of the spring on the bike, where that is what is
/// due.
pub(super) fn hazard_due(session: &OpenSession) -> Option<Hazard> {
    let due = session.state.caution_now()?;
    session.state.pending_hazards().into_iter().find(|hazard| hazard.caution() == due)
}
