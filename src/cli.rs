//! The command line as types, and what is wrong with one made safe to show; no logic beyond.

mod export;

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::text::Shown;
use crate::units::UnitSet;
pub use export::{ExportOptions, Month, Since};

/// What is wrong with a command line, as it may reach a terminal: what stood there is quoted, and a file's name may hold
/// anything.
pub fn cleaned(refused: &clap::Error) -> String {
    let entered = refused.render().to_string();
    entered.trim_end().lines().map(|line| Shown::from(line).to_string()).collect::<Vec<_>>().join("\n")
}

/// Fit the right coil spring to a mountain bike's rear shock, one measured step at a time.
#[derive(Debug, Parser)]
#[command(version, about, after_help = AFTER)]
pub struct Cli {
    /// Records folder [default: a folder of your user account].
    #[arg(long, global = true, value_name = "FOLDER", env = "COILWRIGHT_RECORDS", hide_env_values = true)]
    pub records: Option<PathBuf>,
    /// Accept an empty records folder (use this only if the old one is lost)
    #[arg(long)]
    pub new_folder: bool,
    /// Settings file [default: settings.ron in the configuration folder of your user account].
    #[arg(long, global = true, value_name = "FILE", env = "COILWRIGHT_SETTINGS", hide_env_values = true)]
    pub settings: Option<PathBuf>,
    /// Draw with ASCII only, for terminals without line and block characters.
    #[arg(long, global = true)]
    pub ascii: bool,
    /// Colours of the full screen [default: by the settings, else by what the terminal says; plain where NO_COLOR is set].
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
    /// Report on a session file: sag, forecasts, recommendation.
    Assess {
        /// The record, or - for standard input.
        file: PathBuf,
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
    },
    /// Print the setup card for the rider.
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
    /// Say what leverage measured on the bike shows: ratio at start and end, fall-off, misfit.
    Leverage(LeverageQuery),
    /// Calculate a spring's rate from its wire (when the label is gone).
    Wire(WireQuery),
    /// List the sessions of the records folder, newest first.
    List {
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
        /// Show at most N sessions
        #[arg(long, value_name = "N")]
        limit: Option<usize>,
    },
    /// Find sessions by rider, bike, spring rate, month or date.
    Find {
        /// Words to look for, in any order; case, accents and small typos are ignored
        #[arg(required = true, value_name = "WORDS")]
        words: Vec<String>,
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
    },
    /// Say what the finished sessions teach: forecasts against readings, work by month, rates to stock.
    Tally {
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
        /// Only sessions begun on this day or later, such as 2026-11-25.
        #[arg(long, value_name = "DATE")]
        since: Option<NaiveDate>,
    },
    /// Save the whole records folder in one file, with check values.
    Backup {
        /// The file to make, such as shop.tar.
        file: PathBuf,
    },
    /// Put the sessions of a backup file into the records folder; nothing is overwritten.
    Restore {
        /// The backup file.
        file: PathBuf,
        /// Add what is missing to a folder that holds other sessions.
        #[arg(long)]
        merge: bool,
    },
    /// Remove a customer from every session, copy and backup of this folder; shows what will go and asks first.
    Forget(ForgetOptions),
    /// Bring two versions of one session together; shows what goes over and asks first.
    Merge(MergeOptions),
    /// Look at every file of the records folder; the exit code is 1 if one deserves somebody's eye.
    Check {
        /// As JSON, for scripts.
        #[arg(long)]
        json: bool,
    },
}

/// Whom to forget.
#[derive(Debug, Args)]
pub struct ForgetOptions {
    /// The customer's name as it is in the sessions; several spellings one after another.
    #[arg(required = true, value_name = "NAME")]
    pub names: Vec<String>,
    /// Keep every measurement; replace the name, bike, work order and notes
    #[arg(long)]
    pub anonymous: bool,
    /// Do not ask.
    #[arg(long)]
    pub yes: bool,
}

/// Which versions to bring together.
#[derive(Debug, Args)]
pub struct MergeOptions {
    /// The session, as `coilwright check` names it [default: every one that is in two versions].
    #[arg(value_name = "SESSION")]
    pub session: Option<PathBuf>,
    /// Put the other version into the wastebasket as it is; nothing goes over.
    #[arg(long)]
    pub put_away: bool,
    /// Do not ask.
    #[arg(long)]
    pub yes: bool,
}

