//! Floor 5: a record and its assessment on paper, lists of records, and the figures of a leverage curve or a spring's
//! wire: plain text and a card for a person, JSON and tables for a script. Pure.
//!
//! Not here: reading the record (`archive`), and anything on a screen.

mod around;
mod card;
mod changes;
mod codes;
mod folder;
mod json;
mod leverage;
mod lines;
pub mod names;
mod plot;
mod sessions;
mod table;
mod tally;
mod text;
mod wire;
mod workshop_copy;

pub use card::{Letterhead, card};
pub use folder::{FolderLook, OddFile};
pub use json::as_json;
pub use leverage::{leverage_as_json, leverage_as_text};
pub use lines::as_line;
pub use sessions::{sessions_as_json, sessions_as_text};
pub use table::{as_rows, as_set_lines, heading};
pub use tally::{tally_as_json, tally_as_text};
pub use text::as_text;
pub use wire::{wire_as_json, wire_as_text};
pub use workshop_copy::workshop_copy;

use crate::archive::Seal;
use crate::assessment::Assessment;
use crate::session::{Record, Setup, State};

/// What a report is made from.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The setup as it was told, corrections included.
    pub setup: &'a Setup,
    /// Where the walk stands.
    pub state: &'a State,
    /// What it all means.
    pub assessment: &'a Assessment,
    /// Whether the file is as this program wrote it.
    pub seal: Seal,
}

/// What an export is made from: a session whose intake may not be complete.
#[derive(Debug, Clone, Copy)]
pub struct ExportSource<'a> {
    /// The name of its file without the ending: the same for ever.
    pub name: &'a str,
    /// The record.
    pub record: &'a Record,
    /// What it folds to.
    pub state: &'a State,
    /// What it means; none while the intake is open.
    pub assessment: Option<&'a Assessment>,
    /// Whether the file is as this program wrote it.
    pub seal: Seal,
}

/// Whether an export holds what people typed about people: name, bike, notes and remarks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Personal {
    /// It does.
    Kept,
    /// It does not; the places stay, empty.
    LeftOut,
}
