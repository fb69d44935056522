//! The springs at hand as one line of text, and back.
//!
//! ```text
//! 400 425 450 x2 500/65          a 400, a 425, two 450s, and a 500 with 65 mm of stroke printed on it
//! 350-600 by 50, stroke 65       six springs, all with 65 mm of stroke; 350-600 in 50s says the same
//! 70 79 88 N/mm                  the unit, where it is not the one shown; it goes for the whole line
//! ```
//!
//! Springs that stay on the line keep their number and what else is known of them, so that correcting the rack does not
//! make another spring of one that was measured. Not here: what is possible (`session::limits`).

use crate::phrase;
use crate::screen::place::typed_spring::apart;
use crate::session::limits::MOST_SPRINGS;
use crate::session::shop_rack::{bears, free_numbers, same_length};
use crate::session::{Spring, SpringNumber};
use crate::text::Shown;
use crate::units::{Length, Show, SpringRate, UnitSet, Unreadable, parse};

/// Why a line is no rack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SpringsFault {
    /// There is nothing on it.
    Empty,
    /// A figure on it cannot be read.
    Figure(Unreadable),
    /// `by` needs a range before it and a step behind it.
    Range(String),
    /// `x` needs a rate before it and a count behind it.
    Count(String),
    /// `stroke` or `/` needs a length behind it.
    Stroke(String),
    /// There are more springs on it than a rack may hold.
    TooMany,
}

impl From<Unreadable> for SpringsFault {
    fn from(unreadable: Unreadable) -> Self {
        Self::Figure(unreadable)
    }
}

impl SpringsFault {
    /// What is wrong and what is taken, in a sentence.
    pub fn sentence(&self, units: UnitSet) -> String {
        let quoted = |part: &str| Shown::from(part).fitted(24);
        match self {
            Self::Empty => {
                "Nothing is typed yet. Type rates, such as 400 450 500, or 350-600 by 50.".to_owned()
            }
            Self::Figure(unreadable) => phrase::unreadable(unreadable, units),
            Self::Range(part) => {
                format!(
                    "\"{}\" is not a range. Type the softest, the stiffest and the step: 350-600 by 50.",
                    quoted(part)
                )
            }
            Self::Count(part) => {
                format!("\"{}\" says no number of springs. Type 450 x2 for two with one rate.", quoted(part))
            }
            Self::Stroke(part) => {
                format!(
                    "\"{}\" lacks a stroke. Type 500/65 for one spring, or stroke 65 at the end for all.",
                    quoted(part)
                )
            }
            Self::TooMany => {
                format!("The list holds {MOST_SPRINGS} springs at most. Leave out those not at hand.")
            }
        }
    }
}

/// A spring as the line says it.
#[derive(Debug, Clone, Copy)]
struct ListedSpring {
    label: SpringRate,
    stroke: Option<Length>,
}

/// Reads the line; springs already on the rack keep their number and what is known of them.
///
/// # Errors
/// With the part that cannot be read.
pub fn read(text: &str, units: UnitSet, springs: &[Spring]) -> Result<Vec<Spring>, SpringsFault> {
    let spaced = text.replace([',', ';'], " ").replace(['–', '−'], "-").replace('×', "x").to_lowercase();
    let mut words: Vec<&str> = spaced.split_whitespace().collect();
    let units = take_unit(&mut words, units);
    let mut line = SpringsReader { units, listed: Vec::new() };
    let mut rest = words.as_slice();
    let mut shared = None;
    while let [word, behind @ ..] = rest {
        rest = match (*word, behind) {
            ("stroke", [length, unit @ ("mm" | "in"), behind @ ..]) => {
                shared = Some(line.stroke(&format!("{length} {unit}"))?);
                behind
            }
            ("stroke", [length, behind @ ..]) => {
                shared = Some(line.stroke(length)?);
                behind
            }
            ("stroke", []) => return Err(SpringsFault::Stroke(spaced.clone())),
            (range, ["by", step, behind @ ..]) => {
                line.range(range, step)?;
                behind
            }
            (range, ["in", step, behind @ ..]) if range.contains('-') => {
                line.range(range, step)?;
                behind
            }
            (word, behind) => {
                line.word(word)?;
                behind
            }
        };
    }
    if line.listed.is_empty() {
        return Err(SpringsFault::Empty);
    }
    for spring in &mut line.listed {
        spring.stroke = spring.stroke.or(shared);
    }
    Ok(numbered(&line.listed, springs))
}

/// Takes a unit at the end of the line off.
fn take_unit(words: &mut Vec<&str>, units: UnitSet) -> UnitSet {
    let Some(named) = words.iter().position(|word| matches!(*word, "lb/in" | "n/mm" | "lbs" | "lb")) else {
        return units;
    };
    let metric = words.remove(named) == "n/mm";
    match (metric, units) {
        (true, _) => UnitSet::Metric,
        (false, UnitSet::Metric) => UnitSet::Trade,
        (false, units) => units,
    }
}

struct SpringsReader {
    units: UnitSet,
    listed: Vec<ListedSpring>,
}

impl SpringsReader {
    fn rate(&self, text: &str) -> Result<SpringRate, SpringsFault> {
        Ok(parse::rate(text, self.units)?.value)
    }

