//! Words of forgetting a customer: what will go, what was done, and what takes the place of what was typed.
//!
//! Not here: what is done (`archive::forget`).

mod page;

use super::review::counted;
use crate::session::Stamp;
pub use page::{ForgetOutcome, WillGo, page, result};

/// What is kept of the sessions of a person.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keeping {
    /// Nothing.
    Nothing,
    /// Every figure, with other words in the place of what was typed.
    Figures,
}

/// In the place of a note or a work order.
pub const REMOVED: &str = "removed";
/// At the head of the file in which is written what was forgotten.
pub const LOG_HEAD: &str = "Customers forgotten with coilwright: the day, how many sessions, and what their files were called. No person is named.\n";
/// What is asked on the terminal.
pub const ASK: &str = "Type yes to go on, anything else to leave everything as it is: ";
/// The word that agrees.
pub const YES: &str = "yes";
/// Nobody agreed.
pub const LEFT: &str = "Nothing was changed.";
/// Nobody can be asked.
pub const NOBODY_TO_ASK: &str = "Nobody can be asked here, so nothing was changed.";
/// How to agree beforehand.
pub const SAY_YES: &str = "Read the list above, then run it again with --yes.";
/// The name is none.
pub const NO_NAME: &str = "A customer's name needs letters.";
/// The name is nowhere any more.
pub const GONE: &str =
    "The name is in no file of this folder, its backups or the list saved on this computer.";
/// What goes besides.
pub const INDEX_TOO: &str = "The list saved on this computer is written again without them.";
/// What the program cannot reach.
pub const OUT_OF_REACH: &str = "Exports, backup files and printed cards made earlier still hold the name: remove them yourself. Other \
                                computers drop it from their lists when they next open this folder.";
/// Over the files of the folder that hold the name and are nothing the program can take it out of.
pub const BEYOND: &str = "Not reached; remove or change them yourself:";
/// Over the kinds of files that go.
pub const FILES_GO: &str = "Files that go:";
/// Over the sessions.
pub const SESSIONS: &str = "Sessions:";
/// What cannot be undone.
pub const NO_WAY_BACK: &str = "This cannot be undone.";
/// What is to be typed on the screen, and what each word does.
pub const WORDS_TO_TYPE: &str = "Type remove to remove all of this. Type figures to keep every measurement and replace the name, bike, work \
                                 order and notes. Enter alone leaves everything as it is.";
/// The word that removes.
pub const REMOVE: &str = "remove";
/// The word that keeps the figures.
pub const FIGURES: &str = "figures";
/// Another word was typed.
pub const NEITHER_WORD: &str =
    "Type remove or figures, or press Esc to leave everything as it is. Nothing was changed.";
/// What Enter does with nothing typed.
pub const LEAVE: &str = "leave everything as it is";
/// What Enter does once a word is typed.
pub const REMOVE_ALL: &str = "remove all of this for good";
/// The same where the figures stay.
pub const KEEP_FIGURES: &str = "make them anonymous for good";
/// What Enter does with another word typed.
pub const READ_WORD: &str = "read the word";
/// What Enter does at the end.
pub const GO_BACK: &str = "go back";
/// The customer of this session has no name.
pub const NAMELESS: &str = "This session has no customer's name, so there is nobody to forget.";
/// The log could not be written.
pub const LOG_UNWRITTEN: &str =
    "The sessions are forgotten, but that could not be written into forgotten.txt.";
/// What to do about files that still hold the name.
pub const STILL_NAMED: &str = "Still with the name; open or remove them yourself:";
/// What to do about sessions that stay.
pub const RUN_AGAIN: &str = "Close them there, then do this again.";

/// Nobody of that name.
pub fn nobody(name: &str) -> String {
    format!("No session of {name} is in this folder, and no file names them.")
}

/// In the place of the customer.
pub fn customer(number: usize) -> String {
    format!("forgotten customer {number}")
}

/// In the place of one of their bikes.
pub fn bike(number: usize) -> String {
    format!("bike {number}")
}

/// So many of something.
pub fn count(count: usize, one: &str, more: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{} {more}", counted(count)) }
}

/// So many sessions.
pub fn sessions(number: usize) -> String {
    count(number, "session", "sessions")
}

