//! The deepest stroke of a ride carried over to another spring: the same hit has the same energy.
//!
//! `x'max = √(x'sag² + (xmax² - xsag²) k/k')`: what the first spring took up from sag to its deepest place, the second takes
//! up from its own sag on. Preload adds `p` to every x. Conservation of energy on a linear spring (any textbook of
//! mechanics); damping and the bumper take their share alike on both, which is left out. Not here: sag, which the balance
//! tells (`balance`), and words (`phrase::ride`).

use crate::units::{Length, SpringRate};

/// A spring under one rider, as a hit finds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtSag {
    /// Spring rate.
    pub rate: SpringRate,
    /// Compression of the spring at full extension.
    pub preload: Length,
    /// Stroke used at rest.
    pub used: Length,
}

/// How deep another spring goes on the hit that took the first this deep; none where the first was not deeper than its
/// sag, so that there is no hit to speak of. It may come out beyond the stroke: then the other spring bottoms out.
pub fn deepest_on(first: AtSag, deepest: Length, other: AtSag) -> Option<Length> {
    if deepest <= first.used {
        return None;
    }
    let squared = |length: Length| length.as_mm().powi(2);
    let taken_up = squared(deepest + first.preload) - squared(first.used + first.preload);
    let all = squared(other.used + other.preload) + taken_up * (first.rate / other.rate);
    Some(Length::mm(all.sqrt()) - other.preload)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at_sag(rate: f64, used: f64) -> AtSag {
        AtSag { rate: SpringRate::lb_per_in(rate), preload: Length::ZERO, used: Length::mm(used) }
    }

    #[test]
    fn the_same_spring_goes_as_deep_again() {
        let same = deepest_on(at_sag(450.0, 20.0), Length::mm(60.0), at_sag(450.0, 20.0));
        assert!((same.expect("a hit").as_mm() - 60.0).abs() < 1e-9);
    }

    #[test]
    fn a_stiffer_spring_keeps_a_reserve() {
        // By hand: 18² + (60² - 20²) · 450/500 = 324 + 2880 = 3204, whose root is 56.604.
        let stiffer = deepest_on(at_sag(450.0, 20.0), Length::mm(60.0), at_sag(500.0, 18.0));
        assert!((stiffer.expect("a hit").as_mm() - 56.604).abs() < 1e-3);
    }

    #[test]
    fn both_take_up_the_same_energy() {
        let preloaded = |rate, used| AtSag { preload: Length::mm(2.0), ..at_sag(rate, used) };
        let (soft, stiff) = (preloaded(400.0, 21.0), preloaded(475.0, 18.5));
        let deep = deepest_on(soft, Length::mm(55.0), stiff).expect("a hit");
        let energy = |spring: AtSag, deep: Length| {
            let reach = |length: Length| (length + spring.preload).as_mm().powi(2);
            0.5 * spring.rate.as_n_per_mm() * (reach(deep) - reach(spring.used))
        };
        assert!((energy(soft, Length::mm(55.0)) - energy(stiff, deep)).abs() < 1e-6);
    }

    #[test]
    fn a_ride_no_deeper_than_sag_says_nothing() {
        assert_eq!(deepest_on(at_sag(450.0, 20.0), Length::mm(20.0), at_sag(500.0, 18.0)), None);
    }
}
