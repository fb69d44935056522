//! What there is of a customer, looked for and put into words before anything is touched.
//!
//! Not here: what is looked for (`archive::forget`), and the page (`phrase::forget`).

use std::collections::BTreeMap;

use crate::app::said::sentence;
use crate::archive::forget::{Among, Person, TracedFile, TracedSession, Traces};
use crate::archive::{Archive, FileRole, Register};
use crate::phrase::forget::{self as words, GoingFile, WillGo};
use crate::screen::effect::CustomerTraced;
use crate::text::Shown;

/// The most sessions named before the others are only counted.
const MOST_NAMED: usize = 20;
/// The most similar names offered.
const MOST_SIMILAR: usize = 5;

/// Everything there is of the customer of these names. The register offers those whose names are nearly one of them.
///
/// # Errors
/// With a sentence where the name is none, nobody has it, or a folder cannot be looked through.
pub(in crate::app) fn traced(
    archive: &Archive,
    names: &[&str],
    register: Option<&Register>,
    looked: &mut dyn FnMut(usize, usize),
) -> Result<CustomerTraced, TraceFault> {
    let person = Person::named(names.iter().copied()).ok_or(TraceFault::NoName)?;
    let unseen = |error: &crate::archive::FolderError| TraceFault::Folder(sentence(error));
    let traces = archive.traces(person, looked).map_err(|error| unseen(&error))?;
    let similar = register.map_or_else(Vec::new, |register| similar(register, &traces.person, names));
    let shown = Shown::from(names.join(", ").as_str()).fitted(60);
    if traces.is_empty() {
        return Err(TraceFault::Nobody { sentence: words::nobody(&shown), similar });
    }
    let beyond = archive.still_named_in(&traces.person).map_err(|error| unseen(&error))?;
    let beyond = beyond.iter().filter(|path| !traces.files().any(|file| file == path.as_path()));
    let beyond = beyond.map(|path| super::shown(path)).collect();
    Ok(CustomerTraced { will_go: will_go(shown, &traces, similar, beyond), traces })
}

/// Why there is nothing to show.
#[derive(Debug)]
pub(in crate::app) enum TraceFault {
    /// The name holds no letter.
    NoName,
    /// The folder cannot be looked through; a sentence.
    Folder(String),
    /// Nobody has the name.
    Nobody {
        /// That.
        sentence: String,
        /// Customers whose names are nearly this one.
        similar: Vec<String>,
    },
}

fn will_go(customer: String, traces: &Traces, similar: Vec<String>, beyond: Vec<String>) -> WillGo {
    let (open, closed): (Vec<_>, Vec<_>) = traces.sessions.iter().partition(|session| session.is_open);
    let mut files: BTreeMap<GoingFile, usize> = BTreeMap::new();
    for file in closed.iter().flat_map(|session| &session.files) {
        *files.entry(kind(file)).or_default() += 1;
    }
    if !traces.loose.is_empty() {
        files.insert(GoingFile::Loose, traces.loose.len());
    }
    let open = open.into_iter().chain(traces.others.iter().filter(|session| session.is_open));
    WillGo {
        customer,
        sessions: closed.len(),
        named: closed.iter().take(MOST_NAMED).map(|session| line(session)).collect(),
        files,
        of_others: traces.others.iter().filter(|session| !session.is_open).count(),
        open: open.map(|session| words::is_open(session.name.as_str())).collect(),
        similar,
        beyond,
    }
}

fn line(session: &TracedSession) -> String {
    let day = session.opened.map(|opened| opened.format("%Y-%m-%d  ").to_string()).unwrap_or_default();
    format!("{day}{}  {}", session.name.record(), session.bike.shown().fitted(40)).trim_end().to_owned()
}

fn kind(file: &TracedFile) -> GoingFile {
    match (file.among, file.role) {
        (Among::Spool, _) => GoingFile::Backup,
        (Among::Wastebasket, _) => GoingFile::Discarded,
        (Among::Records, FileRole::Record) => GoingFile::Record,
        (Among::Records, FileRole::Older | FileRole::Temporary) => GoingFile::Older,
        (Among::Records, _) => GoingFile::Copy,
    }
}

/// Customers whose names are nearly one of these, a sentence each.
fn similar(register: &Register, person: &Person, names: &[&str]) -> Vec<String> {
    let near = names.iter().flat_map(|name| register.like(name, MOST_SIMILAR));
    let others = near.filter(|customer| !person.is(customer.name.as_typed()));
    let mut lines: Vec<String> =
        others.map(|one| words::similar(&one.name.shown().fitted(40), one.visits)).collect();
    lines.dedup();
    lines
}
