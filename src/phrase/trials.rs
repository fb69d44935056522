//! Words of quick trials: what the line takes, how it is understood, and what it lacks.
//!
//! Not here: words that the guided walk says as well (`guide`).

use super::collar;
use crate::session::{Gap, Indicator, Posture, ReadingNumber, ShopSpring, SpringNumber, Step};
use crate::text::FreeText;
use crate::units::{Length, Share, SpringRate, Turns, UnitSet};

/// A bench check not yet done when quick trials begin.
pub const CAUTIONS: &str = "Before the first trial";
/// What quick trials take, in full, in the units shown.
pub const fn takes(units: UnitSet) -> [&'static str; 3] {
    let first = match units {
        UnitSet::Trade => "17.5 = a trial.  s 450x65 = swap the spring.  t 1 = 1 turn of preload.",
        UnitSet::Imperial => "11/16 = a trial.  s 450x2.5 = swap the spring.  t 1 = 1 turn of preload.",
        UnitSet::Metric => "17.5 = a trial.  s 79x65 = swap the spring.  t 1 = 1 turn of preload.",
    };
    [
        first,
        "17.5 bounced, void last, void 3 slipped = do not count.  note ... = a note.",
        "w 86 pack = the rider with a pack; w alone = as entered.  undo, redo.",
    ]
}
/// Heading of the forms of that line, in the help.
pub const LINE: &str = "What the line takes";
/// Its forms, each with what it says.
pub const FORMS: [[&str; 2]; 12] = [
    ["17.5", "A trial: the indicator was seated, the rider sat, it moved that far; 17.5 18 17.5 are three."],
    [
        "s 450",
        "Another spring, by its rate; s 450x65 names the stroke printed on it, s #2 is the second of the list, s A3 the one with \
         that mark.",
    ],
    ["s 450 t 1", "The same, with one turn of preload."],
    ["t 1", "The collar, in turns of preload."],
    ["void 3 bounced", "Reading 3 does not count, and why; void 1-3 slipped, void last."],
    ["17.5 bounced", "A trial that does not count, and why."],
    [
        "w 86 pack",
        "The rider weighs 86 with the pack from now on; its sets stand by themselves. w wet tyres has no weight; w is as entered.",
    ],
    ["note windy", "A note into the record."],
    [
        "push, drag",
        "How the indicator is read: pushed to the seal while the rider sits, or dragged by sitting down.",
    ],
    ["stand, sit", "How the rider is on the bike from now on; sets of the two are never mixed."],
    [
        "gap, rise 18",
        "There was a gap between indicator and seal (or: no gap); where the same sit rested, let rise from below.",
    ],
    ["undo, redo", "The last step undone, and done again."],
];
/// How the indicator is read from now on.
pub const fn indicator_understood(indicator: Indicator) -> &'static str {
    match indicator {
        Indicator::Pushed => "= from now on a helper pushes the indicator to the seal while the rider sits",
        Indicator::Kept => "= from now on sitting down drags the indicator",
    }
}

/// How the rider is on the bike from now on.
pub const fn posture_understood(posture: Posture) -> &'static str {
    match posture {
        Posture::Seated => "= from now on in the saddle",
        Posture::Standing => "= from now on standing on level pedals",
    }
}

/// Whether a gap was seen.
pub const fn gap_understood(gap: Gap) -> &'static str {
    match gap {
        Gap::Seen => "= there was a gap between indicator and seal while the rider sat",
        Gap::None => "= there was no gap between indicator and seal while the rider sat",
    }
}

/// The same sit let rise from below.
pub fn risen_understood(reading: Length, units: UnitSet) -> String {
    format!("= the last sit, let rise from below, rests at {}", units.show(reading))
}

/// The sign of the set that is likeliest to be on target.
pub const BEST: &str = "◂ best";
/// Until so many trials are taken the line says what it takes.
pub const HINTED: usize = 3;
/// Where every trial is shown by itself, and the way back.
pub const ALL_TRIALS: &str = "Every trial. PgDn goes back to the sets.";

/// Which of the sets is best, and which is next to it.
pub fn contest(best: &(String, Share), next: &(String, Share)) -> String {
    let told = |(name, chance): &(String, Share)| format!("{name}, {}", super::in_tens(*chance));
    if super::is_hardly(best.1) {
        return "None of these sets is likely to be on target.".to_owned();
    }
    if super::is_hardly(next.1) {
        return format!("Best so far: {}. No other is likely to be on target.", told(best));
    }
    format!("Best so far: {}. Next: {}.", told(best), told(next))
}

