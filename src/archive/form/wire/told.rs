//! What is told at the intake, as it stands in a file: springs, leverage, the scale, and a later correction of each.
//!
//! Each type mirrors one of `session::intake`; the session itself knows nothing of files. Not here: the fields of the
//! record, which hold the same things one by one (`wire`).

use serde::{Deserialize, Serialize};

use super::earlier::Earlier;
use super::figure::{Figure, InEitherUnit, Text};
use crate::session::{self, LeverageKnowledge, LeveragePair, SpringNumber};
use crate::units::{Estimate, SpringRate};

/// Whether a record is a real one.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum Origin {
    Workshop,
    Demonstration,
}

/// What a scale under the rear wheel showed.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WheelLoad {
    shown_kg: Figure,
    uncertainty_kg: Figure,
}

impl From<session::WheelLoad> for WheelLoad {
    fn from(load: session::WheelLoad) -> Self {
        Self { shown_kg: load.shown.value.into(), uncertainty_kg: load.shown.uncertainty.into() }
    }
}

impl From<WheelLoad> for session::WheelLoad {
    fn from(load: WheelLoad) -> Self {
        Self { shown: Estimate::new(load.shown_kg.into(), load.uncertainty_kg.into()) }
    }
}

/// What is known of the leverage ratio.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Leverage {
    TravelOnly,
    Ends { start: Figure, end: Figure },
    Measured(Vec<Pair>),
}

/// One measured pair.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Pair {
    stroke_mm: Figure,
    wheel_mm: Figure,
}

impl From<LeverageKnowledge> for Leverage {
    fn from(knowledge: LeverageKnowledge) -> Self {
        let pair = |pair: &LeveragePair| Pair { stroke_mm: pair.stroke.into(), wheel_mm: pair.wheel.into() };
        match knowledge {
            LeverageKnowledge::TravelOnly => Self::TravelOnly,
            LeverageKnowledge::Ends { start, end } => Self::Ends { start: start.into(), end: end.into() },
            LeverageKnowledge::Measured(pairs) => Self::Measured(pairs.iter().map(pair).collect()),
        }
    }
}

impl From<Leverage> for LeverageKnowledge {
    fn from(leverage: Leverage) -> Self {
        let pair = |pair: &Pair| LeveragePair { stroke: pair.stroke_mm.into(), wheel: pair.wheel_mm.into() };
        match leverage {
            Leverage::TravelOnly => Self::TravelOnly,
            Leverage::Ends { start, end } => Self::Ends { start: start.into(), end: end.into() },
            Leverage::Measured(pairs) => Self::Measured(pairs.iter().map(pair).collect()),
        }
    }
}

/// A spring of the rack, its rate in lb/in or in N/mm.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SpringFields {
    number: u16,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rate_lb_in: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rate_n_mm: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    measured: Option<Measured>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stroke_mm: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    bore_mm: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    free_length_mm: Option<Figure>,
}

/// A spring's rate as somebody measured it.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Measured {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rate_lb_in: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rate_n_mm: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    uncertainty_lb_in: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    uncertainty_n_mm: Option<Figure>,
}

/// A spring of the rack; read and written as its fields, with exactly one unit for each rate.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(try_from = "SpringFields", into = "SpringFields")]
pub(super) struct Spring(pub(super) session::Spring);

impl From<Spring> for SpringFields {
    fn from(Spring(spring): Spring) -> Self {
        let label = InEitherUnit::rate(spring.label);
        Self {
            number: spring.number.0,
            rate_lb_in: label.said,
            rate_n_mm: label.reckoned,
            measured: spring.measured.map(Measured::from),
            stroke_mm: spring.stroke.map(Figure::from),
            bore_mm: spring.bore.map(Figure::from),
            free_length_mm: spring.free_length.map(Figure::from),
        }
    }
}

impl TryFrom<SpringFields> for Spring {
    type Error = &'static str;

