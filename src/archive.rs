//! The archive: the only place of the program that touches files.
//!
//! A session is one file in the **records folder**, rewritten whole at every step and acknowledged only once it and its
//! name will outlast a power cut. Beside it lie hidden sidecars: the lock, one older generation, and for a moment a
//! temporary file. When the records folder fails, the same text goes to the **spool**, a folder on this machine, and the
//! session goes on. Several programs may use one folder at once; versions are ordered by revision, never by a clock.
//!
//! ```text
//! records/                                   spool/
//!   coilwright-records.txt   the marker        1a2b3c4d5e6f7081/        one folder an identity of a records folder
//!   rack.ron                 the shop's springs
//!   2026-11-25-1012-7f3a9c.ron                   2026-11-25-1012-7f3a9c.ron
//!   .2026-11-25-1012-7f3a9c.{lock,older,tmp-…,aside-…}
//!   wastebasket/             sessions discarded, with all that was beside them
//!   forgotten.txt            when a person was forgotten, and which sessions went
//! ```
//!
//! To the writers a record is text with a check line ([`seal`]); what the text means is known to [`form`] alone, and whether
//! one version carries another on is asked of the caller. The [`index`] remembers what a list wants of every session, so
//! that a hundred thousand are listed at once, and [`search`] finds among them; both can be thrown away at any time, and so
//! can `folders.ron` beside the spool, by which a folder is [`known_folders`] again. Neither clock nor random source is read.

pub mod backup_file;
pub mod disk;
pub mod folder;
pub mod forget;
pub mod form;
pub mod hold;
pub mod index;
pub mod known_folders;
pub mod leftover;
pub mod lock;
pub mod name;
pub mod open;
pub mod own_file;
pub mod rack_file;
pub mod recover;
pub mod seal;
pub mod search;
pub mod settings_file;
pub mod sharing;
pub mod spool;
pub mod stray;
pub mod wastebasket;
pub mod write;

pub use disk::{Disk, FileKind, RealDisk};
pub use folder::{FolderError, FolderIdentity, Listing};
pub use hold::{FoundSession, HoldError, HoldOutcome, ReadOnly};
pub use index::{Contents, Index, IndexedSession, SessionSummary, Trouble};
pub use known_folders::{FolderRole, KnownFolders};
pub use leftover::Leftover;
pub use name::{FileRole, NameError, SessionName};
pub use open::{LARGEST_RECORD, OpenError, OpenedSession};
pub use own_file::OwnFile;
pub use recover::{Candidate, CarriesOn, Recovered};
pub use seal::{Revision, Seal};
pub use search::{Finder, KnownBike, KnownCustomer, Register};
pub use spool::{BroughtIn, OtherSpool};
pub use stray::{Stray, StrayKind};
pub use write::{KeepError, RecordsFault, SessionWriter, StoredIn, WriteStep};

use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A records folder known by its marker, the spool for it, and the disk they lie on. Cheap to clone.
#[derive(Clone, Debug)]
pub struct Archive {
    disk: Arc<dyn Disk>,
    records: PathBuf,
    spool: PathBuf,
    identity: FolderIdentity,
}

impl Archive {
    /// The folder the records lie in.
    pub fn records_folder(&self) -> &Path {
        &self.records
    }

    /// The folder on this machine that takes what the records folder could not.
    pub fn spool_folder(&self) -> &Path {
        &self.spool
    }

    /// Who the records folder is; worth remembering for the next start ([`Archive::open`]).
    pub fn identity(&self) -> FolderIdentity {
        self.identity
    }

    /// Reads a session without locking it: a record is only ever replaced whole.
    ///
    /// # Errors
    /// [`OpenError`] when it is missing or is not a text file of fitting size.
    pub fn read(&self, name: &SessionName) -> Result<OpenedSession, OpenError> {
        open::read_text(&*self.disk, &self.record_path(name))
    }

    /// Where the record of a session lies.
    pub fn record_path(&self, name: &SessionName) -> PathBuf {
        self.records.join(name.record())
    }

    fn spool_path(&self, name: &SessionName) -> PathBuf {
        self.spool.join(name.record())
    }
}
