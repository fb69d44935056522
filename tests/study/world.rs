//! The hidden world: riders, frames, springs and readings that differ from what the mathematics assumes.
//!
//! Leverage curves have a belly (quadratic), posture drifts from set to set with a memory, friction pulls one way more
//! than the other, labels are off by up to 6 %, contact is called up to half a turn off, some riders need a spring past
//! the end of the rack, and now and then a rider bounces. The figures are invented; none is fitted to the program's own
//! table of doubts.

use coilwright::session::{
    FrameLengths, Intake, LeverageKnowledge, Setup, Shock, Spring, SpringNumber, Target,
};
use coilwright::units::{Length, Mass, Share, SpringRate, Turns};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, Normal};

/// One virtual bike with its rider and its rack.
pub(crate) struct Bike {
    /// What the mechanic is told.
    pub(crate) setup: Setup,
    /// The spring it comes in with.
    pub(crate) fitted: SpringNumber,
    seed: u64,
    truth: Truth,
}

/// What nobody sees.
pub(crate) struct Truth {
    /// Sprung load on the rear wheel, N.
    pub(crate) load: f64,
    /// Travel over stroke.
    pub(crate) mean_ratio: f64,
    /// How far the ratio falls over the stroke, as a share of its mean.
    pub(crate) falloff: f64,
    /// How far it bends on the way.
    pub(crate) belly: f64,
    /// True rate of every spring, in the order of the rack, N/mm.
    pub(crate) rates: Vec<f64>,
    /// Friction at the shock, N.
    pub(crate) friction: f64,
    /// Standard deviation of a reading, mm.
    pub(crate) scatter: f64,
}

/// Share of the friction that pulls against the sag on an average reading.
const USUAL_FRICTION: f64 = 0.5;

fn normal(random: &mut StdRng, mean: f64, deviation: f64) -> f64 {
    Normal::new(mean, deviation).expect("a sound law").sample(random)
}

impl Bike {
    /// A bike made up on purpose.
    pub(crate) fn invented(setup: Setup, fitted: SpringNumber, truth: Truth, seed: u64) -> Self {
        Self { setup, fitted, seed, truth }
    }

    /// Draws one bike; the same seed draws the same bike.
    pub(crate) fn drawn(seed: u64) -> Self {
        let mut random = StdRng::seed_from_u64(seed);
        let random = &mut random;
        let frames =
            [(130.0, 50.0), (140.0, 55.0), (150.0, 60.0), (160.0, 62.5), (170.0, 65.0), (180.0, 70.0)];
        let (travel, stroke) = frames[random.random_range(0..frames.len())];
        let rider = normal(random, 80.0, 14.0).clamp(48.0, 118.0);
        let bike = random.random_range(14.0..18.0);
        let target = if random.random_bool(0.7) { Target::PLANTED } else { Target::LIVELY };
        let unsprung = normal(random, 3.5, 0.5);
        let bike_share = normal(random, 0.5, 0.03);
        let rider_share = normal(random, 0.68, 0.045);
        let springs = springs(random);
        let setup = Setup {
            rider: Mass::kg(rider),
            bike: Mass::kg(bike),
            wheel_load: None,
            earlier: None,
            travel: Length::mm(travel),
            leverage: LeverageKnowledge::TravelOnly,
            shock: Shock {
                stroke: Length::mm(stroke),
                collar_pitch: Length::mm([1.0, 1.25, 1.5][random.random_range(0..3)]),
                turns_limit: Turns::of(2.0),
                body_diameter: None,
            },
            frame: FrameLengths::default(),
            target,
            ruler: Length::mm([0.5, 1.0][random.random_range(0..2)]),
            readings_each: 3,
            unsprung: None,
            charge: None,
            saddle_behind: None,
            springs: springs.clone(),
            typical: Vec::new(),
        };
        let rates = springs
            .iter()
            .map(|spring| spring.label.as_n_per_mm() * (1.0 + normal(random, 0.0, 0.025).clamp(-0.06, 0.06)))
            .collect();
        let truth = Truth {
            load: 9.806_65 * (rider_share * rider + bike_share * (bike - unsprung)),
            mean_ratio: travel / stroke,
            falloff: normal(random, 0.22, 0.11).clamp(-0.1, 0.5),
            belly: normal(random, 0.0, 0.15),
            rates,
            friction: random.random_range(10.0..60.0),
            scatter: random.random_range(0.4..1.0),
        };
        let mut bike = Self { setup, fitted: SpringNumber(1), seed, truth };
        bike.fitted = bike.comes_in_with(random);
        bike
    }

    /// Bikes come in with whatever spring they were sold with: right to about a quarter.
    fn comes_in_with(&self, random: &mut StdRng) -> SpringNumber {
        let wanted = self.needed_rate() * normal(random, 0.0, 0.25).exp();
        let distance = |spring: &&Spring| (spring.label.as_n_per_mm() - wanted).abs();
        let nearest =
            self.setup.springs.iter().min_by(|one, other| distance(one).total_cmp(&distance(other)));
        nearest.expect("a rack is never empty").number
    }

    fn needed_rate(&self) -> f64 {
        let used = self.setup.target.sag.of(self.setup.shock.stroke).as_mm();
        let force = self.truth.load * self.truth.ratio(used / self.setup.shock.stroke.as_mm());
        (force - USUAL_FRICTION * self.truth.friction) / used
    }

    /// The true sag: where the average careful reading of this rider would lie, with nothing rounded.
    pub(crate) fn true_sag(&self, spring: SpringNumber, preload: f64) -> f64 {
        let used = self.used(spring, preload, 1.0, USUAL_FRICTION);
        100.0 * used / self.setup.shock.stroke.as_mm()
    }

