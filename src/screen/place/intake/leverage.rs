//! The row of the leverage ratio: two ratios, pairs measured on the bike, or a file that holds them.
//!
//! Pairs are written with their unit behind them, `10/27.5 20/54 mm`, so that they read back the same whatever units are
//! shown. Not here: whether the pairs can be a curve (`session::limits`), and reading the file (`app`).

use std::path::PathBuf;

use super::text::Unread;
use crate::mechanics::pairs::{self, SecondColumn};
use crate::session::{LeverageKnowledge, LeveragePair};
use crate::units::{Kind, Length, Unit, UnitSet, parse};

/// What a text of the row asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum TypedLeverage {
    /// Ratios or pairs.
    Known(LeverageKnowledge),
    /// A table to be read first.
    Table {
        /// Where it is.
        path: PathBuf,
        /// What its second column tells.
        column: SecondColumn,
    },
}

/// Reads the text of the row.
///
/// # Errors
/// When it is neither two ratios, nor pairs, nor names a file.
pub fn read(text: &str, units: UnitSet) -> Result<TypedLeverage, Unread> {
    let (column, rest) = column(text);
    if let Some(path) = rest.strip_prefix("file:") {
        // A file dragged into the window arrives in quotation marks.
        let path = path.trim().trim_matches(['\'', '"']);
        return if path.is_empty() {
            Err(Unread::NoFile)
        } else {
            Ok(TypedLeverage::Table { path: path.into(), column })
        };
    }
    let (words, units) = with_unit(rest, units);
    let pairs = words.len() > 1 && words.iter().all(|word| word.contains('/'));
    if pairs || column == SecondColumn::AxleHeight {
        let pairs = pairs::read(&words.join(" "), units).map_err(Unread::Pairs)?;
        return travelled(pairs, column).map(LeverageKnowledge::Measured).map(TypedLeverage::Known);
    }
    ends(text).map(TypedLeverage::Known)
}

/// What the table of a file says, as the text of the row.
///
/// # Errors
/// When it holds no pairs.
pub fn from_table(table: &str, column: SecondColumn, units: UnitSet) -> Result<String, Unread> {
    let pairs = pairs::read(table, units).map_err(Unread::Pairs)?;
    if pairs.is_empty() {
        return Err(Unread::EmptyTable);
    }
    Ok(written_pairs(&travelled(pairs, column)?, units))
}

/// What is known as text that reads back; none where nothing was told.
pub fn written(knowledge: &LeverageKnowledge, units: UnitSet) -> Option<String> {
    match knowledge {
        LeverageKnowledge::TravelOnly => None,
        LeverageKnowledge::Ends { start, end } => {
            Some(format!("{} to {}", units.show(*start), units.show(*end)))
        }
        LeverageKnowledge::Measured(pairs) => Some(written_pairs(pairs, units)),
    }
}

/// What the second figures tell: heights where the text says so first.
fn column(text: &str) -> (SecondColumn, &str) {
    let text = text.trim();
    match text.strip_prefix("heights") {
        Some(rest) => (SecondColumn::AxleHeight, rest.trim_start_matches(':').trim_start()),
        None => (SecondColumn::WheelTravel, text),
    }
}

/// The words of a line of pairs without a unit behind them all, and the units bare figures are then in.
fn with_unit(text: &str, units: UnitSet) -> (Vec<&str>, UnitSet) {
    let mut words: Vec<&str> = text.split_whitespace().collect();
    let units = match words.last() {
        Some(&"mm") => UnitSet::Trade,
        Some(&"in") => UnitSet::Imperial,
        _ => return (words, units),
    };
    words.pop();
    (words, units)
}

fn travelled(pairs: Vec<LeveragePair>, column: SecondColumn) -> Result<Vec<LeveragePair>, Unread> {
    match column {
        SecondColumn::WheelTravel => Ok(pairs),
        SecondColumn::AxleHeight => pairs::from_heights(&pairs).map_err(Unread::Heights),
    }
}

