//! Sets as lines of JSON, a file a month, and gzip: what other programs are built on, and so what may not change under them.

use std::fs;
use std::io::Read;
use std::path::Path;
use std::time::{Duration, SystemTime};

use coilwright::report::Personal;
use coilwright::report::names::SETS;
use flate2::read::GzDecoder;
use serde_json::Value;

use super::commands::{printed, run, shop};
use super::{Session, demonstrations, told_everywhere};

/// The names as they were given out. One may be added at the end; a change here breaks what somebody built.
const GIVEN_OUT: &str = "session opened_utc utc_offset_minutes demonstration step customer bike \
    rider_kg bike_kg travel_mm stroke_mm target_percent tolerance_percent set \
    spring rate_lb_in preload_turns preload_mm readings_used readings_void average_mm \
    u_average_mm scatter_mm sag_percent u_sag_percent ninety_percent_within standing mounting \
    indicator posture condition condition_rider_kg gap_seen pairs changed_outside \
    revision swaps sets trail_checks bottoming ride_height feel \
    deepest_mm bothers";

fn objects(lines: &str) -> Vec<Value> {
    lines.lines().map(|line| serde_json::from_str(line).expect("one JSON object a line")).collect()
}

fn lines_of(sessions: &[Session]) -> Vec<Value> {
    objects(&sessions.iter().map(|session| session.set_lines(Personal::Kept)).collect::<String>())
}

#[test]
fn the_names_of_a_set_are_those_given_out_and_every_line_has_them_in_their_order() {
    let given_out: Vec<&str> = GIVEN_OUT.split_whitespace().collect();
    assert_eq!(SETS.iter().map(|column| column.path).collect::<Vec<_>>(), given_out);
    for session in demonstrations() {
        for line in session.set_lines(Personal::Kept).lines() {
            let places = given_out.iter().map(|name| line.find(&format!("\"{name}\":")).expect(name));
            assert!(places.is_sorted(), "{line}");
        }
    }
}

#[test]
fn the_invented_chain_has_the_same_names_in_the_same_order() {
    let script = include_str!("../chain/invented.py");
    let selected = script.split(" select printf(").nth(1).expect("the sets are selected");
    let selected = selected.split(" from figure").next().expect("something");
    let names: Vec<&str> = selected
        .split(" as ")
        .skip(3)
        .map(|rest| {
            rest.split(|letter: char| !(letter.is_ascii_alphanumeric() || letter == '_'))
                .next()
                .expect("a name")
        })
        .collect();
    assert_eq!(names, GIVEN_OUT.split_whitespace().collect::<Vec<_>>(), "after the folders, shop and month");
}

#[test]
fn a_line_says_what_the_row_of_the_table_says() {
    for session in demonstrations().iter().chain([&told_everywhere("Invented rider E")]) {
        let (lines, rows) = (objects(&session.set_lines(Personal::Kept)), session.rows(Personal::Kept));
        assert_eq!(lines.len(), rows.lines().count());
        assert_eq!(lines.len(), session.state.sets.len());
        for (line, row) in lines.iter().zip(rows.lines()) {
            let cells: Vec<&str> = row.rsplit(',').collect();
            for (cell, column) in cells.iter().zip(SETS.iter().rev()).take(9) {
                let written = match &line[column.path] {
                    Value::Null => String::new(),
                    Value::String(text) => format!("\"{text}\""),
                    Value::Number(figure) => figure.to_string().trim_end_matches(".0").to_owned(),
                    other => panic!("{other} in {}", column.path),
                };
                assert_eq!(*cell, written, "{}", column.path);
            }
        }
    }
}

#[test]
fn a_column_keeps_its_kind_from_line_to_line() {
    let kind = |value: &Value| match value {
        Value::Number(figure) if figure.is_f64() => "figure",
        Value::Number(_) => "count",
        Value::String(_) => "text",
        Value::Bool(_) => "flag",
        _ => "",
    };
    for column in SETS {
        let lines = lines_of(&demonstrations());
        let mut kinds: Vec<_> =
            lines.iter().map(|line| kind(&line[column.path])).filter(|kind| !kind.is_empty()).collect();
        kinds.dedup();
        assert!(kinds.len() <= 1, "{} is {kinds:?}", column.path);
    }
}

#[test]
fn the_answers_of_the_ride_and_the_outcome_are_in_every_line_of_the_session() {
    let session = told_everywhere("Invented rider E");
    let sets = session.state.sets.len();
    for line in lines_of(&[session]) {
        assert!(
            ["never", "now_and_then", "often"].contains(&line["bottoming"].as_str().expect("it was ridden"))
        );
        assert!(["high", "right", "deep"].contains(&line["ride_height"].as_str().expect("it was ridden")));
        assert!(["dull", "right", "nervous"].contains(&line["feel"].as_str().expect("it was ridden")));
        assert_eq!((line["trail_checks"].as_u64(), line["sets"].as_u64()), (Some(1), Some(sets as u64)));
        assert_eq!(line["step"], "closed");
    }
}

