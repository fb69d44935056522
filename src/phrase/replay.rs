//! Words of a session that is watched.
//!
//! Not here: what was done at a moment (`deed`).

use crate::session::Stamp;

/// Why nothing can be entered.
pub const ONLY_WATCHED: &str = "This session is only watched; nothing in it changes. Press Esc to go back.";
/// What Enter does.
pub const NEXT: &str = "next moment, Up goes back";
/// A record in which nothing was done.
pub const NOTHING: &str = "Nothing was done in this session yet.";

/// When it was, and which moment of how many.
pub fn moment(at: Stamp, place: usize, moments: usize) -> String {
    format!("{}  {place} of {moments}", at.format("%H:%M"))
}
