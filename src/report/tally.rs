//! What the finished sessions of a shop say together, as tables for a person and one object for a script.
//!
//! Not here: the counting (`assessment::tally`), the words (`phrase::tally`) and which sessions (`app`).

mod json;

pub use json::tally_as_json;

use crate::assessment::tally::{Deviations, ForecastScore, KeptRate, Tally};
use crate::phrase::tally as words;
use crate::units::{Minutes, Share, Show, UnitSet};

/// Sessions that are not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct NotCounted {
    /// Not finished.
    pub open: usize,
    /// Invented.
    pub demonstrations: usize,
}

/// Cells of the first column.
const FIRST: usize = 20;
/// Cells of every other one.
const OTHERS: usize = 12;
/// Cells of the longest bar.
const LONGEST_BAR: usize = 24;
/// Where there is no figure.
const NONE: &str = "-";

/// All of it as text, in the units of the set; ends with a line break.
pub fn tally_as_text(tally: &Tally, not_counted: NotCounted, units: UnitSet) -> String {
    let left_out = words::not_counted(not_counted.open, not_counted.demonstrations);
    if tally.sessions == 0 {
        let lines = [Some(words::NOTHING_YET.to_owned()), left_out];
        return lines.into_iter().flatten().map(|line| line + "\n").collect();
    }
    let head = std::iter::once(words::heading(tally)).chain(left_out).collect();
    let parts = [
        head,
        forecasts(tally, units),
        guess(tally, units),
        work(tally),
        travels(tally, units),
        rates(tally, units),
    ];
    parts.map(|lines| lines.join("\n") + "\n").join("\n")
}

fn row(first: &str, others: &[String]) -> String {
    others.iter().fold(format!("{first:<FIRST$}"), |row, cell| row + &format!("{cell:>OTHERS$}"))
}

fn owned<const COUNT: usize>(names: [&str; COUNT]) -> Vec<String> {
    names.map(str::to_owned).to_vec()
}

fn deviations(of: Deviations, units: UnitSet) -> [String; 3] {
    let share = |share: Option<Share>| share.map_or_else(|| NONE.to_owned(), |share| units.show(share));
    [of.count.to_string(), share(of.bias), share(of.spread)]
}

fn forecasts(tally: &Tally, units: UnitSet) -> Vec<String> {
    let score = |name: &str, score: ForecastScore| {
        let held = words::of_all(score.held, score.off.count);
        row(name, &[&deviations(score.off, units)[..], &[held]].concat())
    };
    let [before, after] = words::FORECAST_ROWS;
    let mut lines = vec![
        words::FORECASTS.to_owned(),
        row("", &owned(words::FORECAST_COLUMNS)),
        score(before, tally.before_any),
        score(after, tally.after_swap),
        words::DEEPER.to_owned(),
        String::new(),
    ];
    lines.extend(words::doubt_factor(tally.doubt_factor));
    lines
}

fn guess(tally: &Tally, units: UnitSet) -> Vec<String> {
    vec![
        words::FIRST_GUESS.to_owned(),
        row("", &owned(words::GUESS_COLUMNS)),
        row(words::GUESS_ROW, &deviations(tally.first_guess, units)),
        words::STIFFER.to_owned(),
    ]
}

fn work(tally: &Tally) -> Vec<String> {
    let cells = |counts: [usize; 4], minutes: Minutes| {
        let mut cells: Vec<String> = counts.iter().map(usize::to_string).collect();
        cells.push(format!("{:.0}", minutes.value()));
        cells
    };
    let [month, columns @ ..] = words::WORK_COLUMNS;
    let mut lines = vec![words::WORK.to_owned(), row(month, &owned(columns))];
    let (mut all, mut minutes) = ([0; 4], Minutes::ZERO);
    for month in &tally.months {
        let counts = [month.sessions, month.on_target, month.swaps, month.sits];
        lines.push(row(&words::month(month), &cells(counts, month.minutes)));
        all.iter_mut().zip(counts).for_each(|(all, count)| *all += count);
        minutes += month.minutes;
    }
    lines.push(row(words::ALL_MONTHS, &cells(all, minutes)));
    lines.push(words::on_average(all[0], all[2], all[3], minutes.value()));
    lines.push(words::MINUTES.to_owned());
    lines
}

fn travels(tally: &Tally, units: UnitSet) -> Vec<String> {
    let rate = |rate: &KeptRate| format!("{} ({})", units.show(rate.rate), rate.kept);
    let lines = tally.by_travel.iter().map(|travel| {
        let rates: Vec<String> = travel.rates.iter().map(rate).collect();
        format!("{:<12}{}", units.show(travel.travel), rates.join(", "))
    });
    std::iter::once(words::BY_TRAVEL.to_owned()).chain(lines).collect()
}

fn rates(tally: &Tally, units: UnitSet) -> Vec<String> {
    let most = tally.rates.iter().map(|rate| rate.kept).max().unwrap_or(1);
    let [rate, columns @ ..] = words::RATE_COLUMNS;
    let lines = tally.rates.iter().map(|rate| {
        let cells = [rate.kept.to_string(), rate.fitted_here.to_string()];
        let bar = "#".repeat((rate.kept * LONGEST_BAR).div_ceil(most.max(LONGEST_BAR)));
        format!("{}  {bar}", row(&rate.rate.written(units).to_string(), &cells))
    });
    [words::RATES.to_owned(), row(rate, &owned(columns))].into_iter().chain(lines).collect()
}
