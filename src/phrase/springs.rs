//! Words for a spring as it is typed: what cannot be told from it, and how to type it instead.
//!
//! Not here: how a spring is read (`screen::place::typed_spring`), and springs of a session by their names (`deed`).

use crate::text::Shown;
use crate::text::mark::Mark;
use crate::units::{Length, Show, SpringRate, UnitSet};

/// A stroke as an example: one that is sold, in the units shown.
const fn stroke_of_example(units: UnitSet) -> &'static str {
    match units {
        UnitSet::Imperial => "2.5",
        UnitSet::Trade | UnitSet::Metric => "65",
    }
}

/// A rate as an example.
const fn rate_of_example(units: UnitSet) -> &'static str {
    match units {
        UnitSet::Metric => "79",
        UnitSet::Trade | UnitSet::Imperial => "450",
    }
}

/// A spring with its stroke as an example, `450x65`.
pub fn example(units: UnitSet) -> String {
    format!("{}x{}", rate_of_example(units), stroke_of_example(units))
}

/// A progressive spring without the stroke over which its rate rises.
pub fn progressive(from: SpringRate, to: SpringRate, units: UnitSet) -> String {
    let (from, to) = (from.written(units).figure, units.show(to));
    let stroke = stroke_of_example(units);
    let end = to.split(' ').next().unwrap_or_default();
    format!(
        "{from}–{to} is a progressive spring. Type its stroke too, over which the rate rises: {from}-{end}/{stroke}."
    )
}

/// What stands behind x is neither a count nor a stroke.
pub fn behind_x(part: &str, units: UnitSet) -> String {
    format!(
        "\"x {}\" is neither a stroke nor a number of springs. Type {} with the stroke, or {} x2 for two springs.",
        quoted(part),
        example(units),
        rate_of_example(units)
    )
}

/// What should be a stroke is none.
pub fn no_stroke(part: &str, units: UnitSet) -> String {
    format!(
        "\"{}\" is not a stroke. Type the rate and the stroke printed on the spring: {}.",
        quoted(part),
        example(units)
    )
}

/// Several springs where one is asked for.
pub fn only_one(count: u16) -> String {
    format!("Only one spring is fitted, not {count}. Type its rate and its stroke.")
}

/// A count that could be a stroke in inches; the same Enter takes the count.
pub fn count_or_stroke(rate: SpringRate, count: u16, stroke: Length, units: UnitSet) -> String {
    let figure = rate.written(units).figure;
    format!(
        "{figure} x{count}: {count} springs, or a stroke of {}? Enter again: {count} springs. For the stroke, type {figure}/{count} in.",
        units.show(stroke)
    )
}

/// A line of springs of which only the last has a stroke; the same Enter takes it so.
pub fn stroke_of_the_last(rate: SpringRate, stroke: Length, units: UnitSet) -> String {
    format!(
        "Only the {} has a stroke on this line. Enter again: the others have none. If it is that of all, end the line with \"stroke {}\" instead.",
        units.show(rate),
        units.show(stroke)
    )
}

/// A spring typed by its rate, where the shop's of that rate have marks.
pub fn which_mark(rate: SpringRate, marks: &[Mark], units: UnitSet) -> String {
    let marks: Vec<String> = marks.iter().map(Mark::to_string).collect();
    let rate = units.show(rate);
    format!("The shop's springs of {rate} have marks: {}. Type the mark.", marks.join(", "))
}

/// An empty line of springs.
pub fn nothing_typed(units: UnitSet) -> String {
    format!(
        "Nothing is typed yet. Type rates, such as {}, or a range: {}.",
        list_of_example(units),
        range_of_example(units)
    )
}

/// A range without its step, or no range at all.
pub fn no_range(part: &str, units: UnitSet) -> String {
    format!(
        "\"{}\" is not a range. Type the softest, the stiffest and the step: {}.",
        quoted(part),
        range_of_example(units)
    )
}

/// A count without a rate before it.
pub fn no_count(part: &str, units: UnitSet) -> String {
    format!(
        "\"{}\" says no number of springs. Type {} x2 for two with one rate.",
        quoted(part),
        rate_of_example(units)
    )
}

/// More springs than a list holds.
pub fn too_many(most: usize) -> String {
    format!("The list holds {most} springs at most. Leave out those not on the list.")
}

/// Rates in a row as an example.
const fn list_of_example(units: UnitSet) -> &'static str {
    match units {
        UnitSet::Metric => "70 79 88",
        UnitSet::Trade | UnitSet::Imperial => "400 450 500",
    }
}

/// A range as an example.
const fn range_of_example(units: UnitSet) -> &'static str {
    match units {
        UnitSet::Metric => "61-105 by 9",
        UnitSet::Trade | UnitSet::Imperial => "350-600 by 50",
    }
}

fn quoted(part: &str) -> String {
    Shown::from(part).fitted(24)
}
