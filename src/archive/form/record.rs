//! Formats 2 to 4: a record as fields and entries, in the order of the table of facts, laid out for the eye; and the way back,
//! in one go, so that what stands before a broken place is not lost.
//!
//! Not here: a value (`value`), where in the text something stands (`fields`), and older formats (`upgrade`).

use std::collections::BTreeSet;
use std::fmt::{self, Write};

use ron::error::SpannedError;
use ron::ser::PrettyConfig;
use ron::value::RawValue;
use serde::de::{self, DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Serialize};

use super::FORMAT;
use super::fields::{FieldName, options, piece};
use super::parts;
use super::value::Maybe;
use crate::session::{Deed, Detail, Entry, Fact, Origin, Record, Spring, Stamp, Value, moment};

/// The last format in which an entry names nobody.
const WITHOUT_NAMES: u32 = 2;
/// The last format in which no spring has a mark.
const WITHOUT_MARKS: u32 = 3;

/// A moment on its own.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(transparent)]
struct Moment(#[serde(with = "moment")] Stamp);

/// What was read so far.
#[derive(Debug, Default)]
pub(super) struct RecordReader {
    opened: Option<Moment>,
    origin: Option<Origin>,
    entered: Vec<(&'static str, Detail)>,
    /// The figures of the aim, which are fields of the record; in the order of their names in the table.
    target: [Option<f64>; 4],
    entries: Vec<Entry>,
    unknown: Vec<(String, String)>,
}

/// What could be read, made into a record.
pub(super) struct Gathered {
    pub(super) record: Record,
    /// The first detail that cannot be, with its field.
    pub(super) fault: Option<(&'static str, super::RecordFault)>,
    pub(super) unknown: Vec<(String, String)>,
}

/// Reads a text; what was read before an error stays.
pub(super) fn read(text: &str) -> (RecordReader, Result<(), SpannedError>) {
    let mut reading = RecordReader::default();
    let read = options().from_str_seed(text, &mut reading);
    (reading, read)
}

impl RecordReader {
    /// The record; none where the time of opening is missing.
    pub(super) fn gather(self) -> Option<Gathered> {
        let mut record = Record::new(self.opened?.0);
        record.intake.origin = self.origin.unwrap_or_default();
        let target_keys = Fact::Target.about().keys;
        let given = target_keys.iter().zip(self.target).find(|(_, figure)| figure.is_some());
        let target = given.map(|(key, _)| (*key, parts::target(self.target).map(Detail::Target)));
        let mut fault = None;
        let all = self.entered.iter().map(|(_, detail)| detail.clone());
        let together = match &target {
            None => record.intake.enter_all(all).is_ok(),
            Some((_, Ok(target))) => record.intake.enter_all(all.chain([target.clone()])).is_ok(),
            Some((_, Err(_))) => false,
        };
        if !together {
            // One by one to find the fault, in the order of the table: what is checked against something comes after it.
            let mut entered = self.entered;
            entered.sort_by_key(|(_, detail)| detail.fact());
            for (field, detail) in
                entered.into_iter().map(|(field, detail)| (field, Ok(detail))).chain(target)
            {
                let entered = match detail {
                    Ok(detail) => {
                        let entered = record.intake.enter(detail);
                        entered.map_err(|refusal| super::RecordFault::Impossible { field, refusal })
                    }
                    Err(reason) => Err(super::RecordFault::Unreadable(reason.to_owned())),
                };
                fault = fault.or(entered.err().map(|fault| (field, fault)));
            }
        }
        record.entries = self.entries;
        Some(Gathered { record, fault, unknown: self.unknown })
    }

    fn take<'t, A: MapAccess<'t>>(&mut self, name: &'t str, fields: &mut A) -> Result<(), A::Error> {
        let fact = Fact::ALL.iter().find_map(|fact| {
            let place = fact.about().keys.iter().position(|key| *key == name)?;
            Some((*fact, place))
        });
        match (name, fact) {
            ("format", _) => drop(fields.next_value::<u32>()?),
            ("opened", _) => self.opened = Some(fields.next_value()?),
            ("origin", _) => self.origin = fields.next_value()?,
            ("entries", _) => fields.next_value_seed(EntryReader(&mut self.entries))?,
            (_, Some((Fact::Target, place))) => self.target[place] = fields.next_value()?,
            (_, Some((fact, _))) => {
                let about = fact.about();
                let value = fields.next_value_seed(Maybe(about.shape))?;
                self.entered.extend(value.and_then(|value| Some((about.keys[0], fact.detail(Some(value))?))));
            }
            (_, None) => {
                self.unknown.push((name.to_owned(), piece(fields.next_value::<&RawValue>()?).to_owned()));
            }
        }
        Ok(())
    }
}

impl<'t> DeserializeSeed<'t> for &mut RecordReader {
    type Value = ();
    fn deserialize<D: Deserializer<'t>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_struct("Record", &[], self)
    }
}

impl<'t> Visitor<'t> for &mut RecordReader {
    type Value = ();
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("the fields of a record")
    }
    fn visit_map<A: MapAccess<'t>>(self, mut fields: A) -> Result<(), A::Error> {
        let mut seen = BTreeSet::new();
        while let Some(name) = fields.next_key_seed(FieldName)? {
            if !seen.insert(name) {
                return Err(de::Error::custom(format!("the field {name} is here twice")));
            }
            self.take(name, &mut fields)?;
        }
        // Without this, a misspelt `entries` would be one more unknown field, and the work done would seem undone.
        if seen.contains("entries") { Ok(()) } else { Err(de::Error::missing_field("entries")) }
    }
}

struct EntryReader<'e>(&'e mut Vec<Entry>);

impl<'t> DeserializeSeed<'t> for EntryReader<'_> {
    type Value = ();
    fn deserialize<D: Deserializer<'t>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_seq(self)
    }
}

impl<'t> Visitor<'t> for EntryReader<'_> {
    type Value = ();
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a list of entries")
    }
    fn visit_seq<A: SeqAccess<'t>>(self, mut entries: A) -> Result<(), A::Error> {
        while let Some(entry) = entries.next_element()? {
            self.0.push(entry);
        }
        Ok(())
    }
}

/// Writes a record with the fields it came with and this program does not know.
pub(super) fn write(record: &Record, unknown: &[(String, String)]) -> Result<String, ron::Error> {
    let format = format_for(record);
    let mut text = format!("(\n    format: {format},\n");
    let mut line = |field: &str, value: &str| writeln!(text, "    {field}: {value},");
    if record.intake.origin != Origin::default() {
        line("origin", &laid_out(&record.intake.origin)?)?;
    }
    line("opened", &laid_out(&Moment(record.opened))?)?;
    for fact in Fact::ALL {
        let keys = fact.about().keys;
        match record.intake.entered(*fact) {
            None => {}
            Some(Value::Target(target)) => {
                for (key, figure) in keys.iter().zip(parts::target_figures(target)) {
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

/// The oldest format that says all of a record.
fn format_for(record: &Record) -> u32 {
    let is_marked = |springs: &[Spring]| springs.iter().any(|spring| spring.marked.is_some());
    let marks = |entry: &Entry| match &entry.deed {
        Deed::Entered(Detail::Springs(springs)) => is_marked(springs),
        _ => false,
    };
    if is_marked(&record.intake.springs) || record.entries.iter().any(marks) {
        FORMAT
    } else if record.entries.iter().any(|entry| !entry.by.is_empty()) {
        WITHOUT_MARKS
    } else {
        WITHOUT_NAMES
    }
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
