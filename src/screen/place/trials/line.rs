//! The one line of quick trials: what it says.
//!
//! ```text
//! 17.5            a trial: the indicator was seated, the rider sat, it moved that far
//! 17.5 18 17.5    three of them
//! s 450           another spring, by its rate or as s #2; s 450 t 1 with the collar a turn past contact; one that is
//!                 not on the list joins it; s 450x65 names the stroke printed on it
//! t 1             the collar, in turns past contact
//! void 3 bounced  reading 3 does not count, and why
//! note windy      a remark
//! undo, redo      the last step undone, and done again
//! ```
//!
//! A figure alone is always a length, and so is a fraction of an inch. Only where it is more than the stroke, so that it can be no reading, and a spring at
//! hand bears it to the figure, is it taken for that spring; and a change of spring is asked about before it is made. Not
//! here: what is possible (`session::limits`) and legal (`session::machine`).

use super::PendingSwap;
use crate::phrase;
use crate::screen::place::joining::Joining;
use crate::screen::place::typed_spring::{self, SpringFault, TypedSpring};
use crate::session::limits;
use crate::session::{
    Caution, Gap, Indicator, Posture, ReadingNumber, Setup, ShopSpring, Spring, SpringNumber,
};
use crate::text::FreeText;
use crate::units::{
    FigureFault, Kind, Length, Quantity, SpringRate, Turns, Unit, UnitSet, Unreadable, parse,
};

/// What a line says.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum LineCommand {
    /// A trial.
    Trial(Length),
    /// Several trials in one go.
    Trials(Vec<Length>),
    /// Another spring.
    Change(PendingSwap),
    /// The collar set.
    Collar(Turns),
    /// A reading that does not count.
    Void(ReadingNumber, FreeText),
    /// A remark.
    Note(FreeText),
    /// The indicator is read in this way from now on.
    Indicator(Indicator),
    /// The rider sits or stands from now on.
    Posture(Posture),
    /// Whether there was a gap between indicator and seal.
    Gap(Gap),
    /// The last sit let rise from below.
    Risen(Length),
    /// The last step is undone.
    Undo,
    /// What was undone is done again.
    Redo,
}

/// Why a line says nothing.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum CommandFault {
    /// A figure cannot be read.
    Figure(Unreadable),
    /// A sentence with the way out.
    Said(String),
}

impl CommandFault {
    fn spring(fault: &SpringFault, units: UnitSet) -> Self {
        Self::Said(fault.sentence(units))
    }
}

impl From<Unreadable> for CommandFault {
    fn from(unreadable: Unreadable) -> Self {
        Self::Figure(unreadable)
    }
}

/// The springs a line may mean.
#[derive(Clone, Copy)]
pub(super) struct LineContext<'a> {
    /// The details, the springs at hand among them.
    pub(super) setup: &'a Setup,
    /// Those of the shop.
    pub(super) shop: &'a [ShopSpring],
}

/// The spring a line means.
enum MeantSpring {
    /// One of the list.
    Listed(SpringNumber),
    /// One that joins it.
    Joins(Joining),
}

impl MeantSpring {
    /// Fitted with the collar there.
    const fn at(self, preload_turns: Turns) -> PendingSwap {
        match self {
            Self::Listed(spring) => PendingSwap { spring, preload_turns, joins: None },
            Self::Joins(joining) => {
                PendingSwap { spring: joining.spring.number, preload_turns, joins: Some(joining) }
            }
        }
    }
}

/// Reads a line.
///
/// # Errors
/// With what is wrong, and how it is written.
pub(super) fn read(text: &str, hand: LineContext<'_>, units: UnitSet) -> Result<LineCommand, CommandFault> {
    let text = text.trim();
    let (word, rest) = opened(text);
    match word.to_lowercase().as_str() {
        "s" | "spring" => change(rest, hand, units).map(LineCommand::Change),
        "t" | "turn" | "turns" | "collar" => Ok(LineCommand::Collar(parse::turns(rest)?.value)),
        "v" | "void" => void(rest),
        "n" | "note" if rest.is_empty() => Err(CommandFault::Said(phrase::guide::NOTE_EMPTY.to_owned())),
        "push" if rest.is_empty() => Ok(LineCommand::Indicator(Indicator::Pushed)),
        "drag" if rest.is_empty() => Ok(LineCommand::Indicator(Indicator::Kept)),
        "stand" if rest.is_empty() => Ok(LineCommand::Posture(Posture::Standing)),
        "sit" if rest.is_empty() => Ok(LineCommand::Posture(Posture::Seated)),
        "gap" if rest.is_empty() => Ok(LineCommand::Gap(Gap::Seen)),
        "no" if rest.eq_ignore_ascii_case("gap") => Ok(LineCommand::Gap(Gap::None)),
        "rise" => Ok(LineCommand::Risen(parse::length(rest, units)?.value)),
        "undo" if rest.is_empty() => Ok(LineCommand::Undo),
        "redo" if rest.is_empty() => Ok(LineCommand::Redo),
        "n" | "note" => Ok(LineCommand::Note(FreeText::new(rest))),
        _ => figure(text, hand, units),
    }
}

