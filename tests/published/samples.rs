//! Mean and scatter against NIST's certified values and the worked examples of the GUM.

use super::{Table, assert_absolute, assert_relative, half_of_last_digit};
use coilwright::statistics::{
    in_quadrature, mean, rectangular_uncertainty, resolution_uncertainty, standard_deviation,
};

/// NIST certifies 15 digits; a double holds 15.95, and a sum of some hundred terms costs the last.
const CERTIFIED_DIGITS: f64 = 2e-15;

fn certified(dataset: &str, quantity: &str) -> f64 {
    let table = Table::new(include_str!("nist_certified_values.csv"));
    let row = table
        .rows_of("dataset", dataset)
        .into_iter()
        .find(|row| table.text(row, "quantity") == quantity)
        .expect("a certified value");
    table.number(row, "certified")
}

/// NIST StRD univariate. The spread is held to `spread_tolerance`, which depends on how the data sit in a double.
#[track_caller]
fn holds_certified_values(dataset: &str, values: &[f64], spread_tolerance: f64) {
    let found = mean(values).unwrap();
    assert_relative(found, certified(dataset, "mean"), CERTIFIED_DIGITS, "mean");
    let found = standard_deviation(values).unwrap();
    assert_relative(found, certified(dataset, "sd"), spread_tolerance, "standard deviation");
}

/// NIST's NumAcc2 to 4: a middle value, then a tenth below and a tenth above it, five hundred times.
fn alternating(middle: f64, below: f64, above: f64) -> Vec<f64> {
    let mut values = vec![middle];
    for _ in 0..500 {
        values.extend([below, above]);
    }
    values
}

#[test]
fn lew_has_its_certified_mean_and_scatter() {
    let values = Table::new(include_str!("nist_strd_lew.csv")).column("y");
    // Whole numbers: nothing is lost on the way in.
    holds_certified_values("Lew", &values, CERTIFIED_DIGITS);
}

#[test]
fn lottery_has_its_certified_mean_and_scatter() {
    let values = Table::new(include_str!("nist_strd_lottery.csv")).column("y");
    // Whole numbers: nothing is lost on the way in.
    holds_certified_values("Lottery", &values, CERTIFIED_DIGITS);
}

#[test]
fn mavro_has_its_certified_mean_and_scatter() {
    let values = Table::new(include_str!("nist_strd_mavro.csv")).column("y");
    // The scatter is 1/5000 of the values, so their own rounding to a double shows at 5000 x 2e-16 or less.
    holds_certified_values("Mavro", &values, 1e-13);
}

#[test]
fn michelso_has_its_certified_mean_and_scatter() {
    let values = Table::new(include_str!("nist_strd_michelso.csv")).column("y");
    // The scatter is 1/4000 of the values, so their own rounding to a double shows at 4000 x 2e-16 or less.
    holds_certified_values("Michelso", &values, 1e-13);
}

#[test]
fn three_eight_digit_numbers_have_a_scatter_of_one() {
    let values = Table::new(include_str!("nist_strd_numacc1.csv")).column("y");
    // Whole numbers: nothing is lost on the way in.
    holds_certified_values("NumAcc1", &values, CERTIFIED_DIGITS);
}

#[test]
fn a_scatter_of_a_tenth_is_found_about_one() {
    // 1.1 and 1.3 as doubles are off by up to 1e-16, a part in 1e15 of a tenth; a thousand squares add some roundings.
    holds_certified_values("NumAcc2", &alternating(1.2, 1.1, 1.3), 2e-14);
}

#[test]
fn a_scatter_of_a_tenth_is_found_about_a_million() {
    // 1000000.1 as a double is off by up to 6e-11: the best any double can do is 1e-9 of a tenth.
    holds_certified_values("NumAcc3", &alternating(1_000_000.2, 1_000_000.1, 1_000_000.3), 1e-9);
}

#[test]
fn a_scatter_of_a_tenth_is_found_about_ten_million() {
    // 10000000.1 as a double is off by up to 1e-9: the best any double can do is 1e-8 of a tenth.
    holds_certified_values("NumAcc4", &alternating(10_000_000.2, 10_000_000.1, 10_000_000.3), 1e-8);
}

/// GUM results as printed, at half a unit of the last digit.
#[track_caller]
fn agrees_with_print(found: f64, printed: &str) {
    assert_absolute(found, printed.parse().unwrap(), half_of_last_digit(printed), "the printed figure");
}

#[test]
fn twenty_temperatures_have_the_mean_and_scatter_of_gum_4_4_3() {
    let values = Table::new(include_str!("gum_443_temperatures.csv")).column("t_degC");
    agrees_with_print(mean(&values).unwrap(), "100.145");
    agrees_with_print(standard_deviation(&values).unwrap(), "1.489");
}

#[test]
fn ten_days_of_voltages_scatter_between_days_as_in_gum_h_5() {
    let means = Table::new(include_str!("gum_h5_zener.csv")).column("mean_V");
    agrees_with_print(mean(&means).unwrap(), "10.000097");
    let between = standard_deviation(&means).unwrap() * 1e6;
    agrees_with_print(between, "57");
    agrees_with_print(between * 5.0_f64.sqrt(), "128");
    // Recomputed to six digits; means printed to 1 µV at 10 V are doubles to 1e-9 µV.
    assert_absolute(between, 57.0895, 0.00005, "scatter between days");
}

#[test]
fn a_reading_to_the_millimetre_is_uncertain_by_three_tenths() {
    // GUM F.2.2.1: 0.29 of the step; recomputed unrounded, exact to a double.
    agrees_with_print(resolution_uncertainty(1.0).unwrap(), "0.29");
    assert_relative(resolution_uncertainty(1.0).unwrap(), 0.288_675_134_594_813, CERTIFIED_DIGITS, "1 mm");
    assert_relative(
        resolution_uncertainty(0.5).unwrap(),
        0.144_337_567_297_406,
        CERTIFIED_DIGITS * 2.0,
        "0.5 mm",
    );
}

#[test]
fn a_millionth_either_way_is_uncertain_by_0_58_millionths() {
    // GUM H.1.3.4: ± 1e-6 rectangular, printed 0.58e-6; and H.1.3.5 (clause from memory): ± 0.05 °C, printed 0.029 °C.
    agrees_with_print(rectangular_uncertainty(1.0).unwrap(), "0.58");
    agrees_with_print(rectangular_uncertainty(0.05).unwrap(), "0.029");
}

#[test]
fn an_end_gauge_combines_to_the_uncertainty_of_gum_h_1() {
    // GUM H.1.4, nanometres: standard, difference, expansion and temperature difference.
    agrees_with_print(in_quadrature(&[25.0, 9.7, 2.9, 16.6]).unwrap(), "32");
    // GUM H.1.7 adds second-order terms of 11.7 and 1.7 nm.
    agrees_with_print(in_quadrature(&[25.0, 9.7, 2.9, 16.6, 11.7, 1.7]).unwrap(), "34");
    // The difference itself, H.1.3.2: three parts, printed 9.7 nm.
    agrees_with_print(in_quadrature(&[5.8, 3.9, 6.7]).unwrap(), "9.7");
}
