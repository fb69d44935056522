//! The one integration test binary.

mod records;
mod walk;
