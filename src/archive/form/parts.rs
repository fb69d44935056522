//! Values of several fields as they stand in a file: spring, target, wheel load, what an earlier session taught.
//!
//! A rate is written in lb/in and a share in per cent, as people say them, wherever that gives back the very same
//! quantity; else in N/mm or as parts of one. So nothing drifts however often a record is saved. Not here: single figures
//! and texts (`value`).

use serde::de::{self, Deserializer};
use serde::ser::Serializer;
use serde::{Deserialize, Serialize};

use crate::session::{
    Charge, Earlier, EarlierGas, FoundSpring, LearnedOn, Spring, Stamp, Target, WheelLoad, moment,
};
use crate::units::{Estimate, Force, Length, Mass, Pressure, Share, SpringRate};

/// Types that are read and written as the fields of another.
macro_rules! as_fields {
    ($($type:ident: $fields:ident),*) => {$(
        impl Serialize for $type {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                $fields::from(*self).serialize(serializer)
            }
        }
        impl<'de> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                $fields::deserialize(deserializer)?.try_into().map_err(de::Error::custom)
            }
        }
    )*};
}

as_fields!(Spring: SpringFields, Target: TargetFields, WheelLoad: WheelLoadFields, Charge: ChargeFields, Earlier: EarlierFields);

/// A quantity in the unit people say it in, or in the one it is reckoned in where only that is exact.
type InEitherUnit = [Option<f64>; 2];

fn either(calculated: f64, said: f64, back: impl Fn(f64) -> f64) -> InEitherUnit {
    // The decimal of fewest digits that gives the very same back; nobody says a figure with more than nine.
    let short = (0..9).filter_map(|places| format!("{said:.places$e}").parse().ok());
    match short.into_iter().find(|decimal| back(*decimal).to_bits() == calculated.to_bits()) {
        Some(said) => [Some(said), None],
        None => [None, Some(calculated)],
    }
}

fn one<Q>(
    [said, calculated]: InEitherUnit,
    from: [fn(f64) -> Q; 2],
    or: &'static str,
) -> Result<Q, &'static str> {
    let finite =
        |figure: f64| if figure.is_finite() { Ok(figure) } else { Err("this is not a finite number") };
    match (said, calculated) {
        (Some(figure), None) => finite(figure).map(from[0]),
        (None, Some(figure)) => finite(figure).map(from[1]),
        _ => Err(or),
    }
}

fn rate(rate: SpringRate) -> InEitherUnit {
    either(rate.as_n_per_mm(), rate.as_lb_per_in(), |said| SpringRate::lb_per_in(said).value())
}

fn share(share: Share) -> InEitherUnit {
    either(share.as_fraction(), share.as_percent(), |said| Share::percent(said).value())
}

const RATE: [fn(f64) -> SpringRate; 2] = [SpringRate::lb_per_in, SpringRate::n_per_mm];
const SHARE: [fn(f64) -> Share; 2] = [Share::percent, Share::fraction];

