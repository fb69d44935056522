//! The verdict, the trail check and what follows from it: choices made with arrows and Enter, and a closed session.

use coilwright::session::{Decision, Deed, Detail, SpringNumber, Step, Target};
use coilwright::units::{Share, Turns};

use super::{WALK, at_leg, at_the_verdict};
use crate::screens::{Stage, WHOLE_INTAKE};

/// A stage whose rack holds one spring that is too short.
pub(crate) fn with_a_short_spring() -> Stage {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("350-600 by 50, stroke 70", "450/70 500/60 550/70");
    stage.press("<Enter>").press(&intake).press("<Enter>");
    stage
}

#[test]
fn the_advised_choice_is_marked_and_arrows_mark_another() {
    let stage = at_the_verdict();
    assert!(
        stage.shows("▸ Fit 550 lb/in           30.5 ± 2.5 % ▄▄▄▄▄▄▁▁▁▁ 6 in 10 17 min advised"),
        "{}",
        stage.frame(80, 24)
    );
    let mut stage = at_the_verdict();
    assert_eq!(stage.press("<Down><Down><Down><Enter>").last(), Deed::Decided(Decision::ReadAgain));
    let mut stage = at_the_verdict();
    assert_eq!(stage.press("<Down><Down><Enter>").last(), Deed::Decided(Decision::Keep));
}

#[test]
fn another_spring_is_picked_from_the_rack() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Down><Down><Down><Enter>");
    assert!(stage.shows("◆ 550 lb/in"), "{}", stage.frame(80, 24));
    stage.press("<Down><Enter>");
    assert_eq!(stage.last(), Deed::Decided(Decision::Swap { to: SpringNumber(6) }));
}

#[test]
fn the_list_of_springs_opens_at_the_one_that_lands_best_even_where_the_advice_names_none() {
    let mut stage = at_leg(18);
    assert!(!stage.shows("Fit "), "{}", stage.frame(80, 24));
    stage.press("<Down><Down><Down><Enter>");
    let session = stage.model.desk.session.as_ref().expect("a session is open");
    let best = session.assessment.as_ref().expect("assessed").best_to_fit.expect("springs are on the list");
    // A spring of little chance may be asked about once.
    stage.press("<Enter>");
    if stage.shows("Which spring?") {
        stage.press("<Enter>");
    }
    assert_eq!(stage.last(), Deed::Decided(Decision::Swap { to: best }), "{}", stage.frame(80, 24));
}

#[test]
fn a_spring_that_will_hardly_land_is_asked_about_once() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Down><Down><Down><Enter><Up><Up><Up><Up>");
    let before = stage.record().clone();
    stage.burst("<Enter><Enter>");
    let question = "350 lb/in has less than a 1 in 10 chance of being on target. Press Enter again to fit it all the same.";
    assert!(stage.frame(140, 40).contains(question), "{}", stage.frame(140, 40));
    stage.press("<Down><Up><Enter>");
    assert_eq!(*stage.record(), before, "another line marked, it is asked about again");
    assert_eq!(stage.press("<Enter>").last(), Deed::Decided(Decision::Swap { to: SpringNumber(1) }));
}

#[test]
fn a_spring_that_binds_is_refused_in_the_words_of_the_walk() {
    let mut stage = with_a_short_spring();
    for leg in &WALK[..=10] {
        stage.press(leg.keys);
    }
    stage.press("<Down><Down><Down><Down>");
    stage.press("<Enter><Up><Up><Up><Down><Enter>");
    assert!(stage.shows("its coils would close first"), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::Decision);
    assert!(stage.shows("Which spring?"));
}

#[test]
fn a_collar_position_of_ones_own_is_typed() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Down><Down><Enter>1 1/2");
    assert!(stage.shows("= 1 1/2 turns of preload, 2.25 mm preload"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::Decided(Decision::SetPreload { to: Turns::of(1.5) }));
    assert!(stage.shows("Press Enter for 1 1/2 turns, as planned."), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::PreloadSet { preload_turns: Turns::of(1.5) });
}

#[test]
fn more_turns_than_the_limit_are_refused_and_stay() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Down><Down><Enter>3<Enter>");
    assert!(stage.shows("is too far: the limit entered is 2 turns."), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ 3"));
}

