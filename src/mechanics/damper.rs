//! The damper after the spring: which way the rebound knob goes, by about how many clicks, and what a knob at its end means.
//!
//! Critical damping goes with √k, so a stiffer spring wants more rebound damping, which is slower, towards closed; how much
//! as a share stands in `ride`. That a click makes up for about 50 lb/in is common practice, no source: dampers differ, and
//! the ride has the last word. Not here: words (`phrase::damper`), and the knob as somebody found it (`session::sheet`).

use super::ride;
use crate::units::{Share, SpringRate};

/// What a click of the rebound knob makes up for (common practice, no source).
const A_CLICK: SpringRate = SpringRate::lb_per_in(50.0);
/// The most clicks that are told: beyond, a count says nothing.
const MOST_CLICKS: u8 = 12;

/// A knob with clicks: how far it stands from fully closed, and of how many where somebody counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Knob {
    /// Clicks from fully closed.
    pub from_closed: u8,
    /// Clicks from fully closed to fully open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<u8>,
}

/// Which way the rebound knob goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReboundWay {
    /// More damping: towards closed.
    Slower,
    /// Less damping: towards open.
    Faster,
}

/// What another spring asks of the rebound knob.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rebound {
    /// More damping wanted; negative is less.
    pub more: Share,
    /// How many clicks, and which way; none where a click would be too much.
    pub clicks: Option<(u8, ReboundWay)>,
}

/// Where the knob would come to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KnobPlace {
    /// Here.
    At(Knob),
    /// It is closed before it is slow enough.
    EndsClosed,
    /// It is open before it is fast enough.
    EndsOpen,
}

/// What the second rate asks of a knob that was right for the first.
pub fn rebound(first: SpringRate, second: SpringRate) -> Rebound {
    let change = second - first;
    let enough = |count: &u8| change.abs() >= A_CLICK * (f64::from(*count) - 0.5);
    let count = (1..=MOST_CLICKS).rev().find(enough);
    let way = if change > SpringRate::ZERO { ReboundWay::Slower } else { ReboundWay::Faster };
    Rebound { more: ride::rebound_change(first, second), clicks: count.map(|count| (count, way)) }
}

impl Knob {
    /// Where it stands after so many clicks that way. One whose clicks nobody counted never ends open.
    pub fn turned(self, clicks: u8, way: ReboundWay) -> KnobPlace {
        let at = |from_closed| KnobPlace::At(Self { from_closed, ..self });
        match way {
            ReboundWay::Slower => self.from_closed.checked_sub(clicks).map_or(KnobPlace::EndsClosed, at),
            ReboundWay::Faster => match self.from_closed.saturating_add(clicks) {
                there if self.of.is_some_and(|of| there > of) => KnobPlace::EndsOpen,
                there => at(there),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lb_in(rate: f64) -> SpringRate {
        SpringRate::lb_per_in(rate)
    }

    #[test]
    fn a_stiffer_spring_wants_slower_rebound_by_the_root_of_the_rates() {
        // √(500/450) = 1.0541; a click per 50 lb/in is common practice, no source.
        let stiffer = rebound(lb_in(450.0), lb_in(500.0));
        assert!((stiffer.more.as_percent() - 5.409).abs() < 1e-3, "{stiffer:?}");
        assert_eq!(stiffer.clicks, Some((1, ReboundWay::Slower)));
    }

    #[test]
    fn a_softer_spring_wants_faster_rebound() {
        assert_eq!(rebound(lb_in(600.0), lb_in(450.0)).clicks, Some((3, ReboundWay::Faster)));
    }

    #[test]
    fn less_than_half_a_click_is_none() {
        assert_eq!(rebound(lb_in(450.0), lb_in(470.0)).clicks, None);
    }

    #[test]
    fn a_knob_at_its_end_says_so() {
        let knob = Knob { from_closed: 1, of: Some(14) };
        assert_eq!(knob.turned(1, ReboundWay::Slower), KnobPlace::At(Knob { from_closed: 0, of: Some(14) }));
        assert_eq!(knob.turned(2, ReboundWay::Slower), KnobPlace::EndsClosed);
        assert_eq!(Knob { from_closed: 13, ..knob }.turned(2, ReboundWay::Faster), KnobPlace::EndsOpen);
        let uncounted = Knob { from_closed: 13, of: None };
        assert_eq!(
            uncounted.turned(2, ReboundWay::Faster),
            KnobPlace::At(Knob { from_closed: 15, of: None })
        );
    }
}
