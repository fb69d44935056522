//! The parts of a tally: each a heading, a table and what is to be said below it.
//!
//! Not here: where a line breaks and how wide a column is.

use super::{doubt_factor, month, of_all, on_average};
use crate::assessment::tally::{Deviations, ForecastScore, KeptRate, Tally, TravelRates};
use crate::units::{Minutes, Share, Show, UnitSet};

const FORECASTS: &str = "First reading compared with its forecast, in % of the shock stroke";
const FORECAST_COLUMNS: [&str; 5] = ["", "readings", "on average", "spread", "inside 90 %"];
const FORECAST_ROWS: [&str; 2] = ["Before any reading", "After a swap"];
const DEEPER: &str = "Above 0, readings were deeper than their forecast.";
const FIRST_GUESS: &str = "Spring rate calculated before any reading, compared with the spring that stayed";
const GUESS_COLUMNS: [&str; 4] = ["", "bikes", "on average", "spread"];
const GUESS_ROW: &str = "First guess";
const STIFFER: &str = "Above 0, the first guess was stiffer than the spring that stayed.";
const WORK: &str = "Work by month";
const WORK_COLUMNS: [&str; 6] = ["month", "sessions", "on target", "swaps", "sits", "minutes"];
const ALL_MONTHS: &str = "all";
const MINUTES: &str = "Minutes are the time between steps; pauses over half an hour are left out.";
const BY_TRAVEL: &str = "Springs that stayed, by rear wheel travel to 10 mm (how many bikes)";
const RATES: &str = "Rates to stock: springs that stayed, to the nearest 25 lb/in";
const RATE_COLUMNS: [&str; 3] = ["rate", "stayed", "fitted here"];
/// Where there is no figure.
const NONE: &str = "-";

/// A part of a tally.
#[derive(Debug, Clone, PartialEq)]
pub struct TallyPart {
    /// What it is of.
    pub heading: &'static str,
    /// What its columns are called, that of the names of the rows first; none where a row says it all in its words.
    pub columns: &'static [&'static str],
    /// The rows.
    pub rows: Vec<TallyRow>,
    /// What is to be said below; an empty line parts two matters.
    pub below: Vec<String>,
}

/// A row of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct TallyRow {
    /// What it is of.
    pub name: String,
    /// Its cells behind the name.
    pub cells: Vec<String>,
    /// What a bar shows of it, beside the longest.
    pub bar: Option<BarLength>,
}

/// How long a bar is, beside the longest one of its part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BarLength {
    /// So many.
    pub of: usize,
    /// As many as the longest shows.
    pub most: usize,
}

impl BarLength {
    /// The bar in so many cells for the longest; where all are shorter than that, a cell each.
    pub fn cells(self, longest: usize) -> usize {
        (self.of * longest).div_ceil(self.most.max(longest))
    }
}

impl TallyRow {
    fn plain(name: impl Into<String>, cells: impl Into<Vec<String>>) -> Self {
        Self { name: name.into(), cells: cells.into(), bar: None }
    }
}

/// All parts, in the units of the set.
pub fn parts(tally: &Tally, units: UnitSet) -> Vec<TallyPart> {
    vec![
        forecasts(tally, units),
        guess(tally, units),
        work(tally),
        travels(&tally.by_travel, units),
        rates(&tally.rates, units),
    ]
}

fn deviations(of: Deviations, units: UnitSet) -> [String; 3] {
    let share = |share: Option<Share>| share.map_or_else(|| NONE.to_owned(), |share| units.show(share));
    [of.count.to_string(), share(of.bias), share(of.spread)]
}

fn forecasts(tally: &Tally, units: UnitSet) -> TallyPart {
    let score = |name: &str, score: ForecastScore| {
        let held = of_all(score.held, score.off.count);
        TallyRow::plain(name, [&deviations(score.off, units)[..], &[held]].concat())
    };
    let [before, after] = FORECAST_ROWS;
    let mut below = vec![DEEPER.to_owned(), String::new()];
    below.extend(doubt_factor(tally.doubt_factor));
    let rows = vec![score(before, tally.before_any), score(after, tally.after_swap)];
    TallyPart { heading: FORECASTS, columns: &FORECAST_COLUMNS, rows, below }
}

fn guess(tally: &Tally, units: UnitSet) -> TallyPart {
    TallyPart {
        heading: FIRST_GUESS,
        columns: &GUESS_COLUMNS,
        rows: vec![TallyRow::plain(GUESS_ROW, deviations(tally.first_guess, units))],
        below: vec![STIFFER.to_owned()],
    }
}

fn work(tally: &Tally) -> TallyPart {
    let row = |name: String, counts: [usize; 4], minutes: Minutes| {
        let mut cells: Vec<String> = counts.iter().map(usize::to_string).collect();
        cells.push(format!("{:.0}", minutes.value()));
        TallyRow::plain(name, cells)
    };
    let (mut rows, mut all, mut minutes) = (Vec::new(), [0; 4], Minutes::ZERO);
    for of_month in &tally.months {
        let counts = [of_month.sessions, of_month.on_target, of_month.swaps, of_month.sits];
        rows.push(row(month(of_month), counts, of_month.minutes));
        all.iter_mut().zip(counts).for_each(|(all, count)| *all += count);
        minutes += of_month.minutes;
    }
    rows.push(row(ALL_MONTHS.to_owned(), all, minutes));
    let below = vec![on_average(all[0], all[2], all[3], minutes.value()), MINUTES.to_owned()];
    TallyPart { heading: WORK, columns: &WORK_COLUMNS, rows, below }
}

fn travels(travels: &[TravelRates], units: UnitSet) -> TallyPart {
    let rate = |rate: &KeptRate| format!("{} ({})", units.show(rate.rate), rate.kept);
    let row = |travel: &TravelRates| {
        let rates: Vec<String> = travel.rates.iter().map(rate).collect();
        TallyRow::plain(units.show(travel.travel), [rates.join(", ")])
    };
    TallyPart { heading: BY_TRAVEL, columns: &[], rows: travels.iter().map(row).collect(), below: Vec::new() }
}

fn rates(rates: &[KeptRate], units: UnitSet) -> TallyPart {
    let most = rates.iter().map(|rate| rate.kept).max().unwrap_or(1);
    let row = |rate: &KeptRate| {
        let cells = [rate.kept.to_string(), rate.fitted_here.to_string()];
        let bar = Some(BarLength { of: rate.kept, most });
        TallyRow { bar, ..TallyRow::plain(rate.rate.written(units).to_string(), cells) }
    };
    TallyPart {
        heading: RATES,
        columns: &RATE_COLUMNS,
        rows: rates.iter().map(row).collect(),
        below: Vec::new(),
    }
}
