//! Weighted least squares for a polynomial, with or without an intercept.
//!
//! The equations are solved in `orthogonal`. Errors in x are not covered: x is taken as exact. Points that must be met exactly are for `cubic`.

use super::orthogonal::Orthogonal;
use super::{StatisticsError, require_count, require_finite, require_length, require_positive};

/// Whether the curve is free at x = 0.
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

/// Where the size of the errors is taken from when coefficients are given an uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UncertaintyBasis {
    /// From the scatter of the points about the curve; weights say only how points compare.
    Scatter,
    /// From the weights themselves, each being 1/u² of its y; the scatter is left out of it.
    StatedWeights,
}

/// A fitted polynomial and how well it is known.
#[derive(Debug, Clone, PartialEq)]
pub struct PolynomialFit {
    /// One a power from zero on; b₀ is zero in a fit through the origin.
    coefficients: Vec<f64>,
    /// (Xᵀ W X)⁻¹, row after row, with a row and column of zeros for an intercept that was not fitted.
    unit_covariance: Vec<f64>,
    residual_sum: f64,
    degrees_of_freedom: f64,
    r_squared: Option<f64>,
}

impl PolynomialModel {
    /// Fits the points, all of the same weight.
    ///
    /// # Errors
    /// As for [`PolynomialModel::fit_weighted`].
    pub fn fit(&self, x: &[f64], y: &[f64]) -> Result<PolynomialFit, StatisticsError> {
        self.fit_weighted(x, y, &vec![1.0; x.len()])
    }

    /// Fits the points, making Σ w (y - curve(x))² least. A weight is 1/u² of its y, or in proportion to it.
    ///
    /// Source: Householder QR as in Golub and Van Loan, Matrix Computations, on columns scaled to unit length.
    ///
    /// # Errors
    /// Lists of different length, a value not finite or a weight not above zero, not more points than unknowns (there
    /// must be scatter left to judge by), points that do not tell the coefficients apart (as too few different x),
    /// or powers too large for a double.
    pub fn fit_weighted(
        &self,
        x: &[f64],
        y: &[f64],
        weights: &[f64],
    ) -> Result<PolynomialFit, StatisticsError> {
        require_length(y.len(), x.len())?;
        require_length(weights.len(), x.len())?;
        require_finite(x)?;
        require_finite(y)?;
        require_positive(weights)?;
        let first_power = self.first_power();
        let unknowns = (self.degree + 1).saturating_sub(first_power);
        require_count(x.len(), unknowns + 1)?;
        let roots: Vec<f64> = weights.iter().map(|weight| weight.sqrt()).collect();
        let right = y.iter().zip(&roots).map(|(y, root)| y * root).collect();
        let solution = Orthogonal::new(powers(x, &roots, first_power..=self.degree), right)?.solve();
        let fit = PolynomialFit {
            coefficients: self.padded(&solution.coefficients),
            unit_covariance: self.padded_square(&solution.unit_covariance),
            residual_sum: solution.residual_sum,
            degrees_of_freedom: (x.len() - unknowns) as f64,
            r_squared: r_squared(solution.residual_sum, self.total_sum(y, weights)),
        };
        require_finite(&fit.coefficients)
            .and(require_finite(&fit.unit_covariance))
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

    /// What R² is a share of: the weighted squares about the mean, or about zero for a curve bound to the origin.
    fn total_sum(&self, y: &[f64], weights: &[f64]) -> f64 {
        let weighted =
            |value: f64| y.iter().zip(weights).map(move |(y, weight)| weight * (y - value).powi(2));
        match self.intercept {
            Intercept::Zero => weighted(0.0).sum(),
            Intercept::Fitted => {
                let sum: f64 = y.iter().zip(weights).map(|(y, weight)| weight * y).sum();
                weighted(sum / weights.iter().sum::<f64>()).sum()
            }
        }
    }

    fn padded(&self, fitted: &[f64]) -> Vec<f64> {
        let mut all = vec![0.0; self.first_power()];
        all.extend_from_slice(fitted);
        all
    }

    fn padded_square(&self, fitted: &[Vec<f64>]) -> Vec<f64> {
        let order = fitted.len() + self.first_power();
        let mut all = vec![0.0; self.first_power() * order];
        for row in fitted {
            all.extend(self.padded(row));
        }
        all
    }
}

impl PolynomialFit {
    /// The coefficients, the place in the list being the power of x.
    pub fn coefficients(&self) -> &[f64] {
        &self.coefficients
    }

    /// Covariance of the coefficients of two powers of x; zero for a power that was not fitted.
    pub fn covariance(&self, power: usize, other: usize, basis: UncertaintyBasis) -> f64 {
        let order = self.coefficients.len();
        if power >= order || other >= order {
            return 0.0;
        }
        self.variance_unit(basis) * self.unit_covariance[power * order + other]
    }

