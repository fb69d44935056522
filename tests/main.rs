//! The one integration test binary.

mod laws;
mod published;
mod units;
mod archive;
