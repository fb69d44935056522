//! The springs a line of quick trials may mean: by rate, by number, with the collar behind it, on the list or joining it.
//!
//! Not here: every other line (`line`), and how a typed spring reads (`typed_spring`).

use super::PendingSwap;
use super::line::{CommandFault, LineContext, is_proper_fraction};
use crate::phrase;
use crate::screen::place::joining::Joining;
use crate::screen::place::typed_spring::{self, SpringFault, TypedSpring};
use crate::session::limits;
use crate::session::{Spring, SpringNumber};
use crate::text::mark::Mark;
use crate::units::{Length, Quantity, SpringRate, Turns, UnitSet, parse};

/// The spring a line means.
pub(super) enum MeantSpring {
    /// One of the list.
    Listed(SpringNumber),
    /// One that joins it.
    Joins(Joining),
}

impl MeantSpring {
    /// Fitted with the collar there.
    pub(super) const fn at(self, preload_turns: Turns) -> PendingSwap {
        match self {
            Self::Listed(spring) => PendingSwap { spring, preload_turns, joins: None },
            Self::Joins(joining) => {
                PendingSwap { spring: joining.spring.number, preload_turns, joins: Some(joining) }
            }
        }
    }
}

/// Whether what is typed can only be a spring, because its first figure can be no reading and more stands behind it: 450/65,
/// 450x65, #450.
pub(super) fn is_spring(text: &str, stroke: Length, units: UnitSet) -> bool {
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
pub(super) fn bare_rate(text: &str, hand: LineContext<'_>, units: UnitSet) -> Option<SpringNumber> {
    let bare = text.chars().all(|typed| typed.is_ascii_digit() || matches!(typed, '.' | ','));
    match by_rate(text, hand, units) {
        Ok(MeantSpring::Listed(spring)) if bare => Some(spring),
        _ => None,
    }
}

/// Another spring, with the collar where it is named.
pub(super) fn change(rest: &str, hand: LineContext<'_>, units: UnitSet) -> Result<PendingSwap, CommandFault> {
    if rest.is_empty() {
        return Err(CommandFault::Said(phrase::trials::spring_form(units)));
    }
    let (marked, (spring, turns)) = match with_mark(rest, hand) {
        Some((marked, behind)) => (Some(marked), ("", spring_and_collar(behind).1)),
        None => (None, spring_and_collar(rest)),
    };
    let preload_turns = turns.map_or(Ok(Turns::ZERO), |turns| parse::turns(turns).map(|read| read.value))?;
    if let Some(marked) = marked {
        return Ok(marked.at(preload_turns));
    }
    let number = spring.strip_prefix('#').and_then(|number| parse::count(number).ok());
    let listed = number.map(|number| SpringNumber(number.value));
    let spring = match listed.filter(|number| hand.setup.spring(*number).is_some() || is_number(*number)) {
        Some(number) => MeantSpring::Listed(number),
        None => by_rate(spring, hand, units)?,
    };
    Ok(spring.at(preload_turns))
}

/// The spring whose mark begins a text, of the list or of the shop's rack, and what stands behind it.
fn with_mark<'t>(text: &'t str, hand: LineContext<'_>) -> Option<(MeantSpring, &'t str)> {
    let (word, behind) = text.split_once(' ').unwrap_or((text, ""));
    let mark = Mark::read(word).ok()?;
    let listed = hand.setup.springs.iter().find(|spring| spring.mark() == Some(mark));
    let spring = match listed {
        Some(listed) => MeantSpring::Listed(listed.number),
        None => MeantSpring::Joins(Joining::with_mark(mark, hand.setup, hand.shop)?),
    };
    Some((spring, behind.trim_start()))
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
pub(super) fn by_rate(
    text: &str,
    hand: LineContext<'_>,
    units: UnitSet,
) -> Result<MeantSpring, CommandFault> {
    let typed = typed_spring::read(text, units).and_then(TypedSpring::only_one);
    let typed = typed.map_err(|fault| CommandFault::spring(&fault, units))?;
    let rate = typed.rate;
    let bears = |spring: &&Spring| typed.bears(spring.label, spring.end_rate);
    let listed = || hand.setup.springs.iter().filter(bears);
    let meant = listed().filter(|spring| typed.is_of(spring.stroke)).map(|spring| spring.number);
    match meant.collect::<Vec<_>>()[..] {
        [] => {
            // It may well be that spring; a second one must not come about by its stroke alone.
            if let Some(unknown) = listed().find(|spring| spring.stroke.is_none()) {
                let said = phrase::trials::stroke_not_entered(rate, unknown.number, units);
                return Err(CommandFault::Said(said));
            }
            let joining = Joining::of(&typed.numbered(SpringNumber(0)), hand.setup, hand.shop);
            joining.map(MeantSpring::Joins).map_err(|fault| CommandFault::spring(&fault, units))
        }
        [only] => Ok(MeantSpring::Listed(only)),
        [first, ..] => Err(CommandFault::Said(phrase::trials::several_such(rate, first, units))),
    }
}
