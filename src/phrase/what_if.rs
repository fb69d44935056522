//! What if, in sentences: a few kilograms, a turn, a step, another sag wanted.
//!
//! Masses are told in whole kilograms or pounds: nobody knows their kit better. Not here: the figures (`assessment::what_if`).

use crate::assessment::what_if::STEP;
use crate::assessment::{OtherLoad, WhatIf};
use crate::units::{Mass, Share, Show, UnitSet};

/// What the sentences are called.
pub const WHAT_IF: &str = "What if";

/// Everything that follows from small changes, a sentence each.
pub fn what_if(what_if: &WhatIf, units: UnitSet) -> Vec<String> {
    let step = units.show(STEP);
    let mut entered = vec![
        weight(what_if, units),
        format!(
            "Each {} more on the rider: {} more sag, and a spring {} stiffer to hold the same sag.",
            kilo(units).1,
            points(what_if.sag_per_kilo * kilo(units).0.as_kg()),
            units.show(what_if.rate_per_kilo * kilo(units).0.as_kg())
        ),
        format!(
            "A turn of the collar in takes away {}; a spring {step} stiffer takes away {}.",
            points(what_if.sag_per_turn),
            points(what_if.sag_per_step)
        ),
    ];
    entered.extend(what_if.loads.last().map(|pack| with_pack(pack, units)));
    if !what_if.targets.is_empty() {
        let rates = what_if.targets.iter().map(|target| {
            format!(
                "{} for {}",
                units.show(target.rate),
                target.sag.written(units).figure.replace(".0", "") + " %"
            )
        });
        entered.push(format!("For another sag, about: {}.", rates.collect::<Vec<_>>().join(", ")));
    }
    entered
}

/// The one sentence for a rider: "5 kg more or less is one spring step of 25 lb/in; half of that needs nothing."
pub fn weight(what_if: &WhatIf, units: UnitSet) -> String {
    format!(
        "{} more or less on the rider is one spring step of {}; half of that needs nothing.",
        opening_mass(what_if.step, units),
        units.show(STEP)
    )
}

/// What a full pack does.
pub fn with_pack(load: &OtherLoad, units: UnitSet) -> String {
    format!(
        "With {} more, such as a full pack: sag {}, and about {} to hold it where it is needed.",
        opening_mass(load.more, units),
        units.show(load.sag),
        units.show(load.rate)
    )
}

/// A kilogram, or five pounds where pounds are spoken: a single pound makes no difference that is worth telling.
fn kilo(units: UnitSet) -> (Mass, String) {
    let mass = if Mass::kg(1.0).written(units).unit == "lb" { Mass::pounds(5.0) } else { Mass::kg(1.0) };
    let words = units.show(mass);
    (mass, words)
}

/// A mass to the nearest whole unit.
fn opening_mass(mass: Mass, units: UnitSet) -> String {
    let whole = match mass.written(units).unit {
        "lb" => Mass::pounds(mass.as_pounds().round()),
        _ => Mass::kg(mass.as_kg().round()),
    };
    units.show(whole)
}

/// A difference of two sags: "1.4 points".
fn points(share: Share) -> String {
    format!("{:.1} points", share.as_percent())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assessment::OtherTarget;
    use crate::units::SpringRate;

    fn sample() -> WhatIf {
        let rate = SpringRate::lb_per_in;
        WhatIf {
            rate_per_kilo: rate(4.9),
            sag_per_kilo: Share::percent(0.35),
            sag_per_turn: Share::percent(2.2),
            sag_per_step: Share::percent(1.6),
            step: Mass::kg(5.1),
            loads: vec![OtherLoad { more: Mass::kg(8.0), sag: Share::percent(33.1), rate: rate(479.0) }],
            targets: vec![OtherTarget { sag: Share::percent(25.0), rate: rate(538.0) }],
        }
    }

    #[test]
    fn a_rider_reads_what_a_few_kilograms_are() {
        assert_eq!(
            weight(&sample(), UnitSet::Trade),
            "5 kg more or less on the rider is one spring step of 25 lb/in; half of that needs nothing."
        );
        assert!(weight(&sample(), UnitSet::Imperial).starts_with("11 lb more or less"));
    }

    #[test]
    fn every_change_has_its_sentence() {
        let entered = what_if(&sample(), UnitSet::Trade);
        assert_eq!(entered.len(), 5);
        assert!(entered[3].starts_with("With 8 kg more, such as a full pack: sag 33.1 %"), "{entered:?}");
        assert_eq!(entered[4], "For another sag, about: 538 lb/in for 25 %.");
        assert!(!what_if(&sample(), UnitSet::Imperial).concat().contains("kg"));
    }
}
