//! The rows of the form: what each is called, what it takes, what is customary.
//!
//! Not here: how the text of a row becomes a detail and back (`text`), and what is possible (`session::limits`).

use crate::phrase;
use crate::screen::keys::Typing;
use crate::session::Intake;
use crate::session::limits::Field;
use crate::units::{Kind, UnitSet};

/// A row of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Row {
    /// Customer.
    Who,
    /// Notes.
    Notes,
    /// Which bike.
    BikeLabel,
    /// Rider ready to ride.
    Rider,
    /// Bike alone.
    Bike,
    /// Rear wheel travel.
    Travel,
    /// Leverage ratio at the start and end of the travel.
    Leverage,
    /// Shock stroke.
    Stroke,
    /// Thread pitch of the collar.
    CollarPitch,
    /// Collar turns allowed.
    TurnsAllowed,
    /// Shock body diameter.
    BodyDiameter,
    /// Wheelbase.
    Wheelbase,
    /// Rear centre.
    RearCentre,
    /// Sag wanted, and the room to either side.
    Aim,
    /// Finest mark of the ruler.
    Ruler,
    /// Readings with one spring.
    ReadingsWanted,
    /// Springs at hand.
    Rack,
    /// Spring on the bike as it comes in.
    Fitted,
    /// On to the work.
    Begin,
}

/// In what order the rows stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// From the customer to the springs.
    FirstVisit,
    /// What may have changed first, then on to the work; all that is likely the same below.
    Return,
}

impl Order {
    /// The order for what was told: a customer is back if an earlier session taught something.
    pub fn of(told: &Intake) -> Self {
        if told.earlier.is_some() { Self::Return } else { Self::FirstVisit }
    }

    /// The rows in this order.
    pub const fn rows(self) -> &'static [Row; 19] {
        match self {
            Self::FirstVisit => &Row::ALL,
            Self::Return => &[
                Row::Rider,
                Row::Fitted,
                Row::Aim,
                Row::Begin,
                Row::Who,
                Row::Notes,
                Row::BikeLabel,
                Row::Bike,
                Row::Travel,
                Row::Leverage,
                Row::Stroke,
                Row::CollarPitch,
                Row::TurnsAllowed,
                Row::BodyDiameter,
                Row::Wheelbase,
                Row::RearCentre,
                Row::Ruler,
                Row::ReadingsWanted,
                Row::Rack,
            ],
        }
    }

    /// Whether a group of rows begins at this one.
    pub const fn opens_a_group(self, row: Row) -> bool {
        match self {
            Self::FirstVisit => {
                matches!(row, Row::Rider | Row::Travel | Row::Aim | Row::Rack | Row::Begin)
            }
            Self::Return => matches!(row, Row::Rider | Row::Who | Row::Travel | Row::Ruler | Row::Rack),
        }
    }
}

impl Row {
    /// Every row, in the order they are asked for at a first visit.
    pub const ALL: [Self; 19] = [
        Self::Who,
        Self::Notes,
        Self::BikeLabel,
        Self::Rider,
        Self::Bike,
        Self::Travel,
        Self::Leverage,
        Self::Stroke,
        Self::CollarPitch,
        Self::TurnsAllowed,
        Self::BodyDiameter,
        Self::Wheelbase,
        Self::RearCentre,
        Self::Aim,
        Self::Ruler,
        Self::ReadingsWanted,
        Self::Rack,
        Self::Fitted,
        Self::Begin,
    ];

    /// What it is called.
    pub fn label(self) -> String {
        let label = match self {
            Self::Who => "customer",
            Self::Notes => "notes",
            Self::BikeLabel => "which bike",
            Self::Rider => "rider, ready to ride",
            Self::Bike => "bike alone",
            Self::Leverage => "leverage ratio",
            Self::Aim => phrase::field(Field::AimSag),
            Self::Rack => "springs at hand",
            Self::Fitted => "spring on the bike now",
            Self::Begin => "begin the work",
            _ => self.field().map_or("", phrase::field),
        };
        let mut letters = label.chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    }

