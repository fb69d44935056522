//! What the finished sessions of a shop say together: how right the forecasts were, what the work took, which springs stayed.
//!
//! `session_outcome` makes one outcome of each finished session; what was said at a moment is worked out again from the
//! record up to that entry, so nothing is stored. [`Tally::of`] counts them. One number comes of the shop's own swaps:
//! whether its forecasts after a swap are off by more than they say. Not here: reading the folder (`app`), words
//! (`phrase`), tables (`report`).

mod session_outcome;

use std::collections::BTreeMap;

use chrono::Datelike;

pub use session_outcome::{
    ForecastMoment, KeptSpring, LeftOut, SessionOutcome, SpringOrigin, TestedForecast, session_outcome,
};

use super::evidence::Standing;
use crate::statistics;
use crate::units::{Length, Minutes, Share, SpringRate};

/// So many swaps are taken to have gone as the table of doubts says before any of the shop's own is counted.
const AS_THE_TABLE_SAYS: f64 = 20.0;
/// One reading counts for so many of its doubts at most: a slip of the indicator must not speak for the shop.
const MOST_DOUBTS: f64 = 3.0;
/// Springs that differ by less than half of this are one rate to stock, in lb/in (common practice, no source: springs are
/// sold in steps of 25 or 50).
const STOCK_STEP: f64 = 25.0;
/// Frames are told apart by this much rear wheel travel, in millimetres.
const TRAVEL_STEP: f64 = 10.0;

/// Sessions that are not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct NotCounted {
    /// Not finished.
    pub open: usize,
    /// Invented.
    pub demonstrations: usize,
}

impl NotCounted {
    /// One more.
    pub fn add(&mut self, why: LeftOut) {
        match why {
            LeftOut::Open => self.open += 1,
            LeftOut::Demonstration => self.demonstrations += 1,
        }
    }
}

/// What the finished sessions say together.
#[derive(Debug, Clone, PartialEq)]
pub struct Tally {
    /// How many sessions.
    pub sessions: usize,
    /// Forecasts from what was entered alone, against the first reading of the session.
    pub before_any: ForecastScore,
    /// Forecasts of a spring newly fitted, against its first reading.
    pub after_swap: ForecastScore,
    /// The rate needed as it was calculated before any reading, against the spring that stayed.
    pub first_guess: Deviations,
    /// What the shop's own swaps say of the doubts.
    pub doubt_factor: DoubtFactor,
    /// The work, month by month, the earliest first.
    pub months: Vec<MonthOfWork>,
    /// The rates that stayed, for each travel, the shortest first.
    pub by_travel: Vec<TravelRates>,
    /// The rates that stayed, softest first.
    pub rates: Vec<KeptRate>,
}

/// Differences about nothing: how many, their average and their spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deviations {
    /// How many.
    pub count: usize,
    /// Average; none without any.
    pub bias: Option<Share>,
    /// Standard deviation; none of fewer than two.
    pub spread: Option<Share>,
}

/// How forecasts of one kind did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForecastScore {
    /// First reading less forecast, as shares of the shock's stroke.
    pub off: Deviations,
    /// How many readings were inside the interval of 90 %.
    pub held: usize,
}

/// How the doubts of forecasts after a swap compare with what came.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DoubtFactor {
    /// f, from f² = (20 + Σ z²)/(20 + n); a whole where the doubts are as the table says.
    pub factor: Share,
    /// n, the swaps behind it.
    pub swaps: usize,
}

/// The sessions opened in one month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthOfWork {
    /// The year.
    pub year: i32,
    /// The month, from one.
    pub month: u32,
    /// How many sessions.
    pub sessions: usize,
    /// Those whose last sag was inside the target range.
    pub on_target: usize,
    /// Swaps of all of them.
    pub swaps: usize,
    /// Times a rider sat down for a reading.
    pub sits: usize,
    /// Time at the bike, pauses left out.
    pub minutes: Minutes,
}

/// How often a rate stayed on a bike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeptRate {
    /// The rate, to 25 lb/in.
    pub rate: SpringRate,
    /// On how many bikes it stayed.
    pub kept: usize,
    /// On how many of these it was fitted in the session.
    pub fitted_here: usize,
}

/// The rates that stayed on bikes of one travel.
#[derive(Debug, Clone, PartialEq)]
pub struct TravelRates {
    /// Rear wheel travel, to 10 mm.
    pub travel: Length,
    /// Softest first.
    pub rates: Vec<KeptRate>,
}

