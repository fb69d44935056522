//! Energy, wheel rate, bounce and rebound against textbooks that print them.

use super::{Table, assert_absolute, assert_relative, half_of_last_digit};
use coilwright::mechanics::ride::rebound_change;
use coilwright::mechanics::{LeverageCurve, SeatedBalance, ride_figures};
use coilwright::units::{Force, Length, Mass, Share, SpringRate};

/// A shock that is its own wheel: a ratio of one over the whole stroke.
fn direct(stroke: f64) -> LeverageCurve {
    LeverageCurve::linear(Length::mm(stroke), Length::mm(stroke), Share::ZERO)
}

fn energy_left(load: f64, rate: f64, preload: f64, stroke: f64) -> f64 {
    let leverage = direct(stroke);
    let (load, rate) = (Force::newtons(load), SpringRate::n_per_mm(rate));
    let seat = SeatedBalance::of(load, rate, Length::mm(preload), &leverage);
    ride_figures(&seat).energy_left.value()
}

#[test]
fn a_spring_preloaded_by_30_mm_and_taken_to_80_takes_up_250_joules() {
    // Bhandari, Design of Machine Elements, example 10.10: 250 J asked for, k found as 90.9090909 N/mm. A load of
    // one newton leaves the shock topped out. Nine figures of the rate.
    assert_relative(energy_left(1.0, 90.909_090_9, 30.0, 50.0), 250.0, 1e-8, "energy");
}

#[test]
fn a_spring_of_4_newtons_a_centimetre_takes_up_0_54_joules_from_3_to_6_centimetres() {
    // OpenStax University Physics: 4 N/cm, 0.54 J from 23 to 26 cm with a free length of 20 cm; exact. As preload, and as
    // sag under 12 N.
    assert_relative(energy_left(1.0, 0.4, 30.0, 30.0), 0.54, 1e-12, "from a preload");
    assert_relative(energy_left(12.0, 0.4, 0.0, 60.0), 0.54, 1e-9, "from a sag");
}

/// Load and rate of a row: as printed, or any spring that one newton deflects by the static deflection.
fn swinging(table: &Table, row: &super::Row) -> (Force, SpringRate) {
    if let Some(deflection) = table.number_if_given(row, "deflection_mm") {
        return (Force::newtons(1.0), SpringRate::n_per_mm(1.0 / deflection));
    }
    let rate = SpringRate::n_per_mm(table.number(row, "rate_N_per_m") / 1000.0);
    (Mass::kg(table.number(row, "mass_kg")).weight(), rate)
}

#[test]
fn a_weight_on_a_spring_bounces_as_often_as_printed() {
    let table = Table::new(include_str!("natural_frequencies.csv"));
    for row in &table.rows {
        let (load, rate) = swinging(&table, row);
        let leverage = direct(4.0 * load.as_newtons() / rate.as_n_per_mm());
        let seat = SeatedBalance::of(load, rate, Length::ZERO, &leverage);
        let printed = table.text(row, "printed_Hz");
        let found = ride_figures(&seat).bounce.value();
        assert_absolute(
            found,
            printed.parse().unwrap(),
            half_of_last_digit(printed),
            table.text(row, "source"),
        );
    }
}

#[test]
fn a_constant_lever_divides_the_rate_by_its_square() {
    // Barton and Fieldhouse, Automotive Chassis Engineering, section 3.9: k_wheel = k_spring / R²; a few roundings.
    let curve = LeverageCurve::linear(Length::mm(150.0), Length::mm(60.0), Share::ZERO);
    let rate = SpringRate::lb_per_in(450.0);
    let seat = SeatedBalance::of(Force::newtons(600.0), rate, Length::mm(2.0), &curve);
    let found = ride_figures(&seat).wheel_rate;
    assert_relative(found.as_n_per_mm(), rate.as_n_per_mm() / 6.25, 1e-12, "wheel rate");
}

/// The straight lever that touches a bent one where the shock has used `used` of its stroke: the same leverage there, and the
/// same change of it per millimetre of stroke. Wheel rate and bounce hang on nothing else of the curve.
fn touching(used: f64, leverage: f64, per_stroke: f64) -> LeverageCurve {
    // Halfway through its stroke a straight lever has its mean ratio.
    let stroke = Length::mm(2.0 * used);
    let falloff = Share::fraction(-per_stroke * stroke.as_mm() / leverage);
    LeverageCurve::linear(stroke * leverage, stroke, falloff)
}

#[test]
fn a_lever_bent_for_one_frequency_bounces_at_2_228925_hertz_under_every_load() {
    // Barton and Fieldhouse, Automotive Chassis Engineering, eq. 3.22 to 3.28: W = Ws exp((z - zs) / ds), Ws 500 N, ds
    // 50 mm; loads 20 mm below, at and 20 mm above the place of 500 N, their wheel rates, and one frequency. A spring of k
    // and preload p that carries W at every z has (x + p)² = 2 ds W / k, and so L = 2 ds / (x + p).
    let (rate, preload) = (SpringRate::n_per_mm(2.0), Length::mm(100.0));
    for (load, wheel_rate) in [(335.160_023, 6.703_200_5), (500.0, 10.0), (745.912_349, 14.918_247)] {
        let compressed = (100.0 * load / rate.as_n_per_mm()).sqrt();
        let lever = touching(compressed - preload.as_mm(), 100.0 / compressed, -100.0 / compressed.powi(2));
        let seat = SeatedBalance::of(Force::newtons(load), rate, preload, &lever);
        // Seven to nine figures printed.
        let found = ride_figures(&seat);
        assert_relative(found.bounce.value(), 2.228_925_061, 2e-9, "bounce");
        assert_relative(found.wheel_rate.as_n_per_mm(), wheel_rate, 2e-8, "wheel rate");
    }
}

#[test]
fn wheel_rates_along_a_curve_are_those_of_scipy() {
    let table = Table::new(include_str!("leverage_pchip_reference.csv"));
    let (rate, preload) = (SpringRate::lb_per_in(500.0), Length::mm(2.0));
    // At full extension there is no stroke used, and so no lever that touches there.
    for row in table.rows.iter().filter(|row| table.text(row, "wheel_mm") != "0") {
        let leverage = table.number(row, "leverage");
        let per_stroke = table.number(row, "dleverage_dwheel_per_mm") * leverage;
        let lever = touching(table.number(row, "shock_stroke_mm"), leverage, per_stroke);
        let load = Force::newtons(table.number(row, "wheel_force_N"));
        let found = ride_figures(&SeatedBalance::of(load, rate, preload, &lever)).wheel_rate;
        // Kept to ten decimals, the load to eight.
        let expected = table.number(row, "wheel_rate_N_per_mm");
        assert_relative(found.as_n_per_mm(), expected, 1e-8, table.text(row, "wheel_mm"));
    }
}

#[test]
fn rebound_damping_goes_as_critical_damping_does() {
    // Inman, Engineering Vibration: 49.2 g on 857.8 N/m are damped critically by 12.993 kg/s, which is 2 √(k m). Four
    // times the rate, so twice the damping; a tenth less rate, as much less as the printed figure is beside its own.
    let (mass, printed) = (49.2e-3_f64, 12.993);
    for factor in [4.0, 0.9, 0.5] {
        let (first, second) = (SpringRate::n_per_mm(0.8578), SpringRate::n_per_mm(0.8578 * factor));
        let expected = 2.0 * (857.8 * factor * mass).sqrt() / printed - 1.0;
        // Half of the last of five figures printed.
        assert_absolute(rebound_change(first, second).as_fraction(), expected, 5e-5 * factor, "rebound");
    }
}
