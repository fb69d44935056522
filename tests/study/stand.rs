//! A bike being measured: posture, contact, friction, the eye and the hand that types.
//!
//! Not here: where the bike truly rests (`world`).

use coilwright::session::{Indicator, SpringNumber};
use coilwright::units::{Length, Turns};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::kind::normal;
use crate::world::Bike;

/// Both ways of reading the travel indicator.
pub(crate) const BOTH: [Indicator; 2] = [Indicator::Kept, Indicator::Pushed];

/// What the table calls one.
pub(crate) fn name(indicator: Indicator) -> &'static str {
    match indicator {
        Indicator::Kept => "kept",
        Indicator::Pushed => "pushed",
    }
}

/// Chance of a reading that is too deep by far: dropped in, or pushed while the rider moved.
fn bounces(indicator: Indicator) -> f64 {
    match indicator {
        Indicator::Kept => 0.025,
        Indicator::Pushed => 0.01,
    }
}

/// A bike on the stand.
pub(crate) struct Stand<'a> {
    bike: &'a Bike,
    indicator: Indicator,
    random: StdRng,
    posture: f64,
    contact_off: f64,
}

impl<'a> Stand<'a> {
    /// Ready to be measured; every setter meets the same rider.
    pub(crate) fn new(bike: &'a Bike, indicator: Indicator) -> Self {
        let mut random = StdRng::seed_from_u64(bike.seed ^ 0x5eed);
        let contact_off = random.random_range(-0.5..0.5);
        Self { bike, indicator, random, posture: 0.0, contact_off }
    }

    /// The spring was changed: contact is found anew, up to half a turn off.
    pub(crate) fn mounted_anew(&mut self) {
        self.contact_off = self.random.random_range(-0.5..0.5);
    }

    /// A new set begins: the rider sits a little differently, but remembers half of the last time.
    pub(crate) fn new_set(&mut self) {
        self.posture = 0.5 * self.posture + normal(&mut self.random, 0.0, self.bike.truth.posture);
    }

    /// True preload in millimetres with the collar said to stand this far past contact.
    pub(crate) fn true_preload(&self, preload_turns: Turns) -> f64 {
        self.bike.setup.shock.collar_pitch.as_mm() * (preload_turns.value() + self.contact_off)
    }

    /// The true sag in per cent, as the collar truly stands.
    pub(crate) fn true_sag(&self, spring: SpringNumber, preload_turns: Turns) -> f64 {
        self.bike.true_sag(spring, self.true_preload(preload_turns))
    }

    /// One seated reading, as it is typed.
    pub(crate) fn read(&mut self, spring: SpringNumber, preload_turns: Turns) -> Length {
        let friction = 0.5 + self.random.random_range(-0.5..0.5);
        let posture = (self.posture + normal(&mut self.random, 0.0, 0.004)).exp();
        let used = self.bike.used(spring, self.true_preload(preload_turns), posture, friction);
        let scatter = normal(&mut self.random, 0.0, self.bike.truth.scatter);
        let bounced = self.random.random_bool(bounces(self.indicator));
        let bounce = if bounced { self.random.random_range(1.5..6.0) } else { 0.0 };
        let seen = used + scatter + bounce + self.overshoot();
        let (ruler, stroke) = (self.bike.setup.ruler.as_mm(), self.bike.setup.shock.stroke.as_mm());
        let shown = (seen / ruler).round() * ruler;
        Length::mm((shown + self.slip()).clamp(ruler, stroke))
    }

    fn overshoot(&mut self) -> f64 {
        let usual = self.bike.truth.overshoot;
        if self.indicator == Indicator::Pushed || usual <= 0.0 {
            return 0.0;
        }
        usual * self.random.random_range(0.6..1.4)
    }

    /// A slip of the finger: ten millimetres up or down.
    fn slip(&mut self) -> f64 {
        let slips = self.bike.truth.slips;
        if slips <= 0.0 || !self.random.random_bool(slips) {
            return 0.0;
        }
        if self.random.random_bool(0.5) { 10.0 } else { -10.0 }
    }
}