/// Fields of a file, each left out where there is nothing.
macro_rules! fields {
    ($name:ident { $($(#[$attribute:meta])* $field:ident: $type:ty),* $(,)? }) => {
        #[derive(Serialize, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(super) struct $name {
            $($(#[$attribute])* #[serde(default, skip_serializing_if = "Option::is_none")] $field: Option<$type>),*
        }
    };
}

mod spring;

use spring::SpringFields;

fields!(TargetFields {
    target_percent: f64,
    target_share: f64,
    tolerance_percent: f64,
    tolerance_share: f64
});

/// The fields of a target beside those of the record, in the order of the table's names for it.
pub(super) fn target_figures(target: Target) -> [Option<f64>; 4] {
    let ([percent, parts], [half_percent, half_parts]) = (share(target.sag), share(target.tolerance));
    [percent, parts, half_percent, half_parts]
}

/// The way back.
pub(super) fn target(
    [percent, parts, half_percent, half_parts]: [Option<f64>; 4],
) -> Result<Target, &'static str> {
    Ok(Target {
        sag: one([percent, parts], SHARE, "the target is given once, as target_percent or as target_share")?,
        tolerance: one(
            [half_percent, half_parts],
            SHARE,
            "the target needs its tolerance once, as tolerance_percent or as tolerance_share",
        )?,
    })
}

impl From<Target> for TargetFields {
    fn from(target: Target) -> Self {
        let [target_percent, target_share, tolerance_percent, tolerance_share] = target_figures(target);
        Self { target_percent, target_share, tolerance_percent, tolerance_share }
    }
}

impl TryFrom<TargetFields> for Target {
    type Error = &'static str;
    fn try_from(entered: TargetFields) -> Result<Self, Self::Error> {
        target([
            entered.target_percent,
            entered.target_share,
            entered.tolerance_percent,
            entered.tolerance_share,
        ])
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WheelLoadFields {
    shown_kg: Mass,
    u_shown_kg: Mass,
}

impl From<WheelLoad> for WheelLoadFields {
    fn from(WheelLoad { shown }: WheelLoad) -> Self {
        Self { shown_kg: shown.value, u_shown_kg: shown.uncertainty }
    }
}

impl From<WheelLoadFields> for WheelLoad {
    fn from(fields: WheelLoadFields) -> Self {
        Self { shown: Estimate::new(fields.shown_kg, fields.u_shown_kg) }
    }
}

fields!(ChargeFields { force_n: f64, pressure_kpa: f64, rod_mm: Length });

impl From<Charge> for ChargeFields {
    fn from(charge: Charge) -> Self {
        let (force_n, pressure_kpa, rod_mm) = match charge {
            Charge::Nothing => (None, None, None),
            Charge::Weighed(force) => (Some(force.as_newtons()), None, None),
            Charge::Pressure { pressure, rod } => (None, Some(pressure.as_kilopascals()), Some(rod)),
        };
        Self { force_n, pressure_kpa, rod_mm }
    }
}

impl TryFrom<ChargeFields> for Charge {
    type Error = &'static str;
    fn try_from(fields: ChargeFields) -> Result<Self, Self::Error> {
        let not_finite = |_| "this is not a finite number";
        match (fields.force_n, fields.pressure_kpa, fields.rod_mm) {
            (None, None, None) => Ok(Self::Nothing),
            (Some(force), None, None) => Ok(Self::Weighed(Force::checked(force).map_err(not_finite)?)),
            (None, Some(pressure), Some(rod)) => {
                Ok(Self::Pressure { pressure: Pressure::checked(pressure).map_err(not_finite)?, rod })
            }
            _ => Err("a charge is given as force_n, or as pressure_kpa and rod_mm, or as nothing"),
        }
    }
}

/// Shares as parts of one.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct EarlierFields {
    #[serde(with = "moment")]
    opened: Stamp,
    rider_share: Share,
    u_rider_share: Share,
    falloff: Share,
    u_falloff: Share,
    correlation: Share,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    gas: Option<GasFields>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    learned_on: Option<LearnedOnFields>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    spring: Option<FoundSpringFields>,
}

/// The label in lb/in, its rate as parts of that.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FoundSpringFields {
    label_lb_in: f64,
    ratio: Share,
    u_ratio: Share,
}

/// Kilograms and millimetres.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LearnedOnFields {
    rider_kg: Mass,
    travel_mm: Length,
    stroke_mm: Length,
}

/// Newtons, and shares as parts of one.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct GasFields {
    force_n: f64,
    u_force_n: f64,
    with_share: Share,
    with_falloff: Share,
}

impl From<EarlierGas> for GasFields {
    fn from(EarlierGas { force, with_share, with_falloff }: EarlierGas) -> Self {
        let (force_n, u_force_n) = (force.value.as_newtons(), force.uncertainty.as_newtons());
        Self { force_n, u_force_n, with_share, with_falloff }
    }
}

impl TryFrom<GasFields> for EarlierGas {
    type Error = &'static str;
    fn try_from(fields: GasFields) -> Result<Self, Self::Error> {
        let force = |figure: f64| Force::checked(figure).map_err(|_| "this is not a finite number");
        let GasFields { force_n, u_force_n, with_share, with_falloff } = fields;
        Ok(Self { force: Estimate::new(force(force_n)?, force(u_force_n)?), with_share, with_falloff })
    }
}

impl From<Earlier> for EarlierFields {
    fn from(Earlier { opened, rider_share, falloff, correlation, gas, learned_on, spring }: Earlier) -> Self {
        let gas = gas.map(GasFields::from);
        let learned_on = learned_on.map(|LearnedOn { rider, travel, stroke }| LearnedOnFields {
            rider_kg: rider,
            travel_mm: travel,
            stroke_mm: stroke,
        });
        let spring = spring.map(|FoundSpring { label, ratio }| FoundSpringFields {
            label_lb_in: label.as_lb_per_in(),
            ratio: ratio.value,
            u_ratio: ratio.uncertainty,
        });
        let (rider_share, u_rider_share) = (rider_share.value, rider_share.uncertainty);
        let (falloff, u_falloff) = (falloff.value, falloff.uncertainty);
        Self { opened, rider_share, u_rider_share, falloff, u_falloff, correlation, gas, learned_on, spring }
    }
}

impl TryFrom<EarlierFields> for Earlier {
    type Error = &'static str;
    fn try_from(fields: EarlierFields) -> Result<Self, Self::Error> {
        Ok(Self {
            opened: fields.opened,
            rider_share: Estimate::new(fields.rider_share, fields.u_rider_share),
            falloff: Estimate::new(fields.falloff, fields.u_falloff),
            correlation: fields.correlation,
            gas: fields.gas.map(EarlierGas::try_from).transpose()?,
            learned_on: fields.learned_on.map(|on| LearnedOn {
                rider: on.rider_kg,
                travel: on.travel_mm,
                stroke: on.stroke_mm,
            }),
            spring: fields.spring.map(|found| FoundSpring {
                label: SpringRate::lb_per_in(found.label_lb_in),
                ratio: Estimate::new(found.ratio, found.u_ratio),
            }),
        })
    }
}
