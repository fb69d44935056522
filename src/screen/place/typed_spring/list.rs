//! Several springs on one line.
//!
//! ```text
//! 400 425 450 x2 500x65          a 400, a 425, two 450s, and a 500 with 65 mm of stroke printed on it
//! 350-600 by 50, stroke 65       six springs, all with 65 mm of stroke; 350-600 in 50s says the same
//! 70 79 88 N/mm                  the unit, where it is not the one shown; it goes for the whole line
//! ```
//!
//! Not here: a single spring (`typed_spring`), and which numbers the springs get (`intake::spring_list`).

use super::{SpringFault, TypedSpring, stroke};
use crate::phrase;
use crate::session::limits::MOST_SPRINGS;
use crate::units::{Length, SpringRate, UnitSet};

/// Units that may stand alone on the line.
const UNITS: [&str; 13] = [
    "lb/in", "lbs/in", "lbf/in", "lb/\"", "lbs", "lb", "#", "n/mm", "kgf/mm", "kg/mm", "lb/inch", "lbs/inch",
    "lbf/inch",
];
/// Units of a stroke.
const LENGTHS: [&str; 6] = ["mm", "cm", "in", "inch", "inches", "\""];

/// Why a line is no rack.
#[derive(Debug, Clone, PartialEq)]
pub enum SpringsFault {
    /// There is nothing on it.
    Empty,
    /// A spring on it cannot be read.
    Spring(SpringFault),
    /// `by` needs a range before it and a step behind it.
    Range(String),
    /// `x` needs a rate before it and a count behind it.
    Count(String),
    /// There are more springs on it than a rack may hold.
    TooMany,
}

impl From<SpringFault> for SpringsFault {
    fn from(fault: SpringFault) -> Self {
        Self::Spring(fault)
    }
}

impl SpringsFault {
    /// What is wrong and what is taken, in a sentence.
    pub fn sentence(&self, units: UnitSet) -> String {
        match self {
            Self::Empty => phrase::springs::nothing_typed(units),
            Self::Spring(fault) => fault.sentence(units),
            Self::Range(part) => phrase::springs::no_range(part, units),
            Self::Count(part) => phrase::springs::no_count(part, units),
            Self::TooMany => phrase::springs::too_many(MOST_SPRINGS),
        }
    }
}

