//! The walk from outside: every step against every deed, whole sessions, and random walks that must keep its promises.
//!
//! What a mechanic may do when is common practice, no source. Not here: how a record is kept in a file (`records`).

mod hazards;
mod kerb;
mod merging;
mod promises;
mod repairs;
pub(crate) mod sample;
pub(crate) mod sessions;
mod steps;
