//! The units a command shows figures in: those asked for, else those of the settings, else the usual ones.
//!
//! Settings that cannot be read are no reason to refuse a list; the full screen names what is wrong with them. Not here: the
//! form of the settings (`archive::settings_file`).

use std::fs;
use std::path::PathBuf;

use directories::ProjectDirs;

use crate::archive::settings_file;
use crate::cli::{Cli, UnitsName};
use crate::units::UnitSet;

pub(super) fn of(cli: &Cli, asked: Option<UnitsName>) -> UnitSet {
    asked.map(UnitSet::from).or_else(|| settled(cli)).unwrap_or_default()
}

fn settled(cli: &Cli) -> Option<UnitSet> {
    let own =
        || ProjectDirs::from("", "", "coilwright").map(|own| own.config_dir().join(settings_file::NAME));
    let file: PathBuf = cli.settings.clone().or_else(own)?;
    let text = fs::read_to_string(file).ok()?;
    settings_file::read(&text).ok().map(|settings| settings.units)
}
