//! From a format number to the reader of that format: the seam at which an older file becomes a present record.
//!
//! A new format adds a rung here. Its own wire types replace those of `wire`; the old ones move beside them, and the old
//! rung reads into them and hands each field on as the new format has it, so that faults keep their line. The files in
//! `tests/records` hold every format ever written and load for ever. Not here: the fields of any format.

use super::fault::{FormError, Place};
use super::wire::{self, Sheet};
use super::{FORMAT, place};

/// One format and how it is read.
pub(super) struct Rung {
    pub(super) format: u32,
    pub(super) read: fn(&str, &mut Sheet) -> Result<(), ron::error::SpannedError>,
}

/// Every format that was ever written, the present one last. The unit tests have an invented one below the first, so that
/// the way of an older file through the whole program is known to work before there is a second format.
const LADDER: &[Rung] = &[
    #[cfg(test)]
    Rung { format: 0, read: invented::read },
    Rung { format: FORMAT, read: wire::read },
];

/// The rung for a text, by the format number in it, which is read before anything else is looked at.
///
/// # Errors
/// [`FormError::Newer`], [`FormError::NotARecord`], or damage at the format number.
pub(super) fn rung(text: &str) -> Result<&'static Rung, FormError> {
    let Some(found) = place::look::<u32>(text, "format") else { return Err(without_format(text)) };
    if found > FORMAT {
        return Err(FormError::Newer { found, known: FORMAT });
    }
    let unheard_of = || {
        let place = place::of_field(text, "format").unwrap_or(Place::START);
        FormError::unreadable(place, format!("there never was a format {found}"))
    };
    LADDER.iter().find(|rung| rung.format == found).ok_or_else(unheard_of)
}

/// Why a text has no format number: it is something else, or a record damaged before or at the number.
fn without_format(text: &str) -> FormError {
    let resembles_a_record = ["format:", "opened:", "entries:"].iter().any(|field| text.contains(field));
    if !resembles_a_record {
        return FormError::NotARecord;
    }
    match wire::read(text, &mut Sheet::default()) {
        Err(error) => super::fault::syntax(text, &error, None),
        Ok(()) => FormError::unreadable(Place::START, "the field format is missing".to_owned()),
    }
}

#[cfg(test)]
mod invented;
#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::Detail;
    use crate::units::Mass;

    #[test]
    fn an_older_format_is_read_by_its_own_rung() {
        let text = "(format: 0, opened: \"2026-11-25T10:00:00+01:00\", rider: 180.0, entries: [])";
        let mut sheet = Sheet::default();
        let rung = rung(text).expect("the invented format has a rung");
        (rung.read)(text, &mut sheet).expect("it reads");
        let (_, told) = sheet.head.details().remove(0);
        // 180 lb = 81.646 626 6 kg by the exact definition of the pound.
        assert_eq!(told, Ok(Detail::Rider(Mass::kg(180.0 * 0.453_592_37))));
    }

    #[test]
    fn the_present_format_is_read_by_the_last_rung() {
        assert_eq!(rung("(format: 1)").map(|rung| rung.format), Ok(1));
    }

    #[test]
    fn a_format_above_the_ladder_is_newer() {
        let newer = rung("(format: 2, anything: {1: [goes]}, and = even this").map(|rung| rung.format);
        assert_eq!(newer, Err(FormError::Newer { found: 2, known: 1 }));
    }

    #[test]
    fn the_ladder_ends_at_the_format_written() {
        assert_eq!(LADDER.last().map(|rung| rung.format), Some(FORMAT));
        assert!(LADDER.windows(2).all(|pair| pair[0].format + 1 == pair[1].format));
    }
}
