//! What an earlier session of the same rider and bike taught, carried into a new one.
//!
//! Only what belongs to rider and bike is carried: how much of the rider rests on the rear wheel and how the leverage
//! falls, with how well both were known. The springs keep their labels; last season's spring may have gone back on the
//! rack. Not here: how it is reckoned (`assessment::next_visit`).

use super::entry::Stamp;
use crate::units::{Estimate, Force, Share};

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
