//! Figures, texts and moments as they stand in a file, each checked while it is read, so that a fault has its place.
//!
//! A rate is written in lb/in and a share in per cent, as people say them, wherever that gives back the very same
//! quantity; a rate that was told in N/mm is written in N/mm, and a share that no short percentage gives as parts of
//! one. So nothing drifts however often a record is saved. Not here: whether a figure is sensible (`session::limits`).

use std::fmt;

use chrono::{DateTime, Datelike, FixedOffset, SecondsFormat};
use serde::de::{self, Deserializer, Visitor};
use serde::ser::{self, Serializer};
use serde::{Deserialize, Serialize};

use crate::session::Stamp;
use crate::text::{FreeText, LONGEST};
use crate::units::{Length, LeverageRatio, Mass, Share, SpringRate, Turns};

/// A finite number, written as the shortest decimal that reads back the same; whole numbers may lack their point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Figure(pub(super) f64);

impl Serialize for Figure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0)
    }
}

impl<'de> Deserialize<'de> for Figure {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let value = f64::deserialize(deserializer)?;
        if value.is_finite() {
            Ok(Self(value))
        } else {
            Err(de::Error::custom("this is not a finite number"))
        }
    }
}

macro_rules! figures_in_their_own_unit {
    ($($quantity:ident: $base:ident),*) => {
        $(
            impl From<$quantity> for Figure {
                fn from(quantity: $quantity) -> Self {
                    Self(quantity.value())
                }
            }
            impl From<Figure> for $quantity {
                fn from(figure: Figure) -> Self {
                    Self::$base(figure.0)
                }
            }
        )*
    };
}

figures_in_their_own_unit!(Length: mm, LeverageRatio: ratio, Mass: kg, Turns: of);

/// A quantity in the unit people say it in, or in the one it is reckoned in where only that is exact.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct InEitherUnit {
    pub(super) said: Option<Figure>,
    pub(super) reckoned: Option<Figure>,
}

impl InEitherUnit {
    pub(super) const fn of(said: Option<Figure>, reckoned: Option<Figure>) -> Self {
        Self { said, reckoned }
    }

    /// A rate: lb/in is said, N/mm reckoned.
    pub(super) fn rate(rate: SpringRate) -> Self {
        Self::split(rate.as_n_per_mm(), rate.as_lb_per_in(), |said| SpringRate::lb_per_in(said).value())
    }

    /// A share: per cent are said, parts of one reckoned.
    pub(super) fn share(share: Share) -> Self {
        Self::split(share.as_fraction(), share.as_percent(), |said| Share::percent(said).value())
    }

    fn split(reckoned: f64, said: f64, back: impl Fn(f64) -> f64) -> Self {
        match short_decimal(said, |decimal| back(decimal).to_bits() == reckoned.to_bits()) {
            Some(short) => Self { said: Some(Figure(short)), reckoned: None },
            None => Self { said: None, reckoned: Some(Figure(reckoned)) },
        }
    }

    /// The rate meant, if exactly one unit was given.
    pub(super) fn to_rate(self) -> Option<SpringRate> {
        self.join(SpringRate::lb_per_in, SpringRate::n_per_mm)
    }

    /// The share meant, if exactly one unit was given.
    pub(super) fn to_share(self) -> Option<Share> {
        self.join(Share::percent, Share::fraction)
    }

    fn join<Q>(self, said: impl Fn(f64) -> Q, reckoned: impl Fn(f64) -> Q) -> Option<Q> {
        match (self.said, self.reckoned) {
            (Some(figure), None) => Some(said(figure.0)),
            (None, Some(figure)) => Some(reckoned(figure.0)),
            _ => None,
        }
    }
}

/// The decimal of fewest digits near `value` that is accepted; nobody says a figure with more than nine.
fn short_decimal(value: f64, accepted: impl Fn(f64) -> bool) -> Option<f64> {
    (0..9).filter_map(|places| format!("{value:.places$e}").parse().ok()).find(|decimal| accepted(*decimal))
}

/// A text no longer than a record keeps: longer ones are damage, for cutting them would lose what somebody wrote.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Text(pub(super) FreeText);

impl Text {
    /// The text, unless there is nothing in it.
    pub(super) fn unless_empty(text: &FreeText) -> Option<Self> {
        (!text.is_empty()).then(|| Self(text.clone()))
    }
}

impl Serialize for Text {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.as_typed())
    }
}

impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let length = text.trim().chars().count();
        if length > LONGEST {
            return Err(de::Error::custom(format!(
                "this text has {length} characters and a record keeps {LONGEST}"
            )));
        }
        Ok(Self(FreeText::new(&text)))
    }
}

/// A moment with its offset, as RFC 3339 writes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moment(pub(super) Stamp);

impl Serialize for Moment {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // RFC 3339 knows offsets of whole minutes only; the instant stays the same.
        let minutes = self.0.offset().local_minus_utc().div_euclid(60);
        let offset = FixedOffset::east_opt(minutes * 60).unwrap_or(*self.0.offset());
        let moment = self.0.with_timezone(&offset);
        if !(0..=9999).contains(&moment.year()) {
            return Err(ser::Error::custom(format!("the year {} has more than four digits", moment.year())));
        }
        serializer.serialize_str(&moment.to_rfc3339_opts(SecondsFormat::AutoSi, false))
    }
}

impl<'de> Deserialize<'de> for Moment {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_str(MomentVisitor)
    }
}

struct MomentVisitor;

impl Visitor<'_> for MomentVisitor {
    type Value = Moment;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a time in quotes, such as \"2026-11-25T10:12:00+01:00\"")
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Moment, E> {
        DateTime::parse_from_rfc3339(text)
            .map(Moment)
            .map_err(|_| E::custom("this is not a time such as \"2026-11-25T10:12:00+01:00\""))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_typed_as_450_is_written_as_450() {
        let said = InEitherUnit::rate(SpringRate::lb_per_in(450.0));
        assert_eq!(said, InEitherUnit::of(Some(Figure(450.0)), None));
    }

    #[test]
    fn every_label_in_whole_or_half_pounds_per_inch_comes_back_to_the_bit() {
        for halves in 100..=4_000 {
            let rate = SpringRate::lb_per_in(f64::from(halves) / 2.0);
            let written = InEitherUnit::rate(rate);
            assert_eq!(written.said, Some(Figure(f64::from(halves) / 2.0)));
            assert_eq!(written.to_rate(), Some(rate));
        }
    }

    #[test]
    fn a_rate_told_in_newtons_per_millimetre_is_written_in_them() {
        let written = InEitherUnit::rate(SpringRate::n_per_mm(80.0));
        assert_eq!(written, InEitherUnit::of(None, Some(Figure(80.0))));
        assert_eq!(written.to_rate(), Some(SpringRate::n_per_mm(80.0)));
    }

    #[test]
    fn a_share_comes_back_to_the_bit_however_it_was_reckoned() {
        for share in
            [Share::percent(27.5), Share::fraction(1.0 / 3.0), Share::percent(30.1) - Share::percent(1e-3)]
        {
            assert_eq!(InEitherUnit::share(share).to_share(), Some(share));
        }
    }
}
