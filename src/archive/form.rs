//! The form a record has in a file: RON that a person can read and mend, and the way back to a [`Record`].
//!
//! A file opens with its format number, names every unit in its field names and has one entry a line:
//!
//! ```text
//! (
//!     format: 2,
//!     opened: "2026-11-25T10:00:00+01:00",
//!     rider_kg: 82.0,
//!     springs: [
//!         (number: 1, rate_lb_in: 450.0, stroke_mm: 65.0),
//!     ],
//!     entries: [
//!         (at: "2026-11-25T10:12:00+01:00", did: Read(reading_mm: 15.5)),
//!     ],
//! )
//! ```
//!
//! What is read has passed every limit of the session: the figures through [`Intake::enter`](crate::session::Intake),
//! the entries through [`machine::replay`]. Reading what was written gives the same record to the last bit.
//!
//! A field of the record itself that this program does not know is kept as it stands and written back ([`Unknown`]).
//! Comments, the order of fields and the way a figure is spelled are not kept. An unknown field *inside* a spring, an
//! entry or a deed is not dropped either: within one format number it is damage, told with its line, so a later program
//! that adds one there has to raise the number. Not here: the file itself (`archive`), check values, and words for a
//! refusal, which the error carries as data.

mod fault;
pub(super) mod fields;
mod parts;
mod record;
mod upgrade;
mod value;

pub(super) use fault::in_plain_words;
pub use fault::{Damage, FormError, RecordFault, TextPosition};
pub(super) use fields::options;

use crate::session::machine::{self, EntryMisfit};
use crate::session::{Record, State};
use record::Gathered;

/// The newest format this program reads. It writes an older one where that says the same, so that an earlier program goes on
/// reading what it can.
pub const FORMAT: u32 = 4;

/// Fields of a record this program does not know, kept as they were written, for the next save.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Unknown(Vec<(String, String)>);

impl Unknown {
    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether this holds of one of their values, as it was written.
    pub fn says(&self, held: impl Fn(&str) -> bool) -> bool {
        self.0.iter().any(|(name, value)| held(name) || held(value))
    }

    /// Their names, as they stand in the file.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(name, _)| name.as_str())
    }
}

/// What was read from a file.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadRecord {
    /// The record; its entries fit the walk.
    pub record: Record,
    /// What it folds to.
    pub state: State,
    /// What else stood in the file.
    pub unknown: Unknown,
}

/// The text of a record, in the present format.
///
/// # Errors
/// [`FormError::Unwritable`] when a time lies outside the years 0 to 9999, which no file can hold.
pub fn write(record: &Record, unknown: &Unknown) -> Result<String, FormError> {
    record::write(record, &unknown.0).map_err(|error| FormError::Unwritable(error.to_string()))
}

/// Reads the text of a record, in any format up to the present one.
///
/// # Errors
/// [`FormError`]: a newer format, no record at all, or damage with its line and what can be read besides.
pub fn read(text: &str) -> Result<ReadRecord, FormError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let text = &*upgrade::to_present(text)?;
    let (reading, read) = record::read(text);
    let gathered = reading.gather();
    if let Err(error) = read {
        return Err(fault::syntax(text, &error, gathered.map(|gathered| walkable(gathered.record))));
    }
    let Some(Gathered { mut record, fault, unknown }) = gathered else {
        return Err(FormError::unreadable(TextPosition::START, "the field opened is missing".to_owned()));
    };
    if let Some((field, fault)) = fault {
        let piece = fields::look(text, field);
        let place = piece.map_or(TextPosition::START, |piece| fields::place_of(text, piece));
        return Err(FormError::damaged(place, fault, Some(record)));
    }
    match machine::replay(&record) {
        Ok(state) => Ok(ReadRecord { record, state, unknown: Unknown(unknown) }),
        Err(misfit) => {
            let (sheet, _) = fields::RecordText::of(text);
            let piece = sheet.entries.and_then(|entries| entries.get(misfit.entry - 1).copied());
            let place = piece.map_or(TextPosition::START, |piece| fields::place_of(text, piece));
            let fault = misfit_of(&mut record, misfit);
            Err(FormError::damaged(place, fault, Some(record)))
        }
    }
}

/// What can be read, its entries only as far as they fit the walk.
fn walkable(mut record: Record) -> Record {
    if let Err(misfit) = machine::replay(&record) {
        misfit_of(&mut record, misfit);
    }
    record
}

/// An entry that does not fit, cut off the record with all that follow it.
fn misfit_of(record: &mut Record, EntryMisfit { entry, refusal }: EntryMisfit) -> RecordFault {
    let at = record.entries.get(entry - 1).map_or(record.opened, |entry| entry.at);
    record.entries.truncate(entry - 1);
    RecordFault::Misfit { entry, at, refusal }
}