    /// Standard uncertainty of the coefficient of a power of x; zero for a power that was not fitted.
    pub fn coefficient_uncertainty(&self, power: usize, basis: UncertaintyBasis) -> f64 {
        self.covariance(power, power, basis).sqrt()
    }

    /// Σ w (y - curve(x))²: a chi-square when the weights are 1/u².
    pub fn residual_sum(&self) -> f64 {
        self.residual_sum
    }

    /// Points less fitted coefficients.
    pub fn degrees_of_freedom(&self) -> f64 {
        self.degrees_of_freedom
    }

    /// Standard deviation of a point of weight one about the curve.
    pub fn residual_standard_deviation(&self) -> f64 {
        (self.residual_sum / self.degrees_of_freedom).sqrt()
    }

    /// Share of the scatter of y that the curve accounts for: about the mean of y, or about zero when the curve is
    /// bound to the origin. `None` when y has no scatter to account for.
    pub fn r_squared(&self) -> Option<f64> {
        self.r_squared
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

    /// Standard uncertainty of the curve at a finite `x`; the scatter of a new point about it is not in it.
    pub fn value_uncertainty(&self, x: f64, basis: UncertaintyBasis) -> f64 {
        let order = self.coefficients.len();
        let along = |row: &[f64]| row.iter().rev().fold(0.0, |sum, element| sum * x + element);
        let unit = self.unit_covariance.chunks_exact(order).rev().fold(0.0, |sum, row| sum * x + along(row));
        (self.variance_unit(basis) * unit.max(0.0)).sqrt()
    }

    fn variance_unit(&self, basis: UncertaintyBasis) -> f64 {
        match basis {
            UncertaintyBasis::Scatter => self.residual_sum / self.degrees_of_freedom,
            UncertaintyBasis::StatedWeights => 1.0,
        }
    }
}

/// One column a power of x, each point multiplied by the root of its weight.
fn powers(x: &[f64], roots: &[f64], range: std::ops::RangeInclusive<usize>) -> Vec<Vec<f64>> {
    let mut column = roots.to_vec();
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

fn r_squared(residual_sum: f64, total_sum: f64) -> Option<f64> {
    let share = 1.0 - residual_sum / total_sum;
    share.is_finite().then_some(share)
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
    fn degree_zero_is_the_weighted_mean() {
        let constant = PolynomialModel { degree: 0, intercept: Intercept::Fitted };
        let fit = constant.fit_weighted(&[1.0, 2.0], &[10.0, 20.0], &[3.0, 1.0]).unwrap();
        assert!((fit.value(7.0) - 12.5).abs() < 1e-12);
    }

    #[test]
    fn level_points_have_no_scatter_to_account_for() {
        let fit = LINE.fit(&[0.0, 1.0, 2.0], &[0.0; 3]).unwrap();
        assert_eq!(fit.r_squared(), None);
    }

    #[test]
    fn a_weight_of_zero_is_refused() {
        let refused = Err(StatisticsError::NotPositive { position: 1, value: 0.0 });
        assert_eq!(LINE.fit_weighted(&[0.0, 1.0, 2.0], &[0.0; 3], &[1.0, 0.0, 1.0]), refused);
    }

    #[test]
    fn powers_past_the_largest_double_are_an_error() {
        let cubic = PolynomialModel { degree: 3, intercept: Intercept::Fitted };
        let x = [1e120, 2e120, 3e120, 4e120, 5e120];
        assert_eq!(cubic.fit(&x, &[1.0; 5]), Err(StatisticsError::Overflow));
    }

    #[test]
    fn a_power_that_was_not_fitted_has_no_uncertainty() {
        let through_origin = PolynomialModel { degree: 1, intercept: Intercept::Zero };
        let fit = through_origin.fit(&[1.0, 2.0, 3.0], &[1.1, 1.9, 3.1]).unwrap();
        assert!(fit.coefficient_uncertainty(0, UncertaintyBasis::Scatter).abs() < f64::MIN_POSITIVE);
        assert!(fit.coefficient_uncertainty(2, UncertaintyBasis::Scatter).abs() < f64::MIN_POSITIVE);
        assert!(fit.value_uncertainty(0.0, UncertaintyBasis::Scatter).abs() < f64::MIN_POSITIVE);
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

        #[test]
        fn weights_in_proportion_change_neither_curve_nor_scatter(
            y in prop::collection::vec(-10.0..10.0_f64, 6), factor in 0.01..100.0_f64,
        ) {
            let x = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0];
            let (plain, scaled) =
                (LINE.fit(&x, &y).unwrap(), LINE.fit_weighted(&x, &y, &[factor; 6]).unwrap());
            prop_assert!((plain.value(2.2) - scaled.value(2.2)).abs() < 1e-11);
            let uncertainty = |fit: &PolynomialFit| fit.value_uncertainty(2.2, UncertaintyBasis::Scatter);
            prop_assert!((uncertainty(&plain) - uncertainty(&scaled)).abs() < 1e-10);
        }
    }
}
