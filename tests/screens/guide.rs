//! The guided walk driven by keys: every step of a walk with a change of spring, and what each key leaves in the record.

use coilwright::session::{
    Aim, Awaiting, Bottoming, Caution, Check, Decision, Deed, Detail, Feel, ReadingNumber, RideHeight,
    SpringNumber, Step, TickedHow,
};
use coilwright::units::{Length, Share, Turns};

use super::{Stage, WHOLE_INTAKE};

/// A stage of the walk: what is pressed to get there, and where that is.
pub(crate) struct Leg {
    pub(crate) keys: &'static str,
    pub(crate) step: Step,
}

const fn leg(keys: &'static str, step: Step) -> Leg {
    Leg { keys, step }
}

/// A whole walk: too much sag on the spring the bike came with, another one fitted, kept, ridden and closed.
pub(crate) const WALK: [Leg; 29] = [
    leg("", Step::BenchCheck),
    leg("<Enter>", Step::BenchCheck),
    leg("<Enter><Enter><Enter><Enter><Enter>", Step::BenchCheck),
    leg("<Enter>", Step::Unload),
    leg("<Enter>", Step::Unload),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>", Step::SeatedReading),
    leg("<Enter>24.5", Step::SeatedReading),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>24<Enter><Enter>24.5<Enter>", Step::Verdict),
    leg("<Down><Enter>", Step::Swap),
    leg("<Enter>", Step::Swap),
    leg("<Enter><Enter><Enter>", Step::Swap),
    leg("n<Enter>nn<Enter>", Step::Swap),
    leg("<Enter>", Step::Swap),
    leg("<Enter>", Step::Unload),
    leg("<Enter><Enter>", Step::SeatIndicator),
    leg("<Enter>20<Enter><Enter>19.5<Enter><Enter>20<Enter>", Step::Verdict),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>19.5<Enter>", Step::Verdict),
    leg("<Enter>", Step::FinalChecks),
    leg("<Enter><Enter>", Step::FinalChecks),
    leg("<Enter><Enter><Enter>", Step::FinalChecks),
    leg("<Enter>", Step::TrailCheck),
    leg("<Enter>", Step::TrailCheck),
    leg("<Right><Enter><Right><Right><Enter><Right><Right><Enter>quiet", Step::TrailCheck),
    leg("<Enter>", Step::AfterTrail),
    leg("<Enter>", Step::Closed),
];

/// The intake done, at the bench check.
pub(crate) fn at_the_bench() -> Stage {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    stage
}

/// The walk up to that leg.
pub(crate) fn at_leg(last: usize) -> Stage {
    let mut stage = at_the_bench();
    for leg in &WALK[..=last] {
        stage.press(leg.keys);
        assert_eq!(stage.step(), leg.step, "after {:?}:\n{}", leg.keys, stage.frame(80, 24));
    }
    stage
}

impl Stage {
    pub(crate) fn step(&self) -> Step {
        self.model.desk.session.as_ref().expect("a session is open").state.step
    }

    fn awaiting(&self) -> Awaiting {
        self.model.desk.session.as_ref().expect("a session is open").state.awaiting()
    }

    /// The last deed of the record.
    pub(crate) fn last(&self) -> Deed {
        self.record().entries.last().expect("something was done").deed.clone()
    }
}

#[test]
#[ignore]
fn look() {
    for last in 0..WALK.len() {
        let stage = at_leg(last);
        println!("=== {last} {:?}\n{}\n{}", WALK[last].keys, stage.frame(80, 24), stage.frame(140, 40));
    }
}