/// Whether what is typed next belongs to a remark or to the reason of a void.
pub(super) fn is_free_text(text: &str) -> bool {
    let text = text.trim_start();
    let (word, _) = opened(text);
    matches!(word.to_lowercase().as_str(), "v" | "void" | "n" | "note") && word.len() < text.len()
}

/// The leading word and what follows it; a letter may stand close to its figure, as in `s450`.
fn opened(text: &str) -> (&str, &str) {
    let letters = text.find(|typed: char| !typed.is_alphabetic()).unwrap_or(text.len());
    let (word, rest) = text.split_at(letters);
    (word, rest.trim_start())
}

/// A figure alone: a trial, unless it says otherwise by its unit or can be no reading.
fn figure(text: &str, hand: LineContext<'_>, units: UnitSet) -> Result<LineCommand, CommandFault> {
    let change = |spring: MeantSpring| LineCommand::Change(spring.at(Turns::ZERO));
    let stroke = hand.setup.shock.stroke;
    if is_spring(text, stroke, units) {
        return Ok(change(by_rate(text, hand, units)?));
    }
    if let Some(several) = readings(text, stroke, units) {
        return Ok(LineCommand::Trials(several));
    }
    match parse::length(text, units) {
        Ok(read) if read.value <= stroke => Ok(LineCommand::Trial(read.value)),
        Ok(read) => match bare_rate(text, hand, units) {
            Some(spring) => Ok(change(MeantSpring::Listed(spring))),
            None => {
                Err(CommandFault::Said(phrase::trials::beyond_stroke_and_list(read.value, stroke, units)))
            }
        },
        Err(Unreadable { fault: FigureFault::OtherKind(unit), .. }) if is_of_rate(unit, text) => {
            Ok(change(by_rate(text, hand, units)?))
        }
        Err(unreadable) => Err(unreadable.into()),
    }
}

/// Whether the unit behind a figure is that of a rate; # is short for lb/in, as on a spring.
fn is_of_rate(unit: Unit, text: &str) -> bool {
    use Unit::{KilogramForcePerMillimetre, NewtonPerMillimetre, Pound, PoundPerInch};
    matches!(unit, PoundPerInch | NewtonPerMillimetre | KilogramForcePerMillimetre)
        || (unit == Pound && text.contains('#'))
}

/// Several readings in a row, as they are pasted from a notebook; none where one of them can be no reading.
fn readings(text: &str, stroke: Length, units: UnitSet) -> Option<Vec<Length>> {
    if parse::length(text, units).is_ok() {
        return None;
    }
    let spaced = text.replace([';', '\n', '\t'], " ").replace(", ", " ");
    let spaced = if spaced.contains('.') { spaced.replace(',', " ") } else { spaced };
    let mut figures: Vec<String> = Vec::new();
    for word in spaced.split_whitespace() {
        let is_unit = ["mm", "cm", "in", "\""].contains(&word);
        // `1 1/16` is one reading: the fraction of a whole number of inches.
        let is_fraction = units == UnitSet::Imperial && is_proper_fraction(word);
        match figures.last_mut() {
            Some(before) if is_unit || (is_fraction && before.parse::<u16>().is_ok()) => {
                before.push(' ');
                before.push_str(word);
            }
            _ => figures.push(word.to_owned()),
        }
    }
    let read = |figure: &String| parse::length(figure, units).ok().map(|read| read.value);
    let reading: Option<Vec<Length>> = figures.iter().map(read).collect();
    reading.filter(|reading| {
        reading.len() > 1 && reading.iter().all(|reading| limits::check_reading(*reading, stroke).is_ok())
    })
}

