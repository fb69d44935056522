//! The tally of the finished sessions as one JSON object, under names that stay.
//!
//! What each means is in `report::names`.

use serde::Serialize;

use chrono::NaiveDate;

use crate::assessment::tally::{
    Deviations, ForecastScore, KeptRate, MonthOfWork, NotCounted, Tally, TravelRates,
};
use crate::phrase;
use crate::report::json::tidy;
use crate::units::Share;

#[derive(Serialize)]
struct TallyReport {
    schema: u32,
    since: Option<String>,
    sessions: usize,
    not_counted_open: usize,
    not_counted_demonstrations: usize,
    before_any_reading: ScoreReport,
    after_swap: ScoreReport,
    doubt_factor: f64,
    doubt_factor_swaps: usize,
    first_guess: DeviationsReport,
    months: Vec<MonthReport>,
    by_travel: Vec<TravelReport>,
    rates: Vec<RateReport>,
}

#[derive(Serialize)]
struct DeviationsReport {
    count: usize,
    bias_percent: Option<f64>,
    spread_percent: Option<f64>,
}

#[derive(Serialize)]
struct ScoreReport {
    #[serde(flatten)]
    off: DeviationsReport,
    inside_ninety_percent: usize,
}

#[derive(Serialize)]
struct MonthReport {
    month: String,
    sessions: usize,
    on_target: usize,
    swaps: usize,
    sits: usize,
    minutes: f64,
}

#[derive(Serialize)]
struct TravelReport {
    travel_mm: f64,
    rates: Vec<RateReport>,
}

#[derive(Serialize)]
struct RateReport {
    rate_lb_in: f64,
    stayed: usize,
    fitted_here: usize,
}

/// All of it as one JSON object, over several lines.
///
/// # Errors
/// Only when a figure cannot be written as JSON, which no checked quantity can cause.
pub fn tally_as_json(
    tally: &Tally,
    not_counted: NotCounted,
    since: Option<NaiveDate>,
) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(&TallyReport {
        schema: 1,
        since: since.map(|day| day.to_string()),
        sessions: tally.sessions,
        not_counted_open: not_counted.open,
        not_counted_demonstrations: not_counted.demonstrations,
        before_any_reading: score(tally.before_any),
        after_swap: score(tally.after_swap),
        doubt_factor: tidy(tally.doubt_factor.factor.as_fraction()),
        doubt_factor_swaps: tally.doubt_factor.swaps,
        first_guess: deviations(tally.first_guess),
        months: tally.months.iter().map(month).collect(),
        by_travel: tally.by_travel.iter().map(travel).collect(),
        rates: tally.rates.iter().map(rate).collect(),
    })
}

fn score(score: ForecastScore) -> ScoreReport {
    ScoreReport { off: deviations(score.off), inside_ninety_percent: score.held }
}

fn deviations(of: Deviations) -> DeviationsReport {
    let percent = |share: Option<Share>| share.map(|share| tidy(share.as_percent()));
    DeviationsReport { count: of.count, bias_percent: percent(of.bias), spread_percent: percent(of.spread) }
}

fn month(month: &MonthOfWork) -> MonthReport {
    MonthReport {
        month: phrase::tally::month(month),
        sessions: month.sessions,
        on_target: month.on_target,
        swaps: month.swaps,
        sits: month.sits,
        minutes: tidy(month.minutes.value()),
    }
}

fn travel(travel: &TravelRates) -> TravelReport {
    TravelReport { travel_mm: tidy(travel.travel.as_mm()), rates: travel.rates.iter().map(rate).collect() }
}

fn rate(rate: &KeptRate) -> RateReport {
    RateReport {
        rate_lb_in: tidy(rate.rate.as_lb_per_in()),
        stayed: rate.kept,
        fitted_here: rate.fitted_here,
    }
}
