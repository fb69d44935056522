//! What lies in the folder besides the records and what belongs to them: for a look at the whole folder.
//!
//! Nothing is read or touched here; what becomes of a leftover is settled when its session is opened ([`super::recover`]).

use super::folder::FolderError;
use super::name::{FileRole, SessionName};
use super::{Archive, folder::SessionFile};
use std::collections::BTreeSet;
use std::path::PathBuf;

/// A file that is more than a session needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leftover {
    /// Whose it is.
    pub name: SessionName,
    /// What it is to its session. An older generation is one only where the record is gone.
    pub role: FileRole,
    /// Where it lies.
    pub path: PathBuf,
}

impl Archive {
    /// Everything in the records folder and the spool that has to be settled, offered or shown, newest session first.
    ///
    /// # Errors
    /// [`FolderError`] where the folder has gone or cannot be listed.
    pub fn leftovers(&self) -> Result<Vec<Leftover>, FolderError> {
        self.check_marker()?;
        let files = self.files_in(&self.records)?;
        let recorded: BTreeSet<SessionName> =
            files.iter().filter(|file| file.role == FileRole::Record).map(|file| file.name.clone()).collect();
        let left = |file: &SessionFile| match file.role {
            FileRole::Record | FileRole::Lock => false,
            FileRole::Older => !recorded.contains(&file.name),
            FileRole::Spool | FileRole::Temporary | FileRole::Aside | FileRole::ConflictCopy => true,
        };
        let files = files.into_iter().chain(self.files_in_spool()?).filter(left);
        let mut leftovers: Vec<_> =
            files.map(|SessionFile { name, role, path }| Leftover { name, role, path }).collect();
        leftovers.sort_by(|a, b| b.name.cmp(&a.name).then_with(|| a.path.cmp(&b.path)));
        Ok(leftovers)
    }
}
