//! The folder that comes and goes.

use super::*;
use crate::app::backup;
use crate::archive::{SessionName, Stray, StrayKind};
use crate::assets;
use chrono::{DateTime, Utc};
use std::fs;
use tempfile::TempDir;

struct Machine(TempDir);

impl Machine {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a temporary folder"))
    }

    fn records(&self) -> PathBuf {
        self.0.path().join("records")
    }

    fn memory(&self) -> PathBuf {
        self.0.path().join("data/folders.ron")
    }

    fn spool(&self) -> PathBuf {
        self.0.path().join("data/spool")
    }

    fn start(&self, empty: Empty, fresh: u64) -> Entered {
        enter(&self.records(), &self.spool(), Some(self.memory()), empty, FolderIdentity::new(fresh))
            .expect("it opens")
    }

    /// Takes the folder away and leaves an empty one, as an unmount does.
    fn unmount(&self) {
        fs::rename(self.records(), self.0.path().join("stick")).expect("it can be moved");
        fs::create_dir(self.records()).expect("room");
    }

    fn mount(&self) {
        fs::remove_dir(self.records()).expect("nothing was written into the mount point");
        fs::rename(self.0.path().join("stick"), self.records()).expect("it can be moved");
    }
}

fn is_empty(folder: &Path) -> bool {
    fs::read_dir(folder).expect("a folder").next().is_none()
}

#[test]
fn an_empty_mount_point_is_not_taken_for_a_new_folder() {
    let machine = Machine::new();
    assert_eq!(machine.start(Empty::MountPoint, 7).note, None);
    machine.unmount();
    let away = machine.start(Empty::MountPoint, 8);
    assert!(away.note.is_some_and(|note| note.contains("--new-folder")));
    assert_eq!(away.archive.identity(), FolderIdentity::new(7));
    assert!(is_empty(&machine.records()));
    machine.mount();
    assert_eq!(machine.start(Empty::MountPoint, 9).note, None);
}

#[test]
fn a_folder_that_is_missing_is_not_made_again() {
    let machine = Machine::new();
    machine.start(Empty::MountPoint, 7);
    fs::remove_dir_all(machine.records()).expect("it can be removed");
    assert!(machine.start(Empty::MountPoint, 8).note.is_some());
    assert!(!machine.records().exists());
}

#[test]
fn on_a_word_the_empty_folder_takes_the_place_of_the_one_remembered() {
    let machine = Machine::new();
    machine.start(Empty::MountPoint, 7);
    machine.unmount();
    let new = machine.start(Empty::NewFolder, 8);
    assert_eq!((new.archive.identity(), new.note), (FolderIdentity::new(7), None));
    assert_eq!(machine.start(Empty::MountPoint, 9).note, None);
}

#[test]
fn another_folder_in_the_same_place_is_opened_with_a_word_and_remembered() {
    let machine = Machine::new();
    machine.start(Empty::MountPoint, 7);
    machine.unmount();
    fs::remove_dir(machine.records()).expect("it is empty");
    let other = enter(&machine.records(), machine.0.path(), None, Empty::MountPoint, FolderIdentity::new(8));
    assert_eq!(other.expect("it opens").archive.identity(), FolderIdentity::new(8));
    let entered = machine.start(Empty::MountPoint, 9);
    assert_eq!(entered.archive.identity(), FolderIdentity::new(8));
    assert!(entered.note.is_some_and(|note| note.contains("Another records folder")));
    assert_eq!(machine.start(Empty::MountPoint, 9).note, None);
}

#[test]
fn a_damaged_marker_is_mended_where_its_folder_is_remembered() {
    let machine = Machine::new();
    machine.start(Empty::MountPoint, 7);
    fs::write(machine.records().join("coilwright-records.txt"), "").expect("room");
    let entered = machine.start(Empty::MountPoint, 8);
    assert_eq!(entered.archive.identity(), FolderIdentity::new(7));
    assert!(entered.note.is_some_and(|note| note.contains("damaged")));
    assert_eq!(machine.start(Empty::MountPoint, 9).note, None);
}

/// A session as the program keeps it.
fn sealed() -> String {
    assets::DEMONSTRATIONS[0].text.to_owned()
}

fn a_name(number: u32) -> SessionName {
    SessionName::new(&DateTime::<Utc>::default(), number)
}

#[test]
fn a_copy_of_a_folder_takes_nothing_of_what_is_kept_for_the_folder() {
    let machine = Machine::new();
    let home = machine.start(Empty::MountPoint, 7).archive;
    let copy = machine.0.path().join("backup");
    fs::create_dir(&copy).expect("room");
    let marker = "coilwright-records.txt";
    fs::copy(machine.records().join(marker), copy.join(marker)).expect("room");
    fs::create_dir_all(home.spool_folder()).expect("room");
    let kept = home.spool_folder().join(a_name(1).record());
    fs::write(&kept, sealed()).expect("room");
    let enter = |empty| {
        enter(&copy, &machine.spool(), Some(machine.memory()), empty, FolderIdentity::new(8))
            .expect("it opens")
    };
    for _ in 0..2 {
        let entered = enter(Empty::MountPoint);
        assert_eq!(entered.role, FolderRole::Copy);
        assert!(entered.note.is_some_and(|note| note.contains("is a copy")));
        backup::settle(&entered.archive, None, None);
        assert!(kept.exists() && !entered.archive.record_path(&a_name(1)).exists());
    }
    assert_eq!(enter(Empty::NewFolder).role, FolderRole::Home, "on a word it is the folder from now on");
}

