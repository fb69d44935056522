//! Text as people type it, read into a quantity: "2 1/2 in", "63,5", "180lbs", "525".
//!
//! A bare figure is in the unit of the chosen [`UnitSet`]. A decimal comma is a decimal point, except where it could
//! as well part thousands ("1,500"): that is asked back, never guessed. Digits of other scripts, a typeset minus,
//! vulgar fractions and any kind of space are understood. A refusal is data with the offending part in it;
//! `phrase::quantity` words it. Not here: whether a figure is possible for its field (`session::limits`).

mod figure;
mod plain;

use super::quantity::{Length, LeverageRatio, Mass, Quantity, Share, SpringRate, Turns};
use super::unit::{Kind, Unit, UnitSet};

/// What was understood: the quantity, and the unit it was typed in or taken to be in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ParsedFigure<Q> {
    /// The quantity.
    pub value: Q,
    /// The unit typed, or of the set where none was typed.
    pub unit: Unit,
}

impl<Q> ParsedFigure<Q> {
    /// The same with its quantity wrapped or turned into another.
    pub fn map<R>(self, turn: impl FnOnce(Q) -> R) -> ParsedFigure<R> {
        ParsedFigure { value: turn(self.value), unit: self.unit }
    }
}

/// Why a text cannot be read as the kind of quantity asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// The kind asked for.
    pub expected: Kind,
    /// What is wrong.
    pub fault: FigureFault,
}

/// What is wrong with a text; the part at fault is as typed and must be made safe before it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FigureFault {
    /// There is nothing in it.
    Empty,
    /// This part should be a figure and is none.
    NoFigure(String),
    /// There is more than one figure in it.
    TwoFigures(String),
    /// The comma could be a decimal comma or part thousands.
    CommaOrThousands(String),
    /// More than one point or comma in a figure.
    TwoPoints(String),
    /// A fraction that is none: over nought, or after a whole number though not smaller than one.
    Fraction(String),
    /// A figure with a power of ten in it.
    PowerOfTen(String),
    /// Nobody knows this unit.
    UnknownUnit(String),
    /// A unit, but of another kind of quantity.
    OtherKind(Unit),
    /// A figure too large to reckon with.
    TooLarge(String),
    /// A count must be whole, not below nought and not endless.
    NoCount(String),
}

/// Reads a length: "63.5", "63,5 mm", "2 1/2 in", `2.5"`.
///
/// # Errors
/// With the part that cannot be read.
pub fn length(text: &str, units: UnitSet) -> Result<ParsedFigure<Length>, Unreadable> {
    let typed = read(text, Kind::Length, units)?;
    Ok(typed.map(|figure| match typed.unit {
        Unit::Inch => Length::inches(figure),
        Unit::Centimetre => Length::mm(figure * 10.0),
        _ => Length::mm(figure),
    }))
}

/// Reads a mass: "82", "82 kg", "180 lb", "180lbs".
///
/// # Errors
/// With the part that cannot be read.
pub fn mass(text: &str, units: UnitSet) -> Result<ParsedFigure<Mass>, Unreadable> {
    let typed = read(text, Kind::Mass, units)?;
    let from = if typed.unit == Unit::Pound { Mass::pounds } else { Mass::kg };
    Ok(typed.map(from))
}

/// Reads a spring rate: "525", "525 lb/in", "525#", "92 N/mm", "9.4 kgf/mm".
///
/// # Errors
/// With the part that cannot be read.
pub fn rate(text: &str, units: UnitSet) -> Result<ParsedFigure<SpringRate>, Unreadable> {
    let typed = read(text, Kind::Rate, units)?;
    let from = match typed.unit {
        Unit::PoundPerInch => SpringRate::lb_per_in,
        Unit::KilogramForcePerMillimetre => SpringRate::kgf_per_mm,
        _ => SpringRate::n_per_mm,
    };
    Ok(typed.map(from))
}

/// Reads a share in per cent: "30", "30 %".
///
/// # Errors
/// With the part that cannot be read.
pub fn share(text: &str) -> Result<ParsedFigure<Share>, Unreadable> {
    Ok(read(text, Kind::Share, UnitSet::default())?.map(Share::percent))
}

/// Reads turns of the collar: "1.5", "1 1/2", "1/4", "½".
///
/// # Errors
/// With the part that cannot be read.
pub fn turns(text: &str) -> Result<ParsedFigure<Turns>, Unreadable> {
    Ok(read(text, Kind::Turns, UnitSet::default())?.map(Turns::of))
}

/// Reads a leverage ratio: "2.8", "2.8:1".
///
/// # Errors
/// With the part that cannot be read.
pub fn ratio(text: &str) -> Result<ParsedFigure<LeverageRatio>, Unreadable> {
    Ok(read(text, Kind::Ratio, UnitSet::default())?.map(LeverageRatio::ratio))
}

