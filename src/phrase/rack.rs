//! Words of the shop's rack: a kind of spring as one line of text, headings, and what may go wrong with it.
//!
//! Not here: reading a line (`screen`), and springs within a session (`deed`).

use crate::mechanics::spring::LearnedRate;
use crate::session::ShopSpring;
use crate::text::mark::{LONGEST_MARK, Mark, MarkFault};
use crate::units::{Estimate, Length, Share, Show, SpringRate, UnitSet};

/// Headings of the list.
pub const COLUMNS: [&str; COUNT] = ["mark", "rate", "count", "stroke", "bore", "length", "measured", "found"];
/// How many columns the list has.
pub const COUNT: usize = 8;
/// Over the shelf by rate.
pub const SHELF: &str = "Springs by rate";
/// There is no spring on it.
pub const EMPTY: &str = "No spring is on the rack yet. Press a to add the first.";
/// What the line of a spring takes, in the units shown.
pub const fn line_takes(units: UnitSet) -> &'static str {
    match units {
        UnitSet::Trade => {
            "Rate and stroke first, then what is known: 450x65 x2, bore 36.5, length 140, measured 446 +- 4, mark A3. \
             450-600 by 50, stroke 65 adds four."
        }
        UnitSet::Imperial => {
            "Rate and stroke first, then what is known: 450x2.5 x2, bore 1.44, length 5.5, measured 446 +- 4, mark A3. \
             450-600 by 50, stroke 2.5 adds four."
        }
        UnitSet::Metric => {
            "Rate and stroke first, then what is known: 79x65 x2, bore 36.5, length 140, measured 78 +- 0.7, mark A3. \
             79-105 by 8.8, stroke 65 adds three."
        }
    }
}
/// The line has a part that is none of these.
pub const LINE_PARTS: &str = "After the rate come stroke, bore, length, count, measured or mark, each with its figure and a \
                              comma between.";
/// A measured rate without its doubt.
pub const MEASURED_TAKES: &str = "A measured rate needs its uncertainty: measured 446 +- 4.";
/// A measured rate for springs of several rates.
pub const MEASURED_OF_ONE: &str =
    "A measured rate belongs to one spring. Add the springs without it, then type it on their lines.";
/// A mark for springs of several rates.
pub const MARK_OF_ONE: &str =
    "A mark belongs to one spring. Add the springs without it, then type it on their lines.";
/// A count that is none.
pub const COUNT_TAKES: &str = "How many there are is a whole number up to 99: x2, or count 25.";
/// What the arrows do, and that nothing has to be saved.
pub const ARROWS: &str =
    "Left and right change how many you have. Changes are saved at once; t undoes the last one.";
/// The file does not take the last change.
pub const NOT_SAVED: &str = "The last change is on the screen only: rack.ron did not take it. Esc tries again, and twice leaves it behind.";
/// A line was left before it was accepted.
pub const SET_ASIDE: &str = "Your text is not lost. Press the same key to see it again.";
/// Over the faults of a file that cannot be read.
pub const FAULTS: &str = "rack.ron cannot be read. Nothing was changed.";
/// Under them.
pub const FAULTS_WAY_OUT: &str = "Fix these lines in a text editor, then open the rack again. Until then no shop springs are offered. To start again, rename the file.";
/// A field left out of the list.
pub const NOT_KNOWN: &str = "–";

/// How many there are of a rate.
pub fn how_many(count: u16) -> String {
    if count == 0 { "out".to_owned() } else { format!("{count} x") }
}

/// A step that is missing on the shelf.
pub fn gap(gap: SpringRate, units: UnitSet) -> String {
    format!("gap of {}", units.show(gap))
}

/// A kind of spring as a line that can be typed.
pub fn line(spring: &ShopSpring, units: UnitSet) -> String {
    // Behind x a larger figure would be a stroke.
    let rate = typed_rate(spring, units);
    let mut parts = match spring.count {
        1 => vec![rate],
        0..=19 => vec![format!("{rate} x{}", spring.count)],
        _ => vec![rate, format!("count {}", spring.count)],
    };
    let named =
        |name: &str, length: Option<Length>| length.map(|length| format!("{name} {}", units.show(length)));
    parts.extend(named("stroke", spring.stroke.filter(|_| spring.end_rate.is_none())));
    parts.extend(named("bore", spring.bore));
    parts.extend(named("length", spring.free_length));
    parts.extend(spring.measured.map(|measured| {
        let written = measured.written(units);
        format!("measured {} {}", written.figure, written.unit)
    }));
    parts.extend(spring.mark().map(|mark| format!("mark {mark}")));
    parts.join(", ")
}

/// Its rate as it is typed; that of a progressive one with its end and the stroke over which it rises.
pub fn typed_rate(spring: &ShopSpring, units: UnitSet) -> String {
    let Some((end, stroke)) = spring.end_rate.zip(spring.stroke) else { return units.show(spring.label) };
    let [from, to] = [spring.label, end].map(|rate| rate.written(units).figure);
    format!("{from}-{to}/{}", units.show(stroke))
}

/// A kind of spring in the columns of the list.
pub fn columns(spring: &ShopSpring, units: UnitSet) -> [String; COUNT] {
    let length = |length: Option<Length>| {
        length.map_or_else(|| NOT_KNOWN.to_owned(), |length| length.even(units).to_string())
    };
    let learned = spring.marked.and_then(|marked| marked.learned);
    [
        spring.mark().map(|mark| mark.to_string()).unwrap_or_default(),
        super::deed::label(spring.label, spring.end_rate, units),
        format!("{} x", spring.count),
        length(spring.stroke),
        length(spring.bore),
        length(spring.free_length),
        spring.measured.map_or_else(|| NOT_KNOWN.to_owned(), |measured| measured.shown(units)),
        learned.map(|learned| found(spring.label, learned, units)).unwrap_or_default(),
    ]
}

/// Why a text is no mark.
pub fn mark(fault: MarkFault) -> String {
    match fault {
        MarkFault::NoShortWord => format!(
            "A mark is one word of at most {LONGEST_MARK} letters and digits that begins with a letter, such as A3."
        ),
        MarkFault::OtherwiseRead => {
            "This word means something else on a line of springs. Choose another mark, such as A3.".to_owned()
        }
    }
}

/// What past sessions found a spring to be: "A3 was found 3.0 ± 1.5 % softer than its label, on 4 bikes."; what is no more than
/// its doubt is no difference.
pub fn learned(mark: Mark, learned: LearnedRate, units: UnitSet) -> String {
    let (off, bikes) = (learned.ratio.value - Share::fraction(1.0), on_bikes(learned.bikes));
    if off.abs() <= learned.ratio.uncertainty {
        return format!(
            "{mark} was found as its label says, ± {}, {bikes}.",
            units.show(learned.ratio.uncertainty)
        );
    }
    let side = if off < Share::ZERO { "softer" } else { "stiffer" };
    let found = Estimate::new(off.abs(), learned.ratio.uncertainty).shown(units);
    format!("{mark} was found {found} {side} than its label, {bikes}.")
}

/// The rate past sessions found: "437 ± 7 lb/in".
fn found(label: SpringRate, learned: LearnedRate, units: UnitSet) -> String {
    let part = |share: Share| label * share.as_fraction();
    Estimate::new(part(learned.ratio.value), part(learned.ratio.uncertainty)).shown(units)
}

fn on_bikes(bikes: u16) -> String {
    if bikes == 1 { "on 1 bike".to_owned() } else { format!("on {bikes} bikes") }
}
