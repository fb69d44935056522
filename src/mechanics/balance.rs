//! The seated balance: where a resting rider leaves the shock, `k (s + ½ η s²) + F = W L(x)` with `s = x + p`.
//!
//! k spring rate, η how the rate grows with compression, x stroke used, p preload, F gas force of the shock, W sprung load
//! on the rear wheel, L leverage ratio; friction is left out (it leans the same way at every reading). There is one root in
//! (0, S) whenever the spring is too soft at full extension and stiff enough at the end of the stroke; outside, the shock
//! stays topped out or sits at the end of its stroke. Source: principle of virtual work on a linkage without mass; any
//! textbook of statics. Not here: how sure the load is.

use super::leverage::LeverageCurve;
use super::spring::Stiffening;
use crate::units::{Force, Length, Share, SpringRate};

/// One rider at rest on one spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeatedBalance<'a> {
    /// Sprung load on the rear wheel.
    pub load: Force,
    /// Spring rate, of a progressive spring at no compression.
    pub rate: SpringRate,
    /// How the rate grows with compression.
    pub stiffening: Stiffening,
    /// Compression of the spring at full extension.
    pub preload: Length,
    /// Force of the charge in the damper, which pushes the shock out.
    pub gas: Force,
    /// The leverage curve.
    pub leverage: &'a LeverageCurve,
}

/// Where the shock comes to rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Resting {
    /// Inside the stroke, with this much of it used.
    Within(Length),
    /// Preload and gas carry the whole load: the shock does not move.
    ToppedOut,
    /// The load takes the whole stroke.
    Bottomed,
}

/// How far the stroke used moves when one cause changes a little.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sensitivity {
    /// Per unit of ln(load).
    pub per_log_load: Length,
    /// Per unit of ln(rate).
    pub per_log_rate: Length,
    /// Per unit of fall-off (as parts of one).
    pub per_falloff: Length,
    /// Per unit of belly (as parts of one).
    pub per_belly: Length,
    /// Millimetres per millimetre of preload, as a share (negative: preload takes sag away).
    pub per_preload: Share,
    /// Per newton of gas force.
    pub per_newton: Length,
}

const MOST_ROUNDS: usize = 60;
const CLOSE_ENOUGH_MM: f64 = 1e-10;

impl<'a> SeatedBalance<'a> {
    /// A spring of one rate on a shock without charge.
    pub const fn of(load: Force, rate: SpringRate, preload: Length, leverage: &'a LeverageCurve) -> Self {
        Self { load, rate, stiffening: Stiffening::NONE, preload, gas: Force::ZERO, leverage }
    }

    /// Where the shock comes to rest.
    pub fn resting(&self) -> Resting {
        let stroke = self.leverage.stroke().as_mm();
        if self.excess(0.0) >= 0.0 {
            return Resting::ToppedOut;
        }
        if self.excess(stroke) <= 0.0 {
            return Resting::Bottomed;
        }
        Resting::Within(Length::mm(self.root(stroke)))
    }

    /// The stroke used, with the ends of the stroke for a shock that is topped out or bottomed.
    pub fn stroke_used(&self) -> Length {
        match self.resting() {
            Resting::Within(used) => used,
            Resting::ToppedOut => Length::ZERO,
            Resting::Bottomed => self.leverage.stroke(),
        }
    }

    /// Spring and gas force minus the load's force on the shock; zero at rest.
    pub fn residual(&self, used: Length) -> Force {
        Force::newtons(self.excess(used.as_mm()))
    }

    /// How the stroke used answers to each cause, by the implicit function theorem on the balance.
    pub fn sensitivity(&self, used: Length) -> Sensitivity {
        let x = used.as_mm();
        let load = self.load.as_newtons();
        let stiffness = self.stiffness(x);
        Sensitivity {
            per_log_load: Length::mm(load * self.leverage.ratio_at(x) / stiffness),
            per_log_rate: Length::mm(-self.spring_force(x) / stiffness),
            per_falloff: Length::mm(load * self.leverage.per_falloff(x) / stiffness),
            per_belly: Length::mm(load * self.leverage.per_belly(x) / stiffness),
            per_preload: Share::fraction(-self.rate_at(x) / stiffness),
            per_newton: Length::mm(-1.0 / stiffness),
        }
    }

