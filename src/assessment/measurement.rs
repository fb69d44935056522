//! What could be measured next besides reading again, each with its price and with what it is expected to save, in minutes.
//!
//! A measurement takes the place of what was known beforehand, so it is worth what its better knowledge would change of the
//! decision, over all that it may show: the expected best with it less the best without it (the expected value of sample
//! information: Raiffa and Schlaifer, Applied Statistical Decision Theory, 1961, chapter 4; from memory). Where nothing at
//! hand lands a spring has to be got, and the same is asked at the prices of an order. It never changes what Enter does. Not
//! here: the weighing of one (`choice::measure`), and words (`phrase::measurement`).

use super::belief::prior::{self, FALLOFF, GAS, SEATED};
use super::belief::{Belief, Sight};
use super::choice::{self, FittedSpring, Measured, Weighed};
use super::doubts::Doubts;
use super::{Advice, NextMove};
use crate::mechanics::{Spring, SpringNumber};
use crate::session::shop_rack::{self, ShopSpring};
use crate::session::{Fact, Indicator, LeverageKnowledge, Posture, Setup, WheelLoad};
use crate::units::{Estimate, Mass, Minutes, Share, SpringRate, Turns};

/// Something that can be measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measurement {
    /// The rider on a scale, ready to ride.
    Rider,
    /// The bike on a scale.
    Bike,
    /// The travel of the rear wheel looked up.
    Travel,
    /// A scale under the rear wheel, the rider seated.
    Wheel,
    /// The bare shock pushed on a scale.
    Gas,
    /// Both of these: the wheel alone tells less than it seems to while nobody knows the gas.
    WheelAndGas,
    /// The leverage ratio at both ends looked up.
    LeverageEnds,
    /// A reading with a helper who pushes the indicator to the seal.
    PushedReading,
    /// The true rate of this spring, before it is fitted.
    Rate(SpringNumber),
}

/// A measurement with its price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Priced {
    /// What is measured.
    pub what: Measurement,
    /// What it takes.
    pub takes: Minutes,
    /// What it is expected to save.
    pub saves: Minutes,
}

impl Priced {
    /// Whether it clearly pays: it saves twice what it takes (common practice, no source).
    pub fn pays(&self) -> bool {
        self.saves > self.takes * 2.0
    }
}

/// What measuring takes, how well it is then known, and what an order costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measuring {
    /// Rider or bike on a scale.
    pub weigh: Minutes,
    /// A figure looked up at the frame maker's.
    pub look_up: Minutes,
    /// A scale under the rear wheel.
    pub wheel: Minutes,
    /// How far off that scale may be.
    pub wheel_doubt: Mass,
    /// The bare shock pushed on a scale, in and out.
    pub gas: Minutes,
    /// A reading with a helper.
    pub pushed: Minutes,
    /// A loose spring pressed on a scale.
    pub rate: Minutes,
    /// How well its rate is then known, as a share of it.
    pub rate_doubt: Share,
    /// What a spring ordered in vain costs.
    pub order: Minutes,
    /// What an ordered spring that lands is worth.
    pub ordered_in_range: Minutes,
}

/// Springs around the rate needed that could be ordered, in steps of 25 lb/in on either side.
const ORDERED_EITHER_SIDE: i8 = 3;

/// Everything worth asking about at this point, the one that saves most over its price first. Nothing before the
/// readings that are wanted, or while one is to be checked: a sit comes first, since it costs two minutes and tells of load, gas
/// and indicator at once.
pub(super) fn priced(
    belief: &Belief<'_>,
    standing: Option<FittedSpring<'_>>,
    weighed: &Weighed,
    advice: &Advice,
) -> Vec<Priced> {
    let mut priced = match advice {
        Advice::TakeReadings { .. } | Advice::Check { .. } | Advice::FirstSpring { .. } => Vec::new(),
        Advice::NothingOnTheList { .. } | Advice::NoneFits { .. } => before_ordering(belief, standing),
        _ => at_hand(belief, standing, weighed),
    };
    let over = |one: &Priced| (one.saves - one.takes).value();
    priced.sort_by(|one, other| over(other).total_cmp(&over(one)));
    priced
}

/// Measurements before one of the springs at hand is chosen.
fn at_hand(belief: &Belief<'_>, standing: Option<FittedSpring<'_>>, weighed: &Weighed) -> Vec<Priced> {
    let spring_comes_off = match standing {
        Some(standing) => matches!(weighed.next_move(standing.set.preload_turns), NextMove::Swap(_)),
        None => true,
    };
    let rate = weighed.swap.map(|(spring, _)| Measurement::Rate(spring)).filter(|_| spring_comes_off);
    let off_and_on = if spring_comes_off { Minutes::ZERO } else { belief.doubts.prices.swap };
    SHARED
        .into_iter()
        .chain(rate)
        .filter_map(|what| price(belief, standing, weighed, what, off_and_on))
        .collect()
}

/// Measurements before a spring is ordered: the same, at the prices of an order, among springs that can be had.
fn before_ordering(belief: &Belief<'_>, standing: Option<FittedSpring<'_>>) -> Vec<Priced> {
    let measuring = &belief.doubts.measuring;
    let mut doubts: Doubts = *belief.doubts;
    doubts.prices.swap = measuring.order;
    doubts.prices.in_range = measuring.ordered_in_range;
    let ordering = belief.priced_by(&doubts);
    let needed = belief.needed_rate().value.as_lb_per_in();
    let nearest = (needed / 25.0).round();
    let steps = (-ORDERED_EITHER_SIDE..=ORDERED_EITHER_SIDE).map(|step| (nearest + f64::from(step)) * 25.0);
    let kinds =
        steps.filter(|rate| *rate > 0.0).map(|rate| ShopSpring::labelled(SpringRate::lb_per_in(rate)));
    let springs: Vec<Spring> = kinds.map(|kind| shop_rack::joining(&kind, &belief.setup.springs)).collect();
    let weighed = choice::weigh_among(&ordering, standing, &springs);
    SHARED.into_iter().filter_map(|what| price(&ordering, standing, &weighed, what, Minutes::ZERO)).collect()
}

