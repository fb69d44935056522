//! A spring as the trade writes it, wherever one is typed: `450`, `450x65`, `450 x 2.75`, `450-65`, `450/65`, `450#`,
//! `8 kg/mm`, `450, stroke 65`, `450 x2`, and a progressive one with its two rates, `400-490/65`.
//!
//! What stands behind x is told by its size: 20 to 150 is a stroke in millimetres, 1.5 to 5 one in inches, a whole number
//! up to 19 a count (common practice, no source: no shock spring has a stroke of 19 mm). Not here: the line of many springs
//! (`intake::spring_list`), what else the line of a kind of spring takes (`rack::line`), and what is possible
//! (`session::limits`).

pub(super) mod list;

use crate::phrase;
use crate::session::shop_rack::{self, same_length};
use crate::session::{Spring, SpringNumber};
use crate::text::mark::Mark;
use crate::units::{FigureFault, Kind, Length, SpringRate, UnitSet, Unreadable, parse};

/// The most springs that x counts; a larger figure behind it is a stroke.
pub(super) const MOST_COUNTED: u16 = 19;
/// A progressive spring ends at most that much stiffer than it begins (common practice, no source).
const MOST_PROGRESSIVE: f64 = 1.5;

/// A spring as it was typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TypedSpring {
    /// Its rate.
    pub(super) rate: SpringRate,
    /// The rate it ends with, where it is a progressive one.
    pub(super) end: Option<SpringRate>,
    /// The stroke printed beside it, where one was typed.
    pub(super) stroke: Option<Length>,
    /// How many of it, where that was typed.
    pub(super) count: Option<u16>,
    /// The stroke that what was taken for the count could be as well.
    pub(super) or_stroke: Option<Length>,
}

impl TypedSpring {
    /// Whether a spring with these rates printed on it may be the one typed.
    pub(super) fn bears(&self, label: SpringRate, end: Option<SpringRate>) -> bool {
        let ends = match (self.end, end) {
            (Some(typed), Some(end)) => shop_rack::bears(typed, end),
            (typed, end) => typed.is_none() && end.is_none(),
        };
        shop_rack::bears(self.rate, label) && ends
    }

    /// The spring as it was typed, with a number.
    pub(super) const fn numbered(&self, number: SpringNumber) -> Spring {
        Spring { stroke: self.stroke, end_rate: self.end, ..Spring::labelled(number, self.rate) }
    }

    /// Whether this stroke is the one typed; every stroke is where none was, one that nobody knows is not where one was.
    pub(super) fn is_of(&self, stroke: Option<Length>) -> bool {
        self.stroke.is_none_or(|typed| stroke.is_some_and(|known| same_length(known, typed)))
    }

    /// The spring, where nothing is missing of it.
    ///
    /// # Errors
    /// When it is progressive and no stroke says how fast its rate rises.
    fn whole(self) -> Result<Self, SpringFault> {
        match (self.end, self.stroke.or(self.or_stroke)) {
            (Some(to), None) => Err(SpringFault::Progressive(Progressive { from: self.rate, to })),
            _ => Ok(self),
        }
    }

    /// The same where only one spring can be meant: what could be a stroke is one.
    ///
    /// # Errors
    /// When several were typed.
    pub(super) fn only_one(self) -> Result<Self, SpringFault> {
        match (self.count, self.or_stroke) {
            (None | Some(1), None) => Ok(self),
            (_, Some(stroke)) => Ok(Self { stroke: Some(stroke), count: None, or_stroke: None, ..self }),
            (Some(count), None) => Err(SpringFault::Several(count)),
        }
    }
}

/// A spring whose rate rises over its stroke, typed without the stroke, which says how fast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progressive {
    /// The rate it begins with.
    pub from: SpringRate,
    /// The rate it ends with.
    pub to: SpringRate,
}

/// Why a text is no spring that can be fitted.
#[derive(Debug, Clone, PartialEq)]
pub enum SpringFault {
    /// Its rate cannot be read.
    Figure(Unreadable),
    /// It is a progressive spring.
    Progressive(Progressive),
    /// What stands behind x is neither a count nor a stroke.
    Behind(String),
    /// What should be a stroke is none.
    Stroke(String),
    /// Several were typed where one is asked for.
    Several(u16),
    /// Several springs of the shop bear this rate, each with a mark, and none was typed.
    WhichMark(SpringRate, Vec<Mark>),
}

