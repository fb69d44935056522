//! Who may use what the program makes in a folder: its owner alone, or the group of the folder too.
//!
//! A folder is shared where its group may write in it and it hands that group on (the setgid bit of POSIX), or where a line of its marker says
//! so, for a share that shows no such bit. The mask of whoever runs the program does not count there: a file that half of a
//! shop cannot read is worse than one that says who may. Everywhere else files are their owner's. Not here: who is in a group.

use super::RealDisk;
use super::folder::MARKER;
use super::open::read_bytes;
use std::fs::{self, File};
use std::path::Path;

/// The line of a marker that says so.
pub const SHARED_LINE: &str = "shared";

/// Who may use what is made in a folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sharing {
    /// Its owner.
    Private,
    /// The group of the folder as well.
    Group,
}

impl Sharing {
    /// That of a folder; private where nothing is known of it.
    pub fn of(folder: &Path) -> Self {
        let above = folder.parent().filter(|above| !above.as_os_str().is_empty());
        let says = marker_says(folder) || above.is_some_and(marker_says);
        if hands_on_its_group(folder) || says { Self::Group } else { Self::Private }
    }

    /// Gives a file that was just made to whom it is for. Where the disk knows no such rights, nothing is wrong.
    pub fn give(self, file: &File) {
        if self == Self::Group {
            let _ =
                file.metadata().and_then(|found| file.set_permissions(shared(found.permissions(), 0o660)));
        }
    }

    /// The same for a folder.
    pub fn give_folder(self, folder: &Path) {
        if self == Self::Group {
            let _ = fs::metadata(folder)
                .and_then(|found| fs::set_permissions(folder, shared(found.permissions(), 0o2770)));
        }
    }
}

fn marker_says(folder: &Path) -> bool {
    let marker = read_bytes(&RealDisk, &folder.join(MARKER)).unwrap_or_default();
    String::from_utf8_lossy(&marker).lines().any(|line| line.trim_end() == SHARED_LINE)
}

#[cfg(unix)]
fn hands_on_its_group(folder: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    fs::metadata(folder).is_ok_and(|found| found.mode() & 0o2020 == 0o2020)
}

#[cfg(not(unix))]
fn hands_on_its_group(_: &Path) -> bool {
    false
}

#[cfg(unix)]
fn shared(_: fs::Permissions, mode: u32) -> fs::Permissions {
    std::os::unix::fs::PermissionsExt::from_mode(mode)
}

#[cfg(not(unix))]
fn shared(found: fs::Permissions, _: u32) -> fs::Permissions {
    found
}
