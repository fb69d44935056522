//! What is told before the work begins: rider, bike, shock, aim, ruler and the rack of springs at hand.
//!
//! [`Intake`] may have gaps while it is being filled in; [`Setup`] has none and is what the mathematics reads. Each
//! field on its own is a [`Detail`], so that filling in, correcting later and moving the aim are one mechanism. Not
//! here: what is allowed in each (`limits`).

use super::earlier::Earlier;
use super::limits;
use super::refusal::Refusal;
pub use crate::mechanics::geometry::FrameLengths;
pub use crate::mechanics::leverage::LeveragePair;
pub use crate::mechanics::spring::{Shock, Spring, SpringNumber};
use crate::text::FreeText;
use crate::units::{Estimate, Length, LeverageRatio, Mass, Share, Turns};

/// What has been told so far.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Intake {
    /// Whether this is a real session or a demonstration.
    pub origin: Origin,
    /// Name or reference of the customer, and free notes.
    pub who: FreeText,
    /// Anything worth knowing.
    pub notes: FreeText,
    /// The bike, in the shop's words.
    pub bike_label: FreeText,
    /// Rider ready to ride, kit included.
    pub rider: Option<Mass>,
    /// The bike alone.
    pub bike: Option<Mass>,
    /// What a scale under the rear wheel showed with the rider seated, if it was tried.
    pub wheel_load: Option<WheelLoad>,
    /// What an earlier session of the same rider and bike taught.
    pub earlier: Option<Earlier>,
    /// Rear wheel travel.
    pub travel: Option<Length>,
    /// What is known of the leverage ratio.
    pub leverage: LeverageKnowledge,
    /// Stroke of the shock.
    pub stroke: Option<Length>,
    /// Thread pitch of the preload collar.
    pub collar_pitch: Option<Length>,
    /// Collar turns past contact the maker of the shock allows.
    pub turns_allowed: Option<Turns>,
    /// Outer diameter of the shock body, where the spring has to pass over it.
    pub body_diameter: Option<Length>,
    /// The frame's lengths, where somebody wants to know how it tips.
    pub frame: FrameLengths,
    /// The band wanted.
    pub aim: Option<Aim>,
    /// The least difference the ruler shows.
    pub ruler: Option<Length>,
    /// Readings to take with one spring before the verdict.
    pub readings_wanted: Option<u8>,
    /// The springs at hand.
    pub rack: Vec<Spring>,
    /// The spring on the bike as it comes in; none when the shock has none yet.
    pub fitted: Option<SpringNumber>,
}

/// Where a record comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Origin {
    /// A real session.
    #[default]
    Workshop,
    /// An invented one, for showing and testing the program.
    Demonstration,
}

/// The band of sag wanted, as shares of the shock stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// The middle of the band.
    pub sag: Share,
    /// Half its width.
    pub half_width: Share,
}

impl Aim {
    /// About 30 %: planted (common practice, no source).
    pub const PLANTED: Self = Self { sag: Share::percent(30.0), half_width: Share::percent(1.5) };
    /// About 25 %: lively (common practice, no source).
    pub const LIVELY: Self = Self { sag: Share::percent(25.0), half_width: Share::percent(1.5) };

    /// Least sag inside the band.
    pub fn low(self) -> Share {
        self.sag - self.half_width
    }

    /// Most sag inside the band.
    pub fn high(self) -> Share {
        self.sag + self.half_width
    }

    /// Whether a sag lies inside the band, its edges included.
    pub fn holds(self, sag: Share) -> bool {
        (sag - self.sag).abs() <= self.half_width + Share::percent(1e-9)
    }
}

/// What a scale under the rear wheel showed with the rider seated, front wheel raised to the same height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelLoad {
    /// The reading, with the standard uncertainty of scale and posture.
    pub shown: Estimate<Mass>,
}

/// What is known of the leverage ratio, in three grades.
#[derive(Debug, Clone, PartialEq, Default)]
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

