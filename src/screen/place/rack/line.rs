//! The line of a kind of spring: `450 x2, stroke 65, bore 36.5, length 140, measured 446 +- 4`, or `450x65, mark A3`; before the first comma
//! stands what the line of many springs takes, so that `450-600 by 50, stroke 65` are four kinds.
//!
//! Parts stand between commas with a blank behind, so that a decimal comma stays one. Not here: the line of many springs
//! (`typed_spring::list`).

use crate::mechanics::spring::Marked;
use crate::phrase;
use crate::screen::model::Notice;
use crate::screen::place::typed_spring::{TypedSpring, list};
use crate::session::ShopSpring;
use crate::text::mark::Mark;
use crate::units::{Estimate, SpringRate, UnitSet, parse};

use super::MOST_OF_A_KIND;

/// Reads the line: a kind, or several that differ in rate alone.
pub(super) fn read(text: &str, units: UnitSet) -> Result<Vec<ShopSpring>, Notice> {
    let mut parts = parts(text);
    let typed = typed(parts.next().unwrap_or_default(), units)?;
    let mut spring = ShopSpring { stroke: None, ..ShopSpring::labelled(SpringRate::ZERO) };
    let mut count = None;
    for part in parts.filter(|part| !part.is_empty()) {
        let (name, figure) = part.split_once(' ').unwrap_or((part, ""));
        let length = || parse::length(figure, units).map(|read| Some(read.value)).map_err(Notice::Unreadable);
        match name.to_lowercase().as_str() {
            "stroke" => spring.stroke = length()?,
            "bore" => spring.bore = length()?,
            "length" => spring.free_length = length()?,
            "measured" if typed.len() > 1 => return Err(said(phrase::rack::MEASURED_OF_ONE)),
            "measured" => spring.measured = Some(measured(figure, units)?),
            "mark" if typed.len() > 1 => return Err(said(phrase::rack::MARK_OF_ONE)),
            "mark" => spring.marked = Some(marked(figure)?),
            "count" => count = Some(counted(figure.trim().parse().ok())?),
            _ => return Err(said(phrase::rack::LINE_PARTS)),
        }
    }
    let kinds: Result<Vec<ShopSpring>, Notice> =
        typed.iter().map(|typed| kind(*typed, spring, count)).collect();
    let kinds = kinds?;
    match kinds.iter().flat_map(ShopSpring::faults).next() {
        Some(refusal) => Err(Notice::Refused(refusal)),
        None => Ok(kinds),
    }
}

/// What is to be asked once about a line that reads in two ways; none where it does not.
pub(super) fn question(text: &str, units: UnitSet) -> Option<String> {
    crate::screen::place::intake::spring_list::question(parts(text).next()?, units)
}

fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split([';']).flat_map(|part| part.split(", ")).map(str::trim)
}

/// A spring as typed with what stands behind the commas.
fn kind(typed: TypedSpring, of_all: ShopSpring, count: Option<u8>) -> Result<ShopSpring, Notice> {
    let own = typed.count.map(|count| counted(u8::try_from(count).ok())).transpose()?;
    let count = count.or(own).unwrap_or(1);
    Ok(ShopSpring {
        label: typed.rate,
        end_rate: typed.end,
        stroke: of_all.stroke.or(typed.stroke),
        count,
        ..of_all
    })
}

fn counted(count: Option<u8>) -> Result<u8, Notice> {
    count.filter(|count| *count <= MOST_OF_A_KIND).ok_or_else(|| said(phrase::rack::COUNT_TAKES))
}

fn said(sentence: &str) -> Notice {
    Notice::Said(sentence.to_owned())
}

/// A mark; what past sessions taught of it is worked out from them.
fn marked(text: &str) -> Result<Marked, Notice> {
    let mark = Mark::read(text).map_err(|fault| Notice::Said(phrase::rack::mark(fault)))?;
    Ok(Marked { mark, learned: None })
}

fn rate(text: &str, units: UnitSet) -> Result<SpringRate, Notice> {
    parse::rate(text, units).map(|read| read.value).map_err(Notice::Unreadable)
}

