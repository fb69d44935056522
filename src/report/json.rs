//! The assessment as JSON, under names that stay: the README documents them, scripts rely on them.
//!
//! What each means is told in `names`. Units stand in the names; `null` stands for no value, never zero; chances are parts of one. A name may be added, none
//! changes its meaning. What is advised is in `json/advice`.

mod advice;

use serde::Serialize;

use self::advice::{AdviceReport, MeasurementReport};
use super::Subject;
use super::around::{self, AroundReport};
use super::changes::ChangeReport;
use super::lines::SCHEMA;
use crate::assessment::{Forecast, RateSource, SetFinding, Standing};
use crate::mechanics::Fit;
use crate::phrase;
use crate::session::{Condition, Indicator, Posture, Setup, SpringNumber};
use crate::units::UnitSet;

/// The whole assessment, as it is written.
#[derive(Serialize)]
pub(super) struct Report {
    schema: u32,
    changed_outside: bool,
    step: &'static str,
    target_percent: f64,
    tolerance_percent: f64,
    fitted_lb_in: Option<f64>,
    fitted_spring: Option<u16>,
    swaps: u16,
    sets: Vec<SetReport>,
    load_n: f64,
    u_load_n: f64,
    gas_n: f64,
    u_gas_n: f64,
    kept_mm: f64,
    u_kept_mm: f64,
    friction_n: Option<f64>,
    falloff_percent: f64,
    u_falloff_percent: f64,
    scatter_mm: f64,
    needed_rate_lb_in: f64,
    u_needed_rate_lb_in: f64,
    needed_low_lb_in: f64,
    needed_high_lb_in: f64,
    expected_reading_mm: Option<f64>,
    u_expected_reading_mm: Option<f64>,
    advice: AdviceReport,
    measurements: Vec<MeasurementReport>,
    forecasts: Vec<ForecastReport>,
    changes: Vec<ChangeReport>,
    around: AroundReport,
    trail: Option<String>,
    warnings: Vec<String>,
}

#[derive(Serialize)]
struct SetReport {
    number: usize,
    spring: u16,
    rate_lb_in: Option<f64>,
    mounting: u16,
    indicator: &'static str,
    posture: &'static str,
    condition: u16,
    condition_rider_kg: Option<f64>,
    preload_turns: f64,
    readings_used: usize,
    average_mm: f64,
    u_average_mm: f64,
    scatter_mm: Option<f64>,
    sag_percent: f64,
    u_sag_percent: f64,
    ninety_percent_within: f64,
    wheel_sag_percent: f64,
    standing: &'static str,
}

#[derive(Serialize)]
struct ForecastReport {
    spring: u16,
    rate_lb_in: f64,
    measured_lb_in: Option<f64>,
    preload_turns: f64,
    sag_percent: f64,
    u_sag_percent: f64,
    ninety_percent_half_width: f64,
    wheel_sag_percent: f64,
    chance_on_target: f64,
    chance_with_collar: f64,
    fits: bool,
    fit: &'static str,
    rate_source: &'static str,
    energy_left_j: f64,
    bounce_hz: f64,
    wheel_rate_n_mm: f64,
    breakaway_percent: f64,
}

/// The whole assessment as one JSON object, over several lines.
///
/// # Errors
/// Only when a figure cannot be written as JSON, which no checked quantity can cause.
pub fn as_json(subject: &Subject<'_>) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(&report(subject))
}

/// The whole assessment under its names.
pub(super) fn report(subject: &Subject<'_>) -> Report {
    let Subject { setup, state, assessment, seal } = *subject;
    let findings = &assessment.findings;
    let (needed_low, needed_high) = findings.needed_range();
    Report {
        schema: SCHEMA,
        changed_outside: !seal.is_sound(),
        step: step_name(state.step),
        target_percent: tidy(setup.target.sag.as_percent()),
        tolerance_percent: tidy(setup.target.tolerance.as_percent()),
        fitted_lb_in: state.on_bike.fitted.and_then(|number| label(setup, number)),
        fitted_spring: state.on_bike.fitted.map(|number| number.0),
        swaps: state.on_bike.swaps,
        sets: assessment.sets.iter().map(|set| set_report(set, setup, &state.conditions)).collect(),
        load_n: findings.load.value.as_newtons(),
        u_load_n: findings.load.uncertainty.as_newtons(),
        gas_n: findings.gas.value.as_newtons(),
        u_gas_n: findings.gas.uncertainty.as_newtons(),
        kept_mm: findings.kept.value.as_mm(),
        u_kept_mm: findings.kept.uncertainty.as_mm(),
        friction_n: findings.friction.map(crate::units::Force::as_newtons),
        falloff_percent: findings.falloff.value.as_percent(),
        u_falloff_percent: findings.falloff.uncertainty.as_percent(),
        scatter_mm: findings.scatter.as_mm(),
        needed_rate_lb_in: findings.needed_rate.value.as_lb_per_in(),
        u_needed_rate_lb_in: findings.needed_rate.uncertainty.as_lb_per_in(),
        needed_low_lb_in: needed_low.as_lb_per_in(),
        needed_high_lb_in: needed_high.as_lb_per_in(),
        expected_reading_mm: assessment.expected.map(|expected| expected.value.as_mm()),
        u_expected_reading_mm: assessment.expected.map(|expected| expected.uncertainty.as_mm()),
        advice: AdviceReport::of(subject),
        measurements: assessment.measurements.iter().map(MeasurementReport::of).collect(),
        forecasts: assessment.forecasts.iter().map(|one| forecast_report(one, setup)).collect(),
        changes: assessment.changes.iter().map(|one| ChangeReport::of(one, setup)).collect(),
        around: around::around(subject),
        trail: assessment.trail.as_ref().map(|finding| phrase::trail_finding(finding, UnitSet::Trade)),
        warnings: assessment.warnings.iter().map(|one| phrase::warning(one, setup, UnitSet::Trade)).collect(),
    }
}

