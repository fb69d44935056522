//! What all sets together say about the load, the fall-off of the leverage and every spring's label.
//!
//! Unknowns: ln W, the fall-off c, and one ln(rate/label) for every physical spring that was measured. Gaussian
//! priors; readings enter through the seated balance; Gauss-Newton to the most probable values, covariance from the
//! normal matrix (Tarantola, Inverse Problem Theory, 2005, chapter 3; from memory). Not here: predictions for other springs (`forecast`).

use super::doubts::Doubts;
use super::evidence::{self, SetFinding};
use super::prior::{LoadAndFalloff, Prior, along, dot, inverse, label_uncertainty};
use crate::mechanics::{LeverageCurve, SeatedBalance, Spring, SpringNumber};
use crate::session::Setup;
use crate::statistics;
use crate::units::{Estimate, Force, Length, Share, SpringRate};

/// The most probable load, fall-off and labels, with their joint uncertainty.
#[derive(Debug, Clone)]
pub struct Posterior {
    curve: LeverageCurve,
    /// ln W (newtons) and c.
    common: LoadAndFalloff,
    /// Covariance of those two.
    covariance: [LoadAndFalloff; 2],
    /// One a spring that was measured, in order of its number.
    labels: Vec<LabelError>,
    /// Strokes used in the sets, for telling how far a forecast reaches.
    pub(super) strokes: Vec<f64>,
    /// Whether the sets go together.
    pub agreement: Agreement,
}

/// What was learned of one spring's label: ln(rate/label).
#[derive(Debug, Clone, Copy)]
struct LabelError {
    spring: SpringNumber,
    value: f64,
    variance: f64,
    /// Covariance with ln W and c.
    with_common: LoadAndFalloff,
}

/// Whether the sets go together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Agreement {
    /// They do, or there is nothing to compare.
    Together,
    /// They do not; the set of this number (from one) is furthest from where the others put it.
    Apart {
        /// The number of the set.
        set: usize,
    },
}

const MOST_ROUNDS: usize = 12;
/// A step this small, in logarithms and shares, moves no sag by a hundredth of a millimetre.
const CLOSE_ENOUGH: f64 = 1e-7;

/// Where one spring comes to rest under the most probable load, with what the stroke used hangs on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Prediction {
    pub(super) used: f64,
    /// Variance of the stroke used from load, fall-off and label together.
    pub(super) variance: f64,
    /// Millimetres of stroke per millimetre of preload.
    pub(super) per_preload: f64,
}

/// Learns from all sets.
pub fn learn(setup: &Setup, sets: &[SetFinding], doubts: &Doubts) -> Posterior {
    let mut springs: Vec<SpringNumber> = sets.iter().map(|set| set.spring).collect();
    springs.sort_unstable();
    springs.dedup();
    let known = Evidence { setup, sets, doubts, prior: Prior::of(setup, doubts) };
    let label = |spring| LabelError {
        spring,
        value: 0.0,
        variance: known.label_variance(spring),
        with_common: [0.0; 2],
    };
    let mut posterior = Posterior {
        curve: evidence::prior_curve(setup, doubts),
        common: known.prior.means,
        covariance: known.prior.covariance,
        labels: springs.into_iter().map(label).collect(),
        strokes: sets.iter().map(|set| set.average.value.as_mm()).collect(),
        agreement: Agreement::Together,
    };
    posterior.settle(&known);
    posterior.agreement = posterior.judge(&known);
    posterior
}

/// Everything the unknowns are held against.
struct Evidence<'a> {
    setup: &'a Setup,
    sets: &'a [SetFinding],
    doubts: &'a Doubts,
    prior: Prior,
}

impl Evidence<'_> {
    /// Variance of ln(rate/label) before any reading.
    fn label_variance(&self, spring: SpringNumber) -> f64 {
        let known = self.setup.spring(spring).map(|spring| label_uncertainty(spring, self.doubts));
        // A measured rate said to be exact would leave nothing to learn; a millionth keeps the system regular.
        known.unwrap_or(self.doubts.label).as_fraction().max(1e-6).powi(2)
    }
}

impl Posterior {
    /// The sprung load.
    pub fn load(&self) -> Estimate<Force> {
        let value = Force::newtons(self.common[0].exp());
        Estimate::new(value, value * self.covariance[0][0].sqrt())
    }

    /// The linear fall-off of the leverage ratio.
    pub fn falloff(&self) -> Estimate<Share> {
        let deviation = self.covariance[1][1].sqrt();
        Estimate::new(Share::fraction(self.common[1]), Share::fraction(deviation))
    }

