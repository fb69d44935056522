//! Words of the list of everything that can be done now.
//!
//! Not here: what each action is called and does (`screen::keys`).

use crate::session::Stamp;
use crate::text::FreeText;

use super::review::NO_NAME;

/// What stands at the right of a session, and of a spring.
pub const SESSION: &str = "past session";
/// The same of a spring.
pub const SPRING: &str = "on the rack";
/// What choosing a session does.
pub const SESSION_MEANING: &str = "Opens the past session for looking at. From there it can be gone on with.";
/// What choosing a spring does where it is looked at.
pub const SPRING_MEANING: &str = "Shows the spring on the rack.";
/// What it does in quick trials.
pub const SPRING_ON_THE_LINE: &str =
    "Types the swap to this spring on the line. Nothing is saved before Enter there.";
/// Enter on each of them.
pub const LOOK_AT: &str = "look at it";
/// The same on a spring.
pub const SHOW_SPRING: &str = "show the spring";
/// The same in quick trials.
pub const TYPE_SWAP: &str = "type the swap";
/// Nothing has these letters.
pub const NOTHING_FOUND: &str = "Nothing you can do now has that name.";

/// A past session: the day, whose bike, and which.
pub fn session(customer: &FreeText, bike: &FreeText, opened: &Stamp) -> String {
    let names = [customer, bike].into_iter().filter(|name| !name.is_empty());
    let names: Vec<String> = names.map(|name| name.shown().fitted(28)).collect();
    let names = if names.is_empty() { NO_NAME.to_owned() } else { names.join(" · ") };
    format!("{} · {names}", opened.format("%Y-%m-%d"))
}

/// More sessions than are listed.
pub fn more_sessions(count: usize) -> String {
    format!("and {count} more past sessions: type a name, a bike, a rate or a date")
}