/// A fraction smaller than one, as between the marks of a ruler in inches.
fn is_proper_fraction(text: &str) -> bool {
    let parts = text.split_once('/').map(|(top, bottom)| (top.parse::<u16>(), bottom.parse::<u16>()));
    matches!(parts, Some((Ok(top), Ok(bottom))) if top < bottom)
}

/// Whether what is typed can only be a spring, because its first figure can be no reading and more stands behind it: 450/65,
/// 450x65, #450.
fn is_spring(text: &str, stroke: Length, units: UnitSet) -> bool {
    let is_reading = parse::length(text, units).is_ok_and(|read| read.value <= stroke);
    let typed = typed_spring::read(text, units);
    let possible = |rate| limits::Figure::Rate.check(Quantity::Rate(rate)).is_ok();
    // A fraction is a length: nobody sells a spring of 11 lb/in. That of a rate over a stroke is greater than one.
    let is_fraction = is_proper_fraction(text) || !text.contains('/');
    !(is_reading && is_fraction)
        && match typed {
            Ok(typed) => {
                possible(typed.rate)
                    && (typed.stroke.is_some() || typed.count.is_some() || text.starts_with('#'))
            }
            Err(SpringFault::Progressive(spring)) => possible(spring.from),
            Err(_) => false,
        }
}

/// The one spring that bears a figure without a unit.
fn bare_rate(text: &str, hand: LineContext<'_>, units: UnitSet) -> Option<SpringNumber> {
    let bare = text.chars().all(|typed| typed.is_ascii_digit() || matches!(typed, '.' | ','));
    match by_rate(text, hand, units) {
        Ok(MeantSpring::Listed(spring)) if bare => Some(spring),
        _ => None,
    }
}

fn change(rest: &str, hand: LineContext<'_>, units: UnitSet) -> Result<PendingSwap, CommandFault> {
    if rest.is_empty() {
        return Err(CommandFault::Said(phrase::trials::spring_form(units)));
    }
    let (spring, turns) = spring_and_collar(rest);
    let preload_turns = turns.map_or(Ok(Turns::ZERO), |turns| parse::turns(turns).map(|read| read.value))?;
    let number = spring.strip_prefix('#').and_then(|number| parse::count(number).ok());
    let listed = number.map(|number| SpringNumber(number.value));
    let spring = match listed.filter(|number| hand.setup.spring(*number).is_some() || is_number(*number)) {
        Some(number) => MeantSpring::Listed(number),
        None => by_rate(spring, hand, units)?,
    };
    Ok(spring.at(preload_turns))
}

/// Whether a figure behind # can only be the number of a spring: as a rate it would be too small.
fn is_number(number: SpringNumber) -> bool {
    limits::Figure::Rate.check(Quantity::Rate(SpringRate::lb_per_in(f64::from(number.0)))).is_err()
}

/// The spring, and the turns of the collar behind a t: `450 t 1`, `450t1`, `450x65 turns 1/2`.
fn spring_and_collar(text: &str) -> (&str, Option<&str>) {
    let collar = text.match_indices('t').find(|(at, _)| {
        !text[..*at].ends_with(|before: char| before.is_alphabetic())
            && parse::turns(behind_the_t(&text[at + 1..])).is_ok()
    });
    collar.map_or((text, None), |(at, _)| (text[..at].trim_end(), Some(behind_the_t(&text[at + 1..]))))
}

fn behind_the_t(text: &str) -> &str {
    text.trim_start_matches("urns").trim_start_matches("urn").trim_start()
}

