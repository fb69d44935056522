//! The index as bytes: a head that says whose it is, the sessions one after another, a CRC-32 over all of it.
//!
//! Numbers are little-endian, a text is its length in four bytes and its UTF-8, an optional value a byte 0 or 1 before it. A
//! dozen fields of our own types need less code this way than mirror types for a serialiser would, half the bytes of JSON,
//! and no further crate. Reading never trusts a length: what does not fit gives nothing, and the index is rebuilt.

use super::{Contents, FileStamp, Index, IndexedSession, Location, SessionSummary, Trouble, WorkSummary};
use crate::archive::form;
use crate::archive::seal::fingerprint;
use crate::archive::{FolderIdentity, Revision, Seal, SessionName};
use crate::assets;
use crate::session::{Origin, Stamp, Step};
use crate::text::FreeText;
use crate::units::{Share, SpringRate};
use chrono::{DateTime, FixedOffset};

/// To be raised with every change of the bytes, or of what a summary says of the same record.
const FORMAT: u32 = 2;
const OPENING: &[u8] = b"coilwright index\n";
const CHECK: usize = size_of::<u32>();

/// The bytes of an index.
pub(super) fn encode(index: &Index) -> Vec<u8> {
    let mut bytes = head(index.identity);
    for session in &index.sessions {
        session.put(&mut bytes);
    }
    let check = fingerprint(&bytes);
    check.put(&mut bytes);
    bytes
}

/// The sessions in the bytes of an index, or nothing where they are not whole or not of this folder and program.
pub(super) fn decode(bytes: &[u8], identity: FolderIdentity) -> Option<Vec<IndexedSession>> {
    let (body, check) = bytes.split_at_checked(bytes.len().checked_sub(CHECK)?)?;
    if fingerprint(body).to_le_bytes() != check {
        return None;
    }
    let mut rest = body.strip_prefix(&head(identity)[..])?;
    let mut sessions = Vec::new();
    while !rest.is_empty() {
        sessions.push(IndexedSession::take(&mut rest)?);
    }
    sessions.is_sorted_by(|a, b| a.name > b.name).then_some(sessions)
}

/// What an index of this folder, made by this program, opens with. Version, record format and table of doubts are in it
/// because another one may read other figures out of the same record.
fn head(identity: FolderIdentity) -> Vec<u8> {
    let made_by = format!("{} {} {:?}", env!("CARGO_PKG_VERSION"), form::FORMAT, assets::doubts());
    let mut bytes = OPENING.to_vec();
    FORMAT.put(&mut bytes);
    fingerprint(made_by.as_bytes()).put(&mut bytes);
    identity.get().put(&mut bytes);
    bytes
}

/// A value that can be put into bytes and taken out again.
trait Coded: Sized {
    fn put(&self, bytes: &mut Vec<u8>);
    /// Takes the value from the front, or nothing where there is none of its kind.
    fn take(bytes: &mut &[u8]) -> Option<Self>;
}

macro_rules! coded_numbers {
    ($($number:ty),*) => {$(
        impl Coded for $number {
            fn put(&self, bytes: &mut Vec<u8>) {
                bytes.extend_from_slice(&self.to_le_bytes());
            }
            fn take(bytes: &mut &[u8]) -> Option<Self> {
                let (number, rest) = bytes.split_first_chunk()?;
                *bytes = rest;
                Some(Self::from_le_bytes(*number))
            }
        }
    )*};
}

coded_numbers!(u8, u16, u32, u64, i32, i64, f64);

/// A value that is coded as another one.
macro_rules! coded_as {
    ($($kind:ty as $code:ty: $to:expr, $from:expr;)*) => {$(
        impl Coded for $kind {
            fn put(&self, bytes: &mut Vec<u8>) {
                let to: fn(&Self) -> $code = $to;
                to(self).put(bytes);
            }
            fn take(bytes: &mut &[u8]) -> Option<Self> {
                let from: fn($code) -> Option<Self> = $from;
                from(<$code>::take(bytes)?)
            }
        }
    )*};
}

coded_as! {
    SpringRate as f64: |rate| rate.value(), |figure| Self::checked(figure).ok();
    Share as f64: |share| share.value(), |figure| Self::checked(figure).ok();
    Step as u8: |step| place_in(&Step::ALL, step), |place| Self::ALL.get(usize::from(place)).copied();
    Origin as u8: |origin| place_in(&ORIGINS, origin), |place| ORIGINS.get(usize::from(place)).copied();
    Location as u8: |place| place_in(&WHEREABOUTS, place), |place| WHEREABOUTS.get(usize::from(place)).copied();
    Trouble as u8: |trouble| place_in(&TROUBLES, trouble), |place| TROUBLES.get(usize::from(place)).copied();
    Stamp as (i64, (u32, i32)): |stamp| parts_of(*stamp), from_parts;
    Seal as (u8, u64): |seal| (kind_of(*seal), seal.revision().get()), |(kind, revision)| {
        let revision = Revision::new(revision);
        [Self::None, Self::EditedOutside { revision }, Self::Sound { revision }].get(usize::from(kind)).copied()
    };
    FileStamp as (u64, (i64, u64)): |trace| (trace.inode, (trace.changed_ns, trace.length)),
        |(inode, (changed_ns, length))| Some(Self { inode, changed_ns, length });
}

