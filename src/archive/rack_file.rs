//! The shop's springs in a file, `rack.ron`, to be edited on the screen or by hand.
//!
//! It lies beside the records, because the springs are the shop's and not this computer's: two laptops at one records folder
//! have one rack between them.
//!
//! ```text
//! (
//!     format: 1,
//!     springs: [
//!         (rate_lb_in: 450.0, stroke_mm: 65.0, bore_mm: 36.5, length_mm: 140.0, count: 2),
//!         (rate_lb_in: 400.0, end_rate_lb_in: 490.0, stroke_mm: 65.0),
//!         (rate_lb_in: 450.0, stroke_mm: 65.0, mark: "A3"),
//!         (rate_lb_in: 500.0, count: 1, measured_lb_in: 507.0, measured_doubt_lb_in: 5.0),
//!     ],
//! )
//! ```
//!
//! A mark is one spring's own. The format number stays where a program without marks refuses one by its name and misreads
//! nothing. Every spring at fault is told at once, with its line; a file with a fault is never written over. Not here: which figures
//! are possible (`session::shop_rack`).

use std::sync::Arc;

use ron::value::RawValue;
use serde::{Deserialize, Serialize};

use super::Archive;
use super::own_file::{self, LineFault, NO_FIGURE, OwnFile, spaced, tidy};
use crate::mechanics::spring::Marked;
use crate::phrase;
use crate::session::{Refusal, ShopSpring};
use crate::text::mark::Mark;
use crate::units::{Estimate, Length, SpringRate, UnitSet};

/// What the file is called.
pub const NAME: &str = "rack.ron";
/// The format this program writes and reads.
const FORMAT: u32 = 1;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RackFile<'a> {
    /// Looked at before anything else.
    #[serde(rename = "format")]
    _format: u32,
    #[serde(borrow)]
    springs: Vec<&'a RawValue>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RackLine {
    rate_lb_in: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    end_rate_lb_in: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stroke_mm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    bore_mm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    length_mm: Option<f64>,
    #[serde(default = "one")]
    count: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    measured_lb_in: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    measured_doubt_lb_in: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    mark: Option<Mark>,
}

const fn one() -> u8 {
    1
}

impl From<&ShopSpring> for RackLine {
    fn from(spring: &ShopSpring) -> Self {
        let rate = |rate: SpringRate| tidy(rate.as_lb_per_in());
        let length = |length: Option<Length>| length.map(|length| tidy(length.as_mm()));
        Self {
            rate_lb_in: rate(spring.label),
            end_rate_lb_in: spring.end_rate.map(rate),
            stroke_mm: length(spring.stroke),
            bore_mm: length(spring.bore),
            length_mm: length(spring.free_length),
            count: spring.count,
            measured_lb_in: spring.measured.map(|measured| rate(measured.value)),
            measured_doubt_lb_in: spring.measured.map(|measured| rate(measured.uncertainty)),
            mark: spring.mark(),
        }
    }
}

impl RackLine {
    fn spring(&self) -> Result<ShopSpring, Vec<String>> {
        let figures = [
            Some(self.rate_lb_in),
            self.end_rate_lb_in,
            self.stroke_mm,
            self.bore_mm,
            self.length_mm,
            self.measured_lb_in,
            self.measured_doubt_lb_in,
        ];
        if figures.into_iter().flatten().any(|figure| !figure.is_finite()) {
            return Err(vec![NO_FIGURE.to_owned()]);
        }
        let measured = match (self.measured_lb_in, self.measured_doubt_lb_in) {
            (None, None) => None,
            (Some(value), Some(uncertainty)) => {
                Some(Estimate::new(SpringRate::lb_per_in(value), SpringRate::lb_per_in(uncertainty)))
            }
            _ => {
                return Err(vec![
                    "measured_lb_in and measured_doubt_lb_in belong together; give both or neither"
                        .to_owned(),
                ]);
            }
        };
        let spring = ShopSpring {
            label: SpringRate::lb_per_in(self.rate_lb_in),
            measured,
            end_rate: self.end_rate_lb_in.map(SpringRate::lb_per_in),
            stroke: self.stroke_mm.map(Length::mm),
            bore: self.bore_mm.map(Length::mm),
            free_length: self.length_mm.map(Length::mm),
            marked: self.mark.map(|mark| Marked { mark, learned: None }),
            count: self.count,
        };
        let faults: Vec<String> =
            spring.faults().iter().map(|refusal| phrase::refusal(refusal, UnitSet::Trade)).collect();
        if faults.is_empty() { Ok(spring) } else { Err(faults) }
    }
}

