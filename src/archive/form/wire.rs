//! Format 1: the fields of a record in the order they are written, read one by one so that what stands before a
//! damaged place is not lost, and laid out for the eye.
//!
//! The types here and below mirror those of the session, which knows nothing of files. Not here: which figures are
//! possible and which entries fit (`session`), and older formats (`upgrade`).

mod deed;
mod detail;
mod earlier;
mod figure;
mod told;

use std::collections::BTreeSet;
use std::fmt::{self, Write};

use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use ron::value::RawValue;
use serde::Serialize;
use serde::de::{self, DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};

use crate::session::{self, Intake, LeverageKnowledge, Record, SpringNumber, Stamp};
use crate::text::FreeText;
use earlier::Earlier;
use figure::{Figure, Moment, Text};
use told::{AimFields, Leverage, Origin, Spring, WheelLoad};

/// Brackets deeper than this are damage: no record has more than eight, and a stack is not endless.
const DEEPEST: usize = 32;

/// How a record's text is read and written: `Some(65)` and `65` are the same.
pub(in crate::archive) fn options() -> ron::Options {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME).with_recursion_limit(DEEPEST)
}

/// A field's name and what it tells.
pub(super) type ToldField = (&'static str, Result<session::Detail, &'static str>);

/// What has been read so far, or is about to be written.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    pub(super) head: Head,
    pub(super) entries: Vec<session::Entry>,
    /// Fields that format 1 does not know, with their text.
    pub(super) unknown: Vec<(String, String)>,
}

macro_rules! head {
    ($($field:ident: $kind:ty),* $(,)?) => {
        /// The fields of a record besides its entries, in the order they are written.
        #[derive(Debug, Clone, Default)]
        pub(super) struct Head {
            $($field: Option<$kind>),*
        }

        impl Head {
            /// Reads the value of a field; false when there is no such field.
            fn take<'de, A: MapAccess<'de>>(&mut self, field: &str, values: &mut A) -> Result<bool, A::Error> {
                match field {
                    $(stringify!($field) => self.$field = values.next_value()?,)*
                    _ => return Ok(false),
                }
                Ok(true)
            }

            /// Every field that holds something, as text.
            fn lines(&self) -> Result<Vec<(&str, String)>, ron::Error> {
                let mut lines = Vec::new();
                $(if let Some(value) = &self.$field {
                    lines.push((stringify!($field), laid_out(value)?));
                })*
                Ok(lines)
            }
        }
    };
}

head! {
    origin: Origin,
    opened: Moment,
    who: Text,
    notes: Text,
    bike_label: Text,
    rider_kg: Figure,
    bike_kg: Figure,
    wheel_load: WheelLoad,
    earlier: Earlier,
    travel_mm: Figure,
    stroke_mm: Figure,
    leverage: Leverage,
    collar_pitch_mm: Figure,
    turns_allowed: Figure,
    body_diameter_mm: Figure,
    wheelbase_mm: Figure,
    rear_centre_mm: Figure,
    aim_percent: Figure,
    aim_share: Figure,
    half_width_percent: Figure,
    half_width_share: Figure,
    ruler_mm: Figure,
    readings_wanted: u8,
    rack: Vec<Spring>,
    fitted: u16,
}

impl Head {
    /// When the session was opened, if that was read.
    pub(super) fn opened(&self) -> Option<Stamp> {
        self.opened.map(|moment| moment.0)
    }

    /// Whether the record is a real one; it is unless it says otherwise.
    pub(super) fn origin(&self) -> session::Origin {
        match self.origin {
            Some(Origin::Demonstration) => session::Origin::Demonstration,
            Some(Origin::Workshop) | None => session::Origin::Workshop,
        }
    }

    /// What the fields tell, each a detail of the intake, in an order in which each can be checked beside the others.
    pub(super) fn details(&self) -> Vec<ToldField> {
        use session::Detail as D;
        let text = |text: &Option<Text>| text.as_ref().map(|Text(text)| text.clone());
        let rack = |rack: &Vec<Spring>| D::Rack(rack.iter().map(|Spring(spring)| *spring).collect());
        let told = [
            ("who", text(&self.who).map(D::Who)),
            ("notes", text(&self.notes).map(D::Notes)),
            ("bike_label", text(&self.bike_label).map(D::BikeLabel)),
            ("rider_kg", self.rider_kg.map(|figure| D::Rider(figure.into()))),
            ("bike_kg", self.bike_kg.map(|figure| D::Bike(figure.into()))),
            ("wheel_load", self.wheel_load.map(|load| D::WheelLoad(Some(load.into())))),
            ("earlier", self.earlier.map(|earlier| D::Earlier(Some(earlier.into())))),
            ("travel_mm", self.travel_mm.map(|figure| D::Travel(figure.into()))),
            ("stroke_mm", self.stroke_mm.map(|figure| D::Stroke(figure.into()))),
            ("leverage", self.leverage.clone().map(|leverage| D::Leverage(leverage.into()))),
            ("collar_pitch_mm", self.collar_pitch_mm.map(|figure| D::CollarPitch(figure.into()))),
            ("turns_allowed", self.turns_allowed.map(|figure| D::TurnsAllowed(figure.into()))),
            ("body_diameter_mm", self.body_diameter_mm.map(|figure| D::BodyDiameter(Some(figure.into())))),
            ("wheelbase_mm", self.wheelbase_mm.map(|figure| D::Wheelbase(Some(figure.into())))),
            ("rear_centre_mm", self.rear_centre_mm.map(|figure| D::RearCentre(Some(figure.into())))),
            ("ruler_mm", self.ruler_mm.map(|figure| D::Ruler(figure.into()))),
            ("readings_wanted", self.readings_wanted.map(D::ReadingsWanted)),
            ("rack", self.rack.as_ref().map(rack)),
            ("fitted", self.fitted.map(|number| D::Fitted(Some(SpringNumber(number))))),
        ];
        let told = told.into_iter().filter_map(|(field, detail)| Some((field, Ok(detail?))));
        told.chain(self.aim()).collect()
    }