/// One field of the intake.
#[derive(Debug, Clone, PartialEq)]
pub enum Detail {
    /// Name or reference.
    Who(FreeText),
    /// Notes.
    Notes(FreeText),
    /// The bike in words.
    BikeLabel(FreeText),
    /// Rider ready to ride.
    Rider(Mass),
    /// Bike alone.
    Bike(Mass),
    /// A scale under the rear wheel; none takes it back.
    WheelLoad(Option<WheelLoad>),
    /// What an earlier session taught; none takes it back.
    Earlier(Option<Earlier>),
    /// Rear wheel travel.
    Travel(Length),
    /// What is known of the leverage.
    Leverage(LeverageKnowledge),
    /// Shock stroke.
    Stroke(Length),
    /// Collar thread pitch.
    CollarPitch(Length),
    /// Collar turns allowed past contact.
    TurnsAllowed(Turns),
    /// Shock body diameter; none takes it back.
    BodyDiameter(Option<Length>),
    /// Wheelbase; none takes it back.
    Wheelbase(Option<Length>),
    /// Rear centre; none takes it back.
    RearCentre(Option<Length>),
    /// The band wanted.
    Aim(Aim),
    /// The ruler's resolution.
    Ruler(Length),
    /// Readings wanted a set.
    ReadingsWanted(u8),
    /// The springs at hand.
    Rack(Vec<Spring>),
    /// The spring on the bike as it comes in.
    Fitted(Option<SpringNumber>),
}

/// What the intake still lacks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Missing {
    /// Rider's mass.
    Rider,
    /// Bike's mass.
    Bike,
    /// Wheel travel.
    Travel,
    /// Shock stroke.
    Stroke,
    /// Collar pitch.
    CollarPitch,
    /// Turns allowed.
    TurnsAllowed,
    /// Aim.
    Aim,
    /// Ruler's resolution.
    Ruler,
    /// Readings wanted.
    ReadingsWanted,
    /// Springs at hand.
    Rack,
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
    /// Rear wheel travel.
    pub travel: Length,
    /// What is known of the leverage.
    pub leverage: LeverageKnowledge,
    /// The shock.
    pub shock: Shock,
    /// The frame's lengths, as far as they were told.
    pub frame: FrameLengths,
    /// The band wanted.
    pub aim: Aim,
    /// The ruler's resolution.
    pub ruler: Length,
    /// Readings to take with one spring before the verdict.
    pub readings_wanted: u8,
    /// The springs at hand.
    pub rack: Vec<Spring>,
}

impl Setup {
    /// The spring of that number, if it is on the rack.
    pub fn spring(&self, number: SpringNumber) -> Option<&Spring> {
        self.rack.iter().find(|spring| spring.number == number)
    }
}

impl Intake {
    /// Takes one detail in.
    ///
    /// # Errors
    /// When the detail is outside what is possible, alone or beside what was told before; nothing is changed then.
    pub fn tell(&mut self, detail: Detail) -> Result<(), Refusal> {
        let mut told = self.clone();
        told.put(detail);
        limits::check(&told)?;
        *self = told;
        Ok(())
    }

    fn put(&mut self, detail: Detail) {
        match detail {
            Detail::Who(text) => self.who = text,
            Detail::Notes(text) => self.notes = text,
            Detail::BikeLabel(text) => self.bike_label = text,
            Detail::Rider(mass) => self.rider = Some(mass),
            Detail::Bike(mass) => self.bike = Some(mass),
            Detail::WheelLoad(load) => self.wheel_load = load,
            Detail::Earlier(earlier) => self.earlier = earlier,
            Detail::Travel(length) => self.travel = Some(length),
            Detail::Leverage(knowledge) => self.leverage = knowledge,
            Detail::Stroke(length) => self.stroke = Some(length),
            Detail::CollarPitch(length) => self.collar_pitch = Some(length),
            Detail::TurnsAllowed(turns) => self.turns_allowed = Some(turns),
            Detail::BodyDiameter(length) => self.body_diameter = length,
            Detail::Wheelbase(length) => self.frame.wheelbase = length,
            Detail::RearCentre(length) => self.frame.rear_centre = length,
            Detail::Aim(aim) => self.aim = Some(aim),
            Detail::Ruler(length) => self.ruler = Some(length),
            Detail::ReadingsWanted(count) => self.readings_wanted = Some(count),
            Detail::Rack(rack) => self.rack = rack,
            Detail::Fitted(number) => self.fitted = number,
        }
    }

