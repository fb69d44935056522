//! Words of sessions side by side.

use std::collections::BTreeSet;

use super::collar;
use super::review::day;
use crate::assessment::season::MoreSag;
use crate::assessment::{Assessment, SetFinding};
use crate::session::{Setup, Stamp, State};
use crate::text::FreeText;
use crate::units::{Show, UnitSet};

/// No other session of the bike is known.
pub const ONLY_ONE: &str = "There is no other session for this customer and bike.";
/// Nothing tells of which bike a session is.
pub const NAMELESS: &str = "This session has no customer or bike name, so matching sessions cannot be found. Pick the sessions to compare in the list of past sessions.";
/// Of sessions picked by hand too few can be compared.
pub const TOO_FEW: &str =
    "Of these sessions fewer than two have their details complete, so there is nothing to compare.";
/// What the place is called where all sessions are of one bike.
pub const ONE_BIKE: &str = "Sessions of one bike";
/// What the place is called where they are not.
pub const SIDE_BY_SIDE: &str = "Sessions side by side";
/// Labels of customer and bike, where the sessions are not all of one.
pub const NAMES: [&str; 2] = ["Customer", "Which bike"];
/// Before a row in which the sessions differ.
pub const DIFFERS: char = '≠';
/// Under the rows, what that mark says.
pub const LEGEND: &str = "≠ differs";
/// Heading of the sags in the order of their dates.
pub const SAGS: &str = "Sag against date";
/// Heading of what deserves a look.
pub const WORTH_A_LOOK: &str = super::guide::WARNINGS;
/// Said where nothing does.
pub const NOTHING_ODD: &str = "Nothing unusual: no spring has gone soft under a similar rider.";
/// Under the springs that sag more than they did.
pub const MORE_SAG_MEANS: &str = "More sag, but the rider is no heavier: the spring may have sagged, or another spring may carry the same label, or a weight is wrong. Weigh the rider again, and measure the spring or try one \
                                  with the same label.";
/// Stands where a session has no figure.
const NOTHING: &str = "–";

/// Labels of the rows, in the order of [`figures`].
pub const ROWS: [&str; 11] = [
    "Rider",
    "Bike",
    "Travel",
    "Shock stroke",
    "Target",
    "Final spring",
    "Collar",
    "Final sag",
    "Swaps",
    "Load on the wheel",
    "Rate needed",
];

/// A session in the rows of the table.
pub fn figures(setup: &Setup, state: &State, assessment: &Assessment, units: UnitSet) -> [String; 11] {
    let last = assessment.sets.last();
    let or_nothing = |text: Option<String>| text.unwrap_or_else(|| NOTHING.to_owned());
    [
        or_nothing(state.entered.rider.map(|rider| rider.even(units).to_string())),
        or_nothing(state.entered.bike.map(|bike| bike.even(units).to_string())),
        or_nothing(state.entered.travel.map(|travel| travel.even(units).to_string())),
        setup.shock.stroke.even(units).to_string(),
        super::target_range(setup.target, units),
        or_nothing(state.fitted().map(|spring| units.show(spring.label))),
        or_nothing(state.present_set().map(|set| units.show(set.preload_turns))),
        or_nothing(last.map(|set| set.sag_to_tell().shown(units))),
        state.on_bike.swaps.to_string(),
        assessment.findings.load.shown(units),
        assessment.findings.needed_rate.shown(units),
    ]
}

/// How sessions are told apart by when they were begun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateForm {
    /// By their days.
    Day,
    /// By the time of day as well, because two are of one day.
    DayAndTime,
}

impl DateForm {
    /// How these are told apart.
    pub fn of(opened: impl Iterator<Item = Stamp>) -> Self {
        let mut days = BTreeSet::new();
        let mut days_differ = true;
        for opened in opened {
            days_differ &= days.insert(opened.date_naive());
        }
        if days_differ { Self::Day } else { Self::DayAndTime }
    }

    /// In figures, for a column.
    pub fn figures(self, opened: Stamp) -> String {
        let form = if self == Self::Day { "%Y-%m-%d" } else { "%Y-%m-%d %H:%M" };
        opened.format(form).to_string()
    }

    /// As it is spoken of.
    fn words(self, opened: Stamp) -> String {
        match self {
            Self::Day => day(opened),
            Self::DayAndTime => format!("{}, {}", day(opened), opened.format("%H:%M")),
        }
    }
}

/// A set of readings before its mark on the scale of sags.
pub fn sag(opened: &str, set: &SetFinding, setup: &Setup, units: UnitSet) -> String {
    let spring = setup.spring(set.spring).map_or_else(String::new, |spring| units.show(spring.label));
    format!("{opened}  {spring:>10}  {:>12}", set.sag_to_tell().shown(units))
}

/// A spring that sags more than it did.
pub fn more_sag(more: &MoreSag, before: Stamp, after: Stamp, when: DateForm, units: UnitSet) -> String {
    format!(
        "{}, {}: {} on {}, {} on {}.",
        units.show(more.label),
        collar(more.preload_turns, units),
        more.before.shown(units),
        when.words(before),
        more.after.shown(units),
        when.words(after)
    )
}

/// Whose bike, and which, as far as they are named.
pub fn whose(customer: &FreeText, bike: &FreeText) -> String {
    let named = [customer, bike].into_iter().filter(|name| !name.is_empty());
    named.map(|name| name.shown().to_string()).collect::<Vec<_>>().join(" · ")
}

/// Sessions asked for that cannot be compared.
pub fn incomplete(count: usize) -> String {
    let sessions = if count == 1 { "1 session is" } else { &format!("{count} sessions are") };
    format!("{sessions} not compared: details are not complete, or the record cannot be read.")
}

/// Sessions there is no room for.
pub fn left_out(count: usize) -> String {
    if count == 1 {
        "1 older session is not shown; a wider window shows more.".to_owned()
    } else {
        format!("{count} older sessions are not shown; a wider window shows more.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn opened(written: &str) -> Stamp {
        Stamp::parse_from_rfc3339(written).expect("a time")
    }

    #[test]
    fn two_sessions_of_one_day_are_told_apart_by_the_time() {
        let [morning, evening] = ["2026-05-04T09:10:00+02:00", "2026-05-04T17:40:00+02:00"].map(opened);
        let next = opened("2026-05-05T09:10:00+02:00");
        assert_eq!(DateForm::of([morning, next].into_iter()).figures(morning), "2026-05-04");
        let when = DateForm::of([morning, evening, next].into_iter());
        assert_eq!(when.figures(evening), "2026-05-04 17:40");
        assert_eq!(when.words(next), "5 May 2026, 09:10");
    }
}
