//! The command line as types; no logic.

use std::path::PathBuf;

use clap::{Parser, Subcommand};

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
    /// List the sessions of the records folder, newest first.
    List {
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
        /// At most so many.
        #[arg(long, value_name = "N")]
        limit: Option<usize>,
    },
    /// Find sessions by rider, bike, spring rate, month or date.
    Find {
        /// What has to be in a session, each somewhere; case and accents do not count, nor does a slip or two.
        #[arg(required = true, value_name = "WORDS")]
        words: Vec<String>,
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
    },
    /// Look at every file of the records folder; the exit code is 1 if one deserves somebody's eye.
    Check {
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
    },
}

const AFTER: &str = "A loaded spring and a loose bolt can hurt somebody. The makers' figures and a qualified mechanic \
                     come before anything this program says.";
