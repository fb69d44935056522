//! Words of the guided walk and of quick trials that stand round the walk's own: labels, choices, prompts and hints.
//!
//! Not here: the line of quick trials (`trials`), steps, checks and cautions (`walk`), the advice (`advice`), and the names of keys (`screen::keys`).

use super::hazard::turn_limit;
use super::{listed, opening, spring};
use crate::assessment::{RateSource, SetFinding, Standing};
use crate::mechanics::Fit;
use crate::session::limits;
use crate::session::state::ReadHow;
use crate::session::{Decision, Indicator, LimitFrom, Posture, ReadingSet, Setup, Spring, Step, Target};
use crate::text::FreeText;
use crate::units::{Kind, Length, Share, Show, Turns, UnitSet};

/// Heading of the sets of readings taken so far.
pub const SETS: &str = "Sets so far";
/// Heading of the rack with its forecasts.
pub const SPRINGS: &str = "Spring list";
/// Heading of what deserves a look.
pub const WARNINGS: &str = "Check this";
/// Warnings there is no room for.
pub fn more_warnings(count: usize) -> String {
    format!("+{count}, see help")
}
/// Under a caution that is not shown to its end: the key that goes on.
pub fn read_on(lines: usize) -> String {
    let lines = if lines == 1 { "1 more line".to_owned() } else { format!("{lines} more lines") };
    format!("Enter: read on, {lines}")
}
/// Heading of the reasons for a step.
pub const WHY: &str = "Why";
/// Heading of the history of a session.
pub const HISTORY: &str = "What was done";
/// Stands in for sets while there are none.
pub const NO_SETS: &str = "No reading yet.";
/// The mark on the choice that is advised.
pub const ADVISED: &str = "advised";
/// The choice of another spring than the advised ones.
pub const OTHER_SPRING: &str = "Another spring on the list ...";
/// The choice of a collar position of one's own.
pub const OTHER_TURNS: &str = "Turn the collar elsewhere ...";
/// The choice to close a session.
pub const CLOSE: &str = "Close the session";
/// A yes that came before its question had stood on the screen.
pub const ONE_AT_A_TIME: &str = "One at a time. Read this, then press Enter.";
/// Under a caution: the key that acknowledges it.
pub const ACKNOWLEDGE: &str = "Enter: read and understood";
/// Under the cautions of a spring change: the keys.
pub const CONFIRM_CHANGE: &str = "Enter: read; record the swap    Esc: not yet";
/// Labels of the trail check, in the order of its rows.
pub const TRAIL: [&str; 4] = ["Bottoming", "Ride height", "Feel", "Anything else"];
/// How the trail check is answered.
pub const TRAIL_KEYS: &str = "Choose with left and right, then press Enter. It saves after the last line.";
/// A trail answer that is still open.
pub const TRAIL_OPEN: &str = "Choose an answer first with left and right.";
/// Prompt for a remark.
pub const NOTE: &str = "Type a note for the next person to open this session.";
/// A remark without words.
pub const NOTE_EMPTY: &str = "Type a note, or press Esc to go back.";
/// A remark taken.
pub const NOTE_KEPT: &str = "Note saved.";
/// A reading voided after its verdict was acted on.
pub const VERDICT_RESTED_ON_IT: &str =
    "The decision rested on this reading; undo to the decision if it changes anything.";
/// Prompt for the reason a check or step is passed over.
pub const SKIP: &str = "Why skip it? A few words.";
/// Prompt for the reading that does not count.
pub const VOID_WHICH: &str = "Which reading do you want to void?";
/// There is no reading that could be void.
pub const NOTHING_TO_VOID: &str = "There is no reading to void yet.";
/// Prompt for the spring to fit.
pub const WHICH_SPRING: &str = "Which spring?";
/// Prompt for the collar position wanted.
pub const WHICH_TURNS: &str = "How many turns of preload?";

/// Where a sag lies, in words.
pub const fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Below => "too little",
        Standing::Inside => "on target",
        Standing::Above => "too much",
    }
}

