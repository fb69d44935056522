//! Where in a file something stands: found by a second look that runs only when there is a fault to tell.
//!
//! Not here: what the fault is (`fault`).

use std::fmt;

use ron::value::RawValue;
use serde::de::{self, DeserializeSeed, Deserializer, IgnoredAny, MapAccess, Visitor};

use super::fault::Place;
use super::wire;

/// Where the value of a field of the record stands.
pub(super) fn of_field(text: &str, field: &str) -> Option<Place> {
    let value: &RawValue = look(text, field)?;
    Some(Place::of_offset(text, offset_in(text, value)?))
}

/// Where the entry of that number, from one, stands.
pub(super) fn of_entry(text: &str, number: usize) -> Option<Place> {
    let entries: Vec<&RawValue> = look(text, "entries")?;
    let entry = entries.get(number.checked_sub(1)?)?;
    Some(Place::of_offset(text, offset_in(text, entry)?))
}

fn offset_in(text: &str, value: &RawValue) -> Option<usize> {
    // The value was borrowed from the text, so the difference of the two addresses is where it begins.
    value.trim().get_ron().as_ptr().addr().checked_sub(text.as_ptr().addr())
}

/// The value of one field, whatever stands before or after it.
pub(in crate::archive) fn look<'de, T: de::Deserialize<'de>>(text: &'de str, field: &str) -> Option<T> {
    let mut found = None;
    // The look stops with an error of its own at the field, and what stands after it does not matter.
    let _ = wire::options().from_str_seed(text, Look { field, found: &mut found });
    found
}

struct Look<'f, T> {
    field: &'f str,
    found: &'f mut Option<T>,
}

impl<'de, T: de::Deserialize<'de>> DeserializeSeed<'de> for Look<'_, T> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_struct("Record", &[], self)
    }
}

impl<'de, T: de::Deserialize<'de>> Visitor<'de> for Look<'_, T> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("the fields of a record")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<(), A::Error> {
        while let Some(field) = fields.next_key_seed(FieldName)? {
            if field == self.field {
                *self.found = Some(fields.next_value()?);
                return Ok(());
            }
            fields.next_value::<IgnoredAny>()?;
        }
        Ok(())
    }
}

/// The name of a field, as it stands in the text.
pub(in crate::archive) struct FieldName;

impl<'de> DeserializeSeed<'de> for FieldName {
    type Value = &'de str;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<&'de str, D::Error> {
        deserializer.deserialize_identifier(self)
    }
}

impl<'de> Visitor<'de> for FieldName {
    type Value = &'de str;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("the name of a field")
    }

    fn visit_borrowed_str<E: de::Error>(self, name: &'de str) -> Result<&'de str, E> {
        Ok(name)
    }
}
