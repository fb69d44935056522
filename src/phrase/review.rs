//! Words of the list of past sessions, of a past session looked at, and of a customer who comes back.
//!
//! Not here: the words of deeds (`deed`) and of advice (`advice`).

use super::chance;
use super::{collar, opening, spring};
use crate::assessment::{Advice, Assessment, Forecast};
use crate::session::{Deed, Earlier, FoundSpring, Setup, Stamp, State, Step};
use crate::text::FreeText;
use crate::units::{Estimate, Length, Mass, Share, SpringRate, UnitSet};

/// Before the field that finds.
pub const FIND: &str = "Find";
/// What the field takes, while nothing is typed.
pub const FIND_TAKES: &str = "a name, a bike, a rate or a date";
/// Headings of the list of past sessions.
pub const COLUMNS: [&str; 8] = ["date", "customer", "bike", "spring", "sag %", "target %", "state", "swaps"];
/// There is no session at all.
pub const NONE_YET: &str = "No session is saved in this folder yet.";
/// Who worked on the bike.
pub const MECHANIC: &str = "Mechanic";
/// A session nobody is named in.
pub const NO_NAME: &str = "no name";
/// A figure that is not known.
pub const NOT_KNOWN: &str = "–";
/// The state of a closed session.
pub const CLOSED: &str = "closed";
/// The state of one with work left.
pub const UNFINISHED: &str = "open";
/// The state of a record that somebody changed outside the program.
pub const EDITED: &str = "edited";
/// Before the customer of a demonstration, where the state has no room to say so.
pub const DEMONSTRATION_SIGN: &str = "* ";
/// What that sign says, below the list.
pub const DEMONSTRATION_LEGEND: &str = "* demonstration";
/// Before a session picked for comparing.
pub const PICKED: &str = "+";
/// The state of a session that only the spool has.
pub const IN_SPOOL: &str = "backup";
/// The state of a session whose record is gone.
pub const GONE: &str = "gone";
/// The state of a demonstration, in a wide column.
pub const INVENTED: &str = "invented";
/// A session whose rider, bike and figures are invented.
pub const IS_DEMONSTRATION: &str = "demonstration";
/// One that is only shown.
pub const ONLY_SHOWN: &str = "demonstration, to look at";
/// A session begun from a demonstration.
pub const STAYS_A_DEMONSTRATION: &str = "This is based on invented data, so it stays a demonstration. For a real customer, start a new session from Home.";
/// The state of a damaged record.
pub const DAMAGED: &str = "damaged";
/// The state of a record of a later program.
pub const NEWER: &str = "newer";
/// The state of a file that is no record.
pub const NOT_A_RECORD: &str = "no record";
/// The state of a file that the system did not let us read.
pub const OUT_OF_REACH: &str = "no access";
/// A record that somebody changed outside the program, in a sentence.
pub const EDITED_OUTSIDE: &str =
    "This record was changed outside the program; what is in it now is what is shown.";
/// A session that only the spool has, in a sentence or two.
pub const ONLY_IN_SPOOL: &str = "This session is only in the backup on this computer; it could not be saved to the records folder. \"Carry on with it\" puts it into the records folder.";
/// A session whose record is gone, in a sentence or two.
pub const RECORD_GONE: &str = "The session file is missing. This is the last copy found. \"Carry on \
                               with it\" puts it in the record's place.";

/// Heading of what a past session came to.
pub const CAME_TO: &str = "Result";
/// Heading of the details as told.
pub const ENTERED: &str = "Details entered";
/// Heading of what can be read of a damaged record.
pub const READABLE: &str = "What can be read";
/// Under a damaged record of which a part can be read.
pub const GO_ON_IN_A_COPY: &str =
    "\"Carry on with it\" goes on from that part in a new record; this file stays as it is.";
/// Heads the deeds of the version before a damage.
pub const BEFORE: &str = "What the version before it holds";
/// Under a damaged record beside which the version before it is whole.
pub const GO_ON_BEFORE: &str = "The version before it is whole. \"Carry on with it\" puts that in its place and opens it; \
                                the damaged file is saved beside it as it is.";
/// A deed that was taken back.
pub const TAKEN_BACK: &str = "undone";
/// A damaged record has nothing to begin from.
pub const NOTHING_TO_COME_BACK_TO: &str = "Details of this session are not complete, so there is nothing to begin from. Begin a new one from the first screen.";
/// A record of which nothing can be read cannot be gone on with.
pub const NOTHING_TO_GO_ON_WITH: &str =
    "This file cannot be read, so the session cannot continue. It was not changed.";
