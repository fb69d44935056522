//! Least squares for a polynomial, with or without an intercept.
//!
//! The equations are solved in `orthogonal`. Errors in x are not covered: x is taken as exact. Points that must be met exactly are for `cubic`.

use super::orthogonal::Orthogonal;
use super::{StatisticsError, require_count, require_finite, require_length};

/// Whether the curve is free at x = 0. Wheel travel over shock stroke goes through the origin; the certified fits that the
/// solver is held against do not all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Intercept {
    /// The constant term is one of the unknowns.
    Fitted,
    /// The curve goes through the origin.
    Zero,
}

/// The polynomial to fit: y = b₀ + b₁ x + … up to x to the power `degree`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PolynomialModel {
    /// Highest power of x.
    pub degree: usize,
    /// Whether b₀ is fitted or zero.
    pub intercept: Intercept,
}

/// A fitted polynomial.
#[derive(Debug, Clone, PartialEq)]
pub struct PolynomialFit {
    /// One a power from zero on; b₀ is zero in a fit through the origin.
    coefficients: Vec<f64>,
    residual_sum: f64,
}

impl PolynomialModel {
    /// Fits the points, making Σ (y - curve(x))² least.
    ///
    /// Source: Householder QR as in Golub and Van Loan, Matrix Computations, on columns scaled to unit length.
    ///
    /// # Errors
    /// Lists of different length, a value not finite, not more points than unknowns (there must be scatter left to judge
    /// by), points that do not tell the coefficients apart (as too few different x), or powers too large for a double.
    pub fn fit(&self, x: &[f64], y: &[f64]) -> Result<PolynomialFit, StatisticsError> {
        require_length(y.len(), x.len())?;
        require_finite(x)?;
        require_finite(y)?;
        let first_power = self.first_power();
        let unknowns = (self.degree + 1).saturating_sub(first_power);
        require_count(x.len(), unknowns + 1)?;
        let solution = Orthogonal::new(powers(x, first_power..=self.degree), y.to_vec())?.solve();
        let fit = PolynomialFit {
            coefficients: self.padded(&solution.coefficients),
            residual_sum: solution.residual_sum,
        };
        require_finite(&fit.coefficients)
            .and(require_finite(&[fit.residual_sum]))
            .map_err(|_| StatisticsError::Overflow)?;
        Ok(fit)
    }

    fn first_power(&self) -> usize {
        match self.intercept {
            Intercept::Fitted => 0,
            Intercept::Zero => 1,
        }
    }

    fn padded(&self, fitted: &[f64]) -> Vec<f64> {
        let mut all = vec![0.0; self.first_power()];
        all.extend_from_slice(fitted);
        all
    }
}

impl PolynomialFit {
    /// The coefficients, the place in the list being the power of x.
    pub fn coefficients(&self) -> &[f64] {
        &self.coefficients
    }

    /// Σ (y - curve(x))².
    pub fn residual_sum(&self) -> f64 {
        self.residual_sum
    }

    /// The curve at a finite `x`.
    pub fn value(&self, x: f64) -> f64 {
        self.coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * x + coefficient)
    }

    /// Its first derivative at a finite `x`.
    pub fn slope(&self, x: f64) -> f64 {
        let derived = self.coefficients.iter().enumerate().skip(1).rev();
        derived.fold(0.0, |sum, (power, coefficient)| sum * x + power as f64 * coefficient)
    }

    /// Its second derivative at a finite `x`.
    pub fn curvature(&self, x: f64) -> f64 {
        let derived = self.coefficients.iter().enumerate().skip(2).rev();
        derived.fold(0.0, |sum, (power, coefficient)| sum * x + (power * (power - 1)) as f64 * coefficient)
    }
}

/// One column a power of x.
fn powers(x: &[f64], range: std::ops::RangeInclusive<usize>) -> Vec<Vec<f64>> {
    let mut column = vec![1.0; x.len()];
    let mut columns = Vec::with_capacity(range.end() + 1);
    for power in 0..=*range.end() {
        if power > 0 {
            column.iter_mut().zip(x).for_each(|(element, x)| *element *= x);
        }
        if range.contains(&power) {
            columns.push(column.clone());
        }
    }
    columns
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const LINE: PolynomialModel = PolynomialModel { degree: 1, intercept: Intercept::Fitted };

    #[test]
    fn as_many_points_as_unknowns_leave_no_scatter_to_judge_by() {
        let refused = Err(StatisticsError::TooFew { have: 2, need: 3 });
        assert_eq!(LINE.fit(&[0.0, 1.0], &[0.0, 1.0]), refused);
    }

    #[test]
    fn points_above_one_another_carry_no_line() {
        assert_eq!(LINE.fit(&[2.0; 4], &[1.0, 2.0, 3.0, 4.0]), Err(StatisticsError::Singular));
        let through_origin = PolynomialModel { degree: 1, intercept: Intercept::Zero };
        assert_eq!(through_origin.fit(&[0.0; 3], &[1.0, 2.0, 3.0]), Err(StatisticsError::Singular));
    }

    #[test]
    fn a_curve_through_the_origin_without_powers_has_nothing_to_fit() {
        let nothing = PolynomialModel { degree: 0, intercept: Intercept::Zero };
        assert_eq!(nothing.fit(&[1.0, 2.0], &[1.0, 2.0]), Err(StatisticsError::Singular));
    }

    #[test]
    fn powers_past_the_largest_double_are_an_error() {
        let cubic = PolynomialModel { degree: 3, intercept: Intercept::Fitted };
        let x = [1e120, 2e120, 3e120, 4e120, 5e120];
        assert_eq!(cubic.fit(&x, &[1.0; 5]), Err(StatisticsError::Overflow));
    }

    proptest! {
        #[test]
        fn a_cubic_is_found_again_from_its_own_points(
            coefficients in prop::array::uniform3(-5.0..5.0_f64), at in -2.0..2.0_f64,
        ) {
            let [b1, b2, b3] = coefficients;
            let x: Vec<f64> = (0..9).map(|index| f64::from(index) / 4.0 - 1.0).collect();
            let y: Vec<f64> = x.iter().map(|x| x * (b1 + x * (b2 + x * b3))).collect();
            let model = PolynomialModel { degree: 3, intercept: Intercept::Zero };
            let fit = model.fit(&x, &y).unwrap();
            prop_assert!((fit.value(at) - at * (b1 + at * (b2 + at * b3))).abs() < 1e-11);
            prop_assert!((fit.slope(at) - (b1 + at * (2.0 * b2 + at * 3.0 * b3))).abs() < 1e-11);
            prop_assert!((fit.curvature(at) - (2.0 * b2 + at * 6.0 * b3)).abs() < 1e-11);
        }
    }
}
