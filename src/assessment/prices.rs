//! What work costs at the bench and what a bike in range is worth, in minutes: the one scale every choice is weighed on.
//!
//! The values and the reason of each stand in `assets/doubts.ron`. The worth of a bike in range is the exchange rate a shop
//! may set: more of it buys readings and swaps for a surer end, less of it spares them. Not here: the weighing (`choice`).

use crate::session::Decision;
use crate::units::{Minutes, Turns};

/// The prices.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prices {
    /// Worth of a bike that leaves with its sag in the band.
    pub in_range: Minutes,
    /// Another spring.
    pub swap: Minutes,
    /// One seated reading, with getting on and off and the indicator put back.
    pub sit: Minutes,
    /// Turning the collar.
    pub turn: Minutes,
    /// A turn of preload that stays on the bike, for the breakaway it costs.
    pub preload: Minutes,
    /// The most turns past contact that are planned.
    pub most_turns: Turns,
}

impl Prices {
    /// Minutes a decision takes at the bench, with the reading that follows it.
    pub fn of(&self, decision: Decision) -> Minutes {
        match decision {
            Decision::Keep | Decision::AnotherRound => Minutes::ZERO,
            Decision::ReadAgain => self.sit,
            Decision::SetPreload { .. } => self.turn + self.sit,
            Decision::Swap { .. } => self.swap + self.sit,
        }
    }

    /// The least and the most a bike in range may be worth.
    pub const EXCHANGE: (Minutes, Minutes) = (Minutes::of(70.0), Minutes::of(250.0));

    /// The same prices with another worth of a bike in range, held within what may be set.
    #[must_use]
    pub fn with_exchange(self, in_range: Minutes) -> Self {
        let (least, most) = Self::EXCHANGE;
        Self { in_range: Minutes::of(in_range.value().clamp(least.value(), most.value())), ..self }
    }
}
