//! The walk as a pure fold over the entries of a record.
//!
//! [`replay`] folds a record to its state; [`advance`] adds one deed or refuses it. Undoing, redoing and starting anew are
//! deeds that leave the earlier ones in the record and out of the state: the fold keeps the list of entries in effect
//! and folds it again when it is changed (`fold`). What each single deed does is in `transition` and `readings`; what a new deed has to
//! meet that records from before do not, in `rules`.

mod fitting;
mod fold;
mod merge;
mod readings;
mod rules;
mod transition;

use super::entry::{Deed, Entry, Record, Stamp};
use super::intake::Detail;
use super::refusal::Refusal;
use super::state::State;
use crate::text::FreeText;
use fold::Fold;
pub use merge::{CannotMerge, Merged, NotTaken, WhyNotTaken, merge};

/// The most entries one record holds: far beyond a long day, small enough to stay quick.
pub const MOST_ENTRIES: usize = 4_000;

/// An entry of a stored record that does not fit the walk at its place: the file was changed by hand or is damaged.
#[derive(Debug, Clone, PartialEq)]
pub struct EntryMisfit {
    /// Its place among the entries, from one.
    pub entry: usize,
    /// Why it does not fit.
    pub refusal: Refusal,
}

/// Folds a record to the state of its walk.
///
/// # Errors
/// With the first entry that does not belong where it stands.
pub fn replay(record: &Record) -> Result<State, EntryMisfit> {
    let mut fold = Fold::opening(record);
    for index in 0..record.entries.len() {
        fold.take(index).map_err(|refusal| EntryMisfit { entry: index + 1, refusal })?;
    }
    Ok(fold.state)
}

/// Adds one deed to a record, at the given moment, if it is legal now.
///
/// # Errors
/// When the deed does not belong to the present step or its figures are impossible; the record is untouched then.
pub fn advance(record: &mut Record, at: Stamp, deed: Deed) -> Result<State, Refusal> {
    advance_by(record, at, FreeText::empty(), deed)
}

/// The same by somebody who is named.
///
/// # Errors
/// As for [`advance`].
pub fn advance_by(record: &mut Record, at: Stamp, by: FreeText, deed: Deed) -> Result<State, Refusal> {
    record.entries.push(Entry { at, by, deed });
    let advanced = folded_under_rules(record);
    if advanced.is_err() {
        record.entries.pop();
    }
    advanced
}

/// Folds a record whose last entry is new.
fn folded_under_rules(record: &Record) -> Result<State, Refusal> {
    let Some((new, earlier)) = record.entries.split_last() else { return Ok(State::opening(&record.intake)) };
    let mut fold = Fold::opening(record);
    for index in 0..earlier.len() {
        fold.take(index)?;
    }
    let ruled = rules::check(&fold.state, &new.deed);
    // What does not belong to the step at all is said before what is missing for it.
    fold.take(earlier.len())?;
    ruled.map(|()| fold.state)
}

/// Takes a detail into the record: straight into the intake while it is open, as a [`Deed::Entered`] afterwards.
///
/// # Errors
/// When the detail is impossible; the record is untouched then.
pub fn enter(record: &mut Record, at: Stamp, detail: Detail) -> Result<State, Refusal> {
    enter_by(record, at, FreeText::empty(), detail)
}

/// The same by somebody who is named, where an entry is made of it.
///
/// # Errors
/// As for [`enter`].
pub fn enter_by(record: &mut Record, at: Stamp, by: FreeText, detail: Detail) -> Result<State, Refusal> {
    if record.entries.iter().any(|entry| entry.deed == Deed::IntakeDone) {
        return advance_by(record, at, by, Deed::Entered(detail));
    }
    record.intake.enter(detail)?;
    replay(record).map_err(|misfit| misfit.refusal)
}

/// Whether something was undone that can be done again.
pub fn can_redo(record: &Record) -> bool {
    let mut redone = 0_usize;
    for entry in record.entries.iter().rev() {
        match (&entry.deed, redone) {
            (Deed::Noted(_) | Deed::CautionSeen(_), _) => {}
            (Deed::Redone, _) => redone += 1,
            (Deed::Undone, 0) => return true,
            (Deed::Undone, _) => redone -= 1,
            _ => return false,
        }
    }
    false
}

/// Places of the entries that are in effect, in order: those not taken back. For showing the walk as it was gone.
pub fn in_effect(record: &Record) -> Vec<usize> {
    let mut fold = Fold::opening(record);
    for index in 0..record.entries.len() {
        if fold.take(index).is_err() {
            break;
        }
    }
    fold.effective
}
