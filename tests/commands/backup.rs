//! A shop in one file and back again: nothing is lost, nothing is written over, and what is damaged is refused whole.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use coilwright::archive::{Archive, FolderIdentity, RealDisk};
use coilwright::assets;
use tempfile::TempDir;

use super::folder::{home, printed, run};

/// A home whose folder holds, besides five sessions, whatever else can be in one.
fn shop() -> TempDir {
    let home = home();
    let records = home.path().join("records");
    fs::create_dir(records.join("wastebasket")).expect("room");
    fs::create_dir(records.join("cards")).expect("room");
    let text = assets::DEMONSTRATIONS[0].text;
    for file in [
        ".2026-03-10-1005-000000.older",
        ".2026-03-10-1005-000000.aside-1",
        "2026-03-10-1005-000000 (copy).ron",
        "wastebasket/2026-01-01-0900-abcdef.ron",
        "cards/2026-03-10-1005-000000.html",
    ] {
        fs::write(records.join(file), text).expect("room");
    }
    fs::write(records.join("2026-03-12-1005-0000aa.ron"), b"no text \xff\xfe").expect("room");
    fs::write(records.join("rack.ron"), "(format: 1, springs: [(rate_lb_in: 450)])").expect("room");
    fs::write(records.join("settings.ron"), "(format: 1)").expect("room");
    home
}

fn empty_home() -> TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

/// Every file of a records folder, hidden ones too.
fn files(records: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let (mut open, mut found) = (vec![records.to_owned()], BTreeMap::new());
    while let Some(folder) = open.pop() {
        for path in fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()) {
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(records).expect("below it").to_owned();
                found.insert(name, fs::read(path).expect("a file"));
            }
        }
    }
    found
}

/// The backup of a shop, in its home.
fn backup(home: &TempDir) -> PathBuf {
    let file = home.path().join("shop.tar");
    let said = printed(home.path(), &["backup", &file.to_string_lossy()]);
    assert!(said.contains("6 sessions in 12 files saved"), "{said}");
    file
}

fn restore(home: &Path, file: &Path, more: &[&str]) -> std::process::Output {
    run(home, &[&["restore", &file.to_string_lossy()], more].concat())
}

fn said(output: &std::process::Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
}

#[test]
fn a_shop_comes_out_of_its_backup_as_it_went_in() {
    let shop = shop();
    let file = backup(&shop);
    let other = empty_home();
    let restored = restore(other.path(), &file, &[]);
    assert!(
        restored.status.success() && said(&restored).contains("6 sessions restored"),
        "{}",
        said(&restored)
    );
    let mut expected = files(&shop.path().join("records"));
    expected.retain(|path, _| path != Path::new("settings.ron") && !path.starts_with("cards"));
    let found = files(&other.path().join("records"));
    assert_eq!(found.keys().collect::<Vec<_>>(), expected.keys().collect::<Vec<_>>());
    assert_eq!(found, expected);
    let list =
        |home: &TempDir| printed(home.path(), &["list"]).replace(&*home.path().to_string_lossy(), "home");
    assert_eq!(list(&other), list(&shop));
    // Once more changes nothing.
    let again = restore(other.path(), &file, &[]);
    assert!(
        again.status.success() && said(&again).contains("6 sessions were there already"),
        "{}",
        said(&again)
    );
    assert_eq!(files(&other.path().join("records")), expected);
}

#[test]
fn a_backup_is_never_written_over_and_is_private() {
    let shop = shop();
    let file = backup(&shop);
    let before = fs::read(&file).expect("a file");
    let again = run(shop.path(), &["backup", &file.to_string_lossy()]);
    assert_eq!(again.status.code(), Some(2), "{}", said(&again));
    assert_eq!(fs::read(&file).expect("a file"), before);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(fs::metadata(&file).expect("a file").permissions().mode() & 0o777, 0o600);
    }
}

#[test]
fn other_programs_open_a_backup_and_find_its_check_values_right() {
    let shop = shop();
    let file = backup(&shop);
    let out = empty_home();
    let unpacked = Command::new("tar").arg("xf").arg(&file).arg("-C").arg(out.path()).status();
    let Ok(true) = unpacked.map(|status| status.success()) else {
        eprintln!("skipped: no tar here to open a backup with");
        return;
    };
    let checked =
        Command::new("sha256sum").args(["--strict", "-c", "SHA256SUMS"]).current_dir(out.path()).output();
    match checked {
        Ok(checked) => assert!(checked.status.success(), "{}", said(&checked)),
        Err(error) => eprintln!("skipped: no sha256sum here ({error})"),
    }
}

#[test]
fn a_backup_that_is_cut_short_or_changed_is_refused_before_anything_is_written() {
    let shop = shop();
    let file = backup(&shop);
    let whole = fs::read(&file).expect("a file");
    let expected = {
        let other = empty_home();
        restore(other.path(), &file, &[]);
        files(&other.path().join("records"))
    };
    let bad = shop.path().join("bad.tar");
    let mut refused = 0;
    let mut try_it = |bytes: &[u8]| {
        fs::write(&bad, bytes).expect("room");
        let other = empty_home();
        let output = restore(other.path(), &bad, &[]);
        let found = files(&other.path().join("records"));
        if output.status.success() {
            // What does not matter may be changed: a time, or what fills a block.
            assert_eq!(found, expected);
        } else {
            refused += 1;
            assert!(found.is_empty() && said(&output).contains("Nothing was written"), "{}", said(&output));
            assert!(!said(&output).contains("panicked"), "{}", said(&output));
        }
    };
    let length = whole.len();
    let cuts = (0..16).map(|step| length * step / 16).chain([511, 512, 513, length - 1536]);
    for cut in cuts.collect::<Vec<_>>() {
        try_it(&whole[..cut]);
    }
    for step in 0..40 {
        let mut flipped = whole.clone();
        flipped[(length - 1024) * step / 40 + 37 * step % 512] ^= 1 << (step % 8);
        try_it(&flipped);
    }
    assert!(refused > 40, "only {refused} of 60 were refused");
}

