//! Learning from all sets together: eight rounds of Gauss-Newton with Student's weights, the scatter learned with them.
//!
//! Always eight, so that the same record gives the same figures to the last bit. Readings weigh as Student's t of four
//! degrees has it (Lange, Little and Taylor, Journal of the American Statistical Association 84, 1989; from memory): a
//! slipped one counts little, an ordinary one fully. Not here: where the unknowns stand (`places`), and what follows for
//! other springs (`forecast`).

use super::prior::{BELLY, COMMON, FALLOFF, GAS, KEPT, Prior, TOGETHER, label};
use super::seen::{Seen, SeenReading};
use super::{Belief, LinearForm, load_place, ring_place};
use crate::mechanics::balance::Sensitivity;
use crate::statistics::Skyline;
use crate::units::{Estimate, Share};

/// Rounds; the last moves no sag by a hundredth of a millimetre unless the readings contradict each other.
const ROUNDS: usize = 8;
/// Degrees of freedom of Student's t for a reading.
const STUDENT: f64 = 4.0;
/// The furthest ln W moves in a round.
const FURTHEST: f64 = 0.4;
/// A last round that still moves a mean by so many millimetres has not come to rest.
const RESTLESS_MM: f64 = 0.3;

/// What one set says in a round.
struct SetEquation {
    form: LinearForm,
    weight: f64,
    residual: f64,
    /// Sum of squares about its mean, and the readings to spare.
    squares: f64,
    spare: f64,
}

impl Belief<'_> {
    /// Goes through the rounds from the priors on.
    pub(super) fn learn(&mut self) {
        let prior = Prior::of(self.setup, self.doubts);
        for round in 0..ROUNDS {
            let first = (round == 0).then_some(&prior);
            let rows: Vec<SetEquation> =
                (0..self.sets.len()).filter_map(|index| self.row(index, first)).collect();
            self.learn_scatter(&rows);
            self.step(&rows, &prior);
        }
    }

    /// One set at the present values: its weights, its mean and how that answers to each unknown. In the first round the
    /// doubt of the priors stands in the weights, or far-off priors would silence good readings.
    fn row(&mut self, index: usize, first: Option<&Prior>) -> Option<SetEquation> {
        let set = &self.sets[index];
        let (rest, by) = self.rest_of(index);
        let kept = self.theta[self.places.common + ring_place(set.how.indicator)];
        let before = first.map_or(0.0, |prior| {
            by.per_log_load.as_mm().powi(2) * prior.variances[load_place(set.how.posture)]
                + by.per_newton.as_mm().powi(2) * prior.variances[GAS]
                + prior.variances[ring_place(set.how.indicator)]
        });
        let variance = self.scatter * self.scatter + before;
        let weight = |figure: &SeenReading| {
            let off = figure.moved - rest - figure.kept * kept;
            let silent = figure.is_bound && off <= 0.0;
            if silent { 0.0 } else { ((STUDENT + 1.0) / (STUDENT + off * off / variance)).min(1.0) }
        };
        let weights: Vec<f64> = set.figures.iter().map(weight).collect();
        let row = row(set, &weights, rest, kept).map(|(row, beta)| {
            let form = self.form_of_set(index, &by, beta);
            SetEquation { form, ..row }
        });
        self.weights[index] = weights;
        row
    }

    /// The scatter of one reading from what is left within the sets, begun with the usual scatter.
    fn learn_scatter(&mut self, rows: &[SetEquation]) {
        let table = &self.doubts.reading;
        let (start, weight) = (table.scatter.as_mm(), table.start_weight);
        let squares = weight * start * start + rows.iter().map(|row| row.squares).sum::<f64>();
        self.freedom = weight + rows.iter().map(|row| row.spare).sum::<f64>();
        self.scatter = (squares / self.freedom).sqrt().max(table.least_scatter.as_mm());
    }

    /// One step to the solution of the linear system at the present values.
    fn step(&mut self, rows: &[SetEquation], prior: &Prior) {
        let variance = self.scatter * self.scatter;
        let (mut matrix, mut right) = self.priors(prior);
        for SetEquation { form, weight, residual, .. } in rows {
            let certainty = weight / variance;
            for (place, (row, coefficient)) in form.iter().enumerate() {
                right[*row] += coefficient * residual * certainty;
                for (column, other) in &form[..=place] {
                    matrix.add(*row, *column, coefficient * other * certainty);
                }
            }
        }
        // Every unknown has a prior of its own, so the matrix is positive definite; a step that cannot be made is none.
        let Ok(factor) = matrix.factor() else {
            self.is_settled = false;
            return;
        };
        let mut step = factor.solve(&right);
        let load = &mut step[self.places.common];
        *load = load.clamp(-FURTHEST, FURTHEST);
        let moves =
            |row: &SetEquation| row.form.iter().map(|(place, by)| by * step[*place]).sum::<f64>().abs();
        self.is_settled = rows.iter().map(moves).fold(0.0, f64::max) < RESTLESS_MM;
        for (value, step) in self.theta.iter_mut().zip(&step) {
            *value += step;
        }
        let common = &self.theta[self.places.common..];
        let (falloff, belly) = (Share::fraction(common[FALLOFF]), Share::fraction(common[BELLY]));
        self.curve = self.curve.with_falloff(falloff).with_belly(belly);
        self.factor = factor;
    }

    /// The linear system of the priors alone at the present values.
    pub(super) fn priors(&self, prior: &Prior) -> (Skyline, Vec<f64>) {
        let mut matrix = Skyline::new(&self.places.first);
        let mut right = vec![0.0; self.places.count()];
        let mut pull = |matrix: &mut Skyline, place: usize, mean: f64, certainty: f64| {
            matrix.add(place, place, certainty);
            right[place] += certainty * (mean - self.theta[place]);
        };
        for place in &self.places.postures {
            let uncertainty = self.doubts.reading.posture.as_fraction();
            pull(&mut matrix, *place, 0.0, 1.0 / (uncertainty * uncertainty));
        }
        for place in self.places.contacts() {
            pull(&mut matrix, place, 0.0, 1.0 / (self.contact_uncertainty() * self.contact_uncertainty()));
        }
        for (spring, place) in self.places.labels() {
            let known = self.setup.spring(spring).map(|spring| label(spring, self.setup, self.doubts));
            let known = known.unwrap_or(Estimate::new(Share::ZERO, self.doubts.label));
            let (mean, uncertainty) = (known.value.as_fraction(), known.uncertainty.as_fraction());
            pull(&mut matrix, place, mean, 1.0 / (uncertainty * uncertainty));
        }
        for (condition, place) in self.places.conditions() {
            let uncertainty = self.shift(condition).uncertainty.as_fraction();
            pull(&mut matrix, place, 0.0, 1.0 / (uncertainty * uncertainty));
        }
        let common = self.places.common;
        for place in (0..COMMON).filter(|place| !TOGETHER.contains(place)) {
            pull(&mut matrix, common + place, prior.means[place], 1.0 / prior.variances[place]);
        }
        let away = TOGETHER.map(|place| prior.means[place] - self.theta[common + place]);
        for (row, weights) in prior.together.iter().enumerate() {
            for (column, weight) in weights.iter().enumerate() {
                right[common + TOGETHER[row]] += weight * away[column];
                if column <= row {
                    matrix.add(common + TOGETHER[row], common + TOGETHER[column], *weight);
                }
            }
        }
        (matrix, right)
    }
}

