//! The command that forgets a customer: shows what will go, asks, does it, and looks again whether the name is gone.
//!
//! Not here: what is looked for and how it goes (`archive::forget`), and the words (`phrase::forget`).

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use chrono::Local;

use super::progress::ProgressLine;
use super::{index, print};
use crate::archive::forget::{
    Among, ForgetFault, Forgotten, Keeping, Person, TracedFile, TracedSession, Traces,
};
use crate::archive::{Archive, FileRole, Register};
use crate::cli::ForgetOptions;
use crate::failure::Failure;
use crate::phrase::{self, forget as words};
use crate::text::Shown;

/// The most sessions named before the others are only counted.
const MOST_NAMED: usize = 20;
/// The most similar names offered.
const MOST_SIMILAR: usize = 5;

pub(super) fn forget(options: &ForgetOptions, archive: &Archive) -> Result<(), Failure> {
    let names = || options.names.iter().map(String::as_str);
    let person = Person::named(names()).ok_or_else(|| Failure::of_use(words::NO_NAME))?;
    let keeping = if options.anonymous { Keeping::Figures } else { Keeping::Nothing };
    let mut progress = ProgressLine::begin("Looked at");
    let traces = archive
        .traces(person, &mut |done, of| progress.at(done, of))
        .map_err(|error| looked_in_vain(&error))?;
    drop(progress);
    let similar = similar(archive, &traces.person, options);
    if is_nobody(&traces) {
        let shown = Shown::from(names().collect::<Vec<_>>().join(", ").as_str());
        let nobody = Failure::new(words::nobody(&shown.fitted(60)));
        return Err(nobody.listing(similar.as_deref().unwrap_or_default().lines()));
    }
    print(&preview(&traces, keeping, similar.as_deref()))?;
    if !options.yes && !is_agreed()? {
        return Err(Failure::new(words::LEFT));
    }
    let mut progress = ProgressLine::begin(if options.anonymous { "Rewritten" } else { "Removed" });
    let forgotten =
        archive.forget(&traces, keeping, Local::now().fixed_offset(), &mut |done, of| progress.at(done, of));
    drop(progress);
    let forgotten = forgotten.map_err(|error| {
        Failure::new("The sessions are forgotten, but that could not be written down").because(error)
    });
    let index_kept = forget_in_cache(archive, &traces.person);
    let forgotten = forgotten?;
    index_kept?;
    print(&words::done(forgotten.removed.len(), forgotten.anonymous.len(), forgotten.cleaned.len()))?;
    what_is_left(archive, &traces.person, &forgotten)
}

fn is_nobody(traces: &Traces) -> bool {
    traces.sessions.is_empty() && traces.others.is_empty() && traces.loose.is_empty()
}

/// What will go, for a person to read before agreeing.
fn preview(traces: &Traces, keeping: Keeping, similar: Option<&str>) -> String {
    let mut text = String::new();
    let (open, closed): (Vec<_>, Vec<_>) = traces.sessions.iter().partition(|session| session.is_open);
    if !closed.is_empty() {
        text += &words::will_go(closed.len(), keeping == Keeping::Figures);
        for session in closed.iter().take(MOST_NAMED) {
            let _ = writeln!(text, "  {}", line(session));
        }
        text += &words::and_more(closed.len().saturating_sub(MOST_NAMED));
    }
    let record_stays = |file: &&TracedFile| keeping == Keeping::Figures && file.is_record();
    let files = closed.iter().flat_map(|session| &session.files).filter(|file| !record_stays(file));
    let mut kinds: BTreeMap<words::GoingFile, usize> = BTreeMap::new();
    files.for_each(|file| *kinds.entry(kind(file)).or_default() += 1);
    if !traces.loose.is_empty() {
        kinds.insert(words::GoingFile::Loose, traces.loose.len());
    }
    text += &words::files(&kinds);
    text += &words::of_others(traces.others.iter().filter(|session| !session.is_open).count());
    let open = open.into_iter().chain(traces.others.iter().filter(|session| session.is_open));
    for session in open {
        let _ = writeln!(text, "{}", words::is_open(session.name.as_str()));
    }
    for line in similar.into_iter().flat_map(str::lines) {
        let _ = writeln!(text, "{line}");
    }
    text + words::INDEX_TOO + words::OUT_OF_REACH + "\n"
}

