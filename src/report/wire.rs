//! A spring reckoned from its wire, on paper and as JSON.
//!
//! Not here: the words (`phrase::wire`), and the formula (`mechanics::wire`).

use std::fmt::Write;

use serde::Serialize;

use crate::mechanics::wire::WireFigures;
use crate::phrase;
use crate::units::{Length, UnitSet};

/// What the wire says, as lines of text, and what comes before it; ends with a line break.
pub fn wire_as_text(figures: &WireFigures, units: UnitSet) -> String {
    let mut text = String::new();
    for (name, figure) in phrase::wire(figures, units) {
        // Writing to a String cannot fail.
        let _ = writeln!(text, "{name:<24}{figure}");
    }
    if let Some(unusual) = phrase::wire_unusual(figures, units) {
        let _ = writeln!(text, "\n{unusual}");
    }
    let _ = writeln!(text, "\n{}", phrase::MAKER_FIRST);
    text
}

#[derive(Serialize)]
struct WireReport {
    schema: u32,
    rate_lb_in: f64,
    u_rate_lb_in: f64,
    rate_n_mm: f64,
    u_rate_n_mm: f64,
    active_coils: f64,
    solid_length_mm: f64,
    greatest_deflection_mm: Option<f64>,
    unusual: Option<String>,
    mind: &'static str,
}

/// What the wire says as one JSON object, over several lines.
///
/// # Errors
/// Only when a figure cannot be written as JSON, which no checked quantity can cause.
pub fn wire_as_json(figures: &WireFigures) -> Result<String, serde_json::Error> {
    let rate = figures.rate;
    serde_json::to_string_pretty(&WireReport {
        schema: 1,
        rate_lb_in: rate.value.as_lb_per_in(),
        u_rate_lb_in: rate.uncertainty.as_lb_per_in(),
        rate_n_mm: rate.value.as_n_per_mm(),
        u_rate_n_mm: rate.uncertainty.as_n_per_mm(),
        active_coils: figures.active_coils,
        solid_length_mm: figures.solid_length.as_mm(),
        greatest_deflection_mm: figures.greatest_deflection.map(Length::as_mm),
        unusual: phrase::wire_unusual(figures, UnitSet::Trade),
        mind: phrase::MAKER_FIRST,
    })
}
