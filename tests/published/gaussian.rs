//! The normal and chi-square laws against SciPy, and Gaussian updating against a textbook and a Kalman filter.

use super::{Table, assert_absolute, assert_relative};
use coilwright::statistics::{Cholesky, Normal, chi_square_quantile, chi_square_upper_tail};

/// What `puruspe`'s ln Γ, good to 2e-10 in the worst case, leaves of a chi-square.
const GAMMA_FUNCTION_DIGITS: f64 = 2e-10;

#[test]
fn the_normal_law_has_the_density_and_tails_of_scipy() {
    let table = Table::new(include_str!("scipy_normal.csv"));
    for row in &table.rows {
        let z = table.number(row, "z");
        let what = format!("z = {z}");
        // exp(-z²/2) multiplies the rounding of its argument by z²/2, 32 at z = 8.
        let tolerance = 1e-15 * (1.0 + z * z / 2.0);
        assert_relative(Normal::STANDARD.density(z), table.number(row, "density"), tolerance, &what);
        assert_relative(Normal::STANDARD.probability_below(z), table.number(row, "below"), tolerance, &what);
        assert_relative(Normal::STANDARD.probability_above(z), table.number(row, "above"), tolerance, &what);
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

#[test]
fn the_chi_square_law_has_the_quantiles_of_scipy() {
    let table = Table::new(include_str!("scipy_chi_square_quantile.csv"));
    for row in &table.rows {
        let (degrees, probability) = (table.number(row, "degrees"), table.number(row, "probability"));
        let found = chi_square_quantile(probability, degrees).unwrap();
        let what = format!("{probability} at {degrees} degrees of freedom");
        assert_relative(found, table.number(row, "quantile"), GAMMA_FUNCTION_DIGITS, &what);
    }
}

#[test]
fn twenty_five_readings_move_a_prior_as_in_the_textbook() {
    // Bayes Rules! chapter 5: prior N(6.5, 0.4²), 25 readings of mean 5.735 and scatter 0.5.
    let (prior_precision, reading_precision) = (0.4_f64.powi(-2), 25.0 / 0.5_f64.powi(2));
    let posterior = Cholesky::factor(vec![prior_precision + reading_precision], 1).unwrap();
    let mean = posterior.solve(&[6.5 * prior_precision + 5.735 * reading_precision]).unwrap()[0];
    // Printed 5.78.
    assert_absolute(mean, 5.78, 0.005, "posterior mean");
    // Recomputed to nine decimals.
    assert_absolute(posterior.inverse().unwrap()[0], 0.009_411_765, 0.5e-9, "posterior variance");
}

/// The normal matrix and right-hand side that the prior and the readings add up to.
fn normal_equations(prior: &Table, readings: &Table) -> (Vec<f64>, Vec<f64>) {
    let order = prior.rows.len();
    let (mut matrix, mut right) = (vec![0.0; order * order], vec![0.0; order]);
    for (place, row) in prior.rows.iter().enumerate() {
        let precision = prior.number(row, "prior_sd").powi(-2);
        matrix[place * order + place] = precision;
        right[place] = precision * prior.number(row, "prior_mean");
    }
    for row in &readings.rows {
        let direction: Vec<f64> =
            (0..order).map(|place| readings.number(row, &format!("h{place}"))).collect();
        let precision = readings.number(row, "sd").powi(-2);
        for (place, element) in direction.iter().enumerate() {
            right[place] += precision * element * readings.number(row, "reading");
            for (other, factor) in direction.iter().enumerate() {
                matrix[place * order + other] += precision * element * factor;
            }
        }
    }
    (matrix, right)
}

#[test]
fn all_readings_at_once_give_the_posterior_of_a_kalman_filter() {
    let prior = Table::new(include_str!("filterpy_posterior.csv"));
    let (matrix, right) = normal_equations(&prior, &Table::new(include_str!("filterpy_readings.csv")));
    let factor = Cholesky::factor(matrix, 4).unwrap();
    let (mean, covariance) = (factor.solve(&right).unwrap(), factor.inverse().unwrap());
    // The filter takes variances up and down once a reading, losing a digit or two of 16; all elements are below 10.
    let tolerance = 1e-12;
    for (place, row) in prior.rows.iter().enumerate() {
        assert_absolute(mean[place], prior.number(row, "mean"), tolerance, &format!("mean {place}"));
        for other in 0..4 {
            let expected = prior.number(row, &format!("c{other}"));
            // The covariances are about 1e-4, hence so much tighter.
            let what = format!("covariance {place}, {other}");
            assert_absolute(covariance[place * 4 + other], expected, tolerance * 1e-3, &what);
        }
    }
}
