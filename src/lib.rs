//! coilwright: a full-screen assistant for fitting the right coil spring to a mountain bike's rear shock.

pub mod app;
pub mod archive;
pub mod assessment;
pub mod assets;
pub mod cli;
pub mod failure;
pub mod mechanics;
pub mod phrase;
pub mod report;
pub mod screen;
pub mod session;
pub mod statistics;
pub mod text;
pub mod units;
