//! The figures of the intake in a line of the export: rider, bike, shock, aim, leverage, what an earlier session taught,
//! and the rack.
//!
//! Not here: names and notes, which an export may leave out (`lines`).

use serde::Serialize;

use super::utc;
use crate::report::json::tidy;
use crate::session::{Earlier, Intake, LeverageKnowledge, LeveragePair, Spring};
use crate::units::Length;

/// What was told, corrections included.
#[derive(Serialize)]
pub(super) struct Told {
    rider_kg: Option<f64>,
    bike_kg: Option<f64>,
    wheel_load_kg: Option<f64>,
    u_wheel_load_kg: Option<f64>,
    travel_mm: Option<f64>,
    stroke_mm: Option<f64>,
    collar_pitch_mm: Option<f64>,
    turns_allowed: Option<f64>,
    body_diameter_mm: Option<f64>,
    aim_percent: Option<f64>,
    half_width_percent: Option<f64>,
    ruler_mm: Option<f64>,
    readings_wanted: Option<u8>,
    leverage: Leverage,
    earlier: Option<EarlierTold>,
    came_in_with_spring: Option<u16>,
    rack: Vec<RackSpring>,
}

/// What is known of the leverage ratio beyond travel over stroke; all of it null or empty for nothing.
#[derive(Serialize)]
struct Leverage {
    start_ratio: Option<f64>,
    end_ratio: Option<f64>,
    measured: Vec<Pair>,
}

#[derive(Serialize)]
struct Pair {
    stroke_mm: f64,
    wheel_mm: f64,
}

#[derive(Serialize)]
struct EarlierTold {
    opened_utc: String,
    rider_share_percent: f64,
    u_rider_share_percent: f64,
    falloff_percent: f64,
    u_falloff_percent: f64,
    correlation: f64,
}

#[derive(Serialize)]
struct RackSpring {
    spring: u16,
    rate_lb_in: f64,
    measured_lb_in: Option<f64>,
    u_measured_lb_in: Option<f64>,
    stroke_mm: Option<f64>,
    bore_mm: Option<f64>,
    free_length_mm: Option<f64>,
}

impl Told {
    /// The figures of an intake.
    pub(super) fn new(told: &Intake) -> Self {
        Self {
            rider_kg: told.rider.map(|mass| tidy(mass.as_kg())),
            bike_kg: told.bike.map(|mass| tidy(mass.as_kg())),
            wheel_load_kg: told.wheel_load.map(|load| tidy(load.shown.value.as_kg())),
            u_wheel_load_kg: told.wheel_load.map(|load| tidy(load.shown.uncertainty.as_kg())),
            travel_mm: mm(told.travel),
            stroke_mm: mm(told.stroke),
            collar_pitch_mm: mm(told.collar_pitch),
            turns_allowed: told.turns_allowed.map(|turns| tidy(turns.value())),
            body_diameter_mm: mm(told.body_diameter),
            aim_percent: told.aim.map(|aim| tidy(aim.sag.as_percent())),
            half_width_percent: told.aim.map(|aim| tidy(aim.half_width.as_percent())),
            ruler_mm: mm(told.ruler),
            readings_wanted: told.readings_wanted,
            leverage: leverage(&told.leverage),
            earlier: told.earlier.as_ref().map(earlier),
            came_in_with_spring: told.fitted.map(|number| number.0),
            rack: told.rack.iter().map(rack_spring).collect(),
        }
    }
}

fn mm(length: Option<Length>) -> Option<f64> {
    length.map(|length| tidy(length.as_mm()))
}

fn leverage(known: &LeverageKnowledge) -> Leverage {
    let mut told = Leverage { start_ratio: None, end_ratio: None, measured: Vec::new() };
    match known {
        LeverageKnowledge::TravelOnly => {}
        LeverageKnowledge::Ends { start, end } => {
            told.start_ratio = Some(tidy(start.value()));
            told.end_ratio = Some(tidy(end.value()));
        }
        LeverageKnowledge::Measured(pairs) => told.measured = pairs.iter().map(pair).collect(),
    }
    told
}

fn pair(pair: &LeveragePair) -> Pair {
    Pair { stroke_mm: tidy(pair.stroke.as_mm()), wheel_mm: tidy(pair.wheel.as_mm()) }
}

fn earlier(earlier: &Earlier) -> EarlierTold {
    EarlierTold {
        opened_utc: utc(earlier.opened),
        rider_share_percent: tidy(earlier.rider_share.value.as_percent()),
        u_rider_share_percent: tidy(earlier.rider_share.uncertainty.as_percent()),
        falloff_percent: tidy(earlier.falloff.value.as_percent()),
        u_falloff_percent: tidy(earlier.falloff.uncertainty.as_percent()),
        correlation: tidy(earlier.correlation.as_fraction()),
    }
}

fn rack_spring(spring: &Spring) -> RackSpring {
    RackSpring {
        spring: spring.number.0,
        rate_lb_in: tidy(spring.label.as_lb_per_in()),
        measured_lb_in: spring.measured.map(|measured| tidy(measured.value.as_lb_per_in())),
        u_measured_lb_in: spring.measured.map(|measured| tidy(measured.uncertainty.as_lb_per_in())),
        stroke_mm: mm(spring.stroke),
        bore_mm: mm(spring.bore),
        free_length_mm: mm(spring.free_length),
    }
}
