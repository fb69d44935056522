//! The text form of a record: every format ever written loads for ever, what is written reads back the same, and no
//! damage whatever leads to a panic or to another record taken for this one.
//!
//! The bike and the workshop are invented. Not here: files, check values and power cuts.

use chrono::{DateTime, TimeDelta};
use coilwright::archive::form::{self, FormError, RecordFault, Unknown};
use coilwright::session::{
    Caution, Check, Decision, Deed, Detail, Entry, Intake, KerbReturn, Origin, ReadingNumber, ReadingSet,
    Record, Refusal, SpringNumber, TickAnswer, machine,
};
use coilwright::text::FreeText;
use coilwright::units::{Length, Turns};
use proptest::prelude::*;

use crate::soak;
use crate::walk::sample;

mod marked;
mod named;
mod older;

const FORMAT_1: &str = include_str!("records/format-1.ron");
const FORMAT_2: &str = include_str!("records/format-2.ron");

fn read(text: &str) -> Record {
    form::read(text).unwrap_or_else(|error| panic!("{error}\n{text}")).record
}

fn write(record: &Record) -> String {
    form::write(record, &Unknown::default()).expect("it can be written")
}

/// What is said of a text that is no whole record.
fn said(text: &str) -> String {
    form::read(text).expect_err("it is damaged").to_string()
}

/// A record that holds every kind of detail and every kind of deed; the walk does not ask for that order.
fn every_deed() -> Record {
    let mut record = sample::entered();
    record.intake = sample::full_intake();
    record.intake.origin = Origin::Demonstration;
    let text = FreeText::new;
    let one_turn = Turns::of(1.0);
    let mut deeds = vec![
        Deed::IntakeDone,
        Deed::CautionSeen(Caution::BikeSteady),
        Deed::Ticked(Check::BikeSupported, TickAnswer::Done),
        Deed::Skipped { because: text("tested on the way in") },
        Deed::Noted(text("the shock has been serviced")),
        Deed::TakenBack,
        Deed::StartedAgain,
        Deed::TrialsOpened { preload_turns: Turns::of(0.5) },
        Deed::Unloaded { preload_turns: Turns::of(0.25) },
        Deed::IndicatorSeated,
        Deed::Read { reading: Length::mm(15.5) },
        Deed::Trial { reading: Length::mm(16.0) },
        Deed::EnoughReadings,
        Deed::Voided { reading: ReadingNumber(1), because: text("it bounced") },
        Deed::PreloadSet { preload_turns: one_turn },
        Deed::Swapped { spring: SpringNumber(2), preload_turns: Turns::ZERO },
        Deed::KerbDropped(KerbReturn::BouncesOn),
        Deed::from(sample::report()),
        Deed::AsFound(Box::new(sample::sheet())),
        Deed::AsLeft(Box::default()),
        Deed::RideTold(sample::ride()),
        Deed::RideTold(coilwright::session::RideTold::default()),
        Deed::Closed,
    ];
    let decisions = [
        Decision::Keep,
        Decision::ReadAgain,
        Decision::AnotherRound,
        Decision::SetPreload { to: one_turn },
        Decision::Swap { to: SpringNumber(3) },
    ];
    deeds.extend(decisions.map(Deed::Decided));
    deeds.extend(sample::details().into_iter().map(Deed::Entered));
    deeds.extend(
        [
            Detail::WheelLoad(None),
            Detail::BodyDiameter(None),
            Detail::Wheelbase(None),
            Detail::RearCentre(None),
            Detail::SpringOnArrival(None),
        ]
        .map(Deed::Entered),
    );
    let entry = |(minute, deed)| Entry::new(sample::at(minute), deed);
    record.entries = deeds.into_iter().enumerate().map(entry).collect();
    record
}

#[test]
fn what_the_program_writes_today_is_the_frozen_format_2() {
    // A first line of comment is allowed in a file and is not written back.
    let (_comment, frozen) = FORMAT_2.split_once('\n').expect("a comment stands first");
    assert_eq!(write(&read(FORMAT_2)), frozen);
    assert_eq!(write(&read(FORMAT_1)), frozen, "an older record is written in the words of today");
}

