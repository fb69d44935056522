//! Where a spring at a collar position would rest, and how that hangs on what is known: the sag to come, not a reading of it.
//!
//! The standing spring keeps its own place of contact; one to be fitted gets a new one, and one never tried its label. What
//! the indicator keeps and how the rider happened to sit are no part of it. Not here: chances (`choice`).

use super::prior::Prior;
use super::seen::Seen;
use super::{Belief, LinearForm, ring_place};
use crate::mechanics::Spring;
use crate::session::Indicator;
use crate::statistics::Solved;
use crate::units::{Estimate, Length, Share, SpringRate, Turns};

/// The rest of one spring at one collar position.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::assessment) struct Outcome {
    /// Stroke used, in millimetres.
    pub(in crate::assessment) used: f64,
    /// Its variance, what is its own included.
    pub(in crate::assessment) variance: f64,
    /// Millimetres per unit of ln W.
    per_load: f64,
    form: LinearForm,
    solved: Solved,
    /// What the label and the contact of a spring not tried yet add, in millimetres.
    own: [f64; 2],
}

impl Outcome {
    /// What the label and the contact of a spring not tried yet add to the variance.
    pub(in crate::assessment) fn own_variance(&self) -> f64 {
        self.own[0].powi(2) + self.own[1].powi(2)
    }

    /// How its doubt hangs together with that of something seen.
    pub(in crate::assessment) fn with(&self, sight: &Sight) -> f64 {
        self.solved.with(&sight.solved) + self.own[0] * sight.own[0] + self.own[1] * sight.own[1]
    }
}

/// A reading to come, or the mean of a few.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::assessment) struct Sight {
    solved: Solved,
    own: [f64; 2],
    /// Where it should be, in millimetres.
    pub(in crate::assessment) mean: f64,
    /// Its variance.
    pub(in crate::assessment) variance: f64,
    /// The part of that which nothing else shares.
    pub(in crate::assessment) noise: f64,
}

impl Sight {
    /// How it hangs together with what is seen of the same spring, or of what every spring shares.
    pub(in crate::assessment) fn along(&self, other: &Self) -> f64 {
        self.solved.with(&other.solved) + self.own[0] * other.own[0] + self.own[1] * other.own[1]
    }

    /// How it hangs together with another of another spring.
    pub(in crate::assessment) fn with(&self, other: &Self) -> f64 {
        self.solved.with(&other.solved)
    }
}

