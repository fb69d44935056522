//! What the trail check says about the aim: move the band, or look at damping or bump stop instead.
//!
//! The rules are common practice, no source: bottoming with a bike that sits deep asks for less sag, one that sits high
//! and never uses its stroke for more; bottoming at the right height is the bump stop's or compression damping's
//! business, and a feel that is off at the right height is rebound's. Not here: the advice that follows from a new aim.

use crate::session::{Bottoming, Feel, RideHeight, Target, TrailReport};
use crate::units::Share;

/// What the trail says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TrailFinding {
    /// The setup is confirmed.
    Confirmed,
    /// The band should move here.
    MoveTarget {
        /// The new aim.
        to: Target,
        /// By how much: more sag positive.
        by: Share,
    },
    /// The spring is not the place to look.
    LookElsewhere(Elsewhere),
    /// The band should move further than is sensible: something else is wrong.
    TargetAtItsLimit,
}

/// Where to look instead of at the spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Elsewhere {
    /// Bump stop, or compression damping.
    BumpStopOrCompression,
    /// Rebound damping.
    Rebound,
    /// Compression damping and tyre pressure.
    CompressionOrTyres,
}

/// The least and most sag a coil setup is usually aimed at (common practice, no source).
const SENSIBLE: (Share, Share) = (Share::percent(20.0), Share::percent(35.0));
/// How far the aim moves at once: about what a spring step of 25 lb/in does.
const NUDGE: Share = Share::percent(1.5);
/// How far it moves when two signs agree.
const STRIDE: Share = Share::percent(2.5);

/// Reads one trail report.
pub fn read(report: &TrailReport, target: Target) -> TrailFinding {
    match report.ride_height {
        RideHeight::Deep => match (report.bottoming, report.feel) {
            (Bottoming::Often, _) => moved(target, -STRIDE),
            (Bottoming::Never, Feel::Nervous) => TrailFinding::LookElsewhere(Elsewhere::Rebound),
            _ => moved(target, -NUDGE),
        },
        RideHeight::High => match (report.bottoming, report.feel) {
            (Bottoming::Often, _) => TrailFinding::LookElsewhere(Elsewhere::BumpStopOrCompression),
            (Bottoming::Never, Feel::Nervous) => moved(target, STRIDE),
            (Bottoming::NowAndThen, Feel::Dull) => TrailFinding::LookElsewhere(Elsewhere::Rebound),
            _ => moved(target, NUDGE),
        },
        RideHeight::Right => match (report.bottoming, report.feel) {
            (Bottoming::Often, _) => TrailFinding::LookElsewhere(Elsewhere::BumpStopOrCompression),
            (_, Feel::Right) => TrailFinding::Confirmed,
            (_, Feel::Dull) => TrailFinding::LookElsewhere(Elsewhere::Rebound),
            (_, Feel::Nervous) => TrailFinding::LookElsewhere(Elsewhere::CompressionOrTyres),
        },
    }
}

fn moved(target: Target, by: Share) -> TrailFinding {
    let sag = target.sag + by;
    if sag < SENSIBLE.0 || sag > SENSIBLE.1 {
        return TrailFinding::TargetAtItsLimit;
    }
    TrailFinding::MoveTarget { to: Target { sag, ..target }, by }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::FreeText;

    fn report(bottoming: Bottoming, ride_height: RideHeight, feel: Feel) -> TrailReport {
        TrailReport { bottoming, ride_height, feel, note: FreeText::default() }
    }

    #[test]
    fn a_bike_that_sits_deep_and_bottoms_often_wants_less_sag() {
        let finding = read(&report(Bottoming::Often, RideHeight::Deep, Feel::Right), Target::PLANTED);
        assert!(matches!(finding, TrailFinding::MoveTarget { to, .. } if to.sag < Target::PLANTED.sag));
    }

    #[test]
    fn bottoming_at_the_right_height_is_not_the_springs_business() {
        let finding = read(&report(Bottoming::Often, RideHeight::Right, Feel::Right), Target::PLANTED);
        assert_eq!(finding, TrailFinding::LookElsewhere(Elsewhere::BumpStopOrCompression));
    }

    #[test]
    fn the_aim_never_leaves_what_is_sensible() {
        let target = Target { sag: Share::percent(20.5), ..Target::LIVELY };
        let finding = read(&report(Bottoming::Often, RideHeight::Deep, Feel::Right), target);
        assert_eq!(finding, TrailFinding::TargetAtItsLimit);
    }
}
