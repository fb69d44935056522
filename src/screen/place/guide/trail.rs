//! The answers of the trail check: three small choices, none made beforehand, and a remark.

use crate::phrase;
use crate::session::{Bottoming, Feel, RideHeight, TrailReport};
use crate::text::FreeText;

/// The row of the remark, after the three choices.
pub(super) const NOTE_ROW: usize = 3;

const BOTTOMING: [Bottoming; 3] = [Bottoming::Never, Bottoming::NowAndThen, Bottoming::Often];
const RIDE_HEIGHT: [RideHeight; 3] = [RideHeight::High, RideHeight::Right, RideHeight::Deep];
const FEEL: [Feel; 3] = [Feel::Dull, Feel::Right, Feel::Nervous];

/// Which neighbour to go to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Direction {
    Left,
    Right,
}

/// The answers so far; a row without one is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Answers([Option<usize>; NOTE_ROW]);

impl Answers {
    /// The answer of a row.
    pub(super) fn of(self, row: usize) -> Option<usize> {
        self.0.get(row).copied().flatten()
    }

    /// The first row without an answer.
    pub(super) fn first_open(self) -> Option<usize> {
        self.0.iter().position(Option::is_none)
    }

    /// Goes to the neighbouring answer; the first and the last are the ends.
    pub(super) fn turn(&mut self, row: usize, turn: Direction) {
        let Some(answer) = self.0.get_mut(row) else { return };
        *answer = Some(match (turn, *answer) {
            (Direction::Right, None) => 0,
            (Direction::Right, Some(index)) => (index + 1).min(2),
            (Direction::Left, None) => 2,
            (Direction::Left, Some(index)) => index.saturating_sub(1),
        });
    }

    /// The report, once no row is open.
    pub(super) fn report(self, note: FreeText) -> Option<TrailReport> {
        let [bottoming, ride_height, feel] = self.0;
        Some(TrailReport {
            bottoming: BOTTOMING[bottoming?],
            ride_height: RIDE_HEIGHT[ride_height?],
            feel: FEEL[feel?],
            note,
        })
    }
}

/// The answers a row offers, in words.
pub(super) fn offered(row: usize) -> [&'static str; 3] {
    match row {
        0 => BOTTOMING.map(phrase::bottoming),
        1 => RIDE_HEIGHT.map(phrase::ride_height),
        _ => FEEL.map(phrase::feel),
    }
}
