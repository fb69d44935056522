//! Leverage measured on the bike, by command.

use std::collections::BTreeSet;
use std::fs;

use coilwright::report::names;

use super::{assert_near, run};
use crate::paper::exports::{entered, paths};

const AT: [&str; 4] = ["--travel", "150", "--stroke", "60"];

/// Pairs of a ratio that falls evenly from 3.0 to 2.0: z = 3 x - x²/120, to a tenth of a millimetre.
const PAIRS: &str = "10/29.2 20/56.7 30/82.5 40/106.7 50/129.2 60/150";

fn asked(pairs: &str, options: &[&str]) -> super::Ran {
    run(&[&["leverage", "-"], &AT[..], options].concat(), pairs)
}

#[test]
fn a_ratio_from_three_to_two_is_told_in_figures_and_drawn() {
    let text = asked(PAIRS, &[]).success();
    for line in ["Start ratio         3.00", "Mean ratio          2.50", "End ratio           2.00"] {
        assert!(text.contains(line), "{line} is not in:\n{text}");
    }
    let points =
        text.lines().filter_map(|line| line.split_once('|')).map(|(_, plot)| plot.matches('o').count());
    assert_eq!(
        points.sum::<usize>(),
        6,
        "one between each pair and the next, from the still bike on:\n{text}"
    );
    assert!(text.is_ascii(), "{text}");
}

#[test]
fn the_figures_for_scripts_are_those_of_the_parabola() {
    let json = asked(PAIRS, &["--json"]).json();
    // Wheel travel was rounded to a tenth; over ten millimetres that is a hundredth of ratio either way.
    assert_near(&json["start_ratio"], 3.0, 0.02);
    assert_near(&json["end_ratio"], 2.0, 0.02);
    assert_near(&json["falloff_percent"], 40.0, 1.0);
    assert!(json["largest_misfit_mm"].as_f64().expect("a number") < 0.1);
    assert_eq!(json["pairs"].as_array().map(Vec::len), Some(6));
}

#[test]
fn a_table_of_heights_says_the_same_as_typed_pairs() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("lev.csv");
    let heights = "stroke;height\n0;340\n10;369,2\n20;396,7\n30;422,5\n40;446,7\n50;469,2\n60;490\n";
    fs::write(&path, heights).expect("it can be written");
    let path = path.to_str().expect("text");
    let table = run(&[&["leverage", path, "--heights"], &AT[..]].concat(), "").success();
    let start = |text: &str| text.lines().next().map(str::to_owned);
    assert_eq!(start(&table), start(&asked(PAIRS, &[]).success()));
}

#[test]
fn pairs_that_cannot_be_a_curve_are_refused_in_a_sentence() {
    let wrong = [
        ("", "at least four measured pairs"),
        ("stroke,wheel\n", "at least four measured pairs"),
        ("10/27.5 20/54", "at least four measured pairs"),
        ("10/29.2 20/56.7 30/50 40/106.7 60/150", "Leverage pair 3 does not lie beyond"),
        ("10/29.2 20/56.7 30/82.5 40/106.7 50/129.2 60/140", "does not end at"),
        ("0,340\n10,369\n20,397\n60,490", "heights of the axle"),
        ("10/29.2 twenty/56.7 30/82.5", "Pair 2: \"twenty\" is not a number"),
        ("10/29.2/3 20/56.7", "Pair 1 does not hold two figures"),
        ("10,29.2\n20,NaN", "Line 2: \"NaN\" is not a number"),
        ("-10/29.2 20/56.7 30/82.5 60/150", "Leverage pair 1"),
        ("10/29.2 20/1e99", "power of ten"),
    ];
    for (pairs, why) in wrong {
        let sentence = asked(pairs, &[]).refusal();
        assert!(sentence.contains(why), "{pairs:?}: {sentence}");
    }
}

#[test]
fn heights_that_do_not_begin_at_full_extension_are_refused() {
    let sentence = asked("10/369 20/397 30/422 60/490", &["--heights"]).refusal();
    assert!(sentence.contains("start at full extension"), "{sentence}");
}

#[test]
fn travel_and_stroke_that_cannot_be_are_refused_as_on_the_screen() {
    let wrong = [
        ("", "60", "--travel: Nothing is typed yet."),
        ("far", "60", "--travel: \"far\" is not a number."),
        ("-150", "60", "Rear wheel travel"),
        ("0", "60", "Rear wheel travel"),
        ("99999999999", "60", "--travel: \"99999999999\" is too large"),
        ("NaN", "60", "--travel: \"NaN\" is not a number."),
        ("150", "6000", "Shock stroke"),
        ("60", "100", "Check whether you swapped the two."),
        ("150", "60 kg", "--stroke: kg does not belong here."),
    ];
    for (travel, stroke, why) in wrong {
        let sentence = run(&["leverage", "-", "--travel", travel, "--stroke", stroke], PAIRS).refusal();
        assert!(sentence.contains(why), "{travel:?} {stroke:?}: {sentence}");
    }
}

#[test]
fn a_file_that_is_not_there_is_named() {
    let sentence = run(&[&["leverage", "/nowhere/lev.csv"], &AT[..]].concat(), "").refusal();
    assert!(sentence.contains("/nowhere/lev.csv") && !sentence.contains("session"), "{sentence}");
}

#[test]
fn a_folder_or_a_picture_is_no_table() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let picture = folder.path().join("picture.csv");
    fs::write(&picture, [0x89, b'P', b'N', b'G', 0xff]).expect("it can be written");
    for path in [folder.path(), &picture] {
        let path = path.to_str().expect("text");
        let sentence = run(&[&["leverage", path], &AT[..]].concat(), "").refusal();
        assert!(sentence.contains("the table of pairs cannot be read"), "{sentence}");
    }
}

#[test]
fn every_name_for_scripts_is_told_in_the_manual_and_no_other() {
    let mut written = BTreeSet::new();
    paths(&asked(PAIRS, &["--json"]).json(), "", &mut written);
    assert_eq!(written, entered(names::LEVERAGE));
}
