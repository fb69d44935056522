//! `coilwright list`: the sessions of the folder, newest first.

use super::{Written, memory, not_json, print};
use crate::archive::{Archive, IndexedSession};
use crate::failure::Failure;
use crate::report;
use crate::units::UnitSet;

pub(super) fn list(archive: &Archive, written: Written, limit: Option<usize>) -> Result<(), Failure> {
    let index = memory::up_to_date(archive)?;
    let shown = index.sessions().iter().take(limit.unwrap_or(usize::MAX)).collect::<Vec<_>>();
    print(&listed(&shown, written, "No session lies in this folder yet.\n")?)
}

/// A list of sessions, or a sentence where there is none.
pub(super) fn listed(sessions: &[&IndexedSession], written: Written, none: &str) -> Result<String, Failure> {
    match written {
        Written::Json => report::sessions_as_json(sessions).map_err(not_json),
        Written::Text if sessions.is_empty() => Ok(none.to_owned()),
        Written::Text => Ok(report::sessions_as_text(sessions, UnitSet::default())),
    }
}
