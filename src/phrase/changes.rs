//! What changes with the spring, as a table of words: one column a spring, one row a figure.
//!
//! Changes stand in words, "6 % less", so that nobody has to remember which sign means what. Not here: the widths of
//! columns and the lines round them (`report`, `screen`).

use super::spring;
use crate::assessment::{BesideFitted, Change, Role};
use crate::session::Setup;
use crate::units::{Angle, Length, Share, UnitSet};

/// The comparison, ready to be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangesTable {
    /// What it is called.
    pub title: &'static str,
    /// The springs, a column each.
    pub springs: Vec<SpringColumn>,
    /// The rows below.
    pub rows: Vec<ChangeRow>,
    /// What has to be minded in reading it.
    pub note: &'static str,
}

/// The head of a column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpringColumn {
    /// Its label.
    pub name: String,
    /// Why it stands here.
    pub role: String,
}

/// A figure of every spring.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangeRow {
    /// What it is.
    pub name: &'static str,
    /// One cell a spring, in the order of the columns.
    pub cells: Vec<String>,
}

const NOTE: &str = "Rebound, bottom bracket and head angle are told against the spring on the bike, the fork as it is. \
                    Energy is the spring's alone: damping and bump stop come on top.";
const NOTE_ALONE: &str = "Energy is the spring's alone: damping and bump stop come on top.";

/// The comparison of an assessment; none where there is no spring to speak of.
pub fn changes(changes: &[Change], setup: &Setup, units: UnitSet) -> Option<ChangesTable> {
    let columns = columns(changes);
    if columns.is_empty() {
        return None;
    }
    let springs = columns.iter().map(|(roles, change)| SpringColumn {
        name: spring(change.forecast.spring, &setup.rack, units),
        role: roles.iter().map(|role| self::role(*role)).collect::<Vec<_>>().join(" and "),
    });
    let compared = columns.iter().any(|(roles, _)| !roles.contains(&Role::Fitted));
    let against_fitted = compared && columns.iter().all(|(_, change)| change.beside_fitted.is_some());
    let note = if against_fitted { NOTE } else { NOTE_ALONE };
    let title = if compared { "What changes with the spring" } else { "What this spring does" };
    let own = figures(units);
    let told = if against_fitted { differences(units) } else { Vec::new() };
    let rows = own.into_iter().chain(told).filter_map(|(name, cell)| {
        let cells: Option<Vec<String>> = columns.iter().map(|(_, change)| cell(change)).collect();
        Some(ChangeRow { name, cells: cells? })
    });
    Some(ChangesTable { title, springs: springs.collect(), rows: rows.collect(), note })
}

/// The springs in their order, each once with all its roles.
fn columns(changes: &[Change]) -> Vec<(Vec<Role>, &Change)> {
    let mut columns: Vec<(Vec<Role>, &Change)> = Vec::new();
    for change in changes {
        let same = columns.iter_mut().find(|(_, other)| other.forecast.spring == change.forecast.spring);
        match same {
            Some((roles, _)) => roles.push(change.role),
            None => columns.push((vec![change.role], change)),
        }
    }
    columns
}

fn role(role: Role) -> &'static str {
    match role {
        Role::Fitted => "on the bike",
        Role::Step => "next step",
        Role::Landing => "landing",
        Role::Nearest => "nearest at hand",
    }
}

/// A row: its name, and how a spring's cell is written; none where the figure is not known.
type Row = (&'static str, Box<dyn Fn(&Change) -> Option<String>>);

/// Figures each spring has by itself.
fn figures(units: UnitSet) -> Vec<Row> {
    vec![
        ("Sag", Box::new(move |change| Some(change.forecast.sag.shown(units)))),
        (
            "Chance of the band",
            Box::new(|change| Some(format!("{:.0} %", change.forecast.chance.as_percent()))),
        ),
        ("Rear axle sinks", Box::new(move |change| Some(units.show(change.forecast.ride.axle_sinks)))),
        (
            "Energy left to full stroke",
            Box::new(move |change| Some(units.show(change.forecast.ride.energy_left))),
        ),
        ("Bounce frequency", Box::new(move |change| Some(units.show(change.forecast.ride.bounce)))),
        ("Breakaway, of the load", Box::new(move |change| Some(units.show(change.forecast.ride.breakaway)))),
    ]
}

/// Figures told against the spring on the bike.
fn differences(units: UnitSet) -> Vec<Row> {
    vec![
        ("Rebound damping wanted", told(|beside| Some(rebound(beside.rebound)))),
        ("Bottom bracket", told(move |beside| beside.bottom_bracket_lower.map(|by| height(by, units)))),
        ("Head angle", told(|beside| beside.head_angle_slacker.map(angle))),
    ]
}

fn told(cell: impl Fn(&BesideFitted) -> Option<String> + 'static) -> Box<dyn Fn(&Change) -> Option<String>> {
    Box::new(move |change| match change.role {
        Role::Fitted => change.beside_fitted.as_ref().and_then(&cell).map(|_| AS_IT_IS.to_owned()),
        _ => change.beside_fitted.as_ref().and_then(&cell),
    })
}

const AS_IT_IS: &str = "as it is";

fn rebound(more: Share) -> String {
    let percent = more.as_percent().round();
    match percent {
        percent if percent > 0.0 => format!("{percent:.0} % more"),
        percent if percent < 0.0 => format!("{:.0} % less", -percent),
        _ => "the same".to_owned(),
    }
}

fn height(lower: Length, units: UnitSet) -> String {
    // Forecasts are not good to hundredths of a millimetre.
    let tenths = Length::mm((lower.abs().as_mm() * 10.0).round() / 10.0);
    words_of(units.show(tenths), lower.value(), "lower", "higher")
}

fn angle(slacker: Angle) -> String {
    // A whole spring step tips a bike by a tenth or two of a degree: hundredths are the figure here.
    let hundredths = format!("{:.2}°", slacker.abs().value());
    words_of(hundredths, slacker.value(), "slacker", "steeper")
}

/// A size and its direction; what is shown as nothing has none.
fn words_of(size: String, signed: f64, above: &str, below: &str) -> String {
    let nothing = !size.contains(|letter: char| ('1'..='9').contains(&letter));
    match signed {
        _ if nothing => "the same".to_owned(),
        signed if signed > 0.0 => format!("{size} {above}"),
        _ => format!("{size} {below}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_direction_is_a_word_and_nothing_has_none() {
        assert_eq!(rebound(Share::percent(-5.6)), "6 % less");
        assert_eq!(rebound(Share::percent(0.3)), "the same");
        assert_eq!(height(Length::mm(-3.1), UnitSet::Trade), "3.1 mm higher");
        assert_eq!(height(Length::mm(0.001), UnitSet::Trade), "the same");
        assert_eq!(angle(Angle::degrees(0.214)), "0.21° slacker");
        assert_eq!(angle(Angle::degrees(-0.214)), "0.21° steeper");
    }
}