impl SpringFault {
    /// What is wrong and what to type instead.
    pub fn sentence(&self, units: UnitSet) -> String {
        match self {
            Self::Figure(unreadable) => phrase::unreadable(unreadable, units),
            Self::Progressive(spring) => phrase::springs::progressive(spring.from, spring.to, units),
            Self::Behind(part) => phrase::springs::behind_x(part, units),
            Self::Stroke(part) => phrase::springs::no_stroke(part, units),
            Self::Several(count) => phrase::springs::only_one(*count),
            Self::WhichMark(rate, marks) => phrase::springs::which_mark(*rate, marks, units),
        }
    }
}

/// Reads one spring, with the stroke and the count behind its rate where they were typed.
///
/// # Errors
/// With what is wrong with it.
pub(super) fn read(text: &str, units: UnitSet) -> Result<TypedSpring, SpringFault> {
    let plain = plain(text);
    let (is_marked, body) = plain.strip_prefix('#').map_or((false, plain.as_str()), |body| (true, body));
    let (figure, unit, mut rest) = figure_and_unit(body);
    let unit = if unit.is_empty() && is_marked { "#" } else { unit };
    let mut from = rate(&format!("{figure} {unit}"), units)?;
    let first = figure;
    let mut behind = BehindRate::default();
    while let Some(mark) = rest.trim_start().chars().next() {
        let (figure, own, after) = figure_and_unit(&rest.trim_start()[mark.len_utf8()..]);
        let part = format!("{figure} {own}");
        match mark {
            'x' => behind.times = Some(part),
            '/' => behind.stroke = Some(stroke(&part, units)?),
            '-' => match ends_at(&part, [unit, own], from, units) {
                Some(to) => {
                    // The unit behind both ends goes for both.
                    from = if unit.is_empty() { rate(&format!("{first} {own}"), units)? } else { from };
                    behind.to = Some(to);
                }
                None => behind.stroke = Some(stroke(&part, units)?),
            },
            _ => {
                let fault = FigureFault::TwoFigures(text.trim().to_owned());
                return Err(SpringFault::Figure(Unreadable { expected: Kind::Rate, fault }));
            }
        }
        rest = after;
    }
    behind.of(from, units)
}

/// What stood behind the rate.
#[derive(Default)]
struct BehindRate {
    times: Option<String>,
    stroke: Option<Length>,
    to: Option<SpringRate>,
}

impl BehindRate {
    fn of(self, rate: SpringRate, units: UnitSet) -> Result<TypedSpring, SpringFault> {
        let alone = TypedSpring { rate, end: self.to, stroke: self.stroke, count: None, or_stroke: None };
        let Some(times) = &self.times else { return alone.whole() };
        let fault = || SpringFault::Behind(times.trim().to_owned());
        match times.trim().parse::<u16>() {
            // Where the stroke stands beside it, the figure behind x can only be a count.
            Ok(count) if self.stroke.is_some() => TypedSpring { count: Some(count), ..alone }.whole(),
            Ok(count) if count <= MOST_COUNTED => {
                let inches = bare_stroke(f64::from(count)).filter(|_| units == UnitSet::Imperial);
                TypedSpring { count: Some(count), or_stroke: inches, ..alone }.whole()
            }
            _ if self.stroke.is_some() => Err(fault()),
            // A bare figure that is neither must not be taken in whatever unit is shown.
            _ if bare(times).is_some_and(|figure| bare_stroke(figure).is_none()) => Err(fault()),
            _ => TypedSpring { stroke: Some(stroke(times, units).map_err(|_| fault())?), ..alone }.whole(),
        }
    }
}

