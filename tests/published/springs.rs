//! Rate from the wire, against worked examples of handbooks that print their own shear modulus.

use super::{Table, assert_absolute, assert_relative};
use coilwright::mechanics::wire::{EndType, Material, WireSpring, figures, rate_from_modulus};
use coilwright::units::Length;

#[test]
fn wire_and_coils_give_the_rates_of_the_worked_examples() {
    let table = Table::new(include_str!("spring_worked_examples.csv"));
    for row in &table.rows {
        let rate = rate_from_modulus(
            table.number(row, "G_N_mm2"),
            Length::mm(table.number(row, "d_mm")),
            Length::mm(table.number(row, "D_mm")),
            table.number(row, "active_coils"),
        );
        // Recomputed to the digits of a double; one row is kept to six.
        assert_relative(
            rate.as_n_per_mm(),
            table.number(row, "rate_N_mm_recomputed"),
            2e-6,
            table.text(row, "case"),
        );
    }
}

#[test]
fn shigleys_example_10_1_prints_4_13_pounds_an_inch_and_a_solid_length_of_half_an_inch() {
    // Shigley's Mechanical Engineering Design, 9th ed., example 10-1: No. 16 music wire, d 0.037 in, D 0.400 in,
    // squared ends, 12.5 coils, G 11.85 Mpsi; answers k 4.13 lbf/in and Ls 0.500 in (givens from memory, recomputed).
    let modulus = 11.85e6 * 0.006_894_757_293_168_361;
    let rate = rate_from_modulus(modulus, Length::inches(0.037), Length::inches(0.400), 10.5);
    assert_absolute(rate.as_lb_per_in(), 4.13, 0.005, "k, half of the last digit printed");
    let spring = WireSpring {
        wire: Length::inches(0.037),
        mean_diameter: Length::inches(0.400),
        total_coils: 12.5,
        ends: EndType::Closed,
        material: Material::MusicWire,
        free_length: None,
        calipers: Length::mm(0.01),
    };
    let found = figures(&spring).expect("a sound spring");
    assert_absolute(found.active_coils, 10.5, 1e-12, "active coils");
    assert_absolute(
        found.solid_length.as_inches(),
        0.500,
        0.000_501, // 13.5 wires are 0.4995 in, which the book rounds up
        "solid length, half of the last digit printed",
    );
}
