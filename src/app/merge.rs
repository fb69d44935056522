//! Two versions of a session brought together: looks at what there is, and does it once somebody has read that.
//!
//! The record is written first and the other version put away afterwards, so that a power cut in between leaves both. Not here:
//! which entries go over (`session::machine::merge`), and the page (`phrase::versions`).

use std::path::{Path, PathBuf};

use super::said::{cleaned, read_only, sentence};
use super::shell::{carries_on, file_name};
use super::{forget, print};
use crate::archive::form::{self, ReadRecord};
use crate::archive::{Archive, Candidate, FileRole, HoldOutcome, SessionName, SessionWriter, StoredIn};
use crate::cli::MergeOptions;
use crate::document;
use crate::failure::Failure;
use crate::phrase::versions::{self as words, OtherVersion};
use crate::screen::effect::{Answer, OtherVersionFate, VersionsFound};
use crate::session::Record;
use crate::session::machine::merge;
use crate::units::UnitSet;

/// What there is of a session, for the screen.
pub(super) fn seen(archive: &Archive, name: &SessionName) -> Answer {
    look(archive, name).map_or_else(Answer::Failed, |found| Answer::VersionsSeen(Box::new(found)))
}

/// What there is of a session, without holding it.
///
/// # Errors
/// With a sentence where the record cannot be read, or is in one version only.
fn look(archive: &Archive, name: &SessionName) -> Result<VersionsFound, String> {
    let versions = archive.versions(name).map_err(|error| sentence(&error))?;
    let record = versions.iter().find(|version| version.role == FileRole::Record);
    let record = record.ok_or_else(|| words::NONE.to_owned())?;
    let here = form::read(&record.opened.text).map_err(|error| sentence(&error))?;
    let found = found(name, here, &others(versions));
    if found.others.is_empty() { Err(words::NONE.to_owned()) } else { Ok(found) }
}

/// Those that are a version of their own, not the record, the one before it or a copy the program settles by itself.
fn others(versions: Vec<Candidate>) -> Vec<Candidate> {
    let is_another = |version: &Candidate| matches!(version.role, FileRole::Aside | FileRole::ConflictCopy);
    versions.into_iter().filter(is_another).collect()
}

fn found(name: &SessionName, here: ReadRecord, others: &[Candidate]) -> VersionsFound {
    let mut record = here.record.clone();
    let others = others.iter().map(|other| {
        let outcome = form::read(&other.opened.text).map_err(|error| sentence(&error)).and_then(|there| {
            if there.unknown != here.unknown {
                return Err(words::LATER_PROGRAM.to_owned());
            }
            let merged = merge(&record, &there.record).map_err(|because| words::cannot(&because))?;
            record = merged.record.clone();
            Ok((there.record, merged))
        });
        OtherVersion { file: file_name(&other.path).fitted(60), outcome }
    });
    VersionsFound { name: name.clone(), here: here.record, others: others.collect() }
}

/// Does with the other versions of a session what was chosen, and says what came of it.
///
/// # Errors
/// With a sentence where the session is open elsewhere or cannot be written; then both are where they were.
pub(super) fn settle(
    archive: &Archive,
    name: &SessionName,
    fate: OtherVersionFate,
) -> Result<String, String> {
    let (mut held, opened) = match archive.hold(name, &carries_on).map_err(|error| sentence(&error))? {
        HoldOutcome::Ours { held, opened, .. } => (held, opened),
        HoldOutcome::ReadOnly { why, .. } => return Err(read_only(&why)),
    };
    let here = form::read(&opened.text).map_err(|error| sentence(&error))?;
    let unknown = here.unknown.clone();
    // Those too of which everything is here already: they stay in the folder, and would be found again and again.
    let others = others(archive.versions(name).map_err(|error| sentence(&error))?);
    let found = found(name, here, &others);
    if found.others.is_empty() {
        return Err(words::NONE.to_owned());
    }
    let files: Vec<&PathBuf> = others.iter().map(|other| &other.path).collect();
    if fate == OtherVersionFate::PutAway {
        put_away(&held, files.into_iter())?;
        return Ok(words::PUT_AWAY.to_owned());
    }
    let merged =
        || found.others.iter().filter_map(|other| other.outcome.as_ref().ok()).map(|(_, merged)| merged);
    let Some(last) = merged().next_back() else { return Err(cleaned(words::NOT_TOGETHER)) };
    if last.record != found.here {
        keep(&mut held, &last.record, &unknown)?;
    }
    let together = files.into_iter().zip(&found.others).filter(|(_, other)| other.outcome.is_ok());
    put_away(&held, together.map(|(file, _)| file))?;
    Ok(words::done(merged().map(|one| one.taken.len()).sum(), merged().map(|one| one.left.len()).sum()))
}

fn keep(held: &mut SessionWriter, record: &Record, unknown: &form::Unknown) -> Result<(), String> {
    let body = form::write(record, unknown).map_err(|error| sentence(&error))?;
    match held.keep(&body).map_err(|error| sentence(&error))? {
        StoredIn::InRecords { .. } => Ok(()),
        // The next start brings it in; until then the other version stays beside it.
        StoredIn::InSpool { reason, .. } => Err(sentence(&reason)),
    }
}

fn put_away<'v>(held: &SessionWriter, mut files: impl Iterator<Item = &'v PathBuf>) -> Result<(), String> {
    files.try_for_each(|file| held.put_away(file)).map_err(|error| sentence(&error))
}

/// The command: shows every session in two versions, or the one named, and asks.
pub(super) fn merge_by_command(
    options: &MergeOptions,
    archive: &Archive,
    units: UnitSet,
) -> Result<(), Failure> {
    let in_two = archive.in_two_versions().map_err(|error| Failure::new(sentence(&error)))?;
    let asked = |name: &SessionName| options.session.as_deref().is_none_or(|text| is_named(name, text));
    let names: Vec<_> = in_two.into_iter().filter(asked).collect();
    if names.is_empty() {
        return match &options.session {
            Some(_) => Err(Failure::of_use(words::NONE)),
            None => print(&format!("{}\n", words::NOWHERE)),
        };
    }
    for name in &names {
        one(options, archive, name, units)?;
    }
    Ok(())
}

fn is_named(name: &SessionName, text: &Path) -> bool {
    text.file_name().is_some_and(|file| file == name.as_str() || file == name.record().as_str())
}

fn one(options: &MergeOptions, archive: &Archive, name: &SessionName, units: UnitSet) -> Result<(), Failure> {
    let found = look(archive, name).map_err(Failure::new)?;
    print(&document::as_text(&words::page(name.as_str(), &found.here, &found.others, units)))?;
    let fate = if options.put_away { OtherVersionFate::PutAway } else { OtherVersionFate::BroughtTogether };
    if fate == OtherVersionFate::BroughtTogether && !found.can_be_brought_together() {
        return Err(Failure::new(words::NOT_TOGETHER).way_out(words::PUT_AWAY_BY_FLAG));
    }
    if !options.yes && !forget::is_agreed()? {
        return Err(Failure::new(crate::phrase::forget::LEFT));
    }
    print(&format!("{}\n", settle(archive, name, fate).map_err(Failure::new)?))
}
