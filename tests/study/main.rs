//! The study: what becomes of a bike whose mechanic presses Enter?
//!
//! Virtual bikes of several kinds (`kind`), each with a hidden truth that the program's table of doubts does not hold, are
//! set up by what Enter does (`enter`) and, beside it, by two rules of thumb and an oracle (`setters`), each read in both
//! ways (`stand`). Run with `cargo bench --bench study`; `-- --bikes 600`, `--seed 7`, `--kind dry`, `--markdown` and
//! `--doubts FILE` vary it. Not a test: it asserts nothing, it measures.

mod demos;
mod enter;
mod kind;
mod setters;
mod stand;
mod table;
mod world;

use std::path::PathBuf;

use clap::Parser;
use coilwright::assessment::Doubts;
use coilwright::assets;

use coilwright::session::Indicator;
use enter::Held;
use kind::Kind;
use setters::{by_fifties, by_rule, in_proportion, oracle};
use stand::BOTH;
use table::{Chapter, HEADING, MARKDOWN_HEADING, Tally};
use world::Bike;

/// The study.
#[derive(Parser)]
struct Options {
    /// Virtual bikes of each kind.
    #[arg(long, default_value_t = 600)]
    bikes: u64,
    /// Seed of the first bike.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Only kinds whose name begins so.
    #[arg(long, default_value = "")]
    kind: String,
    /// The table of the README instead.
    #[arg(long)]
    markdown: bool,
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
    println!("{}", if options.markdown { MARKDOWN_HEADING } else { HEADING });
    for kind in Kind::ALL.into_iter().filter(|kind| kind.name().starts_with(&options.kind)) {
        let seeds = (0..options.bikes).map(|index| options.seed * 1_000_000 + index);
        let bikes: Vec<Bike> = seeds.map(|seed| Bike::drawn(kind, seed)).collect();
        for indicator in BOTH {
            let chapter = chapter(kind, indicator, &bikes, &doubts);
            if options.markdown {
                println!("{}", chapter.markdown());
            } else {
                chapter.print();
            }
        }
    }
    Ok(())
}

fn chapter(kind: Kind, indicator: Indicator, bikes: &[Bike], doubts: &Doubts) -> Chapter {
    let able = spread(bikes, Bike::can_be_set_up);
    let (outcomes, held): (Vec<_>, Vec<Held>) =
        spread(bikes, |bike| enter::walk(bike, indicator, doubts)).into_iter().unzip();
    let tally = |outcomes: Vec<_>| Tally::of(&outcomes, &able);
    let (fitted, others): (Vec<_>, Vec<_>) = held.into_iter().map(|held| (held.fitted, held.others)).unzip();
    Chapter {
        kind,
        indicator,
        able: table::held_in_percent(&able),
        coilwright: tally(outcomes),
        by_fifties: tally(spread(bikes, |bike| by_rule(bike, indicator, by_fifties))),
        in_proportion: tally(spread(bikes, |bike| by_rule(bike, indicator, in_proportion))),
        oracle: tally(spread(bikes, oracle)),
        held: Held { fitted: fitted.concat(), others: others.concat() },
    }
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
