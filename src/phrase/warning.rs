//! Warnings and trail findings in words.
//!
//! Not here: when they are raised (`assessment`).

use super::hazard::turn_limit;
use super::spring;
use crate::assessment::{Elsewhere, TrailFinding, Warning};
use crate::session::Setup;
use crate::units::{Share, UnitSet};

/// A warning as a sentence or two: what, and what to do about it.
pub fn warning(warning: &Warning, setup: &Setup, units: UnitSet) -> String {
    match *warning {
        Warning::BenchCheckLeftOut => {
            "The bench check was left to you: adjusters open, tyres at pressure, bolts at the maker's figures.".to_owned()
        }
        Warning::ReadingApart(number) => format!(
            "Reading {} stands apart. It counts, but less; void it if the rider bounced or the indicator was off.",
            number.0
        ),
        Warning::SetsDisagree(set) => format!("Set {set} does not go with the other sets. Check collar and indicator."),
        Warning::BeyondTurnsLimit { stands, allowed } => format!(
            "The collar is at {} past contact: {}. Back it off before riding.",
            units.show(stands),
            turn_limit(allowed, setup.turns_limit_from(), units)
        ),
        Warning::FittedBinds { spring: number, needed } => format!(
            "The {} on the bike would bind: the shock compresses it {}. Do not ride it; fit one with more stroke.",
            spring(number, &setup.springs, units),
            units.show(needed)
        ),
        Warning::FittedStrokeUnknown(number) => format!(
            "The stroke of the {} is not known. Read it off the spring: it must exceed {} plus preload.",
            spring(number, &setup.springs, units),
            units.show(setup.shock.stroke)
        ),
        Warning::LoadUnlikely { findings, expected } => format!(
            "The readings speak of {} on the rear wheel, the weights of {}. Check weights, stroke, travel and label.",
            units.show(findings),
            units.show(expected)
        ),
        Warning::MeanLeverageUnusual(ratio) => format!(
            "Travel over stroke is {}, which few frames have. Check both.",
            units.show(ratio)
        ),
        Warning::RearShareHigh(share) => format!(
            "The scale puts {} of bike and rider on the rear wheel. Was the front wheel raised to the same height?",
            units.show(share)
        ),
        Warning::ScatterHigh(scatter) => format!(
            "Readings scatter by {}. Sit gently, feet up, and seat the indicator each time.",
            units.show(scatter)
        ),
    }
}

/// What the trail says about the aim, as a sentence.
pub fn trail_finding(finding: &TrailFinding, units: UnitSet) -> String {
    match finding {
        TrailFinding::Confirmed => "The trail confirms the setup.".to_owned(),
        TrailFinding::MoveTarget { to, by } => {
            let why = if *by > Share::ZERO {
                "It sits high or leaves stroke unused, so a little more sag"
            } else {
                "It sits deep or uses too much stroke, so a little less sag"
            };
            format!("{why}: move the aim to {} and go round once more.", units.show(to.sag))
        }
        TrailFinding::TargetAtItsLimit => {
            "The aim is already as far as is sensible. Look at damping, bump stop and the entered figures."
                .to_owned()
        }
        TrailFinding::LookElsewhere(elsewhere) => match elsewhere {
            Elsewhere::BumpStopOrCompression => {
                "The sag is right; bottoming is for the bump stop or compression damping.".to_owned()
            }
            Elsewhere::Rebound => "Leave the spring; try rebound damping first.".to_owned(),
            Elsewhere::CompressionOrTyres => {
                "Leave the spring; try rebound damping first, then compression damping and tyre pressure."
                    .to_owned()
            }
        },
    }
}
