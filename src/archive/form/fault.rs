//! Why a text is not a record, with its place, what can be read besides, and one plain sentence.
//!
//! Not here: words for a [`Refusal`], which `phrase` has.

use std::error::Error;
use std::fmt;

use ron::error::{Error as Code, Position, Span, SpannedError};

use crate::phrase;
use crate::session::{Entry, Record, Refusal, Stamp};
use crate::text::Shown;
use crate::units::UnitSet;

/// The most of a reason that is shown, in terminal cells: a damaged file may hold a name of any length.
const LONGEST_REASON: usize = 300;

/// A text could not be read as a record, or a record not be written.
#[derive(Debug, Clone, PartialEq)]
pub enum FormError {
    /// A later program wrote it.
    Newer {
        /// Its format number.
        found: u32,
        /// The newest this program reads.
        known: u32,
    },
    /// It is something else.
    NotARecord,
    /// It is a record and something in it cannot be.
    Damaged(Box<Damage>),
    /// The record holds something no file can hold.
    Unwritable(String),
}

/// What is wrong in a record's text, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Damage {
    /// The first place at fault.
    pub place: TextPosition,
    /// What is wrong there.
    pub fault: RecordFault,
    /// What can be read besides, unless the time of opening is lost: the details that are possible, and the entries up
    /// to the fault as far as they fit the walk. With a fault in a detail they are not walked and need not fit.
    pub readable: Option<Record>,
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum RecordFault {
    /// It cannot be read, for the reason given; safe to show.
    Unreadable(String),
    /// A detail of the intake is impossible.
    Impossible {
        /// The field.
        field: &'static str,
        /// Why.
        refusal: Refusal,
    },
    /// An entry does not fit the walk.
    Misfit {
        /// Its number, from one.
        entry: usize,
        /// Its time.
        at: Stamp,
        /// Why.
        refusal: Refusal,
    },
}

/// A place in a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextPosition {
    /// The line, from one.
    pub line: usize,
    /// The character in the line, from one.
    pub column: usize,
}

impl TextPosition {
    /// The very first character.
    pub(super) const START: Self = Self { line: 1, column: 1 };

    /// The place of a byte.
    pub(super) fn of_offset(text: &str, offset: usize) -> Self {
        let before = text.get(..offset).unwrap_or(text);
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        Self { line: 1 + before.matches('\n').count(), column: 1 + before[line_start..].chars().count() }
    }

    /// What stands before this place and what follows.
    fn split(self, text: &str) -> (&str, &str) {
        let line_start = text.split_inclusive('\n').take(self.line - 1).map(str::len).sum();
        let offset = text[line_start..].chars().take(self.column - 1).map(char::len_utf8).sum::<usize>();
        text.split_at(line_start + offset)
    }
}

impl From<Position> for TextPosition {
    fn from(position: Position) -> Self {
        Self { line: position.line, column: position.col }
    }
}

impl fmt::Display for TextPosition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}", self.line, self.column)
    }
}

impl FormError {
    pub(super) fn damaged(place: TextPosition, fault: RecordFault, readable: Option<Record>) -> Self {
        Self::Damaged(Box::new(Damage { place, fault, readable }))
    }

    pub(super) fn unreadable(place: TextPosition, reason: String) -> Self {
        Self::damaged(place, RecordFault::Unreadable(reason), None)
    }

    /// The entries that could be read before the damage.
    pub fn readable_entries(&self) -> &[Entry] {
        match self {
            Self::Damaged(damage) => damage.readable.as_ref().map_or(&[], |record| &record.entries),
            _ => &[],
        }
    }
}

impl fmt::Display for FormError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Newer { found, known } => write!(
                f,
                "this record is in format {found} and this program reads up to format {known}; \
                 open it with the newer program that wrote it"
            ),
            Self::NotARecord => f.write_str(
                "this file is not a record of this program: it has no format number; choose another file",
            ),
            Self::Damaged(damage) => damage.fmt(f),
            Self::Unwritable(reason) => {
                write!(f, "the record cannot be written: {reason}; set the clock of this computer right")
            }
        }
    }
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.place;
        match &self.fault {
            RecordFault::Unreadable(reason) => write!(f, "this record is damaged at {place}: {reason}")?,
            RecordFault::Impossible { field, refusal } => {
                let why = phrase::refusal(refusal, UnitSet::Trade);
                write!(f, "the field {field} of this record, at {place}, holds what cannot be: {why}")?;
            }
            RecordFault::Misfit { entry, at, refusal } => {
                let why = phrase::refusal(refusal, UnitSet::Trade);
                write!(
                    f,
                    "entry {entry} of this record, at {place} ({at}), does not fit what was done before it: {why}"
                )?;
            }
        }
        match self.readable.as_ref().map_or(0, |record| record.entries.len()) {
            0 => f.write_str("; fix that place, or take an older copy"),
            1 => f.write_str("; fix that place, or go on from the one entry that can be read"),
            entries => write!(f, "; fix that place, or go on from the {entries} entries that can be read"),
        }
    }
}

