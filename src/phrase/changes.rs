//! What changes with the spring, as a table of words: one column a spring, one row a figure.
//!
//! Changes stand in words, "6 % less", so that nobody has to remember which sign means what. Not here: the widths of
//! columns and the lines round them (`report`, `screen`).

use super::spring;
use crate::assessment::{AgainstFitted, Forecast, SpringComparison, WhyCompared};
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

const NOTE: &str = "Rebound, bottom bracket and head angle are compared with the spring on the bike; the fork does not change. Energy is for the spring only, without damping and bump stop.";
const NOTE_ALONE: &str = "Energy is the spring's alone: damping and bump stop come on top.";

/// What the two bars of a spring are.
pub const SPRING_BARS: [&str; 2] = ["energy left", "rear axle sinks"];

/// The comparison of an assessment; none where there is no spring to speak of.
pub fn changes(changes: &[SpringComparison], setup: &Setup, units: UnitSet) -> Option<ChangesTable> {
    let columns = columns(changes);
    if columns.is_empty() {
        return None;
    }
    let springs = columns.iter().map(|(roles, change)| SpringColumn {
        name: spring(change.forecast.spring, &setup.springs, units),
        role: roles.iter().map(|role| self::role(*role)).collect::<Vec<_>>().join(" and "),
    });
    let compared = columns.iter().any(|(roles, _)| !roles.contains(&WhyCompared::Fitted));
    let against_fitted = compared && columns.iter().all(|(_, change)| change.against_fitted.is_some());
    let note = if against_fitted { NOTE } else { NOTE_ALONE };
    let title = if compared { "What changes with the spring" } else { "What this spring does" };
    let mut rows = figures(&columns, units);
    if against_fitted {
        rows.extend(differences(&columns, units));
    }
    Some(ChangesTable { title, springs: springs.collect(), rows, note })
}

/// A spring with all the roles it has.
type MarkedColumn<'a> = (Vec<WhyCompared>, &'a SpringComparison);

/// The springs in their order, each once with all its roles.
fn columns(changes: &[SpringComparison]) -> Vec<MarkedColumn<'_>> {
    let mut columns: Vec<MarkedColumn<'_>> = Vec::new();
    for change in changes {
        let same = columns.iter_mut().find(|(_, other)| other.forecast.spring == change.forecast.spring);
        match same {
            Some((roles, _)) => roles.push(change.role),
            None => columns.push((vec![change.role], change)),
        }
    }
    columns
}

fn role(role: WhyCompared) -> &'static str {
    match role {
        WhyCompared::Fitted => "on the bike",
        WhyCompared::Step => "next step",
        WhyCompared::BestMatch => "best match",
        WhyCompared::Nearest => "nearest on the list",
    }
}

/// Figures each spring has by itself.
fn figures(columns: &[MarkedColumn<'_>], units: UnitSet) -> Vec<ChangeRow> {
    let row = |name, cell: &dyn Fn(&Forecast) -> String| ChangeRow {
        name,
        cells: columns.iter().map(|(_, change)| cell(&change.forecast)).collect(),
    };
    vec![
        row("Sag", &|forecast| forecast.sag_to_tell().shown(units)),
        row("Chance of being on target", &|forecast| super::in_tens(forecast.chance)),
        row("Rear axle sinks", &|forecast| units.show(forecast.ride.axle_sinks)),
        row("Energy left to full stroke", &|forecast| units.show(forecast.ride.energy_left)),
        row("Bounce frequency", &|forecast| units.show(forecast.ride.bounce)),
        row("Breakaway, % of load", &|forecast| units.show(forecast.ride.breakaway)),
    ]
}

/// Figures told against the spring on the bike; a row in which something was not told is left out.
fn differences(columns: &[MarkedColumn<'_>], units: UnitSet) -> Vec<ChangeRow> {
    let row = |name, cell: &dyn Fn(&AgainstFitted) -> Option<String>| {
        let entered = |(roles, change): &MarkedColumn<'_>| {
            let figure = cell(change.against_fitted.as_ref()?)?;
            Some(if roles.contains(&WhyCompared::Fitted) { AS_IT_IS.to_owned() } else { figure })
        };
        let cells: Option<Vec<String>> = columns.iter().map(entered).collect();
        Some(ChangeRow { name, cells: cells? })
    };
    let rows = [
        row("Rebound damping needed", &|beside| Some(rebound(beside.rebound))),
        row("Bottom bracket", &|beside| beside.bottom_bracket_lower.map(|by| height(by, units))),
        row("Head angle", &|beside| beside.head_angle_slacker.map(angle)),
    ];
    rows.into_iter().flatten().collect()
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
    words_of(&units.show(tenths), lower.value(), "lower", "higher")
}

fn angle(slacker: Angle) -> String {
    // A whole spring step tips a bike by a tenth or two of a degree: hundredths are the figure here.
    let hundredths = format!("{:.2}°", slacker.abs().value());
    words_of(&hundredths, slacker.value(), "slacker", "steeper")
}

/// A size and its direction; what is shown as nothing has none.
fn words_of(size: &str, signed: f64, above: &str, below: &str) -> String {
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
