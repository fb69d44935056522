//! What if: a few kilograms more or less, a turn of the collar, a spring step, another sag wanted.
//!
//! All of it comes from the load the readings speak for and the spring on the bike, at its collar. `dk/dm = s g L(x)/x` at
//! the sag wanted, s the rider's share on the rear wheel, g gravity, L the leverage ratio, x the stroke used: how much
//! stiffer a spring a kilogram more wants. Sag answers by the balance itself. Not here: which spring to fit (`advice`), and
//! words (`phrase::what_if`).

use super::belief::Belief;
use super::next_visit;
use crate::mechanics::{SeatedBalance, balance};
use crate::session::{Setup, State};
use crate::units::{Force, Length, Mass, Share, SpringRate, Turns};

/// A spring step of the trade (common practice, no source).
pub const STEP: SpringRate = SpringRate::lb_per_in(25.0);
/// Loads told of: lighter, heavier, and with a full pack (common practice, no source).
const LOADS: [Mass; 3] = [Mass::kg(-5.0), Mass::kg(5.0), Mass::kg(8.0)];
/// What is wanted by one sort of rider or another, in per cent (common practice, no source).
const TARGETS: [Share; 3] = [Share::percent(25.0), Share::percent(28.0), Share::percent(33.0)];

/// What follows from a small change.
#[derive(Debug, Clone, PartialEq)]
pub struct WhatIf {
    /// How much stiffer a spring each kilogram more wants.
    pub rate_per_kilo: SpringRate,
    /// How much more sag each kilogram makes on this spring.
    pub sag_per_kilo: Share,
    /// How much sag a turn of the collar takes away.
    pub sag_per_turn: Share,
    /// How much sag a step of [`STEP`] stiffer takes away.
    pub sag_per_step: Share,
    /// What a step is worth in kilograms of rider.
    pub step: Mass,
    /// Other loads on this spring.
    pub loads: Vec<OtherLoad>,
    /// Other sag wanted.
    pub targets: Vec<OtherTarget>,
}

/// The rider with more or less on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherLoad {
    /// How much more.
    pub more: Mass,
    /// Sag on the spring that is fitted.
    pub sag: Share,
    /// The rate that would rest at the sag wanted.
    pub rate: SpringRate,
}

/// Another sag wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherTarget {
    /// The sag.
    pub sag: Share,
    /// The rate that would rest there.
    pub rate: SpringRate,
}

/// What follows from small changes; none before there is a reading with the spring on the bike, and none while nobody told
/// the rider's weight.
pub(super) fn what_if(belief: &Belief<'_>, state: &State) -> Option<WhatIf> {
    let readings = state.present_set().filter(|set| set.counting().next().is_some())?;
    if !belief.setup.knows_the_load() {
        return None;
    }
    let seat = belief.seat(state.fitted()?, belief.setup.shock.preload(readings.preload_turns));
    Some(Rider { setup: belief.setup, per_kilo: load_per_kilo(belief), seat }.what_if())
}

/// What a kilogram of rider adds to the load on the rear wheel.
fn load_per_kilo(belief: &Belief<'_>) -> Force {
    let riders = belief.load().value - next_visit::bike_load(belief.setup, belief.doubts);
    // A load that the bike alone explains leaves the rider a share all the same: nobody sits in front of the bars.
    let share = (riders / belief.setup.rider.weight()).clamp(0.3, 1.0);
    Mass::kg(share).weight()
}

/// The rider on the spring that is fitted.
struct Rider<'a> {
    setup: &'a Setup,
    per_kilo: Force,
    seat: SeatedBalance<'a>,
}

