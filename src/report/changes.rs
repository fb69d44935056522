//! What changes with the spring, as a table of text and as JSON.
//!
//! Not here: which springs are compared (`assessment::changes`), and the words of the table (`phrase::changes`).

use std::fmt::Write;

use serde::Serialize;
use unicode_width::UnicodeWidthStr;

use super::Subject;
use super::json::{measured, tidy};
use crate::assessment::{SpringComparison, WhyCompared};
use crate::phrase;
use crate::session::Setup;
use crate::text::wrap::wrap;
use crate::units::{Angle, Length, UnitSet};

/// One spring of the comparison; what is told against the spring on the bike is null where there is none.
#[derive(Serialize)]
pub(super) struct ChangeReport {
    role: &'static str,
    spring: u16,
    rate_lb_in: f64,
    measured_lb_in: Option<f64>,
    sag_percent: f64,
    u_sag_percent: f64,
    chance_on_target: f64,
    axle_sinks_mm: f64,
    energy_left_j: f64,
    bounce_hz: f64,
    breakaway_percent: f64,
    rebound_more_percent: Option<f64>,
    bottom_bracket_lower_mm: Option<f64>,
    head_angle_slacker_degrees: Option<f64>,
}

impl ChangeReport {
    pub(super) fn of(change: &SpringComparison, setup: &Setup) -> Self {
        let (forecast, beside) = (&change.forecast, change.against_fitted.as_ref());
        Self {
            role: role(change.role),
            spring: forecast.spring.0,
            rate_lb_in: tidy(forecast.label.as_lb_per_in()),
            measured_lb_in: measured(setup, forecast.spring),
            sag_percent: forecast.sag.value.as_percent(),
            u_sag_percent: forecast.sag.uncertainty.as_percent(),
            chance_on_target: forecast.chance.as_fraction(),
            axle_sinks_mm: forecast.ride.axle_sinks.as_mm(),
            energy_left_j: forecast.ride.energy_left.value(),
            bounce_hz: forecast.ride.bounce.value(),
            breakaway_percent: forecast.ride.breakaway.as_percent(),
            rebound_more_percent: beside.map(|beside| beside.rebound.as_percent()),
            bottom_bracket_lower_mm: beside.and_then(|beside| beside.bottom_bracket_lower).map(Length::as_mm),
            head_angle_slacker_degrees: beside.and_then(|beside| beside.head_angle_slacker).map(Angle::value),
        }
    }
}

/// The name of a role that scripts go by.
fn role(role: WhyCompared) -> &'static str {
    match role {
        WhyCompared::Fitted => "fitted",
        WhyCompared::Step => "step",
        WhyCompared::BestMatch => "best_match",
        WhyCompared::Nearest => "nearest",
    }
}

/// Cells of the column of names.
const NAMES: usize = 28;
/// Cells of the widest line of the note.
const NOTE: usize = 98;
/// Least cells of a spring's column.
const COLUMN: usize = 16;

/// The comparison below a heading of its own; nothing where no spring is to be spoken of.
pub(super) fn write_changes(text: &mut String, subject: &Subject<'_>, units: UnitSet) -> std::fmt::Result {
    let Some(table) = phrase::changes(&subject.assessment.changes, subject.setup, units) else {
        return Ok(());
    };
    let widest = table.springs.iter().map(|spring| spring.role.width().max(spring.name.width())).max();
    let column = widest.unwrap_or(0).max(COLUMN) + 2;
    let mut line = |name: &str, cells: &[&str]| {
        let cells: String = cells.iter().map(|cell| padded(cell, column)).collect();
        writeln!(text, "{}", format!("{}{cells}", padded(name, NAMES + 2)).trim_end())
    };
    let springs = &table.springs;
    line("", &[])?;
    line(table.title, &springs.iter().map(|spring| spring.name.as_str()).collect::<Vec<_>>())?;
    line("", &springs.iter().map(|spring| spring.role.as_str()).collect::<Vec<_>>())?;
    for row in &table.rows {
        line(&format!("  {}", row.name), &row.cells.iter().map(String::as_str).collect::<Vec<_>>())?;
    }
    for line in wrap(table.note, NOTE) {
        writeln!(text, "  {line}")?;
    }
    Ok(())
}

fn padded(text: &str, cells: usize) -> String {
    format!("{text}{}", " ".repeat(cells.saturating_sub(text.width())))
}
