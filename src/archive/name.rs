//! What the files of a session are called: the name is made by the program from date, time and a random part, and every
//! file beside the record (lock, older generation, temporary) takes its name from it.
//!
//! A person's or a bike's name never gets in here: then no path can be forged through a name, no two names differ only in
//! case or accents, and two laptops writing into one folder do not collide. The date and time are there for people; what is
//! newer is decided by the revision inside the file, because clocks lie. No clock and no random source is read here.

use chrono::{DateTime, Datelike, NaiveDate, NaiveTime, TimeZone, Timelike};
use std::fmt;
use std::path::Path;
use std::str::FromStr;

/// How the part before `.ron` is built: `d` a decimal digit, `h` a small hexadecimal digit, anything else itself.
const FORM: &[u8; LENGTH] = b"dddd-dd-dd-dddd-hhhhhh";
const LENGTH: usize = 22;
/// Of these the date and the time take so many.
const MINUTE: usize = 15;

/// The name of one session, such as `2026-11-25-1012-7f3a9c`. Its order is by date and time of the name, then the random part.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SessionName(
    /// ASCII of that [`FORM`]. In place and not on the heap: lists hold a hundred thousand of them.
    [u8; LENGTH],
);

impl SessionName {
    /// Names a session begun at `begun`, told apart by the low 24 bits of `random`. A year outside 0 to 9999 (a clock far
    /// off) becomes the nearest of these.
    pub fn new<Z: TimeZone>(begun: &DateTime<Z>, random: u32) -> Self {
        let local = begun.naive_local();
        let stem = format!(
            "{:04}-{:02}-{:02}-{:02}{:02}-{:06x}",
            local.year().clamp(0, 9999),
            local.month(),
            local.day(),
            local.hour(),
            local.minute(),
            random & 0x00ff_ffff
        );
        Self(std::array::from_fn(|place| stem.as_bytes()[place]))
    }

    /// The name without its ending, for messages.
    pub fn as_str(&self) -> &str {
        str::from_utf8(&self.0).unwrap_or_default()
    }

    /// The part that tells day and minute.
    pub(super) fn minute(&self) -> &[u8] {
        &self.0[..MINUTE]
    }

    /// Whether it names a session begun on that day or later. A name opens with the day the session was begun, so what is older
    /// need not even be read.
    pub fn is_begun_since(&self, day: NaiveDate) -> bool {
        self.as_str() >= day.format("%Y-%m-%d").to_string().as_str()
    }

    /// The file name of the record itself.
    pub fn record(&self) -> String {
        format!("{self}.ron")
    }

    /// The sidecar that is locked while a program holds the session.
    pub fn lock(&self) -> String {
        format!(".{self}.lock")
    }

    /// The sidecar that keeps the version before the present one.
    pub fn older(&self) -> String {
        format!(".{self}.older")
    }

    /// A temporary file of this session; the writer passes its process id and a number it has not used before.
    pub fn temporary(&self, process: u32, number: u64) -> String {
        format!(".{self}.tmp-{process}-{number}")
    }

    /// A version that came from elsewhere and was set aside unread.
    pub fn aside(&self, number: u32) -> String {
        format!(".{self}.aside-{number}")
    }

    /// The session of exactly this name, as [`SessionName::as_str`] gives it.
    pub(super) fn of_stem(stem: &str) -> Option<Self> {
        Self::split(stem).filter(|(_, rest)| rest.is_empty()).map(|(name, _)| name)
    }

    /// The stem at the start of `text` and what follows it.
    fn split(text: &str) -> Option<(Self, &str)> {
        let (stem, rest) = text.split_at_checked(LENGTH)?;
        let fits = stem.bytes().zip(FORM).all(|(byte, form)| match form {
            b'd' => byte.is_ascii_digit(),
            b'h' => byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte),
            literal => byte == *literal,
        });
        let letters = *stem.as_bytes().first_chunk()?;
        (fits && is_a_moment(stem)).then_some((Self(letters), rest))
    }
}

/// Whether the digits of a stem that fits the form are a day and a minute of the calendar.
fn is_a_moment(stem: &str) -> bool {
    let number = |range: std::ops::Range<usize>| stem[range].parse::<u32>().unwrap_or(u32::MAX);
    i32::try_from(number(0..4))
        .is_ok_and(|year| NaiveDate::from_ymd_opt(year, number(5..7), number(8..10)).is_some())
        && NaiveTime::from_hms_opt(number(11..13), number(13..15), 0).is_some()
}

impl fmt::Display for SessionName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl fmt::Debug for SessionName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "SessionName({self})")
    }
}

impl FromStr for SessionName {
    type Err = NameError;

    /// Takes a whole file name such as `2026-11-25-1012-7f3a9c.ron`, without any folder.
    ///
    /// # Errors
    /// [`NameError`] for anything that is not exactly of that form.
    fn from_str(text: &str) -> Result<Self, NameError> {
        match Self::split(text) {
            Some((name, ".ron")) => Ok(name),
            _ => Err(NameError { given: text.to_owned() }),
        }
    }
}

/// A text that is not the file name of a session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NameError {
    given: String,
}

impl fmt::Display for NameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{:?} is not the file name of a session; give one from the records folder, such as 2026-11-25-1012-7f3a9c.ron",
            self.given
        )
    }
}

impl std::error::Error for NameError {}

/// What a file in the records or spool folder is to its session.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FileRole {
    /// The record itself.
    Record,
    /// The version before the present one.
    Older,
    /// A copy in the local spool, written while the records folder could not be.
    Spool,
    /// A write that never came to its end.
    Temporary,
    /// A version that came from elsewhere and was set aside.
    Aside,
    /// A second record whose name a sync tool or a person lengthened.
    ConflictCopy,
    /// The file that is locked; it holds nothing.
    Lock,
}

impl FileRole {
    /// Says whose file this is and what it is; `None` for files of others. A spool copy is named as a record is, so the
    /// folder it lies in tells them apart, not this.
    pub fn of(file_name: &str) -> Option<(SessionName, Self)> {
        if let Some(hidden) = file_name.strip_prefix('.') {
            let (name, rest) = SessionName::split(hidden)?;
            let role = match rest {
                ".lock" => Self::Lock,
                ".older" => Self::Older,
                _ if rest.starts_with(".tmp-") => Self::Temporary,
                _ if rest.starts_with(".aside-") => Self::Aside,
                _ => return None,
            };
            return Some((name, role));
        }
        let (name, rest) = SessionName::split(file_name)?;
        let role = if rest == ".ron" { Self::Record } else { Self::ConflictCopy };
        Path::new(file_name).extension().is_some_and(|ending| ending == "ron").then_some((name, role))
    }
}
