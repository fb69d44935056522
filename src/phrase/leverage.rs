//! Measured leverage pairs and the curve through them, in words.
//!
//! Why pairs cannot be one curve is said with the other refusals (`refusal`). Not here: any drawing.

use super::unreadable;
use crate::mechanics::LeveragePair;
use crate::mechanics::pairs::{NotFromFullExtension, PairPlace, PairsText, PairsTextFault};
use crate::mechanics::survey::LeverageSurvey;
use crate::units::{Share, UnitSet};

/// The title of a chart.
pub const RATIO_OVER_STROKE: &str = "leverage ratio over stroke";
/// What a point of the chart is.
pub const BETWEEN_PAIRS: &str = "between one pair and the next";
/// Why there is no curve yet.
pub const TRAVEL_AND_STROKE_FIRST: &str = "Enter rear wheel travel and shock stroke to see the curve.";
/// What would make one.
pub const NOTHING_ENTERED: &str = "No leverage ratio entered. Type it at the start and the end, 3.0 to 2.5, or \
                                pairs measured on the bike with the spring off, stroke over wheel travel: 10/27.5 20/54.";
/// What a set of pairs is that no curve follows.
pub const NO_CURVE: &str = "These pairs do not make a curve. Measure again, in order of stroke.";
/// A table without a pair in it.
pub const EMPTY_TABLE: &str =
    "The file has no pairs. It needs two columns, stroke and wheel travel, one pair per line.";
/// A file asked for without its name.
pub const NO_FILE: &str = "The name of a file is missing. Type it as file: /home/you/leverage.csv";

/// How measured pairs were understood, before they are accepted.
pub fn pairs_understood(pairs: &[LeveragePair], units: UnitSet) -> String {
    let last = pairs.last().map_or_else(String::new, |last| {
        format!(", up to {} of wheel travel at {} of stroke", units.show(last.wheel), units.show(last.stroke))
    });
    format!("= {} measured pairs{last}", pairs.len())
}

/// What a table was read as.
pub fn table_read(pairs: &str) -> String {
    let count = pairs.matches('/').count();
    format!("{count} pairs were read from the file. Look them over; Enter takes them.")
}

/// Why a text holds no pairs, and what would.
pub fn pairs_unreadable(text: &PairsText, units: UnitSet) -> String {
    let place = match text.place {
        PairPlace::Line(line) => format!("Line {line}"),
        PairPlace::Typed(pair) => format!("Pair {pair}"),
    };
    match &text.fault {
        PairsTextFault::NotTwo => format!(
            "{place} does not hold two figures. A pair is stroke and wheel travel: 10/27.5 typed, or 10,27.5 as a line of a \
             table."
        ),
        PairsTextFault::Unreadable(fault) => format!("{place}: {}", unreadable(fault, units)),
    }
}

/// Why heights of the axle cannot be turned into wheel travel.
pub const fn heights_start_elsewhere(_: NotFromFullExtension) -> &'static str {
    "Axle heights must start at full extension (stroke 0). Measure the first one there."
}

/// The figures of a curve, each with its name.
pub fn survey(survey: &LeverageSurvey, units: UnitSet) -> Vec<(&'static str, String)> {
    let mut rows = vec![
        ("Start ratio", units.show(survey.start)),
        ("Mean ratio", units.show(survey.mean)),
        ("End ratio", units.show(survey.end)),
        falloff(survey.falloff, units),
    ];
    rows.extend(
        survey.misfit.map(|misfit| {
            ("Largest misfit", format!("{} at pair {}", units.show(misfit.largest), misfit.pair))
        }),
    );
    rows
}

/// A ratio that falls makes the shock harder to move with stroke; one that rises does the opposite.
fn falloff(falloff: Share, units: UnitSet) -> (&'static str, String) {
    let name = if falloff < Share::ZERO { "Rises by" } else { "Falls off by" };
    (name, format!("{} of the mean", units.show(falloff.abs())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::pairs::read;

    fn said(text: &str) -> String {
        pairs_unreadable(&read(text, UnitSet::Trade).expect_err("unreadable"), UnitSet::Trade)
    }

    #[test]
    fn the_pair_or_line_at_fault_is_named_with_the_way_out() {
        assert_eq!(
            said("10/27.5 20"),
            "Pair 2 does not hold two figures. A pair is stroke and wheel travel: 10/27.5 typed, or 10,27.5 as a line of a \
             table."
        );
        assert!(
            said("10,27.5\n20,x9").starts_with("Line 2: \"x9\" is not a number."),
            "{}",
            said("10,27.5\n20,x9")
        );
    }

    #[test]
    fn a_ratio_that_rises_is_not_said_to_fall_by_less_than_nothing() {
        assert_eq!(
            falloff(Share::percent(-5.0), UnitSet::Trade),
            ("Rises by", "5.0 % of the mean".to_owned())
        );
    }
}