    fn try_from(fields: SpringFields) -> Result<Self, Self::Error> {
        let label = InEitherUnit::of(fields.rate_lb_in, fields.rate_n_mm).to_rate();
        Ok(Self(session::Spring {
            number: SpringNumber(fields.number),
            label: label.ok_or("a spring needs its rate once, as rate_lb_in or as rate_n_mm")?,
            measured: fields.measured.map(Estimate::try_from).transpose()?,
            stroke: fields.stroke_mm.map(Into::into),
            bore: fields.bore_mm.map(Into::into),
            free_length: fields.free_length_mm.map(Into::into),
        }))
    }
}

impl From<Estimate<SpringRate>> for Measured {
    fn from(measured: Estimate<SpringRate>) -> Self {
        let rate = InEitherUnit::rate(measured.value);
        let uncertainty = InEitherUnit::rate(measured.uncertainty);
        Self {
            rate_lb_in: rate.said,
            rate_n_mm: rate.reckoned,
            uncertainty_lb_in: uncertainty.said,
            uncertainty_n_mm: uncertainty.reckoned,
        }
    }
}

impl TryFrom<Measured> for Estimate<SpringRate> {
    type Error = &'static str;

    fn try_from(measured: Measured) -> Result<Self, Self::Error> {
        let rate = InEitherUnit::of(measured.rate_lb_in, measured.rate_n_mm).to_rate();
        let uncertainty = InEitherUnit::of(measured.uncertainty_lb_in, measured.uncertainty_n_mm).to_rate();
        Ok(Self {
            value: rate.ok_or("a measured rate is given once, as rate_lb_in or as rate_n_mm")?,
            uncertainty: uncertainty.ok_or(
                "a measured rate needs its uncertainty once, as uncertainty_lb_in or as uncertainty_n_mm",
            )?,
        })
    }
}

/// The band wanted; read and written as its fields.
#[derive(Debug, Clone, Copy, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AimFields {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) aim_percent: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) aim_share: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) half_width_percent: Option<Figure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) half_width_share: Option<Figure>,
}

impl From<session::Aim> for AimFields {
    fn from(aim: session::Aim) -> Self {
        let sag = InEitherUnit::share(aim.sag);
        let half_width = InEitherUnit::share(aim.half_width);
        Self {
            aim_percent: sag.said,
            aim_share: sag.reckoned,
            half_width_percent: half_width.said,
            half_width_share: half_width.reckoned,
        }
    }
}

impl TryFrom<AimFields> for session::Aim {
    type Error = &'static str;

    fn try_from(fields: AimFields) -> Result<Self, Self::Error> {
        let sag = InEitherUnit::of(fields.aim_percent, fields.aim_share).to_share();
        let half_width = InEitherUnit::of(fields.half_width_percent, fields.half_width_share).to_share();
        Ok(Self {
            sag: sag.ok_or("the aim is given once, as aim_percent or as aim_share")?,
            half_width: half_width
                .ok_or("the aim needs its half width once, as half_width_percent or as half_width_share")?,
        })
    }
}

/// The band wanted, inside a correction.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(try_from = "AimFields", into = "AimFields")]
pub(super) struct Aim(pub(super) session::Aim);

impl From<Aim> for AimFields {
    fn from(Aim(aim): Aim) -> Self {
        aim.into()
    }
}

impl TryFrom<AimFields> for Aim {
    type Error = &'static str;

    fn try_from(fields: AimFields) -> Result<Self, Self::Error> {
        session::Aim::try_from(fields).map(Self)
    }
}

/// A detail told or corrected after the intake.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Detail {
    Who(Text),
    Notes(Text),
    BikeLabel(Text),
    Rider { kg: Figure },
    Bike { kg: Figure },
    WheelLoad(Option<WheelLoad>),
    Earlier(Option<Earlier>),
    Travel { mm: Figure },
    Leverage(Leverage),
    Stroke { mm: Figure },
    CollarPitch { mm: Figure },
    TurnsAllowed { turns: Figure },
    BodyDiameter { mm: Option<Figure> },
    Wheelbase { mm: Option<Figure> },
    RearCentre { mm: Option<Figure> },
    Aim(Aim),
    Ruler { mm: Figure },
    ReadingsWanted(u8),
    Rack(Vec<Spring>),
    Fitted(Option<u16>),
}
