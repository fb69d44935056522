//! Factor, solve and inverse of a small dense symmetric positive-definite matrix.
//!
//! The normal matrix of a Gaussian posterior is one: its inverse is the covariance. Meant for a few up to some
//! sixty unknowns, a matrix being a flat list, row after row; there is no blocking, no sparsity, no pivoting.

use super::{StatisticsError, require_finite, require_length};

/// The lower triangle L of A = L Lᵀ.
#[derive(Debug, Clone, PartialEq)]
pub struct Cholesky {
    order: usize,
    /// Row after row; what is right of the diagonal is left over from the matrix and never read.
    lower: Vec<f64>,
}

impl Cholesky {
    /// Factors a symmetric positive-definite matrix of `order` rows, in place of the list handed in.
    ///
    /// Only the diagonal and what is below it are read.
    ///
    /// # Errors
    /// A list that is not order x order long, an element that is not finite, or a matrix that is not positive
    /// definite within the rounding of a double, with the row at which that showed.
    ///
    /// # Example
    /// ```
    /// use coilwright::statistics::Cholesky;
    /// let factor = Cholesky::factor(vec![4.0, 2.0, 2.0, 5.0], 2)?;
    /// assert_eq!(factor.solve(&[8.0, 12.0])?, [1.0, 2.0]);
    /// # Ok::<(), coilwright::statistics::StatisticsError>(())
    /// ```
    pub fn factor(mut matrix: Vec<f64>, order: usize) -> Result<Self, StatisticsError> {
        require_length(matrix.len(), order * order)?;
        require_finite(&matrix)?;
        for row in 0..order {
            let (above, current) = matrix.split_at_mut(row * order);
            for column in 0..row {
                let start = column * order;
                let other = &above[start..=start + column];
                let rest = current[column] - dot(&current[..column], &other[..column]);
                current[column] = rest / other[column];
            }
            current[row] = pivot(current[row], &current[..row], order)
                .ok_or(StatisticsError::NotPositiveDefinite { row })?;
        }
        Ok(Self { order, lower: matrix })
    }

    /// Number of rows.
    pub fn order(&self) -> usize {
        self.order
    }

    /// Overwrites `right` with the solution x of A x = right. Allocates nothing.
    ///
    /// # Errors
    /// A right-hand side of another length than the order, or a solution too large for a double.
    pub fn solve_in_place(&self, right: &mut [f64]) -> Result<(), StatisticsError> {
        require_length(right.len(), self.order)?;
        require_finite(right)?;
        for row in 0..self.order {
            right[row] = (right[row] - dot(self.row(row), &right[..row])) / self.diagonal(row);
        }
        for row in (0..self.order).rev() {
            right[row] /= self.diagonal(row);
            let solved = right[row];
            for (value, factor) in right[..row].iter_mut().zip(self.row(row)) {
                *value -= factor * solved;
            }
        }
        require_finite(right).map_err(|_| StatisticsError::Overflow)
    }

    /// The solution x of A x = right.
    ///
    /// # Errors
    /// As for [`Cholesky::solve_in_place`].
    pub fn solve(&self, right: &[f64]) -> Result<Vec<f64>, StatisticsError> {
        let mut solution = right.to_vec();
        self.solve_in_place(&mut solution)?;
        Ok(solution)
    }

    /// The inverse of A, full and symmetric, row after row.
    ///
    /// # Errors
    /// An element too large for a double.
    pub fn inverse(&self) -> Result<Vec<f64>, StatisticsError> {
        let mut inverse = vec![0.0; self.order * self.order];
        for (index, unit) in inverse.chunks_exact_mut(self.order.max(1)).enumerate() {
            unit[index] = 1.0;
            self.solve_in_place(unit)?;
        }
        for row in 0..self.order {
            for column in 0..row {
                inverse[column * self.order + row] = inverse[row * self.order + column];
            }
        }
        Ok(inverse)
    }

    /// Row of L, left of the diagonal.
    fn row(&self, row: usize) -> &[f64] {
        &self.lower[row * self.order..row * self.order + row]
    }

