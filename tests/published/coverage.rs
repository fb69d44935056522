//! Coverage factors and effective degrees of freedom against the GUM and SciPy.

use super::{Table, assert_absolute, assert_relative, half_of_last_digit};
use coilwright::statistics::{
    Contribution, Normal, coverage_factor, effective_degrees_of_freedom, in_quadrature,
};

/// What `puruspe`'s ln Γ, good to 2e-10 in the worst case, leaves of the digits of a quantile.
const GAMMA_FUNCTION_DIGITS: f64 = 1e-10;

/// From ten thousand degrees of freedom on no gamma function is used: a few roundings and SciPy's own.
const EXPANSION_DIGITS: f64 = 5e-14;

fn contributions(parts: &[(f64, f64)]) -> Vec<Contribution> {
    parts
        .iter()
        .map(|&(standard_uncertainty, degrees_of_freedom)| Contribution {
            standard_uncertainty,
            degrees_of_freedom,
        })
        .collect()
}

/// The columns 68.27, 95.45 and 99.73 % are the probabilities within one, two and three standard deviations exactly.
fn probability(column: &str) -> f64 {
    let within = |z: f64| Normal::STANDARD.probability_between(-z, z);
    match column {
        "p68.27" => within(1.0),
        "p90" => 0.90,
        "p95" => 0.95,
        "p95.45" => within(2.0),
        "p99" => 0.99,
        "p99.73" => within(3.0),
        other => panic!("no probability known for {other}"),
    }
}

#[test]
fn every_entry_of_gum_table_g_2_comes_out_as_printed_but_the_misprint() {
    let table = Table::new(include_str!("gum_table_g2_student_t.csv"));
    let mut compared = 0;
    for row in &table.rows {
        let degrees_of_freedom = table.text(row, "nu").parse().unwrap();
        for column in &table.heading[1..] {
            if (table.text(row, "nu"), *column) == ("35", "p90") {
                continue;
            }
            let found = coverage_factor(probability(column), degrees_of_freedom).unwrap();
            let tolerance = half_of_last_digit(table.text(row, column));
            assert_absolute(
                found,
                table.number(row, column),
                tolerance,
                &format!("{degrees_of_freedom}, {column}"),
            );
            compared += 1;
        }
    }
    assert_eq!(compared, 28 * 6 - 1);
}

#[test]
fn the_misprint_in_gum_table_g_2_is_one() {
    // Printed 1.70; recomputed 1.6896.
    assert_absolute(coverage_factor(0.90, 35.0).unwrap(), 1.6896, 0.00005, "35 degrees of freedom, 90 %");
}

#[test]
fn whole_and_broken_degrees_of_freedom_give_the_t_of_scipy() {
    let table = Table::new(include_str!("scipy_student_t.csv"));
    for row in &table.rows {
        let (degrees, probability) = (table.number(row, "degrees"), table.number(row, "probability"));
        let found = coverage_factor(probability, degrees).unwrap();
        let what = format!("{degrees} degrees of freedom, {probability}");
        let tolerance = if degrees < 10_000.0 { GAMMA_FUNCTION_DIGITS } else { EXPANSION_DIGITS };
        assert_relative(found, table.number(row, "factor"), tolerance, &what);
    }
}

#[test]
fn endless_degrees_of_freedom_give_the_normal_law() {
    // scipy 1.17.1: norm.ppf(0.975); exact to a double but the last digits.
    assert_relative(coverage_factor(0.95, f64::INFINITY).unwrap(), 1.959_963_984_540_054, 1e-15, "95 %");
}

#[test]
fn three_contributions_have_the_nineteen_degrees_of_freedom_of_gum_g_4_1() {
    let parts = contributions(&[(0.25, 9.0), (0.57, 4.0), (0.82, 14.0)]);
    let degrees_of_freedom = effective_degrees_of_freedom(&parts).unwrap();
    // Printed 19; recomputed 18.9987, tolerance half its last digit.
    assert_absolute(degrees_of_freedom, 18.9987, 0.00005, "effective degrees of freedom");
    let combined = in_quadrature(&[0.25, 0.57, 0.82]).unwrap();
    assert_absolute(combined, 1.03, 0.005, "printed combined uncertainty");
    assert_absolute(coverage_factor(0.95, 19.0).unwrap(), 2.09, 0.005, "printed factor");
    // The GUM prints 2.2 %, rounded up from 2.155 (recomputed).
    assert_absolute(coverage_factor(0.95, 19.0).unwrap() * combined, 2.155, 0.0005, "expanded, recomputed");
}

#[test]
fn an_end_gauge_has_the_sixteen_degrees_of_freedom_of_gum_h_1() {
    // Nanometres: standard (18), difference (25.6), expansion (50), temperature difference (2).
    let parts = contributions(&[(25.0, 18.0), (9.7, 25.6), (2.9, 50.0), (16.6, 2.0)]);
    let degrees_of_freedom = effective_degrees_of_freedom(&parts).unwrap();
    // From the rounded contributions 16.76 (recomputed), rounded down to the printed 16.
    assert_absolute(degrees_of_freedom, 16.76, 0.005, "effective degrees of freedom");
    let factor = coverage_factor(0.99, degrees_of_freedom.floor()).unwrap();
    // Printed 2.92; recomputed to 11 digits.
    assert_relative(factor, 2.920_781_622_4, GAMMA_FUNCTION_DIGITS, "t99(16)");
    // Printed: U99 = 2.92 x 32 nm = 93 nm.
    assert_absolute(factor * 32.0, 93.0, 0.5, "expanded uncertainty");
}

#[test]
fn the_difference_of_two_end_gauges_has_the_25_6_degrees_of_freedom_of_gum_h_1() {
    // Repeated readings (24), comparator random (5), comparator systematic (8).
    let parts = contributions(&[(5.8, 24.0), (3.9, 5.0), (6.7, 8.0)]);
    // Printed 25.6; the contributions are rounded to two digits, each a percent or less, fourth powers.
    assert_relative(
        effective_degrees_of_freedom(&parts).unwrap(),
        25.6,
        0.01,
        "effective degrees of freedom",
    );
}
