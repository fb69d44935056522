//! Two versions of a session as a page: what goes over from the other one, what does not, and why.
//!
//! The screen and the command show the same page. Not here: bringing them together (`session::machine::merge`), and the files
//! (`archive`).

use super as words;
use crate::document::{Block, Tone};
use crate::phrase;
use crate::session::machine::Merged;
use crate::session::{Entry, Record};
use crate::units::UnitSet;

/// Another version of a session.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherVersion {
    /// What its file is called, safe to show.
    pub file: String,
    /// What is in it, and what both come to; or why they cannot be brought together, in a sentence.
    pub outcome: Result<(Record, Merged), String>,
}

/// The page of the session of that name.
pub fn page(name: &str, here: &Record, others: &[OtherVersion], units: UnitSet) -> Vec<Block> {
    let customer = here.intake.customer.shown().fitted(30);
    let customer = if customer.is_empty() { phrase::review::NO_NAME.to_owned() } else { customer };
    let mut page = vec![
        Block::Title(customer, name.to_owned()),
        Block::Text(Tone::Plain, words::WHY.to_owned()),
        Block::Text(Tone::Plain, size("Here", here)),
    ];
    page.extend(others.iter().flat_map(|other| part(other, units)));
    let together = others.iter().any(|other| other.outcome.is_ok());
    let last = if together { words::AFTERWARDS } else { words::NOT_TOGETHER };
    page.extend([Block::Heading(String::new()), Block::Text(Tone::Plain, last.to_owned())]);
    page
}

fn size(which: &str, record: &Record) -> String {
    let last = record.entries.last().map(|entry| entry.at.format("%-d %B %Y, %H:%M").to_string());
    format!("{which}: {}", words::entries(record.entries.len(), &last.unwrap_or_default()))
}

fn part(other: &OtherVersion, units: UnitSet) -> Vec<Block> {
    let file = other.file.clone();
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