impl Rider<'_> {
    fn what_if(&self) -> WhatIf {
        let SeatedBalance { load, rate, preload, .. } = self.seat;
        let needed = self.setup.target.sag;
        let kilo = Mass::kg(1.0);
        let rate_per_kilo = self.rate_for(load + self.per_kilo, needed) - self.rate_for(load, needed);
        let turn = self.setup.shock.preload(Turns::of(1.0));
        let now = self.sag(load, rate, preload);
        WhatIf {
            rate_per_kilo,
            sag_per_kilo: self.sag(load + self.per_kilo, rate, preload) - now,
            sag_per_turn: now - self.sag(load, rate, preload + turn),
            sag_per_step: now - self.sag(load, rate + STEP, preload),
            step: kilo * (STEP / rate_per_kilo),
            loads: LOADS.into_iter().map(|more| self.other_load(more)).collect(),
            targets: TARGETS
                .into_iter()
                .filter(|target| !self.setup.target.holds(*target))
                .map(|sag| self.target(sag))
                .collect(),
        }
    }

    fn other_load(&self, more: Mass) -> OtherLoad {
        let load = self.seat.load + self.per_kilo * more.as_kg();
        OtherLoad {
            more,
            sag: self.sag(load, self.seat.rate, self.seat.preload),
            rate: self.rate_for(load, self.setup.target.sag),
        }
    }

    fn target(&self, sag: Share) -> OtherTarget {
        OtherTarget { sag, rate: self.rate_for(self.seat.load, sag) }
    }

    fn sag(&self, load: Force, rate: SpringRate, preload: Length) -> Share {
        let seated = SeatedBalance { load, rate, preload, ..self.seat };
        Share::fraction(seated.stroke_used() / self.setup.shock.stroke)
    }

    fn rate_for(&self, load: Force, sag: Share) -> SpringRate {
        balance::rate_for(
            load,
            self.seat.gas,
            sag.of(self.setup.shock.stroke),
            Length::ZERO,
            self.seat.leverage,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::LeverageCurve;
    use crate::session::intake::Intake;
    use crate::session::{Detail, Spring, SpringNumber, Target};

    fn setup() -> Setup {
        let mut entered = Intake::default();
        entered
            .enter_all([
                Detail::Rider(Mass::kg(80.0)),
                Detail::Bike(Mass::kg(16.0)),
                Detail::Travel(Length::mm(160.0)),
                Detail::Stroke(Length::mm(65.0)),
                Detail::CollarPitch(Length::mm(1.5)),
                Detail::TurnsLimit(Turns::of(2.0)),
                Detail::Target(Target::PLANTED),
                Detail::Ruler(Length::mm(0.5)),
                Detail::ReadingsEach(3),
                Detail::Springs(vec![Spring::labelled(SpringNumber(1), SpringRate::lb_per_in(450.0))]),
            ])
            .expect("possible");
        entered.complete().expect("nothing is missing")
    }

    /// 80 kg with a share of 0.66 on 160/65, straight leverage with 22 % fall-off, a shock without charge.
    fn seated(setup: &Setup) -> WhatIf {
        let (share, bike) = (0.66, 0.5 * 16.0 - 4.2);
        let load = Mass::kg(share * 80.0 + bike).weight();
        let curve = LeverageCurve::linear(setup.travel, setup.shock.stroke, Share::percent(22.0));
        let seat = SeatedBalance::of(load, SpringRate::lb_per_in(440.0), Length::ZERO, &curve);
        Rider { setup, per_kilo: Mass::kg(share).weight(), seat }.what_if()
    }

    #[test]
    fn five_kilograms_are_a_step_on_this_bike_whoever_rides_it() {
        // By hand: s g L(x)/x = 0.66 · 9.80665 · (160/65)(1 + 0.22 · 0.2) / 19.5 = 0.8532 N/mm = 4.87 lb/in a kilogram.
        let entered = seated(&setup());
        assert!((entered.rate_per_kilo.as_lb_per_in() - 4.872).abs() < 2e-2, "{entered:?}");
        assert!((entered.step.as_kg() - 5.13).abs() < 3e-2, "{entered:?}");
    }

    #[test]
    fn what_a_turn_and_a_step_take_is_what_the_trade_finds() {
        // A 1.5 mm turn is 2.2 points and 25 lb/in about a point and a half (common practice, no source).
        let entered = seated(&setup());
        assert!((entered.sag_per_turn.as_percent() - 2.2).abs() < 0.2, "{entered:?}");
        assert!((1.0..2.4).contains(&entered.sag_per_step.as_percent()), "{entered:?}");
    }

    #[test]
    fn a_pack_sags_more_and_wants_stiffer() {
        let entered = seated(&setup());
        let [lighter, heavier, pack] = entered.loads[..] else { panic!("three loads") };
        assert!(lighter.sag < heavier.sag && heavier.sag < pack.sag);
        assert!((pack.rate - lighter.rate - entered.rate_per_kilo * 13.0).abs().as_lb_per_in() < 0.5);
        assert!(entered.targets.iter().all(|target| !Target::PLANTED.holds(target.sag)));
    }
}
