//! The folder that comes and goes.

use super::*;
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

    fn start(&self, empty: Empty, fresh: u64) -> Entered {
        let spool = self.0.path().join("data/spool");
        enter(&self.records(), &spool, Some(self.memory()), empty, FolderIdentity::new(fresh))
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
        known.remember(&RealDisk, &folder, FolderIdentity::new(number), Place::Home).expect("room");
        known.remember(&RealDisk, shop, FolderIdentity::new(777), Place::Home).expect("room");
    }
    let known = KnownFolders::read(&RealDisk, &machine.memory());
    assert_eq!(known.identity_at(Path::new("/folder/99")), Some(FolderIdentity::new(99)));
    assert_eq!(known.identity_at(Path::new("/folder/0")), None);
    assert_eq!(known.identity_at(shop), Some(FolderIdentity::new(777)), "used all the time");
}
