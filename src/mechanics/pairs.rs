//! Measured leverage pairs from text: typed in one line, or a table of two columns.
//!
//! Typed: `10/27.5 20/54 30/79.5`, stroke over wheel travel. Table: one pair a line, stroke first, parted by comma,
//! semicolon or tab, with or without a heading; a decimal comma needs one of the other two. Where the second column is
//! the height of the axle on a stand, [`from_heights`] turns it into wheel travel. Not here: whether the pairs can be a
//! curve (`session::limits::check_pairs`), and reading the file.

use super::LeveragePair;
use crate::units::{Length, UnitSet, parse};

/// Why a text holds no pairs.
#[derive(Debug, Clone, PartialEq)]
pub struct PairsText {
    /// The line, from one; for a typed line the pair, from one.
    pub place: usize,
    /// What is wrong there.
    pub fault: PairsTextFault,
}

/// What is wrong with a pair.
#[derive(Debug, Clone, PartialEq)]
pub enum PairsTextFault {
    /// There are not two figures.
    NotTwo,
    /// A figure cannot be read as a length.
    Unreadable(parse::Unreadable),
}

/// Pairs from text of either form; the still bike (0, 0) may be left out.
///
/// # Errors
/// With the first line or pair at fault.
pub fn read(text: &str, units: UnitSet) -> Result<Vec<LeveragePair>, PairsText> {
    let lines: Vec<&str> = text.lines().collect();
    let typed = lines.iter().filter(|line| !line.trim().is_empty()).count() <= 1 && text.contains('/');
    if typed { read_typed(text, units) } else { read_table(&lines, units) }
}

fn read_typed(text: &str, units: UnitSet) -> Result<Vec<LeveragePair>, PairsText> {
    let words = text.split_whitespace().enumerate();
    words.map(|(index, word)| pair(index + 1, &word.split('/').collect::<Vec<_>>(), units)).collect()
}

fn read_table(lines: &[&str], units: UnitSet) -> Result<Vec<LeveragePair>, PairsText> {
    let filled =
        lines.iter().enumerate().filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let mut pairs = Vec::new();
    for (index, line) in filled {
        match pair(index + 1, &cells(line), units) {
            // A heading is the one line that may hold no figures, and only where it belongs.
            Err(_) if pairs.is_empty() && !line.contains(|letter: char| letter.is_ascii_digit()) => {}
            pair => pairs.push(pair?),
        }
    }
    Ok(pairs)
}

/// The cells of a line; a comma parts them only where nothing clearer does.
fn cells(line: &str) -> Vec<&str> {
    let mark = [';', '\t'].into_iter().find(|mark| line.contains(*mark)).unwrap_or(',');
    line.split(mark).map(str::trim).filter(|cell| !cell.is_empty()).collect()
}

fn pair(place: usize, cells: &[&str], units: UnitSet) -> Result<LeveragePair, PairsText> {
    let [stroke, wheel] = *cells else { return Err(PairsText { place, fault: PairsTextFault::NotTwo }) };
    let length = |cell| {
        let read = parse::length(cell, units);
        read.map(|understood| understood.value)
            .map_err(|unreadable| PairsText { place, fault: PairsTextFault::Unreadable(unreadable) })
    };
    Ok(LeveragePair { stroke: length(stroke)?, wheel: length(wheel)? })
}

/// Wheel travel from heights of the axle: how far each lies above the first, at full extension.
pub fn from_heights(pairs: &[LeveragePair]) -> Vec<LeveragePair> {
    let ground = pairs.first().map_or(Length::ZERO, |first| first.wheel);
    pairs.iter().map(|pair| LeveragePair { wheel: (pair.wheel - ground).abs(), ..*pair }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(text: &str) -> Vec<(f64, f64)> {
        let pairs = read(text, UnitSet::Trade).expect("readable");
        pairs.iter().map(|pair| (pair.stroke.as_mm(), pair.wheel.as_mm())).collect()
    }

    #[test]
    fn typed_pairs_and_tables_of_every_kind_say_the_same() {
        let wanted = vec![(10.0, 27.5), (20.0, 54.0)];
        for text in [
            "10/27.5 20/54",
            "10,27.5\n20,54\n",
            "stroke;wheel\n10;27,5\n20;54",
            "# by hand\n10\t27.5\n\n20\t54",
        ] {
            assert_eq!(figures(text), wanted, "{text:?}");
        }
    }

    #[test]
    fn the_line_at_fault_is_named() {
        let fault = read("10,27.5\n20\n30,80", UnitSet::Trade).expect_err("a cell is missing");
        assert_eq!(fault, PairsText { place: 2, fault: PairsTextFault::NotTwo });
        assert_eq!(read("10,27.5\n20,x9", UnitSet::Trade).expect_err("not a figure").place, 2);
    }

    #[test]
    fn heights_of_the_axle_become_travel_from_the_first() {
        let pairs = read("0,340\n10,367.5", UnitSet::Trade).expect("readable");
        assert!((from_heights(&pairs)[1].wheel.as_mm() - 27.5).abs() < 1e-9);
    }
}
