//! The conversions against figures reckoned outside the project, typed as text the way a person would type them.
//!
//! `published/unit_conversions.csv`: exact values from the definitions of inch, pound and standard gravity (NIST SP 811,
//! 2008, appendix B), recomputed with Pint 0.25.3 (`UnitRegistry().Quantity(200, "lbf/inch").to("N/mm")`; the weights as
//! mass times `scipy.constants.g`, SciPy 1.17.1), which agrees with every row to a relative 1e-14. The one tolerance is
//! four units in the last place of an `f64`: room for the few roundings of a conversion there and back, and no more.

use coilwright::units::{Force, Length, Mass, SpringRate, UnitSet, parse};

const PUBLISHED: &str = include_str!("published/unit_conversions.csv");

/// Converts by the program's own reading of text, where a person can type the unit, else by its constructors.
fn converted(from: &str, to: &str, input: &str) -> f64 {
    let figure: f64 = input.parse().expect("a figure in the table");
    let set = UnitSet::Trade;
    match (from, to) {
        ("lbf/in", "N/mm") => {
            parse::rate(&format!("{input} lbf/in"), set).expect("a rate").value.as_n_per_mm()
        }
        ("N/mm", "lbf/in") => {
            parse::rate(&format!("{input} N/mm"), set).expect("a rate").value.as_lb_per_in()
        }
        ("lb", "kg") => parse::mass(&format!("{input} lb"), set).expect("a mass").value.as_kg(),
        ("in", "mm") => parse::length(&format!("{input} in"), set).expect("a length").value.as_mm(),
        ("lbf", "N") => Force::pounds_force(figure).as_newtons(),
        ("kgf", "N") | ("kg", "N (weight at standard gravity)") => Mass::kg(figure).weight().as_newtons(),
        ("kgf/mm", "N/mm") => Mass::kg(figure).weight().as_newtons() / Length::mm(1.0).as_mm(),
        ("kgf/mm", "lbf/in") => SpringRate::n_per_mm(Mass::kg(figure).weight().as_newtons()).as_lb_per_in(),
        ("psi", "MPa") => Force::pounds_force(figure).as_newtons() / Length::inches(1.0).as_mm().powi(2),
        other => panic!("the table has a conversion the test does not know: {other:?}"),
    }
}

#[test]
fn every_published_conversion_is_met_to_the_last_places() {
    let mut lines = PUBLISHED.lines();
    assert_eq!(lines.next(), Some("from,to,input,exact_or_16_decimals"));
    let mut checked = 0;
    for line in lines {
        let [from, to, input, exact] = line.split(',').collect::<Vec<_>>()[..] else {
            panic!("not four columns: {line}");
        };
        let exact: f64 = exact.parse().expect("a figure in the table");
        let got = converted(from, to, input);
        assert!((got - exact).abs() <= 4.0 * f64::EPSILON * exact, "{line}: {got}");
        checked += 1;
    }
    assert_eq!(checked, 52);
}
