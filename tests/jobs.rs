//! Whole jobs: what was told and done, and what it must lead to, in one file each, so that a mechanic could write one.
//!
//! A file in `jobs/` is a record with one field more, `expect`: a place in the JSON assessment, and what stands there.
//! Figures agree to a twentieth in their own unit, which is finer than any ruler at the bike. Sag as a share of stroke
//! and what the trade does about it are common practice, no source.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use coilwright::archive::form;
use coilwright::assessment::assess;
use coilwright::assets;
use coilwright::report::{self, Subject};
use coilwright::session::machine;
use serde::Deserialize;
use serde_json::Value;

/// What a job must lead to, by its place in the JSON.
#[derive(Deserialize)]
struct Job {
    expect: BTreeMap<String, Expected>,
}

#[derive(Deserialize)]
enum Expected {
    Says(String),
    Is(f64),
    Contains(String),
    Nothing,
}

fn assessed(text: &str) -> Value {
    let record = form::read(text).unwrap_or_else(|error| panic!("{error}")).record;
    let state = machine::replay(&record).expect("a legal walk");
    let setup = state.setup.as_ref().expect("a complete intake");
    let assessment = assess(setup, &state, assets::doubts());
    let subject =
        Subject { setup, state: &state, assessment: &assessment, seal: coilwright::archive::Seal::None };
    serde_json::from_str(&report::as_json(&subject).expect("JSON")).expect("JSON")
}

fn holds(expected: &Expected, found: &Value) -> bool {
    match expected {
        Expected::Says(text) => found.as_str() == Some(text),
        Expected::Contains(text) => found.as_str().is_some_and(|found| found.contains(text.as_str())),
        Expected::Is(figure) => found.as_f64().is_some_and(|found| (found - figure).abs() <= 0.05),
        Expected::Nothing => found.is_null(),
    }
}

#[test]
fn every_job_leads_to_what_it_expects() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/jobs");
    let mut jobs = 0;
    for entry in fs::read_dir(folder).expect("the jobs") {
        let path = entry.expect("a job").path();
        let text = fs::read_to_string(&path).expect("text");
        let options =
            ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let job: Job = options.from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        assert!(!job.expect.is_empty(), "{} expects nothing", path.display());
        let found = assessed(&text);
        for (place, expected) in &job.expect {
            let there = found.pointer(place).unwrap_or_else(|| panic!("{}: no {place}", path.display()));
            assert!(holds(expected, there), "{}: {place} is {there}", path.display());
        }
        jobs += 1;
    }
    assert!(jobs >= 7, "only {jobs} jobs were found");
}
