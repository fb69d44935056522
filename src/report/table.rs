//! The sets of many sessions flat, one a row: as a CSV table for a spreadsheet, or as lines of JSON for a database.
//!
//! The columns are named in `names::sets`, and are the same in both. //! Quoting and line ends are those of RFC 4180. A spreadsheet takes a text cell that begins with `=`, `+`, `-` or `@` for
//! a formula; such a beginning gets an apostrophe in front, behind every separator that is used somewhere, which is what people type there themselves to the same end (OWASP,
//! "CSV Injection"; from memory). Cells of figures are never touched. Not here: which sessions (`app`).

use chrono::{SecondsFormat, Utc};
use serde::{Serialize, Serializer};

use super::codes::{bottoming_name, feel_name, ride_height_name, symptom_name};
use super::json::{indicator_name, label, posture_name, standing_name, step_name, tidy};
use super::names::SETS;
use super::{ExportSource, Personal};
use crate::assessment::SetFinding;
use crate::session::{Condition, Gap, Origin, ReadingSet, Setup};
use crate::text::FreeText;
use crate::units::{Length, Mass, Share};

/// The line of column names, with its line end.
pub fn heading() -> String {
    let columns: Vec<_> = SETS.iter().map(|column| column.path).collect();
    format!("{}\r\n", columns.join(","))
}

/// One row for every set of the session, each with its line end; nothing while the intake is open.
pub fn as_rows(sitting: &ExportSource<'_>, personal: Personal) -> String {
    let row =
        |cells: Vec<Cell>| format!("{}\r\n", cells.iter().map(Cell::written).collect::<Vec<_>>().join(","));
    rows(sitting, personal).into_iter().map(row).collect()
}

/// One JSON object for every set of the session, each on a line of its own under the names of the columns; nothing while the
/// intake is open. A figure always has its decimal point and a count never has, so that a column keeps its kind.
///
/// # Errors
/// Only when a figure cannot be written as JSON, which no checked quantity can cause.
pub fn as_set_lines(sitting: &ExportSource<'_>, personal: Personal) -> Result<String, serde_json::Error> {
    let row = |cells: Vec<Cell>| serde_json::to_string(&NamedCells(&cells)).map(|line| line + "\n");
    rows(sitting, personal).into_iter().map(row).collect()
}

/// The cells of every set, in the order of the columns.
fn rows(sitting: &ExportSource<'_>, personal: Personal) -> Vec<Vec<Cell>> {
    let (Some(setup), Some(assessment)) = (&sitting.state.setup, sitting.assessment) else {
        return Vec::new();
    };
    let sets = sitting.state.sets.iter().enumerate().map(|(index, set)| {
        let number = index + 1;
        let finding = assessment.sets.iter().find(|finding| finding.number == number);
        let mut cells = session_cells(sitting, setup, personal);
        cells.extend(set_cells(number, set, setup));
        cells.extend(finding_cells(finding));
        cells.extend(how_cells(set, &sitting.state.conditions));
        cells.push(Cell::Flag(!sitting.seal.is_sound()));
        cells.extend(outcome_cells(sitting));
        cells
    });
    sets.collect()
}

/// One cell of a row.
#[derive(Serialize)]
#[serde(untagged)]
enum Cell {
    /// Words: quoted, and no formula.
    Text(String),
    /// Yes or no.
    Flag(bool),
    /// A whole number.
    Count(i64),
    /// A figure as it stands.
    Figure(f64),
    /// No value; never a nought.
    Nothing,
}

/// The cells of a row under the names of their columns.
struct NamedCells<'a>(&'a [Cell]);

impl Serialize for NamedCells<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(SETS.iter().map(|column| column.path).zip(self.0))
    }
}

impl Cell {
    fn figure(figure: f64) -> Self {
        Self::Figure(tidy(figure))
    }

    fn count(count: usize) -> Self {
        i64::try_from(count).map_or(Self::Nothing, Self::Count)
    }

