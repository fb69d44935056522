//! The springs a shop owns: kinds of spring and how many of each, which a session takes its springs at hand from.
//!
//! Springs of one kind are told apart only within a session, by their numbers. Not here: the file (`archive::rack_file`).

use super::intake::Intake;
use super::limits::{self, MOST_SPRINGS};
use super::refusal::Refusal;
use super::{Detail, Spring, SpringNumber};
use crate::units::{Estimate, Length, SpringRate};

/// A kind of spring and how many of it there are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShopSpring {
    /// The rate printed on it.
    pub label: SpringRate,
    /// Its rate as somebody measured it, with the standard uncertainty of that.
    pub measured: Option<Estimate<SpringRate>>,
    /// The stroke printed on it.
    pub stroke: Option<Length>,
    /// Inner diameter.
    pub bore: Option<Length>,
    /// Free length.
    pub free_length: Option<Length>,
    /// How many there are now; none while the last one is on a customer's bike.
    pub count: u8,
}

impl ShopSpring {
    /// One spring of which only the printed rate is known.
    pub const fn labelled(label: SpringRate) -> Self {
        Self { label, measured: None, stroke: None, bore: None, free_length: None, count: 1 }
    }

    /// The spring as a session has it.
    fn numbered(&self, number: u16) -> Spring {
        Spring {
            number: SpringNumber(number),
            label: self.label,
            measured: self.measured,
            stroke: self.stroke,
            bore: self.bore,
            free_length: self.free_length,
        }
    }

    /// Everything about it that is impossible.
    pub fn faults(&self) -> Vec<Refusal> {
        let spring = self.numbered(1);
        let figures = limits::spring_figures(&spring).into_iter();
        let mut faults: Vec<Refusal> =
            figures.filter_map(|(field, figure)| field.check(figure).err()).collect();
        if faults.is_empty() {
            faults.extend(Intake::default().tell(Detail::Rack(vec![spring])).err());
        }
        faults
    }
}

/// Every spring that is there, with a number each, softest first; as many as a session takes.
pub fn at_hand(rack: &[ShopSpring]) -> Vec<Spring> {
    let mut kinds: Vec<&ShopSpring> = rack.iter().collect();
    kinds.sort_by(|one, other| one.label.value().total_cmp(&other.label.value()));
    let pieces = kinds.into_iter().flat_map(|kind| std::iter::repeat_n(kind, usize::from(kind.count)));
    (1..).zip(pieces.take(MOST_SPRINGS)).map(|(number, kind)| kind.numbered(number)).collect()
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
        let told: Vec<(u16, f64)> =
            springs.iter().map(|spring| (spring.number.0, spring.label.as_lb_per_in().round())).collect();
        assert_eq!(told, [(1, 450.0), (2, 450.0), (3, 500.0)]);
    }

    #[test]
    fn every_impossible_figure_is_found() {
        let odd = ShopSpring { stroke: Some(Length::mm(9_000.0)), ..kind(90_000.0, 1) };
        assert_eq!(odd.faults().len(), 2);
        assert!(kind(450.0, 1).faults().is_empty());
    }
}
