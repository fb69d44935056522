//! The commands that look at a whole folder, run as a person or a script runs them.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use coilwright::archive::{Archive, FolderIdentity, RealDisk};
use coilwright::assets;
use tempfile::TempDir;

/// A home with a records folder that holds every demonstration.
pub(super) fn home() -> TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    let records = home.path().join("records");
    let disk = std::sync::Arc::new(RealDisk);
    Archive::create(disk, &records, &home.path().join("spool"), FolderIdentity::new(7)).expect("a folder");
    for (number, demonstration) in assets::DEMONSTRATIONS.iter().enumerate() {
        fs::write(records.join(format!("2026-03-1{number}-1005-00000{number}.ron")), demonstration.text)
            .expect("room");
    }
    home
}

pub(super) fn run(home: &Path, arguments: &[&str]) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_coilwright"));
    program.args(arguments).env("HOME", home).env("COILWRIGHT_RECORDS", home.join("records"));
    for folder in ["XDG_CACHE_HOME", "XDG_DATA_HOME"] {
        program.env(folder, home.join(folder));
    }
    program.output().expect("the program runs")
}

/// What it printed, where it succeeded.
pub(super) fn printed(home: &Path, arguments: &[&str]) -> String {
    let output = run(home, arguments);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success(), "{said}");
    String::from_utf8(output.stdout).expect("text")
}

fn json(home: &Path, arguments: &[&str]) -> serde_json::Value {
    serde_json::from_str(&printed(home, arguments)).expect("JSON")
}

/// What the program says of a records folder it cannot use.
fn refused(records: &Path) -> String {
    let home = tempfile::tempdir().expect("a temporary folder");
    let output = Command::new(env!("CARGO_BIN_EXE_coilwright"))
        .args(["list", "--records"])
        .arg(records)
        .env("HOME", home.path())
        .output()
        .expect("the program runs");
    assert!(!output.status.success());
    String::from_utf8(output.stderr).expect("text")
}

/// The list of a home in which no variable names a folder, with these settings.
fn listed_under(home: &Path, settings: &str, more: &[&str]) -> Output {
    let file = home.join("settings.ron");
    fs::write(&file, settings).expect("room");
    let mut program = Command::new(env!("CARGO_BIN_EXE_coilwright"));
    program.arg("list").args(more).env("HOME", home).env_remove("COILWRIGHT_RECORDS");
    for folder in ["XDG_CACHE_HOME", "XDG_DATA_HOME"] {
        program.env_remove(folder);
    }
    program.env("COILWRIGHT_SETTINGS", file).output().expect("the program runs")
}

#[test]
fn the_settings_name_the_records_folder_and_the_flag_goes_before_them() {
    let home = home();
    let lines = |output: &Output| String::from_utf8_lossy(&output.stdout).lines().count();
    let named = format!("(format: 1, records: \"{}\")", home.path().join("records").display());
    assert_eq!(lines(&listed_under(home.path(), &named, &[])), 5);
    assert_eq!(lines(&listed_under(home.path(), "(format: 1, records: \"~/records\")", &[])), 5);
    // Another fault in the file does not lead to another folder.
    assert_eq!(lines(&listed_under(home.path(), "(format: 1, records: \"~/records\", colours: 3)", &[])), 5);
    let elsewhere = "(format: 1, records: \"/nowhere/at/all\")";
    let refused = listed_under(home.path(), elsewhere, &[]);
    assert!(String::from_utf8_lossy(&refused.stderr).contains("/nowhere/at/all"));
    let flag = home.path().join("records");
    assert_eq!(lines(&listed_under(home.path(), elsewhere, &["--records", &flag.to_string_lossy()])), 5);
    for unclear in ["(format: 1, records: \"workshop\")", "(format: 1, units: (, records: \"~/records\")"] {
        let refused = listed_under(home.path(), unclear, &[]);
        let said = String::from_utf8_lossy(&refused.stderr);
        assert_eq!(refused.status.code(), Some(2), "{said}");
        assert!(said.contains("which records folder") && said.contains("Line 1"), "{said}");
    }
}

#[test]
fn a_file_in_the_place_of_the_records_folder_is_named_in_one_plain_sentence() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let records = home.path().join("records");
    fs::write(&records, "not a folder").expect("room");
    let said = refused(&records);
    let sentence = format!(
        "coilwright: the records folder {} cannot be used, because a file is where a folder is needed.\n",
        records.display()
    );
    assert!(said.starts_with(&sentence), "{said}");
    assert!(said.contains("Start it again with --records FOLDER") && !said.contains("os error"), "{said}");
}

