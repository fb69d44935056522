//! The command line as types; no logic.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::units::UnitSet;

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
    /// What to do; without it, the full screen opens.
    #[command(subcommand)]
    pub command: Option<Command>,
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
    /// Write the setup card of a session, to be handed to the rider.
    Card(CardOptions),
    /// Write every session of the records folder, for a database or a spreadsheet.
    Export(ExportOptions),
    /// Write completions for a shell.
    Completions {
        /// Which shell.
        shell: Shell,
    },
    /// Write the manual page, for `man -l -`.
    Manual,
}

/// What card to write.
#[derive(Debug, Args)]
pub struct CardOptions {
    /// A record, the name of a session in the records folder, or - for standard input.
    #[arg(value_name = "FILE|NAME|-")]
    pub session: PathBuf,
    /// As a page for a browser, which prints on one sheet.
    #[arg(long)]
    pub html: bool,
    /// Units of the figures.
    #[arg(long, value_enum, default_value_t = Units::Trade)]
    pub units: Units,
    /// Where to.
    #[command(flatten)]
    pub to: OutOptions,
}

/// What to export, and how.
#[derive(Debug, Args)]
pub struct ExportOptions {
    /// As a CSV table, one row a set of readings.
    #[arg(long, conflicts_with = "lines")]
    pub csv: bool,
    /// As JSON, one object a session a line; so it is without --csv, too.
    #[arg(long)]
    pub lines: bool,
    /// Only sessions begun on this day or later, such as 2026-11-25.
    #[arg(long, value_name = "DATE")]
    pub since: Option<NaiveDate>,
    /// Leave out names, bikes, notes and remarks.
    #[arg(long)]
    pub without_names: bool,
    /// Where to.
    #[command(flatten)]
    pub to: OutOptions,
}

/// Where a text goes.
#[derive(Debug, Args)]
pub struct OutOptions {
    /// File to write [default: standard output].
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Write over a file that is there.
    #[arg(long, requires = "out")]
    pub force: bool,
}

/// Units of the figures on a card.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// Millimetres, kilograms, lb/in.
    Trade,
    /// Inches, pounds, lb/in.
    Imperial,
    /// Millimetres, kilograms, N/mm.
    Metric,
}

impl From<Units> for UnitSet {
    fn from(units: Units) -> Self {
        match units {
            Units::Trade => Self::Trade,
            Units::Imperial => Self::Imperial,
            Units::Metric => Self::Metric,
        }
    }
}

const AFTER: &str = "A loaded spring and a loose bolt can hurt somebody. The makers' figures and a qualified mechanic \
                     come before anything this program says.";
