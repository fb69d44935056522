//! The damper after the spring, in words: more or less rebound damping, how many clicks and which way, a knob at its end.
//!
//! Not here: how much (`mechanics::damper`), and the knob as it was found (`phrase::sheet`).

use crate::mechanics::damper::{Knob, KnobPlace, Rebound, ReboundWay, rebound};
use crate::units::{SpringRate, UnitSet};

/// What the sentences are called.
pub const DAMPER: &str = "Rebound after the spring";

/// What the spring fitted now asks of the rebound knob, set against the spring the bike came with; and where the knob comes
/// to stand, where somebody wrote down how it was found.
pub fn after_the_spring(
    came_with: SpringRate,
    now: SpringRate,
    found: Option<Knob>,
    units: UnitSet,
) -> Option<String> {
    let asked = rebound(came_with, now);
    let (count, way) = asked.clicks?;
    let springs = format!("the bike came with {} and leaves with {}", units.show(came_with), units.show(now));
    let more = amount(asked);
    let clicks = clicks(count, way);
    let stands = found.map_or_else(String::new, |knob| stands(knob, count, way));
    Some(format!(
        "Rebound {clicks} ({more} damping): {springs}. About a click per 50 lb/in, common practice.{stands}"
    ))
}

/// "2 clicks slower, towards closed".
pub fn clicks(count: u8, way: ReboundWay) -> String {
    let many = if count == 1 { "click" } else { "clicks" };
    let way = match way {
        ReboundWay::Slower => "slower, towards closed",
        ReboundWay::Faster => "faster, towards open",
    };
    format!("{count} {many} {way}")
}

/// "8 of 14 from closed".
pub fn knob(knob: Knob) -> String {
    let of = knob.of.map_or_else(String::new, |of| format!(" of {of}"));
    format!("{}{of} from closed", knob.from_closed)
}

fn amount(asked: Rebound) -> String {
    let percent = asked.more.as_percent().round();
    if percent < 0.0 { format!("{:.0} % less", -percent) } else { format!("{percent:.0} % more") }
}

fn stands(found: Knob, count: u8, way: ReboundWay) -> String {
    match found.turned(count, way) {
        KnobPlace::At(there) => format!(" The knob goes from {} to {}.", knob(found), knob(there)),
        KnobPlace::EndsClosed => format!(
            " It was found {}: it is closed before it is slow enough. {}",
            knob(found),
            out_of_range(ReboundWay::Slower)
        ),
        KnobPlace::EndsOpen => format!(
            " It was found {}: it is open before it is fast enough. {}",
            knob(found),
            out_of_range(ReboundWay::Faster)
        ),
    }
}

/// What a knob at its end that way means.
pub const fn out_of_range(way: ReboundWay) -> &'static str {
    match way {
        ReboundWay::Slower => "The valve is out of range: re-valve it, or go a step softer.",
        ReboundWay::Faster => "The valve is out of range: re-valve it, or go a step stiffer.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entered(first: f64, second: f64, found: Option<Knob>) -> Option<String> {
        let rate = SpringRate::lb_per_in;
        after_the_spring(rate(first), rate(second), found, UnitSet::Trade)
    }

    #[test]
    fn a_stiffer_spring_is_told_with_its_clicks_and_their_direction() {
        let knob = Knob { from_closed: 8, of: Some(14) };
        assert_eq!(
            entered(450.0, 550.0, Some(knob)).expect("a step"),
            "Rebound 2 clicks slower, towards closed (11 % more damping): the bike came with 450 lb/in and leaves with 550 lb/in. \
             About a click per 50 lb/in, common practice. The knob goes from 8 of 14 from closed to 6 of 14 from closed."
        );
    }

    #[test]
    fn a_knob_at_its_end_is_answered() {
        let closed = entered(450.0, 550.0, Some(Knob { from_closed: 1, of: Some(14) })).expect("a step");
        assert!(closed.contains("re-valve it, or go a step softer"), "{closed}");
        let open = entered(550.0, 450.0, Some(Knob { from_closed: 14, of: Some(14) })).expect("a step");
        assert!(open.contains("2 clicks faster") && open.contains("a step stiffer"), "{open}");
    }

    #[test]
    fn the_spring_the_bike_came_with_asks_nothing() {
        assert_eq!(entered(450.0, 450.0, None), None);
    }
}
