//! The normal and chi-square laws against SciPy.

use super::{Table, assert_absolute, assert_relative};
use coilwright::statistics::{Normal, chi_square_upper_tail};

/// What `puruspe`'s ln Γ, good to 2e-10 in the worst case, leaves of a chi-square.
const GAMMA_FUNCTION_DIGITS: f64 = 2e-10;

#[test]
fn the_normal_law_has_the_tails_of_scipy() {
    let table = Table::new(include_str!("scipy_normal.csv"));
    for row in &table.rows {
        let z = table.number(row, "z");
        let what = format!("z = {z}");
        // exp(-z²/2) multiplies the rounding of its argument by z²/2, 32 at z = 8.
        let tolerance = 1e-15 * (1.0 + z * z / 2.0);
        let below = Normal::STANDARD.probability_between(f64::NEG_INFINITY, z);
        let above = Normal::STANDARD.probability_between(z, f64::INFINITY);
        assert_relative(below, table.number(row, "below"), tolerance, &what);
        assert_relative(above, table.number(row, "above"), tolerance, &what);
    }
}

#[test]
fn a_narrow_chance_far_out_keeps_its_digits() {
    // scipy 1.17.1: norm.sf(5) - norm.sf(8); a few roundings, each multiplied by z²/2 = 32.
    let expected = 2.866_515_718_791_933e-7 - 6.220_960_574_271_74e-16;
    assert_relative(Normal::STANDARD.probability_between(5.0, 8.0), expected, 3e-14, "between 5 and 8");
    assert_relative(Normal::STANDARD.probability_between(-8.0, -5.0), expected, 3e-14, "between -8 and -5");
}

#[test]
fn the_normal_law_has_the_quantiles_of_scipy() {
    let table = Table::new(include_str!("scipy_normal_quantile.csv"));
    for row in &table.rows {
        let probability = table.number(row, "probability");
        let found = Normal::STANDARD.quantile(probability).unwrap();
        // A few roundings; absolute, as the median is zero.
        assert_absolute(found, table.number(row, "quantile"), 5e-15, &format!("p = {probability}"));
    }
}

#[test]
fn the_chi_square_law_has_the_upper_tail_of_scipy() {
    let table = Table::new(include_str!("scipy_chi_square_tail.csv"));
    for row in &table.rows {
        let (degrees, value) = (table.number(row, "degrees"), table.number(row, "value"));
        let found = chi_square_upper_tail(value, degrees).unwrap();
        let what = format!("{value} at {degrees} degrees of freedom");
        assert_absolute(found, table.number(row, "above"), GAMMA_FUNCTION_DIGITS, &what);
    }
}