/// The rate a progressive spring ends with; none where the figure behind the dash is a stroke.
fn ends_at(part: &str, [unit, own]: [&str; 2], from: SpringRate, units: UnitSet) -> Option<SpringRate> {
    let to = rate(&if own.is_empty() { format!("{part}{unit}") } else { part.to_owned() }, units).ok()?;
    let is_stroke = bare(part).is_some_and(|figure| bare_stroke(figure).is_some());
    let is_end = to > from && (to <= from * MOST_PROGRESSIVE || !is_stroke);
    (is_end || !own.is_empty()).then_some(to)
}

fn rate(text: &str, units: UnitSet) -> Result<SpringRate, SpringFault> {
    parse::rate(text.trim(), units).map(|read| read.value).map_err(SpringFault::Figure)
}

/// Reads a stroke: a bare figure by its size, whatever units are shown.
///
/// # Errors
/// With the part that is none.
pub(super) fn stroke(text: &str, units: UnitSet) -> Result<Length, SpringFault> {
    if let Some(stroke) = bare(text).and_then(bare_stroke) {
        return Ok(stroke);
    }
    let read = parse::length(text, units).map(|read| read.value);
    read.map_err(|_| SpringFault::Stroke(text.trim().to_owned()))
}

/// The figure of a text without a unit.
fn bare(text: &str) -> Option<f64> {
    let has_unit = text.contains(|letter: char| letter.is_alphabetic() || matches!(letter, '"' | '\'' | '#'));
    // The unit makes no difference to the figure: there is none.
    (!has_unit).then(|| parse::length(text, UnitSet::Trade).ok()).flatten().map(|read| read.value.as_mm())
}

/// The stroke that a bare figure can be; none where it can be no stroke of a shock spring.
fn bare_stroke(figure: f64) -> Option<Length> {
    match figure {
        20.0..=150.0 => Some(Length::mm(figure)),
        1.5..=5.0 => Some(Length::inches(figure)),
        _ => None,
    }
}

/// What a keyboard and a price list make of the same signs, in one spelling; the word before a stroke is its mark.
fn plain(text: &str) -> String {
    let one_spelling = text.to_lowercase().replace('×', "x").replace(['–', '−', '‐', '‑'], "-");
    let marked = one_spelling.replace(", stroke", "/").replace("; stroke", "/").replace("stroke", "/");
    marked.replace('″', "\"").trim().to_owned()
}

/// A figure at the beginning, the unit behind it, and the rest: `2 3/4 in/65` is `2 3/4`, `in` and `/65`.
fn figure_and_unit(text: &str) -> (&str, &str, &str) {
    let text = text.trim_start();
    let belongs = |letter: char| letter.is_ascii_digit() || ".,½¼¾⅛⅜⅝⅞".contains(letter);
    let whole = text.find(|letter| !belongs(letter)).unwrap_or(text.len());
    let end = whole + fraction_behind(&text[whole..]);
    let unit = unit_behind(&text[end..]);
    (&text[..end], text[end..end + unit].trim(), &text[end + unit..])
}

/// How much of a text is the fraction of a mixed number, ` 3/4` or `-3/4`.
fn fraction_behind(text: &str) -> usize {
    let digits =
        |text: &str| text.len() - text.trim_start_matches(|letter: char| letter.is_ascii_digit()).len();
    let Some(rest) = text.strip_prefix([' ', '-']) else { return 0 };
    let over = digits(rest);
    let Some(below) = rest[over..].strip_prefix('/') else { return 0 };
    let under = digits(below);
    match (rest[..over].parse::<u32>(), below[..under].parse::<u32>()) {
        (Ok(top), Ok(bottom)) if top < bottom => 1 + over + 1 + under,
        _ => 0,
    }
}

/// How much of a text is a unit: letters, and a mark within them, as in lb/in, but no x.
fn unit_behind(text: &str) -> usize {
    let mut has_letters = false;
    for (at, letter) in text.char_indices() {
        let within = match letter {
            'x' => false,
            '/' => {
                has_letters
                    && text[at + 1..]
                        .trim_start()
                        .starts_with(|next: char| next.is_alphabetic() || next == '"')
            }
            ' ' | '.' | '"' | '\'' | '#' => true,
            letter => letter.is_alphabetic(),
        };
        if !within {
            return at;
        }
        has_letters |= letter.is_alphabetic();
    }
    text.len()
}

#[cfg(test)]
mod tests;
