//! The sets of many sessions as one flat CSV table, one row a set, for a spreadsheet or a database.
//!
//! Quoting and line ends are those of RFC 4180. A spreadsheet takes a text cell that begins with `=`, `+`, `-` or `@` for
//! a formula; such a beginning gets an apostrophe in front, behind every separator that is used somewhere, which is what people type there themselves to the same end (OWASP,
//! "CSV Injection"; from memory). Cells of figures are never touched. Not here: which sessions (`app`).

use chrono::{SecondsFormat, Utc};

use super::json::{indicator_name, label, posture_name, standing_name, step_name, tidy};
use super::{ExportSource, Personal};
use crate::assessment::SetFinding;
use crate::session::{Condition, Gap, Origin, ReadingSet, Setup};
use crate::text::FreeText;
use crate::units::{Length, Mass, Share};

/// The columns, in order. A column may be added at the end; none changes its meaning.
const COLUMNS: [&str; 35] = [
    "session",
    "opened_utc",
    "utc_offset_minutes",
    "demonstration",
    "step",
    "customer",
    "bike",
    "rider_kg",
    "bike_kg",
    "travel_mm",
    "stroke_mm",
    "target_percent",
    "tolerance_percent",
    "set",
    "spring",
    "rate_lb_in",
    "preload_turns",
    "preload_mm",
    "readings_used",
    "readings_void",
    "average_mm",
    "u_average_mm",
    "scatter_mm",
    "sag_percent",
    "u_sag_percent",
    "ninety_percent_within",
    "standing",
    "mounting",
    "indicator",
    "posture",
    "condition",
    "condition_rider_kg",
    "gap_seen",
    "pairs",
    "changed_outside",
];

/// The line of column names, with its line end.
pub fn heading() -> String {
    format!("{}\r\n", COLUMNS.join(","))
}

/// One row for every set of the session, each with its line end; nothing while the intake is open.
pub fn as_rows(sitting: &ExportSource<'_>, personal: Personal) -> String {
    let (Some(setup), Some(assessment)) = (&sitting.state.setup, sitting.assessment) else {
        return String::new();
    };
    let sets = sitting.state.sets.iter().enumerate().map(|(index, set)| {
        let number = index + 1;
        let finding = assessment.sets.iter().find(|finding| finding.number == number);
        let mut cells = session_cells(sitting, setup, personal);
        cells.extend(set_cells(number, set, setup));
        cells.extend(finding_cells(finding));
        cells.extend(how_cells(set, &sitting.state.conditions));
        cells.push(Cell::Text((!sitting.seal.is_sound()).to_string()));
        format!("{}\r\n", cells.iter().map(Cell::written).collect::<Vec<_>>().join(","))
    });
    sets.collect()
}

/// One cell of a row.
enum Cell {
    /// Words: quoted, and no formula.
    Text(String),
    /// A figure as it stands.
    Figure(f64),
    /// No value; never a nought.
    Nothing,
}

impl Cell {
    fn figure(figure: f64) -> Self {
        Self::Figure(tidy(figure))
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
        Cell::figure(f64::from(opened.offset().local_minus_utc() / 60)),
        Cell::Text(demonstration.to_string()),
        Cell::Text(step_name(sitting.state.step).to_owned()),
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
        Cell::figure(number as f64),
        Cell::figure(f64::from(set.spring.0)),
        label(setup, set.spring).map_or(Cell::Nothing, Cell::figure),
        Cell::figure(set.preload_turns.value()),
        Cell::figure(setup.shock.preload(set.preload_turns).as_mm()),
        Cell::figure(used as f64),
        Cell::figure((set.readings.len() - used) as f64),
    ]
}

/// How the set was read; `pairs` counts the readings taken from above and from below.
fn how_cells(set: &ReadingSet, conditions: &[Condition]) -> [Cell; 7] {
    let rider = set.how.condition.on(conditions).and_then(|condition| condition.rider);
    [
        Cell::figure(f64::from(set.mounting)),
        Cell::Text(indicator_name(set.how.indicator).to_owned()),
        Cell::Text(posture_name(set.how.posture).to_owned()),
        Cell::figure(f64::from(set.how.condition.number())),
        rider.map_or(Cell::Nothing, |rider| Cell::figure(rider.as_kg())),
        set.gap.map_or(Cell::Nothing, |gap| Cell::Text((gap == Gap::Seen).to_string())),
        Cell::figure(set.counting().filter(|reading| reading.risen.is_some()).count() as f64),
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
        Cell::Text(standing_name(set.standing).to_owned()),
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
        assert_eq!(COLUMNS.len(), 13 + 7 + nothing.len() + 8, "and whether it was changed outside");
    }
}
