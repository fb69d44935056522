//! The export with a file for every month, to be brought to where several shops come together.
//!
//! Every month is worked out each time, and a file whose bytes would stay the same is not touched: what copies the folder
//! elsewhere sees only months in which something changed. A month whose sessions are all gone becomes an empty file, so that
//! a customer who was forgotten here goes there as well. Not here: what a session looks like (`report`).

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use flate2::Compression;
use flate2::write::GzEncoder;

use super::{progress, told, written};
use crate::app::outlet::{NewFile, Reader};
use crate::archive::{Archive, SessionName};
use crate::cli::{ExportOptions, Month};
use crate::failure::Failure;

/// So much of a session's name is its month.
const MONTH: usize = "2026-11".len();

/// Writes a file for every month of these sessions, oldest first in each.
pub(super) fn write(
    archive: &Archive,
    names: &[SessionName],
    folder: &Path,
    options: &ExportOptions,
) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|error| cannot(folder, error))?;
    let mut left_out = 0;
    let mut progress = progress(options);
    for month in names.chunk_by(|one, next| one.as_str()[..MONTH] == next.as_str()[..MONTH]) {
        let mut text = Vec::new();
        left_out += written(archive, month, options, &mut progress, |piece| {
            text.extend_from_slice(piece.as_bytes());
            Ok(Reader::There)
        })?;
        put(&file_of(folder, &month[0].as_str()[..MONTH], options), &text, options)?;
    }
    for emptied in without_sessions(folder, names, options)? {
        put(&emptied, &[], options)?;
    }
    drop(progress);
    told(left_out, names.len())
}

/// Puts the text in the file, unless just that is there.
fn put(file: &Path, text: &[u8], options: &ExportOptions) -> Result<(), Failure> {
    let bytes =
        if options.compress { zipped(text).map_err(|error| cannot(file, error))? } else { text.to_owned() };
    if fs::read(file).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    let mut new = NewFile::written_over(file)?;
    new.writer().write_all(&bytes).map_err(|error| cannot(file, error))?;
    new.finish()
}

/// The same bytes from the same text: no time and no name is in the head of the file (RFC 1952, MTIME 0).
fn zipped(text: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut zip = GzEncoder::new(Vec::new(), Compression::default());
    zip.write_all(text)?;
    zip.finish()
}

/// The files of an earlier export, of months asked for, that have no session now.
fn without_sessions(
    folder: &Path,
    names: &[SessionName],
    options: &ExportOptions,
) -> Result<Vec<PathBuf>, Failure> {
    let entries = fs::read_dir(folder).map_err(|error| cannot(folder, error))?;
    let files = entries.filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned()));
    let (opening, ending) = ends(options);
    let month = |file: String| file.strip_prefix(opening)?.strip_suffix(&ending)?.parse::<Month>().ok();
    let asked = |month: &Month| options.month.as_ref().is_none_or(|asked| asked == month);
    let empty = |month: &Month| !names.iter().any(|name| month.holds(name.as_str()));
    let emptied = files.filter_map(month).filter(|month| asked(month) && empty(month));
    Ok(emptied.map(|month| file_of(folder, &month.to_string(), options)).collect())
}

fn file_of(folder: &Path, month: &str, options: &ExportOptions) -> PathBuf {
    let (opening, ending) = ends(options);
    folder.join(format!("{opening}{month}{ending}"))
}

/// What the name of a file has before and behind its month.
fn ends(options: &ExportOptions) -> (&'static str, String) {
    let (opening, ending) = match options {
        ExportOptions { csv: true, .. } => ("sets-", ".csv"),
        ExportOptions { sets: true, .. } => ("sets-", ".jsonl"),
        _ => ("sessions-", ".jsonl"),
    };
    (opening, if options.compress { format!("{ending}.gz") } else { ending.to_owned() })
}

fn cannot(path: &Path, error: std::io::Error) -> Failure {
    Failure::new(format!("{} cannot be written", path.display())).because(error)
}