fn ends(text: &str) -> Result<LeverageKnowledge, Unread> {
    let parted = text.replace("to", " ").replace(['-', '–', '/'], " ");
    let ratios: Vec<&str> = parted.split_whitespace().collect();
    let [start, end] = ratios[..] else { return Err(Unread::Leverage) };
    Ok(LeverageKnowledge::Ends { start: parse::ratio(start)?.value, end: parse::ratio(end)?.value })
}

/// Finer than anybody measures, so that going through another unit and back moves nothing that was measured.
fn written_pairs(pairs: &[LeveragePair], units: UnitSet) -> String {
    let unit = units.unit(Kind::Length);
    let figure = |length: Length| match unit {
        Unit::Inch => (length.as_inches() * 1e4).round() / 1e4,
        _ => (length.as_mm() * 1e2).round() / 1e2,
    };
    let words = pairs.iter().map(|pair| format!("{}/{}", figure(pair.stroke), figure(pair.wheel)));
    format!("{} {}", words.collect::<Vec<_>>().join(" "), unit.symbol())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::LeverageRatio;

    fn known(text: &str, units: UnitSet) -> LeverageKnowledge {
        match read(text, units).expect("readable") {
            TypedLeverage::Known(knowledge) => knowledge,
            TypedLeverage::Table { path, .. } => panic!("a file at {}", path.display()),
        }
    }

    fn figures(text: &str, units: UnitSet) -> Vec<(f64, f64)> {
        let LeverageKnowledge::Measured(pairs) = known(text, units) else { panic!("no pairs in {text}") };
        let round = |length: Length| (length.as_mm() * 10.0).round() / 10.0;
        pairs.iter().map(|pair| (round(pair.stroke), round(pair.wheel))).collect()
    }

    #[test]
    fn two_ratios_are_ends_however_they_are_parted() {
        let ratio = LeverageRatio::ratio;
        let ends = LeverageKnowledge::Ends { start: ratio(3.0), end: ratio(2.5) };
        for text in ["3.0 to 2.5", "3-2.5", "3/2.5", "3,0 2,5"] {
            assert_eq!(known(text, UnitSet::Trade), ends, "{text}");
        }
    }

    #[test]
    fn pairs_read_in_the_unit_behind_them_or_in_that_of_the_set() {
        let wanted = [(25.4, 50.8), (50.8, 101.6)];
        assert_eq!(figures("1/2 2/4", UnitSet::Imperial), wanted);
        assert_eq!(figures("1/2 2/4 in", UnitSet::Trade), wanted);
        assert_eq!(figures("25.4/50.8 50.8/101.6 mm", UnitSet::Imperial), wanted);
    }

    #[test]
    fn pairs_read_back_as_they_were_written_in_every_set_of_units() {
        let knowledge = known("10/27.5 20/54 30/79.5", UnitSet::Trade);
        for written_in in UnitSet::ALL {
            let text = written(&knowledge, written_in).expect("told");
            for read_in in UnitSet::ALL {
                assert_eq!(figures(&text, read_in), [(10.0, 27.5), (20.0, 54.0), (30.0, 79.5)], "{text}");
            }
        }
    }

    #[test]
    fn heights_become_travel() {
        assert_eq!(figures("heights 0/340 10/367.5", UnitSet::Trade), [(0.0, 0.0), (10.0, 27.5)]);
        assert_eq!(figures("heights: 0/340 10/312.5 mm", UnitSet::Imperial), [(0.0, 0.0), (10.0, 27.5)]);
    }

    #[test]
    fn a_file_is_named_with_or_without_quotation_marks() {
        let table = |path: &str, column| Ok(TypedLeverage::Table { path: path.into(), column });
        assert_eq!(
            read("file: /tmp/lev.csv", UnitSet::Trade),
            table("/tmp/lev.csv", SecondColumn::WheelTravel)
        );
        assert_eq!(
            read("heights file:'my lev.csv'", UnitSet::Trade),
            table("my lev.csv", SecondColumn::AxleHeight)
        );
        assert_eq!(read("file: ", UnitSet::Trade), Err(Unread::NoFile));
    }

    #[test]
    fn an_empty_table_is_not_taken_for_nothing_told() {
        assert_eq!(
            from_table("stroke,wheel\n", SecondColumn::WheelTravel, UnitSet::Trade),
            Err(Unread::EmptyTable)
        );
    }
}
