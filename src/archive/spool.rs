//! Bringing in what this machine kept while a records folder was away, for every identity it ever wrote under.
//!
//! A copy in the spool goes into its folder where it carries the record on, or where there never was a record; a copy that
//! went another way becomes a version beside the record, and one that cannot be read stays where it is: both are told. A
//! folder that got another identity (two synced folders that first met) is known by its sessions, and takes the spool of
//! its old identity over. Not here: settling one session ([`super::recover`]).

use super::disk::folder_of;
use super::folder::{FolderError, FolderIdentity, SessionFile};
use super::hold::FoundSession;
use super::lock::LockAnswer;
use super::name::{FileRole, SessionName};
use super::open::read_text;
use super::recover::CarriesOn;
use super::{Archive, Candidate};
use std::collections::BTreeSet;
use std::io;
use std::path::PathBuf;

/// What came of bringing in the sessions of a spool.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub struct BroughtIn {
    /// What was kept on this machine is in the records folder now.
    pub sessions: Vec<SessionName>,
    /// The record went another way meanwhile; both versions are kept.
    pub rivals: Vec<SessionName>,
    /// It stays on this machine: it cannot be read, or the folder does not take it, or somebody discarded the session.
    pub waiting: Vec<SessionName>,
    /// They are of a customer who was forgotten meanwhile, and are gone from this machine too.
    pub forgotten: Vec<SessionName>,
}

/// A spool of another identity with sessions in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OtherSpool {
    /// Whose.
    pub identity: FolderIdentity,
    /// Where it lies.
    pub folder: PathBuf,
    /// Which sessions.
    pub sessions: Vec<SessionName>,
}

impl Archive {
    /// Brings every session of the spool into the records folder; those in use are left to the program that has them.
    ///
    /// # Errors
    /// [`FolderError`] where the records folder is away or the spool cannot be listed.
    pub fn bring_in(&self, carries_on: CarriesOn) -> Result<BroughtIn, FolderError> {
        let spooled: BTreeSet<_> = self.files_in_spool()?.into_iter().map(|file| file.name).collect();
        let mut brought = BroughtIn::default();
        if spooled.is_empty() {
            return Ok(brought);
        }
        self.check_marker()?;
        let (discarded, forgotten) = (self.discarded()?, self.forgotten_sessions());
        for name in spooled {
            if forgotten.contains(&name) && !self.is_gone_on_with(&name, carries_on) {
                if self.forget_spooled(&name) {
                    brought.forgotten.push(name);
                }
                continue;
            }
            match self.settle(&name, carries_on) {
                Ok(FoundSession::Settled(settled)) if !settled.unreadable.is_empty() => {
                    brought.waiting.push(name);
                }
                Ok(FoundSession::Settled(settled)) if !settled.rivals.is_empty() => brought.rivals.push(name),
                Ok(FoundSession::Settled(settled)) if settled.taken_over.is_some() => {
                    brought.sessions.push(name);
                }
                Ok(FoundSession::Settled(_) | FoundSession::ReadOnly(_)) => {}
                Ok(FoundSession::Offered(left))
                    if !discarded.contains(&name) && self.begin_from(&name, &left) =>
                {
                    brought.sessions.push(name);
                }
                Ok(FoundSession::Offered(_)) | Err(_) => brought.waiting.push(name),
            }
        }
        Ok(brought)
    }

    /// Whether the spool carries on the record that there is.
    fn is_gone_on_with(&self, name: &SessionName, carries_on: CarriesOn) -> bool {
        let spooled = read_text(&*self.disk, &self.spool_path(name));
        let both = spooled.ok().zip(self.read(name).ok());
        both.is_some_and(|(spooled, record)| carries_on(&spooled.text, &record.text))
    }

    /// Removes what the spool has of a session that was forgotten, unless a program holds it.
    fn forget_spooled(&self, name: &SessionName) -> bool {
        let LockAnswer::Ours(_lock) = self.disk.lock(&self.spool.join(name.lock())) else { return false };
        let files = self.files_in_spool().unwrap_or_default().into_iter().filter(|file| file.name == *name);
        let gone = files.map(|file| self.disk.remove(&file.path)).all(|removed| removed.is_ok());
        gone && self.disk.sync_folder(&self.spool).is_ok()
    }

    /// Puts a session into the folder that was begun while it was away. Where an older version lies beside, there was a record
    /// and somebody removed it: then that stays as it is.
    fn begin_from(&self, name: &SessionName, left: &[Candidate]) -> bool {
        let only_ours = left.iter().all(|one| one.path.starts_with(&self.spool));
        let best = left.first().filter(|one| only_ours && one.opened.seal.is_sound());
        best.is_some_and(|best| self.restore(name, best).is_ok())
    }

    /// The spools of other identities beside this one.
    pub fn other_spools(&self) -> Vec<OtherSpool> {
        let root = folder_of(&self.spool);
        let listed = self.disk.list(root).unwrap_or_default();
        let identities = listed.iter().filter_map(|name| FolderIdentity::of_text(name.to_str()?));
        let others = identities.filter(|identity| *identity != self.identity).filter_map(|identity| {
            let folder = root.join(identity.to_string());
            let files = self.files_in(&folder).ok()?.into_iter().filter(|file| file.role != FileRole::Lock);
            let sessions: BTreeSet<_> = files.map(|file| file.name).collect();
            let sessions: Vec<_> = sessions.into_iter().collect();
            (!sessions.is_empty()).then_some(OtherSpool { identity, folder, sessions })
        });
        others.collect()
    }

    /// Whether a record of any of these sessions lies in the folder: names are drawn, so no two folders share one by chance.
    pub fn holds_any(&self, names: &[SessionName]) -> bool {
        names.iter().any(|name| self.disk.look(&self.record_path(name)).is_ok())
    }

    /// Moves what lies in the spool of another identity into this one's. Sessions in use stay.
    ///
    /// # Errors
    /// What the system said; what was not moved lies where it lay.
    pub fn take_over(&self, other: &OtherSpool) -> io::Result<()> {
        self.disk.create_folder(&self.spool)?;
        for name in &other.sessions {
            let LockAnswer::Ours(_lock) = self.disk.lock(&other.folder.join(name.lock())) else { continue };
            let files = self.files_in(&other.folder).unwrap_or_default();
            for file in files.into_iter().filter(|file| file.name == *name && file.role != FileRole::Lock) {
                self.disk.rename(&file.path, &self.free_place(&file))?;
            }
        }
        self.disk.sync_folder(&self.spool)?;
        self.disk.sync_folder(&other.folder)
    }

    /// A place for a file in this spool at which nothing lies.
    fn free_place(&self, file: &SessionFile) -> PathBuf {
        let same = self.spool.join(file.path.file_name().unwrap_or_default());
        let asides = (1..).map(|number| self.spool.join(file.name.aside(number)));
        let mut places = std::iter::once(same).chain(asides);
        let mut place = places.next().unwrap_or_default();
        while self.disk.look(&place).is_ok() {
            place = places.next().unwrap_or_default();
        }
        place
    }

    /// The same folder opened as a copy of another: what is kept on this machine for the other stays there, and what this one
    /// does not take is kept apart.
    #[must_use]
    pub fn as_a_copy(self) -> Self {
        let place = super::seal::fingerprint(self.records.as_os_str().as_encoded_bytes());
        let spool = folder_of(&self.spool).join(format!("{}-copy-{place:08x}", self.identity));
        Self { spool, ..self }
    }
}
