//! Laws of the seated balance. They are physics, not figures: monotone springs and levers, any textbook of statics.

use coilwright::mechanics::{LeverageCurve, Resting, SeatedBalance, Stiffening};
use coilwright::units::{Length, Share, SpringRate};
use proptest::prelude::*;

use super::bikes::{Seat, seat};

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_rate_less_sag(seat in seat(), more in 1.01..1.6f64) {
        let stiffer = Seat { rate: seat.rate * more, ..seat.clone() };
        prop_assert!(stiffer.used() <= seat.used());
    }

    #[test]
    fn more_rider_more_sag(seat in seat(), more in 1.01..1.6f64) {
        let heavier = Seat { load: seat.load * more, ..seat.clone() };
        prop_assert!(heavier.used() >= seat.used());
    }

    #[test]
    fn more_preload_less_sag(seat in seat(), more in 0.1..4.0f64) {
        let trimmed = Seat { preload: seat.preload + more, ..seat.clone() };
        prop_assert!(trimmed.used() <= seat.used());
    }

    #[test]
    fn a_spring_that_ends_stiffer_never_sags_more_and_one_that_ends_alike_sags_alike(
        seat in seat(),
        end in 1.0..1.5f64,
        more in 0.01..0.3f64,
    ) {
        let stroke = seat.curve.stroke();
        let rate = seat.balance().rate;
        let ending = |end: SpringRate| {
            let stiffening = Stiffening::between(rate, end, stroke);
            SeatedBalance { stiffening, ..seat.balance() }.stroke_used()
        };
        prop_assert!(ending(rate * (end + more)) <= ending(rate * end));
        prop_assert_eq!(ending(rate), seat.balance().stroke_used());
    }

    #[test]
    fn at_rest_the_forces_balance(seat in seat()) {
        if let Resting::Within(used) = seat.balance().resting() {
            prop_assert!(seat.balance().residual(used).abs().as_newtons() < 1e-6);
        }
    }

    #[test]
    fn scaling_every_length_leaves_the_sag_share_alone(seat in seat(), scale in 0.5..2.0f64) {
        // k, W and L stay; x, p, S and T all grow alike only when the load grows with them, as k x does.
        let (travel, stroke) = (seat.curve.travel(), seat.curve.stroke());
        let curve = LeverageCurve::linear(travel * scale, stroke * scale, seat.curve.falloff());
        let scaled = Seat { load: seat.load * scale, preload: seat.preload * scale, curve, ..seat.clone() };
        let share = |seat: &Seat| Length::mm(seat.used()) / seat.curve.stroke();
        prop_assert!((share(&scaled) - share(&seat)).abs() < 1e-8);
    }

    #[test]
    fn wheel_travel_rises_with_stroke_and_ends_at_the_travel(seat in seat(), at in 0.0..0.99f64) {
        let stroke = seat.curve.stroke();
        let here = seat.curve.wheel_travel(stroke * at);
        let further = seat.curve.wheel_travel(stroke * (at + 0.01));
        prop_assert!(further > here);
        let whole = LeverageCurve::linear(Length::mm(150.0), Length::mm(60.0), Share::fraction(at));
        prop_assert!((whole.travel().as_mm() - 150.0).abs() < 1e-9);
    }
}
