//! An invented format before the first, for tests of the way up: it called the rider's mass `rider` and gave it in pounds.

use super::fields;

/// Kilograms in a pound, by its definition of 1959.
const POUND: f64 = 0.453_592_37;

pub(super) fn lifted(text: &str) -> String {
    let pounds: f64 =
        fields::look(text, "rider").and_then(|piece| fields::read(text, piece).ok()).unwrap_or_default();
    let lifted = text.replace(&format!("rider: {pounds:?}"), &format!("rider_kg: {:?}", pounds * POUND));
    lifted.replacen("format: 0", "format: 1", 1)
}
