//! Which records there are, and what a list shows of each.
//!
//! Only the newest are read for the first screen; all of them are for the index of the review. Not here: opening a record
//! for writing (`shop`).

use crate::archive::{Archive, SessionName, form};
use crate::screen::effect::{Past, PastSession, Progress, Summary};
use crate::session::{Record, Step, machine};

/// How many records the list of the first screen reads.
const SHOWN: usize = 200;

/// The newest records of the folder, and how many there are besides.
pub(super) fn past(archive: &Archive) -> Result<Past, String> {
    let listing = archive.list().map_err(|error| super::shop::sentence(&error))?;
    let newest = listing.sessions.iter().take(SHOWN).map(|name| one(archive, name)).collect();
    Ok(Past { newest, older: listing.sessions.len().saturating_sub(SHOWN) })
}

fn one(archive: &Archive, name: &SessionName) -> PastSession {
    let read = archive
        .read(name)
        .map_err(|error| super::shop::sentence(&error))
        .and_then(|opened| form::read(&opened.text).map_err(|error| super::shop::sentence(&error)));
    let summary = read.map_or_else(Summary::Unreadable, |read| summary(&read.record));
    PastSession { name: name.clone(), summary }
}

fn summary(record: &Record) -> Summary {
    let state = machine::replay(record);
    let closed = state.as_ref().is_ok_and(|state| state.step == Step::Closed);
    let told = state.map_or_else(|_| record.intake.clone(), |state| state.told);
    Summary::Read {
        opened: record.opened,
        who: told.who,
        bike: told.bike_label,
        progress: if closed { Progress::Closed } else { Progress::Unfinished },
    }
}
