//! The kerb drop in words: how the rear came back, and which way the rebound knob goes by it.
//!
//! Not here: the rule (`assessment::kerb`), and what the spring asks of the knob (`phrase::damper`).

use super::damper::{clicks, out_of_range};
use crate::assessment::kerb::{KerbFinding, way};
use crate::session::KerbReturn;

/// How it came back, in words.
pub const fn returned(returned: KerbReturn) -> &'static str {
    match returned {
        KerbReturn::NotDone => "not done",
        KerbReturn::Once => "one return, no second bounce",
        KerbReturn::BouncesOn => "bounces on",
        KerbReturn::Slow => "comes back slowly or stays down",
    }
}

/// The answer as it is offered; after a roll, going on without one more.
pub fn choice(returned: KerbReturn, rolled: &[KerbReturn]) -> String {
    match returned {
        KerbReturn::NotDone if rolled.is_empty() => "Go on without the kerb drop".to_owned(),
        KerbReturn::NotDone => "Go on without another roll".to_owned(),
        answer => super::opening(self::returned(answer)),
    }
}

/// What is to be done at the kerb after the last roll; none after one that was right.
pub fn next(finding: KerbFinding) -> Option<String> {
    let way = way(finding.last)?;
    let seen = super::opening(returned(finding.last));
    if finding.at_its_end.is_some() {
        return Some(format!("{seen}, and the knob is at its end. {}", out_of_range(way)));
    }
    Some(format!("{seen}: rebound {}. Then roll off the kerb once more (common practice).", clicks(1, way)))
}

/// Where the knob went by it, for whoever reads it later; none where it stayed as it was set back.
pub fn told(finding: KerbFinding) -> Option<String> {
    let turned = finding.clicks.map(|(count, way)| clicks(count, way));
    Some(match (finding.last, turned) {
        (KerbReturn::Once, None) | (KerbReturn::NotDone, _) => return None,
        (KerbReturn::Once, Some(turned)) => {
            format!("Kerb drop: rebound {turned}, then one return and no second bounce (common practice).")
        }
        (last, Some(turned)) => {
            format!("Kerb drop: {}; rebound {turned}, not rolled again (common practice).", returned(last))
        }
        (last, None) => format!("Kerb drop: {}; a click back and forth, not rolled again.", returned(last)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::damper::ReboundWay;

    #[test]
    fn bouncing_on_is_told_slower_and_a_slow_return_faster() {
        let finding = |last, way| KerbFinding { last, clicks: Some((1, way)), at_its_end: None };
        assert_eq!(
            next(finding(KerbReturn::BouncesOn, ReboundWay::Slower)).expect("a click"),
            "Bounces on: rebound 1 click slower, towards closed. Then roll off the kerb once more (common practice)."
        );
        assert_eq!(
            told(finding(KerbReturn::Slow, ReboundWay::Faster)).expect("a click"),
            "Kerb drop: comes back slowly or stays down; rebound 1 click faster, towards open, not rolled again (common \
             practice)."
        );
        let right = KerbFinding { last: KerbReturn::Once, clicks: None, at_its_end: None };
        assert_eq!((next(right), told(right)), (None, None));
    }

    #[test]
    fn a_knob_at_its_end_is_answered() {
        let way = ReboundWay::Slower;
        let ends = KerbFinding { last: KerbReturn::BouncesOn, clicks: Some((1, way)), at_its_end: Some(way) };
        assert!(next(ends).expect("an answer").contains("re-valve it, or go a step softer"));
    }
}
