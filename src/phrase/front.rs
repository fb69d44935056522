//! The front beside the rear, in words: load, sag, bounce, head angle, and one sentence that sums it up.
//!
//! Not here: the figures (`assessment::front`).

use crate::assessment::front::{Balance, CUSTOMARY};
use crate::units::{Frequency, Share, UnitSet};

/// What the sentences are called.
pub const FRONT: &str = "Front and rear";

/// Frequencies this near are alike (common practice, no source).
const ALIKE: Frequency = Frequency::hertz(0.2);
/// Sag this near is alike.
const LEVEL: Share = Share::percent(4.0);

/// The front beside the rear.
pub fn front(balance: &Balance, units: UnitSet) -> Vec<String> {
    let front = &balance.front;
    let angle = balance.head_angle.map(|angle| format!(", head angle at sag {}", units.show(angle)));
    let figures = format!(
        "Front load {}, fork sag {} beside {} at the rear wheel{}.",
        units.show(front.load),
        units.show(front.sag),
        units.show(balance.rear_sag),
        angle.unwrap_or_default()
    );
    let spring = balance.fork_spring.map(|rate| {
        let typical = format!("{:.0} %", CUSTOMARY.as_percent());
        format!("For {typical} at the front the nearest of the maker's springs is {}.", units.show(rate))
    });
    [figures, sentence(balance)].into_iter().chain(spring).collect()
}

/// "Front 2.3 Hz, rear 2.2 Hz: alike."
fn sentence(balance: &Balance) -> String {
    let hertz = |frequency: Frequency| format!("{:.1} Hz", frequency.value());
    let bounce = format!("Front {}, rear {}", hertz(balance.front.bounce), hertz(balance.rear_bounce));
    let apart = balance.front.bounce - balance.rear_bounce;
    let said = match apart {
        apart if apart.abs() < ALIKE => "alike",
        apart if apart > Frequency::ZERO => "the front is the quicker",
        _ => "the rear is the quicker",
    };
    let higher = balance.rear_sag - balance.front.sag;
    let sits = match higher {
        higher if higher.abs() < LEVEL => String::new(),
        higher if higher > Share::ZERO => {
            format!(" The front sits {:.0} points higher.", higher.as_percent())
        }
        lower => format!(" The front sits {:.0} points lower.", -lower.as_percent()),
    };
    format!("{bounce}: {said}.{sits}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::front::Front;
    use crate::units::{Angle, Force, Length, SpringRate};

    #[test]
    fn one_sentence_says_whether_the_ends_go_together() {
        let balance = Balance {
            front: Front {
                load: Force::newtons(320.0),
                sag: Share::percent(20.0),
                sinks: Length::mm(29.0),
                rate: SpringRate::n_per_mm(9.0),
                bounce: Frequency::hertz(2.3),
            },
            rear_bounce: Frequency::hertz(2.2),
            rear_sag: Share::percent(29.0),
            head_angle: Some(Angle::degrees(63.4)),
            fork_spring: Some(SpringRate::lb_per_in(50.0)),
        };
        let entered = front(&balance, UnitSet::Trade);
        assert_eq!(
            entered[0],
            "Front load 320 N, fork sag 20.0 % beside 29.0 % at the rear wheel, head angle at sag 63.4°."
        );
        assert_eq!(entered[1], "Front 2.3 Hz, rear 2.2 Hz: alike. The front sits 9 points higher.");
        assert_eq!(entered[2], "For 20 % at the front the nearest of the maker's springs is 50 lb/in.");
    }
}
