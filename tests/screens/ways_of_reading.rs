//! How a reading is taken: the indicator dragged or pushed, the rider seated or standing, a gap looked for, a sit let rise.

use coilwright::session::{Deed, Gap, Indicator, Posture, Step};
use coilwright::units::Length;

use super::guide::at_leg;
use super::trials::{ready, three};

#[test]
fn in_the_walk_one_key_says_that_a_helper_pushes_the_indicator_and_the_step_says_how() {
    let mut stage = at_leg(6);
    assert_eq!(stage.step(), Step::SeatIndicator);
    let pushed = Deed::ReadHow { indicator: Indicator::Pushed, posture: Posture::Seated };
    assert_eq!(stage.press("h").last(), pushed);
    stage.press("<Enter><Enter>");
    assert!(stage.frame(140, 40).contains("A helper pushes the"), "{}", stage.frame(140, 40));
    // Undone like any other step.
    stage.press("<C-t><C-t>");
    stage.press("t");
    assert_eq!(stage.model.desk.session.as_ref().expect("open").state.how.indicator, Indicator::Kept);
}

#[test]
fn in_quick_trials_the_ways_are_words_of_the_line_and_are_never_mixed_in_a_set() {
    let mut stage = three();
    stage.press("push");
    assert!(stage.shows("a helper pushes the indicator to the seal"), "{}", stage.frame(80, 24));
    stage.press("<Enter>24<Enter>");
    let sets = &stage.model.desk.session.as_ref().expect("open").state.sets;
    assert_eq!(sets.len(), 2);
    assert_eq!(sets[1].how.indicator, Indicator::Pushed);
    assert_eq!((sets[0].readings.len(), sets[1].readings.len()), (3, 1));
    let standing = Deed::ReadHow { indicator: Indicator::Pushed, posture: Posture::Standing };
    assert_eq!(stage.press("stand<Enter>").last(), standing);
}

#[test]
fn a_gap_and_a_sit_let_rise_are_told_on_the_line() {
    let mut stage = ready();
    stage.press("24<Enter>");
    assert_eq!(stage.press("gap<Enter>").last(), Deed::GapLookedFor(Gap::Seen));
    assert_eq!(stage.press("no gap<Enter>").last(), Deed::GapLookedFor(Gap::None));
    assert_eq!(stage.press("rise 23<Enter>").last(), Deed::Risen { reading: Length::mm(23.0) });
    assert!(stage.press("rise<Enter>").shows("▸ rise"), "{}", stage.frame(80, 24));
}
