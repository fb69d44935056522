//! The seated balance, wheel rate and bounce frequency against SciPy's roots and a handbook's table.

use super::{Table, assert_absolute, assert_relative};
use coilwright::mechanics::{LeverageCurve, LeveragePair, SeatedBalance, ride_figures};
use coilwright::units::{Force, Length, Share, SpringRate};

/// The reference curve, given as pairs a mechanic might measure.
fn reference_curve() -> LeverageCurve {
    let table = Table::new(include_str!("leverage_pchip_reference.csv"));
    let pairs: Vec<LeveragePair> = table
        .rows
        .iter()
        .map(|row| LeveragePair {
            stroke: Length::mm(table.number(row, "shock_stroke_mm")),
            wheel: Length::mm(table.number(row, "wheel_mm")),
        })
        .collect();
    let last = pairs[pairs.len() - 1];
    LeverageCurve::measured(last.wheel, last.stroke, &pairs).expect("sound pairs")
}

fn balance(load: f64, rate: f64, leverage: &LeverageCurve) -> SeatedBalance<'_> {
    SeatedBalance::of(Force::newtons(load), SpringRate::lb_per_in(rate), Length::mm(2.0), leverage)
}

#[test]
fn sags_on_a_measured_curve_are_those_of_scipys_root_finder() {
    let curve = reference_curve();
    let table = Table::new(include_str!("leverage_sag_reference.csv"));
    for row in &table.rows {
        let (load, rate) = (table.number(row, "wheel_load_N"), table.number(row, "spring_lbf_per_in"));
        let used = balance(load, rate, &curve).stroke_used();
        let what = format!("{load} N on {rate} lbf/in");
        // The reference is a cubic in wheel travel, ours a polynomial in stroke through the same pairs: a quarter of
        // a tenth of a millimetre between the pairs, a tenth of what a ruler shows.
        assert_absolute(used.as_mm(), table.number(row, "shock_sag_mm"), 0.05, &what);
        assert_absolute(curve.wheel_travel(used).as_mm(), table.number(row, "wheel_sag_mm"), 0.12, &what);
    }
}

#[test]
fn wheel_rates_along_the_curve_are_those_of_the_reference() {
    let curve = reference_curve();
    let table = Table::new(include_str!("leverage_pchip_reference.csv"));
    // The last quarter is left out: there a polynomial and a cubic bend differently, and no seated rider gets there.
    for row in table.rows.iter().filter(|row| (10.0..=120.0).contains(&table.number(row, "wheel_mm"))) {
        let load = table.number(row, "wheel_force_N");
        let found = ride_figures(&balance(load, 500.0, &curve)).wheel_rate.as_n_per_mm();
        // The rate hangs on the curvature, which two smooth curves through the same pairs share to about a percent.
        assert_relative(found, table.number(row, "wheel_rate_N_per_mm"), 0.015, table.text(row, "wheel_mm"));
    }
}

#[test]
fn a_wheel_on_a_constant_ratio_bounces_as_its_static_deflection_says() {
    let table = Table::new(include_str!("static_deflection_frequency.csv"));
    for row in &table.rows {
        let deflection = table.number(row, "delta_mm");
        // A ratio of one and a stroke of four deflections: the spring's deflection is the wheel's.
        let stroke = Length::mm(4.0 * deflection);
        let curve = LeverageCurve::linear(stroke, stroke, Share::ZERO);
        let rate = SpringRate::n_per_mm(500.0 / deflection);
        let seat = SeatedBalance::of(Force::newtons(500.0), rate, Length::ZERO, &curve);
        // The table keeps six decimals.
        assert_absolute(
            ride_figures(&seat).bounce.value(),
            table.number(row, "frequency_Hz"),
            1e-6,
            table.text(row, "delta_mm"),
        );
    }
}

#[test]
fn a_constant_lever_divides_the_rate_by_its_square() {
    // Barton and Fieldhouse, Automotive Chassis Engineering, section 3.9: k_wheel = k_spring / R².
    let curve = LeverageCurve::linear(Length::mm(150.0), Length::mm(60.0), Share::ZERO);
    let seat = balance(600.0, 450.0, &curve);
    assert_relative(
        ride_figures(&seat).wheel_rate.as_n_per_mm(),
        SpringRate::lb_per_in(450.0).as_n_per_mm() / 6.25,
        1e-12,
        "wheel rate",
    );
}