/// Where a sag lies beside the band, the band named. One that is shown as the figure of an edge, though it lies outside, is
/// just under or just over it: "28.5 %, too little for 28.5–31.5 %" reads like a mistake.
pub fn standing_beside(sag: Share, lies: Standing, target: Target, units: UnitSet) -> String {
    let shown_as = |edge: Share| units.show(edge) == units.show(sag);
    match lies {
        Standing::Below if shown_as(target.low()) => {
            format!("just under {}", super::target_range(target, units))
        }
        Standing::Above if shown_as(target.high()) => {
            format!("just over {}", super::target_range(target, units))
        }
        Standing::Inside => format!("{} {}", standing(lies), super::target_range(target, units)),
        Standing::Below | Standing::Above => {
            format!("{} for {}", standing(lies), super::target_range(target, units))
        }
    }
}

/// A decision as something to do.
pub fn to_do(decision: Decision, springs: &[Spring], units: UnitSet) -> String {
    match decision {
        Decision::Keep => "Keep spring and collar".to_owned(),
        Decision::ReadAgain => "Take one more reading".to_owned(),
        Decision::SetPreload { to } if to == Turns::ZERO => "Turn the collar back to contact".to_owned(),
        Decision::SetPreload { to } => format!("Turn the collar to {}", units.show(to)),
        Decision::Swap { to } => format!("Fit {}", spring(to, springs, units)),
        Decision::AnotherRound => "Go round once more, target as it is".to_owned(),
    }
}

/// Moving the aim as something to do.
pub fn move_target(target: Target, units: UnitSet) -> String {
    format!("Move the target to {} and go round once more", units.show(target.sag))
}

/// How a typed reading is understood: the figure and the sag it makes; no sag where it can be no reading.
pub fn reading_understood(reading: Length, setup: &Setup, units: UnitSet) -> String {
    let stroke = setup.shock.stroke;
    let figure = reading.ruled(units).to_string();
    match limits::check_reading(reading, stroke) {
        Ok(()) => format!("= {figure} → {} sag", units.show(Share::fraction(reading / stroke))),
        Err(_) if reading > stroke => {
            format!("= {figure}, more than the shock stroke of {}", units.show(stroke))
        }
        Err(_) => format!("= {figure}"),
    }
}

/// How typed turns are understood: the collar and the preload it makes.
pub fn turns_understood(turns: Turns, setup: &Setup, units: UnitSet) -> String {
    if turns == Turns::ZERO {
        return "= collar at contact".to_owned();
    }
    format!("= {} of preload, {} preload", units.show(turns), units.show(setup.shock.preload(turns)))
}

/// A collar found further past contact than the limit, asked about once.
pub fn found_beyond_allowed(found: Turns, allowed: Turns, from: LimitFrom, units: UnitSet) -> String {
    let limit = opening(&turn_limit(allowed, from, units));
    let found = units.show(found);
    format!(
        "{limit}. If you found the collar at {found}, press Enter again to record it. Back it off before riding."
    )
}

/// A reading far from what was expected, asked about once.
pub fn far_from_forecast(reading: Length, expected: Length, units: UnitSet) -> String {
    let expected = expected.even(units);
    format!("{}? About {expected} was expected. Press Enter again to keep it.", reading.even(units))
}

/// Asked before the readings of a set are set aside; the key that brings them back is named.
pub fn start_again(readings: &[Length], undo: &str, units: UnitSet) -> String {
    let all: Vec<String> = readings.iter().map(|reading| reading.even(units).figure).collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    let what = if readings.len() == 1 { "the reading" } else { "the readings" };
    format!(
        "Start this set again? It sets aside {what} {}. Press Enter to do it; {undo} brings them back.",
        listed(&all)
    )
}

/// Heading of the question whether a whole list is done.
pub const ALL_DONE: &str = "Is all of this done?";
/// Under it: the keys.
pub const ALL_DONE_KEYS: &str = "Enter: yes, every one    Esc: not yet";
/// Behind what guards against harm: the other lines of the list.
pub fn and_others(count: usize) -> String {
    if count == 1 {
        "and 1 other line of the list".to_owned()
    } else {
        format!("and {count} other lines of the list")
    }
}

