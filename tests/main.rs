//! The one integration test binary.

mod archive;
mod commands;
mod decision;
mod fuzz;
mod jobs;
mod laws;
mod licences;
mod paper;
mod published;
mod records;
mod screens;
mod soak;
mod terminal;
mod tidy;
mod units;
mod walk;
mod words;