fn line(session: &TracedSession) -> String {
    let day = session.opened.map(|opened| opened.format("%Y-%m-%d  ").to_string()).unwrap_or_default();
    format!("{day}{}  {}", session.name.record(), session.bike.shown().fitted(40)).trim_end().to_owned()
}

fn kind(file: &TracedFile) -> words::GoingFile {
    match (file.among, file.role) {
        (Among::Spool, _) => words::GoingFile::Backup,
        (Among::Wastebasket, _) => words::GoingFile::Discarded,
        (Among::Records, FileRole::Record) => words::GoingFile::Record,
        (Among::Records, FileRole::Older | FileRole::Temporary) => words::GoingFile::Older,
        (Among::Records, _) => words::GoingFile::Copy,
    }
}

/// Customers whose names are nearly this one, a line each; none where there are none.
fn similar(archive: &Archive, person: &Person, options: &ForgetOptions) -> Option<String> {
    let register = Register::of(&index::up_to_date(archive).ok()?);
    let near = options.names.iter().flat_map(|name| register.like(name, MOST_SIMILAR));
    let others = near.filter(|customer| !person.is(customer.name.as_typed()));
    let mut lines: Vec<String> =
        others.map(|one| words::similar(&one.name.shown().fitted(40), one.visits)).collect();
    lines.dedup();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

/// Asks on the terminal.
pub(super) fn is_agreed() -> Result<bool, Failure> {
    if !io::stdin().is_terminal() {
        return Err(Failure::of_use(words::NOBODY_TO_ASK).way_out(words::SAY_YES));
    }
    let unheard = |error| Failure::new(words::LEFT).because(error);
    write!(io::stdout(), "{}", words::ASK).and_then(|()| io::stdout().flush()).map_err(unheard)?;
    let mut said = String::new();
    io::stdin().read_line(&mut said).map_err(unheard)?;
    Ok(said.trim().eq_ignore_ascii_case(words::YES))
}

/// Brings what this computer remembers up to date, and drops what it remembers of other folders where that has the name.
fn forget_in_cache(archive: &Archive, person: &Person) -> Result<(), Failure> {
    index::up_to_date(archive)?;
    for file in named_in_cache(person) {
        fs::remove_file(&file)
            .map_err(|error| Failure::new(words::still_in(&file.to_string_lossy())).because(error))?;
    }
    Ok(())
}

/// The files of the cache that hold the name.
fn named_in_cache(person: &Person) -> Vec<PathBuf> {
    let entries = index::cache().and_then(|cache| fs::read_dir(cache).ok());
    let files =
        entries.into_iter().flatten().flatten().map(|entry| entry.path()).filter(|path| path.is_file());
    let holds = |path: &Path| {
        let bytes = fs::read(path).unwrap_or_default();
        person.is_named_in(&String::from_utf8_lossy(&bytes))
    };
    files.filter(|path| holds(path)).collect()
}

/// Says what stays, where anything does.
fn what_is_left(archive: &Archive, person: &Person, forgotten: &Forgotten) -> Result<(), Failure> {
    if !forgotten.refused.is_empty() {
        let lines = forgotten.refused.iter().map(|(name, why)| match why {
            ForgetFault::InUse => words::is_open(name.as_str()),
            ForgetFault::File { path, source } => {
                words::file_stays(name.as_str(), &path.to_string_lossy(), &crate::failure::plainly(source))
            }
        });
        let lines: Vec<String> = lines.collect();
        let stay = Failure::new(words::stay(forgotten.refused.len()));
        return Err(stay.listing(lines.iter().map(String::as_str)).way_out(words::RUN_AGAIN));
    }
    let left = archive.still_named_in(person).map_err(|error| looked_in_vain(&error))?;
    let left: Vec<String> = left.iter().map(|path| path.to_string_lossy().into_owned()).collect();
    if left.is_empty() {
        return print(words::GONE);
    }
    Err(Failure::new(words::STILL_NAMED).listing(left.iter().map(String::as_str)))
}

fn looked_in_vain(error: &crate::archive::FolderError) -> Failure {
    Failure::new(phrase::sentence(&error.to_string()))
}
