//! An invented format before the first, for tests of the way up: it called the rider's mass `rider` and gave it in pounds.

use ron::error::SpannedError;

use super::super::place;
use super::wire::{self, Sheet};

/// Kilograms in a pound, by its definition of 1959.
const POUND: f64 = 0.453_592_37;

pub(super) fn read(text: &str, sheet: &mut Sheet) -> Result<(), SpannedError> {
    let pounds: f64 = place::look(text, "rider").unwrap_or_default();
    let lifted = text.replace(&format!("rider: {pounds:?}"), &format!("rider_kg: {:?}", pounds * POUND));
    wire::read(&lifted, sheet)
}
