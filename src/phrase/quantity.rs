//! Words round figures: the names of fields, how a typed figure was understood, and why one could not be read.
//!
//! Not here: the figures themselves and their rounding (`units::display`).

use crate::session::limits::Figure;
use crate::text::Shown;
use crate::units::{FigureFault, Kind, ParsedFigure, Quantity, Unit, UnitSet, Unreadable};

use super::opening;

/// The longest quotation of what somebody typed, in terminal cells.
const QUOTED: usize = 24;

/// The name of a field, in small letters.
pub const fn field(field: Figure) -> &'static str {
    field.name()
}

/// The units of a set, as a choice to pick.
pub const fn unit_set(units: UnitSet) -> &'static str {
    match units {
        UnitSet::Trade => "mm, kg, lb/in",
        UnitSet::Imperial => "in, lb, lb/in",
        UnitSet::Metric => "mm, kg, N/mm",
    }
}

/// How a typed figure was understood: in the units of the set, and in the unit typed where that is another.
pub fn understood(typed: ParsedFigure<Quantity>, units: UnitSet) -> String {
    let kind = typed.value.kind();
    let shown = units.show(typed.value);
    let other = UnitSet::ALL.into_iter().find(|set| set.unit(kind) == typed.unit);
    match other.filter(|_| typed.unit != units.unit(kind)) {
        Some(other) => format!("understood as {shown} ({})", other.show(typed.value)),
        None => format!("understood as {shown}"),
    }
}

/// A figure that is possible but unusual, and how to keep it.
pub fn unusual(which: Figure, entered: Quantity, units: UnitSet) -> String {
    format!("{} {} is unusual. Press Enter again if it is right.", opening(field(which)), units.show(entered))
}

/// Why a text could not be read, and what could.
pub fn unreadable(unreadable: &Unreadable, units: UnitSet) -> String {
    let example = example(unreadable.expected, units);
    match &unreadable.fault {
        FigureFault::Empty => format!("Nothing is typed yet. Type {example}."),
        FigureFault::NoFigure(part) => format!("{} is not a number. Type {example}.", quoted(part)),
        FigureFault::TwoFigures(part) => {
            format!("{} is more than one number. Type {example}.", quoted(part))
        }
        FigureFault::CommaOrThousands(part) => format!(
            "{} can be read in two ways. Type {} or {}.",
            quoted(part),
            part.replace(',', "."),
            part.replace(',', "")
        ),
        FigureFault::TwoPoints(part) => {
            format!("{} has more than one point or comma. Type {example}.", quoted(part))
        }
        FigureFault::Fraction(part) => {
            format!("{} is not a fraction that can be read. Type it as 2.5 or 2 1/2.", quoted(part))
        }
        FigureFault::PowerOfTen(part) => {
            format!("{} looks like a power of ten. Write the figure out in plain digits.", quoted(part))
        }
        FigureFault::UnknownUnit(part) => {
            format!("{} is not a unit known here. Type {example}.", quoted(part))
        }
        FigureFault::OtherKind(unit) => {
            format!("{} does not belong here. Type {example}.", sign(*unit))
        }
        FigureFault::TooLarge(part) => {
            format!("{} is too large to calculate with. Type {example}.", quoted(part))
        }
        FigureFault::NoCount(part) => format!("{} is not a whole number. Type {example}.", quoted(part)),
    }
}

/// What is accepted, with the unit a bare figure is taken in.
fn example(kind: Kind, units: UnitSet) -> &'static str {
    match (kind, units.unit(kind)) {
        (Kind::Length, Unit::Inch) => "a length, such as 2.5 for inches, 2 1/2 in or 63.5 mm",
        (Kind::Length, _) => "a length, such as 63.5 for millimetres, 63.5 mm or 2 1/2 in",
        (Kind::Mass, Unit::Pound) => "a weight, such as 180 for pounds, 180 lb or 82 kg",
        (Kind::Mass, _) => "a weight, such as 82 for kilograms, 82 kg or 180 lb",
        (Kind::Rate, Unit::NewtonPerMillimetre) => "a spring rate, such as 92 for N/mm, 92 N/mm or 525 lb/in",
        (Kind::Rate, _) => "a spring rate, such as 525 for lb/in, 525 lb/in or 92 N/mm",
        (Kind::Turns, _) => "turns, such as 1.5, 1 1/2 or 1/4",
        (Kind::Share, _) => "per cent, such as 30 or 30 %",
        (Kind::Ratio, _) => "a ratio, such as 2.8",
        (Kind::Count, _) => "a whole number, such as 3",
    }
}

/// A unit by its sign, or by its name where it has none.
fn sign(unit: Unit) -> &'static str {
    if unit == Unit::One { "A ratio" } else { unit.symbol() }
}

/// What was typed, in quotation marks, made safe and cut to a glance.
fn quoted(part: &str) -> String {
    format!("\"{}\"", Shown::from(part).fitted(QUOTED))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Mass, parse};

    fn entered(text: &str, kind: Kind) -> String {
        match parse::quantity(text, kind, UnitSet::Trade) {
            Ok(typed) => understood(typed, UnitSet::Trade),
            Err(refused) => unreadable(&refused, UnitSet::Trade),
        }
    }

    #[test]
    fn a_figure_in_another_unit_is_shown_in_both() {
        assert_eq!(entered("2 1/2 in", Kind::Length), "understood as 63.5 mm (2.50 in)");
        assert_eq!(entered("180 lbs", Kind::Mass), "understood as 81.6 kg (180 lb)");
        assert_eq!(entered("92 N/mm", Kind::Rate), "understood as 525 lb/in (92.0 N/mm)");
        assert_eq!(entered("63,5", Kind::Length), "understood as 63.5 mm");
        assert_eq!(entered("6.35 cm", Kind::Length), "understood as 63.5 mm");
    }

    #[test]
    fn an_ambiguous_comma_is_answered_with_both_ways_to_write_it() {
        assert_eq!(entered("1,500", Kind::Length), "\"1,500\" can be read in two ways. Type 1.500 or 1500.");
    }

    #[test]
    fn a_weight_in_a_length_field_names_the_unit_and_what_is_accepted() {
        let expected =
            "kg does not belong here. Type a length, such as 63.5 for millimetres, 63.5 mm or 2 1/2 in.";
        assert_eq!(entered("63 kg", Kind::Length), expected);
    }

    #[test]
    fn every_fault_is_one_or_two_sentences_that_quote_at_most_a_glance() {
        let book = "x".repeat(5_000);
        for text in
            ["", "abc", "1 2", "1,500", "1.2.3", "1/0", "1e9", "3 furlongs", "3 kg", "9999999999", &book]
        {
            let words = entered(text, Kind::Length);
            assert!(words.ends_with('.') && words.chars().count() < 120, "{words}");
        }
    }

    #[test]
    fn what_was_typed_is_quoted_safely() {
        assert!(!entered("\u{1b}[31m", Kind::Length).contains('\u{1b}'));
    }

    #[test]
    fn an_unusual_rider_is_asked_about() {
        let words = unusual(Figure::Rider, Quantity::Mass(Mass::kg(31.0)), UnitSet::Trade);
        assert_eq!(words, "Rider 31 kg is unusual. Press Enter again if it is right.");
    }
}
