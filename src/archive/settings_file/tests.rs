//! Settings written and read, and every fault with its line.

use super::*;

fn chosen() -> Settings {
    let mut settings = Settings {
        units: UnitSet::Metric,
        ruler: Ruler::new(Length::mm(1.0)).expect("a ruler"),
        ink: Some(crate::settings::Ink::HighContrast),
        glyphs: Some(crate::settings::Glyphs::Ascii),
        mouse: crate::settings::Mouse::Program,
        springs: StartingSprings::Row(RateRow::USUAL),
        paper: crate::settings::Paper {
            shop: FreeText::new("Invented \"Coil\" Workshop"),
            printer: FreeText::new("lp -o fit"),
            ..Default::default()
        },
        ..Settings::default()
    };
    let target = Target { sag: Share::percent(27.5), tolerance: Share::percent(2.0) };
    settings
        .target_ranges
        .add(TargetRange::new("park, \"big\": days", target).expect("possible"))
        .expect("room");
    settings
}

fn faults(text: &str) -> Vec<(usize, String)> {
    let faults = read(text).expect_err("it has faults");
    faults.into_iter().map(|fault| (fault.line, fault.reason)).collect()
}

#[test]
fn settings_are_read_as_they_were_written() {
    for settings in [Settings::default(), chosen()] {
        let text = write(&settings).expect("it can be written");
        assert_eq!(read(&text).as_ref(), Ok(&settings), "{text}");
    }
}

#[test]
fn the_shortest_file_is_the_defaults() {
    assert_eq!(read("(format: 1)"), Ok(Settings::default()));
    assert_eq!(
        read("// by hand\n(format: 1, aims: [])").map(|read| read.target_ranges),
        Ok(TargetRanges::none())
    );
}

#[test]
fn the_example_of_the_readme_is_the_defaults() {
    let readme = include_str!("../../../README.md");
    let settings = readme.split("## Settings").nth(1).expect("a section of the settings");
    let example = settings.split("```ron\n").nth(1).and_then(|rest| rest.split("```").next());
    assert_eq!(read(example.expect("an example")), Ok(Settings::default()));
}

#[test]
fn every_fault_is_told_with_its_line() {
    let text = "(\n  format: 1,\n  units: Inches,\n  ruler_mm: 0.0,\n  colour: Blue,\n  springs: Row(from_lb_in: 350, \
                to_lb_in: 600, step_lb_in: 40),\n  aims: [\n    (name: \"30\", sag_percent: 30, half_width_percent: 1.5),\n    \
                (name: \"deep\", sag_percent: 90, half_width_percent: 1.5),\n    (name: \"lively\", sag_percent: 25),\n  ],\n)";
    let faults = faults(text);
    let lines: Vec<usize> = faults.iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [3, 4, 5, 6, 8, 9, 10], "{faults:?}");
    assert!(
        faults[0].1.starts_with("Inches is not known here; known are Trade, Imperial, Metric"),
        "{faults:?}"
    );
    assert!(faults[2].1.starts_with("colour is not known here; known are format, units"), "{faults:?}");
}

#[test]
fn what_is_broken_is_told_beside_the_faults_before_it() {
    let faults = faults("(\n  format: 1,\n  ruler_mm: 900.0,\n  mouse: On\n  theme: Dark,\n)");
    assert_eq!(faults.iter().map(|(line, _)| *line).collect::<Vec<_>>(), [3, 5], "{faults:?}");
}

#[test]
fn a_figure_that_is_none_is_a_fault() {
    let text = "(format: 1,\n ruler_mm: NaN,\n aims: [\n (name: \"a\", sag_percent: inf, half_width_percent: 1)],\n \
                springs: Row(from_lb_in: NaN, to_lb_in: 600, step_lb_in: 50))";
    assert_eq!(faults(text).iter().map(|(line, _)| *line).collect::<Vec<_>>(), [2, 4, 5]);
}

#[test]
fn the_records_folder_stays_in_the_file_and_is_named_whole() {
    let settings = read("(format: 1, records: \"~/workshop, old\")").expect("it reads");
    assert_eq!(settings.records.as_typed(), "~/workshop, old");
    let written = write(&settings).expect("it can be written");
    assert_eq!(read(&written).as_ref(), Ok(&settings), "{written}");
    assert!(!write(&Settings::default()).expect("it can be written").contains("records"));
    assert!(faults("(format: 1,\n records: \"workshop\")")[0].1.contains("whole path"));
}

#[test]
fn a_field_given_twice_is_a_fault() {
    assert_eq!(faults("(format: 1,\n mouse: On,\n mouse: Off)")[0].0, 3);
}

#[test]
fn a_newer_format_is_refused_whatever_else_stands_in_it() {
    let faults = faults("(format: 2, wheels: [29, 27.5])");
    assert!(faults.len() == 1 && faults[0].1.contains("in format 2"), "{faults:?}");
}

#[test]
fn what_is_no_settings_file_at_all_is_refused() {
    for text in ["", "units: Trade", "(units: Trade)", "\u{1b}[2J", "[settings]\nunits = 1"] {
        let faults = faults(text);
        assert!(faults.iter().all(|(_, reason)| !reason.contains('\u{1b}')), "{faults:?}");
    }
}