impl Belief<'_> {
    /// The rest of a spring with the collar this far past contact; `mounting` where it stands already.
    pub(in crate::assessment) fn outcome(
        &self,
        spring: &Spring,
        turns: Turns,
        mounting: Option<u16>,
    ) -> Outcome {
        let contact = mounting.and_then(|mounting| self.places.contact(mounting));
        let called = contact.map_or(0.0, |place| self.theta[place]);
        let seat = self.seat(spring, self.setup.shock.preload(turns) + Length::mm(called));
        let used = seat.stroke_used();
        let by = seat.sensitivity(used);
        let label = self.places.label(spring.number);
        let mut form: LinearForm = self.shared(&by, self.how).collect();
        form.extend(label.map(|place| (place, by.per_log_rate.as_mm())));
        form.extend(contact.map(|place| (place, by.per_preload.as_fraction())));
        let own_label = if label.is_some() {
            0.0
        } else {
            by.per_log_rate.as_mm()
                * super::prior::label(spring, self.setup, self.doubts).uncertainty.as_fraction()
        };
        let own_contact =
            if contact.is_some() { 0.0 } else { by.per_preload.as_fraction() * self.contact_uncertainty() };
        let solved = self.factor.through(&form);
        let variance = (solved.with(&solved) + own_label.powi(2) + own_contact.powi(2)).max(1e-8);
        let per_load = by.per_log_load.as_mm();
        Outcome { used: used.as_mm(), variance, per_load, form, solved, own: [own_label, own_contact] }
    }

    /// The mean of so many readings to come of a spring newly fitted.
    pub(in crate::assessment) fn sight_of_new(&self, outcome: &Outcome, readings: f64) -> Sight {
        let posture = outcome.per_load * self.doubts.reading.posture.as_fraction();
        let noise = self.scatter * self.scatter / readings + posture * posture;
        self.sight(outcome, None, self.how.indicator, noise)
    }

    /// One more reading of the set that was seen last.
    pub(in crate::assessment) fn sight_of_last(&self, outcome: &Outcome) -> Sight {
        let posture = self.places.postures.last().map(|place| (*place, outcome.per_load));
        let indicator = self.sets.last().map_or(self.how.indicator, |set| set.how.indicator);
        self.sight(outcome, posture, indicator, self.scatter * self.scatter)
    }

    /// The first mean of a set that is not among those learned from.
    pub(in crate::assessment) fn sight_of(&self, outcome: &Outcome, set: &Seen) -> Sight {
        let posture = outcome.per_load * self.doubts.reading.posture.as_fraction();
        let noise = self.scatter * self.scatter / set.figures.len() as f64 + posture * posture;
        self.sight(outcome, None, set.how.indicator, noise)
    }

    /// A reading of the spring on the bike in a set of its own, a helper pushing the indicator to the seal.
    pub(in crate::assessment) fn sight_of_pushed(&self, outcome: &Outcome) -> Sight {
        let posture = outcome.per_load * self.doubts.reading.posture.as_fraction();
        self.sight(outcome, None, Indicator::Pushed, self.scatter * self.scatter + posture * posture)
    }

    /// Something every reading shares, were it known beforehand to this uncertainty; none where it is known as well already.
    pub(in crate::assessment) fn sight_of_shared(&self, place: usize, uncertainty: f64) -> Option<Sight> {
        let before = Prior::of(self.setup, self.doubts).variances[place];
        self.sight_of_place(self.places.common + place, before, uncertainty * uncertainty)
    }

    /// The rate of a spring, were it measured to this part of itself.
    pub(in crate::assessment) fn sight_of_rate(&self, spring: &Spring, uncertainty: f64) -> Option<Sight> {
        let known = super::prior::label(spring, self.setup, self.doubts).uncertainty.as_fraction();
        let (before, after) = (known * known, uncertainty * uncertainty);
        if let Some(place) = self.places.label(spring.number) {
            return self.sight_of_place(place, before, after);
        }
        // Its label is its own; it is told in standard uncertainties of it.
        let noise = noise_between(before, after)? / before;
        let solved = self.factor.through(&[(self.places.common, 0.0)]);
        Some(Sight { solved, own: [1.0, 0.0], mean: 0.0, variance: 1.0 + noise, noise })
    }

    fn sight_of_place(&self, place: usize, before: f64, after: f64) -> Option<Sight> {
        let noise = noise_between(before, after)?;
        let solved = self.factor.through(&[(place, 1.0)]);
        let variance = solved.with(&solved) + noise;
        Some(Sight { solved, own: [0.0; 2], mean: self.theta[place], variance, noise })
    }

    fn sight(
        &self,
        outcome: &Outcome,
        posture: Option<(usize, f64)>,
        indicator: Indicator,
        noise: f64,
    ) -> Sight {
        let ring = self.places.common + ring_place(indicator);
        let form: LinearForm = outcome.form.iter().copied().chain(posture).chain([(ring, 1.0)]).collect();
        let solved = self.factor.through(&form);
        let own = outcome.own;
        let variance = solved.with(&solved) + own[0].powi(2) + own[1].powi(2) + noise;
        Sight { solved, own, mean: outcome.used + self.theta[ring], variance, noise }
    }

    /// The rate that would rest in the middle of the band at contact preload, with the uncertainty of a spring as labelled:
    /// of `(W L(x) - F) / x`.
    pub(in crate::assessment) fn needed_rate(&self) -> Estimate<SpringRate> {
        let used = self.setup.target.sag.of(self.setup.shock.stroke);
        let any = Spring::labelled(crate::mechanics::SpringNumber(0), SpringRate::n_per_mm(1.0));
        let seat = self.seat(&any, Length::ZERO);
        let rate = crate::mechanics::balance::rate_for(seat.load, seat.gas, used, Length::ZERO, &self.curve);
        let by = crate::mechanics::SeatedBalance { rate, ..seat }.sensitivity(used);
        let solved = self.factor.through(&self.shared(&by, self.how).collect::<Vec<_>>());
        // A millimetre of rest is so many parts of the rate.
        let per_rate = by.per_log_rate.as_mm();
        let relative = solved.with(&solved).sqrt() / per_rate.abs().max(1e-9);
        let label = self.doubts.label.as_fraction();
        Estimate::new(rate, rate * relative.hypot(label))
    }

    /// Sag as a share of the stroke.
    pub(in crate::assessment) fn sag_of(&self, outcome: &Outcome) -> Estimate<Share> {
        let stroke = self.setup.shock.stroke.as_mm();
        Estimate::new(
            Share::fraction(outcome.used / stroke),
            Share::fraction(outcome.variance.sqrt() / stroke),
        )
    }
}

/// The variance of what, seen beside a prior of one variance, leaves the other; none where that is hardly less.
fn noise_between(before: f64, after: f64) -> Option<f64> {
    (after < 0.98 * before).then(|| before * after / (before - after))
}
