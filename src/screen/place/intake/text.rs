//! The text of a row and the detail it stands for, both ways.
//!
//! Text written for a row always carries its unit, so that it reads back the same whatever units are shown. Not here: what
//! is possible or unusual (`session::limits`), the line of springs (`rack`), and the leverage (`leverage`).

use super::leverage::{self, Typed};
use super::rack::{self, RackFault};
use super::row::Row;
use crate::mechanics::pairs::{NotFromFullExtension, PairsText};
use crate::phrase;
use crate::screen::place::typed_spring;
use crate::session::{Aim, Detail, Intake, LeverageKnowledge, Spring, SpringNumber};
use crate::text::FreeText;
use crate::units::{Fault, Kind, Length, Quantity, Share, Show, UnitSet, Unreadable, parse};

/// Why a text is no detail.
#[derive(Debug, Clone, PartialEq)]
pub enum Unread {
    /// A figure cannot be read.
    Figure(Unreadable),
    /// The line of springs cannot be read.
    Rack(RackFault),
    /// Leverage is two ratios, the start and the end, or measured pairs.
    Leverage,
    /// Measured pairs cannot be read.
    Pairs(PairsText),
    /// Heights of the axle do not begin at full extension.
    Heights(NotFromFullExtension),
    /// A file holds no pairs.
    EmptyTable,
    /// A file is asked for and not named.
    NoFile,
    /// No spring on the rack bears that.
    NotOnTheRack,
}

impl From<Unreadable> for Unread {
    fn from(unreadable: Unreadable) -> Self {
        Self::Figure(unreadable)
    }
}

impl Row {
    /// What was told, as text that reads back; empty while nothing was.
    pub fn told(self, intake: &Intake, units: UnitSet) -> String {
        let length = |length: Option<Length>| length.map(|length| units.show(length));
        match self {
            Self::Who => Some(intake.who.as_typed().to_owned()),
            Self::Notes => Some(intake.notes.as_typed().to_owned()),
            Self::BikeLabel => Some(intake.bike_label.as_typed().to_owned()),
            Self::Rider => intake.rider.map(|mass| units.show(mass)),
            Self::Bike => intake.bike.map(|mass| units.show(mass)),
            Self::Travel => length(intake.travel),
            Self::Leverage => leverage::written(&intake.leverage, units),
            Self::Stroke => length(intake.stroke),
            Self::CollarPitch => length(intake.collar_pitch),
            Self::TurnsAllowed => intake.turns_allowed.map(|turns| units.show(turns)),
            Self::BodyDiameter => length(intake.body_diameter),
            Self::Wheelbase => length(intake.frame.wheelbase),
            Self::RearCentre => length(intake.frame.rear_centre),
            Self::Aim => intake
                .aim
                .map(|aim| format!("{} ± {}", aim.sag.written(units).figure, units.show(aim.half_width))),
            Self::Ruler => length(intake.ruler),
            Self::ReadingsWanted => intake.readings_wanted.map(|count| count.to_string()),
            Self::Rack => Some(rack::written(&intake.rack, units)),
            Self::Fitted => intake.fitted.map(|number| fitted_text(number, intake, units)),
            Self::Begin => None,
        }
        .unwrap_or_default()
    }

    /// Reads a text into the detail of this row; none where the row has none.
    ///
    /// # Errors
    /// When the text cannot be read.
    pub fn read(self, text: &str, intake: &Intake, units: UnitSet) -> Result<Option<Detail>, Unread> {
        let empty = text.trim().is_empty();
        Ok(Some(match self {
            Self::Who => Detail::Who(FreeText::new(text)),
            Self::Notes => Detail::Notes(FreeText::new(text)),
            Self::BikeLabel => Detail::BikeLabel(FreeText::new(text)),
            Self::Rider => Detail::Rider(parse::mass(text, units)?.value),
            Self::Bike => Detail::Bike(parse::mass(text, units)?.value),
            Self::Travel => Detail::Travel(parse::length(text, units)?.value),
            Self::Leverage if empty => Detail::Leverage(LeverageKnowledge::TravelOnly),
            Self::Leverage => match leverage::read(text, units)? {
                Typed::Known(knowledge) => Detail::Leverage(knowledge),
                Typed::Table { .. } => return Ok(None),
            },
            Self::Stroke => Detail::Stroke(parse::length(text, units)?.value),
            Self::CollarPitch => Detail::CollarPitch(parse::length(text, units)?.value),
            Self::TurnsAllowed => Detail::TurnsAllowed(parse::turns(text)?.value),
            Self::BodyDiameter => Detail::BodyDiameter(length_if_told(text, units)?),
            Self::Wheelbase => Detail::Wheelbase(length_if_told(text, units)?),
            Self::RearCentre => Detail::RearCentre(length_if_told(text, units)?),
            Self::Aim => Detail::Aim(aim(text, intake)?),
            Self::Ruler => Detail::Ruler(parse::length(text, units)?.value),
            Self::ReadingsWanted => Detail::ReadingsWanted(count(text)?),
            Self::Rack => Detail::Rack(rack::read(text, units, &intake.rack).map_err(Unread::Rack)?),
            Self::Fitted if empty => Detail::Fitted(None),
            Self::Fitted => Detail::Fitted(Some(fitted(text, intake, units)?)),
            Self::Begin => return Ok(None),
        }))
    }

