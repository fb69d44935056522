//! What else changes with the spring: energy to the end of the stroke, wheel rate, bounce frequency, breakaway.
//!
//! Only for comparing springs: damping and the bump stop come on top of the energy, and tyres below the frequency.
//! Not here: geometry of the frame.

use super::balance::SeatedBalance;
use crate::units::quantity::GRAVITY;
use crate::units::{Energy, Frequency, Length, Share, SpringRate};

/// Figures of one spring under one rider.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RideFigures {
    /// How far the rear axle sinks under the seated rider.
    pub axle_sinks: Length,
    /// Energy spring and gas still take up from sag to the end of the stroke.
    pub energy_left: Energy,
    /// Rate at the wheel around sag.
    pub wheel_rate: SpringRate,
    /// Bounce frequency around sag, on a stiff tyre and without damping.
    pub bounce: Frequency,
    /// Force of preload and gas over the load's force at full extension: the share of the load that must arrive before it
    /// moves.
    pub breakaway: Share,
}

/// The figures of a spring at the place it rests.
///
/// Wheel rate `k/L² - F L'/L³` with F of spring and gas together and k the spring's rate there; bounce `√(k_w g / W) / 2π`;
/// energy from x to S the integral of F; breakaway `F(0) / (W L(0))`. Source: derivative of the wheel force F/L by wheel
/// travel; single mass on a spring (any textbook of vibration).
pub fn ride_figures(balance: &SeatedBalance<'_>) -> RideFigures {
    let used = balance.stroke_used();
    let x = used.as_mm();
    let (w, gas) = (balance.load.as_newtons(), balance.gas.as_newtons());
    let stroke = balance.leverage.stroke().as_mm();
    let ratio = balance.leverage.ratio_at(x);
    let force = |x: f64| balance.spring_force(x) + gas;
    let wheel_rate =
        balance.rate_at(x) / ratio.powi(2) - force(x) * balance.leverage.slope_at(x) / ratio.powi(3);
    // Simpson's rule is exact for the cubic the work of such a spring is.
    let energy_n_mm = (stroke - x) / 6.0 * (force(x) + 4.0 * force(0.5 * (x + stroke)) + force(stroke));
    RideFigures {
        axle_sinks: balance.leverage.wheel_travel(used),
        energy_left: Energy::joules(energy_n_mm / 1000.0),
        wheel_rate: SpringRate::n_per_mm(wheel_rate),
        bounce: Frequency::hertz((wheel_rate.max(0.0) * 1000.0 * GRAVITY / w).sqrt() / std::f64::consts::TAU),
        breakaway: Share::fraction(force(0.0) / (w * balance.leverage.ratio_at(0.0))),
    }
}

/// How much more rebound damping the second rate wants than the first: critical damping goes with √k, so
/// `√(second/first) - 1`; negative means less. Single mass on a spring (any textbook of vibration).
pub fn rebound_change(first: SpringRate, second: SpringRate) -> Share {
    Share::fraction((second / first).sqrt() - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::LeverageCurve;
    use crate::units::Force;

    #[test]
    fn with_a_ratio_of_one_the_wheel_bounces_as_its_static_deflection_says() {
        // f = √(g / δ) / 2π: a static deflection of 20 mm gives 3.524 Hz (15.76/√δ in the handbooks of vibration, δ in mm).
        let leverage = LeverageCurve::linear(Length::mm(60.0), Length::mm(60.0), Share::ZERO);
        let rate = SpringRate::n_per_mm(50.0);
        let balance = SeatedBalance::of(Force::newtons(1000.0), rate, Length::ZERO, &leverage);
        let figures = ride_figures(&balance);
        assert!((figures.bounce.value() - 15.7609 / 20f64.sqrt()).abs() < 1e-3);
        assert!(
            (figures.energy_left.value() - 0.5 * 50.0 * (60f64.powi(2) - 20f64.powi(2)) / 1000.0).abs()
                < 1e-9
        );
    }

    #[test]
    fn the_wheel_rate_is_the_slope_of_the_wheel_force() {
        let leverage = LeverageCurve::linear(Length::mm(150.0), Length::mm(60.0), Share::percent(25.0));
        let rate = SpringRate::n_per_mm(80.0);
        let balance = SeatedBalance::of(Force::newtons(650.0), rate, Length::mm(1.0), &leverage);
        let force = |x: f64| 80.0 * (x + 1.0) / leverage.ratio_at(x);
        let (x, step) = (balance.stroke_used().as_mm(), 1e-4);
        let travel = |x: f64| leverage.wheel_travel(Length::mm(x)).as_mm();
        let slope = (force(x + step) - force(x - step)) / (travel(x + step) - travel(x - step));
        assert!((ride_figures(&balance).wheel_rate.as_n_per_mm() - slope).abs() < 1e-4);
    }

    #[test]
    fn a_softer_spring_wants_less_rebound_damping() {
        let change = rebound_change(SpringRate::lb_per_in(500.0), SpringRate::lb_per_in(450.0));
        assert!((change.as_percent() - -5.131_670_194_948_62).abs() < 1e-9);
    }
}
