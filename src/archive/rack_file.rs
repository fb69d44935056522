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
//!         (rate_lb_in: 500.0, count: 1, measured_lb_in: 507.0, measured_doubt_lb_in: 5.0),
//!     ],
//! )
//! ```
//!
//! Every spring at fault is told at once, with its line; a file with a fault is never written over. Not here: which figures
//! are possible (`session::rack`).

use std::fmt;
use std::io;

use ron::value::RawValue;
use serde::{Deserialize, Serialize};

use super::Archive;
use super::form::in_plain_words;
use super::open::{LARGEST_RECORD, OpenError, read_text};
use crate::phrase;
use crate::session::ShopSpring;
use crate::units::{Estimate, Length, SpringRate, UnitSet};

/// What the file is called.
pub const NAME: &str = "rack.ron";
/// The format this program writes and reads.
const FORMAT: u32 = 1;

/// Something wrong in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RackFault {
    /// The line, from one.
    pub line: usize,
    /// What is wrong there; safe to show.
    pub reason: String,
}

impl fmt::Display for RackFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Line {}: {}", self.line, self.reason)
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sheet<'a> {
    format: u32,
    #[serde(borrow)]
    springs: Vec<&'a RawValue>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    rate_lb_in: f64,
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
}

const fn one() -> u8 {
    1
}

impl From<&ShopSpring> for Line {
    fn from(spring: &ShopSpring) -> Self {
        let rate = |rate: SpringRate| tidy(rate.as_lb_per_in());
        let length = |length: Option<Length>| length.map(|length| tidy(length.as_mm()));
        Self {
            rate_lb_in: rate(spring.label),
            stroke_mm: length(spring.stroke),
            bore_mm: length(spring.bore),
            length_mm: length(spring.free_length),
            count: spring.count,
            measured_lb_in: spring.measured.map(|measured| rate(measured.value)),
            measured_doubt_lb_in: spring.measured.map(|measured| rate(measured.uncertainty)),
        }
    }
}

