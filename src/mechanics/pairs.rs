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
    /// Where.
    pub place: PairPlace,
    /// What is wrong there.
    pub fault: PairsTextFault,
}

/// Where a pair stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PairPlace {
    /// In a line of a table, from one.
    Line(usize),
    /// Among typed pairs, from one.
    Typed(usize),
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
    words
        .map(|(index, word)| pair(PairPlace::Typed(index + 1), &word.split('/').collect::<Vec<_>>(), units))
        .collect()
}

fn read_table(lines: &[&str], units: UnitSet) -> Result<Vec<LeveragePair>, PairsText> {
    let filled =
        lines.iter().enumerate().filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let mut pairs = Vec::new();
    for (index, line) in filled {
        match pair(PairPlace::Line(index + 1), &cells(line), units) {
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

fn pair(place: PairPlace, cells: &[&str], units: UnitSet) -> Result<LeveragePair, PairsText> {
    let [stroke, wheel] = *cells else { return Err(PairsText { place, fault: PairsTextFault::NotTwo }) };
    let length = |cell| {
        let read = parse::length(cell, units);
        read.map(|understood| understood.value)
            .map_err(|unreadable| PairsText { place, fault: PairsTextFault::Unreadable(unreadable) })
    };
    Ok(LeveragePair { stroke: length(stroke)?, wheel: length(wheel)? })
}

/// What the second figure of a pair tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SecondColumn {
    /// Rear wheel travel used.
    #[default]
    WheelTravel,
    /// Height of the rear axle over the ground or the stand, or its distance below a beam.
    AxleHeight,
}

/// The heights do not begin with the shock at full extension, so there is nothing to count travel from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotFromFullExtension;

/// Wheel travel from heights of the axle: how far each lies from the first, at full extension, toward the last.
///
/// # Errors
/// When the first pair is not at no stroke.
pub fn from_heights(pairs: &[LeveragePair]) -> Result<Vec<LeveragePair>, NotFromFullExtension> {
    let (Some(first), Some(last)) = (pairs.first(), pairs.last()) else { return Ok(Vec::new()) };
    if first.stroke != Length::ZERO {
        return Err(NotFromFullExtension);
    }
    // Measured down from a beam the figures shrink as the wheel rises.
    let upward = if last.wheel < first.wheel { -1.0 } else { 1.0 };
    let travel = |pair: &LeveragePair| LeveragePair { wheel: (pair.wheel - first.wheel) * upward, ..*pair };
    Ok(pairs.iter().map(travel).collect())
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
        assert_eq!(fault, PairsText { place: PairPlace::Line(2), fault: PairsTextFault::NotTwo });
        assert_eq!(
            read("10,27.5\n20,x9", UnitSet::Trade).expect_err("not a figure").place,
            PairPlace::Line(2)
        );
        assert_eq!(read("10/27.5 20/x9", UnitSet::Trade).expect_err("no figure").place, PairPlace::Typed(2));
    }

    #[test]
    fn heights_measured_down_from_a_beam_keep_the_order_of_the_wheel() {
        let pairs = read("0/340 10/310 20/350 30/280", UnitSet::Trade).expect("readable");
        let travel = from_heights(&pairs).expect("from full extension");
        let wheel: Vec<f64> = travel.iter().map(|pair| pair.wheel.as_mm()).collect();
        // The third was misread; it must not pass for travel.
        assert_eq!(wheel, [0.0, 30.0, -10.0, 60.0]);
    }

    #[test]
    fn heights_without_the_one_at_full_extension_are_refused() {
        let pairs = read("10/340 20/310", UnitSet::Trade).expect("readable");
        assert_eq!(from_heights(&pairs), Err(NotFromFullExtension));
    }

    #[test]
    fn heights_of_the_axle_become_travel_from_the_first() {
        let pairs = read("0,340\n10,367.5", UnitSet::Trade).expect("readable");
        let travel = from_heights(&pairs).expect("from full extension");
        assert!((travel[1].wheel.as_mm() - 27.5).abs() < 1e-9);
    }
}