    /// What it takes, in a sentence.
    pub const fn takes(self) -> &'static str {
        match self {
            Self::Who => "A name or a job number. May stay empty.",
            Self::Notes => "Anything worth knowing. May stay empty.",
            Self::BikeLabel => "The bike in your own words. May stay empty.",
            Self::Rider => "Weight with helmet, shoes, pack and water: 82 or 180 lb.",
            Self::Bike => "Weight of the bike as it is ridden: 15.5 or 34 lb.",
            Self::Travel => "How far the rear wheel moves in all, from the frame maker: 160 or 6.3 in.",
            Self::Leverage => {
                "3.0 to 2.5 from the frame maker, pairs measured with the spring off as 10/27.5 20/54, or file: lev.csv. \
                 Empty: reckoned from travel and stroke."
            }
            Self::Stroke => {
                "How far the shock shortens in all, printed on it or from its maker: 65 or 2.5 in."
            }
            Self::CollarPitch => {
                "How far the collar moves in one turn. Measure over several turns if nobody says."
            }
            Self::TurnsAllowed => "Turns past contact the maker of the shock allows.",
            Self::BodyDiameter => {
                "Outer diameter where the spring passes over. Empty: not checked against springs."
            }
            Self::Wheelbase => {
                "From axle to axle, from the frame maker: 1240. Empty: no word on how the head angle changes."
            }
            Self::RearCentre => {
                "Rear axle to bottom bracket, from the frame maker: 440. Empty: no word on its height."
            }
            Self::Aim => "30 for planted, 25 for lively; 30 +- 1.5 to say how near is near enough.",
            Self::Ruler => "The least difference you can read off: 0.5 or 1 mm.",
            Self::ReadingsWanted => "How often the rider sits before there is a verdict.",
            Self::Rack => {
                "Rates, x for several, / for the stroke printed on it: 400 450 x2 500/65, or 350-600 by 50."
            }
            Self::Fitted => "Its rate, or its number as #2. Empty: no spring is fitted yet.",
            Self::Begin => "On to the work at the bike. Every detail can be corrected later.",
        }
    }

    /// What is customary, offered while nothing was told (common practice, no source; the shock's maker knows better).
    pub const fn suggestion(self) -> Option<&'static str> {
        match self {
            Self::CollarPitch => Some("1.5 mm"),
            Self::TurnsAllowed => Some("2"),
            Self::Aim => Some("30 +- 1.5 %"),
            Self::Ruler => Some("0.5 mm"),
            Self::ReadingsWanted => Some("3"),
            _ => None,
        }
    }

    /// Whether it may stay empty.
    pub const fn is_optional(self) -> bool {
        matches!(
            self,
            Self::Who
                | Self::Notes
                | Self::BikeLabel
                | Self::Leverage
                | Self::BodyDiameter
                | Self::Wheelbase
                | Self::RearCentre
                | Self::Fitted
        )
    }

    /// Whether the work cannot begin before it is told.
    pub fn is_lacking(self, told: &Intake) -> bool {
        !self.is_optional() && self != Self::Begin && self.told(told, UnitSet::Trade).is_empty()
    }

    /// What its field takes.
    pub const fn typing(self) -> Typing {
        match self {
            Self::Who | Self::Notes | Self::BikeLabel => Typing::Text,
            Self::Begin => Typing::Nothing,
            _ => Typing::Figure,
        }
    }

    /// The figure it asks for, where it is a single one.
    pub(super) const fn field(self) -> Option<Field> {
        Some(match self {
            Self::Rider => Field::Rider,
            Self::Bike => Field::Bike,
            Self::Travel => Field::Travel,
            Self::Stroke => Field::Stroke,
            Self::CollarPitch => Field::CollarPitch,
            Self::TurnsAllowed => Field::TurnsAllowed,
            Self::BodyDiameter => Field::BodyDiameter,
            Self::Wheelbase => Field::Wheelbase,
            Self::RearCentre => Field::RearCentre,
            Self::Ruler => Field::Ruler,
            Self::ReadingsWanted => Field::ReadingsWanted,
            _ => return None,
        })
    }

    /// The kind of figure a bare one is taken for.
    pub fn kind(self) -> Option<Kind> {
        match self {
            Self::Aim => Some(Kind::Share),
            Self::Leverage => Some(Kind::Ratio),
            Self::Rack | Self::Fitted => Some(Kind::Rate),
            _ => self.field().map(|field| field.limits().least.kind()),
        }
    }
}
