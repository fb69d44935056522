//! `coilwright check`: every file of the folder looked at, and what to do about those that are not as they should be.
//!
//! Every record is read, whatever the index remembers of it; nothing is touched.

use super::{WriteOutcome, index, not_json, print};
use crate::archive::Archive;
use crate::archive::index::Location;
use crate::failure::Failure;
use crate::report::FolderLook;

pub(super) fn check(archive: &Archive, written: WriteOutcome) -> Result<(), Failure> {
    let index = index::read_again(archive)?;
    let leftovers = archive
        .leftovers()
        .map_err(|error| Failure::new("the records folder could not be looked through").because(error))?;
    // A session without a record stands among the leftovers, with what to do about each file of it.
    let records = index.sessions().iter().filter(|session| session.whereabouts == Location::Records);
    let look = FolderLook::new(records, &leftovers);
    print(&match written {
        WriteOutcome::Text => look.as_text(),
        WriteOutcome::Json => look.as_json().map_err(not_json)?,
    })?;
    match look.to_look_at() {
        0 => Ok(()),
        1 => Err(Failure::new("one file deserves a look").way_out(NOTHING_TOUCHED)),
        files => Err(Failure::new(format!("{files} files deserve a look")).way_out(NOTHING_TOUCHED)),
    }
}

const NOTHING_TOUCHED: &str = "Nothing was touched; each stands above with what to do about it.";