impl Tally {
    /// Counts what came of the sessions.
    pub fn of(sessions: &[&SessionOutcome]) -> Self {
        let tested = |moment: ForecastMoment| {
            let all = sessions.iter().flat_map(|session| &session.tested);
            all.filter(move |tested| tested.moment == moment).copied().collect::<Vec<_>>()
        };
        let after_swap = tested(ForecastMoment::AfterSwap);
        let guesses: Vec<f64> =
            sessions.iter().filter_map(|session| session.first_guess_off).map(Share::as_fraction).collect();
        Self {
            sessions: sessions.len(),
            before_any: ForecastScore::of(&tested(ForecastMoment::BeforeAnyReading)),
            doubt_factor: DoubtFactor::of(&after_swap),
            after_swap: ForecastScore::of(&after_swap),
            first_guess: Deviations::of(&guesses),
            months: months(sessions),
            by_travel: by_travel(sessions),
            rates: rates(sessions.iter().filter_map(|session| session.kept)),
        }
    }
}

impl Deviations {
    fn of(differences: &[f64]) -> Self {
        let share = |figure: f64| Share::fraction(figure);
        Self {
            count: differences.len(),
            bias: statistics::mean(differences).ok().map(share),
            spread: statistics::standard_deviation(differences).ok().map(share),
        }
    }
}

impl ForecastScore {
    fn of(tested: &[TestedForecast]) -> Self {
        let off: Vec<f64> = tested.iter().map(|tested| tested.off.value.as_fraction()).collect();
        let held = tested.iter().filter(|tested| tested.in_doubts().abs() <= super::NINETY_PERCENT).count();
        Self { off: Deviations::of(&off), held }
    }
}

impl DoubtFactor {
    fn of(tested: &[TestedForecast]) -> Self {
        let squares = tested.iter().map(|tested| tested.in_doubts().abs().min(MOST_DOUBTS).powi(2));
        let square = (AS_THE_TABLE_SAYS + squares.sum::<f64>()) / (AS_THE_TABLE_SAYS + tested.len() as f64);
        Self { factor: Share::fraction(square.sqrt()), swaps: tested.len() }
    }
}

fn months(sessions: &[&SessionOutcome]) -> Vec<MonthOfWork> {
    let mut months = BTreeMap::new();
    for session in sessions {
        let (year, month) = (session.opened.year(), session.opened.month());
        let of_month = months.entry((year, month)).or_insert(MonthOfWork {
            year,
            month,
            sessions: 0,
            on_target: 0,
            swaps: 0,
            sits: 0,
            minutes: Minutes::ZERO,
        });
        of_month.sessions += 1;
        of_month.on_target += usize::from(session.standing == Some(Standing::Inside));
        of_month.swaps += usize::from(session.swaps);
        of_month.sits += session.sits;
        of_month.minutes += session.minutes;
    }
    months.into_values().collect()
}

/// The nearest multiple of a step.
fn nearest(figure: f64, step: f64) -> f64 {
    (figure / step).round() * step
}

fn rates(kept: impl Iterator<Item = KeptSpring>) -> Vec<KeptRate> {
    let mut rates = BTreeMap::new();
    for spring in kept {
        let rate = nearest(spring.label.as_lb_per_in(), STOCK_STEP);
        let none = KeptRate { rate: SpringRate::lb_per_in(rate), kept: 0, fitted_here: 0 };
        // The bits of floats that are not negative sort as the floats do.
        let of_rate = rates.entry(rate.to_bits()).or_insert(none);
        of_rate.kept += 1;
        of_rate.fitted_here += usize::from(spring.origin == SpringOrigin::FittedHere);
    }
    rates.into_values().collect()
}

fn by_travel(sessions: &[&SessionOutcome]) -> Vec<TravelRates> {
    let mut travels: BTreeMap<u64, Vec<KeptSpring>> = BTreeMap::new();
    for session in sessions {
        let travel = nearest(session.travel.as_mm(), TRAVEL_STEP);
        let springs = travels.entry(travel.to_bits()).or_default();
        springs.extend(session.kept);
    }
    travels.retain(|_, springs| !springs.is_empty());
    let row = |(travel, springs): (u64, Vec<KeptSpring>)| TravelRates {
        travel: Length::mm(f64::from_bits(travel)),
        rates: rates(springs.into_iter()),
    };
    travels.into_iter().map(row).collect()
}

#[cfg(test)]
mod tests;
