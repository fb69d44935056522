//! Plausible invented records in any number: the demonstrations with other riders, bikes, dates and springs, broken off at
//! any step.
//!
//! Names are put together from syllables and name nobody; every fiftieth customer has only a number.

use chrono::{DateTime, TimeDelta, Utc};
use coilwright::archive::form::{self, Unknown};
use coilwright::archive::{Archive, Revision, SessionName, seal};
use coilwright::assets;
use coilwright::session::{Record, machine};
use coilwright::text::FreeText;
use coilwright::units::SpringRate;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use std::fs;

const FIRST: [&str; 16] = [
    "Łukasz",
    "Ana",
    "Bjørn",
    "Katarzyna",
    "Tomé",
    "Zoë",
    "Milo",
    "Inés",
    "Jörg",
    "Oda",
    "Piotr",
    "Rui",
    "Şule",
    "Ivo",
    "Maëlle",
    "Nuno",
];
const OPENING: [&str; 20] = [
    "Tol", "Kar", "Ven", "Bra", "Mor", "Lin", "Gra", "Hol", "Sel", "Dor", "Pel", "Fen", "Ost", "Ral", "Wen",
    "Jar", "Nem", "Quil", "Tar", "Uld",
];
const MIDDLE: [&str; 12] = ["a", "e", "i", "o", "ber", "den", "gar", "lo", "mi", "ra", "ti", "ve"];
const END: [&str; 16] = [
    "bin", "dal", "ger", "hoff", "kov", "lin", "man", "nen", "ros", "sen", "ska", "ton", "vik", "war", "yan",
    "zar",
];
const KINDS: [&str; 8] = [
    "enduro bike",
    "trail bike",
    "park bike",
    "all-mountain bike",
    "downhill bike",
    "freeride bike",
    "slalom bike",
    "e-bike",
];
const COLOURS: [&str; 10] =
    ["green", "black", "raw", "red", "blue", "sand", "white", "orange", "purple", "teal"];

/// Puts so many records into the folder, one after another without waiting for the disk: this is no test of writing.
pub(crate) fn fill(archive: &Archive, sessions: u32) {
    let patterns: Vec<Record> =
        assets::DEMONSTRATIONS.iter().map(|one| form::read(one.text).expect("it reads").record).collect();
    let mut random = StdRng::seed_from_u64(2026);
    for number in 0..sessions {
        let record = variation(&patterns[number as usize % patterns.len()], number, &mut random);
        let body = form::write(&record, &Unknown::default()).expect("a writable record");
        let revision = Revision::new(record.entries.len() as u64);
        let name = SessionName::new(&record.opened, number);
        fs::write(archive.record_path(&name), seal::seal(&body, revision)).expect("room on the disk");
    }
}

fn variation(pattern: &Record, number: u32, random: &mut StdRng) -> Record {
    let mut record = pattern.clone();
    record.intake.customer = FreeText::new(&customer(number, random));
    let (kind, colour) = (one_of(&KINDS, random), one_of(&COLOURS, random));
    record.intake.bike_name = FreeText::new(&format!("{kind}, {colour}"));
    let stiffer = 25.0 * f64::from(random.random_range(-3..=3));
    for spring in &mut record.intake.springs {
        spring.label = SpringRate::lb_per_in(spring.label.as_lb_per_in() + stiffer);
    }
    put_at(&mut record, DateTime::<Utc>::default() + TimeDelta::minutes(28_500_000 + 15 * i64::from(number)));
    if random.random_bool(0.3) {
        record.entries.truncate(random.random_range(1..record.entries.len()));
    }
    assert!(machine::replay(&record).is_ok(), "a variation of a legal session is legal");
    record
}

/// Moves the whole session to another day.
fn put_at(record: &mut Record, opened: DateTime<Utc>) {
    let by = opened.signed_duration_since(record.opened);
    record.opened += by;
    for entry in &mut record.entries {
        entry.at += by;
    }
}

fn customer(number: u32, random: &mut StdRng) -> String {
    if number.is_multiple_of(50) {
        return format!("job {number:06}");
    }
    let parts = [one_of(&OPENING, random), one_of(&MIDDLE, random), one_of(&END, random)];
    format!("{} {}", one_of(&FIRST, random), parts.concat())
}

fn one_of<'a>(choices: &[&'a str], random: &mut StdRng) -> &'a str {
    choices[random.random_range(0..choices.len())]
}
