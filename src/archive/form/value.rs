//! A value as it stands in a file, whatever fact it is of; and a fact corrected later, as a deed holds it.
//!
//! Not here: values of several fields (`parts`), which fact stands under which name (`session::facts`), and whether a
//! figure is sensible (`session::limits`).

use serde::de::{self, DeserializeSeed, Deserializer, EnumAccess, MapAccess, VariantAccess, Visitor};
use serde::ser::{SerializeStructVariant, Serializer};
use serde::{Deserialize, Serialize};
use std::fmt;

use super::fields::FieldName;
use crate::phrase;
use crate::session::{Detail, Fact, Shape, Value};
use crate::text::mark::Mark;
use crate::text::{FreeText, LONGEST};
use crate::units::{Angle, Kind, Length, LeverageRatio, Mass, Quantity, Share, Turns};

impl Serialize for Value {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Text(text) => text.serialize(serializer),
            Self::Figure(Quantity::Count(count)) => count.serialize(serializer),
            Self::Figure(figure) => serializer.serialize_f64(figure.value()),
            Self::Target(target) => target.serialize(serializer),
            Self::WheelLoad(load) => load.serialize(serializer),
            Self::Charge(charge) => charge.serialize(serializer),
            Self::Earlier(earlier) => earlier.serialize(serializer),
            Self::Leverage(known) => known.serialize(serializer),
            Self::Springs(rack) => rack.serialize(serializer),
            Self::Spring(number) => number.serialize(serializer),
        }
    }
}

/// A shape reads the value of its kind.
impl<'de> DeserializeSeed<'de> for Shape {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        Ok(match self {
            Self::Text => Value::Text(Deserialize::deserialize(deserializer)?),
            Self::Figure(field) => Value::Figure(figure(field.limits().least.kind(), deserializer)?),
            Self::Target => Value::Target(Deserialize::deserialize(deserializer)?),
            Self::WheelLoad => Value::WheelLoad(Deserialize::deserialize(deserializer)?),
            Self::Charge => Value::Charge(Deserialize::deserialize(deserializer)?),
            Self::Earlier => Value::Earlier(Deserialize::deserialize(deserializer)?),
            Self::Leverage => Value::Leverage(Deserialize::deserialize(deserializer)?),
            Self::Springs => Value::Springs(Deserialize::deserialize(deserializer)?),
            Self::Spring => Value::Spring(Deserialize::deserialize(deserializer)?),
        })
    }
}

/// A figure in the unit the program reckons in.
fn figure<'de, D: Deserializer<'de>>(kind: Kind, deserializer: D) -> Result<Quantity, D::Error> {
    if kind == Kind::Count {
        return u8::deserialize(deserializer).map(|count| Quantity::Count(count.into()));
    }
    let figure = Quantity::calculated(kind, f64::deserialize(deserializer)?).map_err(de::Error::custom)?;
    figure.ok_or_else(|| de::Error::custom("this is no measured figure"))
}

/// A value that may be left out: `None`, or the value with or without `Some`.
pub(super) struct Maybe(pub(super) Shape);

impl<'de> DeserializeSeed<'de> for Maybe {
    type Value = Option<Value>;
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Option<Value>, D::Error> {
        deserializer.deserialize_option(self)
    }
}

impl<'de> Visitor<'de> for Maybe {
    type Value = Option<Value>;
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a value or None")
    }
    fn visit_none<E: de::Error>(self) -> Result<Option<Value>, E> {
        Ok(None)
    }
    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<Option<Value>, D::Error> {
        self.0.deserialize(deserializer).map(Some)
    }
}

/// The unit in whose name the figure of a corrected fact stands: `Rider(kg: 82.0)`.
fn unit(shape: Shape) -> Option<&'static str> {
    let Shape::Figure(field) = shape else { return None };
    match field.limits().least.kind() {
        Kind::Length => Some("mm"),
        Kind::Mass => Some("kg"),
        Kind::Turns => Some("turns"),
        _ => None,
    }
}

