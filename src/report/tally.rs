//! What the finished sessions of a shop say together, as tables for a person and one object for a script.
//!
//! Not here: the counting (`assessment::tally`), the words (`phrase::tally`) and which sessions (`app`).

mod json;

pub use json::tally_as_json;

use chrono::NaiveDate;

use crate::assessment::tally::{NotCounted, Tally};
use crate::phrase::tally::{self as words, TallyPart, TallyRow};
use crate::units::UnitSet;

/// Cells of the first column.
const FIRST: usize = 20;
/// The same where words stand behind it.
const FIRST_OF_WORDS: usize = 12;
/// Cells of every other one.
const OTHERS: usize = 12;
/// Cells of the longest bar.
const LONGEST_BAR: usize = 24;

/// All of it as text, in the units of the set; ends with a line break.
pub fn tally_as_text(
    tally: &Tally,
    not_counted: NotCounted,
    since: Option<NaiveDate>,
    units: UnitSet,
) -> String {
    let left_out = words::not_counted(not_counted);
    let head = if tally.sessions == 0 { words::nothing_yet(since) } else { words::heading(tally, since) };
    let head: String = std::iter::once(head).chain(left_out).map(|line| line + "\n").collect();
    if tally.sessions == 0 {
        return head;
    }
    let parts = words::parts(tally, units).into_iter().map(|part| lines(&part).join("\n") + "\n");
    std::iter::once(head).chain(parts).collect::<Vec<_>>().join("\n")
}

fn lines(part: &TallyPart) -> Vec<String> {
    let columns = part.columns.split_first();
    let heads = columns.map(|(first, others)| table_row(first, others));
    let row = |row: &TallyRow| match (part.columns, row.bar) {
        ([], _) => format!("{:<FIRST_OF_WORDS$}{}", row.name, row.cells.join(" ")),
        (_, None) => table_row(&row.name, &row.cells),
        (_, Some(bar)) => {
            format!("{}  {}", table_row(&row.name, &row.cells), "#".repeat(bar.cells(LONGEST_BAR)))
        }
    };
    let rows = part.rows.iter().map(row);
    std::iter::once(part.heading.to_owned()).chain(heads).chain(rows).chain(part.below.clone()).collect()
}

fn table_row(first: &str, others: &[impl AsRef<str>]) -> String {
    let cells = others.iter().map(|cell| format!("{:>OTHERS$}", cell.as_ref()));
    std::iter::once(format!("{first:<FIRST$}")).chain(cells).collect()
}
