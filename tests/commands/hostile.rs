//! A records folder full of what a folder may hold and a program should not trip over, seen by every command: each file is
//! named, the sound ones are listed all the same, and nothing in them acts on a terminal, a table or a page.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use coilwright::archive::form::{self, Unknown};
use coilwright::archive::{Archive, FolderIdentity, RealDisk};
use coilwright::session::{Deed, Detail};
use coilwright::text::FreeText;
use tempfile::TempDir;

use crate::walk::sample;

/// Escape codes of seven and eight bits, a title, a turned reading direction, a tag, a formula, a page's markup and a path.
const NAME: &str =
    "=1+1\u{1b}[2J\u{1b}]0;title\u{7}\u{9b}31m\u{202e}\u{200b}\u{e0041}<script>../../x\r\n\u{0}";

struct Folder(TempDir);

impl Folder {
    fn records(&self) -> PathBuf {
        self.0.path().join("records")
    }

    fn put(&self, number: u32, bytes: &[u8]) -> PathBuf {
        let path = self.records().join(format!("2026-03-1{number}-1005-00000{number}.ron"));
        fs::write(&path, bytes).expect("room");
        path
    }

    fn run(&self, arguments: &[&str]) -> Output {
        let mut program = Command::new(env!("CARGO_BIN_EXE_coilwright"));
        program.args(arguments).env("HOME", self.0.path()).env("COILWRIGHT_RECORDS", self.records());
        program.stdin(Stdio::null()).output().expect("the program runs")
    }
}

/// A record with the hostile name wherever a text may stand.
fn hostile_record() -> String {
    let mut record = sample::entered();
    let long: String = NAME.chars().cycle().take(300).collect();
    let text = FreeText::new(&long);
    for detail in
        [Detail::Customer(text.clone()), Detail::BikeName(text.clone()), Detail::Notes(text.clone())]
    {
        record.intake.enter(detail).expect("any text is possible");
    }
    sample::does(&mut record, Deed::IntakeDone);
    sample::does(&mut record, Deed::Noted(text));
    form::write(&record, &Unknown::default()).expect("it can be written")
}

fn folder() -> Folder {
    let folder = Folder(tempfile::tempdir().expect("a temporary folder"));
    let spool = folder.0.path().join("spool");
    Archive::create(std::sync::Arc::new(RealDisk), &folder.records(), &spool, FolderIdentity::new(7))
        .expect("a folder");
    folder.put(0, hostile_record().as_bytes());
    folder.put(1, b"(format: 1, who: \"\xff\")");
    folder.put(2, format!("(format: 1, deep: {}", "[".repeat(100_000)).as_bytes());
    folder.put(
        3,
        b"\xef\xbb\xbf(format: 1,\r\nopened: \"2026-11-25T10:00:00+01:00\",\r\nentries: [],\r\n)\r\n",
    );
    folder.put(4, b"(format: 7, whatever: \"\x1b[31m\")");
    folder.put(
        5,
        b"(format: 1, opened: \"2026-11-25T10:00:00+01:00\", entries: [(at: \"\x1b[2J\", did: \x1b[31m)])",
    );
    let huge = fs::File::create(folder.put(6, b"")).expect("room");
    huge.set_len(1 << 30).expect("a sparse file");
    #[cfg(unix)]
    {
        let link = folder.records().join("2026-03-17-1005-000007.ron");
        std::os::unix::fs::symlink(&link, &link).expect("a link to itself");
        let pipe = folder.records().join("2026-03-18-1005-000008.ron");
        assert!(Command::new("mkfifo").arg(pipe).status().expect("mkfifo, which POSIX asks for").success());
    }
    fs::create_dir(folder.records().join("2026-03-19-1005-000009.ron")).expect("room");
    folder
}

/// Whether a character moves the pen, hides, or turns the reading direction.
fn acts(letter: char) -> bool {
    let unseen =
        matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    (letter.is_control() && letter != '\n') || unseen || matches!(letter, '\u{e0000}'..='\u{e007f}')
}

#[track_caller]
fn assert_still(output: &Output) -> String {
    let text =
        format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert!(!text.replace("\r\n", "\n").chars().any(acts), "{text:?}");
    assert!(!text.contains("panicked"), "{text}");
    text
}

