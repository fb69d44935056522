//! A customer forgotten, and what is left of the name looked for afterwards.
//!
//! Not here: how it goes (`archive::forget`), and the page (`phrase::forget`).

use std::fs;
use std::path::{Path, PathBuf};

use chrono::Local;

use crate::app::said::sentence;
use crate::archive::Archive;
use crate::archive::forget::{ForgetFault, Keeping, Person, Traces};
use crate::phrase::forget::{self as words, ForgetOutcome};

/// Forgets what was traced; the list remembered in the cache goes where it has the name, and is made again.
pub(in crate::app) fn forget(
    archive: &Archive,
    traces: &Traces,
    keeping: Keeping,
    cache: Option<&Path>,
    done: &mut dyn FnMut(usize, usize),
) -> ForgetOutcome {
    let forgotten = archive.forget(traces, keeping, Local::now().fixed_offset(), done);
    let unlogged =
        forgotten.unlogged.iter().map(|error| format!("{} {}", words::LOG_UNWRITTEN, sentence(error)));
    let mut faults: Vec<String> = unlogged.collect();
    let person = &traces.person;
    let kept = named_in(cache, person).into_iter().filter(|file| fs::remove_file(file).is_err());
    faults.extend(kept.map(|file| format!("{}.", words::still_in(&super::shown(&file)))));
    let still_named = match archive.still_named_in(person) {
        // What stays is named with its reason.
        Ok(files) if forgotten.refused.is_empty() => files.iter().map(|file| super::shown(file)).collect(),
        Ok(_) => Vec::new(),
        Err(error) => {
            faults.push(sentence(&error));
            Vec::new()
        }
    };
    let stay = forgotten.refused.iter().map(|(name, why)| stays(name.as_str(), why)).collect();
    let [removed, anonymous, cleaned] =
        [&forgotten.removed, &forgotten.anonymous, &forgotten.cleaned].map(Vec::len);
    ForgetOutcome { done: words::done(removed, anonymous, cleaned), stay, faults, still_named }
}

fn stays(name: &str, why: &ForgetFault) -> String {
    match why {
        ForgetFault::InUse => words::is_open(name),
        ForgetFault::File { path, source } => {
            words::file_stays(name, &super::shown(path), &crate::failure::plainly(source))
        }
    }
}

/// The files of the cache that hold the name, of whatever folder they remember the sessions.
fn named_in(cache: Option<&Path>, person: &Person) -> Vec<PathBuf> {
    let entries = cache.and_then(|cache| fs::read_dir(cache).ok());
    let files =
        entries.into_iter().flatten().flatten().map(|entry| entry.path()).filter(|path| path.is_file());
    let holds = |path: &Path| {
        let bytes = fs::read(path).unwrap_or_default();
        person.is_named_in(&String::from_utf8_lossy(&bytes))
    };
    files.filter(|path| holds(path)).collect()
}
