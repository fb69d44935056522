//! The one line of quick trials: what it says.
//!
//! ```text
//! 17.5            a trial: the indicator was seated, the rider sat, it moved that far
//! s 450           another spring, by its rate or as s #2; s 450 t 1 with the collar a turn past contact; one that is
//!                 not on the list joins it; s 450/65 names the stroke printed on it
//! t 1             the collar, in turns past contact
//! void 3 bounced  reading 3 does not count, and why
//! note windy      a remark
//! undo, redo      the last step undone, and done again
//! ```
//!
//! A figure alone is always a length. Only where it is more than the stroke, so that it can be no reading, and a spring at
//! hand bears it to the figure, is it taken for that spring; and a change of spring is asked about before it is made. Not
//! here: what is possible (`session::limits`) and legal (`session::machine`).

use super::PendingSwap;
use crate::phrase;
use crate::screen::place::joining::Joining;
use crate::screen::place::typed_spring::{self, TypedSpring};
use crate::session::shop_rack::bears;
use crate::session::{Caution, ReadingNumber, Setup, ShopSpring, Spring, SpringNumber};
use crate::text::FreeText;
use crate::units::{FigureFault, Kind, Length, Turns, Unit, UnitSet, Unreadable, parse};

/// What a line says.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum LineCommand {
    /// A trial.
    Trial(Length),
    /// Another spring.
    Change(PendingSwap),
    /// The collar set.
    Collar(Turns),
    /// A reading that does not count.
    Void(ReadingNumber, FreeText),
    /// A remark.
    Note(FreeText),
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
    if is_rate_and_stroke(text, stroke, units) {
        return Ok(change(by_rate(text, hand, units)?));
    }
    match parse::length(text, units) {
        Ok(read) if read.value <= stroke => Ok(LineCommand::Trial(read.value)),
        Ok(read) => match bare_rate(text, hand, units) {
            Some(spring) => Ok(change(MeantSpring::Listed(spring))),
            None => {
                Err(CommandFault::Said(phrase::trials::beyond_stroke_and_list(read.value, stroke, units)))
            }
        },
        Err(Unreadable {
            fault: FigureFault::OtherKind(Unit::PoundPerInch | Unit::NewtonPerMillimetre),
            ..
        }) => Ok(change(by_rate(text, hand, units)?)),
        Err(unreadable) => Err(unreadable.into()),
    }
}

/// Whether a figure over a figure is a rate with its stroke, because the first can be no reading: 450/65.
fn is_rate_and_stroke(text: &str, stroke: Length, units: UnitSet) -> bool {
    let (first, _) = typed_spring::apart(text);
    let is_reading = parse::length(first, units).is_ok_and(|first| first.value <= stroke);
    !is_reading && typed_spring::read(text, units).is_ok_and(|typed| typed.stroke.is_some())
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
        return Err(CommandFault::Said(phrase::trials::SPRING_FORM.to_owned()));
    }
    let (spring, turns) = match rest.split_once(" t") {
        Some((spring, turns)) => {
            (spring.trim(), Some(turns.trim_start_matches("urns").trim_start_matches("urn")))
        }
        None => (rest, None),
    };
    let preload_turns = turns.map_or(Ok(Turns::ZERO), |turns| parse::turns(turns).map(|read| read.value))?;
    let spring = match spring.strip_prefix('#') {
        Some(number) => MeantSpring::Listed(SpringNumber(parse::count(number)?.value)),
        None => by_rate(spring, hand, units)?,
    };
    Ok(spring.at(preload_turns))
}

/// The one spring at hand that bears this rate, and this stroke where one was typed; else the one that would join the list.
fn by_rate(text: &str, hand: LineContext<'_>, units: UnitSet) -> Result<MeantSpring, CommandFault> {
    let typed = typed_spring::read(text, units)?;
    let TypedSpring { rate, stroke } = typed;
    let listed = || hand.setup.springs.iter().filter(|spring: &&Spring| bears(spring.label, rate));
    let meant = listed().filter(|spring| typed.is_of(spring.stroke)).map(|spring| spring.number);
    match meant.collect::<Vec<_>>()[..] {
        [] => match listed().find(|spring| spring.stroke.is_none()) {
            // It may well be that spring; a second one must not come about by its stroke alone.
            Some(unknown) => {
                Err(CommandFault::Said(phrase::trials::stroke_not_entered(rate, unknown.number, units)))
            }
            None => Ok(MeantSpring::Joins(Joining::by_rate(rate, stroke, hand.setup, hand.shop))),
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
        LineCommand::Change(change) => {
            format!("= {}", change.words(&hand.setup.springs, units))
        }
        LineCommand::Collar(turns) => phrase::guide::turns_understood(turns, hand.setup, units),
        LineCommand::Void(number, because) => phrase::trials::void_understood(number, &because),
        LineCommand::Note(_) => phrase::trials::NOTE_UNDERSTOOD.to_owned(),
        LineCommand::Undo => phrase::trials::UNDO_UNDERSTOOD.to_owned(),
        LineCommand::Redo => phrase::trials::REDO_UNDERSTOOD.to_owned(),
    })
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
        _ => None,
    }
}

/// What an empty line of quick trials lacks.
pub(super) fn nothing_typed() -> Unreadable {
    Unreadable { expected: Kind::Length, fault: FigureFault::Empty }
}
