//! The springs a new session is offered before anything is typed.
//!
//! Not here: the springs a shop owns (`session::shop_rack`), which are one of the choices.

use crate::session::limits::{Figure, MOST_SPRINGS};
use crate::session::{Refusal, Spring, SpringNumber};
use crate::units::{Quantity, SpringRate};

/// What a new session is offered for its springs.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum StartingSprings {
    /// What stands on the shop's own rack.
    #[default]
    ShopRack,
    /// A row of rates.
    Row(RateRow),
    /// Nothing: they are typed each time.
    Nothing,
}

/// Springs in even steps of rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateRow {
    from: SpringRate,
    to: SpringRate,
    step: RateStep,
}

/// The steps springs are sold in (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RateStep {
    /// 25 lb/in.
    Fine,
    /// 50 lb/in.
    Usual,
}

impl RateStep {
    /// Every one.
    pub const ALL: [Self; 2] = [Self::Fine, Self::Usual];

    /// The difference from one spring to the next.
    pub const fn rate(self) -> SpringRate {
        match self {
            Self::Fine => SpringRate::lb_per_in(25.0),
            Self::Usual => SpringRate::lb_per_in(50.0),
        }
    }

    /// The step of that rate, to what any unit shows of it; none where springs are not sold so.
    pub fn of(rate: SpringRate) -> Option<Self> {
        Self::ALL.into_iter().find(|step| (step.rate() - rate).abs() < SpringRate::lb_per_in(0.6))
    }
}

/// Why there can be no such row.
#[derive(Debug, Clone, PartialEq)]
pub enum RowFault {
    /// It ends below its beginning.
    EndsBelow,
    /// Its step is none of [`RateStep`].
    OddStep,
    /// There is no such spring.
    Impossible(Refusal),
}

impl RateRow {
    /// From 350 to 600 lb/in by 50: what a rack holds for most riders (common practice, no source).
    pub const USUAL: Self =
        Self { from: SpringRate::lb_per_in(350.0), to: SpringRate::lb_per_in(600.0), step: RateStep::Usual };

    /// A row from the softest spring to the stiffest.
    ///
    /// # Errors
    /// When there is no such spring, or the row ends below its beginning.
    pub fn new(from: SpringRate, to: SpringRate, step: RateStep) -> Result<Self, RowFault> {
        for rate in [from, to] {
            Figure::Rate.check(Quantity::Rate(rate)).map_err(RowFault::Impossible)?;
        }
        if to < from { Err(RowFault::EndsBelow) } else { Ok(Self { from, to, step }) }
    }

    /// The softest spring.
    pub const fn from(self) -> SpringRate {
        self.from
    }

    /// No spring is stiffer.
    pub const fn to(self) -> SpringRate {
        self.to
    }

    /// From one spring to the next.
    pub const fn step(self) -> RateStep {
        self.step
    }

    /// The springs, softest first, with a number each.
    pub fn springs(self) -> Vec<Spring> {
        // A thousandth forgives what the conversion of units adds.
        let last = self.to + SpringRate::lb_per_in(1e-3);
        let numbers = (1..=u16::MAX).take(MOST_SPRINGS);
        let rates = numbers.map(|number| (number, self.from + self.step.rate() * f64::from(number - 1)));
        rates
            .take_while(|(_, rate)| *rate <= last)
            .map(|(number, rate)| Spring::labelled(SpringNumber(number), rate))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_of_fifties_has_both_its_ends() {
        let rates: Vec<f64> =
            RateRow::USUAL.springs().iter().map(|spring| spring.label.as_lb_per_in().round()).collect();
        assert_eq!(rates, [350.0, 400.0, 450.0, 500.0, 550.0, 600.0]);
    }

    #[test]
    fn the_longest_row_fits_a_session() {
        let row = RateRow::new(SpringRate::lb_per_in(50.0), SpringRate::lb_per_in(2_000.0), RateStep::Fine);
        let springs = row.expect("possible").springs();
        assert!(springs.last().is_some_and(|spring| spring.label > SpringRate::lb_per_in(1_999.0)));
    }

    #[test]
    fn a_row_going_down_is_none() {
        let (soft, stiff) = (SpringRate::lb_per_in(400.0), SpringRate::lb_per_in(500.0));
        assert_eq!(RateRow::new(stiff, soft, RateStep::Usual), Err(RowFault::EndsBelow));
    }
}
