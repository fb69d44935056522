//! The front beside the rear, from what the rear already taught: load, sag, bounce and head angle, without a front walk.
//!
//! The load the fork carries is what the rear does not: `W_f = g (rider + bike - unsprung) - W_r`. A fork at angle θ to the
//! ground takes `W_f sin θ` along its legs and is `k_f / sin² θ` at the axle; bounce `√(k g / W) / 2π` (statics and a single
//! mass on a spring, any textbook of vibration). Friction, charge and a progressive spring are left out. Not here: what is
//! known how well, and words (`phrase::front`).

use crate::units::quantity::GRAVITY;
use crate::units::{Angle, Force, Frequency, Length, Mass, Share, SpringRate};

/// What is read at the fork.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fork {
    /// Travel along the legs.
    pub travel: Length,
    /// Sag of the seated rider along the legs.
    pub sag: Length,
    /// Head angle, bike unladen.
    pub head_angle: Angle,
}

/// The front under the rider.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Front {
    /// Sprung load on the front wheel.
    pub load: Force,
    /// Sag as a share of travel.
    pub sag: Share,
    /// How far the front comes down.
    pub sinks: Length,
    /// The rate along the legs that rests at this sag.
    pub rate: SpringRate,
    /// Bounce frequency around sag.
    pub bounce: Frequency,
}

/// What the front carries: all that is sprung, less what the rear does.
pub fn front_load(sprung: Mass, rear: Force) -> Force {
    sprung.weight() - rear
}

impl Fork {
    /// The front under this load; none where there is no load or no sag to speak of.
    pub fn under(&self, load: Force) -> Option<Front> {
        let sine = self.head_angle.value().to_radians().sin();
        if load <= Force::ZERO || self.sag <= Length::ZERO || sine <= 0.0 {
            return None;
        }
        let rate = load.as_newtons() * sine / self.sag.as_mm();
        let at_axle = rate / sine.powi(2) * 1000.0;
        Some(Front {
            load,
            sag: Share::fraction(self.sag / self.travel),
            sinks: self.sag * sine,
            rate: SpringRate::n_per_mm(rate),
            bounce: Frequency::hertz((at_axle * GRAVITY / load.as_newtons()).sqrt() / std::f64::consts::TAU),
        })
    }

    /// The rate along the legs that would rest at this share of the travel.
    pub fn rate_for(&self, load: Force, sag: Share) -> SpringRate {
        let along = load.as_newtons() * self.head_angle.value().to_radians().sin();
        SpringRate::n_per_mm(along / sag.of(self.travel).as_mm())
    }
}

/// The rate of a list that comes nearest to the one wanted; none where there is no list.
pub fn nearest(wanted: SpringRate, list: &[SpringRate]) -> Option<SpringRate> {
    let distance = |rate: &SpringRate| (*rate - wanted).abs().value();
    list.iter().copied().min_by(|one, other| distance(one).total_cmp(&distance(other)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fork() -> Fork {
        Fork { travel: Length::mm(160.0), sag: Length::mm(32.0), head_angle: Angle::degrees(64.0) }
    }

    #[test]
    fn the_front_carries_what_the_rear_does_not() {
        let load = front_load(Mass::kg(90.0), Force::newtons(560.0));
        assert!((load.as_newtons() - (90.0 * GRAVITY - 560.0)).abs() < 1e-9);
    }

    #[test]
    fn an_upright_fork_bounces_as_its_static_deflection_says() {
        // 15.76/√δ mm (handbook table of frequency against static deflection): 32 mm give 2.786 Hz.
        let upright = Fork { head_angle: Angle::degrees(90.0), ..fork() };
        let front = upright.under(Force::newtons(300.0)).expect("a load");
        assert!((front.bounce.value() - 15.7609 / 32f64.sqrt()).abs() < 1e-3, "{front:?}");
        assert!((front.sag.as_percent() - 20.0).abs() < 1e-9);
    }

    #[test]
    fn a_slack_fork_bounces_quicker_than_its_own_sag_says() {
        // Along the legs 32 mm, upright only 32 sin² θ/ sin θ: f = 15.76/√(32 sin θ).
        let front = fork().under(Force::newtons(300.0)).expect("a load");
        let deflection = 32.0 * 64f64.to_radians().sin();
        assert!((front.bounce.value() - 15.7609 / deflection.sqrt()).abs() < 1e-3, "{front:?}");
    }

    #[test]
    fn the_rate_that_rests_there_does_rest_there() {
        let load = Force::newtons(320.0);
        let front = fork().under(load).expect("a load");
        assert!((fork().rate_for(load, front.sag) - front.rate).abs().value() < 1e-9);
        let list = [50.0, 55.0, 60.0].map(SpringRate::lb_per_in);
        let wanted = fork().rate_for(load, Share::percent(20.0));
        assert_eq!(nearest(wanted, &list), Some(SpringRate::lb_per_in(50.0)));
    }
}
