//! Words of what the finished sessions of a shop say together, in the parts they come in.
//!
//! Paper and screen lay the same parts out, each in its own width. Not here: the counting (`assessment::tally`), and how the
//! tables are laid out (`report`, `screen`).

mod parts;

pub use parts::{BarLength, TallyPart, TallyRow, parts};

use chrono::NaiveDate;

use crate::assessment::tally::{DoubtFactor, MonthOfWork, NotCounted, Tally};

/// Said where no session is finished.
pub const NOTHING_YET: &str = "There are no finished sessions in this folder yet.";
/// What the arrows of the place do.
pub const PERIODS: &str = "Left and right change the period.";

/// How many sessions are counted, and from which day on.
pub fn heading(tally: &Tally, since: Option<NaiveDate>) -> String {
    let since = since.map(|day| format!(" since {day}")).unwrap_or_default();
    format!("What our sessions teach: {}{since}.", counted(tally.sessions, "finished session"))
}

/// Said where none is finished.
pub fn nothing_yet(since: Option<NaiveDate>) -> String {
    since.map_or_else(
        || NOTHING_YET.to_owned(),
        |day| format!("There are no finished sessions since {day} in this folder."),
    )
}

/// Which sessions are not; none where all are.
pub fn not_counted(not_counted: NotCounted) -> Option<String> {
    let parts = [(not_counted.open, "unfinished session"), (not_counted.demonstrations, "demonstration")];
    let parts: Vec<String> =
        parts.into_iter().filter(|(count, _)| *count > 0).map(|(count, name)| counted(count, name)).collect();
    (!parts.is_empty()).then(|| format!("Not counted: {}.", parts.join(" and ")))
}

/// How far the counting is.
pub fn progress(done: usize, of: usize) -> String {
    format!("Reading the sessions: {done} of {of}.")
}

/// Sessions that cannot be read.
pub fn unreadable(count: usize) -> String {
    format!("{} cannot be read and is left out. Past sessions says why.", counted(count, "session file"))
}

/// So many of all.
fn of_all(part: usize, all: usize) -> String {
    format!("{part} of {all}")
}

/// The factor of the shop's doubts, with what is behind it and what it means.
fn doubt_factor(factor: DoubtFactor) -> Vec<String> {
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
fn on_average(sessions: usize, swaps: usize, sits: usize, minutes: f64) -> String {
    let each = |all: f64| all / sessions.max(1) as f64;
    let (swaps, sits) = (each(swaps as f64), each(sits as f64));
    format!("One session on average: {swaps:.2} swaps, {sits:.1} sits, {:.0} minutes.", each(minutes))
}

fn counted(count: usize, name: &str) -> String {
    if count == 1 { format!("1 {name}") } else { format!("{count} {name}s") }
}