const ORIGINS: [Origin; 2] = [Origin::Workshop, Origin::Demonstration];
const WHEREABOUTS: [Location; 3] = [Location::Records, Location::Spool, Location::Beside];
const TROUBLES: [Trouble; 4] = [Trouble::Newer, Trouble::Damaged, Trouble::NotARecord, Trouble::OutOfReach];

fn place_in<T: PartialEq>(all: &[T], one: &T) -> u8 {
    let place = all.iter().position(|other| other == one);
    place.and_then(|place| u8::try_from(place).ok()).unwrap_or(u8::MAX)
}

fn kind_of(seal: Seal) -> u8 {
    match seal {
        Seal::None => 0,
        Seal::EditedOutside { .. } => 1,
        Seal::Sound { .. } => 2,
    }
}

fn parts_of(stamp: Stamp) -> (i64, (u32, i32)) {
    (stamp.timestamp(), (stamp.timestamp_subsec_nanos(), stamp.offset().local_minus_utc()))
}

fn from_parts((seconds, (nanoseconds, east)): (i64, (u32, i32))) -> Option<Stamp> {
    let offset = FixedOffset::east_opt(east)?;
    Some(DateTime::from_timestamp(seconds, nanoseconds)?.with_timezone(&offset))
}

impl<A: Coded, B: Coded> Coded for (A, B) {
    fn put(&self, bytes: &mut Vec<u8>) {
        self.0.put(bytes);
        self.1.put(bytes);
    }
    fn take(bytes: &mut &[u8]) -> Option<Self> {
        Some((A::take(bytes)?, B::take(bytes)?))
    }
}

impl<T: Coded> Coded for Option<T> {
    fn put(&self, bytes: &mut Vec<u8>) {
        u8::from(self.is_some()).put(bytes);
        if let Some(value) = self {
            value.put(bytes);
        }
    }
    fn take(bytes: &mut &[u8]) -> Option<Self> {
        match u8::take(bytes)? {
            0 => Some(None),
            1 => T::take(bytes).map(Some),
            _ => None,
        }
    }
}

fn put_text(text: &str, bytes: &mut Vec<u8>) {
    u32::try_from(text.len()).unwrap_or(u32::MAX).put(bytes);
    bytes.extend_from_slice(text.as_bytes());
}

fn take_text<'b>(bytes: &mut &'b [u8]) -> Option<&'b str> {
    let length = usize::try_from(u32::take(bytes)?).ok()?;
    let (text, rest) = bytes.split_at_checked(length)?;
    *bytes = rest;
    str::from_utf8(text).ok()
}

/// A value that is coded as a text.
macro_rules! coded_as_text {
    ($($kind:ty: $to:expr, $from:expr;)*) => {$(
        impl Coded for $kind {
            fn put(&self, bytes: &mut Vec<u8>) {
                let to: fn(&Self) -> &str = $to;
                put_text(to(self), bytes);
            }
            fn take(bytes: &mut &[u8]) -> Option<Self> {
                let from: fn(&str) -> Option<Self> = $from;
                from(take_text(bytes)?)
            }
        }
    )*};
}

coded_as_text! {
    String: String::as_str, |text| Some(text.to_owned());
    SessionName: SessionName::as_str, Self::of_stem;
    FreeText: FreeText::as_typed, |text| Some(Self::new(text));
}

/// A struct as its fields, in the order written here.
macro_rules! coded_struct {
    ($kind:ident { $($field:ident),* $(,)? }) => {
        impl Coded for $kind {
            fn put(&self, bytes: &mut Vec<u8>) {
                $(self.$field.put(bytes);)*
            }
            fn take(bytes: &mut &[u8]) -> Option<Self> {
                Some(Self { $($field: Coded::take(bytes)?),* })
            }
        }
    };
}

coded_struct!(WorkSummary { step, fitted, swaps, sag, target });
coded_struct!(SessionSummary { opened, customer, bike, origin, seal, work });
coded_struct!(IndexedSession { name, whereabouts, trace, contents });

impl Coded for Contents {
    fn put(&self, bytes: &mut Vec<u8>) {
        match self {
            Self::Read(summary) => {
                0_u8.put(bytes);
                summary.put(bytes);
            }
            Self::Unreadable { trouble, because } => {
                1_u8.put(bytes);
                trouble.put(bytes);
                because.put(bytes);
            }
        }
    }
    fn take(bytes: &mut &[u8]) -> Option<Self> {
        match u8::take(bytes)? {
            0 => Some(Self::Read(Box::new(SessionSummary::take(bytes)?))),
            1 => Some(Self::Unreadable { trouble: Coded::take(bytes)?, because: Coded::take(bytes)? }),
            _ => None,
        }
    }
}
