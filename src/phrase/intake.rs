//! Words of the intake: what each row is called, what it takes and what is customary for it, and the sentences of the form.
//!
//! Not here: which rows there are and in what order (`screen::place::intake`), and what is possible in each
//! (`session::limits`).

use crate::text::Shown;

/// On to the work: what the row is called, and what it does.
pub const BEGIN: [&str; 2] =
    ["Begin the work", "On to the work at the bike. Every detail can be corrected later."];

/// What is customary, offered while nothing was told.
pub fn customary(suggestion: &str) -> String {
    format!("customary: {suggestion}. Enter takes it.")
}

/// A row the work cannot begin without.
pub const NEEDED: &str = "needed";
/// Over what is still needed.
pub const STILL_NEEDED: &str = "Still needed";
/// Nothing is.
pub const NOTHING_NEEDED: &str = "✓ nothing: the work can begin";
/// A spring of which nobody said how far it may be compressed.
pub const STROKE_NOT_KNOWN: &str = "stroke not known";

/// A text left in a row without having been accepted.
pub fn draft(text: &str) -> String {
    format!("{} (not accepted yet)", Shown::from(text).fitted(20))
}

/// Asked before a text that was not accepted is left behind.
pub fn leaving(label: &str) -> String {
    format!("{label} holds text that was not accepted. Enter there takes it; Esc once more leaves it behind.")
}

/// The keys that change a line, as everywhere where lines are typed, and what they do.
pub const EDITS: [[&str; 2]; 5] = [
    ["Ctrl-W", "Takes the word before the cursor out of the field."],
    ["Ctrl-U", "Clears the field."],
    ["Ctrl-K", "Takes out all behind the cursor."],
    ["Ctrl-A, Ctrl-E", "Goes to the start, or to the end."],
    ["Ctrl-/", "Takes back the last change to the field; again, the one before."],
];
/// What typing does in a form of figures.
pub const TYPING_REPLACES: &str = "In a form, a figure typed into a row that was just reached takes the place of the one that \
                                   stands there. Move the cursor or delete first to change the figure itself.";

/// The springs to choose from.
pub fn at_hand(names: &[String]) -> String {
    format!("At hand: {}", names.join(", "))
}

/// Springs there is no room for.
pub fn and_more(count: usize) -> String {
    format!("and {count} more")
}

/// What is known of the leverage cannot be read.
pub const LEVERAGE_TAKES: &str = "Two ratios are wanted, at the start and at the end of the travel, such as 3.0 to 2.5; or \
                                  measured pairs, stroke over wheel travel, such as 10/27.5 20/54.";
/// A spring that is not on the list.
pub const NOT_ON_THE_LIST: &str =
    "No spring of that rate is on the list. Type a rate of the list, or #2 for the second.";
