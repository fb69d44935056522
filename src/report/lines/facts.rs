//! The figures of the intake in a line of the export: rider, bike, shock, aim, leverage, what an earlier session taught,
//! and the rack.
//!
//! Not here: names and notes, which an export may leave out (`lines`).

use serde::ser::{Serialize, SerializeMap, Serializer};

use super::utc;
use crate::report::json::tidy;
use crate::session::{Charge, Earlier, Fact, Intake, LeverageKnowledge, LeveragePair, Shape, Spring, Value};
use crate::units::{Length, Mass, Quantity, Share};

/// Details entered, corrections included: every fact of the table but names and notes.
pub(super) struct EnteredFacts<'a>(pub(super) &'a Intake);

impl Serialize for EnteredFacts<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut entered = serializer.serialize_map(None)?;
        for fact in Fact::ALL {
            let (about, value) = (fact.about(), self.0.entered(*fact));
            match about.shape {
                Shape::Text => {}
                Shape::Figure(_) => entered.serialize_entry(about.keys[0], &value.map(ExportedFigure))?,
                Shape::Target => {
                    let percent = |share: Share| tidy(share.as_percent());
                    entered.serialize_entry(
                        "target_percent",
                        &self.0.target.map(|target| percent(target.sag)),
                    )?;
                    entered.serialize_entry(
                        "tolerance_percent",
                        &self.0.target.map(|target| percent(target.tolerance)),
                    )?;
                }
                Shape::WheelLoad => {
                    let kg = |mass: Mass| tidy(mass.as_kg());
                    let shown = self.0.wheel_load.map(|load| load.shown);
                    entered.serialize_entry("wheel_load_kg", &shown.map(|shown| kg(shown.value)))?;
                    entered.serialize_entry("u_wheel_load_kg", &shown.map(|shown| kg(shown.uncertainty)))?;
                }
                Shape::Charge => entered.serialize_entry("charge", &self.0.charge.map(charge))?,
                Shape::Earlier => {
                    entered.serialize_entry("earlier", &self.0.earlier.as_ref().map(earlier))?;
                }
                Shape::Leverage => entered.serialize_entry("leverage", &leverage(&self.0.leverage))?,
                Shape::Springs => {
                    entered.serialize_entry(
                        "rack",
                        &self.0.springs.iter().map(exported_spring).collect::<Vec<_>>(),
                    )?;
                }
                Shape::Spring => entered.serialize_entry("spring_on_arrival", &self.0.spring_on_arrival)?,
            }
        }
        entered.end()
    }
}

/// A figure in the unit of its name.
struct ExportedFigure(Value);

impl Serialize for ExportedFigure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            Value::Figure(Quantity::Count(count)) => serializer.serialize_u16(count),
            Value::Figure(figure) => serializer.serialize_f64(tidy(figure.value())),
            _ => serializer.serialize_none(),
        }
    }
}

/// What is known of the leverage ratio beyond travel over stroke; all of it null or empty for nothing.
#[derive(serde::Serialize)]
struct ExportedLeverage {
    start_ratio: Option<f64>,
    end_ratio: Option<f64>,
    measured: Vec<ExportedPair>,
}

#[derive(serde::Serialize)]
struct ExportedPair {
    stroke_mm: f64,
    wheel_mm: f64,
}

/// What is known of the charge: one of a force, or a pressure on a shaft; neither for a damper without one.
#[derive(serde::Serialize)]
struct ChargeTold {
    force_n: Option<f64>,
    pressure_kpa: Option<f64>,
    shaft_mm: Option<f64>,
}

#[derive(serde::Serialize)]
struct ExportedEarlier {
    opened_utc: String,
    rider_share_percent: f64,
    u_rider_share_percent: f64,
    falloff_percent: f64,
    u_falloff_percent: f64,
    correlation: f64,
    gas_n: Option<f64>,
    u_gas_n: Option<f64>,
}

