//! A person by the spellings of their name, found in a text whatever its case, accents and punctuation.
//!
//! Nothing is guessed here: a name with a slip in it is another name, because what is found is removed. Not here: which files
//! are looked through.

use std::ops::Range;

use crate::archive::search::fold;
use crate::text::FreeText;

/// The words of a name, folded.
type NameWords = Vec<String>;

/// Somebody who is to be forgotten.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    spellings: Vec<NameWords>,
}

impl Person {
    /// The person these spellings name; none where one of them holds neither letter nor figure.
    pub fn named<'a>(spellings: impl IntoIterator<Item = &'a str>) -> Option<Self> {
        let words = |spelling: &str| words_of(spelling).into_iter().map(|(_, word)| word).collect();
        let spellings: Vec<NameWords> = spellings.into_iter().map(words).collect();
        let named = !spellings.is_empty() && spellings.iter().all(|words| !words.is_empty());
        named.then_some(Self { spellings })
    }

    /// Whether the text is the name and nothing besides.
    pub fn is(&self, text: &str) -> bool {
        let words: NameWords = words_of(text).into_iter().map(|(_, word)| word).collect();
        self.spellings.contains(&words)
    }

    /// Whether the name is somewhere in the text.
    pub fn is_named_in(&self, text: &str) -> bool {
        let folded = fold(text);
        let may = |name: &NameWords| name.iter().all(|word| folded.contains(word.as_str()));
        if !self.spellings.iter().any(may) {
            return false;
        }
        let words = words_of(text);
        self.spellings.iter().any(|name| place_in(&words, name).is_some() || is_run_together(name, &folded))
    }

    /// The text with something else in the place of the name.
    pub fn taken_out_of(&self, text: &FreeText, instead: &str) -> FreeText {
        let mut left = text.as_typed().to_owned();
        for name in &self.spellings {
            // What takes its place may hold a word of it; then one pass is all there is.
            let mut from = 0;
            while let Some(place) = place_in(&words_of(&left[from..]), name) {
                left.replace_range(from + place.start..from + place.end, instead);
                from += place.start + instead.len();
            }
            if is_run_together(name, &fold(&left)) {
                instead.clone_into(&mut left);
            }
        }
        FreeText::new(&left)
    }
}

/// The words of a text, folded, with where each is. A sign on a letter belongs to its word.
fn words_of(text: &str) -> Vec<(Range<usize>, String)> {
    let mut words: Vec<(Range<usize>, String)> = Vec::new();
    let mut is_in_word = false;
    for (at, letter) in text.char_indices() {
        let end = at + letter.len_utf8();
        // A sign on a letter, or one that cannot be seen.
        let goes_on = || fold(letter.encode_utf8(&mut [0; 4])).is_empty();
        match words.last_mut().filter(|_| is_in_word) {
            Some((range, _)) if letter.is_alphanumeric() || goes_on() => range.end = end,
            _ if letter.is_alphanumeric() => {
                words.push((at..end, String::new()));
                is_in_word = true;
            }
            _ => is_in_word = false,
        }
    }
    for (range, word) in &mut words {
        *word = fold(&text[range.clone()]);
    }
    words
}

/// Where the name is among the words.
fn place_in(words: &[(Range<usize>, String)], name: &[String]) -> Option<Range<usize>> {
    let at = words.windows(name.len()).find(|window| window.iter().map(|(_, word)| word).eq(name))?;
    Some(at.first()?.0.start..at.last()?.0.end)
}

/// Whether a name of a script that puts no blanks between words is in a folded text.
fn is_run_together(name: &NameWords, folded: &str) -> bool {
    let unspaced = |letter: char| letter >= '\u{0e00}';
    name.iter().any(|word| word.contains(unspaced)) && folded.contains(name.join(" ").as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn person(name: &str) -> Person {
        Person::named([name]).expect("a name")
    }

    #[test]
    fn a_name_is_found_whatever_its_case_accents_and_punctuation() {
        let anna = person("Anna Kovačić");
        for text in ["anna kovacic", "Anna  Kovacic", "ANNA KOVAČIĆ", "Anna-Kovac\u{30c}ic\u{301}"] {
            assert!(anna.is(text), "{text}");
        }
        for text in ["for Anna Kovacic's bike", "(anna kovačić), twice"] {
            assert!(anna.is_named_in(text) && !anna.is(text), "{text}");
        }
        for text in ["Anna Kovac", "Joanna Kovacic", "Hanna Kovacici", "anna"] {
            assert!(!anna.is_named_in(text), "{text}");
        }
    }

    #[test]
    fn the_name_is_taken_out_of_a_sentence_and_the_rest_stays() {
        let text = FreeText::new("Brother of ANNA  example; tell Anna Example's shop");
        let left = person("Anna Example").taken_out_of(&text, "somebody");
        assert_eq!(left.as_typed(), "Brother of somebody; tell somebody's shop");
        // What takes the place of the name may hold it.
        let own = person("customer").taken_out_of(&FreeText::new("a customer"), "forgotten customer");
        assert_eq!(own.as_typed(), "a forgotten customer");
    }

    #[test]
    fn a_name_without_blanks_around_it_is_found_too() {
        let taro = person("山田太郎");
        let note = FreeText::new("山田太郎さんの自転車");
        assert!(taro.is_named_in(note.as_typed()));
        assert_eq!(taro.taken_out_of(&note, "somebody").as_typed(), "somebody");
    }

    #[test]
    fn nobody_is_called_by_signs_alone() {
        assert_eq!(Person::named(["--"]), None);
        assert_eq!(Person::named(["Anna", " "]), None);
    }
}