impl Serialize for Detail {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let (fact, value) = (self.fact(), self.value());
        let (index, name) = (fact as u32, fact.variant());
        match unit(fact.about().shape) {
            None => serializer.serialize_newtype_variant("Detail", index, name, &value),
            Some(unit) => {
                let mut variant = serializer.serialize_struct_variant("Detail", index, name, 1)?;
                variant.serialize_field(unit, &value)?;
                variant.end()
            }
        }
    }
}

impl<'de> Deserialize<'de> for Detail {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_enum("Detail", &[], Corrected)
    }
}

struct Corrected;

impl<'de> Visitor<'de> for Corrected {
    type Value = Detail;
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a fact of the intake")
    }
    fn visit_enum<A: EnumAccess<'de>>(self, corrected: A) -> Result<Detail, A::Error> {
        let (name, variant) = corrected.variant_seed(FieldName)?;
        let fact = Fact::ALL.iter().copied().find(|fact| fact.variant() == name);
        let fact = fact.ok_or_else(|| unknown(name, Fact::ALL.iter().map(|fact| fact.variant())))?;
        let value = EnteredValue { shape: fact.about().shape, optional: fact.detail(None).is_some() };
        let value = match unit(value.shape) {
            None => variant.newtype_variant_seed(value)?,
            Some("kg") => variant.struct_variant(&["kg"], value)?,
            Some("turns") => variant.struct_variant(&["turns"], value)?,
            Some(_) => variant.struct_variant(&["mm"], value)?,
        };
        fact.detail(value).ok_or_else(|| de::Error::custom("this cannot be undone"))
    }
}

#[derive(Clone, Copy)]
struct EnteredValue {
    shape: Shape,
    optional: bool,
}

impl<'de> DeserializeSeed<'de> for EnteredValue {
    type Value = Option<Value>;
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Option<Value>, D::Error> {
        if self.optional {
            Maybe(self.shape).deserialize(deserializer)
        } else {
            self.shape.deserialize(deserializer).map(Some)
        }
    }
}

impl<'de> Visitor<'de> for EnteredValue {
    type Value = Option<Value>;
    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a figure with its unit")
    }
    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Option<Value>, A::Error> {
        let expected = unit(self.shape).unwrap_or_default();
        let mut value = Err(de::Error::missing_field(expected));
        while let Some(name) = fields.next_key_seed(FieldName)? {
            if name != expected {
                return Err(unknown(name, [expected].into_iter()));
            }
            value = Ok(fields.next_value_seed(self)?);
        }
        value
    }
}

fn unknown<E: de::Error>(name: &str, known: impl Iterator<Item = &'static str>) -> E {
    E::custom(format!("{name} is not known here; known are {}", known.collect::<Vec<_>>().join(", ")))
}

/// Quantities as the figure the program reckons in.
macro_rules! as_figures {
    ($($quantity:ident),*) => {$(
        impl Serialize for $quantity {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_f64(self.value())
            }
        }
        impl<'de> Deserialize<'de> for $quantity {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                Self::checked(f64::deserialize(deserializer)?).map_err(de::Error::custom)
            }
        }
    )*};
}

as_figures!(Length, LeverageRatio, Mass, Turns, Share, Angle);

impl Serialize for FreeText {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_typed())
    }
}

impl Serialize for Mark {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Mark {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::read(&text).map_err(|fault| de::Error::custom(phrase::rack::mark(fault)))
    }
}

/// A text longer than a record keeps is damage: cutting it would lose what somebody wrote.
impl<'de> Deserialize<'de> for FreeText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        match text.trim().chars().count() {
            length if length > LONGEST => Err(de::Error::custom(format!(
                "this text has {length} characters and a record keeps {LONGEST}"
            ))),
            _ => Ok(Self::new(&text)),
        }
    }
}