    /// Force of the spring at a stroke.
    pub(super) fn spring_force(&self, x: f64) -> f64 {
        let compression = x + self.preload.as_mm();
        self.rate.as_n_per_mm() * compression * (1.0 + 0.5 * self.stiffening.per_mm() * compression)
    }

    /// Rate of the spring at a stroke.
    pub(super) fn rate_at(&self, x: f64) -> f64 {
        self.rate.as_n_per_mm() * (1.0 + self.stiffening.per_mm() * (x + self.preload.as_mm()))
    }

    fn excess(&self, x: f64) -> f64 {
        self.spring_force(x) + self.gas.as_newtons() - self.load.as_newtons() * self.leverage.ratio_at(x)
    }

    /// Slope of the excess: what a millimetre more stroke adds to it. A ratio that rises faster than the spring
    /// stiffens would make the seat unstable; no frame does, and a fifth of the rate keeps the figures finite.
    fn stiffness(&self, x: f64) -> f64 {
        let rate = self.rate_at(x);
        (rate - self.load.as_newtons() * self.leverage.slope_at(x)).max(0.2 * rate)
    }

    /// Newton's method inside a shrinking bracket, so that no curve can throw it out.
    fn root(&self, stroke: f64) -> f64 {
        let (mut low, mut high) = (0.0, stroke);
        let force = self.load.as_newtons() * self.leverage.ratio_at(stroke * 0.3) - self.gas.as_newtons();
        let mut x = force / self.rate.as_n_per_mm();
        for _ in 0..MOST_ROUNDS {
            if !(low < x && x < high) {
                x = 0.5 * (low + high);
            }
            let excess = self.excess(x);
            if excess > 0.0 {
                high = x;
            } else {
                low = x;
            }
            let step = excess / self.stiffness(x);
            x -= step;
            if step.abs() < CLOSE_ENOUGH_MM {
                break;
            }
        }
        x.clamp(0.0, stroke)
    }
}

