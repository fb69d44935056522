//! Records of format 1, written before the program spoke as mechanics do: they load for ever, whole or as far as they go.
//!
//! The files are frozen to the byte. Not here: what any record must hold to (`records`).

use coilwright::archive::form;
use coilwright::session::{Origin, ReadingSet, SpringNumber, Step, machine};
use coilwright::units::SpringRate;

use super::{FORMAT_1, read};

const BY_HAND: &str = include_str!("format-1-by-hand.ron");

#[test]
fn format_1_loads_for_ever() {
    let record = read(FORMAT_1);
    assert_eq!(record.intake.origin, Origin::Demonstration);
    assert_eq!(record.intake.springs[0].label, SpringRate::lb_per_in(450.0));
    let state = machine::replay(&record).expect("it fits the walk");
    assert_eq!(state.step, Step::Closed);
    assert_eq!(state.on_bike.fitted, Some(SpringNumber(2)));
    let moved: Vec<_> =
        state.sets.iter().flat_map(ReadingSet::counting).map(|reading| reading.distance.as_mm()).collect();
    assert_eq!(moved, [19.5, 20.0, 17.5, 18.0]);
}

#[test]
fn a_record_written_by_hand_loads_like_the_one_the_program_wrote() {
    assert_eq!(read(BY_HAND), read(FORMAT_1));
}

#[test]
fn a_fault_in_an_older_record_keeps_its_line() {
    let error =
        form::read(&FORMAT_1.replacen("moved_mm: 20.0", "moved_mm: 70.0", 1)).expect_err("beyond the stroke");
    let line =
        1 + FORMAT_1.lines().position(|line| line.contains("moved_mm: 20.0")).expect("it stands there");
    assert!(error.to_string().contains(&format!("line {line}, column 9")), "{error}");
    assert_eq!(error.readable_entries(), &read(FORMAT_1).entries[..15]);
}

#[test]
fn a_field_nobody_knew_in_an_older_record_is_kept_apart_from_one_of_today() {
    let text = FORMAT_1.replacen("    opened:", "    customer: Twice([1, 2]),\n    opened:", 1);
    let read = form::read(&text).expect("it loads");
    assert_eq!(read.record.intake.customer.as_typed(), "an invented workshop");
    assert_eq!(read.unknown.names().collect::<Vec<_>>(), ["customer_of_format_1"]);
    assert!(
        form::write(&read.record, &read.unknown).expect("it can be written").contains(": Twice([1, 2]),")
    );
}

#[test]
fn an_older_record_cut_off_anywhere_never_passes_for_a_whole_one() {
    let whole = read(FORMAT_1).entries;
    for cut in (0..FORMAT_1.trim_end().len()).step_by(7) {
        let error = form::read(&FORMAT_1[..cut]).expect_err("it was cut off");
        assert!(whole.starts_with(error.readable_entries()), "cut at {cut}: {error}");
    }
}
