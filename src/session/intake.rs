//! What is told before the work begins: rider, bike, shock, aim, ruler and the rack of springs at hand.
//!
//! [`Intake`] may have gaps while it is being filled in; [`Setup`] has none and is what the mathematics reads. Not here:
//! which facts there are (`facts`), and what is allowed in each (`limits`).

use super::earlier::Earlier;
pub use super::facts::{About, Detail, Fact, FormRow, Group, Intake, Shape, Value};
use super::limits;
use super::refusal::Refusal;
use super::typical;
pub use crate::mechanics::geometry::FrameLengths;
pub use crate::mechanics::leverage::LeveragePair;
pub use crate::mechanics::spring::{Shock, Spring, SpringNumber};
use crate::units::{Estimate, Force, Length, LeverageRatio, Mass, Pressure, Share};

/// Where a record comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
pub enum Origin {
    /// A real session.
    #[default]
    Workshop,
    /// An invented one, for showing and testing the program.
    Demonstration,
}

/// Where the limit of collar turns comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitFrom {
    /// It is typical of shocks; nobody entered one.
    Typical,
    /// Somebody entered it.
    Entered,
}

/// The band of sag wanted, as shares of the shock stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// The middle of the band.
    pub sag: Share,
    /// Half its width.
    pub tolerance: Share,
}

impl Target {
    /// About 30 %: planted (common practice, no source).
    pub const PLANTED: Self = Self { sag: Share::percent(30.0), tolerance: Share::percent(1.5) };
    /// About 25 %: lively (common practice, no source).
    pub const LIVELY: Self = Self { sag: Share::percent(25.0), tolerance: Share::percent(1.5) };

    /// Least sag inside the band.
    pub fn low(self) -> Share {
        self.sag - self.tolerance
    }

    /// Most sag inside the band.
    pub fn high(self) -> Share {
        self.sag + self.tolerance
    }

    /// Whether a sag lies inside the band, its edges included.
    pub fn holds(self, sag: Share) -> bool {
        (sag - self.sag).abs() <= self.tolerance + Share::percent(1e-9)
    }
}

/// What a scale under the rear wheel showed with the rider seated, front wheel raised to the same height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelLoad {
    /// The reading, with the standard uncertainty of scale and posture.
    pub shown: Estimate<Mass>,
}

/// What is known of the charge in the damper, which pushes the shaft out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Charge {
    /// This damper has none.
    Nothing,
    /// The bare shock was pushed in and let out on a scale: the mean of both.
    Weighed(Force),
    /// Pressure, and the diameter of the rod it pushes on.
    Pressure {
        /// Above that of the air.
        pressure: Pressure,
        /// Of the shaft at the seal.
        rod: Length,
    },
}

/// What is known of the leverage ratio, in three grades.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub enum LeverageKnowledge {
    /// Only travel and stroke: their quotient is the mean ratio.
    #[default]
    TravelOnly,
    /// The ratio at full extension and at full compression.
    Ends {
        /// At full extension.
        start: LeverageRatio,
        /// At full compression.
        end: LeverageRatio,
    },
    /// Pairs measured on the bike with the spring off, in order of stroke.
    Measured(Vec<LeveragePair>),
}

/// A complete intake: what the mathematics and the walk reckon with.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Rider ready to ride.
    pub rider: Mass,
    /// The bike alone.
    pub bike: Mass,
    /// A scale under the rear wheel.
    pub wheel_load: Option<WheelLoad>,
    /// What an earlier session of the same rider and bike taught.
    pub earlier: Option<Earlier>,
    /// The spring the bike came with.
    pub spring_on_arrival: Option<SpringNumber>,
    /// Mass at the rear that does not rest on the spring, where it was told.
    pub unsprung: Option<Mass>,
    /// The charge in the damper, where it was told.
    pub charge: Option<Charge>,
    /// How far the saddle stands behind the bottom bracket, where it was measured.
    pub saddle_behind: Option<Length>,
    /// Rear wheel travel.
    pub travel: Length,
    /// What is known of the leverage.
    pub leverage: LeverageKnowledge,
    /// The shock.
    pub shock: Shock,
    /// The frame's lengths, as far as they were told.
    pub frame: FrameLengths,
    /// The band wanted.
    pub target: Target,
    /// The ruler's resolution.
    pub ruler: Length,
    /// Readings to take with one spring before the verdict.
    pub readings_each: u8,
    /// The springs at hand.
    pub springs: Vec<Spring>,
    /// The facts that were not entered: a typical value stands here for each.
    pub typical: Vec<Fact>,
}