/// The rate that would rest at `used` under this load against this gas force: `k = (W L(x) - F) / (x + p)`.
pub fn rate_for(
    load: Force,
    gas: Force,
    used: Length,
    preload: Length,
    leverage: &LeverageCurve,
) -> SpringRate {
    let force = load.as_newtons() * leverage.ratio(used).value() - gas.as_newtons();
    SpringRate::n_per_mm(force.max(0.0) / (used + preload).as_mm())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve(falloff: f64) -> LeverageCurve {
        LeverageCurve::linear(Length::mm(150.0), Length::mm(60.0), Share::percent(falloff))
    }

    fn used(rate: f64, preload: f64, leverage: &LeverageCurve) -> f64 {
        SeatedBalance::of(Force::newtons(600.0), SpringRate::lb_per_in(rate), Length::mm(preload), leverage)
            .stroke_used()
            .as_mm()
    }

    #[test]
    fn with_constant_leverage_and_no_preload_sag_goes_with_one_over_the_rate() {
        let curve = curve(0.0);
        assert!((used(400.0, 0.0, &curve) / used(500.0, 0.0, &curve) - 500.0 / 400.0).abs() < 1e-9);
    }

    #[test]
    fn with_falling_leverage_a_softer_spring_sags_less_than_one_over_the_rate() {
        let curve = curve(20.0);
        assert!(used(400.0, 0.0, &curve) / used(500.0, 0.0, &curve) < 500.0 / 400.0);
    }

    #[test]
    fn a_turn_of_preload_takes_less_than_a_pitch_of_sag_where_leverage_falls() {
        let curve = curve(20.0);
        let taken = used(450.0, 0.0, &curve) - used(450.0, 1.0, &curve);
        assert!(taken > 0.0 && taken < 1.0);
    }

    #[test]
    fn a_load_too_small_or_too_great_is_named_not_solved() {
        let curve = curve(20.0);
        let spring = SpringRate::lb_per_in(450.0);
        let balance = |load: f64| SeatedBalance::of(Force::newtons(load), spring, Length::mm(2.0), &curve);
        assert_eq!(balance(10.0).resting(), Resting::ToppedOut);
        assert_eq!(balance(5_000.0).resting(), Resting::Bottomed);
    }

    #[test]
    fn the_rate_that_would_seat_does_seat() {
        let curve = curve(20.0);
        let (load, gas, wanted) = (Force::newtons(600.0), Force::newtons(120.0), Length::mm(18.0));
        let rate = rate_for(load, gas, wanted, Length::mm(1.0), &curve);
        let balance = SeatedBalance { gas, ..SeatedBalance::of(load, rate, Length::mm(1.0), &curve) };
        assert!((balance.stroke_used() - wanted).abs().as_mm() < 1e-9);
    }

    #[test]
    fn more_gas_carries_more_of_the_load() {
        let curve = curve(20.0);
        let spring = SpringRate::lb_per_in(450.0);
        let with = |gas: f64| SeatedBalance {
            gas: Force::newtons(gas),
            ..SeatedBalance::of(Force::newtons(600.0), spring, Length::ZERO, &curve)
        };
        assert!(with(150.0).stroke_used() < with(0.0).stroke_used());
    }

    #[test]
    fn a_progressive_spring_is_as_far_in_as_its_force_table_says() {
        // 70 N/mm rising to 84 at 60 mm: at 18 mm in it pushes 70·18 + ½·(14/60)·18² = 1297.8 N, reckoned by hand.
        let leverage = LeverageCurve::linear(Length::mm(60.0), Length::mm(60.0), Share::ZERO);
        let (rate, end) = (SpringRate::n_per_mm(70.0), SpringRate::n_per_mm(84.0));
        let stiffening = Stiffening::between(rate, end, Length::mm(60.0));
        let load = Force::newtons(1_297.8);
        let balance = SeatedBalance { stiffening, ..SeatedBalance::of(load, rate, Length::ZERO, &leverage) };
        assert!((balance.stroke_used().as_mm() - 18.0).abs() < 1e-9);
    }

    #[test]
    fn the_sensitivities_are_the_slopes_of_the_stroke_used() {
        let base = curve(20.0);
        let (rate, end) = (SpringRate::n_per_mm(78.8), SpringRate::n_per_mm(90.0));
        let stiffening = Stiffening::between(rate, end, Length::mm(65.0));
        // ln load, ln rate, preload, fall-off, belly, gas.
        let seat = |causes: [f64; 6]| {
            let [load, rate, preload, falloff, belly, gas] = causes;
            let leverage = base.with_falloff(Share::fraction(falloff)).with_belly(Share::fraction(belly));
            let balance = SeatedBalance {
                load: Force::newtons(load.exp()),
                rate: SpringRate::n_per_mm(rate.exp()),
                stiffening,
                preload: Length::mm(preload),
                gas: Force::newtons(gas),
                leverage: &leverage,
            };
            let by = balance.sensitivity(balance.stroke_used());
            let slopes = [by.per_log_load, by.per_log_rate].map(Length::as_mm);
            let more = [by.per_falloff, by.per_belly, by.per_newton].map(Length::as_mm);
            let all = [slopes[0], slopes[1], by.per_preload.as_fraction(), more[0], more[1], more[2]];
            (balance.stroke_used().as_mm(), all)
        };
        let at = [600f64.ln(), 78.8f64.ln(), 1.0, 0.2, 0.1, 110.0];
        let (_, slopes) = seat(at);
        for (cause, slope) in slopes.into_iter().enumerate() {
            let step = if cause == 5 { 1e-2 } else { 1e-5 };
            let moved = |by: f64| {
                let mut moved = at;
                moved[cause] += by;
                seat(moved).0
            };
            let found = (moved(step) - moved(-step)) / (2.0 * step);
            assert!((slope - found).abs() < 1e-4, "cause {cause}: {slope} beside {found}");
        }
    }
}
