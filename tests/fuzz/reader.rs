//! What has to hold of any bytes whatever that are taken for a record: no panic, no hang, nothing that moves a terminal's pen
//! in what is said of them, and nothing lost or changed between what was read and what is written back.
//!
//! The fuzzer (`main.rs` beside this file) and `cargo test` (`tests/fuzz.rs`) run the same function.

use std::ffi::OsString;
use std::io;
use std::path::Path;

use coilwright::archive::form::{self, FormError, ReadRecord, Unknown};
use coilwright::archive::lock::LockAnswer;
use coilwright::archive::open::{LARGEST_RECORD, OpenedSession, read_text};
use coilwright::archive::seal::seal;
use coilwright::archive::{Disk, FileKind, Revision, Seal};
use coilwright::assessment::assess;
use coilwright::report::{self, Subject};
use coilwright::session::{Record, machine};
use coilwright::units::UnitSet;
use coilwright::{assets, text::Shown};

/// How far the bytes were let in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Reached {
    /// They are no text a record could be.
    NoText,
    /// They are text, and no record.
    NoRecord,
    /// They are a record in part.
    Damaged,
    /// They are a record whose intake lacks something.
    Record,
    /// They are a record that can be assessed.
    Assessed,
}

/// Takes the bytes through every door a record goes through.
///
/// # Panics
/// Where something does not hold that must.
pub(crate) fn take_in(bytes: &[u8]) -> Reached {
    let opened = match open(bytes) {
        Ok(opened) => opened,
        Err(sentence) => {
            assert_safe(&sentence);
            return Reached::NoText;
        }
    };
    match form::read(&opened.text) {
        Ok(read) => {
            comes_back(&read);
            is_assessed(&read.record)
        }
        Err(error) => {
            assert_safe(&error.to_string());
            is_refused(error)
        }
    }
}

fn open(bytes: &[u8]) -> Result<OpenedSession, String> {
    read_text(&OneFile(bytes.to_owned()), Path::new("record.ron")).map_err(|error| error.to_string())
}

/// What is read is written, sealed, opened and read, and is the same; written again it is the same text.
fn comes_back(read: &ReadRecord) {
    machine::replay(&read.record).expect("what is read fits the walk");
    let written = form::write(&read.record, &read.unknown).expect("what was read can be written");
    assert_eq!(form::read(&written).as_ref(), Ok(read), "{written}");
    let sealed = seal(&written, Revision::new(3));
    if sealed.len() as u64 > LARGEST_RECORD {
        // The writer refuses it in a sentence.
        return;
    }
    let opened = open(sealed.as_bytes()).expect("what is sealed is text");
    assert_eq!(opened.seal, Seal::Sound { revision: Revision::new(3) });
    assert_eq!(opened.text, sealed);
    let again = form::read(&opened.text).expect("a check line is a comment");
    assert_eq!(&again, read);
    assert_eq!(form::write(&again.record, &again.unknown).as_ref(), Ok(&written));
}

/// A record that was read can be assessed and reported, whatever its figures.
fn is_assessed(record: &Record) -> Reached {
    let state = machine::replay(record).expect("what is read fits the walk");
    let Some(setup) = &state.setup else { return Reached::Record };
    let assessment = assess(setup, &state, assets::doubts());
    let subject = Subject { setup, state: &state, assessment: &assessment, seal: Seal::None };
    for line in report::as_text(&subject, UnitSet::Trade).lines() {
        assert_safe(line);
    }
    report::as_json(&subject).expect("every figure has a place in JSON");
    Reached::Assessed
}

/// What is offered of a damaged record can be gone on with: it is written and read back, if need be without the entries
/// that do not fit.
fn is_refused(error: FormError) -> Reached {
    let FormError::Damaged(damage) = error else { return Reached::NoRecord };
    if let Some(mut record) = damage.readable {
        if let Err(misfit) = machine::replay(&record) {
            record.entries.truncate(misfit.entry - 1);
        }
        let state = machine::replay(&record).expect("what does not fit was left out");
        comes_back(&ReadRecord { record, state, unknown: Unknown::default() });
    }
    Reached::Damaged
}

fn assert_safe(said: &str) {
    assert_eq!(Shown::from(said).as_str(), said, "something in it would act instead of being seen");
}

/// A disk with one file on it.
#[derive(Debug)]
struct OneFile(Vec<u8>);

impl Disk for OneFile {
    fn create_new(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }

    fn link_or_copy(&self, _: &Path, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }

    fn rename(&self, _: &Path, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }

    fn remove(&self, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }

    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }

    fn create_folder(&self, _: &Path) -> io::Result<()> {
        Err(io::ErrorKind::ReadOnlyFilesystem.into())
    }

    fn look(&self, _: &Path) -> io::Result<FileKind> {
        Ok(FileKind::Plain { length: self.0.len() as u64 })
    }

    fn read(&self, _: &Path, _: u64) -> io::Result<Vec<u8>> {
        Ok(self.0.clone())
    }

    fn list(&self, _: &Path) -> io::Result<Vec<OsString>> {
        Ok(Vec::new())
    }

    fn lock(&self, _: &Path) -> LockAnswer {
        LockAnswer::Unsupported(io::ErrorKind::ReadOnlyFilesystem.into())
    }
}
