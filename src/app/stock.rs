//! What the first screen lists of past sessions: the newest, read now.
//!
//! Where a session lies and what a list shows of it is the index's to say (`archive::index`). Not here: the review, which
//! has all of them (`look`), and opening a record for writing (`shell`).

use chrono::Utc;

use super::said::{cleaned, sentence};
use crate::archive::Archive;
use crate::archive::index::{Contents, IndexedSession, Location, Newest};
use crate::phrase;
use crate::screen::effect::{ListedSession, ListedSummary, SessionList, SessionProgress};
use crate::session::Step;

/// How many records the list of the first screen reads.
const SHOWN: usize = 200;

/// The newest sessions of the folder, and how many there are besides; while the folder is away, those kept in the spool.
pub(super) fn past(archive: &Archive) -> SessionList {
    let newest = match archive.check_marker() {
        Ok(()) => archive.newest(SHOWN, Utc::now()),
        Err(_) => archive.spooled().map(|sessions| Newest { sessions, ..Newest::default() }),
    };
    match newest {
        Ok(Newest { sessions, older, mut rivals, in_two_versions }) => {
            // A session in two versions has a line of its own on the first screen.
            rivals.retain(|file| !in_two_versions.iter().any(|name| file.contains(name.as_str())));
            SessionList {
                newest: sessions.into_iter().map(shown).collect(),
                older,
                unlisted: None,
                note: (!rivals.is_empty()).then(|| phrase::folder::rivals(&rivals)),
                in_two_versions,
            }
        }
        Err(error) => {
            let because = sentence(&error);
            SessionList { unlisted: Some(because.clone()), note: Some(because), ..SessionList::default() }
        }
    }
}

fn shown(session: IndexedSession) -> ListedSession {
    let summary = match session.contents {
        Contents::Read(summary) => ListedSummary::Read {
            opened: summary.opened,
            progress: progress(session.whereabouts, summary.work.step),
            origin: summary.origin,
            work: summary.work,
            customer: summary.customer,
            bike: summary.bike,
        },
        Contents::Unreadable { because, .. } => ListedSummary::Unreadable(cleaned(&because)),
    };
    ListedSession { name: session.name, summary }
}

fn progress(whereabouts: Location, step: Step) -> SessionProgress {
    match whereabouts {
        Location::Spool => SessionProgress::FoundInSpool,
        Location::Beside => SessionProgress::FoundBeside,
        Location::Records if step == Step::Closed => SessionProgress::Closed,
        Location::Records => SessionProgress::Unfinished,
    }
}
