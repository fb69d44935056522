//! The shop's rack between its file and the screen.
//!
//! Not here: the form of the file (`archive::rack_file`) and how it is written (`archive::own_file`).

use crate::archive::own_file::{OwnFile, OwnFileError};
use crate::archive::rack_file;
use crate::phrase::sentence;
use crate::screen::effect::{Answer, ShopRack};
use crate::session::ShopSpring;

/// Reads the rack; without a file it is an empty one.
pub(super) fn read(file: &mut OwnFile) -> ShopRack {
    match file.read(rack_file::read) {
        Ok(springs) => ShopRack::Read(springs.unwrap_or_default()),
        Err(faults) => ShopRack::Unreadable(faults.iter().map(|fault| sentence(fault)).collect()),
    }
}

/// Writes the rack.
pub(super) fn keep(file: &mut OwnFile, springs: Vec<ShopSpring>) -> Answer {
    let kept = rack_file::write(&springs)
        .map_err(|error| error.to_string())
        .and_then(|text| file.keep(text).map_err(|error| with_cause(&error)));
    match kept {
        Ok(()) => Answer::RackKept(springs),
        Err(because) => Answer::Failed(sentence(&because)),
    }
}

/// An error with its cause.
pub(super) fn with_cause(error: &OwnFileError) -> String {
    use std::error::Error;
    error.source().map_or_else(|| error.to_string(), |source| format!("{error} ({source})"))
}
