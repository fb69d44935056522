//! `coilwright list`: the sessions of the folder, newest first.

use std::io::{self, Write};

use chrono::Utc;

use super::{WriteOutcome, index, not_json, print};
use crate::archive::{Archive, IndexedSession};
use crate::failure::Failure;
use crate::phrase;
use crate::report;
use crate::units::UnitSet;

pub(super) fn list(
    archive: &Archive,
    written: WriteOutcome,
    limit: Option<usize>,
    units: UnitSet,
) -> Result<(), Failure> {
    let index = index::up_to_date(archive)?;
    let shown = index.sessions().iter().take(limit.unwrap_or(usize::MAX)).collect::<Vec<_>>();
    print(&listed(&shown, written, units, "There are no sessions in this folder yet.\n")?)?;
    let rivals = archive.newest(0, Utc::now()).map(|newest| newest.rivals).unwrap_or_default();
    if !rivals.is_empty() {
        // A closed standard error leaves nobody to tell.
        let _ = writeln!(io::stderr(), "coilwright: {}", phrase::folder::rivals(&rivals));
    }
    Ok(())
}

/// A list of sessions, or a sentence where there is none.
pub(super) fn listed(
    sessions: &[&IndexedSession],
    written: WriteOutcome,
    units: UnitSet,
    none: &str,
) -> Result<String, Failure> {
    match written {
        WriteOutcome::Json => report::sessions_as_json(sessions).map_err(not_json),
        WriteOutcome::Text if sessions.is_empty() => Ok(none.to_owned()),
        WriteOutcome::Text => Ok(report::sessions_as_text(sessions, units)),
    }
}
