//! Hazards of the spring on the bike in words: the figures behind the caution, and whose the limit of the collar is.
//!
//! Not here: the cautions themselves (`walk`), and when there is a hazard (`session::hazard`).

use super::spring;
use crate::session::{Hazard, LimitFrom, Spring, SpringNumber};
use crate::units::{Turns, UnitSet};

/// The limit of collar turns, and whose it is: what nobody entered is not said of any maker.
pub fn turn_limit(limit: Turns, from: LimitFrom, units: UnitSet) -> String {
    let limit = units.show(limit);
    match from {
        LimitFrom::Typical => format!("typical limit {limit}; the shock maker's figure goes first"),
        LimitFrom::Entered => format!("the limit entered is {limit}"),
    }
}

/// The figures of a hazard, in a sentence; springs by their label where the list they are on is known.
pub fn figures(hazard: Hazard, rack: Option<&[Spring]>, units: UnitSet) -> String {
    let named = |number: SpringNumber| match rack {
        Some(rack) => format!("The {} on the bike", spring(number, rack, units)),
        None => format!("Spring {}", number.0),
    };
    match hazard {
        Hazard::Binds { spring, spring_stroke, needed } => format!(
            "{} has {} of stroke and this shock needs {}.",
            named(spring),
            units.show(spring_stroke),
            units.show(needed)
        ),
        Hazard::TooNarrow { spring, bore, body } => format!(
            "{} is {} wide inside and the shock body {}.",
            named(spring),
            units.show(bore),
            units.show(body)
        ),
        Hazard::CollarBeyondLimit { at, limit } => {
            format!(
                "The collar is at {} of preload, over the limit of {}.",
                units.show(at),
                units.show(limit)
            )
        }
        Hazard::StrokeUnknown { spring } => format!("{} has no stroke entered.", named(spring)),
    }
}

/// Prompt for the stroke of the spring on the bike.
pub const STROKE: &str = "Type the stroke printed on it. If it is not known, just press Enter.";