/// What card to write.
#[derive(Debug, Args)]
pub struct CardOptions {
    /// A record, the name of a session in the records folder, words that find one or the newest of one customer, or - for
    /// standard input.
    #[arg(value_name = "FILE|NAME|WORDS|-", required = true)]
    pub session: Vec<PathBuf>,
    /// As a page for a browser, which prints on one sheet.
    #[arg(long)]
    pub html: bool,
    /// Everything of the session, for the workshop, instead of the rider's card.
    #[arg(long)]
    pub workshop: bool,
    /// Units of the figures [default: by the settings].
    #[arg(long, value_enum)]
    pub units: Option<UnitsName>,
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

/// Pairs measured on the bike while the spring is off.
#[derive(Debug, Args)]
pub struct LeverageQuery {
    /// A file with a table of stroke and wheel travel, or the pairs themselves: "10/27.5 20/54"; - for standard input.
    pub file: PathBuf,
    /// Rear wheel travel in all: 150 or 5.9in.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub travel: String,
    /// Shock stroke in all: 60 or 2.36in.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub stroke: String,
    /// The second figures are heights of the rear axle, the first at full extension.
    #[arg(long)]
    pub heights: bool,
    /// How figures are shown, and what a bare one is taken to be in.
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitsName,
    /// As JSON, for scripts.
    #[arg(long)]
    pub json: bool,
}

/// A spring as calipers and eye find it.
#[derive(Debug, Args)]
pub struct WireQuery {
    /// Wire diameter: 12.4 or 0.49in.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub wire: String,
    /// Outer diameter of the coils.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub outer: String,
    /// All coils, the end ones included: 7.25 or "7 1/4".
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true)]
    pub coils: String,
    /// How the ends are made.
    #[arg(long, value_enum, default_value_t)]
    pub ends: Ends,
    /// What the wire is made of.
    #[arg(long, value_enum, default_value_t)]
    pub material: Wire,
    /// Length of the spring unloaded.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub free_length: Option<String>,
    /// How well the calipers are read, as a standard uncertainty.
    #[arg(long, value_name = "LENGTH", default_value = "0.05mm", allow_hyphen_values = true)]
    pub calipers: String,
    /// How figures are shown, and what a bare one is taken to be in.
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitsName,
    /// As JSON, for scripts.
    #[arg(long)]
    pub json: bool,
}

/// A set of units.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
pub enum UnitsName {
    /// Millimetres, kilograms, lb/in.
    #[default]
    Trade,
    /// Inches, pounds, lb/in.
    Imperial,
    /// Millimetres, kilograms, N/mm.
    Metric,
}

impl From<UnitsName> for UnitSet {
    fn from(units: UnitsName) -> Self {
        match units {
            UnitsName::Trade => Self::Trade,
            UnitsName::Imperial => Self::Imperial,
            UnitsName::Metric => Self::Metric,
        }
    }
}

/// How the ends of a spring are made.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
pub enum Ends {
    /// The last coil laid against its neighbour and ground flat, as on nearly every shock spring.
    #[default]
    ClosedGround,
    /// The last coil laid against its neighbour.
    Closed,
    /// Cut off and ground flat.
    PlainGround,
    /// Cut off, nothing more.
    Plain,
}

/// What the wire is made of.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
pub enum Wire {
    /// Chrome-silicon steel.
    #[default]
    ChromeSilicon,
    /// Chrome-vanadium steel.
    ChromeVanadium,
    /// Oil-tempered carbon steel.
    OilTempered,
    /// Music wire.
    MusicWire,
    /// Titanium 6-4.
    #[value(name = "titanium-6-4")]
    TitaniumSixFour,
    /// Titanium 3-8-6-4-4.
    #[value(name = "titanium-3-8-6-4-4")]
    Titanium38644,
}

const AFTER: &str = "A loaded spring and a loose bolt can hurt somebody. The makers' figures, local rules and a \
                     qualified mechanic come before anything this program says.";
