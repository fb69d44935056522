//! A session as one JSON object on one line, for databases and notebooks: what was told, what was read, what it means.
//!
//! Units stand in the names; times are UTC, with the offset of the workshop beside them; `null` stands for no value, never
//! zero. `assessment` is the object that `coilwright assess --json` writes; names of that are told in `names`. A name may
//! be added, none changes its meaning. Not here: which sessions (`app`).

mod facts;

use chrono::{SecondsFormat, Utc};
use serde::Serialize;

use super::json::{self, indicator_name, posture_name, step_name, tidy};
use super::{ExportSource, Personal, Subject};
use crate::phrase;
use crate::session::{Condition, Deed, Gap, Origin, Reading, ReadingSet, Stamp, TrailReport, machine};
use crate::text::FreeText;
use facts::EnteredFacts;

/// What the names of a line mean: raised when one changes.
pub(super) const SCHEMA: u32 = 2;

#[derive(Serialize)]
struct ExportLine<'a> {
    schema: u32,
    session: &'a str,
    opened_utc: String,
    utc_offset_minutes: i32,
    demonstration: bool,
    changed_outside: bool,
    step: &'static str,
    swaps: u16,
    who: Option<String>,
    bike: Option<String>,
    notes: Option<String>,
    entered: EnteredFacts<'a>,
    sets: Vec<ExportSet>,
    conditions: Vec<ConditionLine>,
    trail: Vec<TrailLine>,
    remarks: Option<Vec<NoteLine>>,
    assessment: Option<json::Report>,
}

/// What was otherwise than at the intake while some sets were read.
#[derive(Serialize)]
struct ConditionLine {
    number: usize,
    name: Option<String>,
    rider_kg: Option<f64>,
}

#[derive(Serialize)]
struct ExportSet {
    number: usize,
    spring: u16,
    mounting: u16,
    indicator: &'static str,
    gap_seen: Option<bool>,
    posture: &'static str,
    condition: u16,
    preload_turns: f64,
    readings: Vec<ReadingLine>,
}

#[derive(Serialize)]
struct ReadingLine {
    number: u16,
    at_utc: String,
    reading_mm: f64,
    risen_mm: Option<f64>,
    counts: bool,
    void_because: Option<String>,
}

#[derive(Serialize)]
struct TrailLine {
    bottoming: &'static str,
    ride_height: &'static str,
    feel: &'static str,
    note: Option<String>,
}

#[derive(Serialize)]
struct NoteLine {
    at_utc: String,
    text: String,
}

/// The session as one line, without its line end.
///
/// # Errors
/// Only when a figure cannot be written as JSON, which no checked quantity can cause.
pub fn as_line(sitting: &ExportSource<'_>, personal: Personal) -> Result<String, serde_json::Error> {
    let ExportSource { name, record, state, seal, .. } = *sitting;
    let entered = &state.entered;
    let subject = state.setup.as_ref().zip(sitting.assessment);
    let assessment =
        subject.map(|(setup, assessment)| json::report(&Subject { setup, state, assessment, seal }));
    serde_json::to_string(&ExportLine {
        schema: SCHEMA,
        session: name,
        opened_utc: utc(record.opened),
        utc_offset_minutes: record.opened.offset().local_minus_utc() / 60,
        demonstration: entered.origin == Origin::Demonstration,
        changed_outside: !seal.is_sound(),
        step: step_name(state.step),
        swaps: state.on_bike.swaps,
        who: typed(&entered.customer, personal),
        bike: typed(&entered.bike_name, personal),
        notes: typed(&entered.notes, personal),
        entered: EnteredFacts(entered),
        sets: state.sets.iter().enumerate().map(|(index, one)| set(index + 1, one, personal)).collect(),
        conditions: conditions(&state.conditions, personal),
        trail: state.trail.iter().map(|report| trail(report, personal)).collect(),
        remarks: (personal == Personal::Kept).then(|| remarks(sitting)),
        assessment,
    })
}

fn utc(at: Stamp) -> String {
    at.with_timezone(&Utc).to_rfc3339_opts(SecondsFormat::Secs, true)
}

/// What somebody typed, where it is wanted and there is any.
fn typed(text: &FreeText, personal: Personal) -> Option<String> {
    (personal == Personal::Kept && !text.is_empty()).then(|| text.shown().to_string())
}

/// Every condition of a session, its name where such is wanted.
fn conditions(conditions: &[Condition], personal: Personal) -> Vec<ConditionLine> {
    let one = |(index, condition): (usize, &Condition)| ConditionLine {
        number: index + 1,
        name: (personal == Personal::Kept).then(|| condition.name.shown().to_string()),
        rider_kg: condition.rider.map(|rider| tidy(rider.as_kg())),
    };
    conditions.iter().enumerate().map(one).collect()
}

fn set(number: usize, set: &ReadingSet, personal: Personal) -> ExportSet {
    ExportSet {
        number,
        spring: set.spring.0,
        mounting: set.mounting,
        indicator: indicator_name(set.how.indicator),
        gap_seen: set.gap.map(|gap| gap == Gap::Seen),
        posture: posture_name(set.how.posture),
        condition: set.how.condition.number(),
        preload_turns: set.preload_turns.value(),
        readings: set.readings.iter().map(|one| reading(one, personal)).collect(),
    }
}

fn reading(reading: &Reading, personal: Personal) -> ReadingLine {
    ReadingLine {
        number: reading.number.0,
        at_utc: utc(reading.at),
        reading_mm: tidy(reading.distance.as_mm()),
        risen_mm: reading.risen.map(|risen| tidy(risen.as_mm())),
        counts: reading.void.is_none(),
        void_because: reading.void.as_ref().and_then(|because| typed(because, personal)),
    }
}

fn trail(report: &TrailReport, personal: Personal) -> TrailLine {
    TrailLine {
        bottoming: phrase::bottoming(report.bottoming),
        ride_height: phrase::ride_height(report.ride_height),
        feel: phrase::feel(report.feel),
        note: typed(&report.note, personal),
    }
}

/// The remarks that were not taken back.
fn remarks(sitting: &ExportSource<'_>) -> Vec<NoteLine> {
    let entries = &sitting.record.entries;
    let in_effect = machine::in_effect(sitting.record).into_iter().filter_map(|place| entries.get(place));
    let noted = in_effect.filter_map(|entry| match &entry.deed {
        Deed::Noted(text) => Some(NoteLine { at_utc: utc(entry.at), text: text.shown().to_string() }),
        _ => None,
    });
    noted.collect()
}
