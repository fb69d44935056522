//! Floor 5: a record and its assessment on paper, and the figures of a leverage curve or a spring's wire: plain text for
//! a person, JSON for a script. Pure.
//!
//! Not here: reading the record (`archive`), and anything on a screen.

mod changes;
mod json;
mod leverage;
mod plot;
mod text;
mod wire;

pub use json::as_json;
pub use leverage::{leverage_as_json, leverage_as_text};
pub use text::as_text;
pub use wire::{wire_as_json, wire_as_text};

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
