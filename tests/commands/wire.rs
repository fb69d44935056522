//! A spring from its wire, by command.

use std::collections::BTreeSet;

use coilwright::report::names;

use super::{assert_near, run};
use crate::paper::exports::{entered, paths};

const SPRING: [&str; 7] = ["wire", "--wire", "9.4", "--outer", "58.6", "--coils", "7.5"];

fn with(options: &[&str]) -> super::Ran {
    run(&[&SPRING[..], options].concat(), "")
}

#[test]
fn the_rate_is_told_in_both_units_with_its_doubt_and_what_comes_first() {
    let text = with(&["--free-length", "150"]).success();
    let first = text.lines().next().expect("a line");
    assert!(first.starts_with("Spring rate") && first.contains("lb/in") && first.contains("N/mm"), "{text}");
    assert!(first.contains('±'), "{text}");
    assert!(text.contains("Way to solid") && text.contains("its maker printed"), "{text}");
}

#[test]
fn the_figures_for_scripts_follow_shigleys_equation() {
    // Shigley's Mechanical Engineering Design, 9th ed., equation 10-9 and table 10-1, worked by hand here:
    // 78 250 · 9.4⁴ / (8 · 49.2³ · 5.5) = 116.6 N/mm; solid 9.4 · 7.5 = 70.5 mm.
    let json = with(&["--free-length", "150", "--json"]).json();
    assert_near(&json["rate_n_mm"], 78_250.0 * 9.4f64.powi(4) / (8.0 * 49.2f64.powi(3) * 5.5), 1e-9);
    assert_near(
        &json["rate_lb_in"],
        json["rate_n_mm"].as_f64().expect("a number") / 0.175_126_835_246_476,
        1e-6,
    );
    assert_near(&json["active_coils"], 5.5, 1e-12);
    assert_near(&json["solid_length_mm"], 70.5, 1e-9);
    assert_near(&json["greatest_deflection_mm"], 79.5, 1e-9);
}

#[test]
fn without_the_free_length_there_is_no_way_to_solid() {
    assert!(with(&["--json"]).json()["greatest_deflection_mm"].is_null());
    assert!(!with(&[]).success().contains("Way to solid"));
}

#[test]
fn inches_and_a_fraction_of_a_coil_say_the_same() {
    let metric = run(&["wire", "--wire", "9.525", "--outer", "58.42", "--coils", "7.25"], "").success();
    let imperial = ["wire", "--wire", "3/8", "--outer", "2.3", "--coils", "7 1/4", "--units", "imperial"];
    let rate = |text: &str| text.lines().next().map(str::to_owned);
    assert_eq!(rate(&run(&imperial, "").success()), rate(&metric));
}

#[test]
fn a_thicker_doubt_of_the_calipers_is_a_greater_doubt_of_the_rate() {
    let doubt = |calipers| with(&["--calipers", calipers, "--json"]).json()["u_rate_n_mm"].as_f64();
    assert!(doubt("0.2") > doubt("0.02"));
}

#[test]
fn figures_of_no_spring_are_refused_in_a_sentence() {
    let wrong = [
        ("", "58.6", "7.5", "--wire: Nothing is typed yet."),
        ("thick", "58.6", "7.5", "--wire: \"thick\" is not a number."),
        ("-9.4", "58.6", "7.5", "Wire diameter: on a shock spring"),
        ("0", "58.6", "7.5", "Wire diameter: on a shock spring"),
        ("0.94", "58.6", "7.5", "Wire diameter: on a shock spring"),
        ("NaN", "58.6", "7.5", "--wire: \"NaN\" is not a number."),
        ("99999999999", "58.6", "7.5", "--wire: \"99999999999\" is too large"),
        ("9.4", "586", "7.5", "Outer diameter: on a shock spring"),
        ("24", "40", "7.5", "The wire is too thick for coils of this width."),
        ("9.4", "58.6", "750", "Coils, ends included: on a shock spring"),
        ("9.4", "58.6", "seven", "--coils: \"seven\" is not a number."),
    ];
    for (wire, outer, coils, why) in wrong {
        let sentence = run(&["wire", "--wire", wire, "--outer", outer, "--coils", coils], "").refusal();
        assert!(sentence.contains(why), "{wire:?} {outer:?} {coils:?}: {sentence}");
    }
    let short = with(&["--free-length", "60"]).refusal();
    assert!(short.contains("The free length is shorter than the coils pressed together."), "{short}");
}

#[test]
fn an_unknown_material_is_a_wrong_use_of_the_command() {
    assert_eq!(with(&["--material", "cheese"]).code, Some(2));
}

#[test]
fn a_rate_no_bike_is_ridden_with_is_questioned() {
    let thick = run(&["wire", "--wire", "12.4", "--outer", "62", "--coils", "7.25"], "").success();
    assert!(thick.contains("Springs for bikes mostly lie between"), "{thick}");
    assert!(!with(&[]).success().contains("mostly lie between"));
}

#[test]
fn every_name_for_scripts_is_told_in_the_manual_and_no_other() {
    let mut written = BTreeSet::new();
    paths(&with(&["--free-length", "150", "--json"]).json(), "", &mut written);
    assert_eq!(written, entered(names::WIRE));
}