    /// Whether a sag lies in the band.
    pub(crate) fn in_band(&self, sag: f64) -> bool {
        self.setup.target.holds(Share::percent(sag))
    }

    /// Whether any spring on the rack, with the collar where allowed, truly ends in the band.
    pub(crate) fn can_be_set_up(&self) -> bool {
        self.setup.springs.iter().any(|spring| self.reaches_band(spring.number))
    }

    /// Whether this spring, with the collar where allowed, truly ends in the band.
    pub(crate) fn reaches_band(&self, spring: SpringNumber) -> bool {
        (0..=8u8).any(|quarter| {
            let preload = self.setup.shock.preload(Turns::of(f64::from(quarter) / 4.0)).as_mm();
            self.in_band(self.true_sag(spring, preload))
        })
    }

    /// A preload this spring might truly have, mounted and said to be at contact.
    pub(crate) fn contact_somewhere(&self, spring: SpringNumber) -> f64 {
        let mut random = StdRng::seed_from_u64(self.seed ^ (u64::from(spring.0) << 32));
        self.setup.shock.collar_pitch.as_mm() * random.random_range(-0.5..0.5)
    }

    fn used(&self, spring: SpringNumber, preload: f64, posture: f64, friction_share: f64) -> f64 {
        let place = self.setup.springs.iter().position(|other| other.number == spring).expect("on the rack");
        let (rate, stroke) = (self.truth.rates[place], self.setup.shock.stroke.as_mm());
        let (mut low, mut high) = (0.0, stroke);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            let carried = rate * (middle + preload) + friction_share * self.truth.friction;
            if carried > self.truth.load * posture * self.truth.ratio(middle / stroke) {
                high = middle;
            } else {
                low = middle;
            }
        }
        0.5 * (low + high)
    }

    /// The bike on the stand, ready to be measured; every setter meets the same rider.
    pub(crate) fn on_the_stand(&self) -> Stand<'_> {
        let mut random = StdRng::seed_from_u64(self.seed ^ 0x5eed);
        let contact = random.random_range(-0.5..0.5);
        Stand { bike: self, random, posture: 0.0, contact_off: contact }
    }

    /// The intake the mechanic would write.
    pub(crate) fn intake(&self) -> Intake {
        let setup = &self.setup;
        Intake {
            rider: Some(setup.rider),
            bike: Some(setup.bike),
            travel: Some(setup.travel),
            stroke: Some(setup.shock.stroke),
            collar_pitch: Some(setup.shock.collar_pitch),
            turns_limit: Some(setup.shock.turns_limit),
            target: Some(setup.target),
            ruler: Some(setup.ruler),
            readings_each: Some(setup.readings_each),
            springs: setup.springs.clone(),
            spring_on_arrival: Some(self.fitted),
            ..Intake::default()
        }
    }
}

impl Truth {
    fn ratio(&self, share: f64) -> f64 {
        let belly = self.belly * ((share - 0.5).powi(2) - 1.0 / 12.0);
        self.mean_ratio * (1.0 + self.falloff * (0.5 - share) + belly)
    }
}

/// A rack in steps of 25 or, in every other shop, of 50 lb/in.
fn springs(random: &mut StdRng) -> Vec<Spring> {
    let step: u16 = if random.random_bool(0.7) { 25 } else { 50 };
    let rates = (300..=650u16).step_by(usize::from(step));
    rates
        .enumerate()
        .map(|(index, rate)| Spring {
            stroke: Some(Length::mm(76.0)),
            ..Spring::labelled(
                SpringNumber(u16::try_from(index + 1).expect("a small rack")),
                SpringRate::lb_per_in(f64::from(rate)),
            )
        })
        .collect()
}

/// A bike being measured: posture and contact change as it is worked on.
pub(crate) struct Stand<'a> {
    bike: &'a Bike,
    random: StdRng,
    posture: f64,
    contact_off: f64,
}

impl Stand<'_> {
    /// The spring was changed: contact is found anew, up to half a turn off.
    pub(crate) fn mounted_anew(&mut self) {
        self.contact_off = self.random.random_range(-0.5..0.5);
    }

    /// A new set begins: the rider sits a little differently, but remembers half of the last time.
    pub(crate) fn new_set(&mut self) {
        self.posture = 0.5 * self.posture + normal(&mut self.random, 0.0, 0.012);
    }

    /// True preload in millimetres with the collar said to stand this far past contact.
    pub(crate) fn true_preload(&self, preload_turns: Turns) -> f64 {
        self.bike.setup.shock.collar_pitch.as_mm() * (preload_turns.value() + self.contact_off)
    }

    /// One seated reading, as the ruler shows it.
    pub(crate) fn read(&mut self, spring: SpringNumber, preload_turns: Turns) -> Length {
        let friction = USUAL_FRICTION + self.random.random_range(-0.5..0.5);
        let posture = (self.posture + normal(&mut self.random, 0.0, 0.004)).exp();
        let used = self.bike.used(spring, self.true_preload(preload_turns), posture, friction);
        let scatter = normal(&mut self.random, 0.0, self.bike.truth.scatter);
        let bounce = if self.random.random_bool(0.025) { self.random.random_range(1.5..6.0) } else { 0.0 };
        let ruler = self.bike.setup.ruler.as_mm();
        let shown = ((used + scatter + bounce) / ruler).round() * ruler;
        Length::mm(shown.clamp(ruler, self.bike.setup.shock.stroke.as_mm()))
    }
}
