//! What this machine kept while a records folder was away, brought in at every start and at every return of the folder, and
//! what of it could not be, in words.
//!
//! Not here: how a session is settled (`archive::spool`, `archive::recover`).

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::shell::carries_on;
use crate::archive::{Archive, BroughtIn, Index, KnownFolders, OtherSpool, RealDisk, SessionName, StrayKind};
use crate::phrase;
use crate::text::Shown;

/// Brings in what is kept for this folder and for every other that is there, and gives renamed records their names back.
/// What has to be said of it, a sentence each.
pub(super) fn settle(archive: &Archive, known: Option<PathBuf>, cache: Option<&Path>) -> Vec<String> {
    let known = known.map(|file| KnownFolders::read(&RealDisk, &file));
    let homes: Vec<_> = known.iter().flat_map(KnownFolders::homes).collect();
    for other in archive.other_spools() {
        match homes.iter().find(|(_, identity)| *identity == other.identity) {
            Some((folder, _)) => bring_home(folder, &other),
            None if is_the_same_folder(archive, &other, cache) => {
                // What cannot be moved is told below.
                let _ = archive.take_over(&other);
            }
            None => {}
        }
    }
    let mut words = named_again(archive);
    words.extend(bring_in(archive));
    let left: usize = archive.other_spools().iter().map(|other| other.sessions.len()).sum();
    words.extend((left > 0).then(|| phrase::folder::kept_for_others(left)));
    words
}

/// Brings in what is kept for this folder.
pub(super) fn bring_in(archive: &Archive) -> Option<String> {
    // While the folder is away, that is said elsewhere.
    let BroughtIn { sessions, rivals, waiting, forgotten } = archive.bring_in(&carries_on).ok()?;
    let names = |names: &[SessionName]| names.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let said = [
        (!sessions.is_empty()).then(|| phrase::folder::brought_in(sessions.len())),
        (!rivals.is_empty()).then(|| phrase::folder::went_another_way(&names(&rivals))),
        (!waiting.is_empty()).then(|| phrase::folder::waiting(&names(&waiting))),
        (!forgotten.is_empty()).then(|| phrase::forget::not_brought_in(forgotten.len())),
    ];
    let said: Vec<String> = said.into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join(" "))
}

/// Brings in what is kept for another folder, if that is there now.
fn bring_home(folder: &Path, other: &OtherSpool) {
    let Some(root) = other.folder.parent() else { return };
    if let Ok(home) = Archive::open(Arc::new(RealDisk), folder, root, Some(other.identity)) {
        // What stays is told by `check`, and at the next start there.
        let _ = home.bring_in(&carries_on);
    }
}

/// Whether this is the folder that had that identity before: a session kept under it, or remembered of it, lies here.
fn is_the_same_folder(archive: &Archive, other: &OtherSpool, cache: Option<&Path>) -> bool {
    let remembered = |cache| {
        let index = Index::load(cache, other.identity);
        index.sessions().iter().map(|session| session.name.clone()).collect::<Vec<_>>()
    };
    archive.holds_any(&other.sessions) || cache.is_some_and(|cache| archive.holds_any(&remembered(cache)))
}

/// Gives records that somebody renamed the names they had.
fn named_again(archive: &Archive) -> Vec<String> {
    let strays = archive.strays().unwrap_or_default();
    let renamed = strays.into_iter().filter_map(|stray| match stray.kind {
        StrayKind::Renamed(name) => archive.name_again(&stray.path, &name).ok().map(|()| {
            let file = stray.path.file_name().unwrap_or_default().to_string_lossy();
            phrase::folder::named_again(&Shown::from(file.as_ref()), name.as_str())
        }),
        _ => None,
    });
    renamed.collect()
}
