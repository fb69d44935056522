//! A line on the terminal that says how far a command has come that takes long, and is gone at its end.
//!
//! It stands on standard error, only where that is a terminal, and only once somebody has waited: a pipe, a file and what is
//! written to standard output never see it. Not here: the screen, which says how far it is in its own place.

use std::io::{self, IsTerminal, Write};
use std::time::{Duration, Instant};

use crate::phrase::review::counted;

/// After so many milliseconds nobody takes a silent program for a quick one any more.
pub(super) const PATIENCE_MS: i64 = 333;
/// Between two words about it.
const BETWEEN: Duration = Duration::from_millis(100);

/// How far a command has come.
#[derive(Debug)]
pub(super) struct ProgressLine {
    /// What is done to the records: "Looked at", say.
    done: &'static str,
    /// When the next word is due; none where nobody would see it.
    due: Option<Instant>,
    /// Cells of the line that stands there.
    stands: usize,
}

impl ProgressLine {
    /// Nothing done yet.
    pub(super) fn begin(done: &'static str) -> Self {
        let due = io::stderr()
            .is_terminal()
            .then(|| Instant::now() + Duration::from_millis(PATIENCE_MS.unsigned_abs()));
        Self { done, due, stands: 0 }
    }

    /// The same where what is written must not have a line put into its middle.
    pub(super) fn unseen(done: &'static str) -> Self {
        Self { done, due: None, stands: 0 }
    }

    /// The folder is still being listed.
    pub(super) fn listing(&mut self) {
        self.enter(|_| "Listing the records folder".to_owned());
    }

    /// So many of all are done.
    pub(super) fn at(&mut self, records: usize, of: usize) {
        self.enter(|done| format!("{done} {} of {} records", counted(records), counted(of)));
    }

    /// Says something on standard error that stays.
    pub(super) fn say(&mut self, lasting: &dyn std::fmt::Display) {
        self.wipe();
        // A closed standard error leaves nobody to tell.
        let _ = writeln!(io::stderr(), "{lasting}");
    }

    fn enter(&mut self, words: impl FnOnce(&str) -> String) {
        let now = Instant::now();
        if self.due.is_none_or(|due| now < due) {
            return;
        }
        self.due = Some(now + BETWEEN);
        let words = words(self.done);
        let left = self.stands.saturating_sub(words.len());
        let _ = write!(io::stderr(), "\r{words}{}", " ".repeat(left));
        self.stands = words.len();
    }

    fn wipe(&mut self) {
        if self.stands > 0 {
            let _ = write!(io::stderr(), "\r{}\r", " ".repeat(self.stands));
            self.stands = 0;
        }
    }
}

impl Drop for ProgressLine {
    fn drop(&mut self) {
        self.wipe();
    }
}