/// Reads the text of a rack.
///
/// # Errors
/// With every fault in it.
pub fn read(text: &str) -> Result<Vec<ShopSpring>, Vec<LineFault>> {
    own_file::check_format(text, FORMAT)?;
    let sheet: RackFile<'_> = super::form::options().from_str(text).map_err(|error| {
        let others =
            brackets(text).into_iter().flat_map(|part| one_spring(text, part).err().unwrap_or_default());
        let mut faults = vec![own_file::fault_in(text, text, &error)];
        faults.extend(others);
        faults.sort_by_key(|fault| fault.line);
        faults.dedup();
        faults
    })?;
    let (mut springs, mut faults) = (Vec::new(), Vec::new());
    for raw in sheet.springs {
        match one_spring(text, own_file::value(raw)) {
            Ok(spring) => {
                faults.extend(
                    mark_taken(&springs, &spring).map(|reason| LineFault {
                        line: own_file::line_of(text, own_file::value(raw)),
                        reason,
                    }),
                );
                springs.push(spring);
            }
            Err(its) => faults.extend(its),
        }
    }
    if faults.is_empty() { Ok(springs) } else { Err(faults) }
}

/// Why the mark of a spring is none of its own; none where it is.
fn mark_taken(before: &[ShopSpring], spring: &ShopSpring) -> Option<String> {
    let mark = spring.mark().filter(|mark| before.iter().any(|other| other.mark() == Some(*mark)))?;
    Some(phrase::refusal(&Refusal::SameMarkTwice(mark), UnitSet::Trade))
}

/// Reads the spring in a part of a text.
fn one_spring(text: &str, part: &str) -> Result<ShopSpring, Vec<LineFault>> {
    let line = own_file::line_of(text, part);
    let read: RackLine = own_file::part(text, part).map_err(|fault| vec![fault])?;
    read.spring().map_err(|reasons| reasons.into_iter().map(|reason| LineFault { line, reason }).collect())
}

/// The springs of a text that is broken somewhere: what stands in brackets of the second depth, comments passed over.
fn brackets(text: &str) -> Vec<&str> {
    let (mut depth, mut start, mut parts) = (0_usize, 0, Vec::new());
    let mut is_comment = false;
    for (index, letter) in text.char_indices() {
        match letter {
            '\n' => is_comment = false,
            '/' if text[index..].starts_with("//") => is_comment = true,
            '(' if !is_comment => {
                depth += 1;
                if depth == 2 {
                    start = index;
                }
            }
            ')' if !is_comment => {
                if depth == 2 {
                    parts.push(&text[start..=index]);
                }
                depth = depth.saturating_sub(1);
            }
            _ => {}
        }
    }
    parts
}

/// The text of a rack.
///
/// # Errors
/// Only when a figure cannot be written, which no checked quantity can cause.
pub fn write(springs: &[ShopSpring]) -> Result<String, ron::Error> {
    let line = |spring: &ShopSpring| super::form::options().to_string(&RackLine::from(spring));
    let lines = springs.iter().map(line).collect::<Result<Vec<_>, _>>()?;
    let lines: Vec<String> = lines.iter().map(|line| format!("        {},\n", spaced(line))).collect();
    let lines = lines.concat();
    Ok(format!("(\n    format: {FORMAT},\n    springs: [\n{lines}    ],\n)\n"))
}