#[test]
fn nothing_that_was_typed_is_in_a_line_without_names() {
    let session = told_everywhere("zanzibar");
    assert!(session.set_lines(Personal::Kept).contains("zanzibar"));
    assert!(!session.set_lines(Personal::LeftOut).contains("zanzibar"));
}

fn files(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").file_name());
    let mut names: Vec<_> = entries.map(|name| name.to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn a_month_holds_the_sessions_begun_in_it_and_all_months_hold_all() {
    let shop = shop();
    let may = printed(&run(shop.path(), &["export", "--sets", "--month", "2026-05"]));
    assert!(may.lines().count() > 0);
    assert!(objects(&may).iter().all(|line| line["session"] == "2026-05-23-0915-5c117e"));
    printed(&run(shop.path(), &["export", "--sets", "--by-month", "out"]));
    let out = shop.path().join("out");
    let months =
        ["2025-09", "2026-03", "2026-04", "2026-05", "2026-06"].map(|month| format!("sets-{month}.jsonl"));
    assert_eq!(files(&out), months);
    assert_eq!(fs::read_to_string(out.join("sets-2026-05.jsonl")).expect("May"), may);
    let all: String =
        months.iter().map(|file| fs::read_to_string(out.join(file)).expect("a month")).collect();
    assert_eq!(all, printed(&run(shop.path(), &["export", "--sets"])));
    let refused = run(shop.path(), &["export", "--month", "2026-13"]);
    assert_eq!(refused.status.code(), Some(2));
}

#[test]
fn a_month_in_which_nothing_changed_is_not_touched_and_one_whose_sessions_went_is_emptied() {
    let shop = shop();
    let export = ["export", "--sets", "--by-month", "out"];
    printed(&run(shop.path(), &export));
    let out = shop.path().join("out");
    let long_ago = SystemTime::UNIX_EPOCH + Duration::from_secs(1_700_000_000);
    for file in files(&out) {
        let file = fs::File::options().write(true).open(out.join(file)).expect("a month");
        file.set_modified(long_ago).expect("its time can be set");
    }
    let record = shop.path().join("records/2026-05-23-0915-5c117e.ron");
    fs::remove_file(record).expect("it was there");
    printed(&run(shop.path(), &export));
    assert_eq!(fs::read(out.join("sets-2026-05.jsonl")).expect("May"), b"");
    for file in files(&out).iter().filter(|file| !file.contains("2026-05")) {
        let written = fs::metadata(out.join(file)).expect("a month").modified().expect("a time");
        assert_eq!(written, long_ago, "{file} was written again");
    }
}

#[test]
fn what_is_compressed_unfolds_to_the_same_bytes() {
    let shop = shop();
    let plain = printed(&run(shop.path(), &["export", "--sets"]));
    let unfolded = |bytes: &[u8]| {
        let mut text = String::new();
        GzDecoder::new(bytes).read_to_string(&mut text).map(|_| text).expect("gzip")
    };
    printed(&run(shop.path(), &["export", "--sets", "--compress", "--out", "all.jsonl.gz"]));
    assert_eq!(unfolded(&fs::read(shop.path().join("all.jsonl.gz")).expect("a file")), plain);
    printed(&run(shop.path(), &["export", "--sets", "--compress", "--by-month", "out"]));
    let out = shop.path().join("out");
    assert!(files(&out).iter().all(|file| file.ends_with(".jsonl.gz")));
    let all: String =
        files(&out).iter().map(|file| unfolded(&fs::read(out.join(file)).expect("a month"))).collect();
    assert_eq!(all, plain);
}

#[test]
fn only_what_changed_since_is_written() {
    let shop = shop();
    for file in fs::read_dir(shop.path().join("records")).expect("a folder") {
        let file = fs::File::options().write(true).open(file.expect("an entry").path()).expect("a file");
        file.set_modified(SystemTime::UNIX_EPOCH + Duration::from_secs(1_700_000_000)).expect("a time");
    }
    let since = ["export", "--changed-since", "2024-01-01T00:00:00Z"];
    assert_eq!(printed(&run(shop.path(), &since)), "");
    let record = shop.path().join("records/2026-04-02-1640-81d0b7.ron");
    let record = fs::File::options().write(true).open(record).expect("a record");
    record.set_modified(SystemTime::UNIX_EPOCH + Duration::from_hours(500_000)).expect("a time");
    let changed = objects(&printed(&run(shop.path(), &since)));
    assert_eq!(changed.len(), 1);
    assert_eq!(changed[0]["session"], "2026-04-02-1640-81d0b7");
}
