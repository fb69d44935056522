//! What is said around the spring, as JSON: what small changes do, rebound, the ride, the front.
//!
//! Every name always stands; `null` is for what was not told or is not known yet. Not here: the rest of the assessment
//! (`json`), and the meaning of each name (`names`).

use serde::Serialize;

use super::Subject;
use super::codes::kerb_name;
use super::json::tidy;
use crate::mechanics::damper::{ReboundWay, rebound};
use crate::phrase;

/// The figures around the spring.
#[derive(Serialize)]
pub(super) struct AroundReport {
    rate_per_kg_lb_in: Option<f64>,
    sag_per_kg_percent: Option<f64>,
    sag_per_turn_percent: Option<f64>,
    sag_per_step_percent: Option<f64>,
    rebound_percent: Option<f64>,
    rebound_clicks: Option<f64>,
    kerb_drop: Option<&'static str>,
    kerb_clicks: Option<f64>,
    deepest_mm: Option<f64>,
    deepest_on: Vec<DeepestReport>,
    bothers: Option<&'static str>,
    try_first: Option<&'static str>,
    front_load_n: Option<f64>,
    front_sag_percent: Option<f64>,
    front_bounce_hz: Option<f64>,
    rear_bounce_hz: Option<f64>,
    head_angle_degrees: Option<f64>,
}

/// How deep the deepest hit of the ride would go on another spring.
#[derive(Serialize)]
struct DeepestReport {
    spring: u16,
    stroke_mm: Option<f64>,
}

/// The figures of a session.
pub(super) fn around(subject: &Subject<'_>) -> AroundReport {
    let Subject { setup, state, assessment, .. } = *subject;
    let (what_if, balance) = (assessment.what_if.as_ref(), assessment.balance.as_ref());
    let came_with = state.entered.spring_on_arrival.and_then(|number| setup.spring(number));
    let asked = came_with.zip(state.fitted()).map(|(first, now)| rebound(first.rate(), now.rate()));
    let ridden = assessment.ridden.as_ref();
    let kerb = assessment.kerb;
    let deepest_on = ridden.iter().flat_map(|ridden| &ridden.others).map(|other| DeepestReport {
        spring: other.spring.0,
        stroke_mm: other.stroke.map(|stroke| tidy(stroke.as_mm())),
    });
    AroundReport {
        rate_per_kg_lb_in: what_if.map(|entered| tidy(entered.rate_per_kilo.as_lb_per_in())),
        sag_per_kg_percent: what_if.map(|entered| tidy(entered.sag_per_kilo.as_percent())),
        sag_per_turn_percent: what_if.map(|entered| tidy(entered.sag_per_turn.as_percent())),
        sag_per_step_percent: what_if.map(|entered| tidy(entered.sag_per_step.as_percent())),
        rebound_percent: asked.map(|asked| tidy(asked.more.as_percent())),
        rebound_clicks: asked.map(|asked| asked.clicks.map_or(0.0, signed)),
        kerb_drop: kerb.map(|kerb| kerb_name(kerb.last)),
        kerb_clicks: kerb.map(|kerb| kerb.clicks.map_or(0.0, signed)),
        deepest_mm: ridden.map(|ridden| tidy(ridden.deepest.as_mm())),
        deepest_on: deepest_on.collect(),
        bothers: assessment.remedy.map(|(bothers, _)| phrase::ride::symptom(bothers)),
        try_first: assessment.remedy.map(|(_, first)| phrase::ride::remedy(first)),
        front_load_n: balance.map(|entered| tidy(entered.front.load.as_newtons())),
        front_sag_percent: balance.map(|entered| tidy(entered.front.sag.as_percent())),
        front_bounce_hz: balance.map(|entered| tidy(entered.front.bounce.value())),
        rear_bounce_hz: balance.map(|entered| tidy(entered.rear_bounce.value())),
        head_angle_degrees: balance.and_then(|entered| entered.head_angle).map(|angle| tidy(angle.value())),
    }
}

/// Clicks towards closed positive, towards open negative.
fn signed((count, way): (u8, ReboundWay)) -> f64 {
    match way {
        ReboundWay::Slower => f64::from(count),
        ReboundWay::Faster => -f64::from(count),
    }
}
