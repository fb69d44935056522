//! A measured leverage curve on paper: its figures, a plot in characters, and JSON for scripts.
//!
//! The plot is plain ASCII, so that it can be mailed and printed anywhere. Not here: the words (`phrase::leverage`), and
//! reading the pairs.

use std::fmt::Write;

use serde::Serialize;

use super::plot::{Plot, plot};
use crate::mechanics::LeveragePair;
use crate::mechanics::survey::{LeverageSurvey, RatioAt};
use crate::phrase;
use crate::units::{Kind, Length, Show, UnitSet};

/// The figures of the curve and its plot; ends with a line break.
pub fn leverage_as_text(survey: &LeverageSurvey, units: UnitSet) -> String {
    let mut text = String::new();
    for (name, figure) in phrase::survey(survey, units) {
        // Writing to a String cannot fail.
        let _ = writeln!(text, "{name:<20}{figure}");
    }
    let stroke = survey.curve.last().map_or(Length::ZERO, |last| last.stroke);
    let figure = |length: Length| length.even(units).figure;
    let unit = units.unit(Kind::Length).symbol();
    let _ = writeln!(text, "\nLeverage ratio over stroke; o between two pairs, . the curve\n");
    let drawn = plot(&Plot {
        line: survey.curve.iter().map(place).collect(),
        points: survey.measured.iter().map(place).collect(),
        along: [figure(Length::ZERO), figure(stroke / 2.0), format!("{} {unit}", figure(stroke))],
    });
    text.push_str(&drawn);
    text
}

fn place(at: &RatioAt) -> (f64, f64) {
    (at.stroke.as_mm(), at.ratio.value())
}

#[derive(Serialize)]
struct LeverageReport {
    schema: u32,
    start_ratio: f64,
    mean_ratio: f64,
    end_ratio: f64,
    falloff_percent: f64,
    largest_misfit_mm: Option<f64>,
    largest_misfit_pair: Option<usize>,
    pairs: Vec<PairReport>,
    curve: Vec<RatioReport>,
}

#[derive(Serialize)]
struct PairReport {
    stroke_mm: f64,
    wheel_mm: f64,
}

#[derive(Serialize)]
struct RatioReport {
    stroke_mm: f64,
    ratio: f64,
}

/// The figures of the curve as one JSON object, over several lines.
///
/// # Errors
/// Only when a figure cannot be written as JSON, which no checked quantity can cause.
pub fn leverage_as_json(
    survey: &LeverageSurvey,
    pairs: &[LeveragePair],
) -> Result<String, serde_json::Error> {
    let pair =
        |pair: &LeveragePair| PairReport { stroke_mm: pair.stroke.as_mm(), wheel_mm: pair.wheel.as_mm() };
    let ratio = |at: &RatioAt| RatioReport { stroke_mm: at.stroke.as_mm(), ratio: at.ratio.value() };
    serde_json::to_string_pretty(&LeverageReport {
        schema: 1,
        start_ratio: survey.start.value(),
        mean_ratio: survey.mean.value(),
        end_ratio: survey.end.value(),
        falloff_percent: survey.falloff.as_percent(),
        largest_misfit_mm: survey.misfit.map(|misfit| misfit.largest.as_mm()),
        largest_misfit_pair: survey.misfit.map(|misfit| misfit.pair),
        pairs: pairs.iter().map(pair).collect(),
        curve: survey.curve.iter().map(ratio).collect(),
    })
}
