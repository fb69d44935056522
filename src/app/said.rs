//! What is said of a record as it is opened, and any error as a sentence that is safe to show.
//!
//! The words are `phrase::folder`'s. Not here: what is done (`shell`).

use std::error::Error;

use crate::archive::write::said;
use crate::archive::{ReadOnly, Recovered, Seal};
use crate::phrase;
use crate::text::Shown;

/// What came to light when a record was opened.
pub(super) fn note(seal: Seal, settled: &Recovered) -> Option<String> {
    let edited =
        matches!(seal, Seal::EditedOutside { .. } | Seal::None).then_some(phrase::folder::EDITED_OUTSIDE);
    let taken_over = settled.taken_over.as_ref().map(|_| phrase::folder::TAKEN_OVER);
    let rivals = (!settled.rivals.is_empty()).then_some(phrase::folder::ANOTHER_VERSION);
    let unreadable = settled.unreadable.iter().map(|error| phrase::folder::copy_unreadable(&sentence(error)));
    let unlocked =
        settled.unlocked.iter().map(|source| phrase::folder::unlocked(&Shown::from(said(source).as_str())));
    let known = [edited, taken_over, rivals].into_iter().flatten().map(str::to_owned);
    let remarks: Vec<String> = known.chain(unreadable).chain(unlocked).collect();
    (!remarks.is_empty()).then(|| remarks.join(" "))
}

pub(super) fn read_only(why: &ReadOnly) -> String {
    match why {
        ReadOnly::InUse => phrase::folder::IN_USE.to_owned(),
        ReadOnly::NoLocks { source } => cleaned(&phrase::folder::no_locks(&source.to_string())),
    }
}

/// An error as a sentence of its own, safe to show.
pub(super) fn sentence(error: &dyn Error) -> String {
    cleaned(&error.to_string())
}

/// Words as a sentence of its own, safe to show: a path in them may hold anything.
pub(super) fn cleaned(words: &str) -> String {
    phrase::sentence(Shown::from(words).as_str())
}
