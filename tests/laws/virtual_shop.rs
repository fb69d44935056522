//! A shop with marked springs and the bikes that came to it, all invented: what each spring truly is, and what was read.
//!
//! Everything is drawn from the laws that the table of doubts states, so that what the program makes of the readings can be
//! held against what is true. How it does on bikes that are otherwise is the study's to say.

use chrono::{DateTime, TimeDelta};
use coilwright::assessment::marks::{MarkBook, MarkEvidence, MarkedSession, evidence};
use coilwright::assets;
use coilwright::mechanics::spring::Marked;
use coilwright::mechanics::{LeverageCurve, SeatedBalance, Spring, SpringNumber, Stiffening};
use coilwright::session::{Intake, ShopSpring, Stamp, State, Step, Target};
use coilwright::text::mark::Mark;
use coilwright::units::quantity::GRAVITY;
use coilwright::units::{Force, Length, Mass, Share, SpringRate, Turns};
use rand::rngs::StdRng;
use rand::{Rng, RngExt};
use rand_distr::{Distribution, Normal};

use super::bikes::{Move, played};

/// The labels of the shop's springs, lb/in; each has a mark, A1 the first.
pub(super) const LABELS: [f64; 4] = [400.0, 450.0, 500.0, 550.0];
/// Stroke of every shock and thread of every collar, in millimetres.
const STROKE: f64 = 62.5;
const TRAVEL: f64 = 160.0;
const PITCH: f64 = 1.25;

/// What the springs truly are: ln(rate/label) of each.
pub(super) type Truth = [f64; LABELS.len()];

pub(super) fn normal(random: &mut impl Rng, mean: f64, deviation: f64) -> f64 {
    Normal::new(mean, deviation).expect("a sound law").sample(random)
}

/// The mark of a spring, by its place.
pub(super) fn mark(place: usize) -> Mark {
    Mark::read(&format!("A{}", place + 1)).expect("a mark")
}

/// The springs of the shop as a session has them.
pub(super) fn springs() -> Vec<Spring> {
    (0..LABELS.len()).map(spring).collect()
}

fn spring(place: usize) -> Spring {
    let number = SpringNumber(u16::try_from(place + 1).expect("few springs"));
    let marked = Some(Marked { mark: mark(place), learned: None });
    let labelled = Spring::labelled(number, SpringRate::lb_per_in(LABELS[place]));
    Spring { marked, stroke: Some(Length::mm(70.0)), ..labelled }
}

/// The same as the rack has them.
pub(super) fn rack() -> Vec<ShopSpring> {
    let kind = |place: usize| {
        let marked = Some(Marked { mark: mark(place), learned: None });
        ShopSpring { marked, ..ShopSpring::labelled(SpringRate::lb_per_in(LABELS[place])) }
    };
    (0..LABELS.len()).map(kind).collect()
}

/// A bike with its rider, as it truly is.
pub(super) struct Bike {
    pub(super) intake: Intake,
    load: f64,
    gas: f64,
    curve: LeverageCurve,
    overshoot: f64,
}

impl Bike {
    pub(super) fn drawn(random: &mut StdRng) -> Self {
        let (rider, bike) = (random.random_range(62.0..98.0), random.random_range(13.5..17.0));
        let mass = 0.66 * rider + 0.5 * bike - 4.2;
        let doubt = (0.05_f64 * rider).hypot(0.03 * bike).hypot(0.8).hypot(0.66);
        let falloff = Share::fraction(normal(random, 0.22, 0.13));
        let intake = Intake {
            rider: Some(Mass::kg(rider)),
            bike: Some(Mass::kg(bike)),
            travel: Some(Length::mm(TRAVEL)),
            stroke: Some(Length::mm(STROKE)),
            collar_pitch: Some(Length::mm(PITCH)),
            turns_limit: Some(Turns::of(2.0)),
            target: Some(Target::PLANTED),
            springs: springs(),
            spring_on_arrival: Some(SpringNumber(1)),
            ..Intake::default()
        };
        Self {
            intake,
            load: GRAVITY * mass * normal(random, 0.0, doubt / mass).exp(),
            gas: normal(random, 110.0, 65.0),
            curve: LeverageCurve::linear(Length::mm(TRAVEL), Length::mm(STROKE), falloff)
                .with_belly(Share::fraction(normal(random, 0.0, 0.2))),
            overshoot: normal(random, 0.30, 0.27),
        }
    }

    /// Where the rider truly rests on a spring at contact, in millimetres.
    pub(super) fn rest(&self, place: usize, truth: &Truth, load: f64, contact: f64) -> f64 {
        let balance = SeatedBalance {
            load: Force::newtons(self.load * load),
            rate: SpringRate::lb_per_in(LABELS[place] * truth[place].exp()),
            stiffening: Stiffening::NONE,
            preload: Length::mm(contact),
            gas: Force::newtons(self.gas),
            leverage: &self.curve,
        };
        balance.stroke_used().as_mm()
    }

    /// The spring whose sag by its label would be nearest to the target.
    fn nearest(&self) -> usize {
        let off = |place: &usize| (self.rest(*place, &[0.0; 4], 1.0, 0.0) - 0.3 * STROKE).abs();
        (0..LABELS.len()).min_by(|one, other| off(one).total_cmp(&off(other))).expect("there are springs")
    }

    /// A finished session: two springs, each read twice.
    pub(super) fn session(&self, truth: &Truth, random: &mut StdRng) -> State {
        let first = self.nearest();
        let second = if first == 0 { 1 } else { first - 1 };
        let mut moves = Vec::new();
        for place in [first, second] {
            moves.push(Move::Fit(place));
            let posture = normal(random, 0.0, 0.013).exp();
            let contact = random.random_range(-0.5..0.5) * PITCH;
            let rest = self.rest(place, truth, posture, contact) + self.overshoot;
            moves.extend((0..2).map(|_| Move::Read((rest + normal(random, 0.0, 0.6)) / STROKE)));
        }
        let mut state = played(&self.intake, &moves).1;
        state.sets.retain(|set| !set.readings.is_empty());
        assert_eq!(state.sets.len(), 2, "both springs were read");
        state.step = Step::Closed;
        state
    }
}

/// When the session of this number was opened.
pub(super) fn day(number: usize) -> Stamp {
    let first: Stamp = DateTime::default();
    first + TimeDelta::days(i64::try_from(number).expect("few sessions"))
}

/// What the finished sessions say, each of a bike of its own.
pub(super) fn said(sessions: &[State]) -> Vec<MarkEvidence> {
    sessions
        .iter()
        .map(|state| evidence(state, assets::doubts()).expect("marked springs were read"))
        .collect()
}

/// What they teach together.
pub(super) fn book(said: &[MarkEvidence]) -> MarkBook {
    let session = |(number, evidence)| MarkedSession {
        opened: day(number),
        began_from: None,
        customer: "",
        bike: "",
        evidence,
    };
    MarkBook::of(said.iter().enumerate().map(session).collect(), &rack(), assets::doubts())
}
