//! The command line as types; no logic.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

/// Fit the right coil spring to a mountain bike's rear shock, one measured step at a time.
#[derive(Debug, Parser)]
#[command(version, about, after_help = AFTER)]
pub struct Cli {
    /// Folder the records live in [default: a folder of your user account].
    #[arg(long, global = true, value_name = "DIR", env = "COILWRIGHT_RECORDS", hide_env_values = true)]
    pub records: Option<PathBuf>,
    /// Draw with ASCII only, for terminals without line and block characters.
    #[arg(long, global = true)]
    pub ascii: bool,
    /// The inks of the full screen [default: by what the terminal says; plain where NO_COLOR is set].
    #[arg(long, global = true, value_name = "NAME")]
    pub theme: Option<ThemeName>,
    /// What to do; without it, the full screen opens.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// The inks to choose from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ThemeName {
    /// For a dark ground.
    Dark,
    /// For a light ground.
    Light,
    /// White on black, nothing dimmed.
    HighContrast,
    /// No colour.
    Plain,
}

/// What can be done without a screen.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Say what a record means: sag, forecasts, advice.
    Assess {
        /// The record, or - for standard input.
        file: PathBuf,
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
    },
}

const AFTER: &str = "A loaded spring and a loose bolt can hurt somebody. The makers' figures and a qualified mechanic \
                     come before anything this program says.";
