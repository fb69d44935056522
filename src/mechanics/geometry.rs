//! How the frame tips when the rear axle sinks: bottom bracket height and head angle.
//!
//! The frame is rigid and turns about its axles; angles are small, so heights along it share out in proportion. Tyres and
//! the fork's own change under the shifted load are left out. Not here: how far the axle sinks (`ride`), and what that
//! means for handling, which only a ride tells.

use crate::units::{Angle, Length};

/// What is known of a frame's lengths, bike unladen. Each stands alone: what is not told is not assumed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FrameLengths {
    /// From axle to axle, along the ground.
    pub wheelbase: Option<Length>,
    /// From rear axle to bottom bracket, along the ground.
    pub rear_centre: Option<Length>,
}

/// How far the wheels move into the frame, each against its own place at full extension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sinking {
    /// Rear axle.
    pub rear: Length,
    /// Front axle, along the vertical.
    pub front: Length,
}

/// How far the bottom bracket comes down: `z_r (wb - rc)/wb + z_f rc/wb`.
///
/// z_r, z_f how far the rear and the front sink, wb wheelbase, rc rear centre. A rigid frame turned by a small angle
/// (plane geometry).
pub fn bottom_bracket_drop(sinking: Sinking, wheelbase: Length, rear_centre: Length) -> Length {
    let share_of_front = rear_centre / wheelbase;
    sinking.rear * (1.0 - share_of_front) + sinking.front * share_of_front
}

/// How much slacker the head angle becomes: `atan((z_r - z_f)/wb)`; negative is steeper.
///
/// Symbols and assumptions as for [`bottom_bracket_drop`].
pub fn head_angle_slackens(sinking: Sinking, wheelbase: Length) -> Angle {
    Angle::degrees(((sinking.rear - sinking.front) / wheelbase).atan().to_degrees())
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHEELBASE: Length = Length::mm(1240.0);
    const REAR_CENTRE: Length = Length::mm(440.0);

    fn sinking(rear: f64, front: f64) -> Sinking {
        Sinking { rear: Length::mm(rear), front: Length::mm(front) }
    }

    #[test]
    fn a_bike_that_sinks_level_keeps_its_angle_and_drops_by_as_much() {
        let level = sinking(40.0, 40.0);
        assert!((bottom_bracket_drop(level, WHEELBASE, REAR_CENTRE).as_mm() - 40.0).abs() < 1e-9);
        assert!(head_angle_slackens(level, WHEELBASE).value().abs() < 1e-12);
    }

    #[test]
    fn a_rear_that_sinks_more_slackens_the_head_angle() {
        // tan 1° = 0.017 455: 1240 mm tip by a degree where the rear comes down by 21.64 mm more than the front.
        let slackened = head_angle_slackens(sinking(61.644, 40.0), WHEELBASE);
        assert!((slackened.value() - 1.0).abs() < 1e-4, "{slackened:?}");
        assert!(head_angle_slackens(sinking(0.0, 10.0), WHEELBASE).value() < 0.0);
    }
}
