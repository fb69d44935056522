//! The settings between their file and the screen.
//!
//! Not here: the form of the file (`archive::settings_file`) and how it is written (`archive::own_file`).

use super::springs::with_cause;
use crate::archive::own_file::OwnFile;
use crate::archive::settings_file;
use crate::phrase::sentence;
use crate::screen::effect::{Answer, SettingsFile};
use crate::settings::Settings;

/// Reads the settings; without a file they are as the program brings them.
pub(super) fn read(file: &mut OwnFile) -> SettingsFile {
    match file.read(settings_file::read) {
        Ok(settings) => SettingsFile::Read(Box::new(settings.unwrap_or_default())),
        Err(faults) => SettingsFile::Unreadable(faults.iter().map(|fault| sentence(fault)).collect()),
    }
}

/// Writes the settings.
pub(super) fn keep(file: &mut OwnFile, settings: &Settings) -> Answer {
    let kept = settings_file::write(settings)
        .map_err(|error| error.to_string())
        .and_then(|text| file.keep(text).map_err(|error| with_cause(&error)));
    match kept {
        Ok(()) => Answer::SettingsKept,
        Err(because) => Answer::SettingsNotKept(sentence(&because)),
    }
}