#[test]
fn a_folder_that_got_another_identity_takes_along_what_was_kept_for_it() {
    let machine = Machine::new();
    let before = machine.start(Empty::MountPoint, 7).archive;
    fs::write(before.record_path(&a_name(1)), sealed()).expect("room");
    fs::create_dir_all(before.spool_folder()).expect("room");
    for number in 1..=2 {
        fs::write(before.spool_folder().join(a_name(number).record()), sealed()).expect("room");
    }
    // The marker of the other computer arrives.
    fs::remove_file(machine.records().join("coilwright-records.txt")).expect("it is there");
    Archive::create(Arc::new(RealDisk), &machine.records(), &machine.spool(), FolderIdentity::new(8))
        .expect("it is made");
    let entered = machine.start(Empty::MountPoint, 9);
    let words = backup::settle(&entered.archive, Some(machine.memory()), None);
    assert!(words.iter().any(|words| words.contains("in the records folder now")), "{words:?}");
    assert!(entered.archive.record_path(&a_name(2)).exists(), "the session begun meanwhile is there");
    assert_eq!(entered.archive.other_spools(), []);
}

#[test]
fn what_is_kept_for_another_folder_goes_there_and_what_has_no_folder_is_said() {
    let machine = Machine::new();
    let home = machine.start(Empty::MountPoint, 7).archive;
    let spool = machine.spool();
    for identity in ["0000000000000007", "00000000000000aa"] {
        fs::create_dir_all(spool.join(identity)).expect("room");
        fs::write(spool.join(identity).join(a_name(3).record()), sealed()).expect("room");
    }
    let other = machine.0.path().join("other");
    let entered = enter(&other, &spool, Some(machine.memory()), Empty::MountPoint, FolderIdentity::new(8));
    let words = backup::settle(&entered.expect("it opens").archive, Some(machine.memory()), None);
    assert!(home.record_path(&a_name(3)).exists(), "every folder gets its own");
    assert!(words.iter().any(|words| words.contains("another records folder")), "{words:?}");
}

#[test]
fn a_record_that_a_person_renamed_gets_its_name_back() {
    let machine = Machine::new();
    let archive = machine.start(Empty::MountPoint, 7).archive;
    let file = machine.records().join("Anna-bike.ron");
    fs::write(&file, sealed()).expect("room");
    let words = backup::settle(&archive, Some(machine.memory()), None);
    assert!(words.iter().any(|words| words.contains("Anna-bike.ron")), "{words:?}");
    let [session] = &archive.list().expect("it lists").sessions[..] else { panic!("one session") };
    assert_eq!(archive.read(session).expect("it reads").text, sealed());
    // A copy of it is told and left alone.
    fs::write(&file, sealed()).expect("room");
    assert!(backup::settle(&archive, None, None).is_empty() && file.exists());
    let kind = StrayKind::CopyOf(session.clone());
    assert_eq!(archive.strays().expect("it lists"), [Stray { path: file, kind }]);
}

#[test]
fn a_memory_that_cannot_be_read_is_as_good_as_none() {
    for rubbish in [&b""[..], b"\xff", b"(format: 2, folders: [])", b"(format: 1, folders: [(path: \"/x\")])"]
    {
        let machine = Machine::new();
        machine.start(Empty::MountPoint, 7);
        fs::write(machine.memory(), rubbish).expect("room");
        machine.unmount();
        let entered = machine.start(Empty::MountPoint, 8);
        assert_eq!((entered.archive.identity(), entered.note), (FolderIdentity::new(8), None));
        assert_eq!(machine.start(Empty::MountPoint, 9).archive.identity(), FolderIdentity::new(8));
    }
}

#[test]
fn folders_used_long_ago_are_forgotten_before_the_file_grows() {
    let machine = Machine::new();
    let mut known = KnownFolders::read(&RealDisk, &machine.memory());
    let shop = Path::new("/shop");
    for number in 0..100 {
        let folder = PathBuf::from(format!("/folder/{number}"));
        known.remember(&RealDisk, &folder, FolderIdentity::new(number), FolderRole::Home).expect("room");
        known.remember(&RealDisk, shop, FolderIdentity::new(777), FolderRole::Home).expect("room");
    }
    let known = KnownFolders::read(&RealDisk, &machine.memory());
    assert_eq!(known.identity_at(Path::new("/folder/99")), Some(FolderIdentity::new(99)));
    assert_eq!(known.identity_at(Path::new("/folder/0")), None);
    assert_eq!(known.identity_at(shop), Some(FolderIdentity::new(777)), "used all the time");
}