    fn code(name: &str) -> Self {
        Self::Text(name.to_owned())
    }

    fn entered(text: &FreeText, personal: Personal) -> Self {
        match personal {
            Personal::Kept if !text.is_empty() => Self::Text(text.shown().to_string()),
            Personal::Kept | Personal::LeftOut => Self::Nothing,
        }
    }

    fn written(&self) -> String {
        match self {
            Self::Text(text) => {
                format!("\"{}\"", guarded(text).replace('"', "\"\""))
            }
            Self::Flag(flag) => format!("\"{flag}\""),
            Self::Count(count) => count.to_string(),
            Self::Figure(figure) => figure.to_string(),
            Self::Nothing => String::new(),
        }
    }
}

/// The text with an apostrophe wherever a formula could begin: at the start, and behind everything that a spreadsheet set up
/// for another country takes for the end of a cell.
fn guarded(text: &str) -> String {
    let mut guarded = String::with_capacity(text.len());
    let mut opens = true;
    for letter in text.chars() {
        if opens && acts_in_a_spreadsheet(letter) {
            guarded.push('\'');
        }
        // Quotes and blanks round a separator are dropped by some.
        opens = ends_a_cell(letter) || (opens && (letter == ' ' || letter == '"'));
        guarded.push(letter);
    }
    guarded
}

/// Whether a spreadsheet may take a cell to end here.
fn ends_a_cell(letter: char) -> bool {
    matches!(letter, ';' | ',' | '|' | '\t' | '\n' | '\r' | '"')
}

/// Whether a cell that begins so is taken for a formula; the wide forms are, in some languages.
fn acts_in_a_spreadsheet(first: char) -> bool {
    matches!(first, '=' | '+' | '-' | '@' | '\t' | '\r' | '＝' | '＋' | '－' | '＠')
}

fn session_cells(sitting: &ExportSource<'_>, setup: &Setup, personal: Personal) -> Vec<Cell> {
    let (opened, entered) = (sitting.record.opened, &sitting.state.entered);
    let demonstration = entered.origin == Origin::Demonstration;
    vec![
        Cell::Text(sitting.name.to_owned()),
        Cell::Text(opened.with_timezone(&Utc).to_rfc3339_opts(SecondsFormat::Secs, true)),
        Cell::Count(i64::from(opened.offset().local_minus_utc() / 60)),
        Cell::Flag(demonstration),
        Cell::code(step_name(sitting.state.step)),
        Cell::entered(&entered.customer, personal),
        Cell::entered(&entered.bike_name, personal),
        entered.rider.map_or(Cell::Nothing, |rider| Cell::figure(Mass::as_kg(rider))),
        entered.bike.map_or(Cell::Nothing, |bike| Cell::figure(Mass::as_kg(bike))),
        entered.travel.map_or(Cell::Nothing, |travel| Cell::figure(Length::as_mm(travel))),
        Cell::figure(Length::as_mm(setup.shock.stroke)),
        Cell::figure(Share::as_percent(setup.target.sag)),
        Cell::figure(Share::as_percent(setup.target.tolerance)),
    ]
}

fn set_cells(number: usize, set: &ReadingSet, setup: &Setup) -> [Cell; 7] {
    let used = set.counting().count();
    [
        Cell::count(number),
        Cell::Count(i64::from(set.spring.0)),
        label(setup, set.spring).map_or(Cell::Nothing, Cell::figure),
        Cell::figure(set.preload_turns.value()),
        Cell::figure(setup.shock.preload(set.preload_turns).as_mm()),
        Cell::count(used),
        Cell::count(set.readings.len() - used),
    ]
}

