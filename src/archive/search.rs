//! Finding a session as one types: every word of the query in a name, a bike, a spring rate or a date, misspelt a little.
//!
//! The sessions share one vocabulary (`vocabulary`): a key stroke compares the query with each different word once, not
//! with each session, and a longer word only with those its beginning matched. Ranked are whole words before beginnings,
//! before insides, before misspellings; among equals the newest session comes first. Words are compared without case and
//! accents ([`fold`]).
//!
//! A longer word forgives more slips, from its fourth and from its eighth letter on; there, and only there, typing on can
//! find more than before. Not here: what a list shows of a session ([`super::index`]).

mod fold;
mod likeness;
mod vocabulary;

pub use fold::fold;

use super::index::Index;
use likeness::{Likeness, SoughtWord};
use std::cmp::Reverse;
use std::panic::resume_unwind;
use std::sync::Arc;
use std::thread::{self, JoinHandle};
use vocabulary::{Vocabulary, WordId};

/// Finds among the sessions of one state of an index.
#[derive(Debug)]
pub struct Finder {
    words: SessionWords,
    sessions: usize,
    /// The words of the last query, for the next one.
    asked: Vec<SearchWords>,
}

/// The words of all sessions.
#[derive(Debug, Default)]
struct SessionWords {
    vocabulary: Vocabulary,
    /// The thread that still reads them; nobody has asked for them yet.
    being_read: Option<JoinHandle<Vocabulary>>,
}

impl SessionWords {
    /// The words, waited for if need be.
    fn read(&mut self) -> &Vocabulary {
        if let Some(thread) = self.being_read.take() {
            self.vocabulary = thread.join().unwrap_or_else(|panic| resume_unwind(panic));
        }
        &self.vocabulary
    }
}

/// A word of a query and what it matched.
#[derive(Debug)]
struct SearchWords {
    sought: SoughtWord,
    matched: Vec<(WordId, Likeness)>,
    /// For every session the likeness of its best word.
    best: Vec<Option<Likeness>>,
}

impl Finder {
    /// Reads the words of every session of the index.
    pub fn new(index: &Index) -> Self {
        let words = SessionWords { vocabulary: Vocabulary::of(index.sessions()), being_read: None };
        Self { words, sessions: index.sessions().len(), asked: Vec::new() }
    }

    /// Begins to read them, and is there at once: only the first query with a word in it waits for the end. Until then the
    /// thread shares the index; [`Finder::settle`] before changing it.
    pub fn behind(index: &Arc<Index>) -> Self {
        let (sessions, index) = (index.sessions().len(), Arc::clone(index));
        let being_read = Some(thread::spawn(move || Vocabulary::of(index.sessions())));
        let words = SessionWords { being_read, ..SessionWords::default() };
        Self { words, sessions, asked: Vec::new() }
    }

    /// Waits until no thread reads the index any more.
    pub fn settle(&mut self) {
        self.words.read();
    }

    /// The places in [`Index::sessions`] of those in which every word of the query is found, the best first, among equals
    /// the newest; all of them for a query without a word.
    pub fn find(&mut self, query: &str) -> Vec<usize> {
        let folded = fold(query);
        let mut before = std::mem::take(&mut self.asked);
        before.reverse();
        let words: Vec<&str> = folded.split_whitespace().collect();
        if words.is_empty() {
            return (0..self.sessions).collect();
        }
        let vocabulary = self.words.read();
        let asked =
            words.into_iter().map(|word| SearchWords::of(SoughtWord::new(word), before.pop(), vocabulary));
        self.asked = asked.collect();
        self.ranked()
    }
}

impl SearchWords {
    fn of(sought: SoughtWord, earlier: Option<Self>, vocabulary: &Vocabulary) -> Self {
        let mut matched: Vec<_> = match earlier {
            Some(earlier) if earlier.sought == sought => return earlier,
            Some(earlier) if sought.narrows(&earlier.sought) => {
                let candidates = earlier.matched.into_iter().map(|(word, _)| word);
                candidates.filter_map(|word| Some((word, vocabulary.compare(&sought, word)?))).collect()
            }
            _ => {
                vocabulary.all().filter_map(|word| Some((word, vocabulary.compare(&sought, word)?))).collect()
            }
        };
        matched.sort_unstable_by_key(|(_, likeness)| Reverse(*likeness));
        let best = vocabulary.best_of_sessions(&matched);
        Self { sought, matched, best }
    }
}

impl Finder {
    /// The sessions all words are found in, sorted by counting: there are few ranks and many sessions.
    fn ranked(&self) -> Vec<usize> {
        let mut ranks = vec![Some(0_u32); self.sessions];
        for asked in &self.asked {
            for (rank, best) in ranks.iter_mut().zip(&asked.best) {
                *rank = rank.zip(*best).map(|(rank, best)| rank + best.rank());
            }
        }
        let worst = Likeness::WORST as usize * self.asked.len();
        let mut ends = vec![0; worst + 1];
        for rank in ranks.iter().flatten() {
            ends[*rank as usize] += 1;
        }
        let mut found = 0;
        for end in &mut ends {
            found += std::mem::replace(end, found);
        }
        let mut places = vec![0; found];
        for (session, rank) in ranks.iter().enumerate() {
            if let Some(rank) = rank {
                let end = &mut ends[*rank as usize];
                places[*end] = session;
                *end += 1;
            }
        }
        places
    }
}