    fn aim(&self) -> Option<ToldField> {
        let fields = AimFields {
            aim_percent: self.aim_percent,
            aim_share: self.aim_share,
            half_width_percent: self.half_width_percent,
            half_width_share: self.half_width_share,
        };
        let said_as = [
            ("aim_percent", fields.aim_percent),
            ("aim_share", fields.aim_share),
            ("half_width_percent", fields.half_width_percent),
            ("half_width_share", fields.half_width_share),
        ];
        let (field, _) = said_as.into_iter().find(|(_, figure)| figure.is_some())?;
        Some((field, session::Aim::try_from(fields).map(session::Detail::Aim)))
    }
}

impl From<&Record> for Head {
    fn from(record: &Record) -> Self {
        let Intake { origin, who, notes, bike_label, leverage, rack, .. } = &record.intake;
        let told = &record.intake;
        let text = |text: &FreeText| Text::unless_empty(text);
        let aim = told.aim.map(AimFields::from).unwrap_or_default();
        Self {
            origin: (*origin == session::Origin::Demonstration).then_some(Origin::Demonstration),
            opened: Some(Moment(record.opened)),
            who: text(who),
            notes: text(notes),
            bike_label: text(bike_label),
            rider_kg: told.rider.map(Into::into),
            bike_kg: told.bike.map(Into::into),
            wheel_load: told.wheel_load.map(Into::into),
            earlier: told.earlier.map(Into::into),
            travel_mm: told.travel.map(Into::into),
            stroke_mm: told.stroke.map(Into::into),
            leverage: (*leverage != LeverageKnowledge::TravelOnly).then(|| leverage.clone().into()),
            collar_pitch_mm: told.collar_pitch.map(Into::into),
            turns_allowed: told.turns_allowed.map(Into::into),
            body_diameter_mm: told.body_diameter.map(Into::into),
            wheelbase_mm: told.frame.wheelbase.map(Into::into),
            rear_centre_mm: told.frame.rear_centre.map(Into::into),
            aim_percent: aim.aim_percent,
            aim_share: aim.aim_share,
            half_width_percent: aim.half_width_percent,
            half_width_share: aim.half_width_share,
            ruler_mm: told.ruler.map(Into::into),
            readings_wanted: told.readings_wanted,
            rack: (!rack.is_empty()).then(|| rack.iter().copied().map(Spring).collect()),
            fitted: told.fitted.map(|number| number.0),
        }
    }
}

/// Writes a record with the fields it came with and this program does not know.
pub(super) fn write(record: &Record, unknown: &[(String, String)]) -> Result<String, ron::Error> {
    let mut text = format!("(\n    format: {},\n", super::FORMAT);
    for (field, value) in Head::from(record).lines()? {
        writeln!(text, "    {field}: {value},")?;
    }
    for (field, value) in unknown {
        writeln!(text, "    {}: {value},", spelled(field))?;
    }
    text.push_str("    entries: [\n");
    let one_line = PrettyConfig::new().compact_structs(true).compact_arrays(true).new_line("\n");
    for entry in &record.entries {
        let entry = deed::Entry::from(entry.clone());
        let line = options().to_string_pretty(&entry, one_line.clone())?;
        writeln!(text, "        {line},")?;
    }
    text.push_str("    ],\n)\n");
    Ok(text)
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

/// Reads format 1 into the sheet; what was read before an error stays in it.
pub(super) fn read(text: &str, sheet: &mut Sheet) -> Result<(), ron::error::SpannedError> {
    options().from_str_seed(text, SheetSeed(sheet))
}

struct SheetSeed<'s>(&'s mut Sheet);

impl<'de> DeserializeSeed<'de> for SheetSeed<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_struct("Record", &[], self)
    }
}

impl<'de> Visitor<'de> for SheetSeed<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("the fields of a record")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<(), A::Error> {
        let mut seen = BTreeSet::new();
        while let Some(field) = fields.next_key_seed(super::place::FieldName)? {
            if !seen.insert(field) {
                return Err(de::Error::custom(format!("the field {field} stands here a second time")));
            }
            if field == "format" {
                fields.next_value::<u32>()?;
            } else if field == "entries" {
                fields.next_value_seed(EntriesSeed(&mut self.0.entries))?;
            } else if !self.0.head.take(field, &mut fields)? {
                let value: &RawValue = fields.next_value()?;
                self.0.unknown.push((field.to_owned(), value.trim().get_ron().to_owned()));
            }
        }
        // Without this, a misspelt `entries` would be one more unknown field, and the work done would seem undone.
        if seen.contains("entries") { Ok(()) } else { Err(de::Error::missing_field("entries")) }
    }
}

struct EntriesSeed<'s>(&'s mut Vec<session::Entry>);

impl<'de> DeserializeSeed<'de> for EntriesSeed<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for EntriesSeed<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a list of entries")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut entries: A) -> Result<(), A::Error> {
        while let Some(entry) = entries.next_element::<deed::Entry>()? {
            self.0.push(entry.into());
        }
        Ok(())
    }
}
