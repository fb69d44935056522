//! The one integration test binary.

mod archive;
