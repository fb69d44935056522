//! Words of the shop's rack: a kind of spring as one line of text, headings, and what may go wrong with it.
//!
//! Not here: reading a line (`screen`), and springs within a session (`deed`).

use crate::session::{ShopSpring, Spring};
use crate::units::{Length, Show, UnitSet};

/// Headings of the list.
pub const COLUMNS: [&str; 6] = ["rate", "count", "stroke", "bore", "length", "measured"];
/// There is no spring on it.
pub const EMPTY: &str = "No spring is on the rack yet. Press a to add the first.";
/// What the line of a spring takes.
pub const LINE_TAKES: &str =
    "Rate first, then what is known: 450 x2, stroke 65, bore 36.5, length 140, measured 446 +- 4.";
/// The line has a part that is none of these.
pub const LINE_PARTS: &str = "After the rate come stroke, bore, length or measured, each with its figure and a comma \
                              between: 450 x2, stroke 65, bore 36.5.";
/// A measured rate without its doubt.
pub const MEASURED_TAKES: &str = "A measured rate needs its uncertainty: measured 446 +- 4.";
/// A count that is none.
pub const COUNT_TAKES: &str = "How many there are is a whole number up to 99: 450 x2.";
/// What the arrows do, and that nothing has to be saved.
pub const ARROWS: &str = "Left and right say how many of a kind are there now. Every change is kept at once; t takes the last one back.";
/// The file does not take the last change.
pub const NOT_SAVED: &str = "The last change is on the screen only: rack.ron did not take it. Esc tries again, and twice leaves it behind.";
/// A line was left before it was accepted.
pub const SET_ASIDE: &str = "What was typed is not lost: the same key opens the line with it again.";
/// Over the faults of a file that cannot be read.
pub const FAULTS: &str = "rack.ron cannot be read and was left as it is";
/// Under them.
pub const FAULTS_WAY_OUT: &str = "Mend these lines in an editor and open the rack again. Until then it offers no springs. \
                                  To start anew, give the file another name.";
/// A field left out of the list.
pub const NOT_KNOWN: &str = "–";

/// A kind of spring as a line that can be typed.
pub fn line(spring: &ShopSpring, units: UnitSet) -> String {
    let mut parts = vec![if spring.count == 1 {
        units.show(spring.label)
    } else {
        format!("{} x{}", units.show(spring.label), spring.count)
    }];
    let named =
        |name: &str, length: Option<Length>| length.map(|length| format!("{name} {}", units.show(length)));
    parts.extend(named("stroke", spring.stroke));
    parts.extend(named("bore", spring.bore));
    parts.extend(named("length", spring.free_length));
    parts.extend(spring.measured.map(|measured| {
        let written = measured.written(units);
        format!("measured {} {}", written.figure, written.unit)
    }));
    parts.join(", ")
}

/// A kind of spring in the columns of the list.
pub fn columns(spring: &ShopSpring, units: UnitSet) -> [String; 6] {
    let length = |length: Option<Length>| {
        length.map_or_else(|| NOT_KNOWN.to_owned(), |length| length.even(units).to_string())
    };
    [
        units.show(spring.label),
        format!("{} x", spring.count),
        length(spring.stroke),
        length(spring.bore),
        length(spring.free_length),
        spring.measured.map_or_else(|| NOT_KNOWN.to_owned(), |measured| measured.shown(units)),
    ]
}

/// The springs of the shop, offered for a session.
pub fn offered(springs: &[Spring], units: UnitSet) -> String {
    let count = if springs.len() == 1 { "1 spring".to_owned() } else { format!("{} springs", springs.len()) };
    let ends = match springs {
        [only] => units.show(only.label),
        [first, .., last] if units.show(first.label) == units.show(last.label) => units.show(first.label),
        [first, .., last] => format!("{} to {}", first.label.written(units).figure, units.show(last.label)),
        [] => String::new(),
    };
    format!("on the shop's rack: {count}, {ends}. Enter takes them.")
}
