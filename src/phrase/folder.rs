//! Words about the records folder as a whole: not connected, or another one than before.

use crate::text::Shown;

/// The folder is not where it was, or something else is; work goes on without it.
pub fn away(folder: &Shown) -> String {
    format!(
        "The records folder {folder} is not connected: the records it held are not there. Connect it; until then every \
         step is kept on this machine and goes there afterwards. If an empty folder is right, start with --new-folder."
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
pub const FROM_THE_SPOOL: &str = "The records folder is not connected, so this session goes on from what is kept of it on \
                                  this machine.";

/// Something of the folder's own cannot be changed while it is away.
pub const AWAY: &str =
    "The records folder is not connected, so this cannot be kept now; connect it and try again.";

/// A damaged record was replaced by the version before it.
pub fn replaced(aside: &Shown) -> String {
    format!(
        "The version before the damage is in the place of the damaged file now, which lies untouched beside it as {aside}."
    )
}

/// A session went into the wastebasket.
pub fn discarded(name: &str) -> String {
    format!(
        "Discarded: {name} is in the wastebasket of the records folder now, with all that was kept of it."
    )
}

/// Somebody else wrote the record while it was open here.
pub fn set_aside(aside: &Shown) -> String {
    format!(
        "Kept. Meanwhile somebody else changed this record outside this window: their version lies beside it as {aside}. Compare the two \
         before you go on."
    )
}
