//! The one integration test binary.

mod archive;
mod laws;
mod published;
mod records;
mod units;
mod walk;
