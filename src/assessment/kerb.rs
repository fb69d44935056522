//! What the kerb drop says of the rebound knob: which way, and by how many clicks in all.
//!
//! Seated, off a kerb, the rear should come back once and not bounce again: bouncing on is too little rebound damping, a slow
//! return too much (common practice, no source). A click at a time, then once more. Not here: what the spring asks of the
//! knob (`mechanics::damper`), and words (`phrase::kerb`).

use crate::mechanics::damper::{KnobPlace, ReboundWay};
use crate::session::{KerbReturn, State};

/// What the last kerb drop comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KerbFinding {
    /// How it came back last.
    pub last: KerbReturn,
    /// Clicks in all since the adjusters were set back, and which way; none where they cancel out.
    pub clicks: Option<(u8, ReboundWay)>,
    /// The knob, as the bike was left, has no click more that way.
    pub at_its_end: Option<ReboundWay>,
}

/// The way of the knob after such a return.
pub const fn way(returned: KerbReturn) -> Option<ReboundWay> {
    match returned {
        KerbReturn::BouncesOn => Some(ReboundWay::Slower),
        KerbReturn::Slow => Some(ReboundWay::Faster),
        KerbReturn::Once | KerbReturn::NotDone => None,
    }
}

/// What the last kerb drop says; none where nobody rolled off.
pub fn finding(state: &State) -> Option<KerbFinding> {
    let rolled = || state.kerb.iter().copied().filter(|returned| *returned != KerbReturn::NotDone);
    let last = rolled().next_back()?;
    let count = |wanted| rolled().filter(|returned| way(*returned) == Some(wanted)).count();
    let (slower, faster) = (count(ReboundWay::Slower), count(ReboundWay::Faster));
    let in_all = if slower > faster { ReboundWay::Slower } else { ReboundWay::Faster };
    let clicks = u8::try_from(slower.abs_diff(faster)).unwrap_or(u8::MAX);
    let ends = |way| state.left.rebound.is_some_and(|knob| !matches!(knob.turned(1, way), KnobPlace::At(_)));
    Some(KerbFinding {
        last,
        clicks: (clicks > 0).then_some((clicks, in_all)),
        at_its_end: way(last).filter(|way| ends(*way)),
    })
}
