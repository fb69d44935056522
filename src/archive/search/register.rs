//! The customers of a records folder, each once however their sessions spell them: built from the index, kept nowhere.
//!
//! Names are one customer's where their folded words are the same. A name with a slip in it is another customer's until
//! somebody says otherwise; it is offered, never joined. Not here: what is remembered of a session (`index`).

use super::{MISSPELT, Rank, SoughtWord, WHOLE, fold, letters_in};
use crate::archive::SessionName;
use crate::archive::index::{Contents, Index};
use crate::session::Origin;
use crate::text::FreeText;
use std::collections::HashMap;

/// Letters of a word too short for a slip on its own.
const SHORT: usize = 3;

/// A customer.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownCustomer {
    /// As their newest session spells the name.
    pub name: FreeText,
    /// How many sessions they had.
    pub visits: usize,
    /// Their bikes, the one that was here last first.
    pub bikes: Vec<KnownBike>,
    /// The folded words of the name, with which letters are in each.
    words: Vec<(String, u64)>,
}

/// A bike of a customer.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownBike {
    /// As its newest session calls it.
    pub name: FreeText,
    /// Its newest session.
    pub newest: SessionName,
}

impl KnownCustomer {
    fn take(&mut self, bike: &FreeText, session: &SessionName) {
        self.visits += 1;
        let called = words_of(bike.as_typed());
        if self.bikes.iter().all(|known| words_of(known.name.as_typed()) != called) {
            self.bikes.push(KnownBike { name: bike.clone(), newest: session.clone() });
        }
    }
}

/// All customers with a name, the one who was here last first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Register(Vec<KnownCustomer>);

impl Register {
    /// The customers of the sessions that an index knows; demonstrations are nobody's.
    pub fn of(index: &Index) -> Self {
        let mut customers: Vec<KnownCustomer> = Vec::new();
        let mut places: HashMap<Vec<String>, usize> = HashMap::new();
        for session in index.sessions() {
            let Contents::Read(summary) = &session.contents else { continue };
            let words = words_of(summary.customer.as_typed());
            if words.is_empty() || summary.origin == Origin::Demonstration {
                continue;
            }
            let place = *places.entry(words.clone()).or_insert(customers.len());
            if place == customers.len() {
                let with_letters = |word: String| {
                    let letters = letters_in(&word);
                    (word, letters)
                };
                let words = words.into_iter().map(with_letters).collect();
                let name = summary.customer.clone();
                customers.push(KnownCustomer { name, visits: 0, bikes: Vec::new(), words });
            }
            if let Some(known) = customers.get_mut(place) {
                known.take(&summary.bike, &session.name);
            }
        }
        Self(customers)
    }

    /// The customers in whose name every word of the text is found, a slip or two forgiven, so many at most: the best first,
    /// among equals the one who was here last. None for a text without a word.
    pub fn like(&self, text: &str, most: usize) -> Vec<&KnownCustomer> {
        let typed = words_of(text);
        let sought: Vec<SoughtWord> = typed.iter().map(|word| SoughtWord::new(word)).collect();
        let mut ranked: Vec<(u8, &KnownCustomer)> = self
            .0
            .iter()
            .filter(|_| !sought.is_empty())
            .filter_map(|customer| Some((rank(&sought, &customer.words)?, customer)))
            .collect();
        ranked.sort_by_key(|(rank, _)| *rank);
        ranked.into_iter().take(most).map(|(_, customer)| customer).collect()
    }
}

/// How well the sought words are found among those of a name. Beside another word a short one may have a slip too: Ana is
/// Anna where the family name is right.
fn rank(sought: &[SoughtWord<'_>], name: &[(String, u64)]) -> Rank {
    let is_short_slip = |word: &SoughtWord<'_>, other: &str| {
        sought.len() > 1 && word.length == SHORT && strsim::osa_distance(word.word, other) <= 1
    };
    sought.iter().try_fold(WHOLE, |sum, word| {
        let of_word = |(other, letters): &(String, u64)| {
            word.rank(other, *letters).or_else(|| is_short_slip(word, other).then_some(MISSPELT))
        };
        let best = name.iter().filter_map(of_word).min();
        best.map(|best| sum.saturating_add(best))
    })
}

fn words_of(text: &str) -> Vec<String> {
    let folded = fold(text);
    let words = folded.split(|letter: char| !letter.is_alphanumeric());
    words.filter(|word| !word.is_empty()).map(str::to_owned).collect()
}