#[derive(serde::Serialize)]
struct ExportedSpring {
    spring: u16,
    rate_lb_in: f64,
    measured_lb_in: Option<f64>,
    u_measured_lb_in: Option<f64>,
    stroke_mm: Option<f64>,
    bore_mm: Option<f64>,
    free_length_mm: Option<f64>,
    end_rate_lb_in: Option<f64>,
    mark: Option<String>,
    learned_lb_in: Option<f64>,
    u_learned_lb_in: Option<f64>,
    learned_bikes: Option<u16>,
}

fn charge(charge: Charge) -> ChargeTold {
    match charge {
        Charge::Nothing => ChargeTold { force_n: Some(0.0), pressure_kpa: None, shaft_mm: None },
        Charge::Weighed(force) => {
            ChargeTold { force_n: Some(tidy(force.as_newtons())), pressure_kpa: None, shaft_mm: None }
        }
        Charge::Pressure { pressure, rod } => ChargeTold {
            force_n: None,
            pressure_kpa: Some(tidy(pressure.as_kilopascals())),
            shaft_mm: mm(Some(rod)),
        },
    }
}

fn mm(length: Option<Length>) -> Option<f64> {
    length.map(|length| tidy(length.as_mm()))
}

fn leverage(known: &LeverageKnowledge) -> ExportedLeverage {
    let mut entered = ExportedLeverage { start_ratio: None, end_ratio: None, measured: Vec::new() };
    match known {
        LeverageKnowledge::TravelOnly => {}
        LeverageKnowledge::Ends { start, end } => {
            entered.start_ratio = Some(tidy(start.value()));
            entered.end_ratio = Some(tidy(end.value()));
        }
        LeverageKnowledge::Measured(pairs) => entered.measured = pairs.iter().map(pair).collect(),
    }
    entered
}

fn pair(pair: &LeveragePair) -> ExportedPair {
    ExportedPair { stroke_mm: tidy(pair.stroke.as_mm()), wheel_mm: tidy(pair.wheel.as_mm()) }
}

fn earlier(earlier: &Earlier) -> ExportedEarlier {
    ExportedEarlier {
        opened_utc: utc(earlier.opened),
        rider_share_percent: tidy(earlier.rider_share.value.as_percent()),
        u_rider_share_percent: tidy(earlier.rider_share.uncertainty.as_percent()),
        falloff_percent: tidy(earlier.falloff.value.as_percent()),
        u_falloff_percent: tidy(earlier.falloff.uncertainty.as_percent()),
        correlation: tidy(earlier.correlation.as_fraction()),
        gas_n: earlier.gas.map(|gas| tidy(gas.force.value.as_newtons())),
        u_gas_n: earlier.gas.map(|gas| tidy(gas.force.uncertainty.as_newtons())),
    }
}

fn exported_spring(spring: &Spring) -> ExportedSpring {
    let learned = spring.learned();
    let found = |share: Share| tidy((spring.label * share.as_fraction()).as_lb_per_in());
    ExportedSpring {
        spring: spring.number.0,
        rate_lb_in: tidy(spring.label.as_lb_per_in()),
        measured_lb_in: spring.measured.map(|measured| tidy(measured.value.as_lb_per_in())),
        u_measured_lb_in: spring.measured.map(|measured| tidy(measured.uncertainty.as_lb_per_in())),
        stroke_mm: mm(spring.stroke),
        bore_mm: mm(spring.bore),
        free_length_mm: mm(spring.free_length),
        end_rate_lb_in: spring.end_rate.map(|rate| tidy(rate.as_lb_per_in())),
        mark: spring.mark().map(|mark| mark.to_string()),
        learned_lb_in: learned.map(|learned| found(learned.ratio.value)),
        u_learned_lb_in: learned.map(|learned| found(learned.ratio.uncertainty)),
        learned_bikes: learned.map(|learned| learned.bikes),
    }
}