/// A spring that will hardly land in the band, asked about once.
pub fn hardly_lands(name: &str) -> String {
    format!(
        "{name} has less than a 1 in 10 chance of being on target. Press Enter again to fit it all the same."
    )
}

/// What an empty field stands for.
pub fn turns_suggested(turns: Turns, units: UnitSet) -> String {
    if turns == Turns::ZERO {
        "Press Enter for 0 (at contact).".to_owned()
    } else {
        format!("Press Enter for {}, as planned.", units.show(turns))
    }
}

/// How many of the readings wanted are there.
pub fn readings_progress(set: &ReadingSet) -> String {
    let have = set.counting().count();
    format!("reading {} of {}", have + 1, set.needed.max(have + 1))
}

/// Prompt for the reason a reading does not count.
pub fn void_why(number: u16) -> String {
    format!("Why does reading {number} not count? A few words, such as: bounced.")
}

/// Whether a spring fits, in a word or two.
pub const fn fit(fit: Fit) -> &'static str {
    match fit {
        Fit::Fits => "fits",
        Fit::StrokeUnknown => "stroke?",
        Fit::WouldBind { .. } => "binds",
        Fit::TooNarrow => "too narrow",
    }
}

/// What is known of a spring, for the legend of its mark; none for a spring that only has its label.
pub const fn known(known: RateSource) -> Option<&'static str> {
    match known {
        RateSource::OnTheBike => Some("on the bike"),
        RateSource::Measured => Some("measured"),
        RateSource::FoundBefore | RateSource::ByLabel => None,
    }
}

/// The legend of the spring with the best chance of the band.
pub const BEST_MATCH: &str = "best match";
/// The same of one that another beats as long as the collar is left alone.
pub const BEST_MATCH_WITH_COLLAR: &str = "best match with some preload";

/// A key that does nothing at present.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UnusedKey {
    /// Enter, where nothing stands to be accepted.
    Accept,
    /// A key of that name, which does something elsewhere.
    Elsewhere(String),
    /// A key that does nothing anywhere.
    Unbound,
}

/// That a key does nothing at present, and where to look.
pub fn key_does_nothing(key: &UnusedKey, instead: Option<&str>) -> String {
    let what = match key {
        UnusedKey::Accept => "Nothing to confirm here.".to_owned(),
        UnusedKey::Elsewhere(name) => format!("{name} does nothing at this moment."),
        UnusedKey::Unbound => "That key does nothing here.".to_owned(),
    };
    match instead {
        Some(instead) => format!("{what} {instead}"),
        None => format!("{what} The keys for this place are below; ? explains them."),
    }
}

/// Springs there is no room for.
pub fn unseen(count: usize) -> String {
    format!("{count} more")
}

/// Over the large sag.
pub const SAG: &str = "Sag";
/// Over the large sag while its reading is still being typed.
pub const AS_TYPED: &str = "Typed";
/// Over the large spring step.
pub const STEP: &str = "Next step";
/// Before the readings of the present set.
pub const READINGS: &str = "Readings";
/// Before the readings there is room for: how many are left out.
pub fn readings_left_out(count: usize) -> String {
    if count == 0 { String::new() } else { format!("+{count}… ") }
}
/// Before the band.
pub const BAND: &str = "target";
/// Before the sag of the present set, in the strip.
pub const THIS_SET: &str = "This set";
/// Before the mean of readings; one that stands apart counts less, and then it is not the plain mean.
pub fn mean(set: &SetFinding) -> &'static str {
    if set.apart.is_some() { "weighted average" } else { "average" }
}
/// Before the scatter of readings.
pub const SCATTER: &str = "spread";
/// What to do at a step whose readings are taken in another way than dragged in the saddle; none where the step's own words
/// hold.
pub const fn instruction(step: Step, how: ReadHow) -> Option<&'static str> {
    match (step, how.indicator, how.posture) {
        (Step::SeatedReading, Indicator::Pushed, Posture::Seated) => Some(
            "The rider sits down gently, both feet on the pedals, and keeps still. A helper pushes the indicator to the seal. The \
             rider gets off. Lift the saddle; measure from indicator to seal.",
        ),
        (Step::SeatedReading, Indicator::Pushed, Posture::Standing) => Some(
            "The rider stands on level pedals, hands light, and keeps still. A helper pushes the indicator to the seal. The rider \
             gets off. Measure from indicator to seal.",
        ),
        (Step::SeatedReading, Indicator::Kept, Posture::Standing) => Some(
            "The rider gets on gently, stands on level pedals, hands light, no bouncing, and gets off. Measure from the indicator \
             to the seal.",
        ),
        _ => None,
    }
}
/// Headings of the springs at hand.
pub const SPRING_COLUMNS: [&str; 2] = ["sag, %", "chance"];
/// Heading of the chances behind them.
pub const CHANCE: &str = SPRING_COLUMNS[1];
/// Headings of the sets so far.
pub const SET_COLUMNS: [&str; 2] = ["sag, %", "taken"];
/// How far the indicator stands from the seal.
pub fn indicator(reading: Length, units: UnitSet) -> String {
    if reading == Length::ZERO {
        "indicator at the seal".to_owned()
    } else {
        format!("indicator {}", reading.ruled(units))
    }
}

