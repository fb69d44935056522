//! Householder's orthogonal factorisation of a tall matrix: least squares without the normal equations, which
//! would lose twice the digits.
//!
//! Source: Golub and Van Loan, Matrix Computations, chapter 5. What the columns mean is up to `least_squares`.

use super::{StatisticsError, require_finite};

/// The combination of columns nearest to the right-hand side.
pub(super) struct Solution {
    /// One a column.
    pub(super) coefficients: Vec<f64>,
    /// Squared length of what no combination of the columns reaches.
    pub(super) residual_sum: f64,
}

/// The columns, scaled to unit length and turned into R, and the right-hand side into Qᵀ y.
pub(super) struct Orthogonal {
    columns: Vec<Vec<f64>>,
    scales: Vec<f64>,
    right: Vec<f64>,
}

impl Orthogonal {
    /// Factors the columns. At least as many elements as columns, and all lists of one length.
    ///
    /// # Errors
    /// No column, one that the others combine to within rounding, or lengths too large for a double.
    pub(super) fn new(mut columns: Vec<Vec<f64>>, mut right: Vec<f64>) -> Result<Self, StatisticsError> {
        let scales: Vec<f64> = columns.iter().map(|column| length(column)).collect();
        require_finite(&scales).map_err(|_| StatisticsError::Overflow)?;
        if scales.is_empty() || scales.contains(&0.0) {
            return Err(StatisticsError::Singular);
        }
        for (column, scale) in columns.iter_mut().zip(&scales) {
            divide(column, *scale);
        }
        for pivot in 0..columns.len() {
            let (current, later) = columns[pivot..].split_first_mut().ok_or(StatisticsError::Singular)?;
            let mirror = Mirror::clearing(current, pivot)?;
            for column in later {
                mirror.apply(&mut column[pivot..]);
            }
            mirror.apply(&mut right[pivot..]);
        }
        Ok(Self { columns, scales, right })
    }

    pub(super) fn solve(&self) -> Solution {
        let unknowns = self.columns.len();
        let mut coefficients = self.back_substituted(&self.right[..unknowns]);
        for (coefficient, scale) in coefficients.iter_mut().zip(&self.scales) {
            *coefficient /= scale;
        }
        let residual_sum = self.right[unknowns..].iter().map(|element| element * element).sum();
        Solution { coefficients, residual_sum }
    }

    /// R⁻¹ times a vector.
    fn back_substituted(&self, right: &[f64]) -> Vec<f64> {
        let mut solved = right.to_vec();
        for (pivot, column) in self.columns.iter().enumerate().rev() {
            solved[pivot] /= column[pivot];
            let value = solved[pivot];
            for (element, factor) in solved[..pivot].iter_mut().zip(column) {
                *element -= factor * value;
            }
        }
        solved
    }
}

/// The reflection v ↦ v - 2 n (n · v) along a unit normal n.
struct Mirror {
    normal: Vec<f64>,
}

impl Mirror {
    /// The one that leaves a column nothing below its pivot; writes what it leaves there into the column.
    ///
    /// A column of unit length that is all rounding from the pivot down lay in the span of those before it.
    fn clearing(column: &mut [f64], pivot: usize) -> Result<Self, StatisticsError> {
        let rounding = column.len() as f64 * f64::EPSILON;
        let mut normal = column[pivot..].to_vec();
        let rest = length(&normal);
        if rest <= rounding {
            return Err(StatisticsError::Singular);
        }
        // The sign that adds, so that nothing cancels.
        let image = -rest.copysign(normal[0]);
        normal[0] -= image;
        let size = length(&normal);
        divide(&mut normal, size);
        column[pivot] = image;
        Ok(Self { normal })
    }

    fn apply(&self, vector: &mut [f64]) {
        let along: f64 =
            self.normal.iter().zip(vector.iter()).map(|(normal, element)| normal * element).sum();
        for (element, normal) in vector.iter_mut().zip(&self.normal) {
            *element -= 2.0 * along * normal;
        }
    }
}

fn divide(vector: &mut [f64], divisor: f64) {
    for element in vector {
        *element /= divisor;
    }
}

fn length(vector: &[f64]) -> f64 {
    vector.iter().map(|element| element * element).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_that_the_others_combine_is_refused() {
        let columns = vec![vec![1.0, 1.0, 1.0], vec![1.0, 2.0, 3.0], vec![5.0, 8.0, 11.0]];
        assert_eq!(Orthogonal::new(columns, vec![0.0; 3]).err(), Some(StatisticsError::Singular));
    }

    #[test]
    fn what_no_column_reaches_is_left_over() {
        let columns = vec![vec![3.0, 0.0, 4.0], vec![0.0, 2.0, 0.0]];
        let solution = Orthogonal::new(columns, vec![3.0 - 4.0, 6.0, 4.0 + 3.0]).unwrap().solve();
        assert!((solution.coefficients[0] - 1.0).abs() < 1e-14);
        assert!((solution.coefficients[1] - 3.0).abs() < 1e-14);
        // (-4, 0, 3) is at right angles to both columns.
        assert!((solution.residual_sum - 25.0).abs() < 1e-13);
    }
}
