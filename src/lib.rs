//! coilwright: a full-screen assistant for fitting the right coil spring to a mountain bike's rear shock.

pub mod archive;
pub mod session;
pub mod statistics;
pub mod text;
pub mod units;
