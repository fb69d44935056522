//! What the card for the rider says besides figures: what to look at again, and whose word comes first.
//!
//! Not here: cautions, which stand with the walk (`walk`), and the layout of the card (`report`).

use crate::units::{Length, UnitSet};

/// The mark of an invented session.
pub const DEMONSTRATION: &str = "Demonstration: workshop, rider, bike and figures are invented.";

/// What a card says that was printed before the final checks were done.
pub const FINAL_CHECKS_OPEN: &str =
    "Not ready to ride: the final checks are not done. Collar and bolts may be loose.";

/// What the figure behind a sag means.
pub const SPREAD: &str = "After ± is what holds the sag in 9 of 10 cases.";

/// What to look at after the first ride (common practice, no source).
pub const RECHECK: [&str; 4] = [
    "Shock and linkage bolts: check to the frame maker's torque.",
    "Collar: not moved, locked, no play in the spring.",
    "Sag: measure again once the spring has settled, after a few rides.",
    "Shock: no oil on the shaft, nothing rubs or knocks.",
];

/// What was tried.
pub const TRIED: &str = "What was tried";
/// What is left to do.
pub const STILL_OPEN: &str = "Still open";
/// Rows of the sheet that are texts.
pub const WRITTEN_DOWN: &str = "Written down";
/// No reading with this spring and collar.
pub const NO_SAG_YET: &str = "not measured yet with this setup";
/// Whose word comes first, at the head of the card.
pub const MAKERS_SHORT: &str =
    "The makers' figures and the rules of your place come before anything on this card.";
/// What the seasons do (common practice, no source).
pub const SEASON: &str = "With winter kit, or after a winter: weigh again and measure the sag again. A cold damper is slower for \
                          the first minutes; that is no reason for another spring (common practice).";

/// What came of a program that was started.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandedOver {
    /// It was started.
    Done,
    /// It could not be.
    NotStarted,
}

/// A card that was written: where it lies, and whether it is shown and printed.
pub fn written(place: &str, shown: Option<HandedOver>, printed: Option<HandedOver>) -> String {
    let shown = match shown {
        Some(HandedOver::Done) => " It opens in the browser.",
        Some(HandedOver::NotStarted) => " The browser could not be started; open the file yourself.",
        None => "",
    };
    let printed = match printed {
        Some(HandedOver::Done) => " It was sent to the printer.",
        Some(HandedOver::NotStarted) => {
            " The printer's command could not be started; look at it in the settings."
        }
        None => "",
    };
    format!("Card written: {place}.{shown}{printed}")
}

/// A card that could not be written.
pub fn not_written(because: &str) -> String {
    format!(
        "The card could not be written: {because}. The record is untouched; `coilwright card NAME` writes it elsewhere."
    )
}

/// Who did the work.
pub fn mechanic(name: &str) -> String {
    format!("mechanic {name}")
}

/// What the sag is a share of.
pub fn of_the_stroke(stroke: Length, units: UnitSet) -> String {
    format!("of {} shock stroke, rider seated", units.show(stroke))
}

/// Sets that are not told one by one.
pub fn tried_before(count: usize) -> String {
    format!("{count} more before these.")
}

/// What to order.
pub fn to_order(words: &str) -> String {
    format!("To order: {words}")
}

/// Whose word comes first.
pub const MAKERS_FIRST: &str = "The figures of the frame's and the shock's makers, local rules and the word of a qualified \
                                mechanic come before anything on this card.";
