//! What a new deed has to meet that the deeds of earlier records did not: cautions that came later, and that nothing is
//! kept or ridden that would bind, rub or stands too far.
//!
//! A stored record is never held against these rules, so every record loads for ever. Not here: what has been demanded
//! from the first record on (`transition`).

use crate::session::entry::{Decision, Deed};
use crate::session::refusal::Refusal;
use crate::session::state::State;
use crate::session::step::{Caution, Step};

/// Whether a new deed may be done in this state, as far as these rules go.
pub(super) fn check(state: &State, deed: &Deed) -> Result<(), Refusal> {
    match deed {
        Deed::Decided(Decision::Keep) => {
            is_fit(state)?;
            none_pending(&state.pending_cautions())
        }
        Deed::Ticked(..) | Deed::Skipped { .. } if state.step == Step::FinalChecks => {
            is_fit(state)?;
            none_pending(&of_harm(state))
        }
        Deed::Skipped { .. } if state.step == Step::TrailCheck => Ok(()),
        Deed::Ticked(..)
        | Deed::Skipped { .. }
        | Deed::Unloaded { .. }
        | Deed::IndicatorSeated
        | Deed::Read { .. }
        | Deed::KerbDropped(_)
        | Deed::TrailRidden { .. }
        | Deed::Decided(_) => none_pending(&of_harm(state)),
        Deed::TrialsOpened { .. } => none_pending(&hazards(state)),
        Deed::PreloadSet { .. } => {
            none_pending(&hazards(state))?;
            seen(state, &[Caution::LooseCollar])
        }
        Deed::Trial { .. } => {
            seen(state, &[Caution::CrushedFingers, Caution::DriveOn])?;
            none_pending(&hazards(state))
        }
        // A name taken out of a record with its person leaves its sets labelled all the same.
        Deed::Under(Some(condition)) if condition.name.is_empty() => Err(Refusal::ConditionUnnamed),
        Deed::Swapped { .. } => seen(state, &[Caution::FlyingClip]),
        _ => Ok(()),
    }
}

fn is_fit(state: &State) -> Result<(), Refusal> {
    state.unfit().map_or(Ok(()), |hazard| Err(Refusal::Unfit(hazard)))
}

/// All that is pending except the question for the stroke of the spring, which may wait until the verdict.
fn of_harm(state: &State) -> Vec<Caution> {
    let pending = state.pending_cautions().into_iter();
    pending.filter(|caution| *caution != Caution::FittedStrokeUnknown).collect()
}

/// The pending hazards of what is fitted.
fn hazards(state: &State) -> Vec<Caution> {
    of_harm(state).into_iter().filter(|caution| caution.is_of_what_is_fitted()).collect()
}

fn none_pending(cautions: &[Caution]) -> Result<(), Refusal> {
    cautions.first().map_or(Ok(()), |caution| Err(Refusal::CautionFirst(*caution)))
}

fn seen(state: &State, cautions: &[Caution]) -> Result<(), Refusal> {
    let open = cautions.iter().find(|caution| !state.cautions.ever.contains(caution));
    open.map_or(Ok(()), |caution| Err(Refusal::CautionFirst(*caution)))
}