    fn diagonal(&self, row: usize) -> f64 {
        self.lower[row * self.order + row]
    }
}

/// Diagonal element of L, unless what is left of the matrix's own one is no more than rounding.
fn pivot(diagonal: f64, left: &[f64], order: usize) -> Option<f64> {
    let rest = diagonal - dot(left, left);
    let rounding = order as f64 * f64::EPSILON * diagonal;
    (rest > rounding.max(0.0) && rest.is_finite()).then(|| rest.sqrt())
}

fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(one, other)| one * other).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_matrix_that_is_not_positive_definite_is_named_by_its_row() {
        let refused = Err(StatisticsError::NotPositiveDefinite { row: 1 });
        assert_eq!(Cholesky::factor(vec![1.0, 2.0, 2.0, 1.0], 2), refused);
        // Two equal rows: singular, though rounding might leave a tiny positive pivot.
        assert_eq!(Cholesky::factor(vec![0.1, 0.3, 0.3, 0.9], 2), refused);
        let refused = Err(StatisticsError::NotPositiveDefinite { row: 0 });
        assert_eq!(Cholesky::factor(vec![0.0], 1), refused);
    }

    #[test]
    fn lengths_that_do_not_fit_are_refused() {
        assert_eq!(
            Cholesky::factor(vec![1.0; 3], 2),
            Err(StatisticsError::LengthsDiffer { expected: 4, found: 3 })
        );
        let factor = Cholesky::factor(vec![1.0], 1).unwrap();
        assert_eq!(factor.solve(&[1.0, 2.0]), Err(StatisticsError::LengthsDiffer { expected: 1, found: 2 }));
    }

    #[test]
    fn no_unknowns_are_solved_at_once() {
        let factor = Cholesky::factor(vec![], 0).unwrap();
        assert_eq!(factor.solve(&[]), Ok(vec![]));
        assert_eq!(factor.inverse(), Ok(vec![]));
    }

    /// B Bᵀ + I, positive definite whatever B is, with a modest condition number.
    fn positive_definite(entries: &[f64], order: usize) -> Vec<f64> {
        let row = |index: usize| &entries[index * order..(index + 1) * order];
        let unit = |same: bool| if same { 1.0 } else { 0.0 };
        (0..order * order)
            .map(|at| dot(row(at / order), row(at % order)) + unit(at / order == at % order))
            .collect()
    }

    proptest! {
        #[test]
        fn the_inverse_times_the_matrix_is_the_identity(
            (order, entries) in (1..12_usize)
                .prop_flat_map(|order| (Just(order), prop::collection::vec(-3.0..3.0_f64, order * order))),
        ) {
            let matrix = positive_definite(&entries, order);
            let inverse = Cholesky::factor(matrix.clone(), order).unwrap().inverse().unwrap();
            for row in 0..order {
                for column in 0..order {
                    // The matrix is symmetric: its row serves as its column.
                    let product = dot(
                        &inverse[row * order..(row + 1) * order],
                        &matrix[column * order..(column + 1) * order],
                    );
                    let expected = if row == column { 1.0 } else { 0.0 };
                    // Condition number at most 1 + 9 x 12² = 1300 or so, times a few hundred roundings.
                    prop_assert!((product - expected).abs() < 1e-10, "{product} at {row}, {column}");
                }
            }
        }

        #[test]
        fn the_solution_satisfies_its_equations(
            (order, entries, right) in (1..12_usize).prop_flat_map(|order| (
                Just(order),
                prop::collection::vec(-3.0..3.0_f64, order * order),
                prop::collection::vec(-10.0..10.0_f64, order),
            )),
        ) {
            let matrix = positive_definite(&entries, order);
            let solution = Cholesky::factor(matrix.clone(), order).unwrap().solve(&right).unwrap();
            for (row, wanted) in matrix.chunks_exact(order).zip(&right) {
                prop_assert!((dot(row, &solution) - wanted).abs() < 1e-9);
            }
        }
    }
}