/// Labels are typed as whole figures; the way through N/mm and back must not show.
pub(super) fn tidy(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

/// The rate printed on a spring, in lb/in.
pub(super) fn label(setup: &Setup, number: SpringNumber) -> Option<f64> {
    setup.spring(number).map(|spring| tidy(spring.label.as_lb_per_in()))
}

/// The rate somebody measured of a spring, in lb/in.
pub(super) fn measured(setup: &Setup, number: SpringNumber) -> Option<f64> {
    let measured = setup.spring(number)?.measured?;
    Some(tidy(measured.value.as_lb_per_in()))
}

fn set_report(set: &SetFinding, setup: &Setup, conditions: &[Condition]) -> SetReport {
    let rider = set.how.condition.on(conditions).and_then(|condition| condition.rider);
    SetReport {
        number: set.number,
        spring: set.spring.0,
        rate_lb_in: label(setup, set.spring),
        mounting: set.mounting,
        indicator: indicator_name(set.how.indicator),
        posture: posture_name(set.how.posture),
        condition: set.how.condition.number(),
        condition_rider_kg: rider.map(|rider| tidy(rider.as_kg())),
        preload_turns: set.preload_turns.value(),
        readings_used: set.readings_used,
        average_mm: set.average.value.as_mm(),
        u_average_mm: set.average.uncertainty.as_mm(),
        scatter_mm: set.scatter.map(crate::units::Length::as_mm),
        sag_percent: set.sag.value.as_percent(),
        u_sag_percent: set.sag.uncertainty.as_percent(),
        ninety_percent_within: set.ninety_percent.as_percent(),
        wheel_sag_percent: set.wheel_sag.as_percent(),
        standing: standing_name(set.standing),
    }
}

/// The name of a way to read that scripts go by.
pub(super) const fn indicator_name(indicator: Indicator) -> &'static str {
    match indicator {
        Indicator::Kept => "kept",
        Indicator::Pushed => "pushed",
    }
}

/// The name of a posture that scripts go by.
pub(super) const fn posture_name(posture: Posture) -> &'static str {
    match posture {
        Posture::Seated => "seated",
        Posture::Standing => "standing",
    }
}

/// The name of a standing that scripts go by.
pub(super) const fn standing_name(standing: Standing) -> &'static str {
    match standing {
        Standing::Below => "too_little_sag",
        Standing::Inside => "on_target",
        Standing::Above => "too_much_sag",
    }
}

/// The name of a step that scripts go by.
pub(super) fn step_name(step: crate::session::Step) -> &'static str {
    use crate::session::Step;
    match step {
        Step::Intake => "intake",
        Step::BenchCheck => "bench_check",
        Step::Unload => "unload",
        Step::SeatIndicator => "seat_indicator",
        Step::SeatedReading => "seated_reading",
        Step::Decision => "decision",
        Step::SetPreload => "set_preload",
        Step::Swap => "swap",
        Step::FinalChecks => "final_checks",
        Step::KerbDrop => "kerb_drop",
        Step::TrailCheck => "trail_check",
        Step::AfterTrail => "after_trail",
        Step::Closed => "closed",
    }
}

fn forecast_report(forecast: &Forecast, setup: &Setup) -> ForecastReport {
    ForecastReport {
        spring: forecast.spring.0,
        rate_lb_in: tidy(forecast.label.as_lb_per_in()),
        measured_lb_in: measured(setup, forecast.spring),
        preload_turns: forecast.preload_turns.value(),
        sag_percent: forecast.sag.value.as_percent(),
        u_sag_percent: forecast.sag.uncertainty.as_percent(),
        ninety_percent_half_width: forecast.ninety_percent().as_percent(),
        wheel_sag_percent: forecast.wheel_sag.as_percent(),
        chance_on_target: forecast.chance.as_fraction(),
        chance_with_collar: forecast.chance_with_collar.as_fraction(),
        fits: forecast.fit.is_possible(),
        fit: match forecast.fit {
            Fit::Fits => "fits",
            Fit::StrokeUnknown => "stroke_unknown",
            Fit::WouldBind { .. } => "would_bind",
            Fit::TooNarrow => "too_narrow",
        },
        rate_source: match forecast.known {
            RateSource::OnTheBike => "on_the_bike",
            RateSource::Measured => "measured",
            RateSource::FoundBefore => "found_before",
            RateSource::ByLabel => "by_label",
        },
        energy_left_j: forecast.ride.energy_left.value(),
        bounce_hz: forecast.ride.bounce.value(),
        wheel_rate_n_mm: forecast.ride.wheel_rate.as_n_per_mm(),
        breakaway_percent: forecast.ride.breakaway.as_percent(),
    }
}
