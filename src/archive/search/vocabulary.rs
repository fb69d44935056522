//! The different words of all sessions, and in which sessions each stands.
//!
//! A hundred thousand sessions have a million words and some ten thousand different ones. Which words a session has is
//! decided here: those of its rider and bike, whole as typed and in pieces without punctuation; the rate of the spring on
//! the bike; the date, its day without a leading nought, and the month in words. A record that cannot be read has its name's.

use super::fold::fold;
use super::likeness::{Likeness, SoughtWord, signature};
use crate::archive::index::{Contents, IndexedSession};
use crate::archive::own_file::tidy;
use crate::units::SpringRate;
use chrono::{Datelike, NaiveDate};
use std::collections::HashMap;
use std::ops::Range;

/// A word's place in the vocabulary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct WordId(u32);

impl WordId {
    fn place(self) -> usize {
        self.0 as usize
    }
}

#[derive(Debug)]
struct Word {
    text: Range<usize>,
    signature: u64,
    sessions: Range<usize>,
}

#[derive(Debug, Default)]
pub(super) struct Vocabulary {
    texts: String,
    words: Vec<Word>,
    /// For each word one after another, the sessions it stands in.
    found_in: Vec<u32>,
    sessions: usize,
}

impl Vocabulary {
    pub(super) fn of(sessions: &[IndexedSession]) -> Self {
        let mut reading = VocabularyScan::default();
        let said: Vec<_> = sessions.iter().map(|session| reading.words_of(session)).collect();
        let VocabularyScan { mut vocabulary, read, .. } = reading;
        let words = said.iter().zip(0_u32..).flat_map(|(said, session)| {
            said.iter().flat_map(|said| &read[said.clone()]).map(move |word| (*word, session))
        });
        vocabulary.put_in_order(words);
        vocabulary.sessions = sessions.len();
        vocabulary
    }

    /// Sorts the sessions by word, by counting.
    fn put_in_order(&mut self, words: impl Iterator<Item = (WordId, u32)> + Clone) {
        for (word, _) in words.clone() {
            self.words[word.place()].sessions.end += 1;
        }
        let mut start = 0;
        for word in &mut self.words {
            let count = word.sessions.end;
            word.sessions = start..start;
            start += count;
        }
        self.found_in = vec![0; start];
        for (word, session) in words {
            let end = &mut self.words[word.place()].sessions.end;
            self.found_in[*end] = session;
            *end += 1;
        }
    }

    pub(super) fn all(&self) -> impl Iterator<Item = WordId> + use<> {
        (0_u32..).take(self.words.len()).map(WordId)
    }

    pub(super) fn compare(&self, sought: &SoughtWord, word: WordId) -> Option<Likeness> {
        let word = &self.words[word.place()];
        sought.compare(&self.texts[word.text.clone()], word.signature)
    }

    /// For every session the best likeness among these words, which come worst first: so the best is the last put there.
    pub(super) fn best_of_sessions(&self, worst_first: &[(WordId, Likeness)]) -> Vec<Option<Likeness>> {
        let mut best: Vec<Option<Likeness>> = vec![None; self.sessions];
        for (word, likeness) in worst_first {
            for &session in &self.found_in[self.words[word.place()].sessions.clone()] {
                best[session as usize] = Some(*likeness);
            }
        }
        best
    }
}

/// Places in [`VocabularyScan::read`].
type SaidRange = Range<usize>;

/// Sessions being read. Most of what they say was said before: the same bike, day, rate and customer are read once.
#[derive(Default)]
struct VocabularyScan<'s> {
    vocabulary: Vocabulary,
    words: HashMap<String, WordId>,
    /// The words of each thing said, one after another.
    read: Vec<WordId>,
    texts: HashMap<&'s str, SaidRange>,
    days: HashMap<NaiveDate, SaidRange>,
    rates: HashMap<u64, SaidRange>,
}

impl<'s> VocabularyScan<'s> {
    fn words_of(&mut self, session: &'s IndexedSession) -> [SaidRange; 4] {
        match &session.contents {
            Contents::Read(summary) => [
                self.text(summary.customer.as_typed()),
                self.text(summary.bike.as_typed()),
                summary.work.fitted.map_or(0..0, |rate| self.rate(rate)),
                self.day(summary.opened.date_naive()),
            ],
            Contents::Unreadable { .. } => [self.text(session.name.as_str()), 0..0, 0..0, 0..0],
        }
    }

    fn text(&mut self, text: &'s str) -> SaidRange {
        if let Some(said) = self.texts.get(text) {
            return said.clone();
        }
        let said = self.said(|take| words_of_text(text, take));
        self.texts.insert(text, said.clone());
        said
    }

    fn rate(&mut self, rate: SpringRate) -> SaidRange {
        let key = rate.value().to_bits();
        if let Some(said) = self.rates.get(&key) {
            return said.clone();
        }
        let said = self.said(|take| take(&figure(rate)));
        self.rates.insert(key, said.clone());
        said
    }

    fn day(&mut self, day: NaiveDate) -> SaidRange {
        if let Some(said) = self.days.get(&day) {
            return said.clone();
        }
        let said = self.said(|take| {
            words_of_text(&day.to_string(), take);
            take(&day.day().to_string());
            take(MONTHS[day.month0() as usize]);
        });
        self.days.insert(day, said.clone());
        said
    }

    /// Takes in the words handed on, each once.
    fn said(&mut self, words: impl FnOnce(&mut dyn FnMut(&str))) -> SaidRange {
        let start = self.read.len();
        words(&mut |word| {
            let word = self.word(word);
            if !self.read[start..].contains(&word) {
                self.read.push(word);
            }
        });
        start..self.read.len()
    }

    /// The word's place, a new one if it was not there yet.
    fn word(&mut self, word: &str) -> WordId {
        if let Some(&id) = self.words.get(word) {
            return id;
        }
        let vocabulary = &mut self.vocabulary;
        let id = WordId(u32::try_from(vocabulary.words.len()).unwrap_or(u32::MAX));
        let start = vocabulary.texts.len();
        vocabulary.texts.push_str(word);
        let text = start..vocabulary.texts.len();
        vocabulary.words.push(Word { text, signature: signature(word), sessions: 0..0 });
        self.words.insert(word.to_owned(), id);
        id
    }
}

/// The rate as it stands on the spring, in lb/in; the way through other units and back does not show.
fn figure(rate: SpringRate) -> String {
    tidy(rate.as_lb_per_in()).to_string()
}

/// The words of a text, whole and in pieces; some more than once.
fn words_of_text(text: &str, take: &mut dyn FnMut(&str)) {
    for word in fold(text).split_whitespace() {
        take(word);
        if !word.chars().all(char::is_alphanumeric) {
            word.split(|letter: char| !letter.is_alphanumeric())
                .filter(|piece| !piece.is_empty())
                .for_each(&mut *take);
        }
    }
}

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];
