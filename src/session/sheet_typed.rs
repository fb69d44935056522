//! A row of the sheet as it is typed: "8 of 14", "1 1/2", "64.5°", "1.6 / 1.8 bar".
//!
//! Not here: which rows there are (`sheet`), and how figures with units are read (`units::parse`).

use super::sheet::{Item, Takes, Written};
use crate::mechanics::damper::Knob;
use crate::text::FreeText;
use crate::units::{Angle, UnitSet, parse};

/// The text of a row cannot be read as what the row takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotUnderstood(pub Item);

/// Reads the text of a row; an empty one is an empty row.
///
/// # Errors
/// When it is not what the row takes.
pub fn read(item: Item, text: &str, units: UnitSet) -> Result<Option<Written>, NotUnderstood> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let written = match item.takes() {
        Takes::Turns => parse::turns(text).ok().map(|turns| Written::Turns(turns.value)),
        Takes::Length => parse::length(text, units).ok().map(|length| Written::Length(length.value)),
        Takes::Clicks => clicks(text).map(Written::Clicks),
        Takes::Angle => angle(text).map(Written::Angle),
        Takes::Text => Some(Written::Text(FreeText::new(text))),
    };
    written.map(Some).ok_or(NotUnderstood(item))
}

/// "8", "8 of 14", "8/14".
fn clicks(text: &str) -> Option<Knob> {
    let plain = text.to_lowercase().replace("clicks", "").replace("click", "").replace("from closed", "");
    let plain = plain.replace(',', " ");
    let (stands, of) = match plain.split_once("of").or_else(|| plain.split_once('/')) {
        Some((stands, of)) => (stands, Some(of)),
        None => (plain.as_str(), None),
    };
    let count = |text: &str| u8::try_from(parse::count(text).ok()?.value).ok();
    Some(Knob { from_closed: count(stands)?, of: of.map(|of| count(of).ok_or(())).transpose().ok()? })
}

fn angle(text: &str) -> Option<Angle> {
    let bare = text.trim_end_matches(|letter: char| letter == '°' || letter.is_alphabetic() || letter == ' ');
    parse::ratio(bare).ok().map(|degrees| Angle::degrees(degrees.value.value()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(item: Item, text: &str) -> Result<Option<Written>, NotUnderstood> {
        read(item, text, UnitSet::Trade)
    }

    #[test]
    fn clicks_are_typed_as_people_say_them() {
        let knob = |from_closed, of| Ok(Some(Written::Clicks(Knob { from_closed, of })));
        assert_eq!(typed(Item::Rebound, "8 of 14"), knob(8, Some(14)));
        assert_eq!(typed(Item::Rebound, "8/14"), knob(8, Some(14)));
        assert_eq!(typed(Item::Rebound, "8 of 14 from closed"), knob(8, Some(14)));
        assert_eq!(typed(Item::Rebound, "8"), knob(8, None));
        for no in ["eight", "8 of", "8 of many", "-3", "300"] {
            assert_eq!(typed(Item::Rebound, no), Err(NotUnderstood(Item::Rebound)), "{no}");
        }
    }

    #[test]
    fn figures_with_and_without_their_units() {
        let angle = Ok(Some(Written::Angle(Angle::degrees(64.5))));
        assert_eq!(typed(Item::HeadAngle, "64.5°"), angle);
        assert_eq!(typed(Item::HeadAngle, "64.5 deg"), angle);
        let inch = read(Item::ForkSag, "1 in", UnitSet::Trade);
        assert_eq!(inch, Ok(Some(Written::Length(crate::units::Length::mm(25.4)))));
        assert_eq!(typed(Item::Tyres, "  "), Ok(None));
    }
}
