//! What all sets together say about the load, the fall-off of the leverage and every spring's label.
//!
//! Unknowns: ln W, the fall-off c, and one ln(rate/label) for every physical spring that was measured. Gaussian
//! priors; readings enter through the seated balance; Gauss-Newton to the most probable values, covariance from the
//! normal matrix (Tarantola, Inverse Problem Theory, 2005, chapter 3; from memory). A dozen unknowns, a dense Cholesky
//! solve. Not here: predictions for other springs (`forecast`).

use super::doubts::Doubts;
use super::evidence::{self, SetFinding};
use crate::mechanics::{LeverageCurve, SeatedBalance, Spring, SpringNumber};
use crate::session::{LeverageKnowledge, Setup};
use crate::statistics::{self, Cholesky};
use crate::units::quantity::GRAVITY;
use crate::units::{Estimate, Force, Length, Share, SpringRate};

/// The most probable load, fall-off and labels, with their joint uncertainty.
#[derive(Debug, Clone)]
pub struct Posterior {
    curve: LeverageCurve,
    springs: Vec<SpringNumber>,
    /// ln W (newtons), c, then ln(rate/label) a measured spring.
    values: Vec<f64>,
    /// Covariance of the values, row after row.
    covariance: Vec<f64>,
    /// Strokes used in the sets, for telling how far a forecast reaches.
    pub(super) strokes: Vec<f64>,
    /// Whether the sets go together.
    pub agreement: Agreement,
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

const LOAD: usize = 0;
const FALLOFF: usize = 1;
const FIRST_LABEL: usize = 2;
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
    let prior = Prior::of(setup, &springs, doubts);
    let mut posterior = Posterior {
        curve: evidence::prior_curve(setup, doubts),
        values: prior.means.clone(),
        covariance: Vec::new(),
        strokes: sets.iter().map(|set| set.moved.value.as_mm()).collect(),
        springs,
        agreement: Agreement::Together,
    };
    let known = Evidence { setup, sets, doubts, prior: &prior };
    posterior.settle(&known);
    posterior.agreement = posterior.judge(&known);
    posterior
}

/// Everything the unknowns are held against.
struct Evidence<'a> {
    setup: &'a Setup,
    sets: &'a [SetFinding],
    doubts: &'a Doubts,
    prior: &'a Prior,
}

/// Gaussian priors of the unknowns, independent of each other.
struct Prior {
    means: Vec<f64>,
    deviations: Vec<f64>,
}

impl Prior {
    fn of(setup: &Setup, springs: &[SpringNumber], doubts: &Doubts) -> Self {
        let load = load_before_reading(setup, doubts);
        let relative = load.uncertainty / load.value;
        let base = evidence::prior_curve(setup, doubts);
        let mut means = vec![load.value.as_newtons().ln(), base.falloff().as_fraction()];
        let mut deviations = vec![relative, falloff_doubt(setup, doubts)];
        for number in springs {
            let doubt = setup.spring(*number).map_or(doubts.label, |spring| label_doubt(spring, doubts));
            means.push(0.0);
            deviations.push(doubt.as_fraction());
        }
        Self { means, deviations }
    }
}

/// The sprung load before any reading: shares of rider and bike, or a scale under the wheel where it was tried.
pub fn load_before_reading(setup: &Setup, doubts: &Doubts) -> Estimate<Force> {
    let table = &doubts.load;
    let unsprung = Estimate::new(table.unsprung.as_kg(), table.unsprung_doubt.as_kg());
    let (mass, doubt) = if let Some(load) = setup.wheel_load {
        let shown = load.shown;
        (shown.value.as_kg() - unsprung.value, shown.uncertainty.as_kg().hypot(unsprung.uncertainty))
    } else {
        let bike = (setup.bike.as_kg() - unsprung.value).max(1.0);
        let share = table.bike_share.as_fraction();
        let mass = table.rider_share.as_fraction() * setup.rider.as_kg() + share * bike;
        let by_rider = table.rider_share_doubt.as_fraction() * setup.rider.as_kg();
        (mass, by_rider.hypot(share * unsprung.uncertainty))
    };
    // A scale that shows less than the wheel weighs is a wrong entry; a small load keeps the figures finite.
    Estimate::new(Force::newtons(GRAVITY * mass.max(5.0)), Force::newtons(GRAVITY * doubt.max(0.1)))
}

