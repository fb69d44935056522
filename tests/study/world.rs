//! A bike as it truly is: what its mechanic is told, and the statics nobody sees.
//!
//! `k (x + p) + F = W (1 + s (x/S - 0.3)) L(x)`: gas force F and squat s are in no sentence of the program's weights;
//! leverage curves have a belly, labels are off, contact is called up to half a turn off. How it is read is `stand`, from
//! which laws it is drawn `kind`.

use coilwright::session::{
    FrameLengths, Intake, LeverageKnowledge, Setup, Shock, Spring, SpringNumber, Target, typical,
};
use coilwright::units::{Length, Mass, Share, SpringRate, Turns};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::kind::{Kind, Traits, normal};

/// One virtual bike with its rider and its rack.
pub(crate) struct Bike {
    /// What the mechanic is told.
    pub(crate) setup: Setup,
    /// The spring it comes in with.
    pub(crate) fitted: SpringNumber,
    /// The collar as it comes in.
    pub(crate) arrives: Arrival,
    pub(crate) seed: u64,
    pub(crate) truth: Truth,
}

/// The collar of a bike that comes in.
#[derive(Clone, Copy)]
pub(crate) enum Arrival {
    /// It is backed off to contact, as the walk asks.
    BackedOff,
    /// The first set is read with the collar as it stands, its turns counted.
    AsItStands(Turns),
}

/// What nobody sees.
pub(crate) struct Truth {
    /// Sprung load on the rear wheel at 30 % of the stroke, N.
    pub(crate) load: f64,
    /// How much more of it comes onto the rear over the whole stroke.
    pub(crate) squat: f64,
    /// Push of the gas on the shaft, N.
    pub(crate) gas: f64,
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
    /// Standard deviation of the load from set to set, as a share.
    pub(crate) posture: f64,
    /// How far a dragged indicator is carried past the rest, mm.
    pub(crate) overshoot: f64,
    /// Chance that a reading is mistyped.
    pub(crate) slips: f64,
}

/// A collar is turned by quarters, and by one turn at most.
const QUARTERS: std::ops::RangeInclusive<u8> = 0..=4;

/// Share of the friction that still holds the bike up where it truly rests; an average reading has half of it.
const RESTING_FRICTION: f64 = 0.25;

impl Bike {
    /// A bike made up on purpose.
    pub(crate) fn invented(setup: Setup, fitted: SpringNumber, truth: Truth, seed: u64) -> Self {
        Self { setup, fitted, arrives: Arrival::BackedOff, seed, truth }
    }

    /// Draws one bike; the same kind and seed draw the same bike.
    pub(crate) fn drawn(kind: Kind, seed: u64) -> Self {
        let seed = seed ^ ((kind as u64) << 40);
        let mut random = StdRng::seed_from_u64(seed);
        let random = &mut random;
        let traits = kind.traits();
        let rider = traits.rider.draw(random).clamp(48.0, 122.0);
        let mut setup = setup(&traits, rider, random);
        let truth = truth(&traits, &setup, rider, random);
        let fitted = comes_in_with(&setup, &truth, random);
        if random.random_bool(traits.binding) {
            let short = setup.shock.stroke - Length::mm(random.random_range(2.0..8.0));
            let spring = setup.springs.iter_mut().find(|spring| spring.number == fitted);
            spring.expect("on the rack").stroke = Some(short);
        }
        let turns = Turns::of(f64::from(random.random_range(0..=16u8)) / 4.0);
        let counted = random.random_bool(0.5) && turns > Turns::ZERO;
        let arrives = if counted { Arrival::AsItStands(turns) } else { Arrival::BackedOff };
        Self { setup, fitted, arrives, seed, truth }
    }

    /// The true sag in per cent, at rest with the rider on it.
    pub(crate) fn true_sag(&self, spring: SpringNumber, preload: f64) -> f64 {
        let used = self.used(spring, preload, 1.0, RESTING_FRICTION);
        100.0 * used / self.setup.shock.stroke.as_mm()
    }

    /// Whether a sag lies in the range wanted.
    pub(crate) fn in_range(&self, sag: f64) -> bool {
        self.setup.target.holds(Share::percent(sag))
    }

    /// Whether a spring has the stroke for this shock with the collar so far past contact.
    pub(crate) fn has_stroke_for(&self, spring: SpringNumber, turns: Turns) -> bool {
        let needed = self.setup.shock.stroke + self.setup.shock.preload(turns);
        let stroke = self.setup.spring(spring).and_then(|spring| spring.stroke);
        stroke.is_none_or(|stroke| stroke >= needed)
    }

    /// The least turns of the collar, one at most, with which a spring truly ends in range; none where none does.
    pub(crate) fn turns_that_reach(&self, spring: SpringNumber) -> Option<Turns> {
        let turns = QUARTERS.map(|quarter| Turns::of(f64::from(quarter) / 4.0));
        let allowed = turns.filter(|turns| *turns <= self.setup.shock.turns_limit);
        let mut fitting = allowed.filter(|turns| self.has_stroke_for(spring, *turns));
        fitting.find(|turns| self.in_range(self.true_sag(spring, self.setup.shock.preload(*turns).as_mm())))
    }

    /// Whether anybody could bring it into range, with any spring at hand and one turn at most.
    pub(crate) fn can_be_set_up(&self) -> bool {
        self.setup.springs.iter().any(|spring| self.turns_that_reach(spring.number).is_some())
    }

