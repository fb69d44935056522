//! The customers of a records folder, each once however their sessions spell them: built from the index, kept nowhere.
//!
//! Names are one customer's where their folded words are the same. A name with a slip in it is another customer's until
//! somebody says otherwise; it is offered, never joined. Not here: what is remembered of a session (`index`).

use super::{Rank, SoughtWord, WHOLE, fold, letters_in};
use crate::archive::SessionName;
use crate::archive::index::{Contents, Index};
use crate::session::Origin;
use crate::text::FreeText;
use std::collections::HashMap;

/// A customer.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownCustomer {
    /// As their newest session spells the name.
    pub name: FreeText,
    /// The bike of that session.
    pub bike: FreeText,
    /// How many sessions they had.
    pub visits: usize,
    /// The newest of them.
    pub newest: SessionName,
    /// The folded words of the name.
    words: Vec<String>,
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
            match customers.get_mut(place) {
                Some(known) => known.visits += 1,
                None => customers.push(KnownCustomer {
                    name: summary.customer.clone(),
                    bike: summary.bike.clone(),
                    visits: 1,
                    newest: session.name.clone(),
                    words,
                }),
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

/// How well the sought words are found among those of a name.
fn rank(sought: &[SoughtWord<'_>], name: &[String]) -> Rank {
    sought.iter().try_fold(WHOLE, |sum, word| {
        let best = name.iter().filter_map(|other| word.rank(other, letters_in(other))).min();
        best.map(|best| sum.saturating_add(best))
    })
}

fn words_of(text: &str) -> Vec<String> {
    let folded = fold(text);
    let words = folded.split(|letter: char| !letter.is_alphanumeric());
    words.filter(|word| !word.is_empty()).map(str::to_owned).collect()
}