/// Standard uncertainty of ln(rate) of a spring: its label's, or that of whoever measured it.
pub(super) fn label_doubt(spring: &Spring, doubts: &Doubts) -> Share {
    spring.measured.map_or(doubts.label, |measured| Share::fraction(measured.uncertainty / measured.value))
}

fn falloff_doubt(setup: &Setup, doubts: &Doubts) -> f64 {
    let doubt = match setup.leverage {
        LeverageKnowledge::TravelOnly => doubts.leverage.travel_only,
        LeverageKnowledge::Ends { .. } => doubts.leverage.ends,
        LeverageKnowledge::Measured(_) => doubts.leverage.measured,
    };
    doubt.as_fraction()
}

impl Posterior {
    /// The sprung load.
    pub fn load(&self) -> Estimate<Force> {
        let value = Force::newtons(self.values[LOAD].exp());
        Estimate::new(value, value * self.variance(LOAD, LOAD).sqrt())
    }

    /// The linear fall-off of the leverage ratio.
    pub fn falloff(&self) -> Estimate<Share> {
        let deviation = self.variance(FALLOFF, FALLOFF).sqrt();
        Estimate::new(Share::fraction(self.values[FALLOFF]), Share::fraction(deviation))
    }

    /// The most probable leverage curve.
    pub fn curve(&self) -> LeverageCurve {
        self.curve.with_falloff(Share::fraction(self.values[FALLOFF]))
    }

    /// Whether sets were taken with this spring.
    pub fn knows(&self, spring: SpringNumber) -> bool {
        self.springs.contains(&spring)
    }

    /// The most probable rate of a spring: its label, or what the readings make of it.
    pub fn rate(&self, spring: &Spring) -> SpringRate {
        let shift = self.label_place(spring.number).map_or(0.0, |place| self.values[place]);
        spring.rate() * shift.exp()
    }

    /// Where a spring comes to rest at this preload.
    pub(super) fn predict(&self, spring: &Spring, preload: Length, doubts: &Doubts) -> Prediction {
        let curve = self.curve();
        let balance = SeatedBalance {
            load: Force::newtons(self.values[LOAD].exp()),
            rate: self.rate(spring),
            preload,
            leverage: &curve,
        };
        let used = balance.stroke_used();
        let by = balance.sensitivity(used);
        let mut gradient = vec![0.0; self.values.len()];
        gradient[LOAD] = by.per_log_load.as_mm();
        gradient[FALLOFF] = by.per_falloff.as_mm();
        let own = by.per_log_rate.as_mm();
        let new_label = match self.label_place(spring.number) {
            Some(place) => {
                gradient[place] = own;
                0.0
            }
            None => (own * label_doubt(spring, doubts).as_fraction()).powi(2),
        };
        Prediction {
            used: used.as_mm(),
            variance: self.along(&gradient) + new_label,
            per_preload: by.per_preload.as_fraction(),
        }
    }

    /// Relative variance of the rate that would rest at `used`: of `W L(x) / x`.
    pub(super) fn wanted_variance(&self, used: Length) -> f64 {
        let ratio = self.curve().ratio(used).value();
        let mut gradient = vec![0.0; self.values.len()];
        gradient[LOAD] = 1.0;
        gradient[FALLOFF] = self.curve.falloff_effect(used).value() / ratio;
        self.along(&gradient)
    }

    fn label_place(&self, spring: SpringNumber) -> Option<usize> {
        self.springs.binary_search(&spring).ok().map(|index| FIRST_LABEL + index)
    }

    fn variance(&self, row: usize, column: usize) -> f64 {
        self.covariance[row * self.values.len() + column]
    }

    /// gᵀ C g; most entries of a gradient are zero.
    fn along(&self, gradient: &[f64]) -> f64 {
        let filled: Vec<(usize, f64)> =
            gradient.iter().copied().enumerate().filter(|(_, slope)| *slope != 0.0).collect();
        let row = |&(row, slope): &(usize, f64)| {
            filled.iter().map(|&(column, other)| slope * other * self.variance(row, column)).sum::<f64>()
        };
        filled.iter().map(row).sum::<f64>().max(0.0)
    }

