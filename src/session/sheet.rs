//! The sheet a mechanic keeps beside the work: how the bike was found and how it was left, with the same rows.
//!
//! Every row may stay empty. Clicks are counted from fully closed; what has no unit everybody shares (tyres, fork, bolts)
//! is kept as it was typed. Not here: what follows from it (`assessment`), names of the rows (`phrase::sheet`).

use serde::{Deserialize, Serialize};

use super::limits::Figure;
use super::refusal::Refusal;
use crate::mechanics::damper::Knob;
use crate::text::FreeText;
use crate::units::{Angle, Length, Quantity, Turns};

/// What is written in a row.
#[derive(Debug, Clone, PartialEq)]
#[expect(missing_docs, reason = "each is what its type says")]
pub enum Written {
    Turns(Turns),
    Clicks(Knob),
    Length(Length),
    Angle(Angle),
    Text(FreeText),
}

/// What kind of thing a row takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is a variant of `Written`")]
pub enum Takes {
    Turns,
    Clicks,
    Length,
    Angle,
    Text,
}

macro_rules! rows {
    ($($(#[$doc:meta])* $Item:ident: $takes:ident $type:ty, $field:ident;)*) => {
        /// A row of the sheet.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Item { $($(#[$doc])* $Item),* }

        /// A sheet, as it was found or as it was left.
        #[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct Sheet {
            $($(#[$doc])* #[serde(default, skip_serializing_if = "Option::is_none")] pub $field: Option<$type>),*
        }

        impl Item {
            /// Every row: what a rider reads first, then what only fits a spring or a fork.
            pub const ALL: &[Self] = &[$(Self::$Item),*];

            /// What it takes.
            pub const fn takes(self) -> Takes {
                match self { $(Self::$Item => Takes::$takes),* }
            }
        }

        impl Sheet {
            /// What is written in a row.
            pub fn of(&self, item: Item) -> Option<Written> {
                match item { $(Item::$Item => self.$field.clone().map(Written::$takes)),* }
            }

            /// The sheet with this written in a row, or nothing; what is not of its kind changes nothing.
            #[must_use]
            pub fn with(mut self, item: Item, written: Option<Written>) -> Self {
                match (item, written) {
                    $((Item::$Item, Some(Written::$takes(value))) => self.$field = Some(value),
                    (Item::$Item, None) => self.$field = None,)*
                    _ => {}
                }
                self
            }
        }
    };
}

rows! {
    /// Collar turns past contact, counted while backing off.
    Preload: Turns Turns, preload_turns;
    /// Rebound.
    Rebound: Clicks Knob, rebound;
    /// Low-speed compression.
    LowSpeed: Clicks Knob, low_speed_compression;
    /// High-speed compression.
    HighSpeed: Clicks Knob, high_speed_compression;
    /// The damper's end stop.
    EndStop: Clicks Knob, end_stop;
    /// Tyre pressures.
    Tyres: Text FreeText, tyres;
    /// The fork's pressure, or its spring.
    Fork: Text FreeText, fork;
    /// When the shock was serviced last.
    Service: Text FreeText, service;
    /// The maker's torque figure used, bolt by bolt.
    Torque: Text FreeText, torque;
    /// The number of the work order.
    WorkOrder: Text FreeText, work_order;
    /// What the frame can be set to: flip chip, travel.
    Frame: Text FreeText, frame;
    /// Fork sag along the legs.
    ForkSag: Length Length, fork_sag_mm;
    /// Fork travel along the legs.
    ForkTravel: Length Length, fork_travel_mm;
    /// Head angle, bike unladen.
    HeadAngle: Angle Angle, head_angle_degrees;
    /// The springs the fork's maker lists.
    ForkSprings: Text FreeText, fork_springs;
    /// How far before the end of the stroke the bumper begins.
    Bumper: Length Length, bumper_mm;
    /// Diameter of what the spring sits on: body or seat.
    Seat: Length Length, seat_mm;
    /// From retainer to collar, with the collar as far in as its thread goes.
    CollarLeast: Length Length, collar_least_mm;
    /// The same, as far back as it goes.
    CollarMost: Length Length, collar_most_mm;
}

impl Item {
    /// Whether a rider reads it on the card: what can be set, and what is due. The rest is for whoever fits a spring.
    pub const fn concerns_the_rider(self) -> bool {
        !matches!(
            self,
            Self::Bumper
                | Self::Seat
                | Self::CollarLeast
                | Self::CollarMost
                | Self::ForkTravel
                | Self::HeadAngle
                | Self::ForkSprings
                | Self::WorkOrder
        )
    }
}

impl Sheet {
    /// Whether nothing is written on it.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Whether every figure on it is possible.
    ///
    /// # Errors
    /// With the first that is not.
    pub fn check(&self) -> Result<(), Refusal> {
        let length = |field: Figure, length: Option<Length>| {
            length.map_or(Ok(()), |length| field.check(Quantity::Length(length)))
        };
        self.preload_turns.map_or(Ok(()), |turns| Figure::PreloadTurns.check(Quantity::Turns(turns)))?;
        length(Figure::Bumper, self.bumper_mm)?;
        length(Figure::BodyDiameter, self.seat_mm)?;
        length(Figure::SpringLength, self.collar_least_mm)?;
        length(Figure::SpringLength, self.collar_most_mm)?;
        length(Figure::ForkSag, self.fork_sag_mm)?;
        length(Figure::Travel, self.fork_travel_mm)?;
        let beyond = |knob: &Knob| knob.of.is_some_and(|of| knob.from_closed > of);
        let knobs = [self.rebound, self.low_speed_compression, self.high_speed_compression, self.end_stop];
        if let Some(knob) = knobs.into_iter().flatten().find(beyond) {
            return Err(Refusal::ClicksBeyondAll(knob));
        }
        match self.head_angle_degrees {
            Some(angle) if !(LEAST_ANGLE..=MOST_ANGLE).contains(&angle) => Err(Refusal::NoHeadAngle(angle)),
            _ => Ok(()),
        }
    }
}

/// The slackest and the steepest head angle there is (common practice, no source).
const LEAST_ANGLE: Angle = Angle::degrees(50.0);
const MOST_ANGLE: Angle = Angle::degrees(80.0);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_takes_its_own_kind_only() {
        let knob = Knob { from_closed: 8, of: Some(14) };
        let sheet = Sheet::default().with(Item::Rebound, Some(Written::Clicks(knob)));
        assert_eq!(sheet.of(Item::Rebound), Some(Written::Clicks(knob)));
        let same = sheet.clone().with(Item::Rebound, Some(Written::Turns(Turns::of(1.0))));
        assert_eq!(same, sheet);
        assert!(sheet.with(Item::Rebound, None).is_empty());
    }

    #[test]
    fn a_knob_cannot_stand_beyond_its_last_click() {
        let knob = Knob { from_closed: 15, of: Some(14) };
        let sheet = Sheet { rebound: Some(knob), ..Sheet::default() };
        assert_eq!(sheet.check(), Err(Refusal::ClicksBeyondAll(knob)));
        let flat = Sheet { head_angle_degrees: Some(Angle::degrees(12.0)), ..Sheet::default() };
        assert_eq!(flat.check(), Err(Refusal::NoHeadAngle(Angle::degrees(12.0))));
    }
}
