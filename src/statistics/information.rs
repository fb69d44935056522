//! Gaussian knowledge of several unknowns in the form in which independent pieces of it add.
//!
//! A normal law of mean m and covariance C is kept as its certainty C⁻¹ and its pull C⁻¹ m: what two independent sources
//! say together has the sum of both (the conjugate normal model; Johnson, Ott and Dogucu, Bayes Rules!, chapter 5, for one
//! unknown). What says nothing of an unknown is nought there, which no mean with an uncertainty can express. Not here:
//! where a piece of knowledge comes from, and whether two of them are independent.

use super::{
    Skyline, StatisticsError, representable, require_count, require_finite, require_length, require_positive,
};

/// What is known of some unknowns together.
#[derive(Debug, Clone, PartialEq)]
pub struct Information {
    /// The inverse of the covariance, row by row.
    certainty: Vec<Vec<f64>>,
    /// That times the means.
    pull: Vec<f64>,
}

impl Information {
    /// Nothing, of so many unknowns.
    pub fn none(count: usize) -> Self {
        Self { certainty: vec![vec![0.0; count]; count], pull: vec![0.0; count] }
    }

    /// The same from its lower triangle row by row and its pull, as [`Self::parts`] gives them.
    ///
    /// # Errors
    /// A triangle that does not belong to so many unknowns, or a figure that is infinite or not a number.
    pub fn of_parts(triangle: &[f64], pull: &[f64]) -> Result<Self, StatisticsError> {
        let count = pull.len();
        require_length(triangle.len(), count * (count + 1) / 2)?;
        require_finite(triangle)?;
        require_finite(pull)?;
        let place = |row: usize, column: usize| {
            let (row, column) = (row.max(column), row.min(column));
            triangle[row * (row + 1) / 2 + column]
        };
        let certainty = (0..count).map(|row| (0..count).map(|column| place(row, column)).collect()).collect();
        Ok(Self { certainty, pull: pull.to_vec() })
    }

    /// Its lower triangle row by row, and its pull.
    pub fn parts(&self) -> (Vec<f64>, Vec<f64>) {
        let rows = self.certainty.iter().enumerate();
        let triangle = rows.flat_map(|(row, entries)| &entries[..=row]).copied().collect();
        (triangle, self.pull.clone())
    }

    /// What a normal law of these means and this covariance says.
    ///
    /// # Errors
    /// [`StatisticsError::Singular`] where the covariance is that of no such law.
    pub fn of_law(means: &[f64], covariance: &[Vec<f64>]) -> Result<Self, StatisticsError> {
        let factor = square(covariance).factor()?;
        let column = |place: usize| {
            let unit: Vec<f64> = (0..means.len()).map(|row| f64::from(u8::from(row == place))).collect();
            factor.solve(&unit)
        };
        Ok(Self { certainty: (0..means.len()).map(column).collect(), pull: factor.solve(means) })
    }

    /// Adds an independent piece about one unknown: a mean with its standard uncertainty.
    ///
    /// # Errors
    /// An unknown that is not among these, or an uncertainty that is not above zero.
    pub fn add(&mut self, place: usize, mean: f64, uncertainty: f64) -> Result<(), StatisticsError> {
        self.put(place, mean, uncertainty, 1.0)
    }

    /// Takes such a piece out again, to leave what the others say.
    ///
    /// # Errors
    /// As of [`Self::add`].
    pub fn take_out(&mut self, place: usize, mean: f64, uncertainty: f64) -> Result<(), StatisticsError> {
        self.put(place, mean, uncertainty, -1.0)
    }

    fn put(&mut self, place: usize, mean: f64, uncertainty: f64, sign: f64) -> Result<(), StatisticsError> {
        require_finite(&[mean])?;
        require_positive(&[uncertainty])?;
        require_count(self.pull.len(), place + 1)?;
        let certainty = sign / (uncertainty * uncertainty);
        self.certainty[place][place] += certainty;
        self.pull[place] += certainty * mean;
        Ok(())
    }

