//! What Enter does at this moment, as the footer says it: a verb and what it acts on.
//!
//! Not here: the other keys (`screen::keys`), and what a choice of the decision is called (`guide`).

use crate::units::{Length, UnitSet};

/// A caution is acknowledged.
pub const UNDERSTOOD: &str = "understood";
/// A check is ticked.
pub const TICK: &str = "tick the line";
/// Every check left of a list is ticked.
pub const TICK_ALL: &str = "tick all of them";
/// The collar is where it should be.
pub const COLLAR: &str = "collar is there";
/// The collar is where was typed.
pub const TURNS: &str = "save the turns";
/// The stroke of a spring was typed.
pub const STROKE: &str = "save the stroke";
/// Nobody knows the stroke of a spring.
pub const NO_STROKE: &str = "it is not known";
/// The indicator touches the seal.
pub const SEATED: &str = "indicator is seated";
/// A reading that is still to be typed.
pub const READING: &str = "save the reading";
/// A note, or an answer in words.
pub const NOTE: &str = "save the note";
/// A check is skipped.
pub const SKIP: &str = "skip it";
/// A reading is to be chosen.
pub const CHOOSE_READING: &str = "choose the reading";
/// What the line says is done.
pub const DO_IT: &str = "do it";
/// A reading is void.
pub const VOID: &str = "void it";
/// A trial is saved and void at once.
pub const SLIP: &str = "save it, void";
/// A spring is chosen from the list.
pub const CHOOSE_SPRING: &str = "choose the spring";
/// A spring joins the list.
pub const ADD_SPRING: &str = "add the spring";
/// The next question of the trail check.
pub const NEXT_QUESTION: &str = "next question";
/// What the trail told is taken down.
pub const REPORT: &str = "save the report";
/// The line of quick trials, while nothing is typed in it.
pub const LINE: &str = "save the trial";
/// A change of spring is made.
pub const CHANGE: &str = "the new spring is on";
/// The marked line of a list is opened.
pub const OPEN: &str = "open";
/// What was looked at is closed.
pub const BACK: &str = "close";
/// Work is gone on with.
pub const GO_ON: &str = "go on";
/// A row of a form is taken.
pub const NEXT_LINE: &str = "next line";
/// A customer of past sessions is marked: their bike.
pub const TAKE_OVER: &str = "take over this bike";
/// The same where only the name is asked for.
pub const TAKE_NAME: &str = "take this name";
/// The work begins.
pub const BEGIN: &str = "begin the work";

/// A reading typed in.
pub fn reading(reading: Length, units: UnitSet) -> String {
    format!("save {}", reading.ruled(units))
}

/// Several trials typed in one go.
pub fn trials(count: usize) -> String {
    format!("save {count} readings")
}

/// A choice of a list as something Enter does: "keep spring and collar".
pub fn choice(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_lowercase().to_string()).unwrap_or_default();
    first + letters.as_str().trim_end_matches(" ...")
}

/// The same key once more, for what was asked about.
pub fn again(enter: &str) -> String {
    format!("again: {enter}")
}
