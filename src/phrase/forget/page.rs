//! A customer to be forgotten as a page: what there is and what becomes of it, and afterwards what was done and what is left to
//! do by hand.
//!
//! The screen and the command show the same page. Not here: looking for it (`app::forget`).

use std::collections::BTreeMap;

use super::{GoingFile, Keeping};
use crate::document::{Block, Size, Tone};
use crate::phrase::forget as words;

/// What there is of a customer, every text safe to show.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WillGo {
    /// The customer, as asked for.
    pub customer: String,
    /// How many sessions go.
    pub sessions: usize,
    /// The newest of them, a line each.
    pub named: Vec<String>,
    /// Their files, by kind.
    pub files: BTreeMap<GoingFile, usize>,
    /// How many sessions of others name them.
    pub of_others: usize,
    /// Sessions that are open elsewhere and stay.
    pub open: Vec<String>,
    /// Customers whose names are nearly this one, in a sentence each.
    pub similar: Vec<String>,
    /// Files of the folder that hold the name and stay.
    pub beyond: Vec<String>,
}

/// What came of it, every text safe to show.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ForgetOutcome {
    /// What was done, in a sentence.
    pub done: String,
    /// Sessions that stay, with the reason.
    pub stay: Vec<String>,
    /// What else failed.
    pub faults: Vec<String>,
    /// Files that still hold the name.
    pub still_named: Vec<String>,
}

impl ForgetOutcome {
    /// Whether the name is in no file any more.
    pub fn is_clean(&self) -> bool {
        self.stay.is_empty() && self.faults.is_empty() && self.still_named.is_empty()
    }
}

/// The page that is read before agreeing.
pub fn page(will_go: &WillGo, keeping: Keeping) -> Vec<Block> {
    let mut page = vec![Block::Title(will_go.customer.clone(), String::new())];
    if will_go.sessions > 0 {
        page.push(Block::Text(Tone::Strong, words::will_go(will_go.sessions, keeping)));
    }
    page.push(Block::Text(Tone::Strong, words::NO_WAY_BACK.to_owned()));
    let more = will_go.sessions - will_go.named.len();
    let more = (more > 0).then(|| words::and_more(more));
    let named = will_go.named.iter().cloned().chain(more).collect();
    let stays = |kind: &GoingFile| keeping == Keeping::Figures && *kind == GoingFile::Record;
    let files = will_go.files.iter().filter(|(kind, _)| !stays(kind));
    let files = files.map(|(kind, number)| words::files(*kind, *number)).collect();
    page.extend([
        Block::List(words::SESSIONS, named, Size::Plain),
        Block::List(words::FILES_GO, files, Size::Plain),
        Block::List(words::BEYOND, will_go.beyond.clone(), Size::Plain),
        Block::Heading(String::new()),
    ]);
    if will_go.of_others > 0 {
        page.push(Block::Text(Tone::Plain, words::of_others(will_go.of_others)));
    }
    let care = will_go.open.iter().chain(&will_go.similar);
    page.extend(care.map(|sentence| Block::Text(Tone::Alert, sentence.clone())));
    page.extend(
        [words::INDEX_TOO, words::OUT_OF_REACH].map(|text| Block::Text(Tone::Plain, text.to_owned())),
    );
    page
}

/// The page that says what was done and what is left.
pub fn result(customer: &str, outcome: &ForgetOutcome) -> Vec<Block> {
    let mut page = vec![
        Block::Title(customer.to_owned(), String::new()),
        Block::Text(Tone::Strong, outcome.done.clone()),
    ];
    page.extend(outcome.faults.iter().map(|fault| Block::Text(Tone::Alert, fault.clone())));
    if !outcome.stay.is_empty() {
        let stay = outcome.stay.iter().map(|line| Block::Text(Tone::Alert, line.clone()));
        page.push(Block::Heading(words::stay(outcome.stay.len())));
        page.extend(stay);
        page.push(Block::Text(Tone::Plain, words::RUN_AGAIN.to_owned()));
    }
    page.push(Block::List(words::STILL_NAMED, outcome.still_named.clone(), Size::Plain));
    page.push(Block::Heading(String::new()));
    if outcome.is_clean() {
        page.push(Block::Text(Tone::Plain, words::GONE.to_owned()));
    }
    page.push(Block::Text(Tone::Plain, words::OUT_OF_REACH.to_owned()));
    page
}
