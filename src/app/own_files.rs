//! The shop's rack and the settings, between their files and the screen.
//!
//! Not here: the form of either file (`archive::rack_file`, `archive::settings_file`) and how they are written
//! (`archive::own_file`).

use std::path::PathBuf;
use std::sync::Arc;

use super::said::{cleaned, sentence};
use crate::archive::own_file::OwnFile;
use crate::archive::{RealDisk, rack_file, settings_file};
use crate::screen::effect::{Answer, SettingsFile, ShopRack};
use crate::session::ShopSpring;
use crate::settings::Settings;

/// Reads the rack; without a file it is an empty one.
pub(super) fn read_rack(file: &mut OwnFile) -> ShopRack {
    match file.read(rack_file::read) {
        Ok(springs) => ShopRack::Read(springs.unwrap_or_default()),
        Err(faults) => ShopRack::Unreadable(sentences(&faults)),
    }
}

/// Writes the rack.
pub(super) fn keep_rack(file: &mut OwnFile, springs: Vec<ShopSpring>) -> Answer {
    match keep(file, rack_file::write(&springs)) {
        Ok(()) => Answer::RackKept(springs),
        Err(because) => Answer::Failed(because),
    }
}

/// Reads the settings; without a file they are as the program brings them.
pub(super) fn read_settings(file: &mut OwnFile) -> SettingsFile {
    match file.read(settings_file::read) {
        Ok(settings) => SettingsFile::Read(Box::new(settings.unwrap_or_default())),
        Err(faults) => SettingsFile::Unreadable(sentences(&faults)),
    }
}

/// The settings in a file, for a command; as the program brings them where there is none or it cannot be read.
pub(super) fn settings_in(file: Option<PathBuf>) -> Settings {
    let read = file.map(|file| read_settings(&mut OwnFile::new(Arc::new(RealDisk), file)));
    match read {
        Some(SettingsFile::Read(settings)) => *settings,
        Some(SettingsFile::Unreadable(_)) | None => Settings::default(),
    }
}

/// Writes the settings.
pub(super) fn keep_settings(file: &mut OwnFile, settings: &Settings) -> Answer {
    match keep(file, settings_file::write(settings)) {
        Ok(()) => Answer::SettingsKept,
        Err(because) => Answer::SettingsNotKept(because),
    }
}

/// Writes a text, or says why not in a sentence.
fn keep(file: &mut OwnFile, text: Result<String, ron::Error>) -> Result<(), String> {
    use std::error::Error;
    let text = text.map_err(|error| sentence(&error))?;
    file.keep(text).map_err(|error| match error.source() {
        Some(source) => cleaned(&format!("{error} ({source})")),
        None => sentence(&error),
    })
}

fn sentences(faults: &[String]) -> Vec<String> {
    faults.iter().map(|fault| cleaned(fault)).collect()
}
