//! Words of what the finished sessions of a shop say together.
//!
//! Not here: the counting (`assessment::tally`), and how the tables are laid out (`report`).

use crate::assessment::tally::{DoubtFactor, MonthOfWork, Tally};

/// Said where no session is finished.
pub const NOTHING_YET: &str = "There are no finished sessions in this folder yet.";
/// Heading of the forecasts, and its columns.
pub const FORECASTS: &str = "First reading compared with its forecast, in % of the shock stroke";
/// Columns below it.
pub const FORECAST_COLUMNS: [&str; 4] = ["readings", "on average", "spread", "inside 90 %"];
/// Its rows.
pub const FORECAST_ROWS: [&str; 2] = ["Before any reading", "After a swap"];
/// Heading of the first guess.
pub const FIRST_GUESS: &str =
    "Spring rate calculated before any reading, compared with the spring that stayed";
/// Columns below it.
pub const GUESS_COLUMNS: [&str; 3] = ["bikes", "on average", "spread"];
/// Its row.
pub const GUESS_ROW: &str = "First guess";
/// What the sign of a difference means.
pub const DEEPER: &str = "Above 0, readings were deeper than their forecast.";
/// The same of the first guess.
pub const STIFFER: &str = "Above 0, the first guess was stiffer than the spring that stayed.";
/// Heading of the work.
pub const WORK: &str = "Work by month";
/// Its columns.
pub const WORK_COLUMNS: [&str; 6] = ["month", "sessions", "on target", "swaps", "sits", "minutes"];
/// The row of all months.
pub const ALL_MONTHS: &str = "all";
/// What the minutes are.
pub const MINUTES: &str = "Minutes are the time between steps; pauses over half an hour are left out.";
/// Heading of the rates by travel.
pub const BY_TRAVEL: &str = "Springs that stayed, by rear wheel travel to 10 mm (how many bikes)";
/// Heading of the rates.
pub const RATES: &str = "Rates to stock: springs that stayed, to the nearest 25 lb/in";
/// Its columns.
pub const RATE_COLUMNS: [&str; 3] = ["rate", "stayed", "fitted here"];

/// How many sessions are counted.
pub fn heading(tally: &Tally) -> String {
    format!("What our sessions teach: {}.", counted(tally.sessions, "finished session"))
}

/// Which sessions are not; none where all are.
pub fn not_counted(open: usize, demonstrations: usize) -> Option<String> {
    let parts = [(open, "unfinished session"), (demonstrations, "demonstration")];
    let parts: Vec<String> =
        parts.into_iter().filter(|(count, _)| *count > 0).map(|(count, name)| counted(count, name)).collect();
    (!parts.is_empty()).then(|| format!("Not counted: {}.", parts.join(" and ")))
}

/// So many of all.
pub fn of_all(part: usize, all: usize) -> String {
    format!("{part} of {all}")
}

/// The factor of the shop's doubts, with what is behind it and what it means.
pub fn doubt_factor(factor: DoubtFactor) -> Vec<String> {
    let figure = factor.factor.as_fraction();
    let meaning: &[&str] = if factor.swaps == 0 {
        &["The first swap with a reading before and after it begins to move this number."]
    } else {
        &[
            "Above 1, readings after a swap miss their forecast by more than its ± says.",
            "Below 1, they are nearer. A few swaps or a single slip move it little.",
        ]
    };
    let head = format!("Factor for our doubts: {figure:.2}, from {}.", counted(factor.swaps, "swap"));
    std::iter::once(head).chain(meaning.iter().map(|line| (*line).to_owned())).collect()
}

/// A month, as in 2026-11.
pub fn month(month: &MonthOfWork) -> String {
    format!("{:04}-{:02}", month.year, month.month)
}

/// What one session took, of so many sessions with so many of each.
pub fn on_average(sessions: usize, swaps: usize, sits: usize, minutes: f64) -> String {
    let each = |all: f64| all / sessions.max(1) as f64;
    let (swaps, sits) = (each(swaps as f64), each(sits as f64));
    format!("One session on average: {swaps:.2} swaps, {sits:.1} sits, {:.0} minutes.", each(minutes))
}

fn counted(count: usize, name: &str) -> String {
    if count == 1 { format!("1 {name}") } else { format!("{count} {name}s") }
}
