//! Two versions of a session on a page: what goes over from the other one, what does not, and why.
//!
//! The screen and the command show the same page. Not here: bringing them together (`session::machine::merge`), and the files
//! (`archive`).

use std::path::PathBuf;

use crate::archive::SessionName;
use crate::document::{Block, Tone};
use crate::phrase::{self, versions as words};
use crate::session::machine::Merged;
use crate::session::{Entry, Record};
use crate::text::Shown;
use crate::units::UnitSet;

/// A session with its other versions.
#[derive(Debug, Clone, PartialEq)]
pub struct VersionsFound {
    /// Which session.
    pub name: SessionName,
    /// The record that is there.
    pub here: Record,
    /// The others, each brought together with what the ones before it come to.
    pub others: Vec<OtherVersion>,
}

/// Another version of a session.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherVersion {
    /// Where it lies.
    pub file: PathBuf,
    /// What is in it, and what both come to; or why they cannot be brought together, in a sentence.
    pub outcome: Result<(Record, Merged), String>,
}

impl VersionsFound {
    /// Whether any of them can be brought together with the record.
    pub fn can_be_brought_together(&self) -> bool {
        self.others.iter().any(|other| other.outcome.is_ok())
    }
}

/// The page.
pub fn versions(found: &VersionsFound, units: UnitSet) -> Vec<Block> {
    let customer = found.here.intake.customer.shown().fitted(30);
    let mut page = vec![
        Block::Title(words::TITLE.to_owned(), found.name.to_string()),
        Block::Text(Tone::Plain, words::WHY.to_owned()),
        Block::Heading(if customer.is_empty() { phrase::review::NO_NAME.to_owned() } else { customer }),
        Block::Text(Tone::Plain, size("Here", &found.here)),
    ];
    page.extend(found.others.iter().flat_map(|other| part(other, units)));
    page.push(Block::Text(
        Tone::Plain,
        if found.can_be_brought_together() { words::AFTERWARDS } else { words::NOT_TOGETHER }.to_owned(),
    ));
    page
}

fn size(which: &str, record: &Record) -> String {
    let last = record.entries.last().map(|entry| entry.at.format("%-d %B %Y, %H:%M").to_string());
    format!("{which}: {}", words::entries(record.entries.len(), &last.unwrap_or_default()))
}

fn part(other: &OtherVersion, units: UnitSet) -> Vec<Block> {
    let file = other.file.file_name().unwrap_or_default().to_string_lossy();
    let file = Shown::from(file.as_ref()).fitted(60);
    let (theirs, merged) = match &other.outcome {
        Ok(both) => both,
        Err(because) => {
            return vec![Block::Heading(file), Block::Text(Tone::Alert, because.clone())];
        }
    };
    let springs = &merged.record.intake.springs;
    let deed = |entry: &Entry| phrase::deed::deed(&entry.deed, units, springs);
    let lead = |entry: &Entry| entry.at.format("%H:%M").to_string();
    let taken = merged.taken.iter().map(|entry| (lead(entry), Tone::Plain, by(entry, deed(entry)))).collect();
    let left = merged.left.iter().map(|left| {
        let words = words::left_out(&by(&left.entry, deed(&left.entry)), &left.because, units);
        (lead(&left.entry), Tone::Alert, words)
    });
    let mut part = vec![Block::Heading(file), Block::Text(Tone::Plain, size("There", theirs))];
    if merged.taken.is_empty() {
        part.push(Block::Text(Tone::Strong, words::NOTHING_NEW.to_owned()));
    } else {
        part.extend([Block::Heading(words::TAKEN.to_owned()), Block::Lines(taken)]);
    }
    if !merged.left.is_empty() {
        part.extend([Block::Heading(words::LEFT.to_owned()), Block::Lines(left.collect())]);
    }
    part
}

/// Whose hand it was, where that is known.
fn by(entry: &Entry, deed: String) -> String {
    if entry.by.is_empty() { deed } else { format!("{}: {deed}", entry.by.shown().fitted(20)) }
}
