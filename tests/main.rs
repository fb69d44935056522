//! The one integration test binary.

mod units;