    /// How the doubts of load and fall-off hang together.
    pub fn correlation(&self) -> Share {
        let scale = (self.covariance[0][0] * self.covariance[1][1]).sqrt();
        Share::fraction((self.covariance[0][1] / scale).clamp(-1.0, 1.0))
    }

    /// The most probable leverage curve.
    pub fn curve(&self) -> LeverageCurve {
        self.curve.with_falloff(Share::fraction(self.common[1]))
    }

    /// Whether sets were taken with this spring.
    pub fn knows(&self, spring: SpringNumber) -> bool {
        self.label(spring).is_some()
    }

    /// The most probable rate of a spring: its label, or what the readings make of it.
    pub fn rate(&self, spring: &Spring) -> SpringRate {
        let shift = self.label(spring.number).map_or(0.0, |label| label.value);
        spring.rate() * shift.exp()
    }

    /// Where a spring comes to rest at this preload.
    pub(super) fn predict(&self, spring: &Spring, preload: Length, doubts: &Doubts) -> Prediction {
        let curve = self.curve();
        let balance =
            SeatedBalance { load: self.load().value, rate: self.rate(spring), preload, leverage: &curve };
        let used = balance.stroke_used();
        let by = balance.sensitivity(used);
        let gradient = [by.per_log_load.as_mm(), by.per_falloff.as_mm()];
        let own = by.per_log_rate.as_mm();
        let by_label = match self.label(spring.number) {
            Some(label) => own * own * label.variance + 2.0 * own * dot(gradient, label.with_common),
            None => (own * label_uncertainty(spring, doubts).as_fraction()).powi(2),
        };
        Prediction {
            used: used.as_mm(),
            variance: (along(self.covariance, gradient) + by_label).max(0.0),
            per_preload: by.per_preload.as_fraction(),
        }
    }

    /// Relative variance of the rate that would rest at `used`: of `W L(x) / x`.
    pub(super) fn needed_variance(&self, used: Length) -> f64 {
        let curve = self.curve();
        along(self.covariance, [1.0, curve.falloff_effect(used).value() / curve.ratio(used).value()])
    }

    fn label_place(&self, spring: SpringNumber) -> Option<usize> {
        self.labels.binary_search_by_key(&spring, |label| label.spring).ok()
    }

    fn label(&self, spring: SpringNumber) -> Option<&LabelError> {
        self.label_place(spring).map(|place| &self.labels[place])
    }

    /// Gauss-Newton from the priors; the balance is nearly linear in these unknowns, so a few rounds do.
    fn settle(&mut self, known: &Evidence<'_>) {
        for _ in 0..MOST_ROUNDS {
            if self.step(known) < CLOSE_ENOUGH {
                return;
            }
        }
    }

    /// One step to the solution of the linear system at the present values, with the covariance there; its size.
    ///
    /// Every label hangs on the common unknowns and on nothing else, so the normal matrix is an arrow: the labels are
    /// eliminated one by one (Schur complement; any textbook of numerical linear algebra), two unknowns are solved for,
    /// and the labels follow. That makes the work grow with the sets and not with their cube.
    fn step(&mut self, known: &Evidence<'_>) -> f64 {
        let (blocks, mut matrix, mut right) = self.normal_equations(known);
        for block in &blocks {
            for row in 0..2 {
                right[row] -= block.coupling[row] * block.right / block.own;
                for (column, other) in block.coupling.iter().enumerate() {
                    matrix[row][column] -= block.coupling[row] * other / block.own;
                }
            }
        }
        let covariance = inverse(matrix);
        let common = [dot(covariance[0], right), dot(covariance[1], right)].map(|step| step.clamp(-0.5, 0.5));
        let mut size = 0f64;
        for (value, step) in self.common.iter_mut().zip(common) {
            *value += step;
            size = size.max(step.abs());
        }
        for (label, block) in self.labels.iter_mut().zip(&blocks) {
            let step = ((block.right - dot(block.coupling, common)) / block.own).clamp(-0.5, 0.5);
            size = size.max(step.abs());
            let pull = block.coupling.map(|coupling| -coupling / block.own);
            label.value += step;
            label.with_common = [dot(covariance[0], pull), dot(covariance[1], pull)];
            label.variance = 1.0 / block.own + along(covariance, pull);
        }
        self.covariance = covariance;
        size
    }

