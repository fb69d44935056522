//! Real file systems that refuse: full, read-only, immutable, limited, unmounted, gone. Whatever it is, a sentence says so,
//! the session goes on, and its steps are in the records folder as soon as that takes them again.
//!
//! Each test runs itself again as a child (in a mount name space of its own where something is mounted), since what is done
//! to the system must end with it. The shop's own shell is driven, with real records.

use crate::walk::sample;
use coilwright::app::shell::DiskShell;
use coilwright::archive::{Archive, FolderIdentity, RealDisk, form};
use coilwright::screen::effect::{Answer, Effect, Shell, StorageState};
use coilwright::session::{Deed, Record};
use coilwright::text::FreeText;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::Arc;

/// Set in the child: the folder that holds records and spool.
const HOME: &str = "COILWRIGHT_TEST_FILE_SYSTEM";

/// What is done to the system, in the words of a shell that knows `$RECORDS`, `$STORE` and the child's `$PROCESS`.
struct Trouble {
    /// Before the folder is made.
    prepare: &'static str,
    begin: &'static str,
    end: &'static str,
    /// How the child is started: a command before its own.
    inside: &'static [&'static str],
    /// Where steps go meanwhile, and what is said of the folder.
    goes: Goes,
    says: &'static str,
}

#[derive(Debug, PartialEq)]
enum Goes {
    ToSpool,
    ToMemory,
}

const MOUNTS: &[&str] = &["unshare", "--map-root-user", "--mount"];

/// Runs `test` again as a child in the trouble's surroundings, or says loudly that it cannot be.
fn lives_through(test: &str, trouble: &Trouble) {
    if let Some(home) = std::env::var_os(HOME) {
        return goes_on(Path::new(&home), trouble);
    }
    let home = tempfile::tempdir().unwrap();
    // The rehearsal does it to its own shell: a limit on this process would kill whatever another test starts meanwhile.
    let script = format!(
        "set -e\nPROCESS=$$\nmkdir -p $RECORDS\n{}\n({})\n{}",
        trouble.prepare, trouble.begin, trouble.end
    );
    fs::create_dir(home.path().join("rehearsal")).unwrap();
    let rehearsed = started(trouble, "sh", &home.path().join("rehearsal")).args(["-c", &script]).output();
    if !rehearsed.as_ref().is_ok_and(|output| output.status.success()) {
        // Past the harness, which would keep it to itself.
        let said = format!("SKIPPED {test}: this system does not let us: {rehearsed:?}\n");
        std::io::stderr().write_all(said.as_bytes()).unwrap();
        return;
    }
    let program = std::env::current_exe().unwrap();
    let ran = started(trouble, program.to_str().unwrap(), home.path()).args(["--exact", test]).output();
    // Whatever came of it, the folder must be left so that it can be removed.
    let _ = shell(home.path(), trouble.end);
    let ran = ran.unwrap();
    let said = String::from_utf8_lossy(&ran.stdout);
    assert!(said.contains("1 passed"), "{}: {said}{}", ran.status, String::from_utf8_lossy(&ran.stderr));
}

fn started(trouble: &Trouble, program: &str, home: &Path) -> Command {
    let mut words = trouble.inside.iter().copied().chain([program]);
    let mut command = Command::new(words.next().unwrap());
    command.args(words).env(HOME, home);
    with_places(&mut command, home);
    command
}

fn with_places(command: &mut Command, home: &Path) {
    command.env("RECORDS", home.join("records")).env("STORE", home.join("store"));
    command.env("PROCESS", std::process::id().to_string());
}

fn shell(home: &Path, script: &str) -> Output {
    let mut sh = Command::new("sh");
    with_places(&mut sh, home);
    sh.args(["-ec", script]).output().expect("a shell")
}

fn done(home: &Path, script: &str) {
    let output = shell(home, script);
    assert!(output.status.success(), "{script}: {}", String::from_utf8_lossy(&output.stderr));
}

/// The child's part: steps before, during and after the trouble.
fn goes_on(home: &Path, trouble: &Trouble) {
    let records = home.join("records");
    fs::create_dir(&records).unwrap();
    done(home, trouble.prepare);
    let archive =
        Archive::create(Arc::new(RealDisk), &records, &home.join("spool"), FolderIdentity::new(7)).unwrap();
    let spool = archive.spool_folder().to_owned();
    let mut shop = DiskShell::new(archive, None);
    let mut record = sample::entered();
    shop.perform(Effect::Begin { opened: record.opened });
    assert_eq!(keep(&mut shop, &record), StorageState::Kept);
    let before = record.clone();
    done(home, trouble.begin);
    for step in 0..3 {
        sample::does(&mut record, Deed::Noted(FreeText::new(&format!("note {step}"))));
        let (goes, because) = match keep(&mut shop, &record) {
            StorageState::InSpool { because } => (Goes::ToSpool, because),
            StorageState::OnlyInMemory { because } => (Goes::ToMemory, because),
            other => panic!("{other:?}"),
        };
        assert_eq!(goes, trouble.goes, "{because}");
        let folder = records.display().to_string();
        assert!(because.contains(trouble.says) && because.contains(&folder), "{because}");
        assert!(!because.contains("os error") && because.ends_with('.'), "{because}");
        if goes == Goes::ToSpool {
            assert_eq!(only_record(&spool), Some(record.clone()));
        }
    }
    if let Some(found) = only_record(&records) {
        assert_eq!(found, before, "the record is as it was before the trouble");
    }
    done(home, trouble.end);
    assert_eq!(keep(&mut shop, &record), StorageState::Kept);
    assert_eq!(only_record(&records), Some(record));
    assert_eq!(only_record(&spool), None);
    let left = fs::read_dir(&records).unwrap().map(|file| file.unwrap().file_name().into_string().unwrap());
    assert_eq!(left.filter(|name| name.contains(".tmp-")).count(), 0);
}

