//! From a format number to the present one: the seam at which an older file becomes a present record.
//!
//! A new format adds a rung: a function from the text of the format below to its own. The files in `tests/records` hold
//! every format ever written and load for ever. Not here: the fields of any format.

use std::borrow::Cow;

use super::FORMAT;
use super::fault::{self, FormError, TextPosition};
use super::{fields, record};

/// The text of a file made into the text of the next format.
type Lift = fn(&str) -> String;

/// Every step up, by the format it starts from. The unit tests have an invented one below the first, so that the way over
/// more than one rung is known to work.
const LADDER: &[(u32, Lift)] = &[
    #[cfg(test)]
    (0, invented::lifted),
    (1, format_1::lifted),
    // Format 3 lets an entry name who did it: a record of format 2 is one in which nobody is named.
    (2, str::to_owned),
    // Format 4 lets a spring have a mark: a record of format 3 is one in which none has.
    (3, str::to_owned),
];

/// The text in the present format, by the format number in it, which is read before anything else is looked at.
///
/// # Errors
/// [`FormError::Newer`], [`FormError::NotARecord`], or damage at the format number.
pub(super) fn to_present(text: &str) -> Result<Cow<'_, str>, FormError> {
    let Some(piece) = fields::look(text, "format") else {
        let resembles_a_record = ["format:", "opened:", "entries:"].iter().any(|field| text.contains(field));
        return Err(match record::read(text).1.err() {
            _ if !resembles_a_record => FormError::NotARecord,
            Some(error) => fault::syntax(text, &error, None),
            None => FormError::unreadable(TextPosition::START, "the field format is missing".to_owned()),
        });
    };
    let found: u32 = fields::read(text, piece).map_err(|error| fault::syntax(text, &error, None))?;
    if found > FORMAT {
        return Err(FormError::Newer { found, known: FORMAT });
    }
    if found != FORMAT && !LADDER.iter().any(|(from, _)| *from == found) {
        let place = fields::place_of(text, piece);
        return Err(FormError::unreadable(place, format!("there never was a format {found}")));
    }
    let steps = LADDER.iter().filter(|(from, _)| *from >= found);
    Ok(steps.fold(Cow::Borrowed(text), |text, (_, lift)| Cow::Owned(lift(&text))))
}

mod format_1;
#[cfg(test)]
mod invented;
mod lexer;
#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_older_format_is_lifted_to_the_present_one() {
        let text = "(format: 0, opened: \"2026-11-25T10:00:00+01:00\", rider: 180.0, entries: [])";
        let read = crate::archive::form::read(text).expect("it reads");
        // 180 lb = 81.646 626 6 kg by the exact definition of the pound.
        assert_eq!(read.record.intake.rider, Some(crate::units::Mass::kg(180.0 * 0.453_592_37)));
    }

    #[test]
    fn a_format_above_the_ladder_is_newer() {
        let newer = to_present("(format: 5, anything: {1: [goes]}, and = even this");
        assert_eq!(newer, Err(FormError::Newer { found: 5, known: 4 }));
    }

    #[test]
    fn the_ladder_ends_at_the_format_written() {
        assert_eq!(LADDER.last().map(|(from, _)| from + 1), Some(FORMAT));
    }
}
