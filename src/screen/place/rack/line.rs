//! The line of a kind of spring: `450 x2, stroke 65, bore 36.5, length 140, measured 446 +- 4`; `450/65 x2` says the stroke
//! as the line of many springs does.
//!
//! Parts stand between commas with a blank behind, so that a decimal comma stays one. Not here: the line of many springs of
//! the intake (`intake::spring_list`).

use crate::phrase;
use crate::screen::model::Notice;
use crate::screen::place::typed_spring;
use crate::session::ShopSpring;
use crate::units::{Estimate, SpringRate, UnitSet, parse};

use super::MOST_OF_A_KIND;

/// Reads the line.
pub(super) fn read(text: &str, units: UnitSet) -> Result<ShopSpring, Notice> {
    let mut parts = text.split([';']).flat_map(|part| part.split(", ")).map(str::trim);
    let mut spring = rate_and_count(parts.next().unwrap_or_default(), units)?;
    for part in parts.filter(|part| !part.is_empty()) {
        let (name, figure) = part.split_once(' ').unwrap_or((part, ""));
        let length = || parse::length(figure, units).map(|read| Some(read.value)).map_err(Notice::Unreadable);
        match name.to_lowercase().as_str() {
            "stroke" => spring.stroke = length()?,
            "bore" => spring.bore = length()?,
            "length" => spring.free_length = length()?,
            "measured" => spring.measured = Some(measured(figure, units)?),
            _ => return Err(said(phrase::rack::LINE_PARTS)),
        }
    }
    match spring.faults().into_iter().next() {
        Some(refusal) => Err(Notice::Refused(refusal)),
        None => Ok(spring),
    }
}

fn said(sentence: &str) -> Notice {
    Notice::Said(sentence.to_owned())
}

fn rate(text: &str, units: UnitSet) -> Result<SpringRate, Notice> {
    parse::rate(text, units).map(|read| read.value).map_err(Notice::Unreadable)
}

/// `450`, `450 lb/in`, `450 x2`, `450/65 x2`, `450 x2/65`.
fn rate_and_count(text: &str, units: UnitSet) -> Result<ShopSpring, Notice> {
    let text = text.replace('×', "x");
    let (spring, count) = match text.split_once('x') {
        Some((rate, behind)) => {
            let (count, stroke) = typed_spring::apart(behind);
            let stroke = stroke.map(|stroke| format!("/{stroke}")).unwrap_or_default();
            (format!("{rate}{stroke}"), count.trim().parse().ok())
        }
        None => (text, Some(1)),
    };
    let count =
        count.filter(|count| *count <= MOST_OF_A_KIND).ok_or_else(|| said(phrase::rack::COUNT_TAKES))?;
    let typed = typed_spring::read(&spring, units).map_err(Notice::Unreadable)?;
    Ok(ShopSpring { count, stroke: typed.stroke, ..ShopSpring::labelled(typed.rate) })
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

    #[test]
    fn a_line_reads_back_as_it_is_written() {
        for line in [
            "450 lb/in",
            "450 lb/in x2, stroke 65.0 mm",
            "500 lb/in x0, bore 36.5 mm, measured 507 ± 5 lb/in",
        ] {
            let spring = read(line, UnitSet::Trade).expect(line);
            assert_eq!(phrase::rack::line(&spring, UnitSet::Trade), line);
        }
    }

    #[test]
    fn the_stroke_is_told_as_on_the_line_of_many_springs() {
        let long = read("575 x2, stroke 65", UnitSet::Trade).expect("it reads");
        for line in ["575/65 x2", "575/65x2", "575 x2/65", "575/65 mm x2", "575 lb/in/65 x2"] {
            assert_eq!(read(line, UnitSet::Trade).expect(line), long, "{line}");
        }
    }

    #[test]
    fn a_unit_behind_the_doubt_goes_for_both() {
        let spring = read("88 N/mm, measured 89.1 +- 0.9 N/mm", UnitSet::Trade).expect("it reads");
        let measured = spring.measured.expect("it was measured");
        assert!((measured.value - SpringRate::n_per_mm(89.1)).abs() < SpringRate::n_per_mm(1e-9));
        assert!((measured.uncertainty - SpringRate::n_per_mm(0.9)).abs() < SpringRate::n_per_mm(1e-9));
    }

    #[test]
    fn a_decimal_comma_stays_one() {
        let spring = read("450, bore 36,5", UnitSet::Trade).expect("it reads");
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
