//! Which records there are, and what a list shows of each.
//!
//! Only the newest are read for the first screen; all of them are for the index of the review. Not here: opening a record
//! for writing (`shop`).

use std::collections::BTreeMap;

use crate::archive::{Archive, Candidate, Role, SessionName, form};
use crate::screen::effect::{Past, PastSession, Progress, Summary};
use crate::session::{Record, Step, machine};

/// How many records the list of the first screen reads.
const SHOWN: usize = 200;

/// Nothing left of a session can be read.
pub(super) const NOTHING_READABLE: &str = "Its record is gone, and what is left of it cannot be read.";

/// The newest records of the folder, and how many there are besides. A session whose record is not there, though something
/// of it is, stands among them.
pub(super) fn past(archive: &Archive) -> Result<Past, String> {
    let listing = archive.list().map_err(|error| super::shop::sentence(&error))?;
    let recorded = listing.sessions.into_iter().map(|name| (name, Lies::InRecords));
    let mut names: BTreeMap<SessionName, Lies> =
        listing.unsettled.into_iter().map(|name| (name, Lies::Elsewhere)).collect();
    names.extend(recorded);
    let newest = names.iter().rev().take(SHOWN).map(|(name, lies)| one(archive, name, *lies)).collect();
    Ok(Past { newest, older: names.len().saturating_sub(SHOWN) })
}

/// Where a session is to be read from.
#[derive(Debug, Clone, Copy)]
enum Lies {
    /// Its record is in the records folder.
    InRecords,
    /// Only other versions of it are left.
    Elsewhere,
}

fn one(archive: &Archive, name: &SessionName, lies: Lies) -> PastSession {
    let read = match lies {
        Lies::InRecords => archive
            .read(name)
            .map_err(|error| super::shop::sentence(&error))
            .and_then(|opened| form::read(&opened.text).map_err(|error| super::shop::sentence(&error)))
            .map(|read| summary(&read.record)),
        Lies::Elsewhere => found(archive, name),
    };
    PastSession { name: name.clone(), summary: read.unwrap_or_else(Summary::Unreadable) }
}

/// What a list shows of the best version left of a session without a record.
fn found(archive: &Archive, name: &SessionName) -> Result<Summary, String> {
    let left = archive.versions(name).map_err(|error| super::shop::sentence(&error))?;
    let read = |version: &Candidate| Some((version.role, form::read(&version.opened.text).ok()?.record));
    let (role, record) = left.iter().find_map(read).ok_or(NOTHING_READABLE)?;
    let found = if role == Role::Spool { Progress::FoundInSpool } else { Progress::FoundBeside };
    Ok(match summary(&record) {
        Summary::Read { opened, who, bike, origin, .. } => {
            Summary::Read { opened, who, bike, origin, progress: found }
        }
        unreadable @ Summary::Unreadable(_) => unreadable,
    })
}

fn summary(record: &Record) -> Summary {
    let state = machine::replay(record);
    let closed = state.as_ref().is_ok_and(|state| state.step == Step::Closed);
    let told = state.map_or_else(|_| record.intake.clone(), |state| state.told);
    Summary::Read {
        opened: record.opened,
        who: told.who,
        bike: told.bike_label,
        origin: told.origin,
        progress: if closed { Progress::Closed } else { Progress::Unfinished },
    }
}
