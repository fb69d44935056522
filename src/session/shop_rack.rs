//! The springs a shop owns: kinds of spring and how many of each, which a session takes its springs at hand from.
//!
//! Springs of one kind are told apart only within a session, by their numbers. Not here: the file (`archive::rack_file`).

use std::cmp::Ordering;

use super::intake::Intake;
use super::limits::{self, MOST_SPRINGS};
use super::refusal::Refusal;
use super::{Detail, Spring, SpringNumber};
use crate::mechanics::spring::Marked;
use crate::text::mark::Mark;
use crate::units::{Estimate, Length, SpringRate};

/// A kind of spring and how many of it there are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShopSpring {
    /// The rate printed on it.
    pub label: SpringRate,
    /// Its rate as somebody measured it, with the standard uncertainty of that.
    pub measured: Option<Estimate<SpringRate>>,
    /// The rate a progressive one ends with.
    pub end_rate: Option<SpringRate>,
    /// The stroke printed on it.
    pub stroke: Option<Length>,
    /// Inner diameter.
    pub bore: Option<Length>,
    /// Free length.
    pub free_length: Option<Length>,
    /// What is written on the coil, for a single spring that is known from its fellows. What past sessions taught of it stands
    /// in no file: it is worked out from them.
    pub marked: Option<Marked>,
    /// How many there are now; none while the last one is on a customer's bike.
    pub count: u8,
}

impl ShopSpring {
    /// One spring of which only the printed rate is known.
    pub const fn labelled(label: SpringRate) -> Self {
        Self {
            label,
            measured: None,
            end_rate: None,
            stroke: None,
            bore: None,
            free_length: None,
            marked: None,
            count: 1,
        }
    }

    /// The word on its coil.
    pub fn mark(&self) -> Option<Mark> {
        self.marked.map(|marked| marked.mark)
    }

    /// The spring as a session has it.
    pub const fn numbered(&self, number: SpringNumber) -> Spring {
        Spring {
            number,
            label: self.label,
            measured: self.measured,
            stroke: self.stroke,
            bore: self.bore,
            free_length: self.free_length,
            end_rate: self.end_rate,
            marked: self.marked,
        }
    }

    /// Whether the spring of a session is of this kind, as far as it was told: no figure and no mark tells them apart.
    pub fn is_kind_of(&self, spring: &Spring) -> bool {
        let alike = |one: Option<Length>, other: Option<Length>| match (one, other) {
            (Some(one), Some(other)) => same_length(one, other),
            (one, other) => one.is_none() && other.is_none(),
        };
        let marks = self.mark().zip(spring.mark());
        marks.is_none_or(|(one, other)| one == other)
            && bears(spring.label, self.label)
            && self.end_rate.is_some() == spring.end_rate.is_some()
            && alike(self.stroke, spring.stroke)
            && alike(self.bore, spring.bore)
    }

    /// Everything about it that is impossible.
    pub fn faults(&self) -> Vec<Refusal> {
        let spring = self.numbered(SpringNumber(1));
        let figures = limits::spring_figures(&spring).into_iter();
        let mut faults: Vec<Refusal> =
            figures.filter_map(|(field, figure)| field.check(figure).err()).collect();
        if faults.is_empty() {
            faults.extend(Intake::default().enter(Detail::Springs(vec![spring])).err());
        }
        faults.extend(self.mark().filter(|_| self.count > 1).map(Refusal::MarkOfSeveral));
        faults
    }
}

/// The first mark that two springs bear.
pub fn mark_twice(marks: impl IntoIterator<Item = Mark>) -> Option<Mark> {
    let mut marks: Vec<Mark> = marks.into_iter().collect();
    marks.sort_unstable();
    marks.windows(2).find(|pair| pair[0] == pair[1]).map(|pair| pair[0])
}

/// Every spring that is there, with a number each, softest first; as many as a session takes.
pub fn at_hand(rack: &[ShopSpring]) -> Vec<Spring> {
    let mut kinds: Vec<&ShopSpring> = rack.iter().collect();
    kinds.sort_by(|one, other| one.label.value().total_cmp(&other.label.value()));
    let pieces = kinds.into_iter().flat_map(|kind| std::iter::repeat_n(kind, usize::from(kind.count)));
    let numbers = (1..).map(SpringNumber);
    numbers.zip(pieces.take(MOST_SPRINGS)).map(|(number, kind)| kind.numbered(number)).collect()
}

/// Whether a label is this rate, to what any unit shows of it.
pub fn bears(label: SpringRate, rate: SpringRate) -> bool {
    (label - rate).abs() < SpringRate::n_per_mm(0.1)
}

/// Whether two lengths of a spring are one figure, to what any unit shows of them.
pub fn same_length(one: Length, other: Length) -> bool {
    (one - other).abs() < Length::mm(0.06)
}

/// The numbers for springs that join a list, the smallest first: those that no spring on it bears. So a number stays with
/// its spring, and is small enough to be called across a workshop.
pub fn free_numbers(list: &[Spring]) -> impl Iterator<Item = SpringNumber> {
    (1..=u16::MAX).map(SpringNumber).filter(|number| list.iter().all(|spring| spring.number != *number))
}

/// The spring as it would join a list.
pub fn joining(kind: &ShopSpring, list: &[Spring]) -> Spring {
    kind.numbered(free_numbers(list).next().unwrap_or(SpringNumber(u16::MAX)))
}

/// The order springs are told in and chosen by where nothing else decides: softest first, and of two with one rate the one
/// with the lower number.
pub fn softest_first(one: &Spring, other: &Spring) -> Ordering {
    one.rate().value().total_cmp(&other.rate().value()).then(one.number.cmp(&other.number))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(rate: f64, count: u8) -> ShopSpring {
        ShopSpring { count, ..ShopSpring::labelled(SpringRate::lb_per_in(rate)) }
    }

    #[test]
    fn two_springs_of_one_kind_are_two_springs_and_none_is_none() {
        let springs = at_hand(&[kind(500.0, 1), kind(450.0, 2), kind(400.0, 0)]);
        let entered: Vec<(u16, f64)> =
            springs.iter().map(|spring| (spring.number.0, spring.label.as_lb_per_in().round())).collect();
        assert_eq!(entered, [(1, 450.0), (2, 450.0), (3, 500.0)]);
    }

    #[test]
    fn every_impossible_figure_is_found() {
        let odd = ShopSpring { stroke: Some(Length::mm(9_000.0)), ..kind(90_000.0, 1) };
        assert_eq!(odd.faults().len(), 2);
        assert!(kind(450.0, 1).faults().is_empty());
    }
}