/// A line of the log; none where no session was touched.
pub fn log_line(now: Stamp, removed: &[&str], anonymous: &[&str]) -> Option<String> {
    let part = |done: &str, names: &[&str]| {
        (!names.is_empty()).then(|| format!("{done} {}: {}", sessions(names.len()), names.join(", ")))
    };
    let parts: Vec<String> =
        [part("removed", removed), part("made anonymous", anonymous)].into_iter().flatten().collect();
    (!parts.is_empty()).then(|| format!("{} {}", now.format("%Y-%m-%d %H:%M %:z"), parts.join("; ")))
}

/// A kind of file that goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum GoingFile {
    /// The record of a session.
    Record,
    /// The version before its last step.
    Older,
    /// Another version beside it.
    Copy,
    /// A backup on this computer.
    Backup,
    /// In the wastebasket.
    Discarded,
    /// A setup card, or a session under another name.
    Loose,
}

/// How many sessions go.
pub fn will_go(count: usize, keeping: Keeping) -> String {
    let sessions = sessions(count);
    match keeping {
        Keeping::Figures => format!(
            "{sessions} will be made anonymous: measurements stay, the name, bike, work order and notes are replaced."
        ),
        Keeping::Nothing => format!("{sessions} will be removed."),
    }
}

/// Sessions that are not named one by one.
pub fn and_more(more: usize) -> String {
    format!("and {} more", counted(more))
}

/// So many files of a kind.
pub fn files(kind: GoingFile, number: usize) -> String {
    match kind {
        GoingFile::Record => count(number, "session file", "session files"),
        GoingFile::Older => count(number, "older version", "older versions"),
        GoingFile::Copy => count(number, "conflict copy", "conflict copies"),
        GoingFile::Backup => count(number, "backup on this computer", "backups on this computer"),
        GoingFile::Discarded => count(number, "file in the wastebasket", "files in the wastebasket"),
        GoingFile::Loose => count(number, "setup card or renamed session", "setup cards or renamed sessions"),
    }
}

/// Sessions of others that name the customer.
pub fn of_others(number: usize) -> String {
    format!("The name is also in {} of other customers; only the name is taken out there.", sessions(number))
}

/// A session that stays because it is in use.
pub fn is_open(name: &str) -> String {
    format!("Session {name} is open in another program and stays as it is.")
}

/// A session of which a file could not be changed.
pub fn file_stays(name: &str, path: &str, because: &str) -> String {
    format!("Session {name}: {path} could not be changed, because {because}.")
}

/// Sessions that stay.
pub fn stay(number: usize) -> String {
    match number {
        1 => "1 session still has the name:".to_owned(),
        more => format!("{} sessions still have the name:", counted(more)),
    }
}

/// A file that could not be removed.
pub fn still_in(path: &str) -> String {
    format!("{path} still holds the name and could not be removed")
}

/// What this computer kept of a forgotten customer while the folder was away.
pub fn not_brought_in(number: usize) -> String {
    format!(
        "Steps of {} saved on this computer were removed: their customer was forgotten meanwhile.",
        sessions(number)
    )
}

/// A customer whose name is nearly the one asked for.
pub fn similar(name: &str, visits: usize) -> String {
    format!(
        "Similar name, left alone: {name}, {}. Forget that name too if it is the same person.",
        sessions(visits)
    )
}

/// What was done, in a sentence.
pub fn done(removed: usize, anonymous: usize, cleaned: usize) -> String {
    let parts = [
        (removed, format!("removed {}", sessions(removed))),
        (anonymous, format!("made {} anonymous", sessions(anonymous))),
        (cleaned, format!("took the name out of {} of others", sessions(cleaned))),
    ];
    let parts: Vec<String> =
        parts.into_iter().filter(|(count, _)| *count > 0).map(|(_, part)| part).collect();
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    if parts.is_empty() { LEFT.to_owned() } else { super::sentence(&super::listed(&parts)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_the_log_names_files_only() {
        let now = chrono::DateTime::UNIX_EPOCH.fixed_offset();
        assert_eq!(
            log_line(now, &["a", "b"], &["c"]).as_deref(),
            Some("1970-01-01 00:00 +00:00 removed 2 sessions: a, b; made anonymous 1 session: c")
        );
        assert_eq!(log_line(now, &[], &[]), None);
    }

    #[test]
    fn what_was_done_is_one_sentence() {
        assert_eq!(done(2, 0, 1), "Removed 2 sessions and took the name out of 1 session of others.");
        assert_eq!(done(0, 0, 0), LEFT);
    }
}
