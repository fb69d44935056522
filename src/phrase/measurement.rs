//! What is worth measuring, in words: what it is, its price, and what it is expected to save.
//!
//! Not here: which measurement pays (`assessment::measurement`).

use super::spring;
use crate::assessment::{Measurement, Priced};
use crate::session::Spring;
use crate::units::{Minutes, UnitSet};

/// A measurement with its price: "a scale under the rear wheel, the rider seated: 3 minutes, saves about 6".
pub fn priced(priced: &Priced, springs: &[Spring], units: UnitSet) -> String {
    let Priced { what, takes, saves } = *priced;
    format!("{}: {}, saves about {:.0}", named(what, springs, units), minutes(takes), saves.value())
}

/// So many minutes.
pub fn minutes(minutes: Minutes) -> String {
    match minutes.value().round() {
        1.0 => "1 minute".to_owned(),
        many => format!("{many:.0} minutes"),
    }
}

/// What is measured, as something to do.
fn named(what: Measurement, springs: &[Spring], units: UnitSet) -> String {
    let words = match what {
        Measurement::Rider => "weighing the rider ready to ride",
        Measurement::Bike => "weighing the bike",
        Measurement::Travel => "looking up the travel of the rear wheel",
        Measurement::Wheel => "a scale under the rear wheel, the rider seated",
        Measurement::Gas => "pushing the bare shock on a scale, in and out, for the gas in it",
        Measurement::WheelAndGas => {
            "a scale under the rear wheel and the bare shock pushed on a scale, in and out, both together"
        }
        Measurement::LeverageEnds => "looking up the leverage ratio at both ends of the travel",
        Measurement::PushedReading => "one reading with a helper who pushes the indicator to the seal",
        Measurement::Rate(number) => {
            return format!("pressing {} on a scale for its true rate", spring(number, springs, units));
        }
    };
    words.to_owned()
}
