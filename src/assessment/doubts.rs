//! How far off the things nobody measures exactly may be: the figures behind every uncertainty, as one typed table.
//!
//! The values and the reason of each stand in `assets/doubts.ron`, which the shell reads and hands in. Not here: any
//! default, so that there is one place to look.

use crate::units::{Length, Mass, Share, Turns};

/// The table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doubts {
    /// What a reading is worth.
    pub reading: ReadingDoubts,
    /// Standard uncertainty of a printed spring rate.
    pub label: Share,
    /// What is known of the load before any reading.
    pub load: LoadDoubts,
    /// What is known of the leverage before any reading.
    pub leverage: LeverageDoubts,
    /// What a decision takes.
    pub decision: DecisionLimits,
}

/// What a seated reading is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingDoubts {
    /// Scatter of one reading about its set's mean, before the session has shown its own.
    pub scatter: Length,
    /// Spare readings that start value weighs as much as.
    pub start_weight: f64,
    /// Posture from set to set, as a share of the stroke used.
    pub posture: Share,
    /// Half-width of where two mechanics see contact.
    pub contact: Turns,
    /// Standard deviations from which a reading or a set stands apart.
    pub stands_apart: f64,
    /// Level of the chi-square test beyond which trials disagree.
    pub disagree: Share,
}

/// The load before any reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadDoubts {
    /// Share of the seated rider on the rear wheel.
    pub rider_share: Share,
    /// Its standard uncertainty.
    pub u_rider_share: Share,
    /// How much that share may drift from one season to the next.
    pub season_drift: Share,
    /// Share of the bike on its rear wheel.
    pub bike_share: Share,
    /// Mass at the rear that does not rest on the spring.
    pub unsprung: Mass,
    /// Its standard uncertainty.
    pub u_unsprung: Mass,
    /// Standard uncertainty of the weight of a bike that nobody weighed.
    pub typical_bike_doubt: Mass,
    /// How far off the load may be, as a share of itself, where rider or wheel travel were not entered.
    pub load_unknown: Share,
}

/// The leverage before any reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeverageDoubts {
    /// Fall-off when only travel and stroke are known.
    pub falloff: Share,
    /// Its standard uncertainty then.
    pub travel_only: Share,
    /// The same once both ends were told.
    pub ends: Share,
    /// The same once the curve was measured.
    pub measured: Share,
    /// Share of the distance to the nearest measured stroke by which a forecast may be off.
    pub far_spring: Share,
}

/// What a decision takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DecisionLimits {
    /// Chance of the band from which no further reading is asked for.
    pub settled: Share,
    /// Readings with one spring and collar position after which another changes little.
    pub most_readings: u8,
    /// Chance another spring must gain before a swap.
    pub better_by: Share,
    /// Chance a trim must gain.
    pub preload_gain: Share,
    /// Turns that still count as trimming a little.
    pub little_preload: Turns,
    /// Worth of a spring that needs the collar beside one that lands by itself.
    pub rescue: Share,
    /// Least chance of a landing spring.
    pub lands: Share,
}