impl Archive {
    /// The file of the shop's rack.
    pub fn rack_file(&self) -> OwnFile {
        OwnFile::new(Arc::clone(&self.disk), self.records.join(NAME))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOTH: &str = "(format: 1, springs: [\n  (rate_lb_in: 450, end_rate_lb_in: 520, stroke_mm: 65, count: 2),\n  (rate_lb_in: 500.0, \
                        measured_lb_in: 507.0, measured_doubt_lb_in: 5.0),\n])";

    #[test]
    fn the_example_of_the_readme_is_a_rack() {
        let readme = include_str!("../../README.md");
        let section = readme.split("## The shop's rack").nth(1).expect("a section of the rack");
        let example = section.split("```ron\n").nth(1).and_then(|rest| rest.split("```").next());
        let springs = read(example.expect("an example")).expect("it reads");
        assert_eq!(springs.iter().map(|spring| spring.count).collect::<Vec<_>>(), [2, 0, 1, 1]);
        assert_eq!(springs[3].end_rate.map(|rate| rate.as_lb_per_in().round()), Some(490.0));
    }

    #[test]
    fn a_rack_is_read_as_it_was_written() {
        let springs = read(BOTH).expect("it reads");
        assert_eq!(springs.iter().map(|spring| spring.count).collect::<Vec<_>>(), [2, 1]);
        let again = read(&write(&springs).expect("it can be written")).expect("it reads");
        assert_eq!(write(&again), write(&springs));
        assert_eq!(again.len(), springs.len());
    }

    #[test]
    fn every_spring_at_fault_is_told_with_its_line() {
        let text = BOTH
            .replace("65,", "9000,")
            .replace("500.0", "x")
            .replace("])", "  (rate_lb_in: 1.0, bore_mm: 1.0),\n])");
        let faults = read(&text).expect_err("three springs are at fault");
        let lines: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
        assert_eq!(lines, [2, 3, 4, 4], "{faults:?}");
    }

    #[test]
    fn a_mark_is_kept_with_its_spring_and_belongs_to_one() {
        let text = "(format: 1, springs: [(rate_lb_in: 450, mark: \"a3\"), (rate_lb_in: 500)])";
        let springs = read(text).expect("it reads");
        assert_eq!(springs.iter().map(ShopSpring::mark).collect::<Vec<_>>(), [Mark::read("A3").ok(), None]);
        let written = write(&springs).expect("it can be written");
        assert_eq!(written.matches("mark").count(), 1, "{written}");
        assert_eq!(read(&written), Ok(springs));
        for (text, line, reason) in [
            (
                "(rate_lb_in: 450, mark: \"A3\"),\n(rate_lb_in: 500, mark: \"a3\")",
                2,
                "Two springs have the mark A3",
            ),
            ("(rate_lb_in: 450,\nmark: \"A3\", count: 2)", 1, "A3 is the mark of one spring"),
            ("\n(rate_lb_in: 450, mark: \"A3\\u{1b}[2J\")", 2, "A mark is one word"),
            ("(rate_lb_in: 450, mark: \"450\")", 1, "A mark is one word"),
        ] {
            let faults = read(&format!("(format: 1, springs: [{text}])")).expect_err(text);
            assert_eq!(faults.len(), 1, "{faults:?}");
            assert!(faults[0].line == line && faults[0].reason.starts_with(reason), "{faults:?}");
        }
    }

    #[test]
    fn a_newer_format_is_refused_whatever_else_stands_in_it() {
        let faults = read(&BOTH.replace("format: 1", "format: 2, colours: [Blue]")).expect_err("it is newer");
        assert!(faults.len() == 1 && faults[0].reason.contains("in format 2"), "{faults:?}");
    }

    #[test]
    fn an_unknown_field_is_a_fault_and_not_lost() {
        let faults = read(&BOTH.replace("count", "colour")).expect_err("there is no such field");
        assert!(faults[0].reason.starts_with("colour is not known here"), "{faults:?}");
    }
}
