//! Kinds of bikes: what is true of a rider, a frame, a shock and a rack, and nobody is told.
//!
//! Each kind is a list of laws to draw from. Their means and shapes are not those of the program's table of doubts: a kind
//! is there to ask what becomes of a bike that the table did not think of. All figures are invented; none is fitted to the
//! program. `Kind::Last` was written down after everything else and is not to be tuned on.

use rand::rngs::StdRng;
use rand::{Rng, RngExt};
use rand_distr::{Distribution, Normal, StudentT};

/// A kind of bike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// What comes in on a weekday.
    Ordinary,
    /// Shocks that want a service: friction.
    Dry,
    /// Smooth shocks without a charge of gas, ridden down hard into their seat.
    Clean,
    /// Heavy riders and bikes with a motor.
    Heavy,
    /// A short row of springs, or one with gaps.
    FewSprings,
    /// Everything at once, wide.
    Last,
}

/// How a figure is drawn.
#[derive(Clone, Copy)]
pub(crate) enum Law {
    /// Anywhere between two ends alike.
    Even(f64, f64),
    /// Mean and standard deviation.
    Bell(f64, f64),
    /// Scale and degrees of freedom: now and then far off, but never past an eighth.
    Tails(f64, f64),
    /// So far off to either side, with a standard deviation.
    EitherSide(f64, f64),
    /// None in so many parts of one, else between two ends.
    NoneOr(f64, f64, f64),
}

/// The springs a shop has.
#[derive(Clone, Copy)]
pub(crate) enum Row {
    /// Every step of 25 or, in so many parts of one, of 50 lb/in.
    Whole { fifties: f64 },
    /// Four to six neighbours of such a row, or the row with almost half of it missing.
    Poor { fifties: f64 },
    /// One or the other.
    Mixed { fifties: f64 },
}

/// What is true of a kind. Kilograms, newtons, millimetres; shares as parts of one.
pub(crate) struct Traits {
    pub(crate) rider: Law,
    pub(crate) bike: Law,
    /// Share of the seated rider on the rear wheel.
    pub(crate) rider_share: Law,
    /// Share of the bike there.
    pub(crate) bike_share: Law,
    /// What of it the spring does not carry.
    pub(crate) unsprung: Law,
    /// How much more of the load comes onto the rear over the whole stroke, as it sinks.
    pub(crate) squat: Law,
    /// Push of the gas charge on the shaft.
    pub(crate) gas: Law,
    pub(crate) falloff: Law,
    pub(crate) belly: Law,
    /// Rate over label, less one.
    pub(crate) label: Law,
    pub(crate) friction: Law,
    pub(crate) scatter: Law,
    /// Standard deviation of the load from set to set.
    pub(crate) posture: Law,
    /// How far past its rest an indicator dragged by sitting down is carried.
    pub(crate) overshoot: Law,
    pub(crate) row: Row,
    /// Softest and stiffest of a whole row, lb/in.
    pub(crate) rates: (u16, u16),
    /// Chance that it comes in with a spring of too little stroke.
    pub(crate) binding: f64,
    /// Chance that a reading is mistyped; twice that for the rider's weight.
    pub(crate) slips: f64,
}

impl Kind {
    pub(crate) const ALL: [Self; 6] =
        [Self::Ordinary, Self::Dry, Self::Clean, Self::Heavy, Self::FewSprings, Self::Last];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Ordinary => "ordinary",
            Self::Dry => "dry",
            Self::Clean => "clean, no gas",
            Self::Heavy => "heavy, powered",
            Self::FewSprings => "few springs",
            Self::Last => "last",
        }
    }

    pub(crate) fn traits(self) -> Traits {
        match self {
            Self::Ordinary => ordinary(),
            Self::Dry => dry(),
            Self::Clean => clean(),
            Self::Heavy => heavy(),
            Self::FewSprings => few_springs(),
            Self::Last => last(),
        }
    }
}

fn ordinary() -> Traits {
    Traits {
        rider: Law::Bell(78.0, 13.0),
        bike: Law::Even(14.0, 18.0),
        rider_share: Law::Bell(0.655, 0.035),
        bike_share: Law::Bell(0.49, 0.03),
        unsprung: Law::Bell(4.0, 0.6),
        squat: Law::Even(0.0, 0.06),
        gas: Law::Even(50.0, 190.0),
        falloff: Law::Bell(0.20, 0.10),
        belly: Law::Bell(0.05, 0.18),
        label: Law::Tails(0.022, 4.0),
        friction: Law::Even(10.0, 40.0),
        scatter: Law::Even(0.4, 0.9),
        posture: Law::Even(0.008, 0.016),
        overshoot: Law::Even(0.0, 0.7),
        row: Row::Whole { fifties: 0.3 },
        rates: (300, 650),
        binding: 0.03,
        slips: 0.004,
    }
}

