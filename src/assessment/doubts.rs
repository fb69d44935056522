//! How far off the things nobody measures exactly may be: the figures behind every uncertainty, as one typed table.
//!
//! The values and the reason of each stand in `assets/doubts.ron`, which the shell reads and hands in, with the prices of
//! the work beside them. Not here: any default, so that there is one place to look.

use super::measurement::Measuring;
use super::prices::Prices;
use crate::units::{Estimate, Force, Length, Mass, Share, Turns};

/// The table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doubts {
    /// What a reading is worth.
    pub reading: ReadingDoubts,
    /// Standard uncertainty of a printed spring rate.
    pub label: Share,
    /// The least uncertainty with which a spring is known that an earlier session found.
    pub label_least: Share,
    /// What a season on a bike adds to that.
    pub label_a_use: Share,
    /// What is known of the load before any reading.
    pub load: LoadDoubts,
    /// What is known of the gas in the damper before any reading.
    pub gas: GasDoubts,
    /// What is known of the leverage before any reading.
    pub leverage: LeverageDoubts,
    /// Least chance of the band with which a spring is said to land.
    pub lands: Share,
    /// What the work costs.
    pub prices: Prices,
    /// What measuring costs, and what it tells.
    pub measuring: Measuring,
}

/// What a seated reading is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingDoubts {
    /// Scatter of one reading about its set's mean, before the session has shown its own.
    pub scatter: Length,
    /// Spare readings that start value weighs as much as.
    pub start_weight: f64,
    /// The least scatter anybody's readings have.
    pub least_scatter: Length,
    /// Posture from set to set, as a share of the load.
    pub posture: Share,
    /// Half-width of where two mechanics see contact.
    pub contact: Turns,
    /// How far a dragged indicator stands beyond the rest.
    pub ring_kept: Estimate<Length>,
    /// How far one pushed against the seal under the seated rider does.
    pub ring_pushed: Estimate<Length>,
    /// Doubts of its forecast from which the first mean of a set stands apart.
    pub stands_apart: f64,
    /// Readings of a set beyond which none is asked for.
    pub most: u8,
}

/// The load before any reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadDoubts {
    /// Share of the seated rider on the rear wheel.
    pub rider_share: Estimate<Share>,
    /// The doubt of that share where saddle and wheels were measured.
    pub measured_share_doubt: Share,
    /// Share of a rider standing on level pedals.
    pub standing_share: Estimate<Share>,
    /// How far off the load of a condition is whose weight was named, as a share of the load.
    pub condition: Share,
    /// The same, as a part of what the condition adds: where a pack or another rider sits.
    pub condition_by_weight: Share,
    /// What a condition may do to the load whose weight nobody named.
    pub condition_unweighed: Share,
    /// How much the share may drift from one season to the next.
    pub season_drift: Share,
    /// Share of the bike on its rear wheel.
    pub bike_share: Estimate<Share>,
    /// Mass at the rear that does not rest on the spring.
    pub unsprung: Estimate<Mass>,
    /// What a rider's weight is off by.
    pub rider_doubt: Mass,
    /// Standard uncertainty of the weight of a bike that nobody weighed.
    pub typical_bike_doubt: Mass,
    /// How far off the load may be, as a share of itself, where rider or wheel travel were not entered.
    pub load_unknown: Share,
}

/// The gas force before any reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasDoubts {
    /// Of a shock nobody knows the charge of.
    pub unknown: Estimate<Force>,
    /// What is left in doubt where a shock has no charge.
    pub none: Force,
    /// What is left where it was weighed, or reckoned from pressure and rod.
    pub entered: Force,
}

/// The leverage before any reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeverageDoubts {
    /// Fall-off when only travel and stroke are known.
    pub falloff: Estimate<Share>,
    /// Standard uncertainty of the fall-off once both ends or the curve were told.
    pub entered: Share,
    /// Belly of the curve beside the straight line, about nought.
    pub belly: Share,
    /// The same once the curve was measured.
    pub belly_measured: Share,
}