    /// Everything that was told, in an order in which it can be told again: what is checked against something comes after it.
    pub fn details(&self) -> Vec<Detail> {
        let text = |text: &FreeText| (!text.is_empty()).then(|| text.clone());
        let leverage = (self.leverage != LeverageKnowledge::TravelOnly).then(|| self.leverage.clone());
        let rack = (!self.rack.is_empty()).then(|| self.rack.clone());
        [
            text(&self.who).map(Detail::Who),
            text(&self.notes).map(Detail::Notes),
            text(&self.bike_label).map(Detail::BikeLabel),
            self.rider.map(Detail::Rider),
            self.bike.map(Detail::Bike),
            self.wheel_load.map(|load| Detail::WheelLoad(Some(load))),
            self.earlier.map(|earlier| Detail::Earlier(Some(earlier))),
            self.travel.map(Detail::Travel),
            self.stroke.map(Detail::Stroke),
            leverage.map(Detail::Leverage),
            self.collar_pitch.map(Detail::CollarPitch),
            self.turns_allowed.map(Detail::TurnsAllowed),
            self.body_diameter.map(|body| Detail::BodyDiameter(Some(body))),
            self.frame.wheelbase.map(|length| Detail::Wheelbase(Some(length))),
            self.frame.rear_centre.map(|length| Detail::RearCentre(Some(length))),
            self.aim.map(Detail::Aim),
            self.ruler.map(Detail::Ruler),
            self.readings_wanted.map(Detail::ReadingsWanted),
            rack.map(Detail::Rack),
            self.fitted.map(|fitted| Detail::Fitted(Some(fitted))),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// What is still needed before the work can begin, in the order the intake asks for it.
    pub fn missing(&self) -> Vec<Missing> {
        let needs = [
            (self.rider.is_none(), Missing::Rider),
            (self.bike.is_none(), Missing::Bike),
            (self.travel.is_none(), Missing::Travel),
            (self.stroke.is_none(), Missing::Stroke),
            (self.collar_pitch.is_none(), Missing::CollarPitch),
            (self.turns_allowed.is_none(), Missing::TurnsAllowed),
            (self.aim.is_none(), Missing::Aim),
            (self.ruler.is_none(), Missing::Ruler),
            (self.readings_wanted.is_none(), Missing::ReadingsWanted),
            (self.rack.is_empty(), Missing::Rack),
        ];
        needs.into_iter().filter(|(lacking, _)| *lacking).map(|(_, missing)| missing).collect()
    }

    /// The complete setup, once nothing is missing.
    pub fn complete(&self) -> Option<Setup> {
        if self.rack.is_empty() {
            return None;
        }
        Some(Setup {
            rider: self.rider?,
            bike: self.bike?,
            wheel_load: self.wheel_load,
            earlier: self.earlier,
            travel: self.travel?,
            leverage: self.leverage.clone(),
            shock: Shock {
                stroke: self.stroke?,
                collar_pitch: self.collar_pitch?,
                turns_allowed: self.turns_allowed?,
                body_diameter: self.body_diameter,
            },
            frame: self.frame,
            aim: self.aim?,
            ruler: self.ruler?,
            readings_wanted: self.readings_wanted?,
            rack: self.rack.clone(),
        })
    }
}
