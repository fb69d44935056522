//! Mean, scatter and standard uncertainty of repeated readings, and the uncertainties that are judged, not measured.
//!
//! Terms follow the Guide to the Expression of Uncertainty in Measurement (GUM, JCGM 100:2008). Coverage factors
//! are in `coverage`; readings that stand apart from the rest are the business of `outlier`, none is dropped here.

use super::{StatisticsError, representable, require_count, require_finite, require_not_negative};

/// Arithmetic mean of the values.
///
/// Two passes: the mean of the distances from a first mean takes away the rounding of the first sum.
///
/// # Errors
/// No value, a value that is not finite, or a sum too large for a double.
pub fn mean(values: &[f64]) -> Result<f64, StatisticsError> {
    require_count(values.len(), 1)?;
    require_finite(values)?;
    representable(centre(values))
}

/// Experimental standard deviation, divisor n - 1 (GUM 4.2.2).
///
/// # Errors
/// Fewer than two values, a value that is not finite, or squares too large for a double.
///
/// # Example
/// ```
/// use coilwright::statistics::standard_deviation;
/// // NIST StRD NumAcc1: the certified value is 1.
/// assert_eq!(standard_deviation(&[10_000_001.0, 10_000_003.0, 10_000_002.0]), Ok(1.0));
/// ```
pub fn standard_deviation(values: &[f64]) -> Result<f64, StatisticsError> {
    require_count(values.len(), 2)?;
    require_finite(values)?;
    representable((squared_deviations(values) / (values.len() - 1) as f64).sqrt())
}

/// Standard uncertainty of a value known only to lie within ± `half_width`: half-width / √3 (GUM 4.3.7).
///
/// # Errors
/// A half-width that is below zero or not finite.
pub fn rectangular_uncertainty(half_width: f64) -> Result<f64, StatisticsError> {
    require_not_negative(&[half_width])?;
    Ok(half_width / 3.0_f64.sqrt())
}

/// Standard uncertainty of reading a scale to its nearest `step`: step / √12 (GUM F.2.2.1).
///
/// # Errors
/// A step that is below zero or not finite.
pub fn resolution_uncertainty(step: f64) -> Result<f64, StatisticsError> {
    rectangular_uncertainty(step / 2.0)
}

/// Combined standard uncertainty of independent contributions: the root of the sum of their squares (GUM 5.1.2).
///
/// Nothing to combine gives zero.
///
/// # Errors
/// A contribution below zero or not finite, or a result too large for a double.
pub fn in_quadrature(uncertainties: &[f64]) -> Result<f64, StatisticsError> {
    require_not_negative(uncertainties)?;
    representable(uncertainties.iter().fold(0.0, |combined: f64, part| combined.hypot(*part)))
}

fn centre(values: &[f64]) -> f64 {
    let count = values.len() as f64;
    let first = values.iter().sum::<f64>() / count;
    first + values.iter().map(|value| value - first).sum::<f64>() / count
}

/// Σ (v - mean)². The mean being found in two passes, nothing is left to correct for its rounding.
fn squared_deviations(values: &[f64]) -> f64 {
    let centre = centre(values);
    values.iter().map(|value| (value - centre) * (value - centre)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn one_reading_has_a_mean_but_no_scatter() {
        assert_eq!(mean(&[15.5]), Ok(15.5));
        assert_eq!(standard_deviation(&[15.5]), Err(StatisticsError::TooFew { have: 1, need: 2 }));
    }

    #[test]
    fn nothing_has_no_mean() {
        assert_eq!(mean(&[]), Err(StatisticsError::TooFew { have: 0, need: 1 }));
    }

    #[test]
    fn the_reading_that_is_not_a_number_is_named() {
        assert_eq!(mean(&[15.0, f64::NAN]), Err(StatisticsError::NotFinite { position: 1 }));
        assert_eq!(
            standard_deviation(&[f64::INFINITY, 1.0]),
            Err(StatisticsError::NotFinite { position: 0 })
        );
    }

    #[test]
    fn a_sum_past_the_largest_double_is_an_error_not_an_infinity() {
        assert_eq!(mean(&[f64::MAX, f64::MAX]), Err(StatisticsError::Overflow));
        assert_eq!(standard_deviation(&[1e300, -1e300]), Err(StatisticsError::Overflow));
        assert_eq!(in_quadrature(&[f64::MAX, f64::MAX]), Err(StatisticsError::Overflow));
    }

    #[test]
    fn three_and_four_make_five_in_quadrature() {
        assert_eq!(in_quadrature(&[3.0, 4.0]), Ok(5.0));
        assert_eq!(in_quadrature(&[]), Ok(0.0));
    }

    #[test]
    fn an_uncertainty_below_zero_is_refused() {
        let refused = Err(StatisticsError::Negative { position: 1, value: -2.0 });
        assert_eq!(in_quadrature(&[1.0, -2.0]), refused);
    }

    proptest! {
        #[test]
        fn moving_all_readings_leaves_the_scatter(
            values in prop::collection::vec(-100.0..100.0_f64, 2..30), shift in -1e4..1e4_f64,
        ) {
            let moved: Vec<f64> = values.iter().map(|value| value + shift).collect();
            let (before, after) = (standard_deviation(&values).unwrap(), standard_deviation(&moved).unwrap());
            // The shifted readings are themselves rounded to 1e4 x 2^-53.
            prop_assert!((before - after).abs() < 1e-10, "{before} became {after}");
        }

        #[test]
        fn stretching_all_readings_stretches_the_scatter(
            values in prop::collection::vec(-100.0..100.0_f64, 2..30), factor in -50.0..50.0_f64,
        ) {
            let stretched: Vec<f64> = values.iter().map(|value| value * factor).collect();
            let expected = factor.abs() * standard_deviation(&values).unwrap();
            let found = standard_deviation(&stretched).unwrap();
            prop_assert!((found - expected).abs() <= 1e-12 * (1.0 + expected), "{found} is not {expected}");
        }

        #[test]
        fn the_mean_lies_among_the_readings(values in prop::collection::vec(-1e6..1e6_f64, 1..30)) {
            let mean = mean(&values).unwrap();
            let slack = 1e-9;
            prop_assert!(values.iter().any(|value| *value <= mean + slack));
            prop_assert!(values.iter().any(|value| *value >= mean - slack));
        }
    }
}