impl Error for FormError {}

/// What the parser found wrong, in plain words.
pub(super) fn syntax(text: &str, error: &SpannedError, readable: Option<Record>) -> FormError {
    let (place, reason) = in_plain_words(text, error);
    FormError::damaged(place, RecordFault::Unreadable(reason), readable)
}

/// Where a text cannot be read, and why; safe to show.
pub(in crate::archive) fn in_plain_words(text: &str, error: &SpannedError) -> (TextPosition, String) {
    let place =
        TextPosition::from(if names_what_it_read(&error.code) { error.span.start } else { error.span.end });
    let reason = if after_decimal_comma(text, error.span.end.into()) {
        "a comma is inside a number; write 15.5 with a point, not 15,5".to_owned()
    } else {
        Shown::from(reason(&error.code).as_str()).fitted(LONGEST_REASON)
    };
    (place, reason)
}

/// A fault found in a piece of a text that begins there, with its place in the whole.
pub(super) fn shifted(error: SpannedError, from: TextPosition) -> SpannedError {
    let shift = |at: Position| Position {
        line: at.line + from.line - 1,
        col: if at.line == 1 { at.col + from.column - 1 } else { at.col },
    };
    let span = Span { start: shift(error.span.start), end: shift(error.span.end) };
    SpannedError { span, ..error }
}

/// Whether the fault lies in what was just read and not in what comes next.
fn names_what_it_read(code: &Code) -> bool {
    matches!(
        code,
        Code::Message(_)
            | Code::InvalidValueForType { .. }
            | Code::NoSuchEnumVariant { .. }
            | Code::NoSuchStructField { .. }
            | Code::DuplicateStructField { .. }
    )
}

/// Whether a person wrote a decimal comma: a digit is followed by a comma and, instead of a field, a digit.
fn after_decimal_comma(text: &str, place: TextPosition) -> bool {
    let (before, after) = place.split(text);
    let digits_ahead = after.starts_with(|next: char| next.is_ascii_digit());
    let number_behind =
        before.strip_suffix(',').is_some_and(|before| before.ends_with(|last: char| last.is_ascii_digit()));
    digits_ahead && number_behind
}

fn reason(code: &Code) -> String {
    let plain = match code {
        Code::Eof => "the file ends in the middle of something",
        Code::ExpectedComma => "a comma is missing, or something is where it should not",
        Code::ExpectedFloat | Code::ExpectedInteger | Code::FloatUnderscore | Code::UnderscoreAtBeginning => {
            "a number belongs here"
        }
        Code::IntegerOutOfBounds | Code::InvalidIntegerDigit { .. } => "this whole number is out of range",
        Code::ExpectedString => "a text in quotes belongs here",
        Code::ExpectedStringEnd => "a text lacks its closing quote",
        Code::ExpectedIdentifier | Code::SuggestRawIdentifier(_) => {
            "the name of a field or a deed belongs here"
        }
        Code::ExpectedMapColon => "a colon belongs after the name of a field",
        Code::ExpectedStructLike | Code::ExpectedNamedStructLike(_) => "an opening ( belongs here",
        Code::ExpectedStructLikeEnd | Code::ExpectedOptionEnd => "a closing ) belongs here",
        Code::ExpectedArray => "an opening [ belongs here",
        Code::ExpectedArrayEnd => "a closing ] belongs here",
        Code::ExceededRecursionLimit => "the brackets are nested too deeply",
        Code::TrailingCharacters => "something is after the end of the record",
        Code::UnclosedBlockComment | Code::UnclosedLineComment => "a comment is not closed",
        _ => return reason_with_names(code),
    };
    plain.to_owned()
}

fn reason_with_names(code: &Code) -> String {
    match code {
        Code::NoSuchEnumVariant { expected, found, .. } | Code::NoSuchStructField { expected, found, .. } => {
            format!("{found} is not known here; known are {}", expected.join(", "))
        }
        Code::MissingStructField { field, .. } => format!("the field {field} is missing"),
        Code::DuplicateStructField { field, .. } => format!("the field {field} is here twice"),
        Code::InvalidValueForType { expected, found } => format!("{expected} belongs here, not {found}"),
        other => other.to_string(),
    }
}
