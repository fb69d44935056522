//! How long the things take that a mechanic waits for. `cargo bench --bench speed`; timings are no tests.

mod assessing;
mod frames;
mod keeping;
mod places;
mod program;

use criterion::{criterion_group, criterion_main};

criterion_group!(
    speed,
    assessing::assessing,
    keeping::keeping,
    frames::frames,
    places::places,
    program::program
);
criterion_main!(speed);