fn dry() -> Traits {
    Traits {
        rider_share: Law::Bell(0.645, 0.03),
        gas: Law::Even(30.0, 140.0),
        falloff: Law::Bell(0.16, 0.09),
        belly: Law::EitherSide(0.22, 0.08),
        label: Law::Bell(0.01, 0.025),
        friction: Law::Even(40.0, 110.0),
        scatter: Law::Even(0.5, 1.0),
        overshoot: Law::Even(0.0, 0.4),
        ..ordinary()
    }
}

fn clean() -> Traits {
    Traits {
        rider_share: Law::Bell(0.675, 0.03),
        gas: Law::Even(0.0, 1e-9),
        falloff: Law::Even(0.05, 0.40),
        belly: Law::Bell(-0.08, 0.12),
        label: Law::Bell(0.0, 0.015),
        friction: Law::Even(3.0, 12.0),
        scatter: Law::Even(0.3, 0.6),
        overshoot: Law::Even(0.2, 0.9),
        ..ordinary()
    }
}

fn heavy() -> Traits {
    Traits {
        rider: Law::Bell(96.0, 12.0),
        bike: Law::Even(22.0, 27.0),
        rider_share: Law::Bell(0.65, 0.035),
        bike_share: Law::Bell(0.47, 0.03),
        unsprung: Law::Bell(5.2, 0.7),
        gas: Law::Even(120.0, 260.0),
        falloff: Law::Bell(0.26, 0.08),
        label: Law::Tails(0.025, 3.0),
        friction: Law::Even(15.0, 50.0),
        overshoot: Law::Even(0.0, 0.9),
        rates: (350, 750),
        ..ordinary()
    }
}

fn few_springs() -> Traits {
    Traits {
        rider_share: Law::Even(0.62, 0.70),
        gas: Law::Even(0.0, 200.0),
        overshoot: Law::Even(0.0, 0.6),
        row: Row::Poor { fifties: 0.5 },
        binding: 0.05,
        ..ordinary()
    }
}

fn last() -> Traits {
    Traits {
        rider: Law::Even(52.0, 112.0),
        bike: Law::Even(13.5, 26.0),
        rider_share: Law::Even(0.62, 0.70),
        bike_share: Law::Even(0.45, 0.55),
        unsprung: Law::Even(3.2, 5.6),
        squat: Law::Even(0.0, 0.10),
        gas: Law::NoneOr(0.25, 20.0, 260.0),
        falloff: Law::Even(0.0, 0.42),
        belly: Law::EitherSide(0.20, 0.10),
        label: Law::Tails(0.025, 3.0),
        friction: Law::Even(5.0, 90.0),
        scatter: Law::Even(0.3, 1.1),
        posture: Law::Even(0.006, 0.020),
        overshoot: Law::NoneOr(0.2, 0.0, 0.9),
        row: Row::Mixed { fifties: 0.5 },
        rates: (300, 750),
        binding: 0.08,
        slips: 0.012,
    }
}

impl Law {
    pub(crate) fn draw(self, random: &mut StdRng) -> f64 {
        match self {
            Self::Even(low, high) => random.random_range(low..high),
            Self::Bell(mean, deviation) => normal(random, mean, deviation),
            Self::Tails(scale, freedom) => {
                let law = StudentT::new(freedom).expect("degrees of freedom above zero");
                (scale * law.sample(random)).clamp(-0.125, 0.125)
            }
            Self::EitherSide(far, deviation) => {
                let side = if random.random_bool(0.5) { far } else { -far };
                normal(random, side, deviation)
            }
            Self::NoneOr(none, low, high) => {
                if random.random_bool(none) {
                    0.0
                } else {
                    random.random_range(low..high)
                }
            }
        }
    }
}

pub(crate) fn normal(random: &mut impl Rng, mean: f64, deviation: f64) -> f64 {
    Normal::new(mean, deviation).expect("a sound law").sample(random)
}

impl Row {
    /// The rates a shop of this kind has, lb/in.
    pub(crate) fn draw(self, (softest, stiffest): (u16, u16), random: &mut StdRng) -> Vec<u16> {
        let (fifties, poor) = match self {
            Self::Whole { fifties } => (fifties, false),
            Self::Poor { fifties } => (fifties, true),
            Self::Mixed { fifties } => (fifties, random.random_bool(0.5)),
        };
        let step = if random.random_bool(fifties) { 50 } else { 25 };
        let whole: Vec<u16> = (softest..=stiffest).step_by(step).collect();
        match poor {
            false => whole,
            true if random.random_bool(0.5) => {
                let count = random.random_range(4..=6).min(whole.len());
                let from = random.random_range(0..=whole.len() - count);
                whole[from..from + count].to_vec()
            }
            true => {
                let ends = [whole[0], whole[whole.len() - 1]];
                whole.into_iter().filter(|rate| ends.contains(rate) || random.random_bool(0.55)).collect()
            }
        }
    }
}
