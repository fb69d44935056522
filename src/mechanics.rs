//! Floor 1: one rider, one spring, one moment; pure statics.
//!
//! `leverage` is the curve from shock stroke to wheel travel, `pairs` what was measured of it, `survey` what it shows,
//! `balance` where the seated rider comes to rest on a spring, `spring` whether a spring fits a shock, `wire` a spring
//! from its wire, `whole_spring` how it fits in length and width, `ride` what else changes with it, `damper` what the
//! rebound knob is asked for, `deepest` how deep a ride takes another spring, `geometry` how the frame tips, `front` the
//! fork beside it. Not here: what is known how well (that is `assessment`), and any record.

pub mod balance;
pub mod damper;
pub mod deepest;
pub mod front;
pub mod geometry;
pub mod leverage;
pub mod pairs;
pub mod ride;
pub mod spring;
pub mod survey;
pub mod whole_spring;
pub mod wire;

pub use balance::{Resting, SeatedBalance};
pub use geometry::FrameLengths;
pub use leverage::{LeverageCurve, LeveragePair};
pub use ride::{RideFigures, ride_figures};
pub use spring::{Fit, Shock, Spring, SpringNumber, Stiffening, fit};
