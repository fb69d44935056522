//! Rate, doubt and solid length from the wire, against worked examples and printed tables.

use super::{Table, assert_absolute, assert_relative, half_of_last_digit};
use coilwright::mechanics::wire::{EndType, Material, WireSpring, figures, rate_from_modulus};
use coilwright::units::Length;

/// One pound-force a square inch in N/mm² (exact definitions of pound and inch).
const PSI: f64 = 0.006_894_757_293_168_361;

/// Bhandari's modulus throughout the chapter, N/mm².
const BHANDARI: f64 = 81_370.0;

fn spring(wire: Length, mean_diameter: Length, total_coils: f64, ends: EndType) -> WireSpring {
    let (material, calipers) = (Material::ChromeSilicon, Length::mm(0.01));
    WireSpring { wire, mean_diameter, total_coils, ends, material, free_length: None, calipers }
}

#[test]
fn wire_and_coils_carry_the_loads_of_the_worked_examples() {
    let table = Table::new(include_str!("spring_worked_examples.csv"));
    for row in &table.rows {
        let length = |column| Length::mm(table.number(row, column));
        let coils = table.number(row, "active_coils");
        let rate = rate_from_modulus(BHANDARI, length("d_mm"), length("D_mm"), coils);
        let deflection = table.number(row, "force_N") / rate.as_n_per_mm();
        // Deflections to 4 or 6 decimals, forces to 6 and coils to 7 figures: a part in a million holds all of them.
        let expected = table.number(row, "deflection_mm");
        assert_relative(deflection, expected, 2e-6, table.text(row, "example"));
    }
}

#[test]
fn closed_and_ground_coils_go_solid_at_the_lengths_of_the_worked_examples() {
    // Bhandari, Design of Machine Elements, examples 10.9 (d 14 mm, D 84 mm, 8 coils) and 10.6 (20, 120, 15); exact.
    for (wire, mean, coils, solid) in [(14.0, 84.0, 8.0, 112.0), (20.0, 120.0, 15.0, 300.0)] {
        let spring = spring(Length::mm(wire), Length::mm(mean), coils, EndType::ClosedGround);
        let found = figures(&spring).expect("a sound spring");
        assert_absolute(found.solid_length.as_mm(), solid, 1e-9, "solid length");
        assert_absolute(found.active_coils, coils - 2.0, 1e-12, "active coils");
    }
}

#[test]
fn shigleys_example_10_1_prints_4_13_pounds_an_inch_and_a_solid_length_of_half_an_inch() {
    // Shigley's Mechanical Engineering Design, 9th ed., example 10-1: No. 16 music wire, d 0.037 in, D 0.400 in,
    // squared ends, 12.5 coils, G 11.85 Mpsi; answers k 4.13 lbf/in and Ls 0.500 in (givens from memory, recomputed).
    let (wire, mean) = (Length::inches(0.037), Length::inches(0.400));
    let rate = rate_from_modulus(11.85e6 * PSI, wire, mean, 10.5);
    assert_absolute(rate.as_lb_per_in(), 4.13, 0.005, "k, half of the last digit printed");
    let found = figures(&spring(wire, mean, 12.5, EndType::Closed)).expect("a sound spring");
    assert_absolute(found.active_coils, 10.5, 1e-12, "active coils");
    // 13.5 wires are 0.4995 in, which the book rounds up.
    assert_absolute(found.solid_length.as_inches(), 0.500, 0.000_501, "solid length");
}

fn material(name: &str) -> Material {
    match name {
        "chrome-silicon" => Material::ChromeSilicon,
        "chrome-vanadium" => Material::ChromeVanadium,
        "oil-tempered" => Material::OilTempered,
        "music wire" => Material::MusicWire,
        "titanium 6-4" => Material::TitaniumSixFour,
        "titanium 3-8-6-4-4" => Material::Titanium38644,
        other => panic!("no material is called {other}"),
    }
}

#[test]
fn every_modulus_printed_of_a_material_lies_within_its_doubt() {
    let table = Table::new(include_str!("shear_moduli.csv"));
    let mut seen = Vec::new();
    for row in &table.rows {
        let unit = match table.text(row, "unit") {
            "Mpsi" => 1e6 * PSI,
            "GPa" => 1e3,
            "N/mm2" => 1.0,
            other => panic!("no factor for {other}"),
        };
        let (name, printed) = (table.text(row, "material"), table.text(row, "printed"));
        let ours = material(name).shear_modulus();
        // Half of the last digit printed comes on top: 11.5 Mpsi may be 11.45.
        let allowed = ours.uncertainty + half_of_last_digit(printed) * unit;
        assert_absolute(ours.value, table.number(row, "printed") * unit, allowed, name);
        seen.push(material(name));
    }
    assert!(Material::ALL.iter().all(|one| seen.contains(one)), "every material has a printed modulus");
}

#[test]
fn the_doubt_of_a_rate_is_that_of_a_library_that_propagates_it() {
    // uncertainties 3.2.3 (PyPI) on G d⁴ / (8 (D - d)³ (n - dead)), outer diameter D measured: first order, as here.
    let rate = |material, ends, wire, outer: f64, coils, calipers| {
        let spring = spring(Length::mm(wire), Length::mm(outer - wire), coils, ends);
        let calipers = Length::mm(calipers);
        figures(&WireSpring { material, calipers, ..spring }).expect("a sound spring").rate
    };
    let steel = rate(Material::ChromeSilicon, EndType::ClosedGround, 9.4, 58.6, 7.5, 0.05);
    assert_relative(steel.value.as_n_per_mm(), 116.586_368_761_662_74, 1e-12, "steel");
    assert_relative(steel.uncertainty.as_n_per_mm(), 5.196_025_839_754_265, 1e-9, "its doubt");
    let titanium = rate(Material::TitaniumSixFour, EndType::Plain, 12.0, 62.0, 7.0, 0.02);
    assert_relative(titanium.value.as_n_per_mm(), 127.378_285_714_285_71, 1e-12, "titanium");
    assert_relative(titanium.uncertainty.as_n_per_mm(), 6.426_652_394_922_853, 1e-9, "its doubt");
}