/// How the set was read; `pairs` counts the readings taken from above and from below.
fn how_cells(set: &ReadingSet, conditions: &[Condition]) -> [Cell; 7] {
    let rider = set.how.condition.on(conditions).and_then(|condition| condition.rider);
    [
        Cell::Count(i64::from(set.mounting)),
        Cell::code(indicator_name(set.how.indicator)),
        Cell::code(posture_name(set.how.posture)),
        Cell::Count(i64::from(set.how.condition.number())),
        rider.map_or(Cell::Nothing, |rider| Cell::figure(rider.as_kg())),
        set.gap.map_or(Cell::Nothing, |gap| Cell::Flag(gap == Gap::Seen)),
        Cell::count(set.counting().filter(|reading| reading.risen.is_some()).count()),
    ]
}

fn finding_cells(finding: Option<&SetFinding>) -> [Cell; 7] {
    let Some(set) = finding else { return [const { Cell::Nothing }; 7] };
    [
        Cell::figure(set.average.value.as_mm()),
        Cell::figure(set.average.uncertainty.as_mm()),
        set.scatter.map_or(Cell::Nothing, |scatter| Cell::figure(scatter.as_mm())),
        Cell::figure(set.sag.value.as_percent()),
        Cell::figure(set.sag.uncertainty.as_percent()),
        Cell::figure(set.ninety_percent.as_percent()),
        Cell::code(standing_name(set.standing)),
    ]
}

/// How the session went, the same in each of its rows: which write of its file this is, swaps and sets, and what the last ride
/// answered.
fn outcome_cells(sitting: &ExportSource<'_>) -> [Cell; 9] {
    let state = sitting.state;
    let last = state.trail.last();
    let deepest = state.rides.iter().rev().find_map(|ride| ride.deepest);
    let bothers = state.rides.iter().rev().find_map(|ride| ride.symptom);
    [
        i64::try_from(sitting.seal.revision().get()).map_or(Cell::Nothing, Cell::Count),
        Cell::Count(i64::from(state.on_bike.swaps)),
        Cell::count(state.sets.len()),
        Cell::count(state.trail.len()),
        last.map_or(Cell::Nothing, |ride| Cell::code(bottoming_name(ride.bottoming))),
        last.map_or(Cell::Nothing, |ride| Cell::code(ride_height_name(ride.ride_height))),
        last.map_or(Cell::Nothing, |ride| Cell::code(feel_name(ride.feel))),
        deepest.map_or(Cell::Nothing, |deepest| Cell::figure(deepest.as_mm())),
        bothers.map_or(Cell::Nothing, |bothers| Cell::code(symptom_name(bothers))),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entered(text: &str) -> String {
        Cell::entered(&FreeText::new(text), Personal::Kept).written()
    }

    #[test]
    fn a_formula_becomes_text() {
        for first in ["=", "+", "-", "@", "＝"] {
            assert_eq!(entered(&format!("{first}1+1")), format!("\"'{first}1+1\""));
        }
        assert_eq!(entered("1=1"), "\"1=1\"");
    }

    #[test]
    fn a_negative_figure_stays_a_figure() {
        assert_eq!(Cell::figure(-2.5).written(), "-2.5");
    }

    #[test]
    fn no_formula_opens_behind_a_separator_of_any_country() {
        for (name, kept) in [
            ("Max;=1+1;x", "Max;'=1+1;x"),
            ("\";=1+1;\"", "\"\";'=1+1;\"\""),
            ("a| @x", "a| '@x"),
            ("a,-1", "a,'-1"),
            ("half-way; 450+", "half-way; 450+"),
        ] {
            assert_eq!(entered(name), format!("\"{kept}\""));
        }
    }

    #[test]
    fn a_quotation_mark_is_doubled_and_a_comma_kept() {
        // RFC 4180, section 2, rules 6 and 7.
        assert_eq!(entered("the \"big\" one, blue"), "\"the \"\"big\"\" one, blue\"");
    }

    #[test]
    fn every_column_has_a_cell() {
        let nothing = finding_cells(None);
        assert_eq!(
            SETS.len(),
            13 + 7 + nothing.len() + 8 + 9,
            "how it was read, whether changed outside, and the outcome"
        );
    }
}
