//! The normal law and the chi-square law of one number.
//!
//! Not here: the normal law of several numbers, which the assessment handles by its covariance.

use super::{
    StatisticsError, require_degrees_of_freedom, require_finite, require_not_negative, require_positive,
    require_probability,
};
use std::f64::consts::SQRT_2;

/// A normal law with a finite mean and a positive standard deviation, both in the unit of the quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Normal {
    mean: f64,
    standard_deviation: f64,
}

impl Normal {
    /// Mean zero, standard deviation one.
    pub const STANDARD: Self = Self { mean: 0.0, standard_deviation: 1.0 };

    /// The law with this mean and standard deviation.
    ///
    /// # Errors
    /// A mean that is not finite, or a standard deviation that is not finite and above zero.
    pub fn new(mean: f64, standard_deviation: f64) -> Result<Self, StatisticsError> {
        require_finite(&[mean, standard_deviation])?;
        require_positive(&[standard_deviation])?;
        Ok(Self { mean, standard_deviation })
    }

    /// Probability of a value between `low` and `high`; zero when they are the wrong way round. Either may be infinite.
    pub fn probability_between(&self, low: f64, high: f64) -> f64 {
        let (low, high) = (self.standardised(low), self.standardised(high));
        // Above the mean both ends are near one from below: take the difference in the other tail.
        let (low, high) = if low > 0.0 { (-high, -low) } else { (low, high) };
        (lower_tail(high) - lower_tail(low)).max(0.0)
    }

    /// The value that is not exceeded with this probability.
    ///
    /// # Errors
    /// A probability not strictly between 0 and 1, as both ends lie at infinity.
    pub fn quantile(&self, probability: f64) -> Result<f64, StatisticsError> {
        require_probability(probability)?;
        Ok(self.mean - self.standard_deviation * SQRT_2 * puruspe::inverfc(2.0 * probability))
    }

    fn standardised(&self, value: f64) -> f64 {
        (value - self.mean) / self.standard_deviation
    }
}

/// Φ(z) = erfc(-z / √2) / 2, the form that keeps its digits far out in the lower tail.
fn lower_tail(z: f64) -> f64 {
    puruspe::erfc(-z / SQRT_2) / 2.0
}

/// Probability that Student's t of these degrees of freedom, about a mean and with a scale, lies between two values, by the
/// normal law of `z (1 - 1/4ν) / √(1 + z²/2ν)` (Abramowitz and Stegun 1964, 26.7.8), which is good to
/// a hundredth with four degrees and to two thousandths from ten on; of infinitely many, the normal law itself.
pub fn student_between(low: f64, high: f64, mean: f64, scale: f64, degrees_of_freedom: f64) -> f64 {
    let made_normal = |value: f64| {
        let z = (value - mean) / scale;
        z * (1.0 - 0.25 / degrees_of_freedom) / (1.0 + z * z / (2.0 * degrees_of_freedom)).sqrt()
    };
    Normal::STANDARD.probability_between(made_normal(low), made_normal(high))
}

/// Probability that a chi-square of so many degrees of freedom exceeds `value`: Q(ν/2, value/2), the regularised
/// upper incomplete gamma function. Good to about ten digits, below 1e-15 it may be zero.
///
/// # Errors
/// A value below zero or not finite, or degrees of freedom outside 0.5 to 200.
pub fn chi_square_upper_tail(value: f64, degrees_of_freedom: f64) -> Result<f64, StatisticsError> {
    require_not_negative(&[value])?;
    require_chi_square_degrees(degrees_of_freedom)?;
    Ok(puruspe::gammq(degrees_of_freedom / 2.0, value / 2.0))
}

/// From 200 on `puruspe` 0.4 changes to a quadrature that gives NaN below the mean. No session has so many sets.
fn require_chi_square_degrees(value: f64) -> Result<(), StatisticsError> {
    require_degrees_of_freedom(value)?;
    if value < 200.0 { Ok(()) } else { Err(StatisticsError::DegreesOfFreedom { value }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_law_without_width_is_refused() {
        assert_eq!(Normal::new(1.0, 0.0), Err(StatisticsError::NotPositive { position: 0, value: 0.0 }));
        assert!(Normal::new(f64::NAN, 1.0).is_err());
    }

    #[test]
    fn student_of_many_degrees_is_normal_and_of_few_is_wider() {
        let within = |freedom| student_between(-1.645, 1.645, 0.0, 1.0, freedom);
        assert!((within(f64::INFINITY) - 0.9).abs() < 1e-4);
        // GUM table G.2: 90 % of four degrees lie within 2.13, of ten within 1.81.
        for (freedom, factor, close) in [(4.0, 2.13, 0.012), (10.0, 1.81, 0.002)] {
            let held = student_between(-factor, factor, 0.0, 1.0, freedom);
            assert!((held - 0.9).abs() < close, "{freedom}: {held}");
        }
    }

    #[test]
    fn everything_lies_between_the_infinities() {
        let law = Normal::new(30.0, 1.5).unwrap();
        assert!((law.probability_between(f64::NEG_INFINITY, f64::INFINITY) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn an_interval_the_wrong_way_round_holds_nothing() {
        assert!(Normal::STANDARD.probability_between(1.0, -1.0).abs() < f64::MIN_POSITIVE);
    }

    #[test]
    fn a_chi_square_of_two_is_an_exponential_law() {
        for value in [0.1, 1.0, 5.0, 20.0] {
            let tail = chi_square_upper_tail(value, 2.0).unwrap();
            assert!((tail - (-value / 2.0_f64).exp()).abs() < 1e-10);
        }
    }

    #[test]
    fn too_many_degrees_of_freedom_are_refused_not_guessed() {
        assert_eq!(
            chi_square_upper_tail(250.0, 200.0),
            Err(StatisticsError::DegreesOfFreedom { value: 200.0 })
        );
        assert!(chi_square_upper_tail(1.0, f64::NAN).is_err());
    }

    proptest! {
        #[test]
        fn the_quantile_undoes_the_probability(
            mean in -50.0..50.0_f64, deviation in 0.01..20.0_f64, probability in 1e-6..0.999_999_f64,
        ) {
            let law = Normal::new(mean, deviation).unwrap();
            let back = law.probability_between(f64::NEG_INFINITY, law.quantile(probability).unwrap());
            prop_assert!((back - probability).abs() < 1e-12 * (1.0 + mean.abs() / deviation));
        }

        #[test]
        fn the_parts_of_the_line_add_up(low in -6.0..6.0_f64, width in 0.0..6.0_f64) {
            let law = Normal::STANDARD;
            let sum = law.probability_between(f64::NEG_INFINITY, low)
                + law.probability_between(low, low + width)
                + law.probability_between(low + width, f64::INFINITY);
            prop_assert!((sum - 1.0).abs() < 1e-14);
        }
    }
}
