//! Warnings and trail findings in words.
//!
//! Not here: when they are raised (`assessment`).

use super::hazard::turn_limit;
use super::spring;
use crate::assessment::{Elsewhere, TrailFinding, Warning};
use crate::session::Setup;
use crate::units::{Length, Share, UnitSet};

/// A warning as a sentence or two: what, and what to do about it.
pub fn warning(warning: &Warning, setup: &Setup, units: UnitSet) -> String {
    match *warning {
        Warning::BenchCheckLeftOut => {
            "Bench check left to you: adjusters, tyres, bolts as the maker says.".to_owned()
        }
        Warning::ReadingApart(number) => format!(
            "Reading {} is far off. It counts, but less; void it if the rider bounced or the indicator was off.",
            number.0
        ),
        Warning::NotAsTold { read, expected, sets } => not_as_told([read, expected], sets, units),
        Warning::NotSettled => NOT_SETTLED.to_owned(),
        Warning::FrictionHigh(friction) => format!(
            "From above and from below the rest differs by {} at the shock. Service first: shaft seal, bushings, linkage \
             bearings.",
            units.show(friction)
        ),
        Warning::ReadingAtTheEnd(number) => format!(
            "Reading {} lies at the end of the stroke, so the rest may be deeper still. Fit a stiffer spring before sitting \
             again.",
            number.0
        ),
        Warning::SetsDisagree(set) => format!(
            "Set {set} is not where the sets before it put it. Check that one: indicator, collar, label."
        ),
        Warning::BeyondTurnsLimit { stands, allowed } => format!(
            "The collar is at {} of preload: {}. Back it off before riding.",
            units.show(stands),
            turn_limit(allowed, setup.turns_limit_from(), units)
        ),
        Warning::FittedBinds { spring: number, needed } => {
            fitted_binds(&spring(number, &setup.springs, units), &units.show(needed))
        }
        Warning::FittedTooNarrow(number) => fitted_too_narrow(&spring(number, &setup.springs, units)),
        Warning::FittedStrokeUnknown(number) => {
            fitted_stroke_unknown(&spring(number, &setup.springs, units), &units.show(setup.shock.stroke))
        }
        Warning::LoadUnlikely { findings, expected } => format!(
            "The readings speak of {} on the rear wheel, the weights of {}. Check weights, stroke, travel and label.",
            units.show(findings),
            units.show(expected)
        ),
        Warning::MeanLeverageUnusual(ratio) => {
            format!("Travel over stroke is {}, which few frames have. Check both.", units.show(ratio))
        }
        Warning::RearShareHigh(share) => format!(
            "The scale puts {} of bike and rider on the rear wheel. Was the front wheel raised to the same height?",
            units.show(share)
        ),
        Warning::ScatterHigh(scatter) => format!(
            "Readings spread by {}. Sit gently, feet up, and seat the indicator each time.",
            units.show(scatter)
        ),
    }
}

const NOT_SETTLED: &str = "No load explains readings, weights and springs together. Check every figure entered; what is \
                           said here is not to be relied on.";

fn not_as_told([read, expected]: [Length; 2], sets: usize, units: UnitSet) -> String {
    let [read, expected] = [read, expected].map(|read| units.show(read));
    if sets > 1 {
        format!(
            "The {sets} sets agree with each other, but not with weights, travel and stroke: {read} was read where {expected} \
             was expected. Check rider weight, travel and stroke."
        )
    } else {
        format!("{read} was read where weights, travel and stroke say {expected}. Check both.")
    }
}

fn fitted_binds(fitted: &str, needed: &str) -> String {
    format!(
        "The {fitted} on the bike would bind: the shock compresses it {needed}. Do not ride it; fit one with more stroke."
    )
}

fn fitted_too_narrow(fitted: &str) -> String {
    format!(
        "The {fitted} on the bike is too narrow for the shock body. Do not ride it; fit one with a larger inner diameter."
    )
}

fn fitted_stroke_unknown(fitted: &str, stroke: &str) -> String {
    format!(
        "The stroke of the {fitted} is not known. Read it off the spring: it must exceed {stroke} plus preload."
    )
}

/// What the trail says about the aim, as a sentence.
pub fn trail_finding(finding: &TrailFinding, units: UnitSet) -> String {
    match finding {
        TrailFinding::Confirmed => "The trail ride confirms the setup.".to_owned(),
        TrailFinding::MoveTarget { to, by } => {
            let why = if *by > Share::ZERO {
                "It sits high or leaves stroke unused, so a little more sag"
            } else {
                "It sits deep or uses too much stroke, so a little less sag"
            };
            format!("{why}: move the target to {} and go round once more.", units.show(to.sag))
        }
        TrailFinding::TargetAtItsLimit => {
            "The target is already at its sensible limit. Look at damping, bump stop and the entered figures."
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
