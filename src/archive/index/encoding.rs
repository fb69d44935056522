//! The index as bytes: what it is an index of, the sessions, and a CRC-32 over both.
//!
//! The types of the index derive their own form by serde, in the compact bytes of the crate `postcard`; here stand only the
//! forms of what has none of its own. A step goes by its word and not by its place among the steps, so that one put in
//! between never mislabels what is remembered. Reading trusts nothing: what does not fit gives nothing, and the index is
//! rebuilt.

use super::IndexedSession;
use crate::archive::seal::fingerprint;
use crate::archive::{FolderIdentity, SessionName, form};
use crate::assets;
use crate::text::FreeText;
use serde::de::{Error, IntoDeserializer};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// To be raised where a summary says something else of the same record, or the bytes mean something else.
const FORMAT: u32 = 6;

/// Whose index it is, and made by what: another program may read other figures out of the same record.
#[derive(Serialize, Deserialize, PartialEq)]
struct Head {
    identity: u64,
    made_by: u32,
}

impl Head {
    fn of(identity: FolderIdentity) -> Self {
        let version = env!("CARGO_PKG_VERSION");
        let made_by = format!("{FORMAT} {version} {} {:?}", form::FORMAT, assets::doubts());
        Self { identity: identity.get(), made_by: fingerprint(made_by.as_bytes()) }
    }
}

/// The bytes of an index.
pub(super) fn encode(identity: FolderIdentity, sessions: &[IndexedSession]) -> postcard::Result<Vec<u8>> {
    let mut bytes = postcard::to_stdvec(&(Head::of(identity), sessions))?;
    bytes.extend(fingerprint(&bytes).to_le_bytes());
    Ok(bytes)
}

/// The sessions in the bytes of an index, or nothing where they are not whole or not of this folder and program.
pub(super) fn decode(bytes: &[u8], identity: FolderIdentity) -> Option<Vec<IndexedSession>> {
    let (body, check) = bytes.split_last_chunk()?;
    if fingerprint(body).to_le_bytes() != *check {
        return None;
    }
    let (head, rest) = postcard::take_from_bytes::<Head>(body).ok()?;
    if head != Head::of(identity) {
        return None;
    }
    let (sessions, rest) = postcard::take_from_bytes::<Vec<IndexedSession>>(rest).ok()?;
    (rest.is_empty() && sessions.is_sorted_by(|a, b| a.name > b.name)).then_some(sessions)
}

impl Serialize for SessionName {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}

impl<'de> Deserialize<'de> for SessionName {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::of_stem(<&str>::deserialize(deserializer)?).ok_or_else(|| D::Error::custom("no name"))
    }
}

/// A unit variant by its word.
pub(super) mod word {
    use super::{Deserialize, Deserializer, IntoDeserializer, Serializer};
    use std::fmt::Debug;

    pub(crate) fn serialize<T: Debug, S: Serializer>(one: &T, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&format!("{one:?}"))
    }

    pub(crate) fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<T, D::Error> {
        T::deserialize(<&str>::deserialize(deserializer)?.into_deserializer())
    }
}

/// A moment as seconds and nanoseconds since 1970, and seconds east of UTC.
pub(super) mod moment {
    use super::{Deserialize, Deserializer, Error, Serialize, Serializer};
    use crate::session::Stamp;
    use chrono::{DateTime, FixedOffset};

    pub(crate) fn serialize<S: Serializer>(moment: &Stamp, serializer: S) -> Result<S::Ok, S::Error> {
        (moment.timestamp(), moment.timestamp_subsec_nanos(), moment.offset().local_minus_utc())
            .serialize(serializer)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Stamp, D::Error> {
        let (seconds, nanoseconds, east) = Deserialize::deserialize(deserializer)?;
        let moment = DateTime::from_timestamp(seconds, nanoseconds)
            .zip(FixedOffset::east_opt(east))
            .map(|(moment, offset)| moment.with_timezone(&offset));
        moment.ok_or_else(|| D::Error::custom("no moment"))
    }
}

/// A moment that may be missing.
pub(super) mod maybe_moment {
    use super::{Deserialize, Deserializer, Serialize, Serializer, moment};
    use crate::session::Stamp;

    #[derive(Serialize, Deserialize)]
    struct PackedMoment(#[serde(with = "moment")] Stamp);

    #[expect(clippy::ref_option, reason = "serde asks so")]
    pub(crate) fn serialize<S: Serializer>(one: &Option<Stamp>, serializer: S) -> Result<S::Ok, S::Error> {
        one.map(PackedMoment).serialize(serializer)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Stamp>, D::Error> {
        Ok(Option::<PackedMoment>::deserialize(deserializer)?.map(|PackedMoment(moment)| moment))
    }
}

/// What a person typed.
pub(super) mod typed {
    use super::{Deserialize, Deserializer, FreeText, Serializer};

    pub(crate) fn serialize<S: Serializer>(text: &FreeText, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(text.as_typed())
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<FreeText, D::Error> {
        <&str>::deserialize(deserializer).map(FreeText::new)
    }
}

/// A quantity that may be missing, as its figure.
macro_rules! figure {
    ($($module:ident: $quantity:ident),*) => {$(
        pub(super) mod $module {
            use super::{Deserialize, Deserializer, Error, Serialize, Serializer};
            use crate::units::$quantity;

            #[expect(clippy::ref_option, reason = "serde asks so")]
            pub(crate) fn serialize<S: Serializer>(one: &Option<$quantity>, serializer: S) -> Result<S::Ok, S::Error> {
                one.map($quantity::value).serialize(serializer)
            }

            pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<$quantity>, D::Error> {
                let figure = Option::<f64>::deserialize(deserializer)?;
                figure.map($quantity::checked).transpose().map_err(D::Error::custom)
            }
        }
    )*};
}

figure!(rate: SpringRate, share: Share);