/// `450`, `450x65`, `450/65 x2`, `450-600 by 50`.
fn typed(text: &str, units: UnitSet) -> Result<Vec<TypedSpring>, Notice> {
    list::read(text, units).map_err(|fault| Notice::Said(fault.sentence(units)))
}

/// `446 +- 4`, with the unit behind either or both.
fn measured(text: &str, units: UnitSet) -> Result<Estimate<SpringRate>, Notice> {
    let text = text.replace("+/-", "±").replace("+-", "±");
    let (value, uncertainty) = text.split_once('±').ok_or_else(|| said(phrase::rack::MEASURED_TAKES))?;
    let uncertainty = uncertainty.trim();
    // A unit behind the doubt goes for both.
    let unit =
        uncertainty.trim_start_matches(|sign: char| sign.is_ascii_digit() || ".,".contains(sign)).trim();
    let value = value.trim();
    let bare = value.ends_with(|sign: char| sign.is_ascii_digit());
    let value = if bare { format!("{value} {unit}") } else { value.to_owned() };
    Ok(Estimate::new(rate(value.trim(), units)?, rate(uncertainty, units)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    fn only(line: &str) -> ShopSpring {
        let kinds = read(line, UnitSet::Trade).unwrap_or_else(|notice| panic!("{line}: {notice:?}"));
        assert_eq!(kinds.len(), 1, "{line}");
        kinds[0]
    }

    #[test]
    fn a_range_is_a_kind_for_every_rate() {
        let kinds = read("450-600 by 50, stroke 65, bore 36.5", UnitSet::Trade).expect("it reads");
        let rates: Vec<f64> = kinds.iter().map(|kind| kind.label.as_lb_per_in().round()).collect();
        assert_eq!(rates, [450.0, 500.0, 550.0, 600.0]);
        let alike = |kind: &ShopSpring| (kind.stroke, kind.bore, kind.count);
        assert!(kinds.iter().all(|kind| alike(kind) == (Some(Length::mm(65.0)), Some(Length::mm(36.5)), 1)));
        assert!(read("450-600 by 50, measured 446 +- 4", UnitSet::Trade).is_err());
    }

    #[test]
    fn a_rate_and_its_stroke_are_no_count() {
        for line in ["450x65", "450 x 65", "450-65", "450 x 65 mm"] {
            assert_eq!((only(line).stroke, only(line).count), (Some(Length::mm(65.0)), 1), "{line}");
        }
    }

    #[test]
    fn a_line_reads_back_as_it_is_written() {
        for line in [
            "450 lb/in",
            "450 lb/in x2, stroke 65.0 mm",
            "500 lb/in x0, bore 36.5 mm, measured 507 ± 5 lb/in",
            "450 lb/in, count 25, stroke 65.0 mm",
            "400-490/65.0 mm x2",
            "450 lb/in, stroke 65.0 mm, mark A3",
        ] {
            let spring = only(line);
            assert_eq!(phrase::rack::line(&spring, UnitSet::Trade), line);
        }
    }

    #[test]
    fn the_stroke_is_told_as_on_the_line_of_many_springs() {
        let long = only("575 x2, stroke 65");
        for line in ["575/65 x2", "575/65x2", "575 x2/65", "575/65 mm x2", "575 lb/in/65 x2"] {
            assert_eq!(only(line), long, "{line}");
        }
    }

    #[test]
    fn a_unit_behind_the_doubt_goes_for_both() {
        let spring = only("88 N/mm, measured 89.1 +- 0.9 N/mm");
        let measured = spring.measured.expect("it was measured");
        assert!((measured.value - SpringRate::n_per_mm(89.1)).abs() < SpringRate::n_per_mm(1e-9));
        assert!((measured.uncertainty - SpringRate::n_per_mm(0.9)).abs() < SpringRate::n_per_mm(1e-9));
    }

    #[test]
    fn a_decimal_comma_stays_one() {
        let spring = only("450, bore 36,5");
        assert_eq!(spring.bore, Some(Length::mm(36.5)));
    }

    #[test]
    fn what_is_not_a_line_is_refused_in_words() {
        for line in ["", "450, colour red", "450 x2000", "450, measured 446", "450, stroke 9000", "9, bore x"]
        {
            assert!(read(line, UnitSet::Trade).is_err(), "{line}");
        }
    }
}
