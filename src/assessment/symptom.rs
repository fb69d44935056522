//! What bothers a rider, and the one thing to try first, before the spring is touched.
//!
//! The rules are common practice, no source. Each symptom has one remedy and one direction; the aim moves only where the
//! spring is the cause. Not here: the answers of the trail check (`trail`), and the reasons in words (`phrase::ride`).

use super::trail::{Elsewhere, TrailFinding};
use crate::mechanics::damper::ReboundWay;
use crate::session::Symptom;
use crate::units::Turns;

/// What to try first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remedy {
    /// Rebound, a click or two this way.
    Rebound(ReboundWay),
    /// Low-speed compression, a click or two.
    LowSpeed(Firmness),
    /// High-speed compression, a click or two.
    HighSpeed(Firmness),
    /// The collar back out.
    CollarBack,
    /// Seats, washer and body of the spring looked at.
    Seats,
    /// The fork, not the rear.
    ForkLowSpeed,
}

/// Which way a compression knob goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Firmness {
    /// More damping: towards closed.
    Firmer,
    /// Less damping: towards open.
    Softer,
}

/// Preload beyond which a harsh start or a knock at the top is the collar's doing (common practice, no source).
const MUCH_PRELOAD: Turns = Turns::of(1.0);

/// The first remedy of a symptom with the collar where it stands.
pub fn remedy(symptom: Symptom, preload_turns: Turns) -> Remedy {
    let preloaded = preload_turns > MUCH_PRELOAD;
    match symptom {
        Symptom::PacksDown => Remedy::Rebound(ReboundWay::Faster),
        Symptom::Wallows | Symptom::PedalStrikes => Remedy::LowSpeed(Firmness::Firmer),
        Symptom::HangsUp => Remedy::HighSpeed(Firmness::Softer),
        Symptom::HarshOffTheTop | Symptom::TopsOut if preloaded => Remedy::CollarBack,
        Symptom::HarshOffTheTop => Remedy::LowSpeed(Firmness::Softer),
        Symptom::Bucks | Symptom::TopsOut => Remedy::Rebound(ReboundWay::Slower),
        Symptom::Noise => Remedy::Seats,
        Symptom::Dives => Remedy::ForkLowSpeed,
    }
}

/// What the trail check says once it is known what bothers: a bike that packs down, wallows or bucks sits deep or high by
/// its damping, so the aim stays.
pub fn before_the_spring(finding: TrailFinding, symptom: Option<Symptom>) -> TrailFinding {
    let moves = matches!(finding, TrailFinding::MoveTarget { .. } | TrailFinding::TargetAtItsLimit);
    match symptom {
        Some(Symptom::PacksDown | Symptom::Bucks) if moves => TrailFinding::LookElsewhere(Elsewhere::Rebound),
        Some(Symptom::Wallows) if moves => TrailFinding::LookElsewhere(Elsewhere::CompressionOrTyres),
        _ => finding,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::Target;
    use crate::units::Share;

    #[test]
    fn packing_wants_faster_and_bucking_slower_rebound() {
        assert_eq!(remedy(Symptom::PacksDown, Turns::ZERO), Remedy::Rebound(ReboundWay::Faster));
        assert_eq!(remedy(Symptom::Bucks, Turns::ZERO), Remedy::Rebound(ReboundWay::Slower));
    }

    #[test]
    fn a_harsh_start_under_much_preload_is_the_collars() {
        assert_eq!(remedy(Symptom::HarshOffTheTop, Turns::of(2.0)), Remedy::CollarBack);
        assert_eq!(remedy(Symptom::HarshOffTheTop, Turns::ZERO), Remedy::LowSpeed(Firmness::Softer));
    }

    #[test]
    fn a_bike_that_packs_down_keeps_its_aim() {
        let moved = TrailFinding::MoveTarget { to: Target::LIVELY, by: Share::percent(-2.5) };
        let kept = TrailFinding::LookElsewhere(Elsewhere::Rebound);
        assert_eq!(before_the_spring(moved, Some(Symptom::PacksDown)), kept);
        assert_eq!(before_the_spring(moved, Some(Symptom::PedalStrikes)), moved);
        assert_eq!(before_the_spring(TrailFinding::Confirmed, Some(Symptom::Bucks)), TrailFinding::Confirmed);
    }
}
