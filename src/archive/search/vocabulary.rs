//! The different words of all sessions, and in which sessions each stands.
//!
//! A hundred thousand sessions have a million words and some ten thousand different ones. Which words a session has is
//! decided here: those of its rider and bike, whole as typed and in pieces without punctuation; the rate of the spring on
//! the bike; the date, its day without a leading nought, and the month in words. A record that cannot be read has its name's.

use super::fold::fold;
use super::likeness::{Likeness, Sought, signature};
use crate::archive::index::{Contents, IndexedSession, Summary};
use crate::units::SpringRate;
use chrono::Datelike;
use std::collections::HashMap;
use std::ops::Range;

/// A word's place in the vocabulary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct WordId(usize);

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
        let mut vocabulary = Self { sessions: sessions.len(), ..Self::default() };
        let mut places = HashMap::new();
        let mut pairs = Vec::with_capacity(sessions.len() * 12);
        for (session, number) in sessions.iter().zip(0_u32..) {
            each_word(session, &mut |word| pairs.push((vocabulary.place(&mut places, word), number)));
        }
        vocabulary.put_in_order(&pairs);
        vocabulary
    }

    /// The place of a word, a new one if it was not there yet.
    fn place(&mut self, places: &mut HashMap<String, usize>, word: &str) -> usize {
        if let Some(&place) = places.get(word) {
            return place;
        }
        let start = self.texts.len();
        self.texts.push_str(word);
        self.words.push(Word { text: start..self.texts.len(), signature: signature(word), sessions: 0..0 });
        places.insert(word.to_owned(), self.words.len() - 1);
        self.words.len() - 1
    }

    /// Sorts the sessions by word, by counting.
    fn put_in_order(&mut self, pairs: &[(usize, u32)]) {
        for &(word, _) in pairs {
            self.words[word].sessions.end += 1;
        }
        let mut start = 0;
        for word in &mut self.words {
            let count = word.sessions.end;
            word.sessions = start..start;
            start += count;
        }
        self.found_in = vec![0; pairs.len()];
        for &(word, session) in pairs {
            let end = &mut self.words[word].sessions.end;
            self.found_in[*end] = session;
            *end += 1;
        }
    }

    pub(super) fn sessions(&self) -> usize {
        self.sessions
    }

    pub(super) fn all(&self) -> impl Iterator<Item = WordId> + use<> {
        (0..self.words.len()).map(WordId)
    }

    pub(super) fn compare(&self, sought: &Sought, word: WordId) -> Option<Likeness> {
        let word = &self.words[word.0];
        sought.compare(&self.texts[word.text.clone()], word.signature)
    }

    /// For every session the best likeness among these words.
    pub(super) fn best_of_sessions(&self, matched: &[(WordId, Likeness)]) -> Vec<Option<Likeness>> {
        let mut best: Vec<Option<Likeness>> = vec![None; self.sessions];
        for (word, likeness) in matched {
            for &session in &self.found_in[self.words[word.0].sessions.clone()] {
                let place = &mut best[session as usize];
                *place = Some(place.map_or(*likeness, |there| there.min(*likeness)));
            }
        }
        best
    }
}

/// Hands every word of a session on, folded; some more than once.
fn each_word(session: &IndexedSession, take: &mut impl FnMut(&str)) {
    match &session.contents {
        Contents::Read(summary) => words_of_summary(summary, take),
        Contents::Unreadable { .. } => words_of_text(session.name.as_str(), take),
    }
}

fn words_of_summary(summary: &Summary, take: &mut impl FnMut(&str)) {
    words_of_text(summary.who.as_typed(), take);
    words_of_text(summary.bike.as_typed(), take);
    if let Some(rate) = summary.work.fitted {
        take(&figure(rate));
    }
    let day = summary.opened.date_naive();
    words_of_text(&day.to_string(), take);
    take(&day.day().to_string());
    take(MONTHS[day.month0() as usize]);
}

/// The rate as it stands on the spring, in lb/in; the way through other units and back does not show.
fn figure(rate: SpringRate) -> String {
    ((rate.as_lb_per_in() * 1e6).round() / 1e6).to_string()
}

fn words_of_text(text: &str, take: &mut impl FnMut(&str)) {
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