#[test]
fn an_open_answer_of_the_trail_check_is_asked_for() {
    let mut stage = at_leg(26);
    stage.press("<Enter>");
    assert!(stage.shows("Choose an answer first with left and right"), "{}", stage.frame(80, 24));
    stage.press("<Right><Enter><Down><Down><Enter>");
    assert!(stage.shows("▸ Ride height"), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::TrailCheck);
}

#[test]
fn the_trail_moves_the_aim_and_the_walk_goes_round_once_more() {
    let mut stage = at_leg(26);
    stage.press("<Left><Enter><Left><Enter><Left><Left><Enter><Enter>");
    assert!(stage.shows("▸ Move the target to 27.5 % and go round once more"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    let entries = &stage.record().entries;
    let last: Vec<&Deed> = entries[entries.len() - 2..].iter().map(|entry| &entry.deed).collect();
    let [Deed::Entered(Detail::Target(target)), Deed::Decided(Decision::AnotherRound)] = last[..] else {
        panic!("{last:?}");
    };
    assert!((target.sag - Share::percent(27.5)).abs() < Share::percent(1e-9), "{target:?}");
    assert_eq!(target.tolerance, Target::PLANTED.tolerance);
    assert_eq!(stage.step(), Step::Decision);
}

#[test]
fn the_trail_check_is_passed_over_with_a_reason() {
    let mut stage = at_leg(26);
    stage.press("p dark<Enter>");
    assert!(matches!(stage.last(), Deed::Skipped { .. }));
    assert_eq!(stage.step(), Step::AfterTrail);
    assert_eq!(stage.press("<Enter>").step(), Step::Closed);
}

#[test]
fn the_readings_of_a_closed_session_are_only_to_be_looked_at() {
    let mut stage = at_leg(WALK.len() - 1);
    let before = stage.record().clone();
    stage.press("x").press("7").press("<Enter>");
    for _ in 0..10 {
        if !stage.shows("Decided: keep spring and collar") {
            stage.press("<PgDn>");
        }
    }
    assert!(stage.shows("Decided: keep spring and collar"), "{}", stage.frame(80, 24));
    stage.press("<PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn>");
    assert!(stage.shows("12:00  Session closed"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
}

#[test]
fn a_bike_without_a_spring_begins_with_the_one_advised() {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("450<Enter>", "<Enter>");
    stage
        .press("<Enter>")
        .press(&intake)
        .press("<Enter>")
        .press(WALK[1].keys)
        .press(WALK[2].keys)
        .press("<Enter>");
    assert!(stage.shows("Begin with") && stage.shows("advised"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert!(matches!(stage.last(), Deed::Decided(Decision::Swap { .. })), "{:?}", stage.last());
}

#[test]
fn with_nothing_at_hand_that_lands_the_rack_is_offered_and_nothing_is_fitted_unasked() {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("350-600 by 50, stroke 70", "300 350 450, stroke 70");
    stage.press("<Enter>").press(&intake).press("<Enter>");
    for leg in &WALK[1..=10] {
        stage.press(leg.keys);
    }
    assert!(stage.shows("No spring on the list"), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ Another spring on the list ..."), "{}", stage.frame(80, 24));
    assert!(!stage.shows("advised"), "{}", stage.frame(80, 24));
    let before = stage.record().clone();
    stage.press("<Enter>");
    assert!(stage.shows("Which spring?"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
}

#[test]
fn of_springs_alike_the_first_of_the_list_is_meant_everywhere() {
    let mut stage = Stage::new();
    let intake = WHOLE_INTAKE.replace("350-600 by 50, stroke 70", "450 550 x3, stroke 70");
    stage.press("<Enter>").press(&intake).press("<Enter>");
    for leg in &WALK[..=10] {
        stage.press(leg.keys);
    }
    // The advice, the list and the spring under the mark are one.
    assert!(stage.shows("Fit 550 lb/in (spring 2)"), "{}", stage.frame(80, 24));
    stage.press("<Down><Down><Down><Down><Enter>");
    let frame = stage.frame(80, 24);
    let marked = frame.lines().position(|line| line.contains("◆ 550"));
    let first = frame.lines().position(|line| line.contains("550 lb/in (s"));
    assert!(marked.is_some() && marked == first, "{frame}");
    assert_eq!(stage.press("<Enter>").last(), Deed::Decided(Decision::Swap { to: SpringNumber(2) }));
}
