//! Finding a session as one types: every word of the query in a name, a bike, a spring rate or a date, misspelt a little.
//!
//! Each different word of all sessions is kept once, and for each session which words it has. A query is compared with the
//! words, not with the sessions: letter by letter by the crate `memchr`, and for slips by `strsim` (optimal string alignment
//! distance; Boytsov, "Indexing methods for approximate dictionary searching", ACM JEA 16, 2011), against the best-fitting
//! beginning of the other word, so that a misspelt word is found before it is typed to its end. Words of fewer than four
//! characters, and those with a figure in them, have to be right: 450 is not a misspelt 425.
//!
//! Ranked are whole words before beginnings, before insides, before misspellings; among equals the newest session comes
//! first. Words are compared without case and accents ([`fold`]). A longer word forgives more slips, from its fourth and
//! from its eighth letter on; there, and only there, typing on can find more than before. Not here: what a list shows of a
//! session ([`super::index`]).

mod fold;
mod register;

pub use fold::fold;
pub use register::{KnownBike, KnownCustomer, Register};

use super::index::{Contents, Index, IndexedSession};
use super::own_file::tidy;
use chrono::Datelike;
use memchr::memmem;
use std::collections::HashMap;
use std::panic::resume_unwind;
use std::sync::Arc;
use std::thread::{self, JoinHandle};

/// How a word of a query is found in a word of a session, the best first; none where it is not.
type Rank = Option<u8>;
const WHOLE: u8 = 0;
const BEGINNING: u8 = 1;
const INSIDE: u8 = 2;
const MISSPELT: u8 = 3;

/// Finds among the sessions of one state of an index.
#[derive(Debug)]
pub struct Finder {
    words: SessionWords,
    sessions: usize,
    /// The thread that still reads the words; nobody has asked for them yet.
    being_read: Option<JoinHandle<SessionWords>>,
}

impl Finder {
    /// Reads the words of every session of the index.
    pub fn new(index: &Index) -> Self {
        Self { words: SessionWords::of(index), sessions: index.sessions().len(), being_read: None }
    }

    /// Begins to read them, and is there at once: only the first query with a word in it waits for the end. Until then the
    /// thread shares the index; [`Finder::settle`] before changing it.
    pub fn behind(index: &Arc<Index>) -> Self {
        let (sessions, index) = (index.sessions().len(), Arc::clone(index));
        Self {
            words: SessionWords::default(),
            sessions,
            being_read: Some(thread::spawn(move || SessionWords::of(&index))),
        }
    }

    /// Waits until no thread reads the index any more.
    pub fn settle(&mut self) {
        if let Some(thread) = self.being_read.take() {
            self.words = thread.join().unwrap_or_else(|panic| resume_unwind(panic));
        }
    }

    /// The places in [`Index::sessions`] of those in which every word of the query is found, the best first, among equals
    /// the newest; all of them for a query without a word.
    pub fn find(&mut self, query: &str) -> Vec<usize> {
        let query = fold(query);
        let mut ranks: Vec<Rank> = vec![Some(WHOLE); self.sessions];
        for sought in query.split_whitespace() {
            self.settle();
            self.words.rank(&SoughtWord::new(sought), &mut ranks);
        }
        let mut found: Vec<usize> = (0..ranks.len()).filter(|&place| ranks[place].is_some()).collect();
        found.sort_by_key(|&place| ranks[place]);
        found
    }
}

/// The different words of all sessions, and which each session has.
#[derive(Debug, Default)]
struct SessionWords {
    texts: Vec<String>,
    /// Which letters are in each ([`letters_in`]).
    letters: Vec<u64>,
    /// Places in `texts`: the words of all sessions, one session after another.
    said: Vec<u32>,
    /// Where each session ends in `said`.
    ends: Vec<usize>,
}

impl SessionWords {
    fn of(index: &Index) -> Self {
        let (mut words, mut places) = (Self::default(), HashMap::new());
        for session in index.sessions() {
            words_of(session, &mut |word: &str| {
                let place = places.get(word).copied().unwrap_or_else(|| {
                    let place = u32::try_from(words.texts.len()).unwrap_or(u32::MAX);
                    words.texts.push(word.to_owned());
                    words.letters.push(letters_in(word));
                    places.insert(word.to_owned(), place);
                    place
                });
                words.said.push(place);
            });
            words.ends.push(words.said.len());
        }
        words
    }

    /// Adds to the rank of each session that of its best word; none where it has no such word.
    fn rank(&self, sought: &SoughtWord, ranks: &mut [Rank]) {
        let of_words: Vec<Rank> =
            self.texts.iter().zip(&self.letters).map(|(word, letters)| sought.rank(word, *letters)).collect();
        let mut start = 0;
        for (rank, &end) in ranks.iter_mut().zip(&self.ends) {
            let best = self.said[start..end].iter().filter_map(|&word| of_words[word as usize]).min();
            *rank = rank.zip(best).map(|(rank, best)| rank.saturating_add(best));
            start = end;
        }
    }
}

/// A folded word of a query.
struct SoughtWord<'q> {
    word: &'q str,
    inside: memmem::Finder<'q>,
    /// So many letters.
    length: usize,
    slips: usize,
    letters: u64,
}

