//! Words of a backup file: what it says of itself, what was put in or taken out, and why one is refused.
//!
//! Not here: what is in it (`archive::backup_file`).

use super::forget::{count, sessions};
use crate::session::Stamp;

/// The backup could not be read or written.
pub const UNREADABLE: &str = "the backup file could not be read or written";
/// It is something else.
pub const NOT_A_BACKUP: &str =
    "it is not a backup file of this program, or a later version made it; name another file";
/// It ends too early.
pub const CUT_SHORT: &str = "the backup file is cut short; copy it again from where it was made";
/// Nothing was written.
pub const NOTHING_WRITTEN: &str = "Nothing was written to the records folder.";
/// What to do where a folder holds other sessions.
pub const MERGE: &str =
    "Name an empty folder with --records, or add what is missing with --merge: nothing is overwritten.";
/// What is not in a backup.
pub const LEFT_OUT: &str = "These files could not be read or are too large, and are not in the backup:";
/// What to do about them.
pub const REST_IS_THERE: &str = "Everything else is. `coilwright check` says what is wrong with them.";

/// What a backup says of itself.
pub fn about(now: Stamp) -> String {
    format!(
        "Made {}. To put it into a records folder: coilwright restore FILE.\n\
         To check it without the program: sha256sum -c SHA256SUMS",
        now.format("%Y-%m-%d %H:%M %:z")
    )
}

/// A file in it was changed.
pub fn changed(name: &str) -> String {
    format!("{name} in the backup file is damaged: its check value is wrong; use another copy of the backup")
}

/// A file in it has no business there.
pub fn foreign(name: &str) -> String {
    format!("{name} in the backup file does not belong in a records folder; use another copy of the backup")
}

/// What was backed up.
pub fn made(number: usize, files: usize, place: &str) -> String {
    format!(
        "{} in {} saved to {place}. Every check value is right.",
        sessions(number),
        count(files, "file", "files")
    )
}

/// The folder holds other sessions.
pub fn not_empty(folder: &str, number: usize) -> String {
    format!(
        "the records folder {folder} holds {} that the backup has not, or has in another version",
        sessions(number)
    )
}

/// The folder holds sessions and is not marked as a records folder.
pub fn no_marker(folder: &str, number: usize) -> String {
    format!("the folder {folder} holds {} without the file that marks a records folder", sessions(number))
}

/// The folder may be away.
pub fn perhaps_away(folder: &str) -> String {
    format!("the records folder {folder} was used on this computer before, and may only be disconnected")
}

/// What to do then.
pub const NEW_FOLDER: &str =
    "Connect it. If it is lost, run `coilwright --new-folder restore FILE`, which makes it again.";

/// What was restored.
pub fn restored(number: usize, there: usize, forgotten: usize, folder: &str) -> String {
    let mut said = format!("{} restored to {folder}.", sessions(number));
    if there > 0 {
        said.extend([" ", &count(there, "session was", "sessions were"), " there already."]);
    }
    if forgotten > 0 {
        said.extend([" ", &sessions(forgotten), " of forgotten customers left out."]);
    }
    said
}

/// Sessions in two versions.
pub fn beside(names: &str) -> String {
    format!("In two versions now, both saved: {names}. `coilwright check` says what to do.")
}