/// Those that say something of what every spring shares.
const SHARED: [Measurement; 8] = [
    Measurement::Rider,
    Measurement::Bike,
    Measurement::Travel,
    Measurement::Wheel,
    Measurement::Gas,
    Measurement::WheelAndGas,
    Measurement::LeverageEnds,
    Measurement::PushedReading,
];

/// One of them priced; none where it was made already or makes nothing sharper.
fn price(
    belief: &Belief<'_>,
    standing: Option<FittedSpring<'_>>,
    weighed: &Weighed,
    what: Measurement,
    off_and_on: Minutes,
) -> Option<Priced> {
    let (sights, of_spring) = sights(belief, standing, weighed, what)?;
    let saves = choice::saved_by(belief, standing, weighed, &Measured { sights, of_spring });
    Some(Priced { what, takes: takes(what, &belief.doubts.measuring, off_and_on), saves })
}

fn takes(what: Measurement, measuring: &Measuring, off_and_on: Minutes) -> Minutes {
    match what {
        Measurement::Rider | Measurement::Bike => measuring.weigh,
        Measurement::Travel | Measurement::LeverageEnds => measuring.look_up,
        Measurement::Wheel => measuring.wheel,
        Measurement::Gas => measuring.gas + off_and_on,
        Measurement::WheelAndGas => measuring.wheel + measuring.gas + off_and_on,
        Measurement::PushedReading => measuring.pushed,
        Measurement::Rate(_) => measuring.rate,
    }
}

/// What it would let one see, and the one spring it is of.
fn sights(
    belief: &Belief<'_>,
    standing: Option<FittedSpring<'_>>,
    weighed: &Weighed,
    what: Measurement,
) -> Option<(Vec<Sight>, Option<SpringNumber>)> {
    let (setup, doubts) = (belief.setup, belief.doubts);
    let entered = |fact: Fact| {
        let lacking = !setup.is_entered(fact) && setup.wheel_load.is_none();
        let known = || Setup { typical: without(&setup.typical, fact), ..setup.clone() };
        lacking.then(|| load_as(belief, &known())).flatten()
    };
    let gas = || belief.sight_of_shared(GAS, doubts.gas.entered.as_newtons());
    let is_told = setup.charge.is_some();
    let one = |sight: Option<Sight>| Some((vec![sight?], None));
    match what {
        Measurement::Rider => one(entered(Fact::Rider)),
        Measurement::Bike => one(entered(Fact::Bike)),
        Measurement::Travel => one(entered(Fact::Travel)),
        Measurement::Wheel => one(wheel(belief).filter(|_| is_told)),
        Measurement::Gas => one(gas().filter(|_| !is_told)),
        Measurement::WheelAndGas if is_told => None,
        Measurement::WheelAndGas => Some((vec![wheel(belief)?, gas()?], None)),
        Measurement::LeverageEnds => match setup.leverage {
            LeverageKnowledge::TravelOnly => {
                one(belief.sight_of_shared(FALLOFF, doubts.leverage.entered.as_fraction()))
            }
            LeverageKnowledge::Ends { .. } | LeverageKnowledge::Measured(_) => None,
        },
        Measurement::PushedReading => {
            let kept = standing.filter(|standing| standing.set.how.indicator == Indicator::Kept)?;
            let here = weighed.nearest_to(kept.set.preload_turns)?;
            one(Some(belief.sight_of_pushed(here)))
        }
        Measurement::Rate(number) => {
            let spring = setup.spring(number).filter(|spring| spring.measured.is_none())?;
            let sight = belief.sight_of_rate(spring, doubts.measuring.rate_doubt.as_fraction())?;
            Some((vec![sight], Some(number)))
        }
    }
}

/// A scale under the rear wheel, where there was none yet.
fn wheel(belief: &Belief<'_>) -> Option<Sight> {
    let setup = belief.setup;
    let unweighed = setup.wheel_load.is_none() && belief.how.posture == Posture::Seated;
    let unsprung = super::next_visit::unsprung(setup, belief.doubts).value;
    let shown = belief.load().value.as_mass() + unsprung;
    let doubt = belief.doubts.measuring.wheel_doubt;
    let weighed = WheelLoad { shown: Estimate::new(shown, doubt) };
    unweighed.then(|| load_as(belief, &Setup { wheel_load: Some(weighed), ..setup.clone() })).flatten()
}

/// The load as it would be known beforehand with this setup; only what a rider in the saddle puts on the wheel is weighed.
fn load_as(belief: &Belief<'_>, known: &Setup) -> Option<Sight> {
    let load = prior::load(known, belief.doubts);
    let seated = belief.how.posture == Posture::Seated;
    seated.then(|| belief.sight_of_shared(SEATED, load.uncertainty / load.value)).flatten()
}

fn without(typical: &[Fact], fact: Fact) -> Vec<Fact> {
    typical.iter().copied().filter(|one| *one != fact).collect()
}

impl Weighed {
    /// The rest of the spring on the bike at the collar position weighed that is nearest.
    fn nearest_to(&self, turns: Turns) -> Option<&super::belief::Outcome> {
        let away = |at: &&choice::AtTurns| (at.turns - turns).abs().value();
        self.turns.iter().min_by(|one, other| away(one).total_cmp(&away(other))).map(|at| &at.outcome)
    }
}
