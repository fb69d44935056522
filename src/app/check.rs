//! `coilwright check`: every file of the folder looked at, and what to do about those that are not as they should be.
//!
//! Every record is read, whatever the index remembers of it; nothing is touched.

use std::path::Path;

use super::said::cleaned;
use super::{WriteOutcome, index, not_json, print};
use crate::archive::index::Location;
use crate::archive::{Archive, SessionName, StrayKind, rack_file};
use crate::failure::Failure;
use crate::phrase::folder::stray;
use crate::report::{FolderLook, OddFile};
use crate::text::Shown;

pub(super) fn check(archive: &Archive, written: WriteOutcome) -> Result<(), Failure> {
    let index = index::read_again(archive)?;
    let leftovers = archive
        .leftovers()
        .map_err(|error| Failure::new("the records folder could not be looked through").because(error))?;
    // A session without a record stands among the leftovers, with what to do about each file of it.
    let records = index.sessions().iter().filter(|session| session.whereabouts == Location::Records);
    let look = FolderLook::new(records, &leftovers).with(others(archive));
    print(&match written {
        WriteOutcome::Text => look.as_text(),
        WriteOutcome::Json => look.as_json().map_err(not_json)?,
    })?;
    match look.to_look_at() {
        0 => Ok(()),
        1 => Err(Failure::new("1 file needs attention").way_out(NOTHING_TOUCHED)),
        files => Err(Failure::new(format!("{files} files deserve a look")).way_out(NOTHING_TOUCHED)),
    }
}

/// What else deserves a look: stray files, the rack where it cannot be read, what is kept here for other folders.
fn others(archive: &Archive) -> Vec<OddFile> {
    let odd = |path: &Path, (kind, what_to_do): (&'static str, &str)| OddFile {
        file: Shown::from(path.to_string_lossy().as_ref()).to_string(),
        kind,
        what_to_do: what_to_do.to_owned(),
    };
    let strays = archive.strays().unwrap_or_default().into_iter().map(|stray| {
        let words = match stray.kind {
            StrayKind::Renamed(_) => stray::RENAMED,
            StrayKind::CopyOf(_) => stray::COPY,
            StrayKind::Rack | StrayKind::Settings | StrayKind::Marker => stray::OWN_FILE,
        };
        odd(&stray.path, words)
    });
    let rack = archive.rack_file().read(rack_file::read).err().map(|faults| {
        let faults: Vec<String> = faults.iter().map(|fault| cleaned(fault)).collect();
        odd(&archive.records_folder().join(rack_file::NAME), (stray::RACK, &faults.join(" ")))
    });
    let kept = archive.other_spools().into_iter().flat_map(|other| {
        let path = move |name: &SessionName| other.folder.join(name.record());
        other.sessions.iter().map(path).map(|path| odd(&path, stray::OTHER_FOLDER)).collect::<Vec<_>>()
    });
    strays.chain(rack).chain(kept).collect()
}

const NOTHING_TOUCHED: &str = "Nothing was changed. See above for what to do.";