/// Under a session that was begun from a past one without readings.
pub const TAUGHT_NOTHING: &str = "The past session has no readings, so only its details were taken over. -";

/// Above the details of a customer who is back.
pub const ASK_FIRST: &str = "Ask what has changed since: rider and kit, spring, target.";
/// What preload has to add to a chance to be spoken of.
const WORTH_SAYING: Share = Share::percent(10.0);
/// Before the load on the rear wheel.
pub const LOAD: &str = "Load on the rear wheel";

/// The rate that would rest in the middle of the band.
pub fn needed(rate: Estimate<SpringRate>, units: UnitSet) -> String {
    format!("Rate for the middle of the target range: {}.", rate.shown(units))
}

/// Spring, collar and swaps at the end of a session, or where it was left.
pub fn came_to(state: &State, units: UnitSet) -> String {
    if state.step == Step::Intake {
        return opening(&stands_at(state.step));
    }
    let spring = state.fitted().map_or_else(
        || "no spring fitted".to_owned(),
        |fitted| spring(fitted.number, &state.entered.springs, units),
    );
    let collar =
        state.present_set().map_or_else(String::new, |set| format!(", {}", collar(set.preload_turns, units)));
    let swaps = match state.on_bike.swaps {
        0 => "no swap".to_owned(),
        1 => "1 swap".to_owned(),
        swaps => format!("{swaps} swaps"),
    };
    opening(&format!("{}: {spring}{collar}, {swaps}", stands_at(state.step)))
}

/// Deeds that act on others and are never in effect themselves.
pub const fn is_about_others(deed: &Deed) -> bool {
    matches!(deed, Deed::TakenBack | Deed::StartedAgain | Deed::Undone | Deed::Redone)
}

/// An entry that does not fit what stands before it.
pub fn misfit(entry: usize) -> String {
    format!(
        "Entry {entry} of this record does not fit what is before it; the file may have been changed outside the \
         program. It was left as it is."
    )
}

/// How many of all sessions the words find.
pub fn found(found: usize, of: usize) -> String {
    match (found, of) {
        (found, of) if found == of => sessions(of),
        (0, of) => format!("none of {}", sessions(of)),
        (found, of) => format!("{} of {}", counted(found), sessions(of)),
    }
}

fn sessions(count: usize) -> String {
    if count == 1 { "1 session".to_owned() } else { format!("{} sessions", counted(count)) }
}

/// A count as it is read: with a comma before every three digits from ten thousand on.
pub fn counted(count: usize) -> String {
    let digits = count.to_string();
    if digits.len() < 5 {
        return digits;
    }
    let mut read = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            read.push(',');
        }
        read.push(digit);
    }
    read
}

/// The notes of a session, in full.
pub fn notes(notes: &FreeText) -> String {
    format!("Notes {}", notes.shown())
}

/// How many sessions are picked for comparing.
pub fn picked(count: usize) -> String {
    format!("{count} picked")
}

/// No more sessions can be picked.
pub fn enough_picked(most: usize) -> String {
    format!(
        "{most} sessions are picked, and no more are compared at once. Pick one of them again to let it go."
    )
}

/// How far the look for changes has come.
pub fn looking(files: usize, of: usize) -> String {
    if of == 0 {
        return "looking for changes".to_owned();
    }
    format!("looking for changes: {} of {}", counted(files), counted(of))
}

/// How far the work of a session has come: closed, or the step it stands at.
pub fn stands_at(step: Step) -> String {
    if step == Step::Closed { CLOSED.to_owned() } else { format!("at: {}", super::step(step).title) }
}

/// The day of a session, as it is spoken of.
pub fn day(opened: Stamp) -> String {
    opened.format("%-d %B %Y").to_string()
}

/// What of an earlier session is used for this rider and these lengths, and what is left out; what nobody entered yet is taken
/// for the same.
pub fn earlier_used(
    earlier: &Earlier,
    rider: Option<Mass>,
    travel_and_stroke: Option<(Length, Length)>,
    units: UnitSet,
) -> String {
    let day = day(earlier.opened);
    let rider = rider.is_none_or(|rider| earlier.is_of_rider(rider));
    let frame = travel_and_stroke.is_none_or(|(travel, stroke)| earlier.is_of_frame(travel, stroke));
    let then = earlier.learned_on.map_or_else(String::new, |on| units.show(on.rider));
    match (rider, frame) {
        (true, true) => format!(
            "What the session of {day} taught is used: {} of the rider on the rear wheel{}.",
            earlier.rider_share.shown(units),
            earlier.spring.map_or_else(String::new, |spring| found_spring(spring, units))
        ),
        (false, true) => format!(
            "The rider was {then} on {day}. What that session taught of the rider is left out; of the frame it is used."
        ),
        (true, false) => format!(
            "Travel or stroke differ from those of {day}. What that session taught of the frame is left out; of the rider \
             it is used."
        ),
        (false, false) => {
            format!("Rider and frame differ from those of {day}. What that session taught is left out.")
        }
    }
}

