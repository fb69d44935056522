//! Exports: read back by readers that are not ours, without names where none are wanted, and the same bytes twice.

use std::collections::BTreeSet;
use std::io::Write;
use std::process::{Command, Stdio};

use coilwright::report::names::{JsonName, NAMES};
use coilwright::report::{self, Personal};
use proptest::prelude::*;
use serde_json::Value;

use super::cards::written_on;
use super::{Session, busy, demonstrations, told_everywhere};
use crate::walk::sample;

/// Reads a CSV table with the csv module of Python's standard library and gives its rows as JSON.
const READER: &str = "
import csv, io, json, sys
text = sys.stdin.buffer.read().decode('utf-8')
print(json.dumps(list(csv.reader(io.StringIO(text, newline=''), strict=True))))
";

/// The rows as Python reads them; none where there is no Python.
fn read_by_python(table: &str) -> Option<Vec<Vec<String>>> {
    let mut python = Command::new("python3")
        .args(["-c", READER])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .inspect_err(|error| eprintln!("skipped: python3 does not start ({error})"))
        .ok()?;
    python.stdin.take().expect("a pipe").write_all(table.as_bytes()).expect("python3 reads");
    let read = python.wait_with_output().expect("python3 ends");
    assert!(read.status.success(), "python3 could not read the table");
    Some(serde_json::from_slice(&read.stdout).expect("JSON"))
}

fn table(sessions: &[Session], personal: Personal) -> String {
    report::heading() + &sessions.iter().map(|session| session.rows(personal)).collect::<String>()
}

fn parsed(session: &Session, personal: Personal) -> Value {
    serde_json::from_str(&session.line(personal)).expect("one JSON object")
}

/// Every name in a value, as `names` writes it.
pub(crate) fn paths(value: &Value, at: &str, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(members) => members.iter().for_each(|(name, value)| {
            let at = if at.is_empty() { name.clone() } else { format!("{at}.{name}") };
            paths(value, &at, found);
        }),
        Value::Array(items) => {
            let at = format!("{at}[]");
            for item in items {
                paths(item, &at, found);
            }
        }
        _ => {
            found.insert(at.to_owned());
        }
    }
}

#[test]
fn the_table_is_read_by_another_reader_with_every_figure_in_its_column() {
    let sessions = demonstrations();
    let Some(rows) = read_by_python(&table(&sessions, Personal::Kept)) else { return };
    let column = |name: &str| rows[0].iter().position(|cell| cell == name).expect(name);
    let sets: usize = sessions.iter().map(|session| session.state.sets.len()).sum();
    assert_eq!(rows.len(), 1 + sets);
    assert!(rows.iter().all(|row| row.len() == rows[0].len()));
    let first = &rows[1];
    let expected = [
        ("session", "2025-09-20-1420-a240f6"),
        ("opened_utc", "2025-09-20T12:20:00Z"),
        ("utc_offset_minutes", "120"),
        ("demonstration", "true"),
        ("bike", "all-mountain bike, blue"),
        ("target_percent", "30"),
        ("set", "1"),
    ];
    for (name, value) in expected {
        assert_eq!(first[column(name)], value, "{name}");
    }
    for row in &rows[1..] {
        let [mean, stroke, sag] = ["average_mm", "stroke_mm", "sag_percent"]
            .map(|name| row[column(name)].parse::<f64>().expect(name));
        // Sag is the mean reading over the shock stroke; figures are written to a millionth.
        assert!((100.0 * mean / stroke - sag).abs() < 1e-5, "{row:?}");
    }
}

#[test]
fn a_table_without_names_keeps_its_columns() {
    let session = told_everywhere("Invented rider E");
    let Some(rows) = read_by_python(&table(&[session], Personal::LeftOut)) else { return };
    let who = rows[0].iter().position(|cell| cell == "customer").expect("a column");
    assert!(rows[1..].iter().all(|row| row[who].is_empty() && row.len() == rows[0].len()));
}