#[test]
fn sessions_are_listed_newest_first_as_many_as_asked_for() {
    let home = home();
    let all = printed(home.path(), &["list"]);
    let files: Vec<&str> = all.lines().filter_map(|line| line.split_whitespace().last()).collect();
    let expected: Vec<_> =
        (0..5).rev().map(|number| format!("2026-03-1{number}-1005-00000{number}.ron")).collect();
    assert_eq!(files, expected);
    assert_eq!(printed(home.path(), &["list", "--limit", "2"]).lines().count(), 2);
}

#[test]
fn the_second_list_comes_from_memory_and_is_the_same() {
    let home = home();
    let first = printed(home.path(), &["list", "--json"]);
    let remembered = fs::read_dir(home.path().join("XDG_CACHE_HOME/coilwright"));
    if cfg!(target_os = "linux") {
        assert_eq!(remembered.expect("a cache folder").count(), 1);
    }
    assert_eq!(printed(home.path(), &["list", "--json"]), first);
}

#[test]
fn words_find_sessions_for_people_and_scripts() {
    let home = home();
    let found = json(home.path(), &["find", "ENDURO", "gren", "--json"]);
    assert_eq!(found["sessions"].as_array().map(Vec::len), Some(1));
    assert_eq!(found["sessions"][0]["customer"], "Invented rider A");
    assert_eq!(found["sessions"][0]["fitted_lb_in"], 550.0);
    assert!(printed(home.path(), &["find", "nowhere-at-all"]).starts_with("No session holds"));
}

#[test]
fn a_sound_folder_passes_the_check_and_an_odd_one_fails_it_with_what_to_do() {
    let home = home();
    assert_eq!(printed(home.path(), &["check"]), "5 records are just as this program wrote them.\n");
    let record = home.path().join("records/2026-03-10-1005-000000.ron");
    let edited = assets::DEMONSTRATIONS[0].text.replace("98.0", "97.0");
    fs::write(&record, edited).expect("room");
    fs::write(home.path().join("records/2026-03-11-1005-000001 (copy).ron"), "").expect("room");
    let output = run(home.path(), &["check", "--json"]);
    assert_eq!(output.status.code(), Some(1));
    let look: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!((&look["sound"], &look["to_look_at"][0]["kind"]), (&4.into(), &"changed_outside".into()));
    assert_eq!(look["to_look_at"][1]["kind"], "conflict_copy");
    assert!(String::from_utf8_lossy(&output.stderr).contains("2 files deserve a look"));
}

#[test]
fn a_session_that_lies_only_in_the_spool_is_listed_and_found_as_that() {
    let home = home();
    let listed = || printed(home.path(), &["list"]);
    let before = listed();
    let spool = home.path().join("XDG_DATA_HOME/coilwright/spool/0000000000000007");
    fs::create_dir_all(&spool).expect("room");
    let record = home.path().join("records/2026-03-12-1005-000002.ron");
    fs::rename(&record, spool.join("2026-03-12-1005-000002.ron")).expect("it moves");
    let after = listed();
    let line = |text: &str| text.lines().nth(2).expect("a third line").to_owned();
    assert_eq!(
        line(&after),
        line(&before).replace("  2026-03-12", " (only in the spool on this computer)  2026-03-12")
    );
    let found = json(home.path(), &["find", "invented", "--json"]);
    let places: Vec<_> =
        found["sessions"].as_array().expect("a list").iter().map(|one| &one["lies"]).collect();
    assert_eq!(places, ["in_records", "in_records", "in_spool", "in_records", "in_records"]);
    let output = run(home.path(), &["check"]);
    let entered = String::from_utf8(output.stdout).expect("text");
    assert!(
        entered.starts_with("4 records are just as") && entered.contains("Open the session to bring them in"),
        "{entered}"
    );
}

#[test]
fn looking_at_a_folder_that_is_not_there_makes_nothing_and_says_what_to_do() {
    let home = tempfile::tempdir().expect("a temporary folder");
    for command in [&["list"][..], &["find", "word"], &["check"]] {
        let output = run(home.path(), command);
        assert_eq!(output.status.code(), Some(1));
        assert!(String::from_utf8_lossy(&output.stderr).contains("--records FOLDER"));
    }
    assert_eq!(fs::read_dir(home.path()).expect("the home").count(), 0);
}