impl<'q> SoughtWord<'q> {
    fn new(word: &'q str) -> Self {
        let length = word.chars().count();
        let slips = match length {
            _ if word.contains(char::is_numeric) => 0,
            0..4 => 0,
            4..8 => 1,
            _ => 2,
        };
        Self { word, inside: memmem::Finder::new(word), length, slips, letters: letters_in(word) }
    }

    fn rank(&self, word: &str, letters: u64) -> Rank {
        // Letters that the other word lacks altogether: each would be a slip of its own.
        let lacking = (self.letters & !letters).count_ones() as usize;
        match self.inside.find(word.as_bytes()) {
            _ if lacking > self.slips => None,
            Some(0) if word.len() == self.word.len() => Some(WHOLE),
            Some(0) => Some(BEGINNING),
            Some(_) => Some(INSIDE),
            None => self.is_misspelt(word).then_some(MISSPELT),
        }
    }

    /// Whether some beginning of the word is this one with at most so many slips.
    fn is_misspelt(&self, word: &str) -> bool {
        self.slips > 0
            && (self.length - self.slips..=self.length + self.slips).any(|most| {
                let beginning = word.char_indices().nth(most).map_or(word, |(end, _)| &word[..end]);
                strsim::osa_distance(self.word, beginning) <= self.slips
            })
    }
}

/// Which letters are in a folded word: one bit for each of a to z and 0 to 9, the others share the rest.
fn letters_in(folded: &str) -> u64 {
    folded.chars().fold(0, |bits, letter| {
        let place = match letter {
            'a'..='z' => u32::from(letter) - u32::from('a'),
            '0'..='9' => 26 + u32::from(letter) - u32::from('0'),
            other => 36 + u32::from(other) % 28,
        };
        bits | 1 << place
    })
}

/// The words of a session, some more than once: those of its rider and bike, whole as typed and in pieces without
/// punctuation; the rate of the spring on the bike; the date, its day without a leading nought, and the month in words. A
/// record that cannot be read has its name's.
fn words_of(session: &IndexedSession, take: &mut dyn FnMut(&str)) {
    let Contents::Read(summary) = &session.contents else {
        return words_of_text(session.name.as_str(), take);
    };
    words_of_text(summary.customer.as_typed(), take);
    words_of_text(summary.bike.as_typed(), take);
    if let Some(rate) = summary.work.fitted {
        // The rate as it stands on the spring; the way through other units and back does not show.
        take(&tidy(rate.as_lb_per_in()).to_string());
    }
    let day = summary.opened.date_naive();
    words_of_text(&day.to_string(), take);
    take(&day.day().to_string());
    take(MONTHS[day.month0() as usize]);
}

fn words_of_text(text: &str, take: &mut dyn FnMut(&str)) {
    for word in fold(text).split_whitespace() {
        take(word);
        if !word.chars().all(char::is_alphanumeric) {
            let pieces = word.split(|letter: char| !letter.is_alphanumeric());
            pieces.filter(|piece| !piece.is_empty()).for_each(&mut *take);
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rank(sought: &str, word: &str) -> Rank {
        SoughtWord::new(sought).rank(word, letters_in(word))
    }

    /// The distance by its textbook recursion, against the best beginning; slow and plain.
    fn slips(a: &[char], b: &[char]) -> usize {
        fn exact(a: &[char], b: &[char]) -> usize {
            let (Some((x, a1)), Some((y, b1))) = (a.split_last(), b.split_last()) else {
                return a.len().max(b.len());
            };
            let mut least = (exact(a1, b1) + usize::from(x != y)).min(exact(a1, b) + 1).min(exact(a, b1) + 1);
            if let (Some((x1, a2)), Some((y1, b2))) = (a1.split_last(), b1.split_last())
                && x == y1
                && x1 == y
            {
                least = least.min(exact(a2, b2) + 1);
            }
            least
        }
        (0..=b.len()).map(|end| exact(a, &b[..end])).min().unwrap_or(a.len())
    }

    #[test]
    fn a_whole_word_comes_before_a_beginning_an_inside_and_a_slip() {
        let ranks = ["enduro", "end", "dur", "endruo", "trail"].map(|sought| rank(sought, "enduro"));
        assert_eq!(ranks, [Some(WHOLE), Some(BEGINNING), Some(INSIDE), Some(MISSPELT), None]);
    }

    #[test]
    fn short_words_and_figures_have_to_be_right() {
        assert_eq!(rank("ana", "ena"), None);
        assert_eq!(rank("2025", "2026"), None);
        assert_eq!(rank("annna", "anna"), Some(MISSPELT));
    }

    #[test]
    fn a_misspelt_word_is_found_before_its_end() {
        assert_eq!(rank("lukaz", "lukasz"), Some(MISSPELT));
        assert_eq!(rank("katr", "katarzyna"), Some(MISSPELT));
    }

    proptest! {
        #[test]
        fn slips_are_counted_as_the_textbook_counts_them(sought in "[abc]{4,9}", word in "[abcd]{0,8}") {
            let letters = |text: &str| text.chars().collect::<Vec<_>>();
            let allowed = if sought.len() < 8 { 1 } else { 2 };
            let like = slips(&letters(&sought), &letters(&word)) <= allowed || word.contains(&sought);
            prop_assert_eq!(rank(&sought, &word).is_some(), like);
        }
    }
}
