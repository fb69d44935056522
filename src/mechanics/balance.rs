//! The seated balance: where a resting rider leaves the shock, `k (x + p) = W L(x)`.
//!
//! k spring rate, x stroke used, p preload, W sprung load on the rear wheel, L leverage ratio; friction is left out
//! (it hides in W, the same way at every reading). There is one root in (0, S) whenever `k p < W L(0)` and
//! `k (S + p) > W L(S)`; outside, the shock stays topped out or sits at the end of its stroke. Source: principle of
//! virtual work on a linkage without mass; any textbook of statics. Not here: how sure the load is.

use super::leverage::LeverageCurve;
use crate::units::{Force, Length, Share, SpringRate};

/// One rider at rest on one spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeatedBalance<'a> {
    /// Sprung load on the rear wheel.
    pub load: Force,
    /// Spring rate.
    pub rate: SpringRate,
    /// Compression of the spring at full extension.
    pub preload: Length,
    /// The leverage curve.
    pub leverage: &'a LeverageCurve,
}

/// Where the shock comes to rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Resting {
    /// Inside the stroke, with this much of it used.
    Within(Length),
    /// The preload carries the whole load: the shock does not move.
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
    /// Millimetres per millimetre of preload, as a share (negative: preload takes sag away).
    pub per_preload: Share,
}

const MOST_ROUNDS: usize = 60;
const CLOSE_ENOUGH_MM: f64 = 1e-10;

impl SeatedBalance<'_> {
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

    /// Spring force minus the load's force on the shock; zero at rest.
    pub fn residual(&self, used: Length) -> Force {
        Force::newtons(self.excess(used.as_mm()))
    }

    /// How the stroke used answers to each cause, by the implicit function theorem on the balance.
    pub fn sensitivity(&self, used: Length) -> Sensitivity {
        let x = used.as_mm();
        let (load, rate) = (self.load.as_newtons(), self.rate.as_n_per_mm());
        let stiffness = self.stiffness(x);
        Sensitivity {
            per_log_load: Length::mm(load * self.leverage.ratio_at(x) / stiffness),
            per_log_rate: Length::mm(-rate * (x + self.preload.as_mm()) / stiffness),
            per_falloff: Length::mm(load * self.leverage.per_falloff(x) / stiffness),
            per_preload: Share::fraction(-rate / stiffness),
        }
    }

    fn excess(&self, x: f64) -> f64 {
        self.rate.as_n_per_mm() * (x + self.preload.as_mm())
            - self.load.as_newtons() * self.leverage.ratio_at(x)
    }

    /// Slope of the excess: what a millimetre more stroke adds to it. A ratio that rises faster than the spring
    /// stiffens would make the seat unstable; no frame does, and a tenth of the rate keeps the figures finite.
    fn stiffness(&self, x: f64) -> f64 {
        let rate = self.rate.as_n_per_mm();
        (rate - self.load.as_newtons() * self.leverage.slope_at(x)).max(0.1 * rate)
    }

    /// Newton's method inside a shrinking bracket, so that no curve can throw it out.
    fn root(&self, stroke: f64) -> f64 {
        let (mut low, mut high) = (0.0, stroke);
        let mut x = self.load.as_newtons() * self.leverage.ratio_at(stroke * 0.3) / self.rate.as_n_per_mm();
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

/// The rate that would rest at `used` under this load: `k = W L(x) / (x + p)`.
pub fn rate_for(load: Force, used: Length, preload: Length, leverage: &LeverageCurve) -> SpringRate {
    let force = load.as_newtons() * leverage.ratio(used).value();
    SpringRate::n_per_mm(force / (used + preload).as_mm())
}

/// The preload at which this spring would rest at `used`: `p = W L(x) / k - x`; negative where no preload can.
pub fn preload_for(load: Force, used: Length, rate: SpringRate, leverage: &LeverageCurve) -> Length {
    Length::mm(load.as_newtons() * leverage.ratio(used).value() / rate.as_n_per_mm()) - used
}

/// The load that rests a spring at `used`: `W = k (x + p) / L(x)`.
pub fn load_for(used: Length, preload: Length, rate: SpringRate, leverage: &LeverageCurve) -> Force {
    (rate * (used + preload)) / leverage.ratio(used).value()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve(falloff: f64) -> LeverageCurve {
        LeverageCurve::linear(Length::mm(150.0), Length::mm(60.0), Share::percent(falloff))
    }

    fn used(rate: f64, preload: f64, leverage: &LeverageCurve) -> f64 {
        SeatedBalance {
            load: Force::newtons(600.0),
            rate: SpringRate::lb_per_in(rate),
            preload: Length::mm(preload),
            leverage,
        }
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
        let balance = |load: f64| SeatedBalance {
            load: Force::newtons(load),
            rate: SpringRate::lb_per_in(450.0),
            preload: Length::mm(2.0),
            leverage: &curve,
        };
        assert_eq!(balance(10.0).resting(), Resting::ToppedOut);
        assert_eq!(balance(5_000.0).resting(), Resting::Bottomed);
    }

    #[test]
    fn the_rate_and_the_preload_that_would_seat_do_seat() {
        let curve = curve(20.0);
        let (load, wanted) = (Force::newtons(600.0), Length::mm(18.0));
        let rate = rate_for(load, wanted, Length::ZERO, &curve);
        let balance = SeatedBalance { load, rate, preload: Length::ZERO, leverage: &curve };
        assert!((balance.stroke_used() - wanted).abs().as_mm() < 1e-9);
        let soft = rate * 0.95;
        let preload = preload_for(load, wanted, soft, &curve);
        let trimmed = SeatedBalance { load, rate: soft, preload, leverage: &curve };
        assert!((trimmed.stroke_used() - wanted).abs().as_mm() < 1e-9);
        assert!((load_for(wanted, preload, soft, &curve) - load).abs().as_newtons() < 1e-9);
    }

    #[test]
    fn the_sensitivities_are_the_slopes_of_the_stroke_used() {
        let curve = curve(20.0);
        let at = |load: f64, rate: f64, preload: f64, falloff: f64| {
            let leverage = curve.with_falloff(Share::fraction(falloff));
            let balance = SeatedBalance {
                load: Force::newtons(load.exp()),
                rate: SpringRate::n_per_mm(rate.exp()),
                preload: Length::mm(preload),
                leverage: &leverage,
            };
            (balance.stroke_used().as_mm(), balance.sensitivity(balance.stroke_used()))
        };
        let (load, rate, step) = (600f64.ln(), 78.8f64.ln(), 1e-5);
        let (_, slopes) = at(load, rate, 1.0, 0.2);
        let slope = |ahead: f64, behind: f64| (ahead - behind) / (2.0 * step);
        let by_load = slope(at(load + step, rate, 1.0, 0.2).0, at(load - step, rate, 1.0, 0.2).0);
        let by_rate = slope(at(load, rate + step, 1.0, 0.2).0, at(load, rate - step, 1.0, 0.2).0);
        let by_preload = slope(at(load, rate, 1.0 + step, 0.2).0, at(load, rate, 1.0 - step, 0.2).0);
        let by_falloff = slope(at(load, rate, 1.0, 0.2 + step).0, at(load, rate, 1.0, 0.2 - step).0);
        assert!((slopes.per_log_load.as_mm() - by_load).abs() < 1e-4);
        assert!((slopes.per_log_rate.as_mm() - by_rate).abs() < 1e-4);
        assert!((slopes.per_preload.as_fraction() - by_preload).abs() < 1e-4);
        assert!((slopes.per_falloff.as_mm() - by_falloff).abs() < 1e-4);
    }
}