#[test]
fn a_folder_with_other_sessions_is_added_to_on_a_word_and_nothing_is_written_over() {
    let shop = shop();
    let file = backup(&shop);
    let other = home();
    let records = other.path().join("records");
    // One is missing, one is another version, one the backup has not got.
    fs::remove_file(records.join("2026-03-11-1005-000001.ron")).expect("it was there");
    let changed = assets::DEMONSTRATIONS[2].text.replace("customer: \"", "customer: \"Another, ");
    fs::write(records.join("2026-03-12-1005-000002.ron"), &changed).expect("room");
    fs::write(records.join("2026-04-12-1005-00000a.ron"), assets::DEMONSTRATIONS[3].text).expect("room");
    fs::write(records.join("rack.ron"), "(format: 1, springs: [])").expect("room");
    let before = files(&records);
    let refused = restore(other.path(), &file, &[]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(said(&refused).contains("2 sessions that the backup has not"), "{}", said(&refused));
    assert_eq!(files(&records), before);
    let merged = restore(other.path(), &file, &["--merge"]);
    assert!(merged.status.success(), "{}", said(&merged));
    let after = files(&records);
    for (path, bytes) in &before {
        assert_eq!(after.get(path), Some(bytes), "{}", path.display());
    }
    assert!(after.contains_key(Path::new("2026-03-11-1005-000001.ron")));
    let beside = after.get(Path::new(".2026-03-12-1005-000002.aside-1")).expect("the version of the backup");
    assert_eq!(beside, assets::DEMONSTRATIONS[2].text.as_bytes());
    assert!(after.contains_key(Path::new("rack (backup 1).ron")));
    // Once more puts nothing beside what is there already.
    restore(other.path(), &file, &["--merge"]);
    assert_eq!(files(&records), after);
}

#[test]
fn a_forgotten_customer_does_not_come_back_from_an_older_backup() {
    let shop = shop();
    let file = backup(&shop);
    printed(shop.path(), &["forget", "Invented rider A", "--yes"]);
    let restored = restore(shop.path(), &file, &["--merge"]);
    assert!(said(&restored).contains("of forgotten customers left out"), "{}", said(&restored));
    for (path, bytes) in files(&shop.path().join("records")) {
        assert!(!String::from_utf8_lossy(&bytes).contains("Invented rider A"), "{}", path.display());
    }
}

#[test]
fn a_file_with_a_path_out_of_the_folder_is_refused() {
    let shop = shop();
    let bytes = fs::read(backup(&shop)).expect("a file");
    for evil in
        ["records/../evil.ron", "/tmp/evil.ron", "records/a/2026-03-10-1005-000000.ron", "records/run.sh"]
    {
        let mut tar = tar::Builder::new(Vec::new());
        let mut old = tar::Archive::new(&bytes[..]);
        for entry in old.entries().expect("it is one") {
            let entry = entry.expect("an entry");
            let header = entry.header().clone();
            tar.append(&header, entry).expect("room");
            let mut header = tar::Header::new_ustar();
            header.as_ustar_mut().expect("of that kind").name[..evil.len()].copy_from_slice(evil.as_bytes());
            header.set_size(4);
            header.set_cksum();
            tar.append(&header, &b"evil"[..]).expect("room");
        }
        let file = shop.path().join("evil.tar");
        fs::write(&file, tar.into_inner().expect("whole")).expect("room");
        let other = empty_home();
        let output = restore(other.path(), &file, &[]);
        assert_eq!(output.status.code(), Some(1), "{evil}: {}", said(&output));
        assert!(!other.path().join("records").exists(), "{evil}");
    }
}

#[test]
fn a_folder_that_may_only_be_away_is_not_restored_over() {
    let shop = shop();
    let file = backup(&shop);
    let other = empty_home();
    let records = other.path().join("records");
    let known = other.path().join("XDG_DATA_HOME/coilwright/folders.ron");
    let mut folders = coilwright::archive::KnownFolders::read(&RealDisk, &known);
    let role = coilwright::archive::FolderRole::Home;
    folders.remember(&RealDisk, &records, FolderIdentity::new(7), role).expect("room");
    let refused = restore(other.path(), &file, &[]);
    assert_eq!(refused.status.code(), Some(2), "{}", said(&refused));
    let restored = run(other.path(), &["--new-folder", "restore", &file.to_string_lossy()]);
    assert!(restored.status.success(), "{}", said(&restored));
    let archive = Archive::open(Arc::new(RealDisk), &records, &other.path().join("spool"), None);
    assert_eq!(archive.expect("marked").identity(), FolderIdentity::new(7));
}
