//! What is advised, and what the key does that takes the advice, under names that stay.
//!
//! `enter` is what a script follows; the rest says why and what else there is. Every rate is the label of the spring whose
//! number stands beside it, but for `needed_lb_in`, which is no spring's. Not here: the forecasts (`json`).

use serde::Serialize;

use super::{label, tidy};
use crate::assessment::{Advice, Does, Enter, Measurement, Priced};
use crate::phrase;
use crate::report::Subject;
use crate::session::{Setup, SpringNumber};
use crate::units::{Minutes, Share, UnitSet};

/// What is advised.
#[derive(Serialize)]
pub(super) struct AdviceReport {
    kind: &'static str,
    headline: String,
    reason: String,
    enter: EnterReport,
    step_lb_in: Option<f64>,
    step_spring: Option<u16>,
    best_match_lb_in: Option<f64>,
    best_match_spring: Option<u16>,
    turns_to_tighten: Option<f64>,
    preload_turns: Option<f64>,
    nearest_lb_in: Option<f64>,
    nearest_spring: Option<u16>,
    needed_lb_in: Option<f64>,
    today_to_turns: Option<f64>,
    worth_of_stopping_min: Option<f64>,
    worth_of_swapping_min: Option<f64>,
    worth_of_reading_min: Option<f64>,
}

/// What Enter would do.
#[derive(Serialize)]
struct EnterReport {
    does: &'static str,
    spring: Option<u16>,
    rate_lb_in: Option<f64>,
    preload_turns: f64,
    chance_in_band: Option<f64>,
}

impl AdviceReport {
    /// What is advised now.
    pub(super) fn of(subject: &Subject<'_>) -> Self {
        let Subject { setup, assessment, .. } = *subject;
        let advice = &assessment.advice;
        let words = phrase::advice(assessment, setup, UnitSet::Trade);
        let (best_match, nearest) = (best_match(advice), nearest(advice));
        let of = |number: Option<SpringNumber>| number.and_then(|number| label(setup, number));
        let step = if let Advice::Swap { step, .. } = advice { Some(step) } else { None };
        let plan = if let Advice::SetPreload(plan) = advice { Some(plan) } else { None };
        let minutes = |worth: Option<Minutes>| worth.map(Minutes::value);
        let weighed = &assessment.weighed;
        Self {
            kind: kind(advice),
            headline: words.headline,
            reason: words.reason,
            enter: enter(&assessment.enter, setup),
            step_lb_in: step.map(|step| tidy(step.change.as_lb_per_in())),
            step_spring: step.map(|step| step.to.0),
            best_match_lb_in: of(best_match),
            best_match_spring: best_match.map(|number| number.0),
            turns_to_tighten: plan.map(|plan| plan.by.value()),
            preload_turns: plan.map(|plan| plan.to.value()),
            nearest_lb_in: of(nearest),
            nearest_spring: nearest.map(|number| number.0),
            needed_lb_in: needed(advice),
            today_to_turns: for_today(advice),
            worth_of_stopping_min: minutes(weighed.stop.map(|(_, worth)| worth)),
            worth_of_swapping_min: minutes(weighed.swap.map(|(_, worth)| worth)),
            worth_of_reading_min: minutes(weighed.read),
        }
    }
}

fn enter(enter: &Enter, setup: &Setup) -> EnterReport {
    EnterReport {
        does: match enter.does {
            Does::Keep => "keep",
            Does::Read => "read",
            Does::Turn => "turn",
            Does::Swap => "swap",
            Does::Check => "check",
            Does::None => "none",
        },
        spring: enter.spring.map(|number| number.0),
        rate_lb_in: enter.spring.and_then(|number| label(setup, number)),
        preload_turns: enter.turns.value(),
        chance_in_band: enter.chance.map(Share::as_fraction),
    }
}

/// What could be measured next.
#[derive(Serialize)]
pub(super) struct MeasurementReport {
    what: &'static str,
    spring: Option<u16>,
    takes_min: f64,
    saves_min: f64,
    pays: bool,
}

impl MeasurementReport {
    pub(super) fn of(priced: &Priced) -> Self {
        let (what, spring) = match priced.what {
            Measurement::Rider => ("rider", None),
            Measurement::Bike => ("bike", None),
            Measurement::Travel => ("travel", None),
            Measurement::Wheel => ("wheel", None),
            Measurement::Gas => ("gas", None),
            Measurement::WheelAndGas => ("wheel_and_gas", None),
            Measurement::LeverageEnds => ("leverage_ends", None),
            Measurement::PushedReading => ("pushed_reading", None),
            Measurement::Rate(number) => ("rate", Some(number.0)),
        };
        let (takes_min, saves_min) = (priced.takes.value(), priced.saves.value());
        Self { what, spring, takes_min, saves_min, pays: priced.pays() }
    }
}

/// The name of a piece of advice that scripts go by.
fn kind(advice: &Advice) -> &'static str {
    match advice {
        Advice::FirstSpring { .. } => "first_spring",
        Advice::TakeReadings { .. } => "take_readings",
        Advice::Check { .. } => "check",
        Advice::ReadAgain { .. } => "read_again",
        Advice::Keep { .. } => "keep",
        Advice::SetPreload(_) => "set_preload",
        Advice::Swap { .. } => "swap",
        Advice::NothingOnTheList { .. } => "nothing_on_the_list",
        Advice::NoneFits { .. } => "none_fits",
    }
}

const fn best_match(advice: &Advice) -> Option<SpringNumber> {
    match advice {
        Advice::FirstSpring { best_match, .. } | Advice::Swap { best_match, .. } => Some(*best_match),
        _ => None,
    }
}

const fn nearest(advice: &Advice) -> Option<SpringNumber> {
    match advice {
        Advice::NothingOnTheList { nearest, .. } => *nearest,
        _ => None,
    }
}

fn needed(advice: &Advice) -> Option<f64> {
    match advice {
        Advice::NothingOnTheList { needed, .. } | Advice::NoneFits { needed } => Some(needed.as_lb_per_in()),
        _ => None,
    }
}

fn for_today(advice: &Advice) -> Option<f64> {
    match advice {
        Advice::NothingOnTheList { today, .. } => today.map(|plan| plan.to.value()),
        _ => None,
    }
}
