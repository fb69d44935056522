//! Floor 4: the sole home of wording, so that screen and paper say the same thing in the same words.
//!
//! Everything below this floor answers with data: a step, a refusal, a fault in a typed figure. Here each becomes plain
//! British English. The words of the walk are in `assets/walk.ron`, embedded and read once; sentences with figures in
//! them are beside the type they speak of. Text that a person typed is made safe before it is quoted. Not here: layout,
//! colour, which key does what, and figures themselves (`units::display`).

pub mod advice;
pub mod around;
pub mod backup;
mod chance;
pub mod changes;
pub mod compare;
pub mod condition;
pub mod damper;
pub mod deed;
pub mod enter;
pub mod fit;
pub mod folder;
pub mod forget;
pub mod front;
pub mod guide;
pub mod handover;
pub mod hazard;
pub mod intake;
pub mod kerb;
pub mod leverage;
pub mod measurement;
pub mod missing;
pub mod palette;
pub mod places;
pub mod quantity;
pub mod rack;
pub mod rail;
pub mod refusal;
pub mod replay;
pub mod review;
pub mod ride;
pub mod settings;
pub mod sheet;
pub mod shop_alternatives;
pub mod springs;
pub mod tally;
pub mod trials;
pub mod versions;
pub mod walk;
pub mod warning;
pub mod what_if;
pub mod wire;

pub use advice::{AdviceWords, advice, cause};
pub use chance::{chance, in_tens, is_hardly};
pub use changes::{ChangeRow, ChangesTable, SPRING_BARS, SpringColumn, changes};
pub use deed::{bottoming, charge, collar, deed, detail, feel, ride_height, spring, trail_answers};
pub use guide::standing;
pub use handover::{DEMONSTRATION, FINAL_CHECKS_OPEN, MAKERS_FIRST, RECHECK, SPREAD};
pub use intake::NOT_ENTERED;
pub use leverage::{pairs_unreadable, survey};
pub use missing::missing;
pub use quantity::{field, understood, unit_set, unreadable, unusual};
pub use refusal::refusal;
pub use walk::{CautionWords, CheckWords, StepWords, Term, awaiting, caution, check, glossary, step};
pub use warning::{trail_finding, warning};
pub use wire::{MAKER_FIRST, end_type, material, wire, wire_fault, wire_figure, wire_unusual};

use crate::session::Target;
use crate::units::{Show, UnitSet};

/// The text as a sentence of its own.
pub fn sentence(text: &str) -> String {
    let stop = if text.ends_with('.') { "" } else { "." };
    opening(text) + stop
}

/// The text with its first letter made large, to open a sentence.
pub(crate) fn opening(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A target range, its lower and its upper limit: "28.5–31.5 %".
pub fn target_range(target: Target, units: UnitSet) -> String {
    format!("{}–{}", target.low().written(units).figure, units.show(target.high()))
}

/// "rider", "rider and bike", "rider, bike and shock stroke".
fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_reads_as_a_person_would_say_it() {
        assert_eq!(listed(&["rider", "bike", "shock stroke"]), "rider, bike and shock stroke");
        assert_eq!(listed(&["rider"]), "rider");
    }

    #[test]
    fn a_sentence_opens_with_a_capital() {
        assert_eq!(opening("shock stroke"), "Shock stroke");
        assert_eq!(opening(""), "");
        assert_eq!(sentence("choose another file"), "Choose another file.");
    }
}
