//! Files of the user's own, changed on the screen or by hand: the shop's springs and the settings.
//!
//! What they share: the format number is looked at before anything else, every fault is told at once with its line, and a
//! write is whole or not at all and goes neither over a file that could not be read nor over what somebody else wrote
//! meanwhile. Not here: what stands in either file (`rack_file`, `settings_file`).

use std::fmt;
use std::io;
use std::path::PathBuf;
use std::sync::Arc;
use std::thread;

use chrono::TimeDelta;
use ron::error::SpannedError;
use ron::value::RawValue;
use serde::de::Deserialize;

use super::disk::{Disk, WriteMode, folder_of, put_whole};
use super::form::fields::{self, RecordText};
use super::form::{in_plain_words, options};
use super::lock::{LockAnswer, SessionLock};
use super::open::{LARGEST_RECORD, OpenError, read_text};

/// How often a lock that another program holds is asked for again: a write takes it for a moment.
const TRIES: usize = 100;

/// Something wrong in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineFault {
    /// The line, from one.
    pub line: usize,
    /// What is wrong there; safe to show.
    pub reason: String,
}

impl fmt::Display for LineFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Line {}: {}", self.line, self.reason)
    }
}

/// Refuses every format but the known one; a newer file may be anything else as well, so this comes first.
pub(super) fn check_format(text: &str, known: u32) -> Result<(), Vec<LineFault>> {
    match fields::look(text, "format").and_then(|piece| fields::read::<u32>(text, piece).ok()) {
        Some(found) if found != known => {
            let reason = format!(
                "this file is in format {found} and this program reads format {known}; use the program that wrote it"
            );
            Err(vec![LineFault { line: 1, reason }])
        }
        _ => Ok(()),
    }
}

/// The fault a parser found in a part of a text.
pub(super) fn fault_in(text: &str, part: &str, error: &SpannedError) -> LineFault {
    let (place, reason) = in_plain_words(part, error);
    LineFault { line: line_of(text, part) + place.line - 1, reason }
}

/// Reads a part of a text on its own.
pub(super) fn part<'de, T: Deserialize<'de>>(text: &str, part: &'de str) -> Result<T, LineFault> {
    options().from_str(part).map_err(|error| fault_in(text, part, &error))
}

/// The line in `text` at which a part of it begins.
pub(super) fn line_of(text: &str, part: &str) -> usize {
    let offset = part.as_ptr().addr().saturating_sub(text.as_ptr().addr());
    1 + text.get(..offset).map_or(0, |before| before.matches('\n').count())
}

/// The value of a field as it stands in the text.
pub(super) fn value(raw: &RawValue) -> &str {
    raw.trim().get_ron()
}

/// What is said of a figure that RON can write and no quantity can hold.
pub(super) const NO_FIGURE: &str = "a figure is not a number; write it in plain digits";