    /// Adds an independent piece about the unknowns at these places, in its own order.
    ///
    /// # Errors
    /// Places that are not as many as its unknowns, or not among these.
    pub fn add_all(&mut self, other: &Self, places: &[usize]) -> Result<(), StatisticsError> {
        require_length(places.len(), other.pull.len())?;
        require_count(self.pull.len(), places.iter().max().map_or(0, |most| most + 1))?;
        for (row, place) in places.iter().enumerate() {
            self.pull[*place] += other.pull[row];
            for (column, beside) in places.iter().enumerate() {
                self.certainty[*place][*beside] += other.certainty[row][column];
            }
        }
        Ok(())
    }

    /// How certain it is in all: the sum of the certainties of its unknowns by themselves.
    pub fn total(&self) -> f64 {
        self.certainty.iter().enumerate().map(|(place, row)| row[place]).sum()
    }

    /// Mean and standard uncertainty of each unknown.
    ///
    /// # Errors
    /// [`StatisticsError::Singular`] where something is not known at all.
    pub fn solve(&self) -> Result<Vec<(f64, f64)>, StatisticsError> {
        let factor = square(&self.certainty).factor()?;
        let known = |(place, mean): (usize, f64)| {
            let form = factor.through(&[(place, 1.0)]);
            Ok((representable(mean)?, representable(form.with(&form).sqrt())?))
        };
        factor.solve(&self.pull).into_iter().enumerate().map(known).collect()
    }
}

/// The lower half of a symmetric matrix.
fn square(rows: &[Vec<f64>]) -> Skyline {
    let mut matrix = Skyline::new(&vec![0; rows.len()]);
    for (row, entries) in rows.iter().enumerate() {
        for (column, entry) in entries.iter().enumerate().take(row + 1) {
            matrix.add(row, column, *entry);
        }
    }
    matrix
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(one: f64, other: f64) -> bool {
        (one - other).abs() <= 1e-12 * other.abs().max(1.0)
    }

    #[test]
    fn what_is_put_in_and_taken_out_leaves_the_rest() {
        let mut known = Information::none(2);
        known.add(0, 3.0, 0.5).unwrap();
        known.add(1, -1.0, 2.0).unwrap();
        let before = known.clone();
        known.add(0, 9.0, 1.0).unwrap();
        assert!(known.solve().unwrap()[0].1 < 0.5);
        known.take_out(0, 9.0, 1.0).unwrap();
        for ((mean, uncertainty), (other, doubt)) in
            known.solve().unwrap().into_iter().zip(before.solve().unwrap())
        {
            assert!(close(mean, other) && close(uncertainty, doubt));
        }
    }

    #[test]
    fn a_law_is_what_it_was_made_of() {
        let covariance = vec![vec![4.0, 1.0], vec![1.0, 9.0]];
        let law = Information::of_law(&[2.0, -3.0], &covariance).unwrap();
        let (triangle, pull) = law.parts();
        let law = Information::of_parts(&triangle, &pull).unwrap();
        let known = law.solve().unwrap();
        assert!(
            close(known[0].0, 2.0)
                && close(known[0].1, 2.0)
                && close(known[1].0, -3.0)
                && close(known[1].1, 3.0)
        );
        // 4·9 − 1·1 = 35: the inverse by hand.
        assert!(close(law.total(), (9.0 + 4.0) / 35.0));
    }

    #[test]
    fn a_difference_alone_leaves_both_unknown_and_one_known_tells_the_other() {
        let mut difference = Information::of_parts(&[4.0, -4.0, 4.0], &[-8.0, 8.0]).unwrap();
        assert_eq!(difference.solve(), Err(StatisticsError::Singular));
        // The second is 2 ± 1/2 above the first: with 10 ± 1 for the first it is 12 ± √(1 + 1/4).
        difference.add(0, 10.0, 1.0).unwrap();
        let known = difference.solve().unwrap();
        assert!(close(known[1].0, 12.0) && close(known[1].1, 1.25_f64.sqrt()));
    }

    #[test]
    fn pieces_of_other_unknowns_are_refused() {
        let mut known = Information::none(1);
        assert!(known.add(1, 0.0, 1.0).is_err() && known.add(0, 0.0, 0.0).is_err());
        assert!(known.add_all(&Information::none(2), &[0, 1]).is_err());
        assert!(Information::of_parts(&[1.0], &[1.0, 2.0]).is_err());
    }
}
