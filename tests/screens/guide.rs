//! The guided walk driven by keys: every step of a walk with a change of spring, and what each key leaves in the record.

pub(crate) mod choices;
mod entries;

use coilwright::phrase;
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use coilwright::session::{
    Awaiting, Bottoming, Decision, Deed, Feel, KerbReturn, RideHeight, SpringNumber, Step,
};
use coilwright::units::{Turns, UnitSet};

use super::{Memory, Stage, WHOLE_INTAKE};

/// A stage of the walk: what is pressed to get there, and where that is.
pub(crate) struct Leg {
    pub(crate) keys: &'static str,
    pub(crate) step: Step,
}

const fn leg(keys: &'static str, step: Step) -> Leg {
    Leg { keys, step }
}

/// A whole walk: too much sag on the spring the bike came with, another one fitted, kept, ridden and closed.
pub(crate) const WALK: [Leg; 30] = [
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
    leg("<Enter>24<Enter><Enter>24.5<Enter>", Step::Decision),
    leg("<Enter>", Step::Swap),
    leg("<Enter>", Step::Swap),
    leg("<Enter><Enter><Enter>", Step::Swap),
    leg("n<Enter><Enter>", Step::Swap),
    leg("<Enter>", Step::Swap),
    leg("<Enter>", Step::Unload),
    leg("<Enter>", Step::SeatIndicator),
    leg("<Enter>20<Enter><Enter>19.5<Enter><Enter>20<Enter>", Step::Decision),
    leg("<Down><Enter>", Step::SeatIndicator),
    leg("<Enter>19.5<Enter>", Step::Decision),
    leg("<Enter>", Step::FinalChecks),
    leg("<Enter>", Step::FinalChecks),
    leg("<Enter><Enter>", Step::FinalChecks),
    leg("<Enter>", Step::KerbDrop),
    leg("<Enter>", Step::KerbDrop),
    leg("<Down><Enter>", Step::TrailCheck),
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

/// The walk up to the verdict, these springs at hand and these readings taken.
pub(crate) fn walked_with(rack: &str, readings: [&str; 3]) -> Stage {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("350-600 by 50, stroke 70", rack);
    stage.press("<Enter>").press(&intake).press("<Enter>");
    for leg in &WALK[1..=7] {
        stage.press(leg.keys);
    }
    for reading in readings {
        stage.press("<Enter>").press(reading).press("<Enter>");
    }
    assert_eq!(stage.step(), Step::Decision, "{}", stage.frame(80, 24));
    stage
}

impl Stage {
    pub(crate) fn step(&self) -> Step {
        self.model.desk.session.as_ref().expect("a session is open").state.step
    }

    pub(crate) fn awaiting(&self) -> Awaiting {
        self.model.desk.session.as_ref().expect("a session is open").state.awaiting()
    }

    /// The last deed of the record.
    pub(crate) fn last(&self) -> Deed {
        self.record().entries.last().expect("something was done").deed.clone()
    }
}

/// At the verdict with too much sag.
pub(super) fn at_the_verdict() -> Stage {
    at_leg(10)
}

/// The main column of a frame as running text, frames taken off.
fn running_text(stage: &Stage) -> String {
    let frame = stage.frame(80, 24);
    let column = frame.lines().skip(2).map(|line| line.chars().take(56).collect::<String>());
    let text = column.collect::<Vec<_>>().join(" ").replace(['┃', '▲'], " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_whole_walk_is_in_the_record_in_its_order() {
    let stage = at_leg(WALK.len() - 1);
    let deeds = stage.record().entries.iter().map(|entry| entry.deed.clone());
    let decided: Vec<Deed> = deeds
        .filter(|deed| {
            !matches!(
                deed,
                Deed::CautionSeen(_) | Deed::Ticked(..) | Deed::IndicatorSeated | Deed::Read { .. }
            )
        })
        .collect();
    let [intake, unloaded, swapped, again, reading, kept, kerb, ridden, closed] = &decided[..] else {
        panic!("{decided:?}");
    };
    assert_eq!(*intake, Deed::IntakeDone);
    assert_eq!((unloaded, again), (&Deed::Unloaded { preload_turns: Turns::ZERO }, unloaded));
    assert_eq!(*swapped, Deed::Decided(Decision::Swap { to: SpringNumber(5) }));
    assert_eq!(*reading, Deed::Decided(Decision::ReadAgain));
    assert_eq!(*kept, Deed::Decided(Decision::Keep));
    assert_eq!(*kerb, Deed::KerbDropped(KerbReturn::Once));
    let Deed::TrailRidden { bottoming, ride_height, feel, note } = ridden else { panic!("{ridden:?}") };
    assert_eq!(
        (*bottoming, *ride_height, *feel, note.as_typed()),
        (Bottoming::Never, RideHeight::Right, Feel::Right, "quiet")
    );
    assert_eq!(*closed, Deed::Closed);
}

#[test]
fn every_step_is_kept_before_it_shows() {
    let stage = at_leg(WALK.len() - 1);
    assert_eq!(stage.shell.kept.last(), Some(stage.record()));
    assert!(stage.shows("✓ saved"));
}

#[test]
fn at_80_by_24_every_step_shows_its_words_whole() {
    for last in 0..WALK.len() {
        let stage = at_leg(last);
        let text = running_text(&stage);
        let awaiting = stage.awaiting();
        let words = phrase::step(stage.step());
        let mut wanted = vec![words.title.clone()];
        if stage.step() != Step::Decision {
            wanted.push(words.instruction.clone());
        }
        match awaiting {
            Awaiting::Acknowledgement(caution) => {
                let words = phrase::caution(caution);
                wanted.extend([words.headline.clone(), words.text.clone()]);
            }
            Awaiting::Tick(check) => {
                let lines = stage.step().checks().iter().map(|check| phrase::check(*check).line.clone());
                wanted.extend(lines);
                wanted.push(phrase::check(check).detail.clone());
            }
            Awaiting::ContactTurns | Awaiting::Indicator | Awaiting::Reading => {
                wanted.push(phrase::awaiting(awaiting, UnitSet::Trade));
            }
            Awaiting::Decision => {
                let session = stage.model.desk.session.as_ref().expect("a session is open");
                let (assessment, setup) = (session.assessment.as_ref(), session.state.setup.as_ref());
                let advice =
                    phrase::advice(assessment.expect("assessed"), setup.expect("complete"), UnitSet::Trade);
                wanted.extend([advice.headline, advice.reason, phrase::guide::OTHER_SPRING.to_owned()]);
            }
            _ => {}
        }
        for words in wanted {
            assert!(
                text.contains(&words),
                "{words:?} is not whole after leg {last}:\n{}",
                stage.frame(80, 24)
            );
        }
    }
}

#[test]
fn every_step_of_a_walk_is_drawn_at_every_size() {
    let mut stage = at_the_bench();
    for leg in &WALK {
        stage.press(leg.keys);
        for width in [1, 2, 19, 20, 40, 79, 80, 81, 100, 119, 120, 121, 140, 170, 200] {
            for height in [1, 2, 5, 12, 23, 24, 25, 30, 40, 60] {
                assert!(!stage.frame(width, height).is_empty());
            }
        }
    }
}

#[test]
fn the_guide_in_ascii_says_by_shape_what_colour_repeats() {
    let mut stage = Stage::with(Memory::default(), Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii });
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    for leg in &WALK[..=10] {
        stage.press(leg.keys);
    }
    let frame = stage.frame(140, 40);
    assert!(frame.is_ascii(), "{frame}");
    for sign in ["+++++>ooooooo  step 6 of 13", "# 550 lb/in", "######.... 6 in 10", "37.4+/-1.1   3x ^"] {
        assert!(frame.contains(sign), "{sign} is missing:\n{frame}");
    }
}

#[test]
fn a_caution_in_ascii_has_a_whole_frame() {
    let mut stage = Stage::with(Memory::default(), Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii });
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    let frame = stage.frame(80, 24);
    assert!(frame.contains("+======") && frame.contains("|  ! The bike can tip over"), "{frame}");
    assert_eq!(frame.matches('?').count(), 1, "{frame}");
}

#[test]
fn the_sag_of_the_old_spring_goes_with_it() {
    assert!(at_leg(11).shows("▲ too much"), "{}", at_leg(11).frame(80, 24));
    for leg in [13, 15] {
        let stage = at_leg(leg);
        assert!(stage.shows("Fit, lb/in") && !stage.shows("Sag  "), "{}", stage.frame(80, 24));
    }
}
