//! The check line at the end of a record: `// rev 12 crc32 1A2B3C4D`, a comment to RON, a proof to this program.
//!
//! It tells a file this program wrote from one that was edited, cut short or damaged, and it carries the revision, by which
//! versions are ordered (never by a clock). The check value is the CRC-32 of IEEE 802.3 over everything before ` crc32 `, so
//! the revision is guarded too. A CRC finds accidents, not forgery. Whether the text means anything is not asked here.

use serde::{Deserialize, Serialize};
use std::fmt;

const OPENING: &str = "// rev ";
const MIDDLE: &str = " crc32 ";

/// Counts the writes of one session; the first is 1. A number once spent is never given to another text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Revision(u64);

impl Revision {
    /// The revision with this number; 0 stands for "never written".
    pub const fn new(number: u64) -> Self {
        Self(number)
    }

    /// The number.
    pub const fn get(self) -> u64 {
        self.0
    }

    /// The one after this. At the end of the numbers (only a forged file gets there) it stays.
    #[must_use]
    pub const fn next(self) -> Self {
        Self(self.0.saturating_add(1))
    }
}

impl fmt::Display for Revision {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// What the check line says of the text above it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Seal {
    /// Exactly as this program wrote it.
    Sound {
        /// Which write it was.
        revision: Revision,
    },
    /// There is a check line, and the text is not the one it was made for.
    EditedOutside {
        /// What the check line says, which the edit may have touched.
        revision: Revision,
    },
    /// No check line: written by hand or by another program.
    None,
}

impl Seal {
    /// The revision named, or 0 where there is no check line.
    pub fn revision(self) -> Revision {
        match self {
            Self::Sound { revision } | Self::EditedOutside { revision } => revision,
            Self::None => Revision::default(),
        }
    }

    /// Whether the text is exactly as this program wrote it.
    pub fn is_sound(self) -> bool {
        matches!(self, Self::Sound { .. })
    }
}

/// Returns `body` with its check line. Line ends become plain line feeds, as [`super::open`] gives them back.
pub fn seal(body: &str, revision: Revision) -> String {
    let mut text = body.replace("\r\n", "\n");
    if !text.is_empty() && !text.ends_with('\n') {
        text.push('\n');
    }
    text.push_str(OPENING);
    text.push_str(&revision.to_string());
    let check = format!("{:08X}", fingerprint(text.as_bytes()));
    text.push_str(MIDDLE);
    text.push_str(&check);
    text.push('\n');
    text
}

/// Reads the last check line in `text`. Anything but white space after it means an edit.
pub fn read_seal(text: &str) -> Seal {
    let mut end = text.len();
    for line in text.split('\n').rev() {
        let start = end - line.len();
        if let Some(check_line) = CheckLine::read(line) {
            return check_line.judge(text, start, end);
        }
        end = start.saturating_sub(1);
    }
    Seal::None
}

/// The CRC-32 by which two texts are told apart.
pub(super) fn fingerprint(bytes: &[u8]) -> u32 {
    crc32fast::hash(bytes)
}

struct CheckLine {
    revision: Revision,
    check: u32,
    guarded: usize,
}

impl CheckLine {
    /// Reads a line of exactly the form [`seal`] writes: no sign, no leading zero, eight large hexadecimal digits.
    fn read(line: &str) -> Option<Self> {
        let (number, check) =
            line.trim_end_matches(['\r', ' ', '\t']).strip_prefix(OPENING)?.split_once(MIDDLE)?;
        let revision = number.parse().ok().filter(|value: &u64| value.to_string() == number)?;
        let value = u32::from_str_radix(check, 16).ok().filter(|value| format!("{value:08X}") == check)?;
        Some(Self { revision: Revision(revision), check: value, guarded: OPENING.len() + number.len() })
    }

    fn judge(&self, text: &str, start: usize, end: usize) -> Seal {
        let untouched = fingerprint(&text.as_bytes()[..start + self.guarded]) == self.check;
        let last = text[end..].chars().all(|c| matches!(c, '\n' | '\r' | ' ' | '\t'));
        if untouched && last {
            Seal::Sound { revision: self.revision }
        } else {
            Seal::EditedOutside { revision: self.revision }
        }
    }
}
