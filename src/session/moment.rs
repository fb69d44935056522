//! A moment in a file: RFC 3339 with its offset, for `#[serde(with = "moment")]`.

use chrono::{DateTime, Datelike, FixedOffset, SecondsFormat};
use serde::de::{self, Deserialize, Deserializer};
use serde::ser::{self, Serializer};

use super::Stamp;

/// Writes it.
///
/// # Errors
/// When the year has more than four digits.
pub fn serialize<S: Serializer>(moment: &Stamp, serializer: S) -> Result<S::Ok, S::Error> {
    // RFC 3339 knows offsets of whole minutes only; the instant stays the same.
    let minutes = moment.offset().local_minus_utc().div_euclid(60);
    let offset = FixedOffset::east_opt(minutes * 60).unwrap_or(*moment.offset());
    let moment = moment.with_timezone(&offset);
    if !(0..=9999).contains(&moment.year()) {
        return Err(ser::Error::custom(format!("the year {} has more than four digits", moment.year())));
    }
    serializer.serialize_str(&moment.to_rfc3339_opts(SecondsFormat::AutoSi, false))
}

/// Reads it.
///
/// # Errors
/// When it is no such time.
pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Stamp, D::Error> {
    let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
    DateTime::parse_from_rfc3339(&text)
        .map_err(|_| de::Error::custom("this is not a time such as \"2026-11-25T10:12:00+01:00\""))
}
