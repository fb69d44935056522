//! What the finished sessions of a folder say together, held against the same sessions cut by hand.
//!
//! The sessions are the demonstrations, entered as if a workshop had them.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use coilwright::assets;
use coilwright::report::names;
use serde_json::Value;
use tempfile::TempDir;

use super::assert_near;
use super::folder::{home, printed, run};
use crate::paper::exports::{entered, paths};

/// The demonstrations as a workshop's own.
fn shop() -> TempDir {
    let home = home();
    for file in fs::read_dir(home.path().join("records")).expect("the records") {
        let file = file.expect("a file").path();
        let text = fs::read_to_string(&file).expect("text");
        fs::write(&file, text.replace("origin: Demonstration,", "")).expect("room");
    }
    home
}

fn tally(home: &Path) -> Value {
    serde_json::from_str(&printed(home, &["tally", "--json"])).expect("JSON")
}

/// The demonstrations whose session is closed.
fn closed() -> impl Iterator<Item = &'static str> {
    assets::DEMONSTRATIONS
        .iter()
        .map(|demonstration| demonstration.text)
        .filter(|text| text.contains("Closed"))
}

/// A line that tells of a reading, and what was read.
fn reading(line: &str) -> Option<f64> {
    line.split("Read(reading_mm: ").nth(1)?.split(')').next()?.parse().ok()
}

/// First readings after a swap with what `assess` expected of a record that ends before them, in shares of the stroke and
/// in standard uncertainties.
fn by_hand(home: &Path) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    for text in closed() {
        let lines: Vec<&str> = text.lines().collect();
        let stroke = lines.iter().find_map(|line| line.trim().strip_prefix("stroke_mm: "));
        let stroke: f64 =
            stroke.and_then(|figure| figure.trim_end_matches(',').parse().ok()).expect("a stroke");
        let swaps = lines.iter().enumerate().filter(|(_, line)| line.contains("Decided(Swap"));
        for (swap, _) in swaps {
            let (after, read) = (swap..lines.len())
                .find_map(|place| Some((place, reading(lines[place])?)))
                .expect("a reading after the swap");
            let cut = home.join("cut.ron");
            fs::write(&cut, lines[..after].join("\n") + "\n    ],\n)\n").expect("room");
            let said = printed(home, &["assess", cut.to_str().expect("text"), "--json"]);
            let said: Value = serde_json::from_str(&said).expect("JSON");
            let figure = |name: &str| said[name].as_f64().expect("a figure");
            let off = read - figure("expected_reading_mm");
            found.push((100.0 * off / stroke, off / figure("u_expected_reading_mm")));
        }
    }
    found
}

#[test]
fn forecasts_are_what_was_said_before_the_reading() {
    let home = shop();
    let (said, expected) = (tally(home.path()), by_hand(home.path()));
    let count = expected.len() as f64;
    assert_eq!(said["after_swap"]["count"], expected.len());
    assert_near(
        &said["after_swap"]["bias_percent"],
        expected.iter().map(|(off, _)| off).sum::<f64>() / count,
        1e-4,
    );
    let held = expected.iter().filter(|(_, doubts)| doubts.abs() < 1.645).count();
    assert_eq!(said["after_swap"]["inside_ninety_percent"], held);
    let squares: f64 = expected.iter().map(|(_, doubts)| doubts.abs().min(3.0).powi(2)).sum();
    assert_near(&said["doubt_factor"], ((20.0 + squares) / (20.0 + count)).sqrt(), 1e-4);
    assert_eq!(said["doubt_factor_swaps"], expected.len());
}

#[test]
fn sits_and_swaps_are_those_of_the_closed_sessions() {
    let home = shop();
    let said = tally(home.path());
    let of_months = |name: &str| -> u64 {
        let months = said["months"].as_array().expect("months");
        months.iter().filter_map(|month| month[name].as_u64()).sum()
    };
    let lines = || closed().flat_map(str::lines);
    assert_eq!(of_months("sits"), lines().filter_map(reading).count() as u64);
    let swaps = lines().filter(|line| line.contains("Ticked(SpringExchanged")).count();
    assert_eq!(of_months("swaps"), swaps as u64);
    assert_eq!((&said["sessions"], &said["not_counted_open"]), (&4.into(), &1.into()));
}

#[test]
fn since_a_day_only_sessions_begun_then_or_later_are_counted() {
    let home = shop();
    let since = |day: &str| -> Value {
        let said = printed(home.path(), &["tally", "--json", "--since", day]);
        serde_json::from_str(&said).expect("JSON")
    };
    let begun = |day: &str| {
        let opened = |text: &&str| text.split("opened: \"").nth(1).is_some_and(|opened| &opened[..10] >= day);
        closed().filter(opened).count()
    };
    for day in ["2025-09-20", "2025-09-21", "2026-05-23", "2026-05-24", "2027-01-01"] {
        let said = since(day);
        assert_eq!((&said["sessions"], &said["since"]), (&begun(day).into(), &day.into()), "{day}");
    }
    assert_eq!((begun("2025-09-21"), begun("2027-01-01")), (3, 0), "the days part the sessions");
    assert!(tally(home.path())["since"].is_null());
    let said = printed(home.path(), &["tally", "--since", "2026-01-01"]);
    assert!(said.starts_with("What our sessions teach: 3 finished sessions since 2026-01-01.\n"), "{said}");
    let said = printed(home.path(), &["tally", "--since", "2027-01-01"]);
    assert_eq!(said, "There are no finished sessions since 2027-01-01 in this folder.\n");
    assert_eq!(run(home.path(), &["tally", "--since", "spring"]).status.code(), Some(2));
}

#[test]
fn invented_sessions_teach_nothing() {
    let home = home();
    assert_eq!(tally(home.path())["not_counted_demonstrations"], 5);
    let said = printed(home.path(), &["tally"]);
    assert_eq!(said, "There are no finished sessions in this folder yet.\nNot counted: 5 demonstrations.\n");
}

#[test]
fn a_person_reads_it_within_eighty_cells() {
    let home = shop();
    let said = printed(home.path(), &["tally"]);
    assert!(
        said.starts_with(
            "What our sessions teach: 4 finished sessions.\nNot counted: 1 unfinished session.\n"
        )
    );
    let widest = said.lines().map(|line| line.chars().count()).max();
    assert!(widest <= Some(80), "{said}");
    for heading in ["Factor for our doubts: ", "Work by month", "Rates to stock"] {
        assert!(said.contains(heading), "{said}");
    }
}

#[test]
fn a_session_that_cannot_be_read_is_named_and_the_others_are_counted() {
    let home = shop();
    fs::write(home.path().join("records/2026-03-10-1005-000000.ron"), "(format: 2").expect("room");
    let output = run(home.path(), &["tally", "--json"]);
    let complained = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1));
    assert!(complained.contains("1 of 5 sessions are not counted"), "{complained}");
    assert!(complained.contains("2026-03-10-1005-000000"), "{complained}");
    let said: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert!(said["sessions"].as_u64() >= Some(3));
}

#[test]
fn every_name_for_scripts_is_in_the_manual_and_no_other() {
    let home = shop();
    let mut written = BTreeSet::new();
    paths(&tally(home.path()), "", &mut written);
    assert_eq!(written, entered(names::TALLY));
}