    /// How a text is understood, for the line below the field; none where there is nothing to add.
    pub fn understood(self, text: &str, intake: &Intake, units: UnitSet) -> Option<String> {
        if text.trim().is_empty() {
            return None;
        }
        match (self, self.field()) {
            (_, Some(field)) => {
                let read = parse::quantity(text, field.limits().least.kind(), units).ok()?;
                Some(both_ways(read.value, units))
            }
            (Self::Aim, _) => {
                let aim = aim(text, intake).ok()?;
                Some(format!("= a band from {} to {}", units.show(aim.low()), units.show(aim.high())))
            }
            (Self::Leverage, _) => Some(leverage_understood(&leverage::read(text, units).ok()?, units)),
            (Self::Rack, _) => {
                let springs = rack::read(text, units, &intake.rack).ok()?;
                let unknown = springs.iter().filter(|spring| spring.stroke.is_none()).count();
                let stroke = match unknown {
                    0 => "every stroke known".to_owned(),
                    unknown if unknown == springs.len() => "strokes not known".to_owned(),
                    unknown => format!("{unknown} with the stroke not known"),
                };
                Some(format!("= {} springs, {stroke}", springs.len()))
            }
            (Self::Fitted, _) => {
                let number = fitted(text, intake, units).ok()?;
                Some(format!("= {}", phrase::spring(number, &intake.rack, units)))
            }
            _ => None,
        }
    }
}

/// A quantity in the units shown, and in the other common one.
fn both_ways(quantity: Quantity, units: UnitSet) -> String {
    let shown = units.show(quantity);
    let other = [UnitSet::Metric, UnitSet::Imperial].map(|set| set.show(quantity));
    let other = other.into_iter().find(|other| *other != shown);
    other.map_or_else(|| format!("= {shown}"), |other| format!("= {shown} · {other}"))
}

fn leverage_understood(typed: &Typed, units: UnitSet) -> String {
    match typed {
        Typed::Known(LeverageKnowledge::TravelOnly) => String::new(),
        Typed::Known(LeverageKnowledge::Ends { start, end }) => {
            format!("= from {} to {}", units.show(*start), units.show(*end))
        }
        Typed::Known(LeverageKnowledge::Measured(pairs)) => phrase::leverage::pairs_understood(pairs, units),
        Typed::Table { .. } => "= a file of pairs; Enter reads it".to_owned(),
    }
}

/// A length that may be left out.
fn length_if_told(text: &str, units: UnitSet) -> Result<Option<Length>, Unreadable> {
    if text.trim().is_empty() { Ok(None) } else { Ok(Some(parse::length(text, units)?.value)) }
}

/// The band as typed; where only its middle is, its width is as told before, or as customary.
fn aim(text: &str, intake: &Intake) -> Result<Aim, Unreadable> {
    let plain = text.replace("+-", "±").replace("+/-", "±");
    let customary = intake.aim.unwrap_or(Aim::PLANTED).half_width;
    let half_width = |text: &str| -> Result<Share, Unreadable> { Ok(parse::share(text)?.value) };
    Ok(match plain.split_once('±') {
        Some((sag, half)) => Aim { sag: half_width(sag)?, half_width: half_width(half)? },
        None => Aim { sag: parse::share(&plain)?.value, half_width: customary },
    })
}

fn count(text: &str) -> Result<u8, Unreadable> {
    let count = parse::count(text)?.value;
    u8::try_from(count)
        .map_err(|_| Unreadable { wanted: Kind::Count, fault: Fault::TooLarge(text.trim().to_owned()) })
}

/// The spring by its rate, or by its number where two bear the same.
fn fitted(text: &str, intake: &Intake, units: UnitSet) -> Result<SpringNumber, Unread> {
    let springs = &intake.rack;
    let found = if let Some(number) = text.trim().strip_prefix('#') {
        let number = SpringNumber(parse::count(number)?.value);
        springs.iter().find(|spring| spring.number == number)
    } else {
        let typed = typed_spring::read(text, units)?;
        let bears = |spring: &&Spring| units.show(spring.label) == units.show(typed.rate);
        springs.iter().filter(bears).find(|spring| typed.is_of(spring.stroke))
    };
    found.map(|spring| spring.number).ok_or(Unread::NotOnTheRack)
}

fn fitted_text(number: SpringNumber, intake: &Intake, units: UnitSet) -> String {
    let label =
        intake.rack.iter().find(|spring| spring.number == number).map(|spring| units.show(spring.label));
    let first = label.as_ref().and_then(|label| {
        intake.rack.iter().find(|spring| units.show(spring.label) == *label).map(|spring| spring.number)
    });
    match label {
        Some(label) if first == Some(number) => label,
        _ => format!("#{}", number.0),
    }
}
