//! What the first screen lists of past sessions: the newest, read now.
//!
//! Where a session lies and what a list shows of it is the index's to say (`archive::index`). Not here: the review, which
//! has all of them (`look`), and opening a record for writing (`shop`).

use chrono::Utc;

use super::shop::{cleaned, sentence};
use crate::archive::Archive;
use crate::archive::index::{Contents, IndexedSession, Newest, Whereabouts};
use crate::screen::effect::{Past, PastSession, Progress, Summary};
use crate::session::Step;

/// How many records the list of the first screen reads.
const SHOWN: usize = 200;

/// The newest sessions of the folder, and how many there are besides; while the folder is away, those kept in the spool.
pub(super) fn past(archive: &Archive) -> Result<Past, String> {
    let newest = match archive.check_marker() {
        Ok(()) => archive.newest(SHOWN, Utc::now()),
        Err(_) => archive.spooled().map(|sessions| Newest { sessions, older: 0 }),
    };
    let Newest { sessions, older } = newest.map_err(|error| sentence(&error))?;
    Ok(Past { newest: sessions.into_iter().map(shown).collect(), older })
}

fn shown(session: IndexedSession) -> PastSession {
    let summary = match session.contents {
        Contents::Read(summary) => Summary::Read {
            opened: summary.opened,
            progress: progress(session.whereabouts, summary.work.step),
            origin: summary.origin,
            who: summary.who,
            bike: summary.bike,
        },
        Contents::Unreadable { because, .. } => Summary::Unreadable(cleaned(&because)),
    };
    PastSession { name: session.name, summary }
}

fn progress(whereabouts: Whereabouts, step: Step) -> Progress {
    match whereabouts {
        Whereabouts::Spool => Progress::FoundInSpool,
        Whereabouts::Beside => Progress::FoundBeside,
        Whereabouts::Records if step == Step::Closed => Progress::Closed,
        Whereabouts::Records => Progress::Unfinished,
    }
}