/// Rounded to a millionth, far below what anybody measures: a conversion leaves no tail of digits in the file.
fn tidy(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

impl Line {
    fn spring(&self) -> Result<ShopSpring, Vec<String>> {
        let figures = [
            Some(self.rate_lb_in),
            self.stroke_mm,
            self.bore_mm,
            self.length_mm,
            self.measured_lb_in,
            self.measured_doubt_lb_in,
        ];
        if figures.into_iter().flatten().any(|figure| !figure.is_finite()) {
            return Err(vec!["a figure is not a number; write it in plain digits".to_owned()]);
        }
        let measured = match (self.measured_lb_in, self.measured_doubt_lb_in) {
            (None, None) => None,
            (Some(value), Some(doubt)) => {
                Some(Estimate::new(SpringRate::lb_per_in(value), SpringRate::lb_per_in(doubt)))
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
            stroke: self.stroke_mm.map(Length::mm),
            bore: self.bore_mm.map(Length::mm),
            free_length: self.length_mm.map(Length::mm),
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
pub fn read(text: &str) -> Result<Vec<ShopSpring>, Vec<RackFault>> {
    let options = super::form::options();
    let sheet: Sheet<'_> = options.from_str(text).map_err(|error| {
        let (place, reason) = in_plain_words(text, &error);
        let others =
            brackets(text).into_iter().flat_map(|part| one_spring(text, part).err().unwrap_or_default());
        let mut faults = vec![RackFault { line: place.line, reason }];
        faults.extend(others);
        faults.sort_by_key(|fault| fault.line);
        faults.dedup();
        faults
    })?;
    if sheet.format != FORMAT {
        let reason =
            format!("this rack is in format {} and this program reads format {FORMAT}", sheet.format);
        return Err(vec![RackFault { line: 1, reason }]);
    }
    let (mut springs, mut faults) = (Vec::new(), Vec::new());
    for raw in sheet.springs {
        match one_spring(text, raw.get_ron().trim_start()) {
            Ok(spring) => springs.push(spring),
            Err(its) => faults.extend(its),
        }
    }
    if faults.is_empty() { Ok(springs) } else { Err(faults) }
}

/// Reads the spring in a part of a text.
fn one_spring(text: &str, part: &str) -> Result<ShopSpring, Vec<RackFault>> {
    let line = line_of(text, part);
    let read = super::form::options().from_str::<Line>(part).map_err(|error| {
        let (place, reason) = in_plain_words(part, &error);
        vec![RackFault { line: line + place.line - 1, reason }]
    })?;
    read.spring().map_err(|reasons| reasons.into_iter().map(|reason| RackFault { line, reason }).collect())
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

/// The line in `text` at which a part of it begins.
fn line_of(text: &str, part: &str) -> usize {
    let offset = part.as_ptr().addr().saturating_sub(text.as_ptr().addr());
    1 + text.get(..offset).map_or(0, |before| before.matches('\n').count())
}

/// The text of a rack.
///
/// # Errors
/// Only when a figure cannot be written, which no checked quantity can cause.
pub fn write(springs: &[ShopSpring]) -> Result<String, ron::Error> {
    let line = |spring: &ShopSpring| super::form::options().to_string(&Line::from(spring));
    let lines = springs.iter().map(line).collect::<Result<Vec<_>, _>>()?;
    let lines: Vec<String> = lines.iter().map(|line| format!("        {},\n", spaced(line))).collect();
    let lines = lines.concat();
    Ok(format!("(\n    format: {FORMAT},\n    springs: [\n{lines}    ],\n)\n"))
}

/// With a blank after every comma and colon, as a person would write it; no text stands in a rack.
fn spaced(line: &str) -> String {
    line.replace(',', ", ").replace(':', ": ")
}

/// Why a rack could not be kept.
#[derive(Debug)]
pub enum RackError {
    /// The file is no longer the one that was read.
    Changed,
    /// It cannot be looked at.
    Open(OpenError),
    /// It cannot be written.
    Unwritable(io::Error),
}

impl fmt::Display for RackError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Changed => write!(
                f,
                "{NAME} was changed by somebody else meanwhile and was left alone; leave the rack, open it again, and change \
                 it there"
            ),
            Self::Open(error) => error.fmt(f),
            Self::Unwritable(_) => write!(f, "{NAME} cannot be written"),
        }
    }
}

impl std::error::Error for RackError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Changed => None,
            Self::Open(error) => error.source(),
            Self::Unwritable(source) => Some(source),
        }
    }
}

impl Archive {
    /// The text of the shop's rack; none where there is no such file.
    ///
    /// # Errors
    /// [`OpenError`] when it is no text file of fitting size.
    pub fn rack_text(&self) -> Result<Option<String>, OpenError> {
        match read_text(&*self.disk, &self.records.join(NAME)) {
            Ok(opened) => Ok(Some(opened.text)),
            Err(OpenError::Missing { .. }) => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Writes the shop's rack, whole or not at all, unless the file is no longer `before`.
    ///
    /// # Errors
    /// [`RackError`]; the file is as it was then.
    pub fn keep_rack(&self, text: &str, before: Option<&str>) -> Result<(), RackError> {
        let present = self.rack_text().map_err(RackError::Open)?;
        if present.as_deref() != before || text.len() as u64 > LARGEST_RECORD {
            return Err(RackError::Changed);
        }
        let temporary = self.records.join(format!(".rack.tmp-{}", std::process::id()));
        let _ = self.disk.remove(&temporary);
        self.disk
            .create_new(&temporary, text.as_bytes())
            .and_then(|()| self.disk.rename(&temporary, &self.records.join(NAME)))
            .and_then(|()| self.disk.sync_folder(&self.records))
            .inspect_err(|_| drop(self.disk.remove(&temporary)))
            .map_err(RackError::Unwritable)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOTH: &str = "(format: 1, springs: [\n  (rate_lb_in: 450, stroke_mm: 65, count: 2),\n  (rate_lb_in: 500.0, \
                        measured_lb_in: 507.0, measured_doubt_lb_in: 5.0),\n])";

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
    fn an_unknown_field_is_a_fault_and_not_lost() {
        let faults = read(&BOTH.replace("count", "colour")).expect_err("there is no such field");
        assert!(faults[0].reason.starts_with("colour is not known here"), "{faults:?}");
    }
}