fn keep(shop: &mut DiskShell, record: &Record) -> StorageState {
    match shop.perform(Effect::Keep(Box::new(record.clone()))) {
        Answer::Kept(keeping) => keeping,
        other => panic!("{other:?}"),
    }
}

/// The only record in a folder, if there is one.
fn only_record(folder: &Path) -> Option<Record> {
    let entries = fs::read_dir(folder).ok()?;
    let files: Vec<PathBuf> = entries
        .map(|file| file.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    assert!(files.len() <= 1, "{files:?}");
    let text = fs::read_to_string(files.first()?).unwrap();
    Some(form::read(&text).unwrap().record)
}

#[test]
fn a_full_disk() {
    let trouble = Trouble {
        prepare: "mount -t tmpfs -o size=64k none $RECORDS",
        begin: "dd if=/dev/zero of=$RECORDS/filler bs=4k || true",
        end: "rm -f $RECORDS/filler",
        inside: MOUNTS,
        goes: Goes::ToSpool,
        says: "is full; make room there",
    };
    lives_through("archive::file_systems::a_full_disk", &trouble);
}

#[test]
fn a_disk_that_becomes_read_only() {
    let trouble = Trouble {
        prepare: "",
        begin: "mount --bind $RECORDS $RECORDS; mount -o remount,bind,ro $RECORDS",
        end: "umount $RECORDS",
        inside: MOUNTS,
        goes: Goes::ToSpool,
        says: "can only be read; make it writable",
    };
    lives_through("archive::file_systems::a_disk_that_becomes_read_only", &trouble);
}

#[test]
fn a_folder_that_is_unmounted_and_comes_back() {
    let trouble = Trouble {
        prepare: "mkdir $STORE; mount -t tmpfs -o size=1m none $STORE; mount --bind $STORE $RECORDS",
        begin: "umount -l $RECORDS",
        // Nothing was written into the mount point, or it could not be removed.
        end: "rmdir $RECORDS; mkdir $RECORDS; mount --bind $STORE $RECORDS",
        inside: MOUNTS,
        goes: Goes::ToSpool,
        says: "is not connected",
    };
    lives_through("archive::file_systems::a_folder_that_is_unmounted_and_comes_back", &trouble);
}

#[test]
fn a_folder_that_vanishes_and_comes_back() {
    let trouble = Trouble {
        prepare: "",
        begin: "mv $RECORDS $STORE",
        end: "test -e $RECORDS || mv $STORE $RECORDS",
        inside: &[],
        goes: Goes::ToSpool,
        says: "is not connected",
    };
    lives_through("archive::file_systems::a_folder_that_vanishes_and_comes_back", &trouble);
}

#[test]
fn a_folder_made_immutable() {
    let trouble = Trouble {
        prepare: "",
        begin: "chattr +i $RECORDS",
        end: "chattr -i $RECORDS",
        inside: &[],
        goes: Goes::ToSpool,
        says: "not allowed to write in",
    };
    lives_through("archive::file_systems::a_folder_made_immutable", &trouble);
}

#[test]
fn a_record_made_immutable() {
    let trouble = Trouble {
        prepare: "",
        begin: "find $RECORDS -name '2*.ron' -exec chattr +i {} +",
        end: "find $RECORDS -name '2*.ron' -exec chattr -i {} +",
        inside: &[],
        goes: Goes::ToSpool,
        says: "not allowed to write in",
    };
    lives_through("archive::file_systems::a_record_made_immutable", &trouble);
}

/// The limit holds for the spool as well; a program that does not ignore the signal of the limit is killed by it.
#[test]
fn a_limit_on_the_size_of_files() {
    let trouble = Trouble {
        prepare: "",
        begin: "prlimit --pid $PROCESS --fsize=100:unlimited",
        end: "prlimit --pid $PROCESS --fsize=unlimited",
        inside: &["sh", "-c", "trap '' XFSZ; exec \"$0\" \"$@\""],
        goes: Goes::ToMemory,
        says: "grow as large",
    };
    lives_through("archive::file_systems::a_limit_on_the_size_of_files", &trouble);
}
