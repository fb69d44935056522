//! What an earlier session of the same rider and bike taught, carried into a new one.
//!
//! What belongs to rider and bike is carried: how much of the rider rests on the rear wheel and how the leverage falls, with
//! how well both were known; and what the spring was found to be that stayed on the bike. The others keep their labels. Not here: how it is reckoned (`assessment::next_visit`).

use super::entry::Stamp;
use crate::units::{Estimate, Force, Length, Mass, Share, SpringRate};

/// What an earlier session taught of rider and bike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Earlier {
    /// When that session was opened.
    pub opened: Stamp,
    /// Share of the seated rider on the rear wheel.
    pub rider_share: Estimate<Share>,
    /// Linear fall-off of the leverage ratio, as a share of its mean.
    pub falloff: Estimate<Share>,
    /// How the doubts of the two hang together: a correlation, from -1 to 1 as parts of one.
    pub correlation: Share,
    /// What it taught of the gas in the damper; none from a program that knew nothing of it.
    pub gas: Option<EarlierGas>,
    /// What it was learned on; none from a program that did not write it, and then taken for the same.
    pub learned_on: Option<LearnedOn>,
    /// The spring it left on the bike, and what it was found to be.
    pub spring: Option<FoundSpring>,
}

/// A spring as readings found it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundSpring {
    /// The rate printed on it.
    pub label: SpringRate,
    /// Its rate as a part of the label.
    pub ratio: Estimate<Share>,
}

/// The rider and the frame something was learned on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LearnedOn {
    /// Rider ready to ride.
    pub rider: Mass,
    /// Rear wheel travel.
    pub travel: Length,
    /// Shock stroke.
    pub stroke: Length,
}

/// A rider whose weight is off by more than this share is another, or sits otherwise (common practice, no source).
const SAME_RIDER: f64 = 0.10;
/// Travel or stroke off by more than this share are those of another frame, shock or setting (common practice, no source).
const SAME_FRAME: f64 = 0.02;

impl Earlier {
    /// Whether what was learned of the rider goes for one of this weight.
    pub fn is_of_rider(&self, rider: Mass) -> bool {
        self.learned_on.is_none_or(|on| (rider / on.rider - 1.0).abs() <= SAME_RIDER)
    }

    /// Whether what was learned of linkage and damper goes for a frame with this travel and stroke.
    pub fn is_of_frame(&self, travel: Length, stroke: Length) -> bool {
        let same = |now: Length, then: Length| (now / then - 1.0).abs() <= SAME_FRAME;
        self.learned_on.is_none_or(|on| same(travel, on.travel) && same(stroke, on.stroke))
    }
}

/// What an earlier session taught of the gas in the damper: load and gas are read together, and how their doubts hang
/// together is most of what is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EarlierGas {
    /// Its force on the shaft.
    pub force: Estimate<Force>,
    /// Correlation with the rider's share.
    pub with_share: Share,
    /// Correlation with the fall-off.
    pub with_falloff: Share,
}