/// What a spring was found to be: "; the 450 lb/in was found to be 441 ± 9 lb/in".
fn found_spring(spring: FoundSpring, units: UnitSet) -> String {
    let part = |share: Share| spring.label * share.as_fraction();
    let rate = Estimate::new(part(spring.ratio.value), part(spring.ratio.uncertainty));
    format!("; the {} was found to be {}", units.show(spring.label), rate.shown(units))
}

/// What the collar adds to the chance of a spring; nothing where that is not worth saying.
pub(super) fn with_a_little_preload(forecast: &Forecast) -> String {
    let gained = forecast.chance_with_collar - forecast.chance;
    let worth_saying = gained > WORTH_SAYING;
    let words =
        worth_saying.then(|| format!(", {} with a little preload", chance(forecast.chance_with_collar)));
    words.unwrap_or_default()
}

/// The spring to start with and its chance of the band, before anything was measured; none while the advice is another.
pub fn start_with(outlook: &Assessment, setup: &Setup, units: UnitSet) -> Option<String> {
    let forecast = match outlook.advice {
        Advice::FirstSpring { best_match, .. } => {
            outlook.forecasts.iter().find(|forecast| forecast.spring == best_match)?
        }
        Advice::NothingOnTheList { needed, .. } | Advice::NoneFits { needed } => {
            return Some(format!(
                "No spring on the list is likely to be on target; about {} would.",
                units.show(needed)
            ));
        }
        _ => return None,
    };
    let with_collar = with_a_little_preload(forecast);
    Some(format!(
        "Start with {}: {} sag, {} of being on target{with_collar}.",
        spring(forecast.spring, &setup.springs, units),
        forecast.sag_to_tell().shown(units),
        chance(forecast.chance)
    ))
}

/// Who did what is below.
pub fn by(name: &FreeText) -> String {
    format!("by {}", name.shown().fitted(40))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_found_is_counted_in_plain_words() {
        let entered = [found(1, 1), found(5, 5), found(2, 5), found(0, 5)];
        assert_eq!(entered, ["1 session", "5 sessions", "2 of 5 sessions", "none of 5 sessions"]);
    }

    #[test]
    fn the_look_for_changes_says_how_far_it_is() {
        assert_eq!(looking(0, 0), "looking for changes");
        assert_eq!(looking(64, 200), "looking for changes: 64 of 200");
    }

    #[test]
    fn a_large_count_is_read_by_its_thousands() {
        let counts = [0, 999, 9_999, 10_000, 100_000, 1_234_567].map(counted);
        assert_eq!(counts, ["0", "999", "9999", "10,000", "100,000", "1,234,567"]);
    }

    #[test]
    fn what_is_left_out_of_an_earlier_session_is_said() {
        use crate::session::LearnedOn;
        let share = Estimate::new(Share::percent(66.0), Share::percent(1.0));
        let [rider, travel, stroke] = [82.0, 160.0, 65.0];
        let earlier = Earlier {
            opened: Stamp::default(),
            rider_share: share,
            falloff: share,
            correlation: Share::ZERO,
            gas: None,
            spring: None,
            learned_on: Some(LearnedOn {
                rider: Mass::kg(rider),
                travel: Length::mm(travel),
                stroke: Length::mm(stroke),
            }),
        };
        let said = |kg: f64, mm: f64| {
            let lengths = (Length::mm(mm), Length::mm(stroke));
            earlier_used(&earlier, Some(Mass::kg(kg)), Some(lengths), UnitSet::Trade)
        };
        assert!(said(86.0, 160.0).contains("is used: 66.0"), "{}", said(86.0, 160.0));
        assert!(said(95.0, 160.0).starts_with("The rider was 82 kg on"), "{}", said(95.0, 160.0));
        assert!(said(82.0, 170.0).starts_with("Travel or stroke differ"), "{}", said(82.0, 170.0));
        assert!(said(60.0, 170.0).ends_with("taught is left out."), "{}", said(60.0, 170.0));
    }
}
