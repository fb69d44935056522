//! Words of the intake: what each row is called, what it takes and what is customary for it, and the sentences of the form.
//!
//! Not here: which rows there are and in what order (`screen::place::intake`), and what is possible in each
//! (`session::limits`).

use crate::session::{Spring, Stamp};
use crate::text::{FreeText, Shown};
use crate::units::{Length, Show, UnitSet};

/// On to the work: what the row is called, and what it does.
pub const BEGIN: [&str; 2] = ["Begin the work", "Press Enter to start. You can change any detail later."];

/// What nobody entered, and nothing typical is shown for.
pub const NOT_ENTERED: &str = "not entered";
/// A value that stands in a row because the trade has it so; nobody entered it.
pub const TYPICAL: &str = "typical";
/// A value that stands in a row because the shop's settings say so.
pub const FROM_SETTINGS: &str = "from settings";
/// A value that stands in a row because the shop's rack says so.
pub const FROM_RACK: &str = "from the rack";

/// A value that stands in a row, and that Enter leaves it there.
pub fn stands(source: &str, value: &str) -> String {
    format!("{}: {value}. Enter goes on with it.", super::opening(source))
}

/// Springs in a few words: how many, and from which rate to which.
pub fn springs_in_short(springs: &[Spring], units: UnitSet) -> String {
    let count = if springs.len() == 1 { "1 spring".to_owned() } else { format!("{} springs", springs.len()) };
    match springs {
        [first, .., last] if units.show(first.label) != units.show(last.label) => {
            format!("{count}, {} to {}", first.label.written(units).figure, units.show(last.label))
        }
        [first, ..] => format!("{count}, {}", units.show(first.label)),
        [] => count,
    }
}

/// How a line of springs is understood: their rates, and how many strokes are known.
pub fn springs_understood(springs: &[Spring], units: UnitSet) -> String {
    let unknown = springs.iter().filter(|spring| spring.stroke.is_none()).count();
    let strokes = match (springs, unknown) {
        ([one], 0) => one.stroke.map_or_else(String::new, |stroke| format!("stroke {}", units.show(stroke))),
        ([_], _) => STROKE_NOT_KNOWN.to_owned(),
        (_, 0) => "every stroke known".to_owned(),
        (_, unknown) if unknown == springs.len() => "strokes not known".to_owned(),
        (_, unknown) => format!("{unknown} with the stroke not known"),
    };
    format!("= {}, {strokes}", springs_in_short(springs, units))
}

/// How the spring on the bike is understood.
pub fn on_the_bike(name: &str, stroke: Option<Length>, joins: bool, units: UnitSet) -> String {
    let stroke =
        stroke.map_or_else(|| STROKE_NOT_KNOWN.to_owned(), |stroke| format!("stroke {}", units.show(stroke)));
    let joins = if joins { "; joins the list" } else { "" };
    format!("= {name}, {stroke}{joins}")
}

/// A customer of past sessions who is offered, with one of their bikes.
pub fn known_customer(customer: &FreeText, visits: usize, bike: &FreeText) -> String {
    let visits = if visits == 1 { "1 visit".to_owned() } else { format!("{visits} visits") };
    let bike = bike.shown().fitted(30);
    let bike = if bike.is_empty() { bike } else { format!(", {bike}") };
    format!("{}, {visits}{bike}", customer.shown().fitted(40))
}

/// Below customers who are offered.
pub const KNOWN_HINT: &str =
    "Down marks one, Enter takes over the bike's details. Ctrl-B shows the last visit.";
/// The same in a closed session, whose details stay.
pub const KNOWN_NAME_HINT: &str = "Down marks one, Enter takes the name as it is spelt there.";
/// The last session of the customer came to nothing.
pub const NOTHING_TO_TAKE: &str =
    "That session has no bike details that can be read, so only the name was taken.";

/// The details of an earlier visit were taken over.
pub fn taken_over(opened: Stamp) -> String {
    format!(
        "Details of {} taken over; what you typed today stays. Check the weight first.",
        opened.format("%-d %B %Y")
    )
}

/// Said where the work is to begin and a row still holds text that was not accepted.
pub fn not_accepted(label: &str) -> String {
    format!(
        "{label} holds text that was not accepted. Press Enter there to take it, or delete it, then begin."
    )
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
pub const TYPING_REPLACES: &str =
    "Typing in a row replaces its value. To edit the value instead, move the cursor first.";

/// The springs to choose from.
pub fn at_hand(names: &[String]) -> String {
    format!("On the list: {}", names.join(", "))
}

/// Springs there is no room for.
pub fn and_more(count: usize) -> String {
    format!("and {count} more")
}

/// What is known of the leverage cannot be read.
pub const LEVERAGE_TAKES: &str = "Two ratios are needed, at the start and at the end of the travel, such as 3.0 to 2.5; or \
                                  measured pairs, stroke over wheel travel, such as 10/27.5 20/54.";
/// A number that no spring on the list has.
pub fn no_such_number(units: UnitSet) -> String {
    format!(
        "No spring on the list has that number. Type the rate and stroke of the spring, such as {}.",
        super::springs::example(units)
    )
}
