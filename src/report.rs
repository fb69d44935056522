//! Floor 5: a record and its assessment on paper, and lists of records: plain text for a person, JSON for a script. Pure.
//!
//! Not here: reading the record (`archive`), and anything on a screen.

mod folder;
mod json;
mod sessions;
mod text;

pub use folder::FolderLook;
pub use json::as_json;
pub use sessions::{sessions_as_json, sessions_as_text};
pub use text::as_text;

use crate::assessment::Assessment;
use crate::session::{Setup, State};

/// What a report is made from.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The setup as it was told, corrections included.
    pub setup: &'a Setup,
    /// Where the walk stands.
    pub state: &'a State,
    /// What it all means.
    pub assessment: &'a Assessment,
}
