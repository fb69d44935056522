//! The options of the export: which sessions, in which form, and where to.
//!
//! Not here: what is written (`report`), and writing it (`app`).

use std::fmt;
use std::path::PathBuf;
use std::str::FromStr;

use chrono::{DateTime, Local, NaiveDate, NaiveDateTime, NaiveTime, Utc};
use clap::Args;

use super::OutOptions;

/// What to export, and how.
#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub struct ExportOptions {
    /// As a CSV table, one row a set of readings.
    #[arg(long, conflicts_with = "lines")]
    pub csv: bool,
    /// JSON, one session per line (the default)
    #[arg(long)]
    pub lines: bool,
    /// JSON, one set of readings per line, under the names of the table.
    #[arg(long, conflicts_with_all = ["csv", "lines"])]
    pub sets: bool,
    /// Only sessions begun on this day or later, such as 2026-11-25.
    #[arg(long, value_name = "DATE")]
    pub since: Option<NaiveDate>,
    /// Only sessions begun in this month, such as 2026-11.
    #[arg(long, value_name = "MONTH", conflicts_with = "since")]
    pub month: Option<Month>,
    /// Only sessions whose file changed at or after this time, such as 2026-11-25 or 2026-11-25T18:00.
    #[arg(long, value_name = "TIME")]
    pub changed_since: Option<Since>,
    /// One file a month in this folder, such as sets-2026-11.jsonl; a file that would stay the same is not touched.
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["since", "changed_since", "out", "force"])]
    pub by_month: Option<PathBuf>,
    /// Compress with gzip; a file of --by-month ends in .gz.
    #[arg(long)]
    pub compress: bool,
    /// Leave out names, bikes, notes and remarks.
    #[arg(long)]
    pub without_names: bool,
    /// Where to.
    #[command(flatten)]
    pub to: OutOptions,
}

/// A month of a year, written as in ISO 8601: `2026-11`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Month(String);

impl Month {
    /// Whether a day or a name that opens with one is in it.
    pub fn holds(&self, dated: &str) -> bool {
        dated.starts_with(&self.0)
    }
}

impl fmt::Display for Month {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for Month {
    type Err = NotATime;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let first =
            NaiveDate::parse_from_str(&format!("{text}-01"), "%Y-%m-%d").map_err(|_| NotATime("2026-11"))?;
        let written = first.format("%Y-%m").to_string();
        if written == text { Ok(Self(written)) } else { Err(NotATime("2026-11")) }
    }
}

/// A moment to begin at: a day, a day and a minute by the clock of this computer, or a moment with its offset.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Since(pub DateTime<Utc>);

impl FromStr for Since {
    type Err = NotATime;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        if let Ok(moment) = DateTime::parse_from_rfc3339(text) {
            return Ok(Self(moment.to_utc()));
        }
        let day = NaiveDate::parse_from_str(text, "%Y-%m-%d").map(|day| day.and_time(NaiveTime::MIN));
        let by_clock = day.or_else(|_| NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M"));
        let moment = by_clock.ok().and_then(|clock| clock.and_local_timezone(Local).earliest());
        moment.map(|moment| Self(moment.to_utc())).ok_or(NotATime("2026-11-25 or 2026-11-25T18:00"))
    }
}

/// What cannot be read as a time, and how one is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotATime(&'static str);

impl fmt::Display for NotATime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "write it as {}", self.0)
    }
}

impl std::error::Error for NotATime {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_month_is_a_year_and_two_digits() {
        assert_eq!("2026-11".parse::<Month>().map(|month| month.to_string()), Ok("2026-11".to_owned()));
        for wrong in ["2026-13", "2026-1", "2026", "11-2026", "2026-11-25", ""] {
            assert!(wrong.parse::<Month>().is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_month_holds_its_days_and_no_others() {
        let november = "2026-11".parse::<Month>().expect("a month");
        assert!(november.holds("2026-11-25-1012-7f3a9c"));
        assert!(!november.holds("2026-12-01-1012-7f3a9c"));
    }

    #[test]
    fn a_moment_with_its_offset_is_the_same_everywhere() {
        let said = "2026-11-25T18:00:00+01:00".parse::<Since>().expect("RFC 3339").0;
        assert_eq!(said.to_rfc3339(), "2026-11-25T17:00:00+00:00");
        assert!("2026-11-25".parse::<Since>().is_ok() && "2026-11-25T18:00".parse::<Since>().is_ok());
        assert!("yesterday".parse::<Since>().is_err());
    }
}