/// Rounded to a millionth, far below what anybody measures: a conversion leaves no tail of digits in a file.
pub(super) fn tidy(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

/// With a blank after every comma and colon, as a person would write it; only for lines in which no text stands.
pub(super) fn spaced(line: &str) -> String {
    line.replace(',', ", ").replace(':', ": ")
}

/// Every field of a text with its value, and the fault that ends it early, if one does.
pub(super) fn fields(text: &str) -> (Vec<(&str, &str)>, Option<LineFault>) {
    let (sheet, broken) = RecordText::of(text);
    (sheet.fields, broken.map(|error| fault_in(text, text, &error)))
}

/// A file of the user's own on its disk, and what it held when it was last looked at.
#[derive(Debug)]
pub struct OwnFile {
    disk: Arc<dyn Disk>,
    path: PathBuf,
    before: Before,
}

/// What the file held when it was last looked at.
#[derive(Debug, PartialEq)]
enum Before {
    /// It was not looked at, or could not be read.
    Unread,
    /// There was none.
    Nothing,
    /// This text.
    Text(String),
}

/// Why a file could not be kept.
#[derive(Debug)]
pub enum OwnFileError {
    /// What stands in it could not be read.
    Unread {
        /// What it is called.
        name: String,
    },
    /// It is no longer the one that was read.
    Changed {
        /// What it is called.
        name: String,
    },
    /// It would be larger than what is read again.
    TooLarge {
        /// What it is called.
        name: String,
    },
    /// It cannot be looked at.
    Open(OpenError),
    /// It cannot be written.
    Unwritable {
        /// What it is called.
        name: String,
        /// What the system said.
        source: io::Error,
    },
}

impl OwnFile {
    /// The file at a path; nothing is looked at yet.
    pub fn new(disk: Arc<dyn Disk>, path: PathBuf) -> Self {
        Self { disk, path, before: Before::Unread }
    }

    /// Reads the file; none where there is none.
    ///
    /// # Errors
    /// With every fault in it, or why it cannot be read at all. It is not written before it was read soundly.
    pub fn read<T>(
        &mut self,
        understand: impl FnOnce(&str) -> Result<T, Vec<LineFault>>,
    ) -> Result<Option<T>, Vec<String>> {
        self.before = Before::Unread;
        let text = match read_text(&*self.disk, &self.path) {
            Ok(opened) => opened.text,
            Err(OpenError::Missing { .. }) => {
                self.before = Before::Nothing;
                return Ok(None);
            }
            Err(error) => return Err(vec![error.to_string()]),
        };
        let understood = understand(&text)
            .map_err(|faults| faults.iter().map(ToString::to_string).collect::<Vec<String>>())?;
        self.before = Before::Text(text);
        Ok(Some(understood))
    }

    /// Writes the file, whole or not at all, unless it is no longer what was read.
    ///
    /// # Errors
    /// [`OwnFileError`]; the file is as it was then.
    pub fn keep(&mut self, text: String) -> Result<(), OwnFileError> {
        let _lock = self.lock()?;
        let present = match read_text(&*self.disk, &self.path) {
            Ok(opened) => Before::Text(opened.text),
            Err(OpenError::Missing { .. }) => Before::Nothing,
            Err(error) => return Err(OwnFileError::Open(error)),
        };
        if self.before == Before::Unread {
            return Err(OwnFileError::Unread { name: self.name() });
        }
        if present != self.before {
            return Err(OwnFileError::Changed { name: self.name() });
        }
        if text.len() as u64 > LARGEST_RECORD {
            return Err(OwnFileError::TooLarge { name: self.name() });
        }
        let put = put_whole(&*self.disk, &self.path, text.as_bytes(), WriteMode::WriteOver);
        // After a failure it may be there all the same, and is then our own change and nobody else's.
        let ours = || read_text(&*self.disk, &self.path).is_ok_and(|opened| opened.text == text);
        if put.is_ok() || ours() {
            self.before = Before::Text(text);
        }
        put.map_err(|source| OwnFileError::Unwritable { name: self.name(), source })
    }

    /// Keeps other programs from looking and writing between our look and our write. Where nobody can lock, the look alone
    /// has to do. The folder is made first, for the lock lies in it.
    fn lock(&self) -> Result<Option<SessionLock>, OwnFileError> {
        let unwritable = |source| OwnFileError::Unwritable { name: self.name(), source };
        self.disk.create_folder(folder_of(&self.path)).map_err(unwritable)?;
        let path = self.path.with_file_name(format!(".{}.lock", self.name()));
        for _ in 0..TRIES {
            match self.disk.lock(&path) {
                LockAnswer::Ours(lock) => return Ok(Some(lock)),
                LockAnswer::Unsupported(_) => return Ok(None),
                LockAnswer::InUse => thread::sleep(TimeDelta::milliseconds(10).to_std().unwrap_or_default()),
            }
        }
        Err(OwnFileError::Changed { name: self.name() })
    }

    fn name(&self) -> String {
        self.path.file_name().unwrap_or_default().to_string_lossy().into_owned()
    }
}

impl fmt::Display for OwnFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unread { name } => {
                write!(
                    f,
                    "the file {name} could not be read and was left as it is; fix it, or give it another name"
                )
            }
            Self::Changed { name } => write!(
                f,
                "the file {name} was changed by somebody else meanwhile and was left alone; leave this list, open it again, and \
                 change it there"
            ),
            Self::TooLarge { name } => write!(
                f,
                "{name} would be larger than the {LARGEST_RECORD} bytes that are read again and was left as it is; take \
                 something out of it"
            ),
            Self::Open(error) => error.fmt(f),
            Self::Unwritable { name, .. } => write!(f, "the file {name} cannot be written"),
        }
    }
}

impl std::error::Error for OwnFileError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Unread { .. } | Self::Changed { .. } | Self::TooLarge { .. } => None,
            Self::Open(error) => error.source(),
            Self::Unwritable { source, .. } => Some(source),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::archive::RealDisk;

    fn anything(text: &str) -> Result<String, Vec<LineFault>> {
        if text.is_empty() { broken(text) } else { Ok(text.to_owned()) }
    }

    fn broken(_: &str) -> Result<String, Vec<LineFault>> {
        Err(vec![LineFault { line: 1, reason: "it is broken".to_owned() }])
    }

    #[test]
    fn a_file_that_was_not_read_soundly_is_never_written_over() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("own.ron");
        fs::write(&path, "theirs").expect("room");
        let mut file = OwnFile::new(Arc::new(RealDisk), path.clone());
        for _ in 0..2 {
            assert!(matches!(file.keep("mine".to_owned()), Err(OwnFileError::Unread { .. })));
            assert!(file.read(broken).is_err());
        }
        assert_eq!(fs::read_to_string(&path).expect("it is there"), "theirs");
        assert_eq!(file.read(anything), Ok(Some("theirs".to_owned())));
        let large = "x".repeat(1 + usize::try_from(LARGEST_RECORD).expect("a few megabytes"));
        assert!(matches!(file.keep(large), Err(OwnFileError::TooLarge { .. })));
        assert_eq!(fs::read_to_string(&path).expect("it is there"), "theirs");
        file.keep("mine".to_owned()).expect("nobody changed it");
        assert_eq!(fs::read_to_string(&path).expect("it is there"), "mine");
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 1, "the temporary file stayed");
    }

    #[test]
    fn the_folder_of_a_first_file_is_made_when_it_is_written() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let folder = home.path().join("config").join("of its own");
        let mut file = OwnFile::new(Arc::new(RealDisk), folder.join("own.ron"));
        assert_eq!(file.read(anything), Ok(None));
        assert!(!folder.exists());
        file.keep("mine".to_owned()).expect("there was none");
        assert_eq!(fs::read_to_string(folder.join("own.ron")).expect("it is there"), "mine");
        // Removed by somebody else meanwhile: also a change.
        fs::remove_file(folder.join("own.ron")).expect("it is there");
        assert!(matches!(file.keep("mine".to_owned()), Err(OwnFileError::Changed { .. })));
    }
}
