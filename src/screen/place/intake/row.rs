//! The rows of the form: their order, which may stay empty, what each takes.
//!
//! Not here: their words (`phrase::intake`), how the text of a row becomes a detail and back (`text`), and what is possible
//! (`session::limits`).

use crate::phrase::intake::{self as words, RowWords};
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
        self.words().label()
    }

    /// What it takes, in a sentence.
    pub const fn takes(self) -> &'static str {
        self.words().takes
    }

    const fn words(self) -> RowWords {
        match self {
            Self::Who => words::WHO,
            Self::Notes => words::NOTES,
            Self::BikeLabel => words::BIKE_LABEL,
            Self::Rider => words::RIDER,
            Self::Bike => words::BIKE,
            Self::Travel => words::TRAVEL,
            Self::Leverage => words::LEVERAGE,
            Self::Stroke => words::STROKE,
            Self::CollarPitch => words::COLLAR_PITCH,
            Self::TurnsAllowed => words::TURNS_ALLOWED,
            Self::BodyDiameter => words::BODY_DIAMETER,
            Self::Wheelbase => words::WHEELBASE,
            Self::RearCentre => words::REAR_CENTRE,
            Self::Aim => words::AIM,
            Self::Ruler => words::RULER,
            Self::ReadingsWanted => words::READINGS_WANTED,
            Self::Rack => words::RACK,
            Self::Fitted => words::FITTED,
            Self::Begin => words::BEGIN,
        }
    }

    /// What is customary, offered while nothing was told (common practice, no source; the shock's maker knows better). Aim,
    /// ruler and springs are offered from the settings.
    pub const fn suggestion(self) -> Option<&'static str> {
        match self {
            Self::CollarPitch => Some(words::CUSTOMARY_PITCH),
            Self::TurnsAllowed => Some(words::CUSTOMARY_TURNS),
            Self::ReadingsWanted => Some(words::CUSTOMARY_READINGS),
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

    /// Whether typing replaces what stands in the row when it is reached: a figure, not a text nor a line of several.
    pub(super) fn is_replaced(self) -> bool {
        self.typing() == Typing::Figure && !matches!(self, Self::Leverage | Self::Rack)
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
