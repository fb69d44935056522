//! A look at a whole records folder: what is just as the program wrote it, and what deserves somebody's eye.
//!
//! Each oddity comes with what to do about it. Not here: finding them (`archive`), and touching any file.

use serde::Serialize;

use super::sessions::trouble_name;
use crate::archive::index::{Contents, IndexedSession, Trouble};
use crate::archive::{FileRole, Leftover};
use crate::phrase;
use crate::text::Shown;

/// A look at a whole folder: what is sound, and what deserves somebody's eye.
#[derive(Debug)]
pub struct FolderLook<'a> {
    sound: usize,
    odd: Vec<&'a IndexedSession>,
    leftovers: &'a [Leftover],
    others: Vec<OddFile>,
}

/// A file that somebody should look at; safe to show.
#[derive(Debug, Clone, Serialize)]
pub struct OddFile {
    /// Which.
    pub file: String,
    /// The name of its kind that scripts go by.
    pub kind: &'static str,
    /// In a sentence or two.
    pub what_to_do: String,
}

impl<'a> FolderLook<'a> {
    /// Sorts the records of sessions into sound ones and others.
    pub fn new(sessions: impl IntoIterator<Item = &'a IndexedSession>, leftovers: &'a [Leftover]) -> Self {
        let sound = |session: &&IndexedSession| match &session.contents {
            Contents::Read(summary) => summary.seal.is_sound(),
            Contents::Unreadable { .. } => false,
        };
        let (sound, odd): (Vec<_>, Vec<_>) = sessions.into_iter().partition(sound);
        Self { sound: sound.len(), odd, leftovers, others: Vec::new() }
    }

    /// With what else deserves a look.
    #[must_use]
    pub fn with(self, others: Vec<OddFile>) -> Self {
        Self { others, ..self }
    }

    /// How many files somebody should look at.
    pub fn to_look_at(&self) -> usize {
        self.odd.len() + self.leftovers.len() + self.others.len()
    }

    /// For a person: how many are sound, and a line for each that is not, with what to do.
    pub fn as_text(&self) -> String {
        let records = if self.sound == 1 { "record is" } else { "records are" };
        let head = format!("{} {records} just as this program wrote them.\n", self.sound);
        let lines = self.odd_files().map(|odd| format!("{}\n  {}\n", odd.file, odd.what_to_do));
        std::iter::once(head).chain(lines).collect()
    }

    /// For a script.
    ///
    /// # Errors
    /// Never in practice: there are only texts and counts in it.
    pub fn as_json(&self) -> Result<String, serde_json::Error> {
        #[derive(Serialize)]
        struct FolderReport {
            schema: u32,
            sound: usize,
            to_look_at: Vec<OddFile>,
        }
        serde_json::to_string_pretty(&FolderReport {
            schema: 1,
            sound: self.sound,
            to_look_at: self.odd_files().collect(),
        })
    }

    fn odd_files(&self) -> impl Iterator<Item = OddFile> {
        let records = self.odd.iter().map(|session| odd_record(session));
        records.chain(self.leftovers.iter().map(odd_leftover)).chain(self.others.iter().cloned())
    }
}

fn odd_record(session: &IndexedSession) -> OddFile {
    let (kind, what_to_do) = match &session.contents {
        Contents::Read(_) => ("changed_outside", CHANGED_OUTSIDE.to_owned()),
        Contents::Unreadable { trouble, because } => {
            let mut words = phrase::sentence(Shown::from(because.as_str()).as_str());
            if *trouble == Trouble::Damaged {
                let older = session.name.older();
                let beside = " The version before the last step lies hidden beside it as";
                words = format!("{words}{beside} {older}, if it was saved.");
            }
            (trouble_name(*trouble), words)
        }
    };
    OddFile { file: session.name.record(), kind, what_to_do }
}

fn odd_leftover(leftover: &Leftover) -> OddFile {
    let file = Shown::from(leftover.path.to_string_lossy().as_ref()).to_string();
    let (kind, what_to_do) = leftover_words(leftover);
    OddFile { file, kind, what_to_do: what_to_do.to_owned() }
}

const CHANGED_OUTSIDE: &str = "Changed outside the program. Open it and look its figures through; the next step saved seals \
                               it again.";

/// What to do about a leftover, and the name of its kind that scripts go by.
fn leftover_words(leftover: &Leftover) -> (&'static str, &'static str) {
    match leftover.role {
        FileRole::Temporary => (
            "broken_off_write",
            "A write that broke off, or one under way in another program. Opening the session settles it.",
        ),
        FileRole::Spool => (
            "in_spool",
            "Steps saved on this computer while the records folder was away. Open the session to bring them in.",
        ),
        FileRole::Aside => (
            "set_aside",
            "Another version of the session, saved beside it. `coilwright merge` shows what is only in it and brings the two together.",
        ),
        FileRole::ConflictCopy => (
            "conflict_copy",
            "A second record of the session, from a sync tool or a person. `coilwright merge` shows what is only in it and brings \
             the two together.",
        ),
        FileRole::Older => (
            "record_gone",
            "The record of this session was removed and only its version before the last step is left. If that was meant, remove \
             this file too; if not, put the record back from a backup, or copy this file to the record's name.",
        ),
        FileRole::Record | FileRole::Lock => ("belongs_here", "Nothing to do."),
    }
}
