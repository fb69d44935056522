//! Format 1: a record as fields and entries, in the order of the table of facts, laid out for the eye; and the way back.
//!
//! Not here: the text taken apart (`fields`), a value (`value`), and older formats (`upgrade`).

use std::fmt::Write;

use ron::error::SpannedError;
use ron::ser::PrettyConfig;
use serde::Serialize;

use super::fault::Place;
use super::fields::{self, Sheet, options};
use super::value::{self, Maybe};
use super::{FORMAT, Fault};
use crate::session::{Aim, Entry, Fact, Origin, Record, Shape, Stamp, Value, moment};

/// A moment on its own.
#[derive(Serialize, serde::Deserialize)]
#[serde(transparent)]
struct Moment(#[serde(with = "moment")] Stamp);

/// What could be read of a sheet, and the faults in it, each with its place.
pub(super) struct Gathered {
    pub(super) record: Option<Record>,
    pub(super) unreadable: Vec<(Place, Unreadable)>,
    pub(super) impossible: Option<(Place, Fault)>,
    pub(super) unknown: Vec<(String, String)>,
}

/// Why a piece cannot be read.
pub(super) enum Unreadable {
    Syntax(SpannedError),
    Reason(String),
}

/// Reads what can be read.
pub(super) fn gather(text: &str, sheet: &Sheet<'_>) -> Gathered {
    let mut unreadable = Vec::new();
    let mut keep = |piece: &str, why| unreadable.push((fields::place_of(text, piece), why));
    for (place, (name, piece)) in sheet.fields.iter().enumerate() {
        if sheet.fields[..place].iter().any(|(before, _)| before == name) {
            keep(piece, Unreadable::Reason(format!("the field {name} stands here a second time")));
        }
    }
    let opened = sheet.field("opened").and_then(|piece| {
        fields::read::<Moment>(text, piece).map_err(|error| keep(piece, Unreadable::Syntax(error))).ok()
    });
    let origin = sheet.field("origin").and_then(|piece| {
        fields::read::<Option<Origin>>(text, piece)
            .map_err(|error| keep(piece, Unreadable::Syntax(error)))
            .ok()?
    });
    let mut told = Vec::new();
    for fact in Fact::ALL {
        let about = fact.about();
        let Some(piece) = about.keys.iter().find_map(|key| sheet.field(key)) else { continue };
        let value = match about.shape {
            Shape::Aim => aim(text, sheet, about.keys),
            shape => fields::read_seed(text, piece, Maybe(shape))
                .map_err(|error| (piece, Unreadable::Syntax(error))),
        };
        match value {
            Ok(value) => {
                told.extend(value.and_then(|value| Some((piece, about.keys[0], fact.detail(Some(value))?))))
            }
            Err((piece, why)) => keep(piece, why),
        }
    }
    let mut entries: Vec<Entry> = Vec::new();
    for piece in sheet.entries.iter().flatten() {
        match fields::read(text, piece) {
            Ok(entry) => entries.push(entry),
            Err(error) => {
                keep(piece, Unreadable::Syntax(error));
                break;
            }
        }
    }
    let is_known = |name: &str| {
        matches!(name, "format" | "opened" | "origin")
            || Fact::ALL.iter().any(|fact| fact.about().keys.contains(&name))
    };
    let unknown = sheet.fields.iter().filter(|(name, _)| !is_known(name));
    let unknown = unknown.map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
    let mut impossible = None;
    let record = opened.map(|Moment(opened)| {
        let mut record = Record::new(opened);
        record.intake.origin = origin.unwrap_or_default();
        for (piece, field, detail) in told {
            if let Err(refusal) = record.intake.tell(detail) {
                impossible
                    .get_or_insert((fields::place_of(text, piece), Fault::Impossible { field, refusal }));
            }
        }
        record.entries = entries;
        record
    });
    Gathered { record, unreadable, impossible, unknown }
}

/// The aim, whose figures are fields of the record.
fn aim<'t>(text: &str, sheet: &Sheet<'t>, keys: &[&str]) -> Result<Option<Value>, (&'t str, Unreadable)> {
    let mut figures = [None; 4];
    let mut first = None;
    for (figure, key) in figures.iter_mut().zip(keys) {
        if let Some(piece) = sheet.field(key) {
            first.get_or_insert(piece);
            *figure = fields::read(text, piece).map_err(|error| (piece, Unreadable::Syntax(error)))?;
        }
    }
    match (first, value::aim(figures)) {
        (_, Ok(aim)) => Ok(Some(Value::Aim(aim))),
        (Some(piece), Err(reason)) => Err((piece, Unreadable::Reason(reason.to_owned()))),
        (None, Err(_)) => Ok(None),
    }
}

/// Writes a record with the fields it came with and this program does not know.
pub(super) fn write(record: &Record, unknown: &[(String, String)]) -> Result<String, ron::Error> {
    let mut text = format!("(\n    format: {FORMAT},\n");
    let mut line = |field: &str, value: &str| writeln!(text, "    {field}: {value},");
    if record.intake.origin != Origin::default() {
        line("origin", &laid_out(&record.intake.origin)?)?;
    }
    line("opened", &laid_out(&Moment(record.opened))?)?;
    for fact in Fact::ALL {
        let keys = fact.about().keys;
        match record.intake.told(*fact) {
            None => {}
            Some(Value::Aim(aim)) => {
                for (key, figure) in keys.iter().zip(aim_figures(aim)) {
                    if let Some(figure) = figure {
                        line(key, &laid_out(&figure)?)?;
                    }
                }
            }
            Some(value) => line(keys[0], &laid_out(&value)?)?,
        }
    }
    for (field, value) in unknown {
        line(&spelled(field), value)?;
    }
    text.push_str("    entries: [\n");
    let one_line = PrettyConfig::new().compact_structs(true).compact_arrays(true).new_line("\n");
    for entry in &record.entries {
        writeln!(text, "        {},", options().to_string_pretty(entry, one_line.clone())?)?;
    }
    text.push_str("    ],\n)\n");
    Ok(text)
}

fn aim_figures(aim: Aim) -> [Option<f64>; 4] {
    value::aim_figures(aim)
}

/// A value as text, with the items of a list one a line. No line break comes from inside a text: those are escaped.
fn laid_out(value: &impl Serialize) -> Result<String, ron::Error> {
    let layout = PrettyConfig::new().compact_structs(true).new_line("\n");
    Ok(options().to_string_pretty(value, layout)?.replace('\n', "\n    "))
}

/// A field's name as RON wants it spelled: `r#` before a name that is not a plain word.
fn spelled(field: &str) -> String {
    let plain = !field.contains(['.', '+', '-']) && !field.starts_with(|first: char| first.is_ascii_digit());
    if plain { field.to_owned() } else { format!("r#{field}") }
}
