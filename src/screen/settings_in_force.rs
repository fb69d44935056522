//! The settings as they stand on the desk: what holds, where it is kept, and what this run was started with.
//!
//! A setting that is changed holds from the next frame on. Units and mouse can also be changed by a key until the program
//! is left; that is on the desk and not in the settings. Not here: the place that shows them (`place::settings`), and the
//! file (`archive::settings_file`).

use super::effect::SettingsFile;
use super::model::{Desk, Model, Notice};
use super::theme::{Theme, ThemeChoice};
use crate::phrase;
use crate::settings::Settings;

/// The settings of a run.
#[derive(Debug, Clone)]
pub struct SettingsInForce {
    settings: Settings,
    /// How they stand to their file.
    pub filed: SettingsFileState,
    /// Where the file lies, safe to show.
    pub place: String,
    /// What the look comes from, the settings apart.
    pub look: ThemeChoice,
}

/// How the settings stand to their file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SettingsFileState {
    /// The file holds them, or there is none and they are as the program brings them.
    Kept,
    /// They hold until the program is left, and the file does not have them, for this reason.
    NotKept(String),
    /// The file cannot be read; every fault in a sentence of its own.
    Unreadable(Vec<String>),
}

impl SettingsInForce {
    /// Settings as the program brings them, under a fixed theme.
    pub fn under(theme: Theme) -> Self {
        let settings = Settings::default();
        Self {
            settings,
            filed: SettingsFileState::Kept,
            place: String::new(),
            look: ThemeChoice::found(theme),
        }
    }

    /// What holds.
    pub const fn settings(&self) -> &Settings {
        &self.settings
    }
}

impl Desk {
    /// Lets settings hold from the next frame on. What a key changed until the program is left stays, unless the setting
    /// itself changes.
    pub fn settle(&mut self, settings: Settings) {
        let before = std::mem::replace(&mut self.settled.settings, settings);
        let now = &self.settled.settings;
        if now.units != before.units {
            self.units = now.units;
        }
        if now.mouse != before.mouse {
            self.mouse = now.mouse;
        }
        self.theme = self.settled.look.theme(now);
    }

    /// Takes in what the file says.
    pub(super) fn take_settings(&mut self, file: SettingsFile) {
        match file {
            SettingsFile::Read(settings) => {
                self.settled.filed = SettingsFileState::Kept;
                self.settle(*settings);
            }
            SettingsFile::Unreadable(faults) => {
                self.settled.filed = SettingsFileState::Unreadable(faults);
                self.settle(Settings::default());
            }
        }
    }
}

impl Model {
    /// The model under the settings of a file at `place`, safe to show; one that cannot be read is told on the first screen.
    #[must_use]
    pub fn under(mut self, file: SettingsFile, place: String, look: ThemeChoice) -> Self {
        let desk = &mut self.desk;
        (desk.settled.place, desk.settled.look) = (place, look);
        desk.take_settings(file);
        if matches!(desk.settled.filed, SettingsFileState::Unreadable(_)) {
            desk.say(Notice::Said(phrase::settings::unreadable(&desk.settled.place)));
        }
        self
    }
}
