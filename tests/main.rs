//! The one integration test binary.

mod archive;
mod laws;
mod published;
mod records;
mod screens;
mod terminal;
mod units;
mod walk;
