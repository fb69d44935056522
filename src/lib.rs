//! coilwright: a full-screen assistant for fitting the right coil spring to a mountain bike's rear shock.

pub mod assessment;
pub mod assets;
pub mod mechanics;
pub mod phrase;
pub mod screen;
pub mod session;
pub mod statistics;
pub mod text;
pub mod units;