    /// Gauss-Newton from the priors; the balance is nearly linear in these unknowns, so a few rounds do.
    fn settle(&mut self, known: &Evidence<'_>) {
        let order = self.values.len();
        for _ in 0..MOST_ROUNDS {
            let (matrix, right) = self.normal_equations(known);
            // Priors make the matrix positive definite whatever the readings say.
            let Ok(factor) = Cholesky::factor(matrix, order) else { break };
            let Ok(step) = factor.solve(&right) else { break };
            for (value, step) in self.values.iter_mut().zip(&step) {
                *value += step.clamp(-0.5, 0.5);
            }
            if step.iter().all(|step| step.abs() < CLOSE_ENOUGH) {
                break;
            }
        }
        self.covariance = self.spread_now(known);
    }

    fn spread_now(&self, known: &Evidence<'_>) -> Vec<f64> {
        let (matrix, _) = self.normal_equations(known);
        let order = self.values.len();
        Cholesky::factor(matrix, order).and_then(|factor| factor.inverse()).unwrap_or_else(|_| {
            let mut spread = vec![0.0; order * order];
            for (index, deviation) in known.prior.deviations.iter().enumerate() {
                spread[index * order + index] = deviation.powi(2);
            }
            spread
        })
    }

    /// Priors and readings as one linear system for the next step.
    fn normal_equations(&self, known: &Evidence<'_>) -> (Vec<f64>, Vec<f64>) {
        let order = self.values.len();
        let (mut matrix, mut right) = (vec![0.0; order * order], vec![0.0; order]);
        for index in 0..order {
            let weight = known.prior.deviations[index].powi(-2);
            matrix[index * order + index] += weight;
            right[index] += weight * (known.prior.means[index] - self.values[index]);
        }
        let curve = self.curve();
        for set in known.sets {
            let Some(row) = self.row(set, known, &curve) else { continue };
            for &(i, slope) in &row.slopes {
                right[i] += slope * row.residual / row.variance;
                for &(j, other) in &row.slopes {
                    matrix[i * order + j] += slope * other / row.variance;
                }
            }
        }
        (matrix, right)
    }

    /// One set's residual, its variance, and how the prediction answers to each unknown.
    fn row(&self, set: &SetFinding, known: &Evidence<'_>, curve: &LeverageCurve) -> Option<Row> {
        let spring = known.setup.spring(set.spring)?;
        let place = self.label_place(set.spring)?;
        let balance = SeatedBalance {
            load: Force::newtons(self.values[LOAD].exp()),
            rate: self.rate(spring),
            preload: known.setup.shock.preload(set.past_contact),
            leverage: curve,
        };
        let used = balance.stroke_used();
        let by = balance.sensitivity(used);
        let contact = contact_doubt(known.setup, known.doubts) * by.per_preload.as_fraction();
        Some(Row {
            residual: (set.moved.value - used).as_mm(),
            variance: set.moved.uncertainty.as_mm().powi(2) + contact.powi(2),
            slopes: [
                (LOAD, by.per_log_load.as_mm()),
                (FALLOFF, by.per_falloff.as_mm()),
                (place, by.per_log_rate.as_mm()),
            ],
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
        let standardised: Vec<(usize, f64)> =
            rows.map(|(number, row)| (number, row.residual.powi(2) / row.variance)).collect();
        let strain = |index: usize| {
            ((self.values[index] - known.prior.means[index]) / known.prior.deviations[index]).powi(2)
        };
        let labels: f64 = (0..self.values.len()).map(strain).sum();
        let total = standardised.iter().map(|(_, square)| square).sum::<f64>() + labels;
        let tail = statistics::chi_square_upper_tail(total, standardised.len() as f64).unwrap_or(1.0);
        let Some((set, worst)) = standardised.into_iter().max_by(|one, other| one.1.total_cmp(&other.1))
        else {
            return Agreement::Together;
        };
        let limit = known.doubts.reading.stands_apart;
        if worst > limit.powi(2) || tail < 1.0 - known.doubts.reading.disagree.as_fraction() {
            Agreement::Apart { set }
        } else {
            Agreement::Together
        }
    }
}

struct Row {
    residual: f64,
    variance: f64,
    slopes: [(usize, f64); 3],
}

/// Standard uncertainty of the preload, in millimetres: where contact was called, by the rectangular law.
pub(super) fn contact_doubt(setup: &Setup, doubts: &Doubts) -> f64 {
    setup.shock.preload(doubts.reading.contact).as_mm() / 3f64.sqrt()
}
