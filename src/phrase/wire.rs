//! A spring reckoned from its wire, in words: its figures, the names of ends and materials, and faults.
//!
//! Not here: the formula (`mechanics::wire`).

use super::opening;
use crate::mechanics::wire::{EndType, Material, WireFault, WireFigure, WireFigures};
use crate::session::limits::Figure;
use crate::units::{Quantity, UnitSet};

/// What comes before anything reckoned from the wire.
pub const MAKER_FIRST: &str = "The rate and stroke its maker printed on a spring come before these figures, which are for a spring with no readable label. The maker's stroke is less than the way to solid: ask a qualified \
                               mechanic before fitting it.";

/// How the ends are made, as a row of a form.
pub const ENDS: &str = "ends";
/// What the wire is made of, as a row of a form.
pub const MATERIAL: &str = "wire of";

/// The name of a row of a form.
pub fn row_name(name: &str) -> String {
    opening(name)
}

/// What still has to be told before there is a rate.
pub fn needed(name: &str) -> String {
    format!("Still needed: {}.", name.to_lowercase())
}

/// The name of a figure, in small letters.
pub const fn wire_figure(figure: WireFigure) -> &'static str {
    match figure {
        WireFigure::Wire => "wire diameter",
        WireFigure::Outer => "outer diameter",
        WireFigure::Coils => "coils, ends included",
        WireFigure::FreeLength => "free length",
        WireFigure::Calipers => "caliper accuracy",
    }
}

/// How the ends are made.
pub const fn end_type(ends: EndType) -> &'static str {
    match ends {
        EndType::Plain => "plain",
        EndType::PlainGround => "plain and ground",
        EndType::Closed => "closed",
        EndType::ClosedGround => "closed and ground",
    }
}

/// What the wire is made of.
pub const fn material(material: Material) -> &'static str {
    match material {
        Material::ChromeSilicon => "chrome-silicon steel",
        Material::ChromeVanadium => "chrome-vanadium steel",
        Material::OilTempered => "oil-tempered steel",
        Material::MusicWire => "music wire",
        Material::TitaniumSixFour => "titanium 6-4",
        Material::Titanium38644 => "titanium 3-8-6-4-4",
    }
}

/// What the wire says, each figure with its name; the rate in both units, whatever the set. What a spring's print would have
/// said of its stroke stands with its way to solid, by how much it grows wider with its solid length.
pub fn wire(figures: &WireFigures, units: UnitSet) -> Vec<(&'static str, String)> {
    let rate = [UnitSet::Trade, UnitSet::Metric].map(|set| figures.rate.shown(set));
    let wider = figures.growth.map(|by| format!(", and {} wider then", units.show(by)));
    let stroke = figures
        .stroke
        .map(|stroke| format!("; to be used, {} to {}", units.show(stroke.careful), units.show(stroke.most)));
    let mut rows = vec![
        ("Spring rate", rate.join(", ")),
        ("Active coils", coils(figures.active_coils)),
        ("Solid length", format!("{}{}", units.show(figures.solid_length), wider.unwrap_or_default())),
    ];
    rows.extend(figures.greatest_deflection.map(|way| {
        ("Way to solid", format!("{} at the most{}", units.show(way), stroke.unwrap_or_default()))
    }));
    rows
}

/// What to look at again where the rate is none that bikes are ridden with.
pub fn wire_unusual(figures: &WireFigures, units: UnitSet) -> Option<String> {
    let unusual = Figure::Rate.is_unusual(Quantity::Rate(figures.rate.value));
    let usual = Figure::Rate.limits();
    unusual.then(|| {
        format!(
            "Springs for bikes mostly lie between {} and {}. Measure the wire again, where its paint is off.",
            units.show(usual.usual_least),
            units.show(usual.usual_most)
        )
    })
}

/// Why figures belong to no spring, and what to check.
pub fn wire_fault(fault: WireFault, units: UnitSet) -> String {
    match fault {
        WireFault::Impossible(figure) => {
            let (least, most) = figure.bounds();
            let [least, most] = [least, most].map(|bound| match bound {
                Quantity::Turns(turns) => coils(turns.value()),
                bound => units.show(bound),
            });
            format!(
                "{}: on a shock spring this lies between {least} and {most}. Check the figure and its unit.",
                opening(wire_figure(figure))
            )
        }
        WireFault::NoSuchCoil => {
            "The wire is too thick for coils of this width. Check the wire and the outer diameter.".to_owned()
        }
        WireFault::TooFewCoils => {
            "With these ends almost no active coils are left. Count all coils, the end ones included, and check the ends."
                .to_owned()
        }
        WireFault::ShorterThanSolid => {
            "The free length is shorter than the coils pressed together. Check the free length, the wire and the coils."
                .to_owned()
        }
    }
}

/// A count of coils to the hundredth.
fn coils(count: f64) -> String {
    let hundredths = (count * 100.0).round() / 100.0;
    hundredths.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Estimate, Length, SpringRate};

    #[test]
    fn every_fault_says_what_is_wrong_and_what_to_check() {
        let figures = [
            WireFigure::Wire,
            WireFigure::Outer,
            WireFigure::Coils,
            WireFigure::FreeLength,
            WireFigure::Calipers,
        ];
        let others = [WireFault::NoSuchCoil, WireFault::TooFewCoils, WireFault::ShorterThanSolid];
        for fault in figures.map(WireFault::Impossible).into_iter().chain(others) {
            let words = wire_fault(fault, UnitSet::Trade);
            assert!(words.ends_with('.') && words.contains("heck"), "{words}");
        }
    }

    #[test]
    fn a_rate_no_bike_is_ridden_with_is_questioned() {
        let figures = |rate| WireFigures {
            rate: Estimate::new(SpringRate::lb_per_in(rate), SpringRate::lb_per_in(20.0)),
            active_coils: 5.25,
            solid_length: Length::mm(90.0),
            greatest_deflection: None,
            stroke: None,
            growth: None,
        };
        assert_eq!(wire_unusual(&figures(500.0), UnitSet::Trade), None);
        let words = wire_unusual(&figures(2_030.0), UnitSet::Trade).expect("unusual");
        assert!(
            words.starts_with("Springs for bikes mostly lie between 175 lb/in and 800 lb/in."),
            "{words}"
        );
    }

    #[test]
    fn the_bounds_are_told_in_the_units_of_the_set() {
        let said = |units| wire_fault(WireFault::Impossible(WireFigure::Wire), units);
        assert!(said(UnitSet::Trade).contains("between 4.0 mm and 25.0 mm"), "{}", said(UnitSet::Trade));
        assert!(said(UnitSet::Imperial).contains(" in and "), "{}", said(UnitSet::Imperial));
        let coils = wire_fault(WireFault::Impossible(WireFigure::Coils), UnitSet::Trade);
        assert!(coils.contains("between 3 and 30"), "{coils}");
    }
}
