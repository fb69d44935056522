//! Words about the records folder as a whole: not connected, or another one than before.

use crate::text::Shown;

/// The folder is not where it was, or something else is; work goes on without it.
pub fn away(folder: &Shown) -> String {
    format!(
        "The records folder {folder} is not connected: the records it held are not there. Connect it; until then every \
         step is saved on this computer and goes there afterwards. If an empty folder is right, start with --new-folder."
    )
}

/// Another records folder than last time lies there.
pub fn another(folder: &Shown) -> String {
    format!(
        "Another records folder than last time is at {folder}; its sessions are listed here. If that is not what you want, \
         leave, connect the right one, and start again."
    )
}

/// A session is gone on with in the spool, because its folder is away.
pub const FROM_THE_SPOOL: &str =
    "The records folder is missing, so this session continues from the copy on this computer.";

/// Something of the folder's own cannot be changed while it is away.
pub const AWAY: &str =
    "The records folder is not connected, so this cannot be saved now; connect it and try again.";

/// A damaged record was replaced by the version before it.
pub fn replaced(aside: &Shown) -> String {
    format!(
        "The version before the damage is in the place of the damaged file now, which lies untouched beside it as {aside}."
    )
}

/// A session went into the wastebasket.
pub fn discarded(name: &str) -> String {
    format!(
        "Discarded: {name} is in the wastebasket of the records folder, with all that was saved of it. Press t to bring it back."
    )
}

/// Somebody else wrote the record while it was open here.
pub fn set_aside(aside: &Shown) -> String {
    format!(
        "Saved. Meanwhile somebody else changed this record outside this window: their version lies beside it as {aside}. Compare the two \
         before you go on."
    )
}

/// The records folder is there and takes nothing; the session goes on from the copy on this machine.
pub fn folder_takes_nothing(because: &str) -> String {
    format!("{because} Until then this session goes on from what is saved of it on this computer.")
}

/// A copy of the session could not be read when it was opened.
pub fn copy_unreadable(because: &str) -> String {
    format!(
        "Careful: a copy of this session cannot be read, and steps that were saved only there are missing here. It was left as it \
         is, and nothing is written over it. {because}"
    )
}

/// Nobody can lock a session in this folder.
pub fn unlocked(said: &Shown) -> String {
    format!(
        "In this folder no session can be locked ({said}). Keep this session open in one place only: two people who write it at \
         once make two versions of it."
    )
}

/// The records folder could not be listed.
pub const UNLISTED: &str = "cannot be listed";

/// A copy of a folder that this machine knows at another place.
pub fn a_copy(folder: &Shown) -> String {
    format!(
        "The folder {folder} is a copy of one that this computer uses at another place. Steps saved on this computer for that one \
         stay there. If this is the folder to use from now on, start with --new-folder."
    )
}

/// The marker was damaged and has been written anew.
pub fn marker_mended(folder: &Shown) -> String {
    format!(
        "The file by which the folder {folder} is known was damaged. It has been written again; no record was touched."
    )
}

/// What was kept on this machine is in the folder now.
pub fn brought_in(sessions: usize) -> String {
    match sessions {
        1 => "Steps of 1 session that were saved on this computer are in the records folder now.".to_owned(),
        more => {
            format!(
                "Steps of {more} sessions that were saved on this computer are in the records folder now."
            )
        }
    }
}

/// A session went two ways while the folder was away.
pub fn went_another_way(names: &str) -> String {
    format!(
        "Saved on this computer and in the records folder in two versions that differ: {names}. Both are saved; \"Two versions\" on \
         the first screen brings them together."
    )
}

/// What was kept on this machine stays there.
pub fn waiting(names: &str) -> String {
    format!(
        "Steps of these sessions are still saved on this computer only: {names}. `coilwright check` says why and what to do."
    )
}

/// Sessions are kept for another folder.
pub fn kept_for_others(sessions: usize) -> String {
    let sessions = match sessions {
        1 => "1 session".to_owned(),
        more => format!("{more} sessions"),
    };
    format!(
        "Steps of {sessions} are saved on this computer for another records folder; they go there when it is opened. `coilwright \
         check` names them."
    )
}

/// A record that somebody renamed has its name back.
pub fn named_again(file: &Shown, name: &str) -> String {
    format!(
        "The file {file} is the record of a session; it is called {name}.ron again, so that it is in the list."
    )
}

/// Another version of something lies in the folder.
pub fn rivals(files: &[String]) -> String {
    let first = crate::text::Shown::from(files.first().map_or("", String::as_str)).fitted(60);
    match files.len() {
        1 => format!(
            "Another version lies in the records folder: {first}. `coilwright check` says what to do."
        ),
        more => format!(
            "{more} files in the records folder hold another version of something, {first} for one. `coilwright check` names them \
             and says what to do."
        ),
    }
}

/// On a card: the file it was made from is no longer as this program wrote it.
pub const CHANGED_OUTSIDE: &str =
    "Made from a file that was changed outside the program: check every figure before you rely on it.";

/// The same of a file, on the way to a report.
pub fn changed_outside(file: &Shown) -> String {
    format!(
        "{file} is not as this program wrote it: it was changed outside, or damaged. Check its figures before you rely on them."
    )
}

/// A session whose record somebody removed.
pub const REMOVED: &str = "The record of this session was removed from the records folder. The version before its last step is still \
                           there, and nothing is put back unless you say so.";

/// What to do about stray files, and the name of their kind that scripts go by.
pub mod stray {
    /// A record that a person renamed.
    pub const RENAMED: (&str, &str) = (
        "renamed_record",
        "The record of a session under another name, so it is in no list. Start `coilwright` on this folder, which gives it its \
         name back.",
    );
    /// A copy of a record under a foreign name.
    pub const COPY: (&str, &str) = (
        "copy_of_record",
        "A copy of a session that is here. Compare the two; remove this file once it is not needed.",
    );
    /// Another version of a file of the folder's own.
    pub const OWN_FILE: (&str, &str) = (
        "conflict_copy",
        "Another version of a file of this folder, from a sync tool or a person. Take over by hand what is missing in the right \
         one, then remove this file.",
    );
    /// The rack cannot be read.
    pub const RACK: &str = "rack_unreadable";
    /// Sessions kept for another folder.
    pub const OTHER_FOLDER: (&str, &str) = (
        "kept_for_another_folder",
        "Steps saved on this computer for another records folder. They go there when `coilwright` is started with that folder.",
    );
}
/// A record whose check value does not match.
pub const EDITED_OUTSIDE: &str =
    "This record was changed outside the program; what is in it now is what counts.";
/// A later version beside a record.
pub const TAKEN_OVER: &str =
    "A later version of this record was found beside it and taken over; nothing of the earlier one is lost.";
/// A version that differs.
pub const ANOTHER_VERSION: &str = "Another version of this session lies beside it, with steps that are not here. \"Two versions\" on the first screen brings them together.";
/// A session that somebody else has open.
pub const IN_USE: &str = "Another program has this session open, so it can only be looked at here.";

/// A folder on which no file can be locked.
pub fn no_locks(because: &str) -> String {
    format!("the records folder lets nobody lock a file ({because}), so it can only be looked at here")
}
