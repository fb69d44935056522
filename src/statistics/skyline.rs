//! A symmetric positive definite matrix kept from the first entry of each row on, and what its Cholesky factor gives.
//!
//! The factor fills no entry before the first of a row (George and Liu, Computer Solution of Large Sparse Positive Definite
//! Systems, 1981, chapter 4; from memory), so unknowns that hang on few others cost little when they stand first. With
//! `A = L Lᵀ` the covariance of two linear forms under `A⁻¹` is the product of both solved forward through `L`
//! ([`Factor::through`]), and no inverse is ever written out. Not here: what the unknowns are.

use super::StatisticsError;

/// The lower half of a symmetric matrix, each row from its first entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Skyline {
    rows: Vec<SkylineRow>,
}

#[derive(Debug, Clone, PartialEq)]
struct SkylineRow {
    first: usize,
    entries: Vec<f64>,
}

impl SkylineRow {
    fn from(&self, column: usize) -> &[f64] {
        &self.entries[column - self.first..]
    }
}

/// The Cholesky factor of a [`Skyline`].
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    rows: Vec<SkylineRow>,
}

/// A linear form solved forward through a factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    first: usize,
    entries: Vec<f64>,
}

impl Skyline {
    /// A matrix of noughts; `first` names the first column of each row, at most its own.
    pub fn new(first: &[usize]) -> Self {
        let row = |(row, &first): (usize, &usize)| {
            let first = first.min(row);
            SkylineRow { first, entries: vec![0.0; row - first + 1] }
        };
        Self { rows: first.iter().enumerate().map(row).collect() }
    }

    /// Adds to the entry of a row and a column, in either order. The place must lie on the skyline.
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = (row.max(column), row.min(column));
        let row = &mut self.rows[row];
        row.entries[column - row.first] += value;
    }

    /// Its Cholesky factor.
    ///
    /// # Errors
    /// [`StatisticsError::Singular`] when it is not positive definite.
    pub fn factor(mut self) -> Result<Factor, StatisticsError> {
        for index in 0..self.rows.len() {
            let (above, rest) = self.rows.split_at_mut(index);
            let row = &mut rest[0];
            for (column, pivot) in above.iter().enumerate().skip(row.first) {
                let from = row.first.max(pivot.first);
                let known = &row.entries[from - row.first..column - row.first];
                let sum = dot(known, &pivot.from(from)[..column - from]);
                let diagonal = pivot.entries[column - pivot.first];
                row.entries[column - row.first] = (row.entries[column - row.first] - sum) / diagonal;
            }
            let (own, left) = row.entries.split_last_mut().ok_or(StatisticsError::Singular)?;
            let square = *own - dot(left, left);
            if !(square > 0.0 && square.is_finite()) {
                return Err(StatisticsError::Singular);
            }
            *own = square.sqrt();
        }
        Ok(Factor { rows: self.rows })
    }
}

impl Factor {
    /// The solution of `A x = right`.
    pub fn solve(&self, right: &[f64]) -> Vec<f64> {
        let mut solution = right.to_vec();
        self.forward(0, &mut solution);
        for index in (0..self.rows.len()).rev() {
            let row = &self.rows[index];
            let Some((own, left)) = row.entries.split_last() else { continue };
            let value = solution[index] / own;
            solution[index] = value;
            for (place, entry) in left.iter().enumerate() {
                solution[row.first + place] -= entry * value;
            }
        }
        solution
    }

    /// A linear form, as places with their coefficients, solved forward: the product of two such is their covariance
    /// under the inverse of the matrix.
    pub fn through(&self, form: &[(usize, f64)]) -> Solved {
        let first = form.iter().map(|(place, _)| *place).min().unwrap_or(self.rows.len());
        let mut entries = vec![0.0; self.rows.len() - first];
        for (place, coefficient) in form {
            entries[place - first] += coefficient;
        }
        self.forward(first, &mut entries);
        Solved { first, entries }
    }

    /// Forward substitution from a row on, before which the right side is nought.
    fn forward(&self, first: usize, right: &mut [f64]) {
        for index in first..self.rows.len() {
            let row = &self.rows[index];
            let from = row.first.max(first);
            let entries = row.from(from);
            let own = entries[index - from];
            let sum = dot(&entries[..index - from], &right[from - first..index - first]);
            right[index - first] = (right[index - first] - sum) / own;
        }
    }
}

impl Solved {
    /// The covariance of two forms solved through one factor.
    pub fn with(&self, other: &Self) -> f64 {
        let first = self.first.max(other.first);
        dot(&self.entries[first - self.first..], &other.entries[first - other.first..])
    }
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two unknowns that hang on a third one only; determinant 4·9·2 − 9·1 − 4·4 = 47 by hand.
    fn arrow() -> Skyline {
        let mut matrix = Skyline::new(&[0, 1, 0]);
        for (row, column, value) in [(0, 0, 4.0), (1, 1, 9.0), (2, 2, 2.0), (2, 0, 1.0), (1, 2, 2.0)] {
            matrix.add(row, column, value);
        }
        matrix
    }

    #[test]
    fn a_system_is_solved() {
        let solution = arrow().factor().unwrap().solve(&[6.0, 15.0, 9.0]);
        // 4x + z, 9y + 2z and x + 2y + 2z for x = 3/4·…: checked by putting it back.
        let [x, y, z] = [solution[0], solution[1], solution[2]];
        for (left, right) in [(4.0 * x + z, 6.0), (9.0 * y + 2.0 * z, 15.0), (x + 2.0 * y + 2.0 * z, 9.0)] {
            assert!((left - right).abs() < 1e-12);
        }
    }

    #[test]
    fn covariances_are_those_of_the_inverse() {
        let factor = arrow().factor().unwrap();
        // The inverse by cofactors: (2,2) is 36/47, (0,2) is −9/47, (0,0) is 14/47.
        let forms = [0, 2].map(|place| factor.through(&[(place, 1.0)]));
        assert!((forms[1].with(&forms[1]) - 36.0 / 47.0).abs() < 1e-14);
        assert!((forms[0].with(&forms[1]) + 9.0 / 47.0).abs() < 1e-14);
        assert!((forms[0].with(&forms[0]) - 14.0 / 47.0).abs() < 1e-14);
    }

    #[test]
    fn a_matrix_that_is_not_positive_definite_is_refused() {
        let mut matrix = Skyline::new(&[0, 0]);
        for (row, column, value) in [(0, 0, 1.0), (1, 1, 1.0), (1, 0, 2.0)] {
            matrix.add(row, column, value);
        }
        assert_eq!(matrix.factor(), Err(StatisticsError::Singular));
    }
}
