//! What all sets together say of load, gas, leverage, indicator, labels, contact and posture.
//!
//! Unknown and Gaussian beforehand: ln W in the saddle (and another standing), the gas force, fall-off and belly of the
//! leverage curve, what the indicator keeps; one ln(rate/label) a spring tried, one place of contact a mounting, one
//! posture a set, one load a condition. A reading is the seated balance plus what the indicator keeps plus scatter. `prior` says what is known
//! before, `seen` what counts as a reading, `places` where each unknown stands, `learn` goes through the rounds. Not here:
//! what follows for other springs (`outcome`, `forecast`) and what to do (`choice`).

mod learn;
mod outcome;
mod places;
pub(crate) mod prior;
pub(crate) mod seen;

pub(super) use outcome::{Outcome, Sight};

use self::places::Places;
use self::prior::{BELLY, FALLOFF, GAS, KEPT, PUSHED, Prior, SEATED, STANDING, shift};
use self::seen::Seen;
use super::doubts::Doubts;
use super::forecast::RateSource;
use crate::mechanics::balance::Sensitivity;
use crate::mechanics::{LeverageCurve, SeatedBalance, Spring};
use crate::session::{
    Condition, ConditionNumber, FoundSpring, Indicator, Posture, ReadHow, ReadingNumber, Setup, SpringNumber,
};
use crate::statistics::{self, Factor, Information, Skyline, Solved};
use crate::units::{Estimate, Force, Length, Share, SpringRate};

/// A linear form of the unknowns: places with coefficients.
type LinearForm = Vec<(usize, f64)>;

/// The most probable values of all unknowns, with their joint uncertainty.
#[derive(Debug, Clone)]
pub(super) struct Belief<'a> {
    pub(super) setup: &'a Setup,
    pub(super) doubts: &'a Doubts,
    /// How readings are taken now: which load and which indicator a forecast is of.
    pub(super) how: ReadHow,
    pub(super) sets: Vec<Seen>,
    /// What was otherwise than at the intake.
    conditions: &'a [Condition],
    places: Places,
    theta: Vec<f64>,
    /// Of the normal matrix.
    factor: Factor,
    curve: LeverageCurve,
    /// Weight of each reading of each set.
    weights: Vec<Vec<f64>>,
    /// Standard deviation of one reading, in millimetres, and the degrees of freedom behind it.
    pub(super) scatter: f64,
    pub(super) freedom: f64,
    is_settled: bool,
}

/// Below this weight a reading stands more than three scatters off.
const APART: f64 = 0.35;

impl<'a> Belief<'a> {
    /// Learns from these sets.
    pub(super) fn from(
        setup: &'a Setup,
        sets: Vec<Seen>,
        how: ReadHow,
        conditions: &'a [Condition],
        doubts: &'a Doubts,
    ) -> Self {
        let places = Places::of(&sets, how.condition);
        let prior = Prior::of(setup, doubts);
        let mut theta = vec![0.0; places.count()];
        theta[places.common..].copy_from_slice(&prior.means);
        let base = prior::curve(setup, doubts);
        let falloff = Share::fraction(prior.means[FALLOFF]);
        let weights = sets.iter().map(|set| vec![1.0; set.figures.len()]).collect();
        let mut belief = Self {
            setup,
            doubts,
            how,
            sets,
            conditions,
            theta,
            factor: unit(places.count()),
            places,
            curve: base.with_falloff(falloff),
            weights,
            scatter: doubts.reading.scatter.as_mm(),
            freedom: doubts.reading.start_weight,
            is_settled: true,
        };
        if let Ok(factor) = belief.priors(&prior).0.factor() {
            belief.factor = factor;
        }
        if !belief.sets.is_empty() {
            belief.learn();
        }
        belief
    }

