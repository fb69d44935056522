//! Words of conditions: what is otherwise while some sets are read, and how they compare.
//!
//! Not here: what the line of quick trials takes (`trials`).

use crate::session::Condition;
use crate::units::{Estimate, Share, Show, UnitSet};

/// The most cells of a name in a row.
const NAME: usize = 10;

/// The name of a spring or a place, and the condition it was read under where there was one: "450 lb/in, pack".
pub fn behind(name: String, condition: Option<&Condition>) -> String {
    let Some(condition) = condition else { return name };
    match condition.name.shown().fitted(NAME) {
        unnamed if unnamed.is_empty() => format!("{name}, other load"),
        named => format!("{name}, {named}"),
    }
}

/// What stands beside the sag of such a set: "with pack".
pub fn with(condition: &Condition) -> String {
    format!("with {}", condition.name.shown().fitted(2 * NAME))
}

/// A condition with its weight: "pack, rider 86 kg".
pub fn named(condition: &Condition, units: UnitSet) -> String {
    let name = condition.name.shown();
    condition.rider.map_or_else(|| name.to_string(), |rider| format!("{name}, rider {}", units.show(rider)))
}

/// Readings from now on are taken under it, or as entered again.
pub fn under(condition: Option<&Condition>, units: UnitSet) -> String {
    condition.map_or_else(
        || "Readings from now on: rider and bike as entered".to_owned(),
        |condition| format!("Readings from now on with: {}", named(condition, units)),
    )
}

/// What a condition lacks; behind this word, where one opens the line.
pub fn form(opened: &str, units: UnitSet) -> String {
    let weight = match units {
        UnitSet::Imperial => "190",
        UnitSet::Trade | UnitSet::Metric => "86",
    };
    let alone = if opened.is_empty() { "Enter alone" } else { "w alone" };
    format!(
        "Type the rider's weight with it and its name: {opened}{weight} pack. {alone} goes back to the details as entered."
    )
}

/// What is asked where a condition is to be named, and how it is now.
pub fn question(now: Option<&Condition>, units: UnitSet) -> String {
    let now = now.map_or_else(String::new, |now| format!(" Now with: {}.", named(now, units)));
    format!("What is different from now on: a pack, another rider, softer tyres?{now} {}", form("", units))
}

/// That what is advised holds under it alone, and the way back.
pub fn judged(condition: &Condition) -> String {
    format!("Judged {}. To go back to the details as entered: w, then Enter.", with(condition))
}

/// Before the condition that the sag of a card was read under.
pub const READ_WITH: &str = "Read with";

/// How a line is understood that names a condition.
pub fn understood(condition: Option<&Condition>, units: UnitSet) -> String {
    condition.map_or_else(
        || "= rider and bike as entered again".to_owned(),
        |condition| format!("= with {}; a set of its own", named(condition, units)),
    )
}

/// What a condition does to the sag on one spring: "With pack: 2.6 ± 0.9 points more sag on 450 lb/in."
pub fn difference(condition: &Condition, more: Estimate<Share>, place: &str, units: UnitSet) -> String {
    let [points, doubt] = [more.value, more.uncertainty]
        .map(|share| Share::fraction(share.as_fraction().abs()).written(units).figure);
    let way = if more.value.as_fraction() < 0.0 { "less" } else { "more" };
    format!("With {}: {points} ± {doubt} points {way} sag on {place}.", condition.name.shown().fitted(24))
}
