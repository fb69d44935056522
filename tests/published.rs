//! Values from outside the project, and the code held against them.
//!
//! The values are the CSV files of `published/`; `published/SOURCES.md` tells where each came from and how it was
//! seen. A module here is a subject; each check names its source and one tolerance with its reason. Laws that hold
//! for any numbers are tested beside the code instead.

mod coverage;
mod cubic;
mod gaussian;
mod geometry;
mod load_share;
mod outliers;
mod regression;
mod ride;
mod samples;
mod springs;
mod statics;

/// A CSV file: comment lines, a heading, rows. No quoting.
struct Table {
    heading: Vec<&'static str>,
    rows: Vec<Row>,
}

struct Row {
    cells: Vec<&'static str>,
}

impl Table {
    fn new(text: &'static str) -> Self {
        let mut lines =
            text.lines().filter(|line| !line.starts_with('#')).map(|line| line.split(',').collect());
        let heading: Vec<&str> = lines.next().expect("a heading");
        let rows: Vec<Row> = lines.map(|cells| Row { cells }).collect();
        assert!(!rows.is_empty(), "a table without rows would check nothing");
        assert!(rows.iter().all(|row| row.cells.len() == heading.len()), "every row as long as the heading");
        Self { heading, rows }
    }

    fn place(&self, column: &str) -> usize {
        self.heading.iter().position(|name| *name == column).unwrap_or_else(|| panic!("no column {column}"))
    }

    fn text(&self, row: &Row, column: &str) -> &'static str {
        row.cells[self.place(column)]
    }

    /// `None` for an empty cell; anything else must be a number.
    fn number_if_given(&self, row: &Row, column: &str) -> Option<f64> {
        let text = self.text(row, column);
        (!text.is_empty())
            .then(|| text.parse().unwrap_or_else(|_| panic!("{text} in {column} is not a number")))
    }

    fn number(&self, row: &Row, column: &str) -> f64 {
        self.number_if_given(row, column).unwrap_or_else(|| panic!("an empty cell in {column}"))
    }

    fn column(&self, column: &str) -> Vec<f64> {
        self.rows.iter().map(|row| self.number(row, column)).collect()
    }

    /// The rows whose cell in `column` says so, at least one.
    fn rows_of(&self, column: &str, value: &str) -> Vec<&Row> {
        let rows: Vec<&Row> = self.rows.iter().filter(|row| self.text(row, column) == value).collect();
        assert!(!rows.is_empty(), "no row with {value} in {column}");
        rows
    }
}

/// Within `tolerance` of the expected value, as a share of it.
#[track_caller]
fn assert_relative(found: f64, expected: f64, tolerance: f64, what: &str) {
    let off = (found - expected).abs() / expected.abs();
    assert!(off <= tolerance, "{what}: found {found:e}, expected {expected:e}, off by {off:.1e} of it");
}

/// Within `tolerance` of the expected value, in its own unit.
#[track_caller]
fn assert_absolute(found: f64, expected: f64, tolerance: f64, what: &str) {
    let off = (found - expected).abs();
    assert!(off <= tolerance, "{what}: found {found:e}, expected {expected:e}, off by {off:.1e}");
}

/// Half a unit in the last decimal that a source prints, the most its rounding can hide.
fn half_of_last_digit(printed: &str) -> f64 {
    let (digits, exponent) = printed.split_once('e').unwrap_or((printed, "0"));
    let decimals = digits.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let exponent: f64 = exponent.parse().expect("an exponent");
    // A printed decimal and its double differ by a rounding, hence a hair more than a half.
    0.500_000_1 * 10_f64.powf(exponent - decimals as f64)
}
