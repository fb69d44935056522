//! A spring as it is typed: `575`, `575/65` or `575, stroke 65`, wherever one is asked for.
//!
//! Not here: the line of many springs (`intake::spring_list`), and what else the line of a kind of spring takes (`rack::line`).

use crate::session::shop_rack::same_length;
use crate::units::{Length, SpringRate, UnitSet, Unreadable, parse};

/// The word before a stroke that stands behind its rate.
const STROKE: &str = "stroke";

/// A rate, and the stroke printed beside it where one was typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TypedSpring {
    pub(super) rate: SpringRate,
    pub(super) stroke: Option<Length>,
}

impl TypedSpring {
    /// Whether this stroke is the one typed; every stroke is where none was, one that nobody knows is not where one was.
    pub(super) fn is_of(&self, stroke: Option<Length>) -> bool {
        self.stroke.is_none_or(|typed| stroke.is_some_and(|known| same_length(known, typed)))
    }
}

/// Reads a rate, and the stroke behind it if there is one.
///
/// # Errors
/// With the part that cannot be read.
pub(super) fn read(text: &str, units: UnitSet) -> Result<TypedSpring, Unreadable> {
    let (rate, stroke) = behind_the_word(text).unwrap_or_else(|| apart(text));
    let stroke = stroke.map(|stroke| parse::length(stroke, units)).transpose()?;
    Ok(TypedSpring { rate: parse::rate(rate, units)?.value, stroke: stroke.map(|read| read.value) })
}

/// The text before the stroke mark and that behind it; the mark within a unit, as in lb/in and N/mm, is none.
pub(super) fn apart(text: &str) -> (&str, Option<&str>) {
    let within_a_unit = |at: usize| {
        let before = text[..at].to_lowercase();
        let is_force = ["lb", "lbs", "lbf", "n"].into_iter().any(|unit| before.ends_with(unit));
        is_force && text[at + 1..].starts_with(|letter: char| letter.is_alphabetic() || letter == '"')
    };
    let mark = text.match_indices('/').map(|(at, _)| at).find(|at| !within_a_unit(*at));
    mark.map_or((text, None), |at| (text[..at].trim_end(), Some(text[at + 1..].trim_start())))
}

/// `575, stroke 65` and `575 stroke 65`.
fn behind_the_word(text: &str) -> Option<(&str, Option<&str>)> {
    // Lower case of ASCII alone, so that the place is the same in both.
    let at = text.to_ascii_lowercase().find(STROKE)?;
    Some((text[..at].trim_end_matches([' ', ',', ';']), Some(text[at + STROKE.len()..].trim_start())))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rate in lb/in and stroke in mm, 0 for none, to the whole figure.
    fn typed(text: &str) -> String {
        let spring = read(text, UnitSet::Trade).expect(text);
        let stroke = spring.stroke.map_or(0.0, Length::as_mm);
        format!("{:.0} {stroke:.0}", spring.rate.as_lb_per_in())
    }

    #[test]
    fn a_stroke_stands_behind_a_mark_or_behind_its_word() {
        for text in [
            "575/65",
            "575 / 65 mm",
            "575, stroke 65",
            "575 Stroke 65",
            "575 lb/in/65",
            "575 lb/in, stroke 65",
        ] {
            assert_eq!(typed(text), "575 65", "{text}");
        }
        assert_eq!(typed("575/2 1/2 in"), "575 64");
    }

    #[test]
    fn the_mark_within_a_unit_is_no_stroke() {
        for text in ["450", "450 lb/in", "450 lbs/in", "450LB/IN", "450 lb/\""] {
            assert_eq!(typed(text), "450 0", "{text}");
        }
        assert_eq!(typed("80 N/mm"), "457 0");
    }

    #[test]
    fn what_is_no_spring_is_refused() {
        for text in ["", "/65", "575/", "575/long", "stroke 65", "575, stroke"] {
            assert!(read(text, UnitSet::Trade).is_err(), "{text}");
        }
    }
}