/// The one spring at hand that bears this rate, and this stroke where one was typed; else the one that would join the list.
fn by_rate(text: &str, hand: LineContext<'_>, units: UnitSet) -> Result<MeantSpring, CommandFault> {
    let typed = typed_spring::read(text, units).and_then(TypedSpring::only_one);
    let typed = typed.map_err(|fault| CommandFault::spring(&fault, units))?;
    let rate = typed.rate;
    let bears = |spring: &&Spring| typed.bears(spring.label, spring.end_rate);
    let listed = || hand.setup.springs.iter().filter(bears);
    let meant = listed().filter(|spring| typed.is_of(spring.stroke)).map(|spring| spring.number);
    match meant.collect::<Vec<_>>()[..] {
        [] => match listed().find(|spring| spring.stroke.is_none()) {
            // It may well be that spring; a second one must not come about by its stroke alone.
            Some(unknown) => {
                Err(CommandFault::Said(phrase::trials::stroke_not_entered(rate, unknown.number, units)))
            }
            None => {
                Ok(MeantSpring::Joins(Joining::of(&typed.numbered(SpringNumber(0)), hand.setup, hand.shop)))
            }
        },
        [only] => Ok(MeantSpring::Listed(only)),
        [first, ..] => Err(CommandFault::Said(phrase::trials::several_such(rate, first, units))),
    }
}

fn void(rest: &str) -> Result<LineCommand, CommandFault> {
    let fault = || CommandFault::Said(phrase::trials::VOID_FORM.to_owned());
    let (number, because) = rest.split_once(char::is_whitespace).ok_or_else(fault)?;
    let number = parse::count(number).map_err(|_| fault())?.value;
    Ok(LineCommand::Void(ReadingNumber(number), FreeText::new(because)))
}

/// How the line is understood, while it can be; nothing for an empty line.
pub(super) fn understood(text: &str, hand: LineContext<'_>, units: UnitSet) -> Option<String> {
    if text.trim().is_empty() {
        return None;
    }
    Some(match read(text, hand, units).ok()? {
        LineCommand::Trial(reading) => phrase::guide::reading_understood(reading, hand.setup, units),
        LineCommand::Trials(reading) => phrase::trials::several_understood(&reading, units),
        LineCommand::Change(change) => {
            format!("= {}", change.words(&hand.setup.springs, units))
        }
        LineCommand::Collar(turns) => phrase::guide::turns_understood(turns, hand.setup, units),
        LineCommand::Void(number, because) => phrase::trials::void_understood(number, &because),
        LineCommand::Note(_) => phrase::trials::NOTE_UNDERSTOOD.to_owned(),
        LineCommand::Indicator(indicator) => phrase::trials::indicator_understood(indicator).to_owned(),
        LineCommand::Posture(posture) => phrase::trials::posture_understood(posture).to_owned(),
        LineCommand::Gap(gap) => phrase::trials::gap_understood(gap).to_owned(),
        LineCommand::Risen(reading) => phrase::trials::risen_understood(reading, units),
        LineCommand::Undo => phrase::trials::UNDO_UNDERSTOOD.to_owned(),
        LineCommand::Redo => phrase::trials::REDO_UNDERSTOOD.to_owned(),
    })
}

/// What Enter does with the line: how it is understood, without its sign.
pub(super) fn enter(text: &str, hand: LineContext<'_>, units: UnitSet) -> String {
    match read(text, hand, units) {
        Ok(LineCommand::Trial(reading)) => phrase::enter::reading(reading, units),
        Ok(LineCommand::Change(change)) => phrase::enter::choice(&change.words(&hand.setup.springs, units)),
        Ok(LineCommand::Collar(_)) => phrase::enter::TURNS.to_owned(),
        Ok(LineCommand::Void(..)) => phrase::enter::VOID.to_owned(),
        Ok(LineCommand::Note(_)) => phrase::enter::NOTE.to_owned(),
        Ok(LineCommand::Trials(several)) => phrase::enter::trials(several.len()),
        _ => phrase::enter::LINE.to_owned(),
    }
}

/// The caution that belongs to what the line says, though it was read before.
pub(super) fn caution(text: &str, hand: LineContext<'_>, units: UnitSet) -> Option<Caution> {
    match read(text, hand, units).ok()? {
        LineCommand::Trial(_) => Some(Caution::SitGently),
        LineCommand::Collar(_) => Some(Caution::LooseCollar),
        _ => None,
    }
}

/// The reading the line comes to; none while it is anything else.
pub(super) fn typed_reading(text: &str, hand: LineContext<'_>, units: UnitSet) -> Option<Length> {
    match read(text, hand, units).ok()? {
        LineCommand::Trial(reading) => Some(reading),
        LineCommand::Trials(reading) => reading.last().copied(),
        _ => None,
    }
}

/// What an empty line of quick trials lacks.
pub(super) fn nothing_typed() -> Unreadable {
    Unreadable { expected: Kind::Length, fault: FigureFault::Empty }
}
