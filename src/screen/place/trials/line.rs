//! The one line of quick trials: what it says.
//!
//! ```text
//! 17.5            a trial: the indicator was seated, the rider sat, it moved that far
//! 17.5 18 17.5    three of them
//! s 450           another spring, by its rate or as s #2; s 450 t 1 with the collar a turn past contact; one that is
//!                 not on the list joins it; s 450x65 names the stroke printed on it
//! t 1             the collar, in turns past contact
//! void 3 bounced  reading 3 does not count, and why; void 1-3 slipped, void last
//! 17.5 bounced    a trial that does not count, and why
//! w 86 pack       the rider weighs 86 kg with the pack from now on; w alone is as entered
//! note windy      a remark
//! undo, redo      the last step undone, and done again
//! ```
//!
//! A figure alone is always a length, and so is a fraction of an inch. Only where it is more than the stroke, so that it can be no reading, and a spring at
//! hand bears it to the figure, is it taken for that spring; and a change of spring is asked about before it is made. Not
//! here: what is possible (`session::limits`) and legal (`session::machine`).

use super::PendingSwap;
use super::spring_line::{MeantSpring, bare_rate, by_rate, change, is_spring};
use crate::phrase;
use crate::screen::place::typed_condition;
use crate::screen::place::typed_spring::SpringFault;
use crate::session::limits;
use crate::session::{Caution, Condition, Gap, Indicator, Posture, ReadingNumber, Setup, ShopSpring};
use crate::text::FreeText;
use crate::units::{FigureFault, Kind, Length, Turns, Unit, UnitSet, Unreadable, parse};

/// The most readings voided by one line.
const MOST_AT_ONCE: u16 = 50;

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
    /// A trial that does not count, and why.
    Slip(Length, FreeText),
    /// Readings that do not count.
    Void(Vec<ReadingNumber>, FreeText),
    /// A remark.
    Note(FreeText),
    /// The indicator is read in this way from now on.
    Indicator(Indicator),
    /// The rider sits or stands from now on.
    Posture(Posture),
    /// Something is otherwise than at the intake from now on, or nothing is.
    Under(Option<Condition>),
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
    pub(super) fn spring(fault: &SpringFault, units: UnitSet) -> Self {
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
    /// The last reading that counts.
    pub(super) last: Option<ReadingNumber>,
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
        "v" | "void" => void(rest, hand.last),
        "w" | "with" => typed_condition::read(rest, units)
            .map(LineCommand::Under)
            .map_err(|typed_condition::Unnamed| CommandFault::Said(phrase::condition::form("w ", units))),
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

/// Whether what is typed next belongs to a remark, a condition or the reason of a void.
pub(super) fn is_free_text(text: &str) -> bool {
    let text = text.trim_start();
    let (word, _) = opened(text);
    let named = matches!(word.to_lowercase().as_str(), "v" | "void" | "n" | "note" | "w" | "with");
    named && word.len() < text.len() || word.is_empty() && reason_behind(text).is_some()
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
    if let Some(slip) = slip(text, stroke, units) {
        return Ok(slip);
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
pub(super) fn is_proper_fraction(text: &str) -> bool {
    let parts = text.split_once('/').map(|(top, bottom)| (top.parse::<u16>(), bottom.parse::<u16>()));
    matches!(parts, Some((Ok(top), Ok(bottom))) if top < bottom)
}

/// The readings named, and why they do not count: `3 bounced`, `1-3 collar loose`, `last`.
fn void(rest: &str, last: Option<ReadingNumber>) -> Result<LineCommand, CommandFault> {
    let fault = || CommandFault::Said(phrase::trials::VOID_FORM.to_owned());
    let (which, because) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    if which.eq_ignore_ascii_case("last") {
        let because = if because.is_empty() { phrase::trials::VOIDED_AT_ONCE } else { because };
        let last = last.ok_or(CommandFault::Said(phrase::trials::NOTHING_TO_VOID.to_owned()))?;
        return Ok(LineCommand::Void(vec![last], FreeText::new(because)));
    }
    let number = |text: &str| parse::count(text).map(|read| read.value).map_err(|_| fault());
    let (first, end) = which.split_once(['-', '–']).unwrap_or((which, which));
    let (first, end) = (number(first)?, number(end)?);
    if because.is_empty() || end < first || end - first > MOST_AT_ONCE {
        return Err(fault());
    }
    Ok(LineCommand::Void((first..=end).map(ReadingNumber).collect(), FreeText::new(because)))
}

/// A reading and why it does not count, as in `17.5 bounced`.
fn slip(text: &str, stroke: Length, units: UnitSet) -> Option<LineCommand> {
    let (figure, because) = reason_behind(text)?;
    let read = parse::length(figure, units).ok().filter(|read| read.value <= stroke)?;
    Some(LineCommand::Slip(read.value, FreeText::new(because)))
}

/// What stands before and behind the first word of at least three letters.
fn reason_behind(text: &str) -> Option<(&str, &str)> {
    let words = text.match_indices(char::is_whitespace).map(|(at, _)| text[at..].trim_start());
    let reason = words
        .into_iter()
        .find(|rest| rest.chars().take(3).filter(|typed| typed.is_alphabetic()).count() == 3)?;
    Some((text[..text.len() - reason.len()].trim_end(), reason))
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
        LineCommand::Slip(reading, because) => phrase::trials::slip_understood(reading, &because, units),
        LineCommand::Void(numbers, because) => phrase::trials::void_understood(&numbers, &because),
        LineCommand::Under(condition) => phrase::condition::understood(condition.as_ref(), units),
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
        Ok(LineCommand::Slip(..)) => phrase::enter::SLIP.to_owned(),
        Ok(LineCommand::Note(_)) => phrase::enter::NOTE.to_owned(),
        Ok(LineCommand::Trials(several)) => phrase::enter::trials(several.len()),
        Ok(
            LineCommand::Indicator(_)
            | LineCommand::Posture(_)
            | LineCommand::Under(_)
            | LineCommand::Gap(_)
            | LineCommand::Risen(_)
            | LineCommand::Undo
            | LineCommand::Redo,
        ) => phrase::enter::DO_IT.to_owned(),
        Err(_) => phrase::enter::LINE.to_owned(),
    }
}

/// The caution that belongs to what the line says, though it was read before.
pub(super) fn caution(text: &str, hand: LineContext<'_>, units: UnitSet) -> Option<Caution> {
    match read(text, hand, units).ok()? {
        LineCommand::Trial(_) | LineCommand::Slip(..) => Some(Caution::SitGently),
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
