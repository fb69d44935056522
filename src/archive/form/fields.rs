//! A text of fields, taken apart without a meaning: each field's name and the text of its value, each entry's text.
//!
//! Everything handed on is a piece of the whole text, so that a fault found in it later has its place there, and what stands
//! before a broken place is not lost. A second look, for own files and for places of faults. Not here: what a field means (`record`).

use std::fmt;

use ron::error::SpannedError;
use ron::extensions::Extensions;
use ron::value::RawValue;
use serde::de::{self, Deserialize, DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};

use super::fault::{TextPosition, shifted};

/// Brackets deeper than this are damage: no record has more than eight, and a stack is not endless.
const DEEPEST: usize = 32;

/// How a text is read and written: `Some(65)` and `65` are the same.
pub(in crate::archive) fn options() -> ron::Options {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME).with_recursion_limit(DEEPEST)
}

/// A text taken apart, as far as it could be.
#[derive(Debug, Default)]
pub(in crate::archive) struct RecordText<'t> {
    /// Every field but the entries: its name and the text of its value.
    pub(in crate::archive) fields: Vec<(&'t str, &'t str)>,
    /// The text of each entry; none where there is no such field.
    pub(in crate::archive) entries: Option<Vec<&'t str>>,
}

/// The text of one field's value, whatever stands before or after it.
pub(in crate::archive) fn look<'t>(text: &'t str, field: &str) -> Option<&'t str> {
    let mut sheet = RecordText::default();
    // The look stops with an error of its own at the field, and what stands after it does not matter.
    let _ = options().from_str_seed(text, Whole(&mut sheet, Some(field)));
    sheet.field(field)
}

impl<'t> RecordText<'t> {
    /// Takes a text apart, and says what ended that early.
    pub(in crate::archive) fn of(text: &'t str) -> (Self, Option<SpannedError>) {
        let mut sheet = Self::default();
        let read = options().from_str_seed(text, Whole(&mut sheet, None));
        (sheet, read.err())
    }

    /// The text of a field's value.
    pub(in crate::archive) fn field(&self, name: &str) -> Option<&'t str> {
        self.fields.iter().find(|(field, _)| *field == name).map(|(_, value)| *value)
    }
}

/// Reads a piece of a text; a fault has its place in the whole.
pub(in crate::archive) fn read<T: for<'de> Deserialize<'de>>(
    text: &str,
    piece: &str,
) -> Result<T, SpannedError> {
    options().from_str(piece).map_err(|error| shifted(error, place_of(text, piece)))
}

/// Where a piece of a text begins.
pub(in crate::archive) fn place_of(text: &str, piece: &str) -> TextPosition {
    TextPosition::of_offset(text, piece.as_ptr().addr().saturating_sub(text.as_ptr().addr()))
}

/// Takes apart what is handed to it, to a field or to the end.
struct Whole<'s, 't>(&'s mut RecordText<'t>, Option<&'s str>);
struct EntryTexts<'s, 't>(&'s mut Vec<&'t str>);

/// The name of a field or a variant, as it stands in the text.
pub(super) struct FieldName;

/// The text of a value.
pub(super) fn piece(value: &RawValue) -> &str {
    value.trim().get_ron()
}

impl<'t> DeserializeSeed<'t> for Whole<'_, 't> {
    type Value = ();
    fn deserialize<D: Deserializer<'t>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_struct("Record", &[], self)
    }
}

impl<'t> Visitor<'t> for Whole<'_, 't> {
    type Value = ();
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("fields in brackets")
    }
    fn visit_map<A: MapAccess<'t>>(self, mut fields: A) -> Result<(), A::Error> {
        while let Some(name) = fields.next_key_seed(FieldName)? {
            if name == "entries" {
                fields.next_value_seed(EntryTexts(self.0.entries.insert(Vec::new())))?;
            } else {
                self.0.fields.push((name, piece(fields.next_value()?)));
                if self.1 == Some(name) {
                    return Ok(());
                }
            }
        }
        Ok(())
    }
}

impl<'t> DeserializeSeed<'t> for EntryTexts<'_, 't> {
    type Value = ();
    fn deserialize<D: Deserializer<'t>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_seq(self)
    }
}

impl<'t> Visitor<'t> for EntryTexts<'_, 't> {
    type Value = ();
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a list of entries")
    }
    fn visit_seq<A: SeqAccess<'t>>(self, mut entries: A) -> Result<(), A::Error> {
        while let Some(entry) = entries.next_element::<&RawValue>()? {
            self.0.push(piece(entry));
        }
        Ok(())
    }
}

impl<'t> DeserializeSeed<'t> for FieldName {
    type Value = &'t str;
    fn deserialize<D: Deserializer<'t>>(self, deserializer: D) -> Result<&'t str, D::Error> {
        deserializer.deserialize_identifier(self)
    }
}

impl<'t> Visitor<'t> for FieldName {
    type Value = &'t str;
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("the name of a field")
    }
    fn visit_borrowed_str<E: de::Error>(self, name: &'t str) -> Result<&'t str, E> {
        Ok(name)
    }
}
