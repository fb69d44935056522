//! Sessions while the records folder is away: those of which something is kept in the spool can be seen and gone on with.
//!
//! Not here: when a folder is away (`records`), and what becomes of the spool when it is back (`archive::recover`).

use crate::archive::open::read_text;
use crate::archive::{Archive, RealDisk, SessionName, form};
use crate::screen::effect::{Past, PastSession, Progress, Summary};

/// What the first screen lists: the sessions in the spool.
pub(super) fn past(archive: &Archive) -> Past {
    let names = archive.spooled().unwrap_or_default();
    Past { newest: names.into_iter().map(|name| one(archive, name)).collect(), older: 0 }
}

fn one(archive: &Archive, name: SessionName) -> PastSession {
    let path = archive.spool_folder().join(name.record());
    let read = read_text(&RealDisk, &path)
        .map_err(|error| super::shop::sentence(&error))
        .and_then(|opened| form::read(&opened.text).map_err(|error| super::shop::sentence(&error)));
    let summary = match read {
        Ok(read) => {
            let (opened, told) = (read.record.opened, read.state.told);
            let (who, bike, origin) = (told.who, told.bike_label, told.origin);
            Summary::Read { opened, who, bike, origin, progress: Progress::FoundInSpool }
        }
        Err(because) => Summary::Unreadable(because),
    };
    PastSession { name, summary }
}
