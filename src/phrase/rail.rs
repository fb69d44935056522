//! Words above the step: where in the walk it is, what comes next, and what the large figure is.
//!
//! Not here: the names of the steps (`walk`), and what is done at them (`guide`).

use crate::units::Minutes;

/// The spring that goes on, above its rate set large.
pub const TO_FIT: &str = "Fit";

/// What a choice takes: "17 min".
pub fn minutes(minutes: Minutes) -> String {
    format!("{:.0} min", minutes.value())
}

/// Which of the steps this one is, behind the rail.
pub fn step_of(step: usize, steps: usize) -> String {
    format!("  step {step} of {steps}")
}

/// The step that follows.
pub fn next_step(title: &str) -> String {
    format!("next: {title}")
}