/// Headings of the table of trials.
pub const COLUMNS: [&str; 4] = ["no.", "spring, collar", "moved", "sag"];
/// What a void line of quick trials lacks.
pub const VOID_FORM: &str = "Type the number of the reading and why it does not count: void 3 bounced.";
/// What a change of spring lacks.
pub fn spring_form(units: UnitSet) -> String {
    format!(
        "Type the rate after the s, or the number of the spring: s {}, or s #2.",
        super::springs::example(units)
    )
}

/// How several readings in a row are understood.
pub fn several_understood(reading: &[Length], units: UnitSet) -> String {
    let ends = |best: fn(f64, f64) -> f64| {
        reading.iter().map(|reading| reading.as_mm()).reduce(best).unwrap_or_default()
    };
    let [least, most] = [ends(f64::min), ends(f64::max)].map(|mm| Length::mm(mm).ruled(units));
    format!("= {} readings, {} to {most}. Enter saves all.", reading.len(), least.figure)
}
/// A trial while no spring is fitted.
pub const NO_SPRING_YET: &str = "No spring is fitted yet. Type the one you fit first, such as s 450.";
/// How a remark is understood.
pub const NOTE_UNDERSTOOD: &str = "= a note";

/// How undo is understood.
pub const UNDO_UNDERSTOOD: &str = "= the last step undone";
/// How redo is understood.
pub const REDO_UNDERSTOOD: &str = "= what was undone, done again";

/// Why quick trials cannot be gone to from here.
pub fn elsewhere(step: Step) -> String {
    format!(
        "\"{}\" comes first; quick trials only take readings. Finish it, or undo it.",
        super::step(step).title
    )
}

/// A bare figure in quick trials that is no reading and no spring at hand.
pub fn beyond_stroke_and_list(reading: Length, stroke: Length, units: UnitSet) -> String {
    format!(
        "{} is more than the shock stroke of {}, and no spring of that rate is on the list. Type s before a spring rate.",
        units.show(reading),
        units.show(stroke)
    )
}

/// What a change of spring comes to, above its cautions.
pub fn change_to(name: &str, preload_turns: Turns, units: UnitSet) -> String {
    format!("Change to {name}, {}", collar(preload_turns, units))
}

/// How a reading that does not count is understood.
pub fn void_understood(readings: &[ReadingNumber], because: &FreeText) -> String {
    let because = because.shown().fitted(40);
    match readings {
        [first, .., last] => format!("= readings {} to {} do not count: {because}", first.0, last.0),
        [one] => format!("= reading {} does not count: {because}", one.0),
        [] => String::new(),
    }
}

/// How a trial that does not count is understood.
pub fn slip_understood(reading: Length, because: &FreeText, units: UnitSet) -> String {
    format!("= {}, which does not count: {}", units.show(reading), because.shown().fitted(40))
}

/// The reason of a reading voided by the word last alone.
pub const VOIDED_AT_ONCE: &str = "voided at once";
/// No reading counts yet.
pub const NOTHING_TO_VOID: &str = "There is no reading to void yet.";

/// A rate that several springs at hand bear.
pub fn several_such(rate: SpringRate, first: SpringNumber, units: UnitSet) -> String {
    format!(
        "Several springs on the list bear {}. Type the number or the mark of the one you mean, such as s #{}.",
        units.show(rate),
        first.0
    )
}

/// A spring at hand of the rate typed, of which no stroke was told.
pub fn stroke_not_entered(rate: SpringRate, number: SpringNumber, units: UnitSet) -> String {
    format!(
        "The {} on the spring list has no stroke entered. Type s #{} if it is the one, and correct its stroke in \
         the details.",
        units.show(rate),
        number.0
    )
}

/// The line that swaps to a spring of the rack.
pub fn swap_to(spring: &ShopSpring, units: UnitSet) -> String {
    format!("s {}", super::rack::typed_rate(spring, units))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hints_of_quick_trials_fit_a_line_of_a_small_screen() {
        for hint in UnitSet::ALL.into_iter().flat_map(takes) {
            assert!(hint.chars().count() <= 78, "{hint}");
        }
    }
}