/// The mean of a set with these weights beside where it should be, and how much of what the indicator keeps is in it; none
/// where nothing in it counts.
fn row(set: &Seen, weights: &[f64], rest: f64, kept: f64) -> Option<(SetEquation, f64)> {
    let weight: f64 = weights.iter().sum();
    if weight <= 1e-6 {
        return None;
    }
    let mean = |of: &dyn Fn(&SeenReading) -> f64| {
        set.figures.iter().zip(weights).map(|(figure, weight)| weight * of(figure)).sum::<f64>() / weight
    };
    let (moved, beta) = (mean(&|figure| figure.moved), mean(&|figure| figure.kept));
    let squares = weight * mean(&|figure| (figure.moved - moved).powi(2));
    let residual = moved - rest - beta * kept;
    Some((
        SetEquation { form: LinearForm::new(), weight, residual, squares, spare: (weight - 1.0).max(0.0) },
        beta,
    ))
}

impl Belief<'_> {
    /// How the mean of a set answers to each unknown, in the order of their places.
    fn form_of_set(&self, index: usize, by: &Sensitivity, beta: f64) -> LinearForm {
        let set = &self.sets[index];
        let mut form = vec![(self.places.postures[index], by.per_log_load.as_mm())];
        form.extend(self.places.contact(set.mounting).map(|place| (place, by.per_preload.as_fraction())));
        form.extend(self.places.label(set.spring).map(|place| (place, by.per_log_rate.as_mm())));
        form.extend(self.shared(by, set.how));
        form.push((self.places.common + ring_place(set.how.indicator), beta));
        debug_assert!(ring_place(set.how.indicator) >= KEPT);
        form
    }
}
