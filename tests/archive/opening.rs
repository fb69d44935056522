//! Files that are not what a record should be.

use super::{Shop, a_name, body};
use coilwright::archive::open::{LARGEST_RECORD, OpenError, OpenedSession, read_text};
use coilwright::archive::seal::seal;
use coilwright::archive::{Disk, FileKind, RealDisk, Revision, Seal};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::time::Duration;

/// A file at a path of its own, made by `make`, read as a record.
fn reading(make: impl Fn(&Path)) -> Result<OpenedSession, OpenError> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("record.ron");
    make(&path);
    within_seconds(move || read_text(&RealDisk, &path))
}

/// Fails instead of hanging for ever.
fn within_seconds<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> T {
    let (sender, receiver) = mpsc::channel();
    std::thread::spawn(move || sender.send(work()));
    receiver.recv_timeout(Duration::from_secs(10)).expect("an answer, not a wait")
}

fn reading_bytes(bytes: &[u8]) -> Result<OpenedSession, OpenError> {
    reading(|path| fs::write(path, bytes).unwrap())
}

#[test]
fn a_missing_file_is_told_from_one_that_cannot_be_read() {
    let error = reading(|_| ()).unwrap_err();
    assert!(matches!(error, OpenError::Missing { .. }), "{error}");
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("file"), "").unwrap();
    let error = read_text(&RealDisk, &folder.path().join("file/record.ron")).unwrap_err();
    assert!(matches!(error, OpenError::Unreadable { .. }), "a file in the place of the folder: {error}");
}

#[test]
fn a_folder_is_not_a_plain_file() {
    let error = reading(|path| fs::create_dir(path).unwrap()).unwrap_err();
    assert!(matches!(error, OpenError::NotPlain { kind: FileKind::Folder, .. }), "{error}");
}

#[cfg(unix)]
#[test]
fn a_link_is_not_followed_be_it_to_itself_or_to_a_record() {
    use std::os::unix::fs::symlink;
    let error = reading(|path| symlink(path, path).unwrap()).unwrap_err();
    assert!(matches!(error, OpenError::NotPlain { kind: FileKind::Link, .. }), "{error}");
    let shop = Shop::with_steps(1);
    let link = shop.folder.path().join("link.ron");
    symlink(shop.beside(&a_name().record()), &link).unwrap();
    assert!(matches!(read_text(&RealDisk, &link), Err(OpenError::NotPlain { .. })));
    assert!(RealDisk.read(&link, 10).is_err(), "nor when it takes the place of a file after the look");
}

#[cfg(unix)]
fn make_pipe(path: &Path) {
    let made = std::process::Command::new("mkfifo").arg(path).status().expect("mkfifo, which POSIX asks for");
    assert!(made.success());
}

#[cfg(unix)]
#[test]
fn a_pipe_is_refused_without_waiting_for_a_writer() {
    let error = reading(make_pipe).unwrap_err();
    assert!(matches!(error, OpenError::NotPlain { kind: FileKind::Special, .. }), "{error}");
    let folder = tempfile::tempdir().unwrap();
    let pipe: PathBuf = folder.path().join("pipe");
    make_pipe(&pipe);
    let read = within_seconds(move || RealDisk.read(&pipe, 10));
    assert!(read.is_err(), "nor when it takes the place of a file after the look: {read:?}");
}

#[test]
fn a_gigabyte_is_refused_before_it_is_read() {
    let error = reading(|path| fs::File::create(path).unwrap().set_len(1 << 30).unwrap()).unwrap_err();
    assert!(matches!(error, OpenError::TooLarge { length: 0x4000_0000, .. }), "{error}");
}

#[test]
fn a_file_of_exactly_the_largest_size_is_read_and_one_byte_more_is_not() {
    let largest = usize::try_from(LARGEST_RECORD).unwrap();
    assert_eq!(reading_bytes(&vec![b' '; largest]).unwrap().text.len(), largest);
    assert!(matches!(reading_bytes(&vec![b' '; largest + 1]), Err(OpenError::TooLarge { .. })));
}

#[test]
fn no_more_than_one_byte_past_the_cap_is_read_of_a_file_that_grows() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("growing");
    fs::write(&path, "0123456789").unwrap();
    assert_eq!(RealDisk.read(&path, 4).unwrap(), b"01234");
}

/// The kernel's list of its symbols says it is empty and gives megabytes: the same as a file that grows after the look.
#[cfg(target_os = "linux")]
#[test]
fn a_file_longer_than_it_says_is_refused() {
    let path = Path::new("/proc/kallsyms");
    if !fs::read(path).is_ok_and(|bytes| bytes.len() as u64 > LARGEST_RECORD + 1) {
        eprintln!("SKIPPED: {} is not there or not long enough", path.display());
        return;
    }
    assert!(
        matches!(read_text(&RealDisk, path), Err(OpenError::TooLarge { length, .. }) if length == LARGEST_RECORD + 1)
    );
}

#[test]
fn the_first_byte_that_is_not_text_is_named() {
    match reading_bytes(b"(rate: \xff50)").unwrap_err() {
        error @ OpenError::NotText { byte: 8, .. } => {
            assert!(error.to_string().contains("byte 8"), "{error}");
        }
        other => panic!("{other}"),
    }
    assert!(matches!(
        reading_bytes("é".as_bytes().split_last().unwrap().1),
        Err(OpenError::NotText { byte: 1, .. })
    ));
}

#[test]
fn a_byte_order_mark_and_windows_line_ends_change_nothing() {
    let plain = seal(&body(3), Revision::new(3));
    let windows = format!("\u{feff}{}", plain.replace('\n', "\r\n"));
    let opened = reading_bytes(windows.as_bytes()).unwrap();
    assert_eq!(opened.text, plain);
    assert_eq!(opened.seal, Seal::Sound { revision: Revision::new(3) });
}

#[test]
fn an_empty_file_is_text_without_check_line() {
    let opened = reading_bytes(b"").unwrap();
    assert_eq!((opened.text.as_str(), opened.seal), ("", Seal::None));
}

#[test]
fn every_refusal_is_one_sentence_that_names_the_file() {
    for error in [reading(|_| ()), reading(|path| fs::create_dir(path).unwrap()), reading_bytes(&[0xff])] {
        let sentence = error.unwrap_err().to_string();
        assert!(
            sentence.contains("record.ron") && sentence.contains("; ") && !sentence.contains('\n'),
            "{sentence}"
        );
    }
}
