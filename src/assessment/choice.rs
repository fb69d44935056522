//! What could be done now, weighed in minutes: leaving the spring (with a turn of the collar), fitting another, reading once
//! more.
//!
//! Everything is worth the chance of the band it leads to, at the exchange rate, less what it costs. `stop` weighs the
//! spring on the bike at the turns allowed, `fit` every other one with the reading and the turn that may follow, `read` one
//! more reading by what it could change. Five nodes of Gauss and Hermite stand for a reading to come (Abramowitz and Stegun,
//! Handbook of Mathematical Functions, 1964, table 25.10, in the variable of the normal law). Not here: what becomes of the
//! largest (`advice`).

mod fit;
mod measure;
mod read;
mod stop;

pub(super) use fit::Fitting;
pub(super) use measure::{Measured, saved_by};
pub(super) use stop::AtTurns;

use super::belief::Belief;
use super::forecast::RateSource;
use crate::mechanics::{Fit, Spring, SpringNumber, spring};
use crate::session::{ReadingSet, Setup, shop_rack};
use crate::statistics;
use crate::units::{Estimate, Length, Minutes, Share, Turns};

/// Places and weights of five readings that stand for all.
const NODES: [(f64, f64); 5] = [
    (-2.856_970_013_872_806, 0.011_257_411_327_720_691),
    (-1.355_626_179_974_266, 0.222_075_922_005_612_63),
    (0.0, 0.533_333_333_333_333_3),
    (1.355_626_179_974_266, 0.222_075_922_005_612_63),
    (2.856_970_013_872_806, 0.011_257_411_327_720_691),
];

/// What could be done now, weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The spring on the bike at the turns allowed; none where it does not fit or has no reading yet.
    pub(super) turns: Vec<AtTurns>,
    /// Every other spring that fits, in the order they are told in.
    pub(super) springs: Vec<Fitting>,
    /// Worth of leaving spring and collar, or of turning the collar first.
    pub stop: Option<(Turns, Minutes)>,
    /// Worth of fitting the spring that is worth most.
    pub swap: Option<(SpringNumber, Minutes)>,
    /// Worth of reading once more.
    pub read: Option<Minutes>,
}

/// The one that is worth most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NextMove {
    /// Read once more.
    Read,
    /// Fit this spring.
    Swap(SpringNumber),
    /// Turn the collar to here.
    Turn(Turns),
    /// Leave it.
    Keep,
}

/// The spring on the bike as its readings have it.
#[derive(Debug, Clone, Copy)]
pub(super) struct FittedSpring<'a> {
    pub(super) spring: &'a Spring,
    pub(super) set: &'a ReadingSet,
}

impl Weighed {
    /// Nothing but one spring that could be fitted.
    pub(super) fn of_one(fitting: Option<Fitting>) -> Self {
        let springs = fitting.into_iter().collect();
        Self { turns: Vec::new(), springs, stop: None, swap: None, read: None }
    }

    /// A spring as it was weighed.
    pub(super) fn fitting(&self, spring: SpringNumber) -> Option<&Fitting> {
        self.springs.iter().find(|fitting| fitting.spring == spring)
    }

    /// The best chance there is, whatever is done.
    pub(super) fn best_chance(&self) -> f64 {
        let stays = self.turns.iter().map(|at| at.chance);
        stays.chain(self.springs.iter().map(Fitting::best_chance)).fold(0.0, f64::max)
    }

    /// Worth of fitting a spring; none where it cannot be fitted or is on the bike.
    pub fn worth_of_fitting(&self, spring: SpringNumber) -> Option<Minutes> {
        self.fitting(spring).map(|fitting| Minutes::of(fitting.worth))
    }

    /// Where the spring on the bike would rest at each collar position allowed, with the chance of the band.
    pub fn at_turns(&self) -> impl Iterator<Item = (Turns, Estimate<Length>, Share)> {
        self.turns.iter().map(|at| {
            let used = Estimate::new(Length::mm(at.outcome.used), Length::mm(at.outcome.variance.sqrt()));
            (at.turns, used, Share::fraction(at.chance))
        })
    }

    /// What is worth most; the cheaper of two alike.
    pub fn next_move(&self, now: Turns) -> NextMove {
        let worth = |minutes: Option<Minutes>| minutes.map_or(f64::NEG_INFINITY, Minutes::value);
        let stop = worth(self.stop.map(|(_, worth)| worth));
        let swap = worth(self.swap.map(|(_, worth)| worth));
        if worth(self.read) > stop.max(swap) {
            return NextMove::Read;
        }
        match (self.swap, self.stop) {
            (Some((spring, _)), _) if swap > stop => NextMove::Swap(spring),
            (_, Some((to, _))) if !is_at(to, now) => NextMove::Turn(to),
            _ => NextMove::Keep,
        }
    }
}