/// The band as distances from the seal, its far edge written out.
pub fn band_on_the_shaft(low: Length, high: &str, units: UnitSet) -> String {
    format!("target {}–{high}", low.written(units).figure)
}

/// Where along the stroke the coils of the spring would touch, where that is known.
pub fn coils_touch(at: Option<Length>, units: UnitSet) -> String {
    at.map_or_else(|| "spring stroke not known".to_owned(), |at| format!("coil bind at {}", units.show(at)))
}

/// Heading of the chart of sag against rate.
pub fn sag_against_rate(units: UnitSet) -> String {
    format!("Sag, %, against rate, {}", units.unit(Kind::Rate).symbol())
}

/// A check this bike or shock has nothing for.
pub const HAS_NONE: &str = "has none";
/// Under a check that a shock may lack, with the key that says so.
pub fn may_be_absent(key: &str) -> String {
    format!("If this shock has none, press {key}.")
}

/// How far a list has been worked down.
pub fn list_progress(done: usize, of: usize) -> String {
    format!("{} of {of}", done + 1)
}

/// The spring that goes on.
pub fn going_on(name: &str) -> String {
    format!("fitting {name}")
}

/// Before the sag of the present set.
pub const SAG_LOWER: &str = "sag";
/// What to do while cautions stand.
pub const CAUTIONS_FIRST: &str = "Read the cautions, then press Enter.";

/// A figure given as the reason of a void, asked about once.
pub fn reason_is_a_figure(because: &FreeText) -> String {
    format!(
        "{} looks like a reading, not a reason: type what went wrong, such as bounced. Enter once more takes it all the \
         same.",
        because.shown().fitted(24)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sag_is_placed_beside_its_band() {
        let beside = |sag, lies| standing_beside(Share::percent(sag), lies, Target::PLANTED, UnitSet::Trade);
        assert_eq!(beside(33.0, Standing::Above), "too much for 28.5–31.5 %");
        assert_eq!(beside(30.0, Standing::Inside), "on target 28.5–31.5 %");
        assert_eq!(beside(27.0, Standing::Below), "too little for 28.5–31.5 %");
        assert_eq!(beside(28.46, Standing::Below), "just under 28.5–31.5 %");
        assert_eq!(beside(31.54, Standing::Above), "just over 28.5–31.5 %");
    }

    #[test]
    fn a_key_that_does_nothing_says_what_does() {
        assert_eq!(
            key_does_nothing(&UnusedKey::Elsewhere("Ctrl-X".to_owned()), Some("Press Enter.")),
            "Ctrl-X does nothing at this moment. Press Enter."
        );
        assert!(key_does_nothing(&UnusedKey::Accept, None).starts_with("Nothing to confirm here. "));
        assert!(key_does_nothing(&UnusedKey::Unbound, None).ends_with("? explains them."));
    }
}