    /// Priors and readings as one linear system for the next step: a block a label, and what the common unknowns share.
    fn normal_equations(&self, known: &Evidence<'_>) -> (Vec<SetBlock>, [LoadAndFalloff; 2], LoadAndFalloff) {
        let prior = &known.prior;
        let away = self.away_from(prior);
        let mut matrix = prior.weights;
        let mut right = [-dot(prior.weights[0], away), -dot(prior.weights[1], away)];
        let opening = |label: &LabelError| {
            let weight = 1.0 / known.label_variance(label.spring);
            SetBlock { own: weight, coupling: [0.0; 2], right: -weight * label.value }
        };
        let mut blocks: Vec<SetBlock> = self.labels.iter().map(opening).collect();
        let curve = self.curve();
        for set in known.sets {
            let Some(row) = self.row(set, known, &curve) else { continue };
            let block = &mut blocks[row.label];
            block.own += row.by_label * row.by_label / row.variance;
            block.right += row.by_label * row.residual / row.variance;
            for index in 0..2 {
                block.coupling[index] += row.by_label * row.by_common[index] / row.variance;
                right[index] += row.by_common[index] * row.residual / row.variance;
                for (column, other) in row.by_common.iter().enumerate() {
                    matrix[index][column] += row.by_common[index] * other / row.variance;
                }
            }
        }
        (blocks, matrix, right)
    }

    /// One set's residual, its variance, and how the prediction answers to each unknown.
    fn row(&self, set: &SetFinding, known: &Evidence<'_>, curve: &LeverageCurve) -> Option<SetEquation> {
        let spring = known.setup.spring(set.spring)?;
        let label = self.label_place(set.spring)?;
        let balance = SeatedBalance {
            load: Force::newtons(self.common[0].exp()),
            rate: self.rate(spring),
            preload: known.setup.shock.preload(set.preload_turns),
            leverage: curve,
        };
        let used = balance.stroke_used();
        let by = balance.sensitivity(used);
        let contact = contact_uncertainty(known.setup, known.doubts) * by.per_preload.as_fraction();
        Some(SetEquation {
            residual: (set.average.value - used).as_mm(),
            variance: set.average.uncertainty.as_mm().powi(2) + contact.powi(2),
            by_common: [by.per_log_load.as_mm(), by.per_falloff.as_mm()],
            by_label: by.per_log_rate.as_mm(),
            label,
        })
    }

    /// Whether the sets go together: the residuals of sets and priors by chi-square, one degree of freedom a set, and
    /// each set by itself.
    fn judge(&self, known: &Evidence<'_>) -> Agreement {
        if known.sets.len() < 2 {
            return Agreement::Together;
        }
        let curve = self.curve();
        let rows = known.sets.iter().filter_map(|set| Some((set.number, self.row(set, known, &curve)?)));
        let squares: Vec<(usize, f64)> =
            rows.map(|(number, row)| (number, row.residual.powi(2) / row.variance)).collect();
        let total = squares.iter().map(|(_, square)| square).sum::<f64>() + self.strain(known);
        // The chi-square functions take up to 199 degrees of freedom; beyond, a set by itself still shows.
        let tail = statistics::chi_square_upper_tail(total, squares.len() as f64).unwrap_or(1.0);
        let Some((set, worst)) = squares.into_iter().max_by(|one, other| one.1.total_cmp(&other.1)) else {
            return Agreement::Together;
        };
        let limit = known.doubts.reading.stands_apart;
        if worst > limit.powi(2) || tail < 1.0 - known.doubts.reading.disagree.as_fraction() {
            Agreement::Apart { set }
        } else {
            Agreement::Together
        }
    }

    /// How far the values were pulled from their priors, as a sum of squares in standard deviations.
    fn strain(&self, known: &Evidence<'_>) -> f64 {
        let labels = self.labels.iter().map(|label| label.value.powi(2) / known.label_variance(label.spring));
        along(known.prior.weights, self.away_from(&known.prior)) + labels.sum::<f64>()
    }

    fn away_from(&self, prior: &Prior) -> LoadAndFalloff {
        [0, 1].map(|index| self.common[index] - prior.means[index])
    }
}

/// What the sets of one spring say of its label, and how that hangs on the common unknowns.
struct SetBlock {
    own: f64,
    coupling: LoadAndFalloff,
    right: f64,
}

struct SetEquation {
    residual: f64,
    variance: f64,
    by_common: LoadAndFalloff,
    by_label: f64,
    /// Place of the label among the labels.
    label: usize,
}

/// Standard uncertainty of the preload, in millimetres: where contact was called, by the rectangular law.
pub(super) fn contact_uncertainty(setup: &Setup, doubts: &Doubts) -> f64 {
    let half_width = setup.shock.preload(doubts.reading.contact).as_mm();
    statistics::rectangular_uncertainty(half_width).unwrap_or_default()
}