#[test]
fn every_command_gets_through_a_folder_of_hostile_files_and_names_each() {
    let folder = folder();
    let listed = assert_still(&folder.run(&["list"]));
    let checked = folder.run(&["check"]);
    assert_eq!(checked.status.code(), Some(1));
    let checked = assert_still(&checked);
    let odd = if cfg!(unix) { 1..10 } else { 1..7 };
    for number in odd {
        let name = format!("2026-03-1{number}-1005-00000{number}");
        assert!(listed.contains(&name), "{name} is not listed:\n{listed}");
        assert!(number == 3 || checked.contains(&name), "{name} passes the check:\n{checked}");
    }
    for command in [&["find", "1+1"][..], &["list", "--json"], &["check", "--json"], &["export", "--lines"]] {
        assert_still(&folder.run(command));
    }
}

#[test]
fn no_name_is_a_formula_in_a_table_or_markup_in_a_page() {
    let folder = folder();
    let table = assert_still(&folder.run(&["export", "--csv"]));
    for cell in table.lines().skip(1).flat_map(|row| row.split(',')) {
        assert!(!cell.trim_matches('"').starts_with(['=', '@', '\t']), "{cell}");
    }
    let page = assert_still(&folder.run(&["card", "2026-03-10-1005-000000", "--html"]));
    assert!(page.contains("&lt;script&gt;") && !page.contains("<script"), "{page}");
    assert_still(&folder.run(&["card", "2026-03-10-1005-000000"]));
}

#[test]
fn a_hostile_file_given_by_itself_is_refused_in_a_sentence_that_names_it() {
    let folder = folder();
    let odd = if cfg!(unix) { 1..10 } else { 1..7 };
    for number in odd.filter(|number| *number != 3) {
        let name = format!("2026-03-1{number}-1005-00000{number}.ron");
        for command in ["assess", "card"] {
            let path = folder.records().join(&name);
            let output = folder.run(&[command, path.to_str().expect("text")]);
            assert_eq!((output.status.code(), output.stdout.len()), (Some(1), 0), "{name}");
            assert!(assert_still(&output).contains(&name), "{name}");
        }
    }
}

/// A name with every kind of character a name may have on this system; none of it reaches the terminal.
#[cfg(unix)]
#[test]
fn a_file_name_cannot_act_on_the_terminal() {
    let folder = folder();
    for name in ["\u{1b}[31m\u{202e}nor.ron", "a\nb.ron", "-", "--json", &"x".repeat(255)] {
        let path = folder.records().join(name);
        fs::write(&path, "no record").expect("room");
        let output = folder.run(&["assess", path.to_str().expect("text")]);
        assert_eq!(output.status.code(), Some(1));
        assert_still(&output);
    }
    let long = "y".repeat(300);
    assert_eq!(folder.run(&["card", &long]).status.code(), Some(1), "a name longer than a file name may be");
    assert_eq!(folder.run(&["assess", "../\u{1b}[31m/x"]).status.code(), Some(1));
}

/// A report that could not be written is no success; where it was closed on purpose, nothing was asked for.
#[cfg(target_os = "linux")]
#[test]
fn what_is_wrong_with_a_command_line_is_said_without_acting() {
    let folder = folder();
    let name = "\u{1b}]0;title\u{7}\u{1b}[2Jx.ron";
    for arguments in [
        vec!["assess", "one.ron", name],
        vec![name],
        vec!["--theme", name],
        vec!["list", "--limit", name],
        vec!["export", "--since", name],
        vec!["completions", name],
        vec![&format!("--{name}")],
    ] {
        let output = folder.run(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let entered = assert_still(&output);
        assert!(entered.contains("error:") && entered.contains("--help"), "{entered}");
    }
}

#[test]
fn a_report_that_finds_no_room_fails_and_one_nobody_wants_does_not() {
    let record = Path::new(env!("CARGO_MANIFEST_DIR")).join("sessions/2026-04-02-1640-81d0b7.ron");
    let shell = |redirected: &str| {
        let line = format!("\"$0\" assess \"$1\" {redirected}");
        let mut sh = Command::new("sh");
        sh.args(["-c", &line, env!("CARGO_BIN_EXE_coilwright")]).arg(&record).output().expect("a shell")
    };
    let full = shell(">/dev/full");
    assert_eq!(full.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&full.stderr).contains("the report cannot be written"));
    assert_eq!(shell(">&-").status.code(), Some(0));
    assert_eq!(shell("| head -n 1 >/dev/null").status.code(), Some(0));
}
