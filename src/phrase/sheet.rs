//! The sheet of a bike as it was found and as it was left, in words: names of its rows, what each takes, what stands there.
//!
//! Not here: what kind of thing a row takes (`session::sheet`).

use super::damper::knob;
use crate::session::{Item, Sheet, Written};
use crate::units::{Show, UnitSet};

/// What the two columns are called.
pub const FOUND: &str = "As found";
/// The same, for the bike as it goes.
pub const LEFT: &str = "As left";
/// Both columns.
pub const BOTH: &str = "As found, as left";
/// How the sheet is filled in.
pub const HOW: &str = "Leave a row empty to skip it. Esc keeps the sheet and goes back.";
/// The rows of the ride.
pub const DEEPEST: &str = "Deepest stroke";
/// The same.
pub const BOTHERS: &str = "Bothers most";
/// The same.
pub const CHANGED: &str = "Changed before it";
/// What they take.
pub const DEEPEST_TAKES: &str =
    "After the ride: from the travel indicator to the seal, with the shock fully out.";
/// The same.
pub const BOTHERS_TAKES: &str = "Left and right choose what the rider says; one thing at a time.";
/// The same.
pub const CHANGED_TAKES: &str =
    "The one thing that was changed since the ride before, such as: rebound 1 faster.";
/// Where a row is empty.
pub const EMPTY: &str = "–";

/// What a row is called.
pub const fn name(item: Item) -> &'static str {
    match item {
        Item::Preload => "Preload",
        Item::Rebound => "Rebound",
        Item::LowSpeed => "Low-speed compr.",
        Item::HighSpeed => "High-speed compr.",
        Item::EndStop => "End stop",
        Item::Bumper => "Bumper begins",
        Item::Seat => "Spring seat",
        Item::CollarLeast => "Collar fully in",
        Item::CollarMost => "Collar fully back",
        Item::Tyres => "Tyres",
        Item::Fork => "Fork",
        Item::ForkSag => "Fork sag",
        Item::ForkTravel => "Fork travel",
        Item::HeadAngle => "Head angle",
        Item::ForkSprings => "Fork springs listed",
        Item::Service => "Shock serviced",
        Item::Frame => "Frame settings",
        Item::WorkOrder => "Work order",
        Item::Torque => "Torque used",
    }
}

/// What a row takes, in a sentence.
pub const fn takes(item: Item) -> &'static str {
    match item {
        Item::Preload => "Turns counted while backing the collar off: 1 1/2.",
        Item::Rebound | Item::LowSpeed | Item::HighSpeed | Item::EndStop => {
            "Clicks from fully closed, and of how many if counted: 8 of 14. Clockwise closes."
        }
        Item::Bumper => "How far before the end of the stroke the bumper begins, if it was measured.",
        Item::Seat => "Diameter of the body or seat the spring goes round.",
        Item::CollarLeast | Item::CollarMost => {
            "From the spring's retainer to the collar, at that end of its thread."
        }
        Item::Tyres => "Front and rear, with the unit: 1.6 / 1.8 bar.",
        Item::Fork => "Pressure with its unit, or the spring in it.",
        Item::ForkSag => "Rider seated, along the legs.",
        Item::ForkTravel => "Along the legs.",
        Item::HeadAngle => "In degrees, bike unladen: 64.5.",
        Item::ForkSprings => "For a coil fork: the rates its maker lists, in lb/in: 45 50 55.",
        Item::Service => "When, or at how many hours.",
        Item::Frame => "Flip chip, travel, wheel size.",
        Item::WorkOrder => "Its number, for the card.",
        Item::Torque => "The maker's figure used, bolt by bolt: shock upper 12 Nm, lower 12 Nm.",
    }
}

/// A row that cannot be read, and the way out.
pub fn not_understood(name: &str, takes: &str) -> String {
    format!("{name} is not understood. {takes} Esc once more leaves without what is typed here.")
}

/// What stands in a row; none where it is empty.
pub fn value(sheet: &Sheet, item: Item, units: UnitSet) -> Option<String> {
    Some(match sheet.of(item)? {
        Written::Turns(turns) => format!("{} of preload", units.show(turns)),
        Written::Clicks(clicks) => knob(clicks),
        Written::Length(length) => length.even(units).to_string(),
        Written::Angle(angle) => units.show(angle),
        Written::Text(text) => text.shown().to_string(),
    })
}

/// The rows that have something in one of the two columns, with both: name, found, left.
pub fn both(found: &Sheet, left: &Sheet, units: UnitSet) -> Vec<[String; 3]> {
    of_both(Item::ALL, found, left, units)
}

/// The same for the rows a rider reads.
pub fn for_the_rider(found: &Sheet, left: &Sheet, units: UnitSet) -> Vec<[String; 3]> {
    let items: Vec<Item> = Item::ALL.iter().copied().filter(|item| item.concerns_the_rider()).collect();
    of_both(&items, found, left, units)
}

fn of_both(items: &[Item], found: &Sheet, left: &Sheet, units: UnitSet) -> Vec<[String; 3]> {
    let row = |item: &Item| {
        let [was, is] = [found, left].map(|sheet| value(sheet, *item, units));
        (was.is_some() || is.is_some()).then(|| {
            let empty = || EMPTY.to_owned();
            [name(*item).to_owned(), was.unwrap_or_else(empty), is.unwrap_or_else(empty)]
        })
    };
    items.iter().filter_map(row).collect()
}

/// All that is written on a sheet, in one line.
pub fn line(sheet: &Sheet, units: UnitSet) -> String {
    let entered = Item::ALL.iter().filter_map(|item| {
        let value = value(sheet, *item, units)?;
        Some(format!("{} {value}", super::opening(name(*item)).to_lowercase()))
    });
    let entered: Vec<String> = entered.collect();
    if entered.is_empty() { "nothing".to_owned() } else { entered.join("; ") }
}

/// What has to be set back after measuring: the adjusters as they were found; none where nobody wrote them down.
pub fn to_set_back(found: &Sheet, units: UnitSet) -> Option<String> {
    let adjusters = [Item::Rebound, Item::LowSpeed, Item::HighSpeed, Item::EndStop];
    let entered = adjusters
        .into_iter()
        .filter_map(|item| Some(format!("{} {}", name(item).to_lowercase(), value(found, item, units)?)));
    let entered: Vec<String> = entered.collect();
    (!entered.is_empty()).then(|| format!("{FOUND}: {}.", entered.join("; ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::damper::Knob;
    use crate::text::FreeText;

    fn found() -> Sheet {
        Sheet {
            rebound: Some(Knob { from_closed: 8, of: Some(14) }),
            tyres: Some(FreeText::new("1.6 / 1.8 bar")),
            ..Sheet::default()
        }
    }

    #[test]
    fn both_columns_have_the_same_rows() {
        let left = Sheet { rebound: Some(Knob { from_closed: 6, of: Some(14) }), ..Sheet::default() };
        let rows = both(&found(), &left, UnitSet::Trade);
        assert_eq!(rows[0], ["Rebound", "8 of 14 from closed", "6 of 14 from closed"]);
        assert_eq!(rows[1], ["Tyres", "1.6 / 1.8 bar", EMPTY]);
    }

    #[test]
    fn the_adjusters_found_are_said_where_they_are_set_back() {
        let back = to_set_back(&found(), UnitSet::Trade);
        assert_eq!(back.as_deref(), Some("As found: rebound 8 of 14 from closed."));
        assert_eq!(to_set_back(&Sheet::default(), UnitSet::Trade), None);
    }
}
