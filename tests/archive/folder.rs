//! The records folder: its marker and its list.

use super::{Shop, a_name, body, files_in};
use coilwright::archive::{Archive, FolderError, FolderIdentity, Listing, RealDisk, SessionName};
use std::fs;
use std::path::Path;
use std::sync::Arc;

fn open(records: &Path, expected: Option<FolderIdentity>) -> Result<Archive, FolderError> {
    Archive::open(Arc::new(RealDisk), records, &records.join("../spool"), expected)
}

fn names(files: &[&str]) -> Vec<SessionName> {
    files.iter().map(|file| file.parse().expect("a name")).collect()
}

#[test]
fn a_folder_once_made_is_known_again_by_its_identity() {
    let shop = Shop::real();
    let identity = shop.archive.identity();
    assert_eq!(identity, FolderIdentity::new(7));
    assert_eq!(open(&shop.records(), Some(identity)).unwrap().identity(), identity);
    assert!(
        shop.archive.spool_folder().ends_with("0000000000000007"),
        "each records folder has a spool of its own"
    );
    assert_eq!(files_in(&shop.records()), ["coilwright-records.txt"]);
}

#[test]
fn another_folder_under_the_same_path_is_refused() {
    let shop = Shop::real();
    let error = open(&shop.records(), Some(FolderIdentity::new(8))).unwrap_err();
    assert!(matches!(error, FolderError::Another { .. }), "{error}");
}

#[test]
fn an_empty_or_missing_folder_is_refused_where_one_is_expected() {
    let folder = tempfile::tempdir().unwrap();
    for records in [folder.path().to_owned(), folder.path().join("missing")] {
        assert!(matches!(open(&records, None), Err(FolderError::NoMarker { .. })));
    }
    assert_eq!(files_in(folder.path()), [] as [String; 0], "looking makes nothing");
}

#[test]
fn a_marker_that_is_not_ours_is_refused_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let marker = folder.path().join("coilwright-records.txt");
    for text in [
        "",
        "format 2 identity 0000000000000007\n",
        "format 1 identity 7\n",
        "format 1 identity zzzzzzzzzzzzzzzz\n",
    ] {
        fs::write(&marker, text).unwrap();
        let made = Archive::create(Arc::new(RealDisk), folder.path(), folder.path(), FolderIdentity::new(1));
        assert!(matches!(made, Err(FolderError::DamagedMarker { .. })), "{text:?}");
        assert_eq!(fs::read_to_string(&marker).unwrap(), text);
    }
    let line = "format 2 identity 0000000000000007";
    fs::write(&marker, format!("{line}\ncheck {:08X}\n", crc32fast::hash(line.as_bytes()))).unwrap();
    let made = Archive::create(Arc::new(RealDisk), folder.path(), folder.path(), FolderIdentity::new(1));
    assert!(matches!(made, Err(FolderError::ForeignMarker { .. })), "a later program wrote it");
}

#[test]
fn a_marker_with_any_bit_of_its_identity_wrong_is_noticed_and_mended_from_what_is_remembered() {
    let shop = Shop::real();
    let (records, spool) = (shop.records(), shop.folder.path().join("spool"));
    let marker = shop.beside("coilwright-records.txt");
    let whole = fs::read(&marker).unwrap();
    let line = whole.windows(7).position(|bytes| bytes == b"format ").expect("the line of the identity");
    let end = line + whole[line..].iter().position(|byte| *byte == b'\n').expect("it ends");
    for (place, bit) in (line..end).flat_map(|place| (0..8).map(move |bit| (place, bit))) {
        let mut flipped = whole.clone();
        flipped[place] ^= 1 << bit;
        fs::write(&marker, &flipped).unwrap();
        let opened = open(&records, Some(FolderIdentity::new(7)));
        assert!(
            matches!(opened, Err(FolderError::DamagedMarker { .. })),
            "byte {place}, bit {bit}: {opened:?}"
        );
    }
    let mended = Archive::mend(Arc::new(RealDisk), &records, &spool, FolderIdentity::new(7)).unwrap();
    assert_eq!(mended.identity(), FolderIdentity::new(7));
    assert_eq!(fs::read(&marker).unwrap(), whole);
}

#[test]
fn a_marker_made_before_it_had_a_check_value_is_taken() {
    let shop = Shop::real();
    fs::write(shop.beside("coilwright-records.txt"), "format 1 identity 0000000000000007\n").unwrap();
    assert_eq!(open(&shop.records(), None).unwrap().identity(), FolderIdentity::new(7));
}

#[test]
fn programs_that_make_the_folder_at_once_agree_on_its_identity() {
    for _ in 0..20 {
        let folder = tempfile::tempdir().unwrap();
        let records = folder.path().join("deep/records");
        let made: Vec<u64> = std::thread::scope(|scope| {
            let make = |number| {
                let identity = FolderIdentity::new(number);
                Archive::create(Arc::new(RealDisk), &records, folder.path(), identity)
                    .unwrap()
                    .identity()
                    .get()
            };
            let threads: Vec<_> = (1..=4).map(|number| scope.spawn(move || make(number))).collect();
            threads.into_iter().map(|thread| thread.join().unwrap()).collect()
        });
        assert!(made.iter().all(|identity| *identity == made[0]), "{made:?}");
        assert_eq!(files_in(&records), ["coilwright-records.txt"]);
    }
}

#[test]
fn sessions_are_listed_newest_first_and_files_of_others_are_not() {
    let shop = Shop::real();
    let files = ["2026-11-25-1012-7f3a9c.ron", "2025-01-02-0304-ffffff.ron", "2026-11-25-1012-800000.ron"];
    for file in files.iter().chain(&["notes.ron", "2026-11-25.ron", ".2026-11-25-1012-7f3a9c.older"]) {
        fs::write(shop.beside(file), "()").unwrap();
    }
    let listing = shop.archive.list().unwrap();
    assert_eq!(listing, Listing { sessions: names(&[files[2], files[0], files[1]]), unsettled: Vec::new() });
}

#[test]
fn whatever_is_left_of_a_session_makes_it_unsettled() {
    let name = a_name();
    for leftover in [name.temporary(1, 1), name.aside(1), format!("{name} (copy).ron")] {
        let shop = Shop::with_steps(2);
        assert_eq!(shop.archive.list().unwrap().unsettled, []);
        fs::write(shop.beside(&leftover), body(1)).unwrap();
        assert_eq!(shop.archive.list().unwrap().unsettled, std::slice::from_ref(&name), "{leftover}");
    }
    let shop = Shop::with_steps(2);
    fs::remove_file(shop.beside(&name.record())).unwrap();
    assert_eq!(shop.archive.list().unwrap(), Listing { sessions: Vec::new(), unsettled: vec![name.clone()] });
    let shop = Shop::real();
    fs::create_dir_all(shop.archive.spool_folder()).unwrap();
    fs::write(shop.spooled(&name), body(1)).unwrap();
    assert_eq!(shop.archive.list().unwrap(), Listing { sessions: Vec::new(), unsettled: vec![name] });
}

#[test]
fn a_folder_that_has_gone_is_not_an_empty_list() {
    let shop = Shop::with_steps(1);
    fs::remove_dir_all(shop.records()).unwrap();
    let error = shop.archive.list().unwrap_err();
    assert!(matches!(error, FolderError::NoMarker { .. }));
    assert!(error.to_string().contains("connect it"), "{error}");
}