#[test]
fn every_detail_and_every_deed_has_a_name_in_the_file() {
    let record = every_deed();
    let text = write(&record);
    // The order of these entries is not one the walk allows. With a fault in the intake nothing is walked, and all that
    // stands in the file is handed over.
    let error = form::read(&text.replace("rider_kg: 82.0", "rider_kg: 820")).expect_err("too heavy");
    assert_eq!(error.readable_entries(), record.entries);
    let FormError::Damaged(damage) = error else { panic!("{error}") };
    let readable = damage.readable.expect("all but the rider");
    let intake = Intake { rider: readable.intake.rider, ..record.intake };
    assert_eq!(readable.intake, intake);
    assert_eq!(readable.intake.rider, None);
}

#[test]
fn an_entry_takes_one_line_and_figures_stand_as_people_write_them() {
    let text = write(&every_deed());
    for line in [
        "    format: 2,",
        "    rider_kg: 82.0,",
        "    travel_mm: 150.0,",
        "    stroke_mm: 62.5,",
        "    target_percent: 30.0,",
        "    tolerance_percent: 1.5,",
        "        (number: 1, rate_lb_in: 450.0, stroke_mm: 65.0),",
        "        (number: 3, rate_lb_in: 400.0, measured: (rate_n_mm: 71.3, u_rate_lb_in: 4.5), stroke_mm: 65.0),",
        "        (at: \"2026-11-25T10:10:00+01:00\", did: Read(reading_mm: 15.5)),",
    ] {
        assert!(text.lines().any(|written| written == line), "{line}\nnot in\n{text}");
    }
    let lines_of_entries = text.lines().filter(|line| line.trim_start().starts_with("(at: ")).count();
    assert_eq!(lines_of_entries, every_deed().entries.len());
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_change_nothing() {
    let text = format!("\u{feff}{}", FORMAT_2.replace('\n', "\r\n"));
    assert_eq!(read(&text), read(FORMAT_2));
}

#[test]
fn a_trailing_check_comment_changes_nothing() {
    assert_eq!(read(&format!("{FORMAT_2}// rev 12 crc32 1A2B3C4D")), read(FORMAT_2));
}

#[test]
fn unknown_fields_survive_a_save() {
    let text = FORMAT_2.replacen(
        "    opened:",
        "    weather: Rain(mm: [1, 2]), // outside\n    r#tyre-rear: \"a, b\" /* why */,\n    opened:",
        1,
    );
    let read = form::read(&text).expect("it loads");
    assert_eq!(read.unknown.names().collect::<Vec<_>>(), ["weather", "tyre-rear"]);
    let saved = form::write(&read.record, &read.unknown).expect("it can be written");
    assert!(saved.contains("    weather: Rain(mm: [1, 2]),\n    r#tyre-rear: \"a, b\",\n"), "{saved}");
    assert_eq!(form::read(&saved).expect("it loads again"), read);
}

#[test]
fn a_newer_format_is_told_by_its_number_whatever_else_it_holds() {
    let newer = form::read("(format: 7, entries: {\"as\": [nobody, knows]}, !").expect_err("it is newer");
    assert_eq!(newer, FormError::Newer { found: 7, known: form::FORMAT });
}

#[test]
fn something_else_is_not_called_a_damaged_record() {
    for text in ["", "hello", "{\"json\": 1}", "(name: \"a settings file\")", "\u{0}\u{1}"] {
        assert_eq!(form::read(text), Err(FormError::NotARecord), "{text:?}");
    }
}

#[test]
fn a_record_without_its_number_its_opening_or_its_entries_is_damaged() {
    for field in ["format", "opened", "entries"] {
        let said = said(&FORMAT_2.replacen(&format!("    {field}: "), &format!("    {field}s: "), 1));
        assert!(said.contains(&format!("the field {field} is missing")), "{said}");
    }
    let said = said(&FORMAT_2.replacen("format: 2", "format: 0", 1));
    assert!(said.contains("damaged at line 3, column 13: there never was a format 0"), "{said}");
}

#[test]
fn a_decimal_comma_is_explained() {
    for (point, comma) in [("rider_kg: 82.0", "rider_kg: 82,5"), ("reading_mm: 19.5", "reading_mm: 19,5")] {
        let said = said(&FORMAT_2.replacen(point, comma, 1));
        assert!(said.contains("write 15.5 with a point, not 15,5"), "{said}");
    }
}

#[test]
fn what_is_no_finite_number_is_refused_with_its_place() {
    for figure in ["NaN", "inf", "-inf", "1e400"] {
        let said = said(&FORMAT_2.replacen("rider_kg: 82.0", &format!("rider_kg: {figure}"), 1));
        assert!(said.contains("damaged at line 8, column 15: this is not a finite number"), "{said}");
    }
}

#[test]
fn an_impossible_figure_names_its_field_and_line() {
    let error = form::read(&FORMAT_2.replacen("rider_kg: 82.0", "rider_kg: 820", 1)).expect_err("too heavy");
    let FormError::Damaged(damage) = &error else { panic!("{error}") };
    assert!(matches!(
        damage.fault,
        RecordFault::Impossible { field: "rider_kg", refusal: Refusal::Outside { .. } }
    ));
    assert_eq!((damage.place.line, damage.place.column), (8, 15));
    assert_eq!(error.readable_entries().len(), read(FORMAT_2).entries.len());
}

#[test]
fn an_entry_that_does_not_fit_names_its_number_time_and_line() {
    let error = form::read(&FORMAT_2.replacen("reading_mm: 20.0", "reading_mm: 70.0", 1))
        .expect_err("beyond the stroke");
    let said = error.to_string();
    let line =
        1 + FORMAT_2.lines().position(|line| line.contains("reading_mm: 20.0")).expect("it stands there");
    assert!(said.starts_with("entry 16 of this record"), "{said}");
    assert!(said.contains(&format!("line {line}, column 9")), "{said}");
    assert!(said.contains("2026-11-25 10:16:00"), "{said}");
    assert_eq!(error.readable_entries().len(), 15);
}

#[test]
fn an_unknown_deed_is_damage_with_its_line_and_what_stands_before_it_can_be_read() {
    let error =
        form::read(&FORMAT_2.replacen("did: IndicatorSeated", "did: Levitated", 1)).expect_err("unheard of");
    let line =
        1 + FORMAT_2.lines().position(|line| line.contains("IndicatorSeated")).expect("it stands there");
    let said = error.to_string();
    assert!(said.contains(&format!("line {line}, column 48: Levitated is not known here")), "{said}");
    assert_eq!(error.readable_entries(), &read(FORMAT_2).entries[..11]);
}

#[test]
fn a_field_told_twice_or_in_two_units_is_damage() {
    let twice = said(&FORMAT_2.replacen("bike_kg", "rider_kg", 1));
    assert!(twice.contains("the field rider_kg is here twice"), "{twice}");
    let two_units = said(&FORMAT_2.replacen("rate_lb_in: 450.0", "rate_lb_in: 450.0, rate_n_mm: 78.0", 1));
    assert!(two_units.contains("a spring needs its rate once"), "{two_units}");
    let half_a_target = said(&FORMAT_2.replacen("    tolerance_percent: 1.5,\n", "", 1));
    assert!(half_a_target.contains("the target needs its tolerance once"), "{half_a_target}");
}

#[test]
fn a_misspelt_field_inside_a_spring_is_damage_and_not_dropped() {
    let said = said(&FORMAT_2.replacen("stroke_mm: 65.0", "stroke: 65.0", 1));
    assert!(said.contains("stroke is not known here; known are number"), "{said}");
}

#[test]
fn brackets_nested_without_end_are_damage() {
    let deep = format!("(format: 2, deep: {}", "[".repeat(500_000));
    assert!(said(&deep).contains("nested too deeply"));
}

#[test]
fn more_entries_than_a_record_holds_are_damage() {
    let entry = "(at: \"2026-11-25T10:00:00+01:00\", did: Noted(\"x\")),";
    let text =
        format!("(format: 2, opened: \"2026-11-25T10:00:00+01:00\", entries: [{}])", entry.repeat(4_001));
    assert!(said(&text).starts_with("entry 4001 of this record"));
}

#[test]
fn a_text_longer_than_a_record_keeps_is_damage_and_not_cut() {
    let said = said(&FORMAT_2.replacen("an invented workshop", &"x".repeat(2_001), 1));
    assert!(said.contains("this text has 2001 characters and a record keeps 2000"), "{said}");
}

#[test]
fn a_year_no_file_can_hold_is_told_before_anything_is_written() {
    let year_12000 = chrono::DateTime::from_timestamp(316_516_204_800, 0).expect("a far day").fixed_offset();
    let error = form::write(&Record::new(year_12000), &Unknown::default()).expect_err("five digits");
    assert!(error.to_string().contains("year"), "{error}");
}

#[test]
fn a_record_cut_off_anywhere_never_passes_for_a_whole_one() {
    let end = FORMAT_2.trim_end().len();
    let whole = read(FORMAT_2).entries;
    for cut in (0..end).filter(|cut| FORMAT_2.is_char_boundary(*cut)) {
        let error = form::read(&FORMAT_2[..cut]).expect_err("it was cut off");
        assert!(whole.starts_with(error.readable_entries()), "cut at {cut}: {error}");
    }
}

#[test]
fn no_flipped_bit_leads_to_a_panic() {
    let small = small();
    for index in 0..small.len() {
        for bit in 0..8 {
            let mut bytes = small.clone().into_bytes();
            bytes[index] ^= 1 << bit;
            let Ok(text) = String::from_utf8(bytes) else { continue };
            if let Ok(read) = form::read(&text) {
                machine::replay(&read.record).expect("what is read fits the walk");
                assert!(form::write(&read.record, &read.unknown).is_ok());
            }
        }
    }
}

#[test]
fn no_byte_replaced_by_one_that_means_something_leads_to_a_panic() {
    let small = small();
    for index in 0..small.len() {
        for &byte in b"()[]{},:\"'\\/*#._+-0x1eN \n\0" {
            let mut bytes = small.clone().into_bytes();
            bytes[index] = byte;
            let Ok(text) = String::from_utf8(bytes) else { continue };
            if let Err(error) = form::read(&text) {
                assert!(!error.to_string().is_empty());
            }
        }
    }
}

/// The clock of a laptop is set right in the middle of a session, or its battery was flat and it is 1970 again.
#[test]
fn a_clock_set_back_changes_neither_the_order_of_the_entries_nor_what_they_come_to() {
    let record = read(FORMAT_2);
    let mut set_back = record.clone();
    for (number, entry) in (0..).zip(&mut set_back.entries) {
        entry.at =
            if number < 20 { entry.at - TimeDelta::hours(number) } else { DateTime::UNIX_EPOCH.into() };
    }
    let again = read(&write(&set_back));
    assert_eq!(again, set_back);
    let (before, after) = (machine::replay(&record).unwrap(), machine::replay(&again).unwrap());
    assert_eq!((before.step, before.entered, before.on_bike), (after.step, after.entered, after.on_bike));
    let moved = |sets: &[ReadingSet]| -> Vec<_> {
        sets.iter().flat_map(ReadingSet::counting).map(|reading| reading.distance).collect()
    };
    assert_eq!(moved(&before.sets), moved(&after.sets));
}

/// A record of a few hundred bytes.
fn small() -> String {
    let mut record = sample::entered();
    record.intake.notes = FreeText::new("ü");
    record.intake.springs.truncate(3);
    sample::does(&mut record, Deed::IntakeDone);
    sample::does(&mut record, Deed::CautionSeen(Caution::BikeSteady));
    sample::does(&mut record, Deed::Ticked(Check::BikeSupported, TickAnswer::Done));
    write(&record)
}

proptest! {
    #![proptest_config(soak::cases(256))]

    #[test]
    fn what_is_written_reads_back_the_same(record in sample::record()) {
        let text = write(&record);
        prop_assert_eq!(read(&text), record.clone(), "{}", text);
        prop_assert_eq!(write(&read(&text)), text);
    }

    #[test]
    fn no_text_whatever_leads_to_a_panic(text in "\\(format: [12],[ -~\\n]{0,200}") {
        let _ = form::read(&text);
    }
}
