//! A ride in words: what bothers the rider, the first thing to try with its direction and reason, how deep the deepest hit
//! would go on another spring, and what was changed between two rides.
//!
//! Not here: which remedy (`assessment::symptom`), and the three answers of the trail check (`deed`).

use super::spring;
use crate::assessment::ridden::{Bumper, Ridden};
use crate::assessment::symptom::{Firmness, Remedy};
use crate::mechanics::damper::ReboundWay;
use crate::session::{RideTold, Setup, Symptom};
use crate::units::{Share, Show, UnitSet};

/// What the sentences are called.
pub const RIDE: &str = "The ride";
/// What every ride is told.
pub const ONE_AT_A_TIME: &str = "Change one thing at a time, on the same trail: two at once tell nothing.";
/// No symptom.
pub const NOTHING_BOTHERS: &str = "nothing";

/// A symptom as the rider says it.
pub const fn symptom(symptom: Symptom) -> &'static str {
    match symptom {
        Symptom::PacksDown => "packs down",
        Symptom::Bucks => "bucks",
        Symptom::Wallows => "wallows",
        Symptom::HangsUp => "hangs up on edges",
        Symptom::HarshOffTheTop => "harsh off the top",
        Symptom::TopsOut => "tops out",
        Symptom::Noise => "makes a noise",
        Symptom::PedalStrikes => "pedal strikes",
        Symptom::Dives => "front dives",
    }
}

/// What to try first, in a few words.
pub const fn remedy(remedy: Remedy) -> &'static str {
    match remedy {
        Remedy::Rebound(ReboundWay::Faster) => "Rebound 1 or 2 clicks faster, towards open",
        Remedy::Rebound(ReboundWay::Slower) => "Rebound 1 or 2 clicks slower, towards closed",
        Remedy::LowSpeed(Firmness::Firmer) => "Low-speed compression 1 or 2 clicks firmer, towards closed",
        Remedy::LowSpeed(Firmness::Softer) => "Low-speed compression 1 or 2 clicks softer, towards open",
        Remedy::HighSpeed(Firmness::Firmer) => "High-speed compression 1 or 2 clicks firmer, towards closed",
        Remedy::HighSpeed(Firmness::Softer) => "High-speed compression 1 or 2 clicks softer, towards open",
        Remedy::CollarBack => "Collar back half a turn; if sag is then too much, a stiffer spring",
        Remedy::Seats => {
            "Look at seats, washer and the spring against the body; clean, and grease the seats thinly"
        }
        Remedy::ForkLowSpeed => "Fork first: its sag, then its low-speed compression 1 or 2 clicks firmer",
    }
}

/// Why that comes first.
pub const fn reason(symptom: Symptom) -> &'static str {
    match symptom {
        Symptom::PacksDown => {
            "the shock is still coming back when the next hit arrives, so it sinks deeper each time"
        }
        Symptom::Bucks => "the spring comes back quicker than the damper holds it",
        Symptom::Wallows => "slow movements in corners are held by low-speed compression, not by the spring",
        Symptom::HangsUp => "a square edge wants to move the shock quicker than the valve lets it",
        Symptom::HarshOffTheTop => "something holds the first millimetres: preload, or compression damping",
        Symptom::TopsOut => "it comes back to full length with speed, or is pushed there by preload",
        Symptom::Noise => "a dry or dirty seat creaks and twangs, and a spring that touches the body rattles",
        Symptom::PedalStrikes => {
            "pedalling sinks the bike slowly; if sag is over the target, look at that first"
        }
        Symptom::Dives => {
            "a front that dives is the fork's business; a stiffer spring behind only tips the bike further"
        }
    }
}

/// The first remedy as one sentence: before the spring is touched.
pub fn first_remedy(bothers: Symptom, first: Remedy) -> String {
    format!(
        "{}: {}. Because {}. Before the spring is touched (common practice).",
        super::opening(symptom(bothers)),
        first_small(remedy(first)),
        reason(bothers)
    )
}

fn first_small(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// A ride in one line: "deepest stroke 58.0 mm; packs down; changed: rebound 2 faster".
pub fn entered(ride: &RideTold, units: UnitSet) -> String {
    let deepest = ride.deepest.map(|deepest| format!("deepest stroke {}", deepest.even(units)));
    let bothers = ride.symptom.map(|bothers| symptom(bothers).to_owned());
    let changed = (!ride.changed.is_empty()).then(|| format!("changed before: {}", ride.changed.shown()));
    let parts: Vec<String> = deepest.into_iter().chain(bothers).chain(changed).collect();
    if parts.is_empty() { "nothing entered".to_owned() } else { parts.join("; ") }
}

/// How deep the deepest hit went, whether into the bumper, and how deep it would go on the springs either side.
pub fn deepest(ridden: &Ridden, setup: &Setup, units: UnitSet) -> Vec<String> {
    let stroke = setup.shock.stroke;
    let percent = |used| format!("{:.0} %", Share::fraction(used / stroke).as_percent());
    let bumper = match ridden.bumper {
        Some(Bumper::Into(by)) => format!(", {} into the bumper", by.even(units)),
        Some(Bumper::Before(by)) => format!(", {} short of the bumper", by.even(units)),
        None => String::new(),
    };
    let went = format!("Deepest stroke {}, {}{bumper}.", ridden.deepest.even(units), percent(ridden.deepest));
    let others: Vec<String> = ridden
        .others
        .iter()
        .map(|other| {
            let name = spring(other.spring, &setup.springs, units);
            other
                .stroke
                .map_or_else(|| format!("{name} bottoms out"), |deep| format!("{name} {}", percent(deep)))
        })
        .collect();
    let same =
        (!others.is_empty()).then(|| format!("The same hit on other springs, about: {}.", others.join(", ")));
    std::iter::once(went).chain(same).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assessment::symptom::remedy as first;
    use crate::units::Turns;

    #[test]
    fn packing_down_is_answered_with_a_direction_and_a_reason() {
        let entered = first_remedy(Symptom::PacksDown, first(Symptom::PacksDown, Turns::ZERO));
        assert_eq!(
            entered,
            "Packs down: rebound 1 or 2 clicks faster, towards open. Because the shock is still coming back when the next \
             hit arrives, so it sinks deeper each time. Before the spring is touched (common practice)."
        );
    }
}
