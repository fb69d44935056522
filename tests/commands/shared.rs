//! One records folder of two user accounts that share a group: each reads and changes what the other made.
//!
//! The accounts are numbers that nobody has, so nothing of the system is changed; only the superuser can take them on.

use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::Arc;

use coilwright::archive::{Archive, FolderIdentity, RealDisk};
use coilwright::assets;
use tempfile::TempDir;

const FIRST: u32 = 64_101;
const SECOND: u32 = 64_102;
const GROUP: u32 = 64_100;

/// A place two accounts can reach, each with a home of its own, and the backup of a shop.
struct Place {
    folder: TempDir,
}

impl Place {
    /// None, with a word about it, where no other account can be taken on.
    fn new() -> Option<Self> {
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).expect("ours");
        let place = Self { folder };
        for account in [FIRST, SECOND] {
            fs::create_dir(place.home(account)).expect("room");
            if chown(place.home(account), Some(account), Some(account)).is_err() {
                eprintln!("skipped: only the superuser can take on two accounts");
                return None;
            }
        }
        let tried = place.run(FIRST, &["--version"]);
        if !tried.is_ok_and(|output| output.status.success()) {
            eprintln!("skipped: another account cannot run the program here, or there is no setpriv");
            return None;
        }
        place.make_backup();
        Some(place)
    }

    fn home(&self, account: u32) -> PathBuf {
        self.folder.path().join(account.to_string())
    }

    fn records(&self) -> PathBuf {
        self.folder.path().join("shop/records")
    }

    fn make_backup(&self) {
        let own = self.folder.path().join("own");
        let archive =
            Archive::create(Arc::new(RealDisk), &own, &own, FolderIdentity::new(7)).expect("a folder");
        for (number, demonstration) in assets::DEMONSTRATIONS.iter().enumerate() {
            let name = format!("2026-03-1{number}-1005-00000{number}.ron");
            fs::write(own.join(name), demonstration.text).expect("room");
        }
        let mut file = fs::File::create(self.folder.path().join("shop.tar")).expect("room");
        let at = chrono::DateTime::UNIX_EPOCH.fixed_offset();
        archive.write_backup(&mut file, at, &mut |_, _| {}).expect("room");
    }

    /// Runs the program as an account, under a mask that would leave the group nothing.
    fn run(&self, account: u32, arguments: &[&str]) -> std::io::Result<Output> {
        let id = account.to_string();
        Command::new("setpriv")
            .args(["--reuid", &id, "--regid", &id, "--groups", &GROUP.to_string(), "sh", "-c"])
            .args(["umask 077; exec \"$0\" \"$@\"", env!("CARGO_BIN_EXE_coilwright")])
            .args(arguments)
            .env("HOME", self.home(account))
            .env_remove("XDG_DATA_HOME")
            .env_remove("XDG_CACHE_HOME")
            .env("COILWRIGHT_RECORDS", self.records())
            .current_dir(self.folder.path())
            .output()
    }

    #[track_caller]
    fn said(&self, account: u32, arguments: &[&str]) -> String {
        let output = self.run(account, arguments).expect("it ran before");
        let said = String::from_utf8_lossy(&output.stdout).into_owned();
        assert!(output.status.success(), "{said}{}", String::from_utf8_lossy(&output.stderr));
        said
    }

    /// The shop's folder, with these rights.
    fn share(&self, mode: u32) {
        let shop = self.folder.path().join("shop");
        fs::create_dir(&shop).expect("room");
        chown(&shop, Some(FIRST), Some(GROUP)).expect("the superuser");
        fs::set_permissions(&shop, fs::Permissions::from_mode(mode)).expect("the superuser");
    }
}

/// The rights and the group of everything below a folder.
fn rights(folder: &Path) -> Vec<(PathBuf, u32, u32)> {
    let (mut open, mut found) = (vec![folder.to_owned()], Vec::new());
    while let Some(folder) = open.pop() {
        for path in fs::read_dir(folder).expect("a folder").flatten().map(|entry| entry.path()) {
            let about = fs::metadata(&path).expect("it is there");
            if about.is_dir() {
                open.push(path.clone());
            }
            found.push((path, about.mode() & 0o7777, about.gid()));
        }
    }
    found
}

#[test]
fn two_accounts_of_one_group_work_in_one_folder() {
    let Some(place) = Place::new() else { return };
    place.share(0o2770);
    place.said(FIRST, &["restore", "shop.tar"]);
    assert_eq!(place.said(SECOND, &["list"]).lines().count(), 5);
    assert!(place.said(SECOND, &["check"]).starts_with("5 records are just as"));
    // The second changes what the first made, and the first what the second did.
    place.said(SECOND, &["forget", "Invented rider A", "--anonymous", "--yes"]);
    place.said(FIRST, &["forget", "Invented rider B", "--yes"]);
    place.said(FIRST, &["forget", "Invented rider C", "--anonymous", "--yes"]);
    let list = place.said(SECOND, &["list"]);
    assert!(list.contains("forgotten customer 1") && list.contains("forgotten customer 3"), "{list}");
    for (path, mode, group) in rights(&place.folder.path().join("shop")) {
        let expected = if path.is_dir() { 0o2770 } else { 0o660 };
        assert_eq!((mode, group), (expected, GROUP), "{}", path.display());
    }
    for (path, mode, _) in rights(&place.home(SECOND)) {
        assert_eq!(mode & 0o077, 0, "{} is nobody else's", path.display());
    }
}

#[test]
fn a_marker_can_say_that_a_folder_is_shared() {
    let Some(place) = Place::new() else { return };
    // The group may write here and is not handed on: all are in it anyway.
    place.share(0o777);
    place.said(FIRST, &["restore", "shop.tar"]);
    let records = place.records();
    let refused = place.run(SECOND, &["list"]).expect("it ran before");
    assert!(!refused.status.success());
    let marker = records.join("coilwright-records.txt");
    let text = fs::read_to_string(&marker).expect("a marker");
    fs::write(&marker, format!("{text}shared\n")).expect("room");
    place.said(FIRST, &["forget", "Invented rider A", "--anonymous", "--yes"]);
    let log = fs::metadata(records.join("forgotten.txt")).expect("a log").mode();
    assert_eq!(log & 0o7777, 0o660);
}

#[test]
fn a_folder_that_is_not_shared_stays_its_owners() {
    let Some(place) = Place::new() else { return };
    // The group is handed on, and may only read: no word that it may have the records.
    place.share(0o2755);
    place.said(FIRST, &["restore", "shop.tar"]);
    for (path, mode, _) in rights(&place.folder.path().join("shop")) {
        assert_eq!(mode & 0o077, 0, "{} is its owner's", path.display());
    }
    let refused = place.run(SECOND, &["list"]).expect("it ran before");
    assert!(String::from_utf8_lossy(&refused.stderr).contains("you are not allowed to use it"));
}
