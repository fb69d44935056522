//! The command that forgets a customer: shows what will go, asks, does it, and says what is left. The screen does the same.
//!
//! Not here: what is looked for and how it goes (`archive::forget`), and the words (`phrase::forget`).

mod doing;
mod preview;

use std::io::{self, IsTerminal, Write};
use std::path::Path;

use super::progress::ProgressLine;
use super::{index, print};
use crate::archive::forget::Keeping;
use crate::archive::{Archive, Register};
use crate::cli::ForgetOptions;
use crate::document;
use crate::failure::Failure;
use crate::phrase::forget::{self as words, ForgetOutcome};
use crate::text::Shown;
pub(super) use doing::forget;
pub(super) use preview::{TraceFault, traced};

/// The command.
pub(super) fn forget_by_command(options: &ForgetOptions, archive: &Archive) -> Result<(), Failure> {
    let names: Vec<&str> = options.names.iter().map(String::as_str).collect();
    let keeping = if options.anonymous { Keeping::Figures } else { Keeping::Nothing };
    let register = index::up_to_date(archive).ok().map(|index| Register::of(&index));
    let mut progress = ProgressLine::begin("Looked at");
    let found = traced(archive, &names, register.as_ref(), &mut |done, of| progress.at(done, of));
    drop(progress);
    let found = found.map_err(|fault| match fault {
        TraceFault::NoName => Failure::of_use(words::NO_NAME),
        TraceFault::Folder(sentence) => Failure::new(sentence),
        TraceFault::Nobody { sentence, similar } => {
            Failure::new(sentence).listing(similar.iter().map(String::as_str))
        }
    })?;
    print(&document::as_text(&words::page(&found.will_go, keeping)))?;
    if !options.yes && !is_agreed()? {
        return Err(Failure::new(words::LEFT));
    }
    let mut progress = ProgressLine::begin(if options.anonymous { "Rewritten" } else { "Removed" });
    let cache = index::cache();
    let outcome =
        forget(archive, &found.traces, keeping, cache.as_deref(), &mut |done, of| progress.at(done, of));
    drop(progress);
    // What was done and what is left is said also where the list cannot be made again.
    let listed = index::up_to_date(archive);
    print(&format!("{}\n", outcome.done))?;
    what_is_left(&outcome)?;
    listed.map(drop)
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

/// Says what stays, where anything does.
fn what_is_left(outcome: &ForgetOutcome) -> Result<(), Failure> {
    let lines = |lines: &[String]| lines.iter().map(String::as_str).collect::<Vec<_>>().join("\n");
    if !outcome.stay.is_empty() {
        let stay = Failure::new(words::stay(outcome.stay.len()));
        return Err(stay.listing(lines(&outcome.stay).lines()).way_out(words::RUN_AGAIN));
    }
    if !outcome.faults.is_empty() {
        return Err(Failure::new(outcome.faults.join(" ")));
    }
    if !outcome.still_named.is_empty() {
        return Err(Failure::new(words::STILL_NAMED).listing(lines(&outcome.still_named).lines()));
    }
    print(words::GONE)
}

/// A path, safe to show.
fn shown(path: &Path) -> String {
    Shown::from(path.to_string_lossy().as_ref()).to_string()
}
