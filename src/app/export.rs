//! The command that writes every session of the records folder, oldest first, so that a second run gives the same bytes.
//!
//! A record that cannot be read is told on standard error and left out; the others are still written. Not here: the
//! formats (`report`).

mod by_month;

use std::fs;
use std::io::{self, IsTerminal};
use std::panic::resume_unwind;
use std::path::Path;
use std::thread;

use chrono::{DateTime, Utc};

use super::outlet::{Outlet, Reader};
use super::progress::ProgressLine;
use super::{ReadSession, existing_records};
use crate::archive::{Archive, SessionName};
use crate::assessment::assess;
use crate::assets;
use crate::cli::{ExportOptions, Since};
use crate::failure::Failure;
use crate::report::{self, Personal};
use crate::text::Shown;

/// How many are made ready before they are written.
pub(super) const PORTION: usize = 128;

/// Writes the sessions asked for to where they are wanted.
pub(super) fn write(options: &ExportOptions, records: Option<&Path>) -> Result<(), Failure> {
    let archive = existing_records(records)?;
    let names = names(&archive, options)?;
    if let Some(folder) = &options.by_month {
        return by_month::write(&archive, &names, folder, options);
    }
    let mut outlet = Outlet::open(&options.to)?;
    if options.compress {
        outlet = outlet.compressed();
    }
    let mut progress = progress(options);
    let left_out = written(&archive, &names, options, &mut progress, |text| outlet.write(text))?;
    drop(progress);
    outlet.finish()?;
    told(left_out, names.len())
}

/// Hands over the sessions in their order, the heading of a table first; how many had to be left out.
fn written(
    archive: &Archive,
    names: &[SessionName],
    options: &ExportOptions,
    progress: &mut ProgressLine,
    mut take: impl FnMut(&str) -> Result<Reader, Failure>,
) -> Result<usize, Failure> {
    if options.csv {
        take(&report::heading())?;
    }
    let (mut left_out, mut done) = (0, 0);
    for portion in names.chunks(PORTION) {
        for line in in_parallel(portion, |name| exported(archive, name, options)) {
            match line {
                Ok(text) if take(&text)? == Reader::Gone => return Ok(left_out),
                Ok(_) => {}
                Err(failure) => {
                    left_out += 1;
                    progress.say(&failure);
                }
            }
        }
        done += portion.len();
        progress.at(done, names.len());
    }
    Ok(left_out)
}

/// Says how many sessions are not in the export, if any.
fn told(left_out: usize, of: usize) -> Result<(), Failure> {
    match left_out {
        0 => Ok(()),
        count => Err(Failure::new(format!("{count} of {of} sessions are not in the export"))
            .way_out("The others are. Open the records named above with `coilwright` to see what is wrong.")),
    }
}

/// How far it is; unsaid where the sessions themselves come to the terminal.
fn progress(options: &ExportOptions) -> ProgressLine {
    let done = "Written";
    if options.to.out.is_none() && options.by_month.is_none() && io::stdout().is_terminal() {
        ProgressLine::unseen(done)
    } else {
        ProgressLine::begin(done)
    }
}

/// The same work on each, over the cores there are; what comes of it in the same order.
pub(super) fn in_parallel<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let share = items.len().div_ceil(cores).max(1);
    thread::scope(|scope| {
        let parts: Vec<_> = items
            .chunks(share)
            .map(|part| scope.spawn(|| part.iter().map(&work).collect::<Vec<R>>()))
            .collect();
        parts.into_iter().flat_map(|part| part.join().unwrap_or_else(|panic| resume_unwind(panic))).collect()
    })
}

/// The sessions to write, oldest first.
fn names(archive: &Archive, options: &ExportOptions) -> Result<Vec<SessionName>, Failure> {
    let mut names = every_name(archive)?;
    names.retain(|name| options.since.is_none_or(|since| name.is_begun_since(since)));
    names.retain(|name| options.month.as_ref().is_none_or(|month| month.holds(name.as_str())));
    names.retain(|name| options.changed_since.is_none_or(|since| changed_since(archive, name, since)));
    Ok(names)
}

/// Every session of the folder, oldest first; among them those whose record is missing though something of them is left.
pub(super) fn every_name(archive: &Archive) -> Result<Vec<SessionName>, Failure> {
    let listing =
        archive.list().map_err(|error| Failure::new("the records folder cannot be listed").because(error))?;
    let mut names = [listing.sessions, listing.unsettled].concat();
    names.sort();
    names.dedup();
    Ok(names)
}

/// Whether the file of a session changed at that time or later; where nothing says so, it may have.
fn changed_since(archive: &Archive, name: &SessionName, since: Since) -> bool {
    let changed = fs::metadata(archive.record_path(name)).and_then(|file| file.modified());
    changed.map_or(true, |changed| DateTime::<Utc>::from(changed) >= since.0)
}

fn exported(archive: &Archive, name: &SessionName, options: &ExportOptions) -> Result<String, Failure> {
    let opened = archive
        .read(name)
        .map_err(|error| Failure::new(format!("session {name} cannot be read")).because(error))?;
    let session = ReadSession::read(&opened.text, Shown::from(name.as_str()))?;
    session.tell_if_changed();
    let (record, state, seal) = (&session.record, &session.state, session.seal);
    let assessment = state.setup.as_ref().map(|setup| assess(setup, state, assets::doubts()));
    let session =
        report::ExportSource { name: name.as_str(), record, state, assessment: assessment.as_ref(), seal };
    let personal = if options.without_names { Personal::LeftOut } else { Personal::Kept };
    let text = if options.csv {
        Ok(report::as_rows(&session, personal))
    } else if options.sets {
        report::as_set_lines(&session, personal)
    } else {
        report::as_line(&session, personal).map(|line| line + "\n")
    };
    text.map_err(|error| Failure::new(format!("session {name} cannot be written as JSON")).because(error))
}