#[test]
fn nothing_that_was_typed_stands_in_an_export_without_names() {
    let session = told_everywhere("zanzibar");
    // Name, bike, notes, remark, reason of the void, note of the trail.
    assert_eq!(session.line(Personal::Kept).matches("zanzibar").count(), 6);
    assert!(!session.line(Personal::LeftOut).contains("zanzibar"));
    assert!(session.rows(Personal::Kept).contains("zanzibar"));
    assert!(!session.rows(Personal::LeftOut).contains("zanzibar"));
}

#[test]
fn a_line_holds_readings_times_and_the_whole_assessment() {
    let line = parsed(&demonstrations()[4], Personal::Kept);
    assert_eq!(line["schema"], 2);
    assert_eq!(line["session"], "2026-06-11-1130-a27713");
    assert_eq!(line["opened_utc"], "2026-06-11T09:30:00Z");
    assert_eq!(line["utc_offset_minutes"], 120);
    assert_eq!(line["entered"]["rider_kg"], 78.5);
    assert_eq!(line["entered"]["body_diameter_mm"], Value::Null);
    assert_eq!(line["sets"][1]["preload_turns"], 0.0);
    assert_eq!(line["sets"][1]["readings"][1]["reading_mm"], 15.0);
    assert_eq!(line["sets"][1]["readings"][1]["at_utc"], "2026-06-11T10:00:07Z");
    assert_eq!(line["assessment"]["sets"][1]["standing"], "on_target");
}

#[test]
fn an_open_intake_is_a_line_without_assessment_and_no_row() {
    let session = Session::new("2026-11-25-1000-000004", coilwright::session::Record::new(sample::at(0)));
    let line = parsed(&session, Personal::Kept);
    assert!(
        line["assessment"].is_null()
            && line["entered"]["rider_kg"].is_null()
            && line.get("who").is_some_and(Value::is_null)
    );
    assert_eq!(session.rows(Personal::Kept), "");
}

#[test]
fn every_name_of_the_assessment_is_told_in_the_manual_and_no_other() {
    let mut written = BTreeSet::new();
    for session in demonstrations().iter().chain([&busy(3), &written_on()]) {
        let json = report::as_json(&session.subject()).expect("every figure is finite");
        paths(&serde_json::from_str(&json).expect("JSON"), "", &mut written);
    }
    assert_eq!(written, entered(NAMES));
}

/// The names of a table.
pub(crate) fn entered(names: &[JsonName]) -> BTreeSet<String> {
    names.iter().map(|name| name.path.to_owned()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(48) })]

    #[test]
    fn any_session_is_one_line_that_parses_and_the_same_twice(record in sample::record()) {
        let session = Session::new("2026-11-25-1000-000005", record);
        let line = session.line(Personal::Kept);
        let parsed: Value = serde_json::from_str(&line).expect("one JSON object");
        prop_assert_eq!(parsed["sets"].as_array().map(Vec::len), Some(session.state.sets.len()));
        prop_assert_eq!(&line, &session.line(Personal::Kept));
        prop_assert_eq!(session.rows(Personal::Kept), session.rows(Personal::Kept));
    }
}

#[test]
fn any_text_comes_back_from_the_table_as_it_was_shown() {
    let entered = ["a,b", "the \"big\" one", "=1+1", "-5", "@me", "ends with \"", "\u{1b}[31m", "漢字"];
    let sessions: Vec<Session> = entered.iter().map(|text| told_everywhere(text)).collect();
    let Some(rows) = read_by_python(&table(&sessions, Personal::Kept)) else { return };
    let who = rows[0].iter().position(|cell| cell == "customer").expect("a column");
    let read: Vec<&str> = rows[1..].iter().map(|row| row[who].as_str()).collect();
    assert_eq!(read, ["a,b", "the \"big\" one", "'=1+1", "'-5", "'@me", "ends with \"", "␛[31m", "漢字"]);
}
