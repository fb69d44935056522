//! What a ride told besides the three answers of the trail check: the deepest stroke, read off the same ring, what bothers
//! most, and the one thing that was changed before it.
//!
//! Not here: the answers of the trail check (`entry`), and what to try first (`assessment::symptom`).

use serde::{Deserialize, Serialize};

use crate::text::FreeText;
use crate::units::Length;

/// One ride.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RideTold {
    /// How far the indicator stood from the seal after the ride.
    #[serde(default, rename = "deepest_mm", skip_serializing_if = "Option::is_none")]
    pub deepest: Option<Length>,
    /// What bothers most.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub symptom: Option<Symptom>,
    /// The one thing that was changed since the ride before.
    #[serde(default, skip_serializing_if = "FreeText::is_empty")]
    pub changed: FreeText,
}

/// What a rider says bothers them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Symptom {
    /// Sinks deeper from one hit to the next.
    PacksDown,
    /// The rear kicks up off a lip.
    Bucks,
    /// Rolls and sinks about its middle in corners.
    Wallows,
    /// Stops short at a square edge.
    HangsUp,
    /// Hard over small bumps.
    HarshOffTheTop,
    /// Knocks at full extension.
    TopsOut,
    /// Creaks, twangs or rattles.
    Noise,
    /// The pedals strike the ground.
    PedalStrikes,
    /// The front dives.
    Dives,
}

impl Symptom {
    /// Every one.
    pub const ALL: [Self; 9] = [
        Self::PacksDown,
        Self::Bucks,
        Self::Wallows,
        Self::HangsUp,
        Self::HarshOffTheTop,
        Self::TopsOut,
        Self::Noise,
        Self::PedalStrikes,
        Self::Dives,
    ];
}

impl RideTold {
    /// Whether it tells nothing.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
