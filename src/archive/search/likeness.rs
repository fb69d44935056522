//! How like two words are: the same, one the beginning of the other, inside it, or misspelt.
//!
//! A slip is a letter left out, put in, exchanged, or swapped with its neighbour (optimal string alignment distance; Boytsov,
//! "Indexing methods for approximate dictionary searching", ACM JEA 16, 2011). It is counted against the best-fitting
//! beginning of the other word, so that a misspelt word is found before it is typed to its end. Words of fewer than four
//! characters, and those with a figure in them, have to be right: 450 is not a misspelt 425.

/// How a word of a query is found in a word of a session, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Likeness {
    Exact,
    Beginning,
    Inside,
    Misspelt,
}

impl Likeness {
    pub(super) const WORST: u32 = 3;

    /// 0 for the best.
    pub(super) fn rank(self) -> u32 {
        match self {
            Self::Exact => 0,
            Self::Beginning => 1,
            Self::Inside => 2,
            Self::Misspelt => Self::WORST,
        }
    }
}

/// A folded word of a query.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct SoughtWord {
    text: String,
    letters: Vec<char>,
    slips: usize,
    signature: u64,
}

impl SoughtWord {
    pub(super) fn new(folded: &str) -> Self {
        let letters: Vec<char> = folded.chars().collect();
        let slips = match letters.len() {
            _ if letters.iter().any(|letter| letter.is_numeric()) => 0,
            0..4 => 0,
            4..8 => 1,
            _ => 2,
        };
        Self { text: folded.to_owned(), slips, signature: signature(folded), letters }
    }

    /// Whether every word like this one is like `earlier` as well.
    pub(super) fn narrows(&self, earlier: &Self) -> bool {
        self.text.starts_with(&earlier.text) && self.slips <= earlier.slips
    }

    /// How this is found in a folded word with that [`signature`].
    pub(super) fn compare(&self, word: &str, signature: u64) -> Option<Likeness> {
        // Letters that the other word lacks altogether: each would be a slip of its own.
        let lacking = (self.signature & !signature).count_ones() as usize;
        if lacking > self.slips {
            return None;
        }
        if lacking == 0 && word.starts_with(&self.text) {
            let whole = word.len() == self.text.len();
            return Some(if whole { Likeness::Exact } else { Likeness::Beginning });
        }
        if lacking == 0 && word.contains(&self.text) {
            return Some(Likeness::Inside);
        }
        (self.slips > 0 && self.is_misspelt(word)).then_some(Likeness::Misspelt)
    }

    /// Whether some beginning of the word is this one with at most so many slips.
    fn is_misspelt(&self, word: &str) -> bool {
        // A beginning longer than this by more than the slips cannot be like it.
        let word: Vec<char> = word.chars().take(self.letters.len() + self.slips).collect();
        let width = word.len() + 1;
        // Row i holds the slips between the first i letters sought and each beginning of the word.
        let mut rows = [(0..width).collect::<Vec<usize>>(), vec![0; width], vec![0; width]];
        for (i, &letter) in self.letters.iter().enumerate() {
            let [last, _, next] = &mut rows;
            next[0] = i + 1;
            for (j, &other) in word.iter().enumerate() {
                next[j + 1] = (last[j] + usize::from(letter != other)).min(last[j + 1] + 1).min(next[j] + 1);
            }
            self.swap_neighbours(i, &word, &mut rows);
            if rows[2].iter().all(|&slips| slips > self.slips) {
                return false;
            }
            rows.rotate_right(1);
        }
        rows[0].iter().any(|&slips| slips <= self.slips)
    }

    /// Lets two letters typed in the wrong order count as one slip. The rows are the last, the one before it and the next.
    fn swap_neighbours(&self, i: usize, word: &[char], rows: &mut [Vec<usize>; 3]) {
        let [_, before, next] = rows;
        for j in 1..word.len() {
            if i > 0 && self.letters[i] == word[j - 1] && self.letters[i - 1] == word[j] {
                next[j + 1] = next[j + 1].min(before[j - 1] + 1);
            }
        }
    }
}

/// Which letters are in a folded word: one bit for each of a to z and 0 to 9, the others share the rest.
pub(super) fn signature(folded: &str) -> u64 {
    folded.chars().fold(0, |bits, letter| {
        let place = match letter {
            'a'..='z' => u32::from(letter) - u32::from('a'),
            '0'..='9' => 26 + u32::from(letter) - u32::from('0'),
            other => 36 + u32::from(other) % 28,
        };
        bits | 1 << place
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn likeness(sought: &str, word: &str) -> Option<Likeness> {
        SoughtWord::new(sought).compare(word, signature(word))
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
        assert_eq!(likeness("enduro", "enduro"), Some(Likeness::Exact));
        assert_eq!(likeness("end", "enduro"), Some(Likeness::Beginning));
        assert_eq!(likeness("dur", "enduro"), Some(Likeness::Inside));
        assert_eq!(likeness("endruo", "enduro"), Some(Likeness::Misspelt));
        assert_eq!(likeness("trail", "enduro"), None);
    }

    #[test]
    fn short_words_and_figures_have_to_be_right() {
        assert_eq!(likeness("ana", "ena"), None);
        assert_eq!(likeness("2025", "2026"), None);
        assert_eq!(likeness("annna", "anna"), Some(Likeness::Misspelt));
    }

    #[test]
    fn a_misspelt_word_is_found_before_its_end() {
        assert_eq!(likeness("lukaz", "lukasz"), Some(Likeness::Misspelt));
        assert_eq!(likeness("katr", "katarzyna"), Some(Likeness::Misspelt));
    }

    proptest! {
        #[test]
        fn slips_are_counted_as_the_textbook_counts_them(sought in "[abc]{4,9}", word in "[abcd]{0,8}") {
            let letters = |text: &str| text.chars().collect::<Vec<_>>();
            let allowed = if sought.len() < 8 { 1 } else { 2 };
            let like = slips(&letters(&sought), &letters(&word)) <= allowed || word.contains(&sought);
            prop_assert_eq!(likeness(&sought, &word).is_some(), like);
        }
    }
}
