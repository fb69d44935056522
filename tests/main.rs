//! The one integration test binary.

mod archive;
mod laws;
mod published;
mod units;
