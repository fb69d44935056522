//! The one integration test binary.

mod archive;
mod laws;
mod published;
mod records;
mod screens;
<<<<<<< HEAD
mod tidy;
=======
mod terminal;
>>>>>>> screen
mod units;
mod walk;
