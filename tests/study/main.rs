//! The swap study: how many swaps, how many readings, and how often truly in the band?
//!
//! Virtual bikes with a hidden truth that differs from what the mathematics assumes (`world`) are set up by the
//! program's advice and, beside it on the same bikes, by the trade's rule, the proportional rule and an oracle that
//! sees the truth (`mechanics`). Run with `cargo bench --bench study`; `-- --bikes 5000`, `-- --seed 7` and
//! `-- --doubts FILE` vary it. Not a test: it asserts nothing, it measures.

mod demos;
mod interval;
mod setters;
mod world;

use std::path::PathBuf;

use clap::Parser;
use coilwright::assessment::Doubts;
use coilwright::assets;

use setters::{Outcome, Setter};
use world::Bike;

/// The swap study.
#[derive(Parser)]
struct Options {
    /// Virtual bikes.
    #[arg(long, default_value_t = 4_000)]
    bikes: u64,
    /// Seed of the first bike.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Another table of doubts than the one that ships.
    #[arg(long)]
    doubts: Option<PathBuf>,
    /// Write the demo sessions into this folder instead.
    #[arg(long)]
    demos: Option<PathBuf>,
    /// Handed over by `cargo bench`.
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> anyhow::Result<()> {
    let options = Options::parse();
    if let Some(folder) = &options.demos {
        return demos::write_all(folder);
    }
    let doubts: Doubts = match &options.doubts {
        Some(path) => assets::read_doubts(&std::fs::read_to_string(path)?)?,
        None => *assets::doubts(),
    };
    let begun = std::time::Instant::now();
    let bikes: Vec<Bike> =
        (0..options.bikes).map(|index| Bike::drawn(options.seed * 1_000_000 + index)).collect();
    println!(
        "{} virtual bikes, seed {}; truly in the band = true sag within ±1.5 points of the aim",
        bikes.len(),
        options.seed
    );
    println!("{:<22}{:>7}{:>7}{:>10}{:>10}{:>12}", "", "swaps", "95 %", "readings", "in band", "where able");
    for setter in Setter::ALL {
        let outcomes = spread(&bikes, |bike| setter.set_up(bike, &doubts));
        print_row(setter.name(), &bikes, &outcomes);
    }
    let held = interval::coverage(&bikes, &doubts);
    println!("\nforecast intervals that hold the truth, over {} forecasts:", held.forecasts);
    println!("  50 % intervals {:.1} %, 90 % intervals {:.1} %", held.half, held.ninety);
    println!("  of new springs  {:.1} %, {:.1} %", held.new_half, held.new_ninety);
    println!("\n{:.1} s", begun.elapsed().as_secs_f64());
    Ok(())
}

/// The same work on every bike, over the cores there are.
fn spread<T: Send>(bikes: &[Bike], work: impl Fn(&Bike) -> T + Sync) -> Vec<T> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = bikes.len().div_ceil(cores).max(1);
    std::thread::scope(|scope| {
        let parts: Vec<_> = bikes
            .chunks(share)
            .map(|part| scope.spawn(|| part.iter().map(&work).collect::<Vec<T>>()))
            .collect();
        parts.into_iter().flat_map(|part| part.join().expect("a virtual mechanic panicked")).collect()
    })
}

fn print_row(name: &str, bikes: &[Bike], outcomes: &[Outcome]) {
    let count = outcomes.len() as f64;
    let mean =
        |of: fn(&Outcome) -> usize| outcomes.iter().map(|outcome| of(outcome) as f64).sum::<f64>() / count;
    let mut swaps: Vec<usize> = outcomes.iter().map(|outcome| outcome.swaps).collect();
    swaps.sort_unstable();
    let in_band = outcomes.iter().filter(|outcome| outcome.in_band).count() as f64;
    let able = bikes.iter().zip(outcomes).filter(|(bike, _)| bike.can_be_set_up());
    let able: Vec<bool> = able.map(|(_, outcome)| outcome.in_band).collect();
    let able_in_band = able.iter().filter(|inside| **inside).count() as f64 / able.len() as f64;
    println!(
        "{name:<22}{:>7.2}{:>7}{:>10.1}{:>8.1} %{:>10.1} %",
        mean(|outcome| outcome.swaps),
        swaps[swaps.len() * 95 / 100],
        mean(|outcome| outcome.readings),
        100.0 * in_band / count,
        100.0 * able_in_band,
    );
}