impl Setup {
    /// What an earlier session taught, as far as its rider is this one.
    pub fn earlier_of_rider(&self) -> Option<Earlier> {
        self.earlier.filter(|earlier| earlier.is_of_rider(self.rider))
    }

    /// The same, as far as its frame is this one.
    pub fn earlier_of_frame(&self) -> Option<Earlier> {
        self.earlier.filter(|earlier| earlier.is_of_frame(self.travel, self.shock.stroke))
    }

    /// Whether the fact was entered, so that what stands here is nobody's guess.
    pub fn is_entered(&self, fact: Fact) -> bool {
        !self.typical.contains(&fact)
    }

    /// Readings a set takes before there is advice, so many sets before it: as entered, else two first and one later.
    pub fn readings_wanted(&self, sets_before: usize) -> usize {
        let later = sets_before > 0 && !self.is_entered(Fact::ReadingsEach);
        usize::from(if later { typical::READINGS_LATER } else { self.readings_each })
    }

    /// Where the limit of collar turns comes from.
    pub fn turns_limit_from(&self) -> LimitFrom {
        if self.is_entered(Fact::TurnsLimit) { LimitFrom::Entered } else { LimitFrom::Typical }
    }

    /// Whether the load can be told from weights: rider and wheel travel were entered.
    pub fn knows_the_load(&self) -> bool {
        self.is_entered(Fact::Rider) && self.is_entered(Fact::Travel)
    }

    /// The spring of that number, if it is on the rack.
    pub fn spring(&self, number: SpringNumber) -> Option<&Spring> {
        self.springs.iter().find(|spring| spring.number == number)
    }

    /// Share of the seated rider on the rear wheel by the lever of the measured lengths; none where one is missing.
    pub fn share_by_lengths(&self) -> Option<Share> {
        let FrameLengths { wheelbase, rear_centre } = self.frame;
        let before_axle = rear_centre? - self.saddle_behind? + RIDER_BEFORE_SADDLE;
        Some(Share::fraction((1.0 - before_axle / wheelbase?).clamp(0.3, 1.0)))
    }
}

/// How far before the middle of the saddle a seated rider's weight acts, hands on the bar: chosen so that a usual bike comes to
/// 0.66 (common practice, no source).
const RIDER_BEFORE_SADDLE: Length = Length::mm(170.0);

impl Intake {
    /// Takes one detail in.
    ///
    /// # Errors
    /// When the detail is outside what is possible, alone or beside what was told before; nothing is changed then.
    pub fn enter(&mut self, detail: Detail) -> Result<(), Refusal> {
        let mut entered = self.clone();
        entered.put(detail);
        limits::check(&entered)?;
        *self = entered;
        Ok(())
    }

    /// Takes details in together, in any order.
    ///
    /// # Errors
    /// When one of them is impossible; nothing is changed then.
    pub fn enter_all(&mut self, details: impl IntoIterator<Item = Detail>) -> Result<(), Refusal> {
        let mut entered = self.clone();
        details.into_iter().for_each(|detail| entered.put(detail));
        limits::check(&entered)?;
        *self = entered;
        Ok(())
    }

    /// The complete setup, once nothing is missing; typical values stand for what was not entered.
    pub fn complete(&self) -> Option<Setup> {
        if self.springs.is_empty() {
            return None;
        }
        let stroke = self.stroke?;
        Some(Setup {
            rider: self.rider.unwrap_or(typical::RIDER),
            bike: self.bike.unwrap_or(typical::BIKE),
            wheel_load: self.wheel_load,
            earlier: self.earlier,
            spring_on_arrival: self.spring_on_arrival,
            unsprung: self.unsprung,
            charge: self.charge,
            saddle_behind: self.saddle_behind,
            travel: self.travel.unwrap_or(stroke * typical::MEAN_LEVERAGE),
            leverage: self.leverage.clone(),
            shock: Shock {
                stroke,
                collar_pitch: self.collar_pitch.unwrap_or(typical::COLLAR_PITCH),
                turns_limit: self.turns_limit.unwrap_or(typical::TURNS_ALLOWED),
                body_diameter: self.body_diameter,
            },
            frame: FrameLengths { wheelbase: self.wheelbase, rear_centre: self.rear_centre },
            target: self.target.unwrap_or(typical::AIM),
            ruler: self.ruler.unwrap_or(typical::RULER),
            readings_each: self.readings_each.unwrap_or(typical::READINGS),
            springs: self.springs.clone(),
            typical: self.not_entered(),
        })
    }
}
