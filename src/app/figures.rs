//! Commands that reckon from typed figures alone: a leverage curve, a spring from its wire.
//!
//! What is refused here is refused by the same checks and in the same words as on the screen. Not here: the
//! mathematics (`mechanics`), and what the figures look like (`report`).

use crate::cli::{Ends, LeverageQuery, Wire, WireQuery};
use crate::failure::Failure;
use crate::mechanics::LeverageCurve;
use crate::mechanics::pairs;
use crate::mechanics::survey::survey;
use crate::mechanics::wire::{CaliperedSpring, EndType, Material};
use crate::phrase;
use crate::report;
use crate::session::{Detail, Intake, LeverageKnowledge, LeveragePair};
use crate::units::{Length, UnitSet, Unreadable, parse};

use super::{print, read_text};

/// Says what measured pairs show.
pub(super) fn leverage(query: &LeverageQuery) -> Result<(), Failure> {
    let units = query.units.into();
    let travel = entered("--travel", parse::length(&query.travel, units), units)?;
    let stroke = entered("--stroke", parse::length(&query.stroke, units), units)?;
    let pairs = measured_pairs(query, units)?;
    check(travel, stroke, &pairs, units)?;
    let curve = LeverageCurve::measured(travel, stroke, &pairs)
        .map_err(|error| Failure::new("no curve goes through these pairs").because(error))?;
    let survey = survey(&curve, &pairs);
    if query.json {
        print(&report::leverage_as_json(&survey, &pairs).map_err(unwritable)?)
    } else {
        print(&report::leverage_as_text(&survey, units))
    }
}

fn measured_pairs(query: &LeverageQuery, units: UnitSet) -> Result<Vec<LeveragePair>, Failure> {
    let typed = query.file.to_str().filter(|text| are_pairs(text) && !query.file.exists());
    let text = match typed {
        Some(pairs) => pairs.to_owned(),
        None => read_text(&query.file, "the table of pairs")?,
    };
    let pairs =
        pairs::read(&text, units).map_err(|fault| Failure::new(phrase::pairs_unreadable(&fault, units)))?;
    if query.heights {
        pairs::from_heights(&pairs)
            .map_err(|fault| Failure::new(phrase::leverage::heights_start_elsewhere(fault)))
    } else {
        Ok(pairs)
    }
}

/// Whether a text is pairs and no path: a figure over a figure, several times.
fn are_pairs(text: &str) -> bool {
    let is_figure = |part: &str| part.starts_with(|sign: char| sign.is_ascii_digit());
    let mut words = text.split_whitespace().filter(|word| !matches!(*word, "mm" | "in"));
    let is_pair =
        |word: &str| word.split_once('/').is_some_and(|(one, other)| is_figure(one) && is_figure(other));
    text.contains(char::is_whitespace) && words.all(is_pair)
}

/// Whether travel, stroke and pairs would be accepted in an intake.
fn check(travel: Length, stroke: Length, pairs: &[LeveragePair], units: UnitSet) -> Result<(), Failure> {
    let measured = LeverageKnowledge::Measured(pairs.to_vec());
    let details = [Detail::Travel(travel), Detail::Stroke(stroke), Detail::Leverage(measured)];
    let mut intake = Intake::default();
    for detail in details {
        intake.enter(detail).map_err(|refusal| Failure::new(phrase::refusal(&refusal, units)))?;
    }
    Ok(())
}

/// Says what a spring's wire tells.
pub(super) fn wire(query: &WireQuery) -> Result<(), Failure> {
    let units = query.units.into();
    let length = |option, text: &str| entered(option, parse::length(text, units), units);
    let spring = CaliperedSpring {
        wire: length("--wire", &query.wire)?,
        outer: length("--outer", &query.outer)?,
        coils: entered("--coils", parse::turns(&query.coils), units)?,
        ends: query.ends.into(),
        material: query.material.into(),
        free_length: query.free_length.as_deref().map(|text| length("--free-length", text)).transpose()?,
        calipers: length("--calipers", &query.calipers)?,
    };
    let figures = spring.figures().map_err(|fault| Failure::new(phrase::wire_fault(fault, units)))?;
    if query.json {
        print(&report::wire_as_json(&figures).map_err(unwritable)?)
    } else {
        print(&report::wire_as_text(&figures, units))
    }
}

/// The figure of an option, or why it cannot be read.
fn entered<Q>(
    option: &str,
    read: Result<parse::ParsedFigure<Q>, Unreadable>,
    units: UnitSet,
) -> Result<Q, Failure> {
    read.map(|understood| understood.value)
        .map_err(|fault| Failure::new(format!("{option}: {}", phrase::unreadable(&fault, units))))
}

fn unwritable(error: serde_json::Error) -> Failure {
    Failure::new("the figures cannot be written as JSON").because(error)
}

impl From<Ends> for EndType {
    fn from(ends: Ends) -> Self {
        match ends {
            Ends::ClosedGround => Self::ClosedGround,
            Ends::Closed => Self::Closed,
            Ends::PlainGround => Self::PlainGround,
            Ends::Plain => Self::Plain,
        }
    }
}

impl From<Wire> for Material {
    fn from(wire: Wire) -> Self {
        match wire {
            Wire::ChromeSilicon => Self::ChromeSilicon,
            Wire::ChromeVanadium => Self::ChromeVanadium,
            Wire::OilTempered => Self::OilTempered,
            Wire::MusicWire => Self::MusicWire,
            Wire::TitaniumSixFour => Self::TitaniumSixFour,
            Wire::Titanium38644 => Self::Titanium38644,
        }
    }
}
