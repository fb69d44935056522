//! Who sets the bikes up beside the program: two rules of thumb and an oracle. All may turn the collar by one turn.

use coilwright::session::SpringNumber;
use coilwright::units::{SpringRate, Turns};

use crate::stand::Stand;
use crate::world::Bike;
use coilwright::session::Indicator;

/// Swaps after which any mechanic gives up.
pub(crate) const MOST_SWAPS: usize = 6;

/// Seated readings a rule of thumb takes the mean of.
const SITS_OF_A_RULE: usize = 3;

/// How a setup ended.
pub(crate) struct Outcome {
    pub(crate) swaps: usize,
    pub(crate) sits: usize,
    /// How often the collar was turned to trim.
    pub(crate) collar_turned: usize,
    /// Where it stands at the end.
    pub(crate) turns: Turns,
    /// Whether the true sag lies in range.
    pub(crate) in_range: bool,
    /// Whether it leaves with a spring of too little stroke.
    pub(crate) binds: bool,
}

impl Outcome {
    /// A swap takes a quarter of an hour, a sit a minute, a turn of the collar two (common practice, no source).
    pub(crate) fn minutes(&self) -> f64 {
        15.0 * self.swaps as f64 + self.sits as f64 + 2.0 * self.collar_turned as f64
    }

    /// In range with one turn of preload at most, and on a spring that fits.
    pub(crate) fn is_set_up(&self) -> bool {
        self.in_range && !self.binds && self.turns <= Turns::of(1.0)
    }
}

/// A rule of thumb: how much stiffer the next spring should be, from the mean sag in per cent.
pub(crate) type Rule = fn(&Bike, SpringRate, f64) -> SpringRate;

/// 50 lb/in, or 25 when within three points (common practice, no source).
pub(crate) fn by_fifties(bike: &Bike, label: SpringRate, sag: f64) -> SpringRate {
    let off = sag - bike.setup.target.sag.as_percent();
    let size = if off.abs() <= 3.0 { 25.0 } else { 50.0 };
    label + SpringRate::lb_per_in(size * off.signum())
}

/// Rate times measured sag over wanted sag.
pub(crate) fn in_proportion(bike: &Bike, label: SpringRate, sag: f64) -> SpringRate {
    label * (sag / bike.setup.target.sag.as_percent())
}

/// Three readings, their mean, and a rule: content in range, up to a turn of the collar where that would do, else a swap.
pub(crate) fn by_rule(bike: &Bike, indicator: Indicator, rule: Rule) -> Outcome {
    let mut stand = Stand::new(bike, indicator);
    let (mut spring, mut turns) = (bike.fitted, Turns::ZERO);
    let (mut swaps, mut sits, mut collar_turned) = (0, 0, 0);
    loop {
        let sag = mean_sag(bike, &mut stand, spring, turns);
        sits += SITS_OF_A_RULE;
        let fits = bike.has_stroke_for(spring, turns);
        if (fits && bike.in_range(sag)) || swaps == MOST_SWAPS {
            break;
        }
        if let Some(trim) = trim(bike, spring, sag).filter(|_| turns == Turns::ZERO) {
            turns = trim;
            collar_turned += 1;
            continue;
        }
        let label = bike.setup.spring(spring).expect("on the rack").label;
        let Some(next) = nearest(bike, spring, rule(bike, label, sag)) else { break };
        (spring, turns) = (next, Turns::ZERO);
        swaps += 1;
        stand.mounted_anew();
    }
    let in_range = bike.in_range(stand.true_sag(spring, turns));
    Outcome { swaps, sits, collar_turned, turns, in_range, binds: !bike.has_stroke_for(spring, turns) }
}

fn mean_sag(bike: &Bike, stand: &mut Stand<'_>, spring: SpringNumber, turns: Turns) -> f64 {
    stand.new_set();
    let total: f64 = (0..SITS_OF_A_RULE).map(|_| stand.read(spring, turns).as_mm()).sum();
    100.0 * total / SITS_OF_A_RULE as f64 / bike.setup.shock.stroke.as_mm()
}

/// The quarter turns that would take too much sag away, where one turn is enough: a turn for a pitch of the collar.
fn trim(bike: &Bike, spring: SpringNumber, sag: f64) -> Option<Turns> {
    let too_much = (sag - bike.setup.target.sag.as_percent()) / 100.0 * bike.setup.shock.stroke.as_mm();
    let quarters = (4.0 * too_much / bike.setup.shock.collar_pitch.as_mm()).round();
    let turns = (1.0..=4.0).contains(&quarters).then(|| Turns::of(quarters / 4.0))?;
    bike.has_stroke_for(spring, turns).then_some(turns)
}

/// The spring at hand nearest to a rate, of those that fit; none where that is the one on the bike.
fn nearest(bike: &Bike, fitted: SpringNumber, rate: SpringRate) -> Option<SpringNumber> {
    let fitting = bike.setup.springs.iter().filter(|spring| bike.has_stroke_for(spring.number, Turns::ZERO));
    let distance = |other: SpringRate| (other - rate).abs().value();
    let nearest = fitting.min_by(|one, other| distance(one.label).total_cmp(&distance(other.label)))?;
    (nearest.number != fitted).then_some(nearest.number)
}

/// Sees the truth: a swap only where the spring on the bike cannot be brought into range, and then to the right one.
pub(crate) fn oracle(bike: &Bike) -> Outcome {
    let at_hand = bike.setup.springs.iter().map(|spring| spring.number);
    let first = std::iter::once(bike.fitted).chain(at_hand);
    let reached = first.into_iter().find_map(|spring| Some((spring, bike.turns_that_reach(spring)?)));
    let (spring, turns) = reached.unwrap_or((bike.fitted, Turns::ZERO));
    Outcome {
        swaps: usize::from(spring != bike.fitted),
        sits: 0,
        collar_turned: usize::from(turns > Turns::ZERO),
        turns,
        in_range: reached.is_some(),
        binds: !bike.has_stroke_for(spring, turns),
    }
}