/// Whether the collar stands there.
pub(super) fn is_at(one: Turns, other: Turns) -> bool {
    (one - other).abs().value() <= 1e-9
}

/// Weighs everything that could be done now.
pub(super) fn weigh(belief: &Belief<'_>, standing: Option<FittedSpring<'_>>) -> Weighed {
    let basis = Basis { belief };
    let turns = standing.map_or_else(Vec::new, |standing| basis.at_turns(standing));
    let springs = basis.fittings(standing);
    let now = standing.map_or(Turns::ZERO, |standing| standing.set.preload_turns);
    let stop = basis.best_stop(&turns, now);
    let swap = first_best(springs.iter().map(|fitting| (fitting.spring, fitting.worth)));
    let read = standing.and_then(|standing| basis.read(standing, &turns, &springs));
    Weighed {
        turns,
        springs,
        stop: stop.map(|(turns, worth)| (turns, Minutes::of(worth))),
        swap: swap.map(|(spring, worth)| (spring, Minutes::of(worth))),
        read: read.map(Minutes::of),
    }
}

/// Weighs leaving the spring beside fitting one of these instead of those on the list, without another reading.
pub(super) fn weigh_among(
    belief: &Belief<'_>,
    standing: Option<FittedSpring<'_>>,
    springs: &[Spring],
) -> Weighed {
    let basis = Basis { belief };
    let turns = standing.map_or_else(Vec::new, |standing| basis.at_turns(standing));
    let springs = springs.iter().filter_map(|spring| basis.fitting(spring)).collect();
    Weighed { turns, springs, stop: None, swap: None, read: None }
}

/// The spring on the bike with more preload than is planned for.
pub(super) fn beyond_planned(
    belief: &Belief<'_>,
    spring: &Spring,
    set: &ReadingSet,
    turns: Turns,
) -> AtTurns {
    Basis { belief }.at(spring, set, turns)
}

/// Weighs one spring that is not on the rack.
pub(super) fn fitting(belief: &Belief<'_>, spring: &Spring) -> Option<Fitting> {
    Basis { belief }.fitting(spring)
}

/// What every weighing takes.
struct Basis<'a> {
    belief: &'a Belief<'a>,
}

impl Basis<'_> {
    fn setup(&self) -> &Setup {
        self.belief.setup
    }

    /// The band, in millimetres of stroke.
    fn band(&self) -> (f64, f64) {
        let Setup { target, shock, .. } = self.setup();
        (target.low().of(shock.stroke).as_mm(), target.high().of(shock.stroke).as_mm())
    }

    /// What the chance of the band is worth: it lies so far from the mean, with this variance and degrees of freedom.
    fn worth_of(&self, mean: f64, variance: f64, freedom: f64) -> f64 {
        let (low, high) = self.band();
        let price = self.belief.doubts.prices.in_range.value();
        price * statistics::student_between(low, high, mean, variance.max(1e-6).sqrt(), freedom)
    }

    /// Price of turning the collar and looking once.
    fn turn_price(&self) -> f64 {
        let prices = &self.belief.doubts.prices;
        prices.turn.value() + prices.sit.value()
    }

    /// Price of preload that stays on the bike.
    fn preload_price(&self, turns: Turns) -> f64 {
        self.belief.doubts.prices.preload.value() * turns.value()
    }

    /// The quarter turns that may be planned for a spring; none where it does not fit at all.
    fn allowed(&self, candidate: &Spring) -> Vec<Turns> {
        let shock = &self.setup().shock;
        let fits = |turns: &Turns| crate::mechanics::fit(candidate, shock, *turns).is_possible();
        let most = spring::most_turns(candidate, shock).value();
        let most = most.min(self.belief.doubts.prices.most_turns.value());
        let quarters = (most * 4.0 + 1e-9).floor().clamp(0.0, 400.0);
        let turns = (0..=400u16).map(f64::from).take_while(|quarter| *quarter <= quarters);
        turns.map(|quarter| Turns::of(quarter / 4.0)).filter(fits).collect()
    }
}

/// The first of those worth most.
fn first_best<T>(weighed: impl Iterator<Item = (T, f64)>) -> Option<(T, f64)> {
    weighed.reduce(|best, other| if other.1 > best.1 { other } else { best })
}

/// Whether a spring promises nothing that the one on the bike does not: the same label, and no reading with it.
pub(super) fn is_twin(one: &Spring, fitted: &Spring, known: RateSource) -> bool {
    let ends = one.end_rate.is_some() == fitted.end_rate.is_some();
    known == RateSource::ByLabel && ends && shop_rack::bears(one.rate(), fitted.rate())
}

/// Whether a spring can go on the shock with the collar at contact.
pub(super) fn fits(candidate: &Spring, setup: &Setup) -> bool {
    !matches!(
        crate::mechanics::fit(candidate, &setup.shock, Turns::ZERO),
        Fit::TooNarrow | Fit::WouldBind { .. }
    )
}