/// Reads a count: "3".
///
/// # Errors
/// With the part that cannot be read; a count is whole and from 0 to 65 535.
pub fn count(text: &str) -> Result<ParsedFigure<u16>, Unreadable> {
    let typed = read(text, Kind::Count, UnitSet::default())?;
    let counted = typed.value.to_string().parse();
    let no_count =
        |_| Unreadable { expected: Kind::Count, fault: FigureFault::NoCount(text.trim().to_owned()) };
    Ok(ParsedFigure { value: counted.map_err(no_count)?, unit: typed.unit })
}

/// Reads whichever kind a field asks for.
///
/// # Errors
/// With the part that cannot be read.
pub fn quantity(text: &str, kind: Kind, units: UnitSet) -> Result<ParsedFigure<Quantity>, Unreadable> {
    Ok(match kind {
        Kind::Length => length(text, units)?.map(Quantity::Length),
        Kind::Mass => mass(text, units)?.map(Quantity::Mass),
        Kind::Rate => rate(text, units)?.map(Quantity::Rate),
        Kind::Turns => turns(text)?.map(Quantity::Turns),
        Kind::Share => share(text)?.map(Quantity::Share),
        Kind::Ratio => ratio(text)?.map(Quantity::Ratio),
        Kind::Count => count(text)?.map(Quantity::Count),
    })
}

/// Reads a figure and the unit behind it, or the unit of the set where there is none.
fn read(text: &str, expected: Kind, units: UnitSet) -> Result<ParsedFigure<f64>, Unreadable> {
    let refuse = |fault| Unreadable { expected, fault };
    let text = plain::plain(text);
    let (figure, unit) = figure::split(&text);
    if figure.is_empty() && unit.is_empty() {
        return Err(refuse(FigureFault::Empty));
    }
    let value = figure::read(figure, unit).map_err(refuse)?;
    let unit =
        if unit.is_empty() { units.unit(expected) } else { unit_of(unit, expected).map_err(refuse)? };
    Ok(ParsedFigure { value, unit })
}

/// The unit a text behind a figure means, if it is one of the kind wanted.
fn unit_of(text: &str, expected: Kind) -> Result<Unit, FigureFault> {
    let bare: String =
        text.chars().filter(|c| !matches!(c, ' ' | '.')).flat_map(char::to_lowercase).collect();
    // On a spring "lb" is short for lb/in; nobody weighs a spring in a rate field.
    let meant = match unit_named(&bare) {
        Some((Unit::Pound, _)) if expected == Kind::Rate => Some((Unit::PoundPerInch, Kind::Rate)),
        named => named,
    };
    match meant {
        Some((unit, kind)) if kind == expected => Ok(unit),
        Some((unit, _)) => Err(FigureFault::OtherKind(unit)),
        None => Err(if bare.contains(|c: char| c.is_ascii_digit()) {
            figure::trailing_fault(text)
        } else {
            FigureFault::UnknownUnit(text.to_owned())
        }),
    }
}

/// The unit of that name, lower case and without spaces and points.
fn unit_named(name: &str) -> Option<(Unit, Kind)> {
    Some(match name {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => {
            (Unit::Millimetre, Kind::Length)
        }
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => {
            (Unit::Centimetre, Kind::Length)
        }
        "in" | "inch" | "inches" | "\"" | "''" => (Unit::Inch, Kind::Length),
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" | "kilogramme" | "kilogrammes" => {
            (Unit::Kilogram, Kind::Mass)
        }
        "lb" | "lbs" | "pound" | "pounds" | "#" => (Unit::Pound, Kind::Mass),
        "lb/in" | "lbs/in" | "lbf/in" | "lb/inch" | "lbs/inch" | "lbf/inch" | "lb/\"" | "lbs/\""
        | "lbperin" | "lbsperin" | "lbperinch" | "lbsperinch" | "poundsperinch" | "poundperinch" => {
            (Unit::PoundPerInch, Kind::Rate)
        }
        "n/mm" | "npermm" => (Unit::NewtonPerMillimetre, Kind::Rate),
        "kg/mm" | "kgf/mm" | "kgs/mm" | "kgpermm" | "kgfpermm" => {
            (Unit::KilogramForcePerMillimetre, Kind::Rate)
        }
        "turn" | "turns" => (Unit::Turn, Kind::Turns),
        "%" | "percent" | "pc" => (Unit::Percent, Kind::Share),
        ":1" | "to1" => (Unit::One, Kind::Ratio),
        _ => return None,
    })
}

#[cfg(test)]
mod tests;