    /// A preload this spring might truly have, mounted and said to be at contact.
    pub(crate) fn contact_somewhere(&self, spring: SpringNumber) -> f64 {
        let mut random = StdRng::seed_from_u64(self.seed ^ (u64::from(spring.0) << 32));
        self.setup.shock.collar_pitch.as_mm() * random.random_range(-0.5..0.5)
    }

    /// Stroke used, mm, with the load so many times what it is and so much of the friction holding it up.
    pub(crate) fn used(&self, spring: SpringNumber, preload: f64, posture: f64, friction: f64) -> f64 {
        let place = self.setup.springs.iter().position(|other| other.number == spring).expect("on the rack");
        let (truth, stroke) = (&self.truth, self.setup.shock.stroke.as_mm());
        let (mut low, mut high) = (0.0, stroke);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            let carried = truth.rates[place] * (middle + preload) + truth.gas + friction * truth.friction;
            if carried > truth.force_on_shock(middle / stroke) * posture {
                high = middle;
            } else {
                low = middle;
            }
        }
        0.5 * (low + high)
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
            readings_each: None,
            springs: setup.springs.clone(),
            spring_on_arrival: Some(self.fitted),
            ..Intake::default()
        }
    }
}

impl Truth {
    /// Force of the load on the shock with this share of its stroke used, N.
    fn force_on_shock(&self, share: f64) -> f64 {
        let belly = self.belly * ((share - 0.5).powi(2) - 1.0 / 12.0);
        let ratio = self.mean_ratio * (1.0 + self.falloff * (0.5 - share) + belly);
        self.load * (1.0 + self.squat * (share - 0.3)) * ratio
    }
}

/// What the mechanic is told: weights as the customer gives them, the rest as it is printed.
fn setup(traits: &Traits, rider: f64, random: &mut StdRng) -> Setup {
    let frames = [(130.0, 50.0), (140.0, 55.0), (150.0, 60.0), (160.0, 62.5), (170.0, 65.0), (180.0, 70.0)];
    let (travel, stroke) = frames[random.random_range(0..frames.len())];
    let slip = if random.random_bool(2.0 * traits.slips) { 10.0 } else { 0.0 };
    let entered = (rider + normal(random, 0.0, 1.0) - slip).round();
    Setup {
        rider: Mass::kg(entered),
        bike: Mass::kg(traits.bike.draw(random)),
        wheel_load: None,
        earlier: None,
        spring_on_arrival: None,
        travel: Length::mm(travel),
        leverage: LeverageKnowledge::TravelOnly,
        shock: Shock {
            stroke: Length::mm(stroke),
            collar_pitch: Length::mm([1.0, 1.25, 1.5][random.random_range(0..3)]),
            turns_limit: typical::TURNS_ALLOWED,
            body_diameter: None,
        },
        frame: FrameLengths::default(),
        target: if random.random_bool(0.7) { Target::PLANTED } else { Target::LIVELY },
        ruler: Length::mm([0.5, 1.0][random.random_range(0..2)]),
        readings_each: typical::READINGS,
        unsprung: None,
        charge: None,
        saddle_behind: None,
        springs: springs(traits, stroke, random),
        typical: Vec::new(),
    }
}

fn springs(traits: &Traits, stroke: f64, random: &mut StdRng) -> Vec<Spring> {
    let rates = traits.row.draw(traits.rates, random);
    rates
        .into_iter()
        .zip(1u16..)
        .map(|(rate, number)| Spring {
            stroke: Some(Length::mm(stroke + [1.5, 4.0, 8.0][random.random_range(0..3)])),
            ..Spring::labelled(SpringNumber(number), SpringRate::lb_per_in(f64::from(rate)))
        })
        .collect()
}

fn truth(traits: &Traits, setup: &Setup, rider: f64, random: &mut StdRng) -> Truth {
    let (rider_share, bike_share) = (traits.rider_share.draw(random), traits.bike_share.draw(random));
    let sprung = rider_share * rider + bike_share * setup.bike.as_kg() - traits.unsprung.draw(random);
    let rates = setup.springs.iter();
    Truth {
        load: 9.806_65 * sprung,
        squat: traits.squat.draw(random),
        gas: traits.gas.draw(random),
        mean_ratio: setup.travel / setup.shock.stroke,
        falloff: traits.falloff.draw(random).clamp(-0.1, 0.5),
        belly: traits.belly.draw(random),
        rates: rates.map(|spring| spring.label.as_n_per_mm() * (1.0 + traits.label.draw(random))).collect(),
        friction: traits.friction.draw(random),
        scatter: traits.scatter.draw(random),
        posture: traits.posture.draw(random),
        overshoot: traits.overshoot.draw(random),
        slips: traits.slips,
    }
}

/// Bikes come in with whatever spring they were sold with: right to about a quarter.
fn comes_in_with(setup: &Setup, truth: &Truth, random: &mut StdRng) -> SpringNumber {
    let share = setup.target.sag.as_fraction();
    let used = setup.target.sag.of(setup.shock.stroke).as_mm();
    let carried = truth.force_on_shock(share) - truth.gas - RESTING_FRICTION * truth.friction;
    let wanted = carried / used * normal(random, 0.0, 0.25).exp();
    let distance = |spring: &&Spring| (spring.label.as_n_per_mm() - wanted).abs();
    let nearest = setup.springs.iter().min_by(|one, other| distance(one).total_cmp(&distance(other)));
    nearest.expect("a rack is never empty").number
}
