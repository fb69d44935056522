//! Whether one reading stands apart from the rest: Grubbs' test.
//!
//! It points at a reading and drops none: ISO 5725-2 (from memory) treats a flagged value as something to explain,
//! so the one who took the readings decides. One reading at a time; several strangers at once hide one another.

use super::coverage::student_quantile;
use super::sample::{mean, standard_deviation};
use super::{StatisticsError, representable, require_count, require_finite, require_probability};

/// The smallest set in which a reading can stand apart.
const LEAST_READINGS: usize = 3;

/// The reading farthest from the mean of all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FarthestReading {
    /// Where it stands in the slice; the first of several that are equally far.
    pub index: usize,
    /// Grubbs' G: its distance from the mean in standard deviations.
    pub statistic: f64,
}

/// The reading farthest from the mean and its Grubbs statistic, G = max |x - mean| / s.
///
/// `None` when all readings are equal, give or take the rounding of a double: none is then farther than another.
///
/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.
///
/// # Errors
/// Fewer than three readings, or one that is not finite.
pub fn farthest_reading(values: &[f64]) -> Result<Option<FarthestReading>, StatisticsError> {
    require_count(values.len(), LEAST_READINGS)?;
    require_finite(values)?;
    if are_equal(values) {
        return Ok(None);
    }
    let (centre, deviation) = (mean(values)?, standard_deviation(values)?);
    let (mut index, mut distance) = (0, 0.0);
    for (position, value) in values.iter().enumerate() {
        if (value - centre).abs() > distance {
            (index, distance) = (position, (value - centre).abs());
        }
    }
    Ok(Some(FarthestReading { index, statistic: representable(distance / deviation)? }))
}

/// The Grubbs statistic that the farthest of `count` readings of one normal law exceeds, on either side, with
/// probability `level`.
///
/// G = (n - 1) / √n · √(t² / (n - 2 + t²)), t the upper level/(2n) point of Student's law with n - 2 degrees of
/// freedom. The one-sided test at a level is this one at twice that level.
///
/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.
///
/// # Errors
/// Fewer than three readings, or a level not strictly between 0 and 1.
pub fn grubbs_critical_value(count: usize, level: f64) -> Result<f64, StatisticsError> {
    require_count(count, LEAST_READINGS)?;
    require_probability(level)?;
    let readings = count as f64;
    let degrees_of_freedom = readings - 2.0;
    let t = student_quantile(level / readings, degrees_of_freedom)?;
    // t / √(ν + t²) by `hypot`, as t² may overflow at a tiny level.
    Ok((readings - 1.0) / readings.sqrt() * (t / degrees_of_freedom.sqrt().hypot(t)))
}

/// The reading that Grubbs' two-sided test at `level` holds for a stranger to the rest, if there is one.
///
/// The test takes readings as continuous. Those rounded to a coarse step need care above this floor: where all
/// readings but one agree exactly, the odd one is always flagged, be it a single step away.
///
/// # Errors
/// Fewer than three readings, one that is not finite, or a level not strictly between 0 and 1.
///
/// # Example
/// ```
/// use coilwright::statistics::suspicious_reading;
/// let readings = [15.5, 16.0, 15.0, 15.5, 21.0];
/// assert_eq!(suspicious_reading(&readings, 0.05), Ok(Some(4)));
/// ```
pub fn suspicious_reading(values: &[f64], level: f64) -> Result<Option<usize>, StatisticsError> {
    let critical = grubbs_critical_value(values.len(), level)?;
    let farthest = farthest_reading(values)?;
    Ok(farthest.filter(|reading| reading.statistic > critical).map(|reading| reading.index))
}

fn are_equal(values: &[f64]) -> bool {
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    high - low <= 4.0 * f64::EPSILON * low.abs().max(high.abs())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn equal_readings_hide_no_stranger() {
        assert_eq!(farthest_reading(&[15.0; 4]), Ok(None));
        assert_eq!(suspicious_reading(&[0.3, 0.1 + 0.2, 0.3], 0.05), Ok(None));
        assert_eq!(suspicious_reading(&[0.0; 3], 0.05), Ok(None));
    }

    #[test]
    fn two_readings_are_too_few_to_tell_which_is_odd() {
        let refused = Err(StatisticsError::TooFew { have: 2, need: 3 });
        assert_eq!(suspicious_reading(&[15.0, 20.0], 0.05), refused);
    }

    #[test]
    fn the_one_that_differs_from_equal_readings_is_flagged_however_near() {
        assert_eq!(suspicious_reading(&[15.0, 15.0, 15.5], 0.05), Ok(Some(2)));
        assert_eq!(suspicious_reading(&[15.0, 15.0, 15.0, 14.5, 15.0, 15.0], 0.05), Ok(Some(3)));
    }

    #[test]
    fn a_level_of_five_instead_of_five_hundredths_is_refused() {
        assert_eq!(
            suspicious_reading(&[1.0, 2.0, 3.0], 5.0),
            Err(StatisticsError::Probability { value: 5.0 })
        );
    }

    proptest! {
        #[test]
        fn the_statistic_stays_below_its_largest_possible_value(
            values in prop::collection::vec(-100.0..100.0_f64, 3..20),
        ) {
            // (n - 1) / √n, reached when all readings but one agree.
            let bound = (values.len() - 1) as f64 / (values.len() as f64).sqrt();
            if let Some(farthest) = farthest_reading(&values).unwrap() {
                prop_assert!(farthest.statistic <= bound * (1.0 + 1e-9));
            }
        }

        #[test]
        fn the_verdict_does_not_depend_on_unit_or_origin(
            values in prop::collection::vec(0.0..100.0_f64, 3..12), shift in -10.0..10.0_f64, factor in 0.1..30.0_f64,
        ) {
            let moved: Vec<f64> = values.iter().map(|value| factor * value + shift).collect();
            let (before, after) =
                (farthest_reading(&values).unwrap().unwrap(), farthest_reading(&moved).unwrap().unwrap());
            prop_assert!((before.statistic - after.statistic).abs() < 1e-9);
        }
    }
}