/// Reads the line: each spring once, with its count.
///
/// # Errors
/// With the part that cannot be read.
pub(in crate::screen::place) fn read(text: &str, units: UnitSet) -> Result<Vec<TypedSpring>, SpringsFault> {
    let spaced = text.replace([';', '\n'], " ").replace(", ", " ").replace(['–', '−'], "-").replace('×', "x");
    let spaced = commas_between_springs(&spaced.to_lowercase());
    let bare = spaced.split_whitespace().map(|word| word.trim_matches(',')).filter(|word| !word.is_empty());
    let mut words: Vec<String> = bare.map(str::to_owned).collect();
    let unit = take_unit(&mut words);
    let words = joined(&words);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let mut line = SpringLine { units, unit, listed: Vec::new() };
    let mut rest = words.as_slice();
    let mut shared = None;
    while let [word, behind @ ..] = rest {
        rest = match (*word, behind) {
            ("stroke", [length, behind @ ..]) => {
                shared = Some(stroke(length, units)?);
                behind
            }
            ("stroke", []) => return Err(SpringFault::Stroke(spaced.clone()).into()),
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
    Ok(line.listed)
}

/// A comma without a blank behind it parts springs where it can be no decimal comma: `400,450,500`.
fn commas_between_springs(text: &str) -> String {
    let parts_springs = |word: &&str| {
        word.contains(',')
            && word.split(',').all(|part| part.len() >= 2 && part.chars().all(|digit| digit.is_ascii_digit()))
            && (word.matches(',').count() > 1 || word.split(',').all(|part| part.len() == 3))
    };
    let words = text.split_whitespace();
    words
        .map(|word| if parts_springs(&word) { word.replace(',', " ") } else { word.to_owned() })
        .collect::<Vec<_>>()
        .join(" ")
}

/// Takes a unit that stands alone off the line; it goes for every rate without one.
fn take_unit(words: &mut Vec<String>) -> Option<String> {
    let named = words.iter().position(|word| UNITS.contains(&word.as_str()))?;
    Some(words.remove(named))
}

/// The words with what belongs together in one: `450 x 65` is `450x65`, `450 / 2 3/4 in` is `450/2 3/4in`.
fn joined(words: &[String]) -> Vec<String> {
    let mut joined: Vec<String> = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let next_is_figure =
            words.get(at + 1).is_some_and(|next| next.starts_with(|sign: char| sign.is_ascii_digit()));
        let Some(before) = joined.last_mut() else {
            joined.push(word.clone());
            continue;
        };
        let has_stroke = before == "stroke" || before.contains(['x', '/', '-']);
        let is_length = LENGTHS.contains(&word.as_str()) && before != "stroke";
        // In `350-600 in 50s` the word parts, in `450-2.5 in` it is a unit.
        let is_unit = is_length && !(word == "in" && next_is_figure && before.contains('-'));
        let is_fraction = has_stroke && word.split_once('/').is_some_and(|(top, bottom)| {
            matches!((top.parse::<u32>(), bottom.parse::<u32>()), (Ok(top), Ok(bottom)) if top < bottom)
        });
        let opens = before.ends_with(['x', '/', '-']) || (before.len() == 1 && before == "#");
        let goes_on =
            word.starts_with(['x', '/', '-']) || word.starts_with("lb/in/") || word.starts_with("n/mm/");
        if is_fraction && before != "stroke" {
            before.push(' ');
        }
        if is_fraction && before != "stroke" || is_unit || opens || goes_on {
            before.push_str(word);
        } else {
            joined.push(word.clone());
        }
    }
    joined
}

struct SpringLine {
    units: UnitSet,
    unit: Option<String>,
    listed: Vec<TypedSpring>,
}

impl SpringLine {
    /// A spring; the unit of the line stands behind a bare rate.
    fn spring(&self, text: &str) -> Result<TypedSpring, SpringsFault> {
        let end =
            text.find(|sign: char| !(sign.is_ascii_digit() || ".,".contains(sign))).unwrap_or(text.len());
        let has_unit = text[end..].trim_start().starts_with(|sign: char| sign.is_alphabetic() && sign != 'x');
        match &self.unit {
            Some(unit) if end > 0 && !has_unit => {
                Ok(super::read(&format!("{} {unit}{}", &text[..end], &text[end..]), self.units)?)
            }
            _ => Ok(super::read(text, self.units)?),
        }
    }

    fn rate(&self, text: &str) -> Result<SpringRate, SpringsFault> {
        Ok(self.spring(text)?.rate)
    }

    fn word(&mut self, word: &str) -> Result<(), SpringsFault> {
        if word.starts_with('x') {
            return Err(SpringsFault::Count(word.to_owned()));
        }
        let spring = self.spring(word)?;
        self.listed.push(spring);
        self.checked()
    }

    fn range(&mut self, range: &str, step: &str) -> Result<(), SpringsFault> {
        let fault = || SpringsFault::Range(format!("{range} by {step}"));
        let (from, to) = range.split_once('-').ok_or_else(fault)?;
        let (step, stroke) = step_and_stroke(step, self.units)?;
        let (from, to, step) = (self.rate(from)?, self.rate(to)?, self.rate(step)?);
        // Half a thousandth of a step forgives what the conversion of units adds.
        let steps = ((to - from) / step + 5e-4).floor();
        if !(0.0..=MOST_SPRINGS as f64).contains(&steps) {
            return Err(fault());
        }
        let rates =
            (0u16..).map(f64::from).take_while(|index| *index <= steps).map(|index| from + step * index);
        self.listed.extend(rates.map(|rate| TypedSpring {
            rate,
            end: None,
            stroke,
            count: None,
            or_stroke: None,
        }));
        self.checked()
    }

    fn checked(&self) -> Result<(), SpringsFault> {
        let springs: usize = self.listed.iter().map(|spring| usize::from(spring.count.unwrap_or(1))).sum();
        if springs > MOST_SPRINGS { Err(SpringsFault::TooMany) } else { Ok(()) }
    }
}

/// The step of a range without its plural, and the stroke behind it: `50s/57`, `50x57`.
fn step_and_stroke(text: &str, units: UnitSet) -> Result<(&str, Option<Length>), SpringsFault> {
    let (step, length) = match text.split_once(['/', 'x']) {
        Some((step, length)) => (step, Some(stroke(length, units)?)),
        None => (text, None),
    };
    Ok((step.trim_end_matches('s'), length))
}
