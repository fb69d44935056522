//! The commands as a shell runs them: what they print, what they write, how they end.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use coilwright::archive::{Archive, FolderIdentity, RealDisk};
use std::sync::Arc;
use tempfile::TempDir;

use super::shipped;

const PROGRAM: &str = env!("CARGO_BIN_EXE_coilwright");

/// A records folder with the demonstrations in it, as a shop has one.
pub(super) fn shop() -> TempDir {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (records, spool) = (folder.path().join("records"), folder.path().join("spool"));
    Archive::create(Arc::new(RealDisk), &records, &spool, FolderIdentity::new(7)).expect("a fresh folder");
    for file in fs::read_dir(shipped()).expect("the demonstrations") {
        let path = file.expect("an entry").path();
        fs::copy(&path, records.join(path.file_name().expect("a name"))).expect("room");
    }
    folder
}

pub(super) fn run(shop: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(PROGRAM);
    command.args(arguments).current_dir(shop).env_clear();
    command.env("HOME", shop).env("COILWRIGHT_RECORDS", shop.join("records"));
    command.output().expect("the program starts")
}

pub(super) fn printed(output: &Output) -> String {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout.clone()).expect("UTF-8")
}

fn complained(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

#[test]
fn a_card_is_found_by_file_and_by_name() {
    let shop = shop();
    let by_name = printed(&run(shop.path(), &["card", "2026-06-11-1130-a27713"]));
    let by_file = printed(&run(shop.path(), &["card", "records/2026-06-11-1130-a27713.ron"]));
    assert_eq!(by_name, by_file);
    assert!(by_name.starts_with("SETUP CARD"), "{by_name}");
}

#[test]
fn a_card_is_written_over_only_with_force() {
    let shop = shop();
    let card = ["card", "2026-06-11-1130-a27713", "--html", "--out", "card.html"];
    printed(&run(shop.path(), &card));
    let page = fs::read(shop.path().join("card.html")).expect("a page");
    fs::write(shop.path().join("card.html"), "mine").expect("room");
    let refused = run(shop.path(), &card);
    assert_eq!(refused.status.code(), Some(2));
    assert!(complained(&refused).contains("--force"), "{refused:?}");
    assert_eq!(fs::read_to_string(shop.path().join("card.html")).expect("text"), "mine");
    printed(&run(shop.path(), &[&card[..], &["--force"]].concat()));
    assert_eq!(fs::read(shop.path().join("card.html")).expect("a page"), page);
}

#[test]
fn an_export_runs_from_the_oldest_and_gives_the_same_bytes_twice() {
    let shop = shop();
    for format in ["--lines", "--csv"] {
        let once = printed(&run(shop.path(), &["export", format]));
        assert_eq!(once, printed(&run(shop.path(), &["export", format])));
        let names = ["2025-09-20-1420", "2026-03-14", "2026-04-02", "2026-05-23", "2026-06-11"];
        let places: Vec<_> = names.iter().map(|name| once.find(name).expect("every session")).collect();
        assert!(places.is_sorted(), "{once}");
    }
}

#[test]
fn an_export_since_a_day_begins_with_that_day() {
    let shop = shop();
    let lines = printed(&run(shop.path(), &["export", "--since", "2026-05-23"]));
    assert_eq!(lines.lines().count(), 2);
    assert!(lines.lines().next().expect("a line").contains("\"session\":\"2026-05-23-0915-5c117e\""));
}

#[test]
fn a_damaged_record_is_told_and_left_out_and_the_others_are_written() {
    let shop = shop();
    fs::write(shop.path().join("records/2026-05-23-0915-5c117e.ron"), "(format: 1, \u{1b}[2J").expect("room");
    let export = run(shop.path(), &["export", "--out", "all.jsonl"]);
    assert_eq!(export.status.code(), Some(1));
    let said = complained(&export);
    assert!(said.contains("2026-05-23-0915-5c117e") && said.contains("1 of 5"), "{said}");
    assert!(!said.contains('\u{1b}'), "{said}");
    let written = fs::read_to_string(shop.path().join("all.jsonl")).expect("the others");
    assert_eq!(written.lines().count(), 4);
}

#[test]
fn an_export_makes_no_records_folder() {
    let empty = tempfile::tempdir().expect("a temporary folder");
    let export = run(empty.path(), &["export"]);
    assert_eq!(export.status.code(), Some(1));
    assert!(!empty.path().join("records").exists());
}

#[test]
fn the_manual_has_its_sections_and_man_finds_no_fault_in_it() {
    let shop = shop();
    let page = printed(&run(shop.path(), &["manual"]));
    for section in ["NAME", "COMMANDS", "FILES", "ENVIRONMENT", "EXIT STATUS", "JSON", "CAUTIONS"] {
        assert!(
            page.contains(&format!(".SH \"{section}\"")) || page.contains(&format!(".SH {section}")),
            "{section}"
        );
    }
    for name in ["falloff_percent", "active_coils", "chance_on_target"] {
        assert!(page.contains(name), "{name}");
    }
    fs::write(shop.path().join("coilwright.1"), &page).expect("room");
    let groff = Command::new("groff")
        .args(["-man", "-Tascii", "-ww", "-z"])
        .arg(shop.path().join("coilwright.1"))
        .output();
    match groff {
        Ok(groff) => assert_eq!(complained(&groff), "", "groff warns"),
        Err(error) => eprintln!("skipped: groff does not start ({error})"),
    }
}

#[test]
fn completions_know_every_command() {
    let shop = shop();
    for shell in ["bash", "zsh", "fish"] {
        let script = printed(&run(shop.path(), &["completions", shell]));
        for command in ["assess", "card", "export", "manual"] {
            assert!(script.contains(command), "{shell} does not know {command}");
        }
    }
}

#[test]
fn a_card_is_found_by_words_that_only_one_session_holds() {
    let shop = shop();
    let by_name = printed(&run(shop.path(), &["card", "2026-05-23-0915-5c117e"]));
    assert_eq!(printed(&run(shop.path(), &["card", "park", "loan"])), by_name);
    let several = run(shop.path(), &["card", "rider"]);
    let said = complained(&several);
    assert_eq!(several.status.code(), Some(2), "{said}");
    assert!(said.contains("5 sessions hold these words: rider"), "{said}");
    assert!(
        said.contains("2026-06-11-1130-a27713.ron") && said.contains("2025-09-20-1420-a240f6.ron"),
        "{said}"
    );
    // The same customer twice: the newest session is meant.
    let newest = printed(&run(shop.path(), &["card", "2026-06-11-1130-a27713"]));
    assert_eq!(printed(&run(shop.path(), &["card", "rider", "blue"])), newest);
    assert!(
        printed(&run(shop.path(), &["card", "rider", "blue", "--workshop"])).starts_with("WORKSHOP COPY")
    );
    let none = run(shop.path(), &["card", "xyzzyxyzzy"]);
    assert_eq!(none.status.code(), Some(1));
    assert!(complained(&none).contains("no session holds all of these words"), "{none:?}");
}
