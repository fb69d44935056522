//! Which records folders this machine has used: by the path, the identity that was found there.
//!
//! After an unmount an empty mount point looks just like a folder that nobody has used yet. Where an identity is remembered
//! and no marker is found, the folder is away, and marking it anew would scatter the records over two folders. The file
//! lies beside the spool; one that cannot be read is as good as none, and all it costs is that the question is not asked.

use super::disk::{Disk, WriteMode, put_whole};
use super::folder::FolderIdentity;
use super::form::options;
use super::open::read_text;
use serde::{Deserialize, Serialize};
use std::io;
use std::path::{Path, PathBuf};

/// What the file is called.
pub const FILE: &str = "folders.ron";
const FORMAT: u32 = 1;
/// The most folders remembered; nobody uses as many, and a script that makes one after another must not fill the file.
const MOST: usize = 64;

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct KnownFile {
    format: u32,
    folders: Vec<KnownLine>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct KnownLine {
    path: String,
    /// As the marker spells it.
    identity: String,
    #[serde(default, skip_serializing_if = "FolderRole::is_home")]
    role: FolderRole,
}

/// What a folder is to its identity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum FolderRole {
    /// The folder itself: what is kept on this machine for the identity belongs there.
    #[default]
    Home,
    /// A copy of it, a backup perhaps.
    Copy,
}

impl FolderRole {
    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks so")]
    fn is_home(&self) -> bool {
        *self == Self::Home
    }
}

/// The folders used, the latest first.
#[derive(Debug)]
pub struct KnownFolders {
    file: PathBuf,
    folders: Vec<KnownLine>,
}

impl KnownFolders {
    /// What `file` remembers; nothing where it cannot be read.
    pub fn read(disk: &dyn Disk, file: &Path) -> Self {
        let sheet = read_text(disk, file).ok().and_then(|opened| options().from_str(&opened.text).ok());
        let folders = match sheet {
            Some(KnownFile { format: FORMAT, folders }) => folders,
            _ => Vec::new(),
        };
        Self { file: file.to_owned(), folders }
    }

    /// Who the folder at this path was when it was last used.
    pub fn identity_at(&self, folder: &Path) -> Option<FolderIdentity> {
        let path = folder.to_str()?;
        let line = self.folders.iter().find(|line| line.path == path)?;
        u64::from_str_radix(&line.identity, 16).ok().map(FolderIdentity::new)
    }

    /// Whether the folder at this path is the home of that identity or a copy of it: a copy where another path is remembered
    /// as the home and something is there still, be it only the empty place of a share that is away.
    pub fn role_of(&self, folder: &Path, identity: FolderIdentity) -> FolderRole {
        let spelt = identity.to_string();
        let mut lines = self.folders.iter().filter(|line| line.identity == spelt);
        if let Some(known) = lines.clone().find(|line| Some(line.path.as_str()) == folder.to_str()) {
            return known.role;
        }
        let one = |path: &Path| std::fs::canonicalize(path).ok();
        let elsewhere = |line: &KnownLine| {
            let home = one(Path::new(&line.path));
            line.role == FolderRole::Home && home.is_some() && home != one(folder)
        };
        if lines.any(elsewhere) { FolderRole::Copy } else { FolderRole::Home }
    }

    /// The folders that are the home of an identity, with it.
    pub fn homes(&self) -> impl Iterator<Item = (&Path, FolderIdentity)> {
        let homes = self.folders.iter().filter(|line| line.role == FolderRole::Home);
        homes.filter_map(|line| {
            let identity = u64::from_str_radix(&line.identity, 16).ok()?;
            Some((Path::new(&line.path), FolderIdentity::new(identity)))
        })
    }

    /// Remembers who the folder at this path is, as the one used last. A path that is not UTF-8 is not remembered.
    ///
    /// # Errors
    /// What the system said; the file is as it was then.
    pub fn remember(
        &mut self,
        disk: &dyn Disk,
        folder: &Path,
        identity: FolderIdentity,
        role: FolderRole,
    ) -> io::Result<()> {
        let Some(path) = folder.to_str() else { return Ok(()) };
        let line = KnownLine { path: path.to_owned(), identity: identity.to_string(), role };
        if self.folders.first() == Some(&line) {
            return Ok(());
        }
        self.folders.retain(|line| line.path != path);
        self.folders.insert(0, line);
        self.folders.truncate(MOST);
        self.write(disk)
    }

    /// Writes the file whole or not at all.
    fn write(&self, disk: &dyn Disk) -> io::Result<()> {
        let sheet = KnownFile { format: FORMAT, folders: self.folders.clone() };
        let layout = ron::ser::PrettyConfig::new().compact_structs(true).new_line("\n");
        let text = options().to_string_pretty(&sheet, layout).map_err(io::Error::other)? + "\n";
        put_whole(disk, &self.file, text.as_bytes(), WriteMode::WriteOver)
    }
}