    fn stroke(&self, text: &str) -> Result<Length, SpringsFault> {
        parse::length(text, self.units)
            .map(|length| length.value)
            .map_err(|_| SpringsFault::Stroke(text.to_owned()))
    }

    /// A rate with its stroke, a count, or a stroke for the rate before it.
    fn word(&mut self, word: &str) -> Result<(), SpringsFault> {
        let (body, stroke) = apart(word);
        let stroke = stroke.map(|stroke| self.stroke(stroke)).transpose()?;
        let (rate, count) = match body.split_once('x') {
            Some((rate, count)) => (rate, Some(count)),
            None => (body, None),
        };
        let first = if rate.is_empty() { self.listed.len().saturating_sub(1) } else { self.listed.len() };
        if !rate.is_empty() {
            self.listed.push(ListedSpring { label: self.rate(rate)?, stroke: None });
        }
        if let Some(count) = count {
            self.repeat(count, word)?;
        }
        if self.listed.is_empty() {
            return Err(SpringsFault::Stroke(word.to_owned()));
        }
        if stroke.is_some() {
            for spring in &mut self.listed[first..] {
                spring.stroke = stroke;
            }
        }
        self.checked()
    }

    fn repeat(&mut self, count: &str, word: &str) -> Result<(), SpringsFault> {
        let fault = || SpringsFault::Count(word.to_owned());
        let count: usize = count.parse().ok().filter(|count| *count > 0).ok_or_else(fault)?;
        let last = *self.listed.last().ok_or_else(fault)?;
        self.listed.extend(std::iter::repeat_n(last, (count - 1).min(MOST_SPRINGS)));
        Ok(())
    }

    fn range(&mut self, range: &str, step: &str) -> Result<(), SpringsFault> {
        let fault = || SpringsFault::Range(format!("{range} by {step}"));
        let (from, to) = range.split_once('-').ok_or_else(fault)?;
        let (step, stroke) = apart(step);
        let stroke = stroke.map(|stroke| self.stroke(stroke)).transpose()?;
        let step = step.trim_end_matches('s');
        let (from, to, step) = (self.rate(from)?, self.rate(to)?, self.rate(step)?);
        // Half a thousandth of a step forgives what the conversion of units adds.
        let steps = ((to - from) / step + 5e-4).floor();
        if !(0.0..=MOST_SPRINGS as f64).contains(&steps) {
            return Err(fault());
        }
        let springs = (0u16..).map(f64::from).take_while(|index| *index <= steps);
        self.listed.extend(springs.map(|index| ListedSpring { label: from + step * index, stroke }));
        self.checked()
    }

    fn checked(&self) -> Result<(), SpringsFault> {
        if self.listed.len() > MOST_SPRINGS { Err(SpringsFault::TooMany) } else { Ok(()) }
    }
}

/// Springs the line shows as they were on the rack keep all that is known of them; the others get numbers of their own.
fn numbered(listed: &[ListedSpring], springs: &[Spring]) -> Vec<Spring> {
    let mut left = springs.to_vec();
    let mut free = free_numbers(springs);
    let mut one = |listed: &ListedSpring| {
        let kept = left.iter().position(|spring| bears(spring.label, listed.label));
        if let Some(kept) = kept {
            let mut spring = left.remove(kept);
            spring.stroke = listed.stroke.map(|stroke| nearest(spring.stroke, stroke));
            return spring;
        }
        let number = free.next().unwrap_or(SpringNumber(u16::MAX));
        Spring { stroke: listed.stroke, ..Spring::labelled(number, listed.label) }
    };
    listed.iter().map(&mut one).collect()
}

/// The stroke as it was, where the line only shows it rounded.
fn nearest(known: Option<Length>, read: Length) -> Length {
    known.filter(|known| same_length(*known, read)).unwrap_or(read)
}

/// The rack as a line that [`read`] takes back.
pub fn written(springs: &[Spring], units: UnitSet) -> String {
    let Some(first) = springs.first() else { return String::new() };
    let shared = first.stroke.filter(|_| springs.iter().all(|spring| spring.stroke == first.stroke));
    let mut words: Vec<String> = Vec::new();
    let mut index = 0;
    while index < springs.len() {
        let spring = &springs[index];
        let same = |other: &&Spring| other.label == spring.label && other.stroke == spring.stroke;
        let count = springs[index..].iter().take_while(same).count();
        let mut word = spring.label.written(units).figure;
        if count > 1 {
            word = format!("{word} x{count}");
        }
        if let (None, Some(stroke)) = (shared, spring.stroke) {
            word = format!("{word}/{}", tight(stroke, units));
        }
        words.push(word);
        index += count;
    }
    let unit = first.label.written(units).unit;
    let stroke = shared.map(|stroke| {
        let written = stroke.written(units);
        format!(", stroke {} {}", written.figure.trim_end_matches(".0"), written.unit)
    });
    let stroke = stroke.unwrap_or_default();
    format!("{} {unit}{stroke}", words.join(" "))
}

/// A length without the blank before its unit.
fn tight(length: Length, units: UnitSet) -> String {
    let written = length.written(units);
    format!("{}{}", written.figure.trim_end_matches(".0"), written.unit)
}

#[cfg(test)]
mod tests;