    /// The same belief with other prices and doubts from now on; what was learned stays.
    pub(super) fn priced_by<'b>(&self, doubts: &'b Doubts) -> Belief<'b>
    where
        'a: 'b,
    {
        Belief { doubts, ..self.clone() }
    }

    /// The sprung load of rider and bike as entered, in the posture of the moment.
    pub(super) fn load(&self) -> Estimate<Force> {
        let place = self.places.common + load_place(self.how.posture);
        let value = Force::newtons(self.theta[place].exp());
        Estimate::new(value, value * self.uncertainty(place))
    }

    /// The gas force.
    pub(super) fn gas(&self) -> Estimate<Force> {
        let place = self.places.common + GAS;
        Estimate::new(Force::newtons(self.theta[place]), Force::newtons(self.uncertainty(place)))
    }

    /// The linear fall-off of the leverage ratio.
    pub(super) fn falloff(&self) -> Estimate<Share> {
        let place = self.places.common + FALLOFF;
        Estimate::new(Share::fraction(self.theta[place]), Share::fraction(self.uncertainty(place)))
    }

    /// How far a dragged indicator stands beyond the rest.
    pub(super) fn kept(&self) -> Estimate<Length> {
        let place = self.places.common + KEPT;
        Estimate::new(Length::mm(self.theta[place]), Length::mm(self.uncertainty(place)))
    }

    /// How the doubts of two that every reading shares hang together: a correlation.
    pub(super) fn correlation(&self, one: usize, other: usize) -> Share {
        let form = |place: usize| self.factor.through(&[(self.places.common + place, 1.0)]);
        let (one, other) = (form(one), form(other));
        let scale = (one.with(&one) * other.with(&other)).sqrt();
        Share::fraction((one.with(&other) / scale).clamp(-1.0, 1.0))
    }

    /// The most probable leverage curve.
    pub(super) const fn curve(&self) -> &LeverageCurve {
        &self.curve
    }

    /// Whether the rounds came to rest.
    pub(super) const fn is_settled(&self) -> bool {
        self.is_settled
    }

    /// What is known of a spring that is not on the bike.
    pub(super) fn source(&self, spring: &Spring) -> RateSource {
        match self.places.label(spring.number) {
            Some(_) => RateSource::Measured,
            None if spring.learned().is_some() => RateSource::FoundBefore,
            None => RateSource::ByLabel,
        }
    }

    /// What the readings say of the rates of these springs together, all that was known of the springs before taken out
    /// again; none where one of them was not read.
    pub(super) fn information(&self, springs: &[SpringNumber]) -> Option<Information> {
        let places: Vec<usize> = springs.iter().map(|one| self.places.label(*one)).collect::<Option<_>>()?;
        let forms: Vec<_> = places.iter().map(|place| self.factor.through(&[(*place, 1.0)])).collect();
        let row = |one: &Solved| forms.iter().map(|other| one.with(other)).collect();
        let means: Vec<f64> = places.iter().map(|place| self.theta[*place]).collect();
        let covariance: Vec<Vec<f64>> = forms.iter().map(row).collect();
        let mut information = Information::of_law(&means, &covariance).ok()?;
        for (place, number) in springs.iter().enumerate() {
            let known = prior::label(self.setup.spring(*number)?, self.setup, self.doubts);
            let (value, uncertainty) = (known.value.as_fraction(), known.uncertainty.as_fraction());
            information.take_out(place, value, uncertainty).ok()?;
        }
        Some(information)
    }

    /// The most probable rate of a spring: its label, or what the readings make of it.
    pub(super) fn rate(&self, spring: &Spring) -> SpringRate {
        let known = || prior::label(spring, self.setup, self.doubts).value.as_fraction();
        let shift = self.places.label(spring.number).map_or_else(known, |place| self.theta[place]);
        spring.rate() * shift.exp()
    }

    /// A spring that was read as its readings have it.
    pub(super) fn found(&self, spring: &Spring) -> Option<FoundSpring> {
        let place = self.places.label(spring.number)?;
        let ratio = self.rate(spring) / spring.label;
        let ratio = Estimate::new(Share::fraction(ratio), Share::fraction(ratio * self.uncertainty(place)));
        Some(FoundSpring { label: spring.label, ratio })
    }

    /// The seat of a spring at this preload under the most probable load.
    pub(super) fn seat(&self, spring: &Spring, preload: Length) -> SeatedBalance<'_> {
        SeatedBalance {
            load: self.load_of(self.how),
            rate: self.rate(spring),
            stiffening: spring.stiffening(),
            preload,
            gas: Force::newtons(self.theta[self.places.common + GAS]),
            leverage: &self.curve,
        }
    }

    /// Readings that count and yet stand apart, with the number of their set.
    pub(super) fn apart(&self) -> impl Iterator<Item = (usize, ReadingNumber)> {
        let weighed = self.sets.iter().zip(&self.weights);
        weighed.flat_map(|(set, weights)| {
            let figures = set.figures.iter().zip(weights).filter(|(figure, _)| !figure.is_bound);
            figures.filter(|(_, weight)| **weight < APART).map(|(figure, _)| (set.number, figure.number))
        })
    }

    /// How many full readings those of the last set count for.
    pub(super) fn last_weight(&self) -> f64 {
        self.weights.last().map_or(0.0, |weights| weights.iter().sum())
    }

    /// Standard uncertainty of where a mounting has contact, in millimetres, by the rectangular law.
    pub(super) fn contact_uncertainty(&self) -> f64 {
        let half_width = self.setup.shock.preload(self.doubts.reading.contact).as_mm();
        statistics::rectangular_uncertainty(half_width).unwrap_or_default().max(1e-9)
    }

    /// The load of the rider so on the bike, what the condition does to it with it.
    fn load_of(&self, how: ReadHow) -> Force {
        let known = self.theta[self.places.common + load_place(how.posture)];
        let learned = self.places.condition(how.condition).map_or(0.0, |place| self.theta[place]);
        Force::newtons((known + self.shift(how.condition).value.as_fraction() + learned).exp())
    }

    /// What is known of a condition before its readings: how much it adds to ln W, and how far off that may be.
    fn shift(&self, condition: ConditionNumber) -> Estimate<Share> {
        condition.on(self.conditions).map_or(Estimate::new(Share::ZERO, Share::ZERO), |condition| {
            shift(condition, self.setup, self.doubts)
        })
    }

    fn uncertainty(&self, place: usize) -> f64 {
        let form = self.factor.through(&[(place, 1.0)]);
        form.with(&form).sqrt()
    }

    /// Where a set should rest at the present values, in millimetres, and how that answers to each cause.
    fn rest_of(&self, index: usize) -> (f64, Sensitivity) {
        let set = &self.sets[index];
        let contact = self.places.contact(set.mounting).map_or(0.0, |place| self.theta[place]);
        let preload = self.setup.shock.preload(set.preload_turns) + Length::mm(contact);
        let unknown = Spring::labelled(set.spring, SpringRate::n_per_mm(1.0));
        let spring = self.setup.spring(set.spring).unwrap_or(&unknown);
        let posture = self.theta[self.places.postures[index]];
        let load = self.load_of(set.how) * posture.exp();
        let seated = SeatedBalance { load, ..self.seat(spring, preload) };
        let used = seated.stroke_used();
        (used.as_mm(), seated.sensitivity(used))
    }

    /// The part of a form that hangs on what every reading shares, the indicator aside.
    fn shared(&self, by: &Sensitivity, how: ReadHow) -> impl Iterator<Item = (usize, f64)> + use<> {
        let common = self.places.common;
        let condition = self.places.condition(how.condition).map(|place| (place, by.per_log_load.as_mm()));
        condition.into_iter().chain([
            (common + load_place(how.posture), by.per_log_load.as_mm()),
            (common + GAS, by.per_newton.as_mm()),
            (common + FALLOFF, by.per_falloff.as_mm()),
            (common + BELLY, by.per_belly.as_mm()),
        ])
    }
}

const fn load_place(posture: Posture) -> usize {
    match posture {
        Posture::Seated => SEATED,
        Posture::Standing => STANDING,
    }
}

const fn ring_place(indicator: Indicator) -> usize {
    match indicator {
        Indicator::Kept => KEPT,
        Indicator::Pushed => PUSHED,
    }
}

/// The factor of a matrix of ones, where nothing is known yet.
fn unit(count: usize) -> Factor {
    let mut matrix = Skyline::new(&(0..count).collect::<Vec<_>>());
    (0..count).for_each(|place| matrix.add(place, place, 1.0));
    matrix.factor().unwrap_or_else(|_| unreachable!("ones are positive"))
}
