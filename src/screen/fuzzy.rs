//! Finding a name by some of its letters: those of every word typed, in their order, best where they are together.
//!
//! Letters together at the beginning come first, then at the beginning of a word, then inside one, then scattered ones that
//! begin where a word begins. Words with a figure are never scattered: 45 is not 4 and 5 of 425. Not here: sessions, which
//! have their own search (`archive::search`).

use crate::archive::search::fold;

/// How a name was found; the least is the best.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct FuzzyMatch {
    /// What the letters of all words cost.
    cost: usize,
    /// Letters of the name that were not typed: of two names the shorter is meant.
    untyped: usize,
    /// The letters hit, by their place in the name.
    pub(super) letters: Vec<usize>,
}

const AT_THE_BEGINNING: usize = 0;
const AT_A_WORD: usize = 1;
const INSIDE: usize = 2;
const SCATTERED: usize = 10;
/// Letters may be scattered over so many times their number.
const WIDEST: usize = 4;

/// How a name is found by what is typed; none where it is not. Nothing typed finds everything alike.
pub(super) fn find(query: &str, name: &str) -> Option<FuzzyMatch> {
    let folded = |(place, letter): (usize, char)| {
        fold(&letter.to_string()).chars().map(move |letter| (place, letter)).collect::<Vec<_>>()
    };
    let name: Vec<(usize, char)> = name.chars().enumerate().flat_map(folded).collect();
    let (mut cost, mut letters) = (0, Vec::new());
    for word in fold(query).split_whitespace() {
        let word: Vec<char> = word.chars().collect();
        let found = (0..name.len()).filter_map(|start| from(start, &word, &name));
        let (least, hit) = found.min_by_key(|(cost, _)| *cost)?;
        cost += least;
        letters.extend(hit.into_iter().map(|at| name[at].0));
    }
    letters.sort_unstable();
    letters.dedup();
    let untyped = if letters.is_empty() { 0 } else { name.len().saturating_sub(letters.len()) };
    Some(FuzzyMatch { cost, untyped, letters })
}

/// Whether a text holds every word typed, letters together.
pub(super) fn holds(query: &str, text: &str) -> bool {
    let text = fold(text);
    fold(query).split_whitespace().all(|word| text.contains(word))
}

/// What a word costs that begins there, and the places it hits.
fn from(start: usize, word: &[char], name: &[(usize, char)]) -> Option<(usize, Vec<usize>)> {
    let begins_a_word = start == 0 || !name[start - 1].1.is_alphanumeric();
    let together = name[start..].iter().map(|(_, letter)| letter).take(word.len()).eq(word);
    if together {
        let cost = match start {
            0 => AT_THE_BEGINNING,
            _ if begins_a_word => AT_A_WORD,
            _ => INSIDE,
        };
        return Some((cost, (start..start + word.len()).collect()));
    }
    if !begins_a_word || name[start].1 != *word.first()? || word.iter().any(|letter| letter.is_numeric()) {
        return None;
    }
    let mut rest = start..name.len();
    let hit: Option<Vec<usize>> = word.iter().map(|sought| rest.find(|at| name[*at].1 == *sought)).collect();
    let hit = hit?;
    let span = hit.last()? + 1 - start;
    (span <= WIDEST * word.len()).then(|| (SCATTERED + span - word.len(), hit))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The names found, best first.
    fn found<'a>(query: &str, names: &[&'a str]) -> Vec<&'a str> {
        let mut found: Vec<(FuzzyMatch, &str)> =
            names.iter().filter_map(|name| Some((find(query, name)?, *name))).collect();
        found.sort();
        found.into_iter().map(|(_, name)| name).collect()
    }

    #[test]
    fn a_beginning_comes_before_a_word_an_inside_and_scattered_letters() {
        let names = ["under", "go under", "thunder", "up and dear", "void"];
        assert_eq!(found("und", &names), ["under", "go under", "thunder", "up and dear"]);
        assert_eq!(found("ud", &["up down", "cloud", "udder"]), ["udder", "cloud", "up down"]);
    }

    #[test]
    fn of_two_names_that_begin_alike_the_shorter_is_meant() {
        assert_eq!(found("re", &["restart", "redo"]), ["redo", "restart"]);
    }

    #[test]
    fn every_word_typed_is_found_in_any_order_without_case_and_accents() {
        assert_eq!(
            found("trail muller", &["Müller · Trail bike", "Müller · Enduro"]),
            ["Müller · Trail bike"]
        );
    }

    #[test]
    fn a_figure_has_to_be_right() {
        assert_eq!(found("45", &["425 lb/in", "450 lb/in"]), ["450 lb/in"]);
    }

    #[test]
    fn the_letters_hit_are_named_and_nothing_typed_finds_all_alike() {
        assert_eq!(find("wc", "write the card").map(|hit| hit.letters), None, "too far apart");
        assert_eq!(find("car", "write the card").map(|hit| hit.letters), Some(vec![10, 11, 12]));
        assert_eq!(find("", "undo"), find(" ", "restart"));
        assert_eq!(find("x", ""), None);
    }
}
