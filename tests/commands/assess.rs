//! What changes with the spring, and the range wanted, in the reports of a record.

use std::fs;
use std::path::Path;

use chrono::{DateTime, TimeDelta};
use coilwright::archive::Revision;
use coilwright::archive::form::{self, Unknown};
use coilwright::archive::seal::seal;
use coilwright::session::{Caution, Deed, Detail, Record, machine};
use coilwright::units::{Length, Turns};

use super::{Ran, assert_near, run};
use crate::walk::sample;

/// The invented bike read in quick trials with the fitted spring at this share of the stroke.
fn read_at(sag: Option<f64>, more: &[Detail]) -> Record {
    let mut record = sample::entered();
    let at = DateTime::parse_from_rfc3339("2026-11-25T12:00:00+01:00").expect("a time");
    for detail in more {
        machine::enter(&mut record, at, detail.clone()).expect("possible");
    }
    let opening = [Deed::IntakeDone]
        .into_iter()
        .chain(Caution::ALL.map(Deed::CautionSeen))
        .chain([Deed::TrialsOpened { preload_turns: Turns::ZERO }]);
    let readings = sag.into_iter().flat_map(|sag| {
        [sag, sag + 0.004, sag - 0.004].map(|sag| Deed::Trial { reading: Length::mm(62.5 * sag) })
    });
    let mut minute = 0;
    for deed in opening.chain(readings) {
        minute += 1;
        // Cautions that do not belong here are refused, which leaves the record as it was.
        let _ = machine::advance(&mut record, at + TimeDelta::minutes(minute), deed);
    }
    record
}

fn assessed(record: &Record, options: &[&str]) -> Ran {
    let text = form::write(record, &Unknown::default()).expect("it can be written");
    let text = seal(&text, Revision::new(1));
    run(&[&["assess", "-"], options].concat(), &text)
}

#[test]
fn the_range_wanted_stands_round_the_rate_wanted_before_any_reading() {
    let json = assessed(&read_at(None, &[]), &["--json"]).json();
    let figure = |name: &str| json[name].as_f64().expect("a number");
    let half = 1.645 * figure("u_needed_rate_lb_in");
    assert_near(&json["needed_low_lb_in"], figure("needed_rate_lb_in") - half, 1e-6);
    assert_near(&json["needed_high_lb_in"], figure("needed_rate_lb_in") + half, 1e-6);
    assert_eq!(json["advice"]["kind"], "take_readings");
}

#[test]
fn too_little_sag_sets_a_softer_spring_beside_the_fitted_one() {
    let json = assessed(&read_at(Some(0.26), &[]), &["--json"]).json();
    let changes = json["changes"].as_array().expect("a list");
    let roles: Vec<&str> = changes.iter().filter_map(|change| change["role"].as_str()).collect();
    assert_eq!(roles, ["fitted", "step", "best_match"], "{json:#}");
    let (fitted, best_match) = (&changes[0], &changes[2]);
    let figure = |change: &serde_json::Value, name: &str| change[name].as_f64().expect("a number");
    assert!(figure(best_match, "rate_lb_in") < figure(fitted, "rate_lb_in"));
    // That spring was measured, and the damping goes by what was measured.
    let ratio = figure(best_match, "measured_lb_in") / figure(fitted, "rate_lb_in");
    // Critical damping goes with the square root of the rate (any textbook of vibration).
    assert_near(&best_match["rebound_more_percent"], 100.0 * (ratio.sqrt() - 1.0), 0.5);
    // A softer spring sits deeper, so the bracket comes lower and the angle slacker: by 800/1240 of what the axle sinks
    // more, and by its arc tangent over the wheelbase (invented frame of the sample).
    let sinks = figure(best_match, "axle_sinks_mm") - figure(fitted, "axle_sinks_mm");
    assert!(sinks > 0.0);
    assert_near(&best_match["bottom_bracket_lower_mm"], sinks * 800.0 / 1240.0, 1e-9);
    assert_near(&best_match["head_angle_slacker_degrees"], (sinks / 1240.0).atan().to_degrees(), 1e-9);
}

#[test]
fn what_was_not_told_of_the_frame_is_not_assumed() {
    let untold = [Detail::Wheelbase(None), Detail::RearCentre(None)];
    let record = read_at(Some(0.26), &untold);
    let json = assessed(&record, &["--json"]).json();
    for change in json["changes"].as_array().expect("a list") {
        assert!(
            change["bottom_bracket_lower_mm"].is_null() && change["head_angle_slacker_degrees"].is_null()
        );
    }
    let text = assessed(&record, &[]).success();
    assert!(
        text.contains("What changes with the spring") && text.contains("Rebound damping needed"),
        "{text}"
    );
    assert!(!text.contains("Head angle") && !text.contains("Bottom bracket "), "{text}");
}

#[test]
fn with_the_wheelbase_alone_the_head_angle_is_told_and_the_bracket_is_not() {
    let text = assessed(&read_at(Some(0.26), &[Detail::RearCentre(None)]), &[]).success();
    assert!(text.contains("Head angle ") && !text.contains("Bottom bracket "), "{text}");
}

#[test]
fn a_spring_that_stays_is_told_by_itself() {
    let text = assessed(&read_at(Some(0.30), &[]), &[]).success();
    assert!(text.contains("What this spring does") && !text.contains("Rebound damping"), "{text}");
    let demonstration = Path::new(env!("CARGO_MANIFEST_DIR")).join("sessions");
    for session in fs::read_dir(demonstration).expect("the demonstrations") {
        let path = session.expect("a file").path();
        let json = run(&["assess", path.to_str().expect("text"), "--json"], "").json();
        assert_eq!(json["changes"][0]["role"], "fitted", "{}", path.display());
    }
}

#[test]
fn the_record_by_hand_of_the_readme_says_what_enter_would_do() {
    let readme = include_str!("../../README.md");
    let (_, after) = readme.split_once("### A record by hand").expect("it is told");
    let record = after.split("```").nth(1).expect("an example").trim_start_matches("ron");
    // A record written by hand has no check value, and that is said; this one is given one.
    let json = run(&["assess", "-", "--json"], &seal(record.trim_start(), Revision::new(1))).json();
    assert_eq!(json["sets"][1]["readings_used"], 1);
    assert_eq!(json["step"], "seat_indicator");
    assert!(json["advice"]["enter"]["does"].is_string(), "{json:#}");
}
