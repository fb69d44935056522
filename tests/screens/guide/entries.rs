//! What is typed and pressed at a step: figures, reasons, remarks, and keys that do nothing there.

use coilwright::session::{Awaiting, Caution, Check, Deed, Detail, ReadingNumber, Step, TickAnswer};
use coilwright::units::{Length, Mass, Turns};

use super::{at_leg, at_the_verdict};

#[test]
fn what_is_typed_is_understood_before_it_is_accepted() {
    let stage = at_leg(8);
    assert!(stage.shows("= 24.5 mm → 37.7 % sag"), "{}", stage.frame(80, 24));
    assert!(stage.shows("Typed  ▲ too much"), "{}", stage.frame(80, 24));
    assert!(!matches!(stage.last(), Deed::Read { .. }));
}

#[test]
fn a_reading_that_cannot_be_read_stays_and_says_what_is_accepted() {
    let mut stage = at_leg(8);
    stage.press("x<Enter>");
    assert!(stage.shows("24.5x") && stage.shows("such as 63.5"), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::SeatedReading);
}

#[test]
fn a_reading_far_from_its_forecast_is_asked_about_once() {
    let mut stage = at_leg(8);
    stage.press("<BSpace><BSpace><BSpace><BSpace>2<Enter>");
    assert!(stage.shows("? About 23.1 mm was expected."), "{}", stage.frame(80, 24));
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::DriveOn));
    assert_eq!(stage.press("<Enter>").last(), Deed::Read { reading: Length::mm(2.0) });
}

#[test]
fn a_changed_figure_is_asked_about_anew() {
    let mut stage = at_leg(8);
    stage.press("<BSpace><BSpace><BSpace><BSpace>2<Enter>.5<Enter>");
    assert!(stage.shows("? About 23.1 mm was expected."), "{}", stage.frame(80, 24));
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::DriveOn));
}

#[test]
fn a_reading_beyond_the_stroke_is_refused_and_stays() {
    let mut stage = at_leg(8);
    stage.press("<BSpace><BSpace><BSpace><BSpace>70");
    assert!(stage.shows("= 70.0 mm, more than the shock stroke of 65.0 mm"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert!(stage.shows("A reading of 70.0 mm is more than the shock stroke"), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ 70"));
}

#[test]
fn a_reading_of_nothing_is_refused_with_the_range_of_this_shock() {
    for typed in ["0", "-3"] {
        let mut stage = at_leg(8);
        stage.press("<BSpace><BSpace><BSpace><BSpace>").press(typed).press("<Enter>");
        let frame = stage.frame(140, 40);
        assert!(frame.contains("must be between 0.1 mm and 65.0 mm"), "{typed}: {frame}");
        assert!(!frame.contains("% sag"), "{typed}: {frame}");
    }
}

#[test]
fn a_collar_found_past_what_is_allowed_is_taken_as_found_once_that_is_said() {
    for typed in ["2.5", "12"] {
        let mut stage = at_leg(4);
        stage.press(typed).press("<Enter>");
        let frame = stage.frame(140, 40);
        assert!(frame.contains("The limit entered is 2 turns."), "{typed}: {frame}");
        assert!(!matches!(stage.last(), Deed::Unloaded { .. }), "{typed}");
        stage.press("<Enter>");
        let found = Turns::of(typed.parse().expect("a figure"));
        assert_eq!(stage.last(), Deed::Unloaded { preload_turns: found }, "{typed}");
    }
}

#[test]
fn a_collar_set_past_what_is_allowed_is_refused_at_once() {
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Down><Down><Enter>1<Enter>4<Enter>");
    assert!(stage.shows("is too far: the limit entered is 2 turns."), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::SetPreload);
}

#[test]
fn an_empty_line_takes_the_turns_that_are_suggested() {
    assert_eq!(at_leg(5).last(), Deed::Unloaded { preload_turns: Turns::ZERO });
    let mut stage = at_leg(4);
    stage.press("1/2");
    assert!(stage.shows("= 1/2 turn of preload, 0.75 mm preload"), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::Unloaded { preload_turns: Turns::of(0.5) });
}

#[test]
fn what_guards_from_harm_is_refused_before_a_reason_is_asked_for() {
    let mut stage = at_leg(12);
    stage.press("<Enter>p");
    assert!(stage.shows("guards against harm"), "{}", stage.frame(80, 24));
    assert_eq!(stage.awaiting(), Awaiting::Tick(Check::CollarFullyOff));
}

#[test]
fn a_check_is_passed_over_with_a_reason_only() {
    let mut stage = at_leg(1);
    stage.press("<Enter>p<Enter>");
    assert!(stage.shows("A reason is needed"), "{}", stage.frame(80, 24));
    stage.press("no gauge here?<Enter>");
    let Deed::Skipped { because } = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(because.as_typed(), "no gauge here?");
    assert!(stage.shows("×  Open lockout and compression: no gauge"), "{}", stage.frame(80, 24));
}

#[test]
fn has_none_is_offered_only_where_a_shock_may_have_none() {
    let mut stage = at_leg(1);
    let before = stage.record().clone();
    stage.press("n");
    assert!(stage.shows("n does nothing at this moment"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.record(), before);
    let mut stage = at_leg(13);
    assert_eq!(stage.press("n").last(), Deed::Ticked(Check::ClipOrKnobOff, TickAnswer::HasNone));
}

#[test]
fn a_key_that_does_nothing_says_what_does() {
    let mut stage = at_leg(6);
    stage.press("7");
    assert!(stage.shows("Press Enter once the indicator touches the seal."), "{}", stage.frame(80, 24));
    assert!(stage.shows("That key does nothing here."));
}

#[test]
fn a_reading_is_voided_with_a_reason_and_shown_as_void() {
    let mut stage = at_the_verdict();
    stage.press("x<Up><Enter>dropped in<Enter>");
    let Deed::Voided { reading, because } = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!((reading, because.as_typed()), (ReadingNumber(2), "dropped in"));
    assert!(stage.shows("24.5  (24.0)  24.5"), "{}", stage.frame(80, 24));
}

#[test]
fn a_figure_as_the_reason_of_a_void_is_doubted_once_and_taken_then() {
    let mut stage = at_the_verdict();
    stage.press("x<Enter>20.5<Enter>");
    assert!(stage.shows("20.5 looks like a reading, not a reason"), "{}", stage.frame(80, 24));
    assert!(matches!(stage.press("<Enter>").last(), Deed::Voided { .. }));
}

#[test]
fn a_note_leaves_what_is_typed_for_the_step() {
    let mut stage = at_leg(8);
    stage.press("<C-o>windy, q and x in it?<Enter>");
    let Deed::Noted(note) = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(note.as_typed(), "windy, q and x in it?");
    assert!(stage.shows("▸ 24.5"), "{}", stage.frame(80, 24));
    assert!(stage.shows("Note saved."), "{}", stage.frame(80, 24));
}

#[test]
fn a_remark_that_is_in_memory_only_is_not_called_kept() {
    let mut stage = at_leg(8);
    stage.shell.fault = Some("The disk is full.".to_owned());
    stage.press("<C-o>windy<Enter>");
    assert!(!stage.shows("Note saved."), "{}", stage.frame(80, 24));
    assert!(stage.shows("Not saved: in memory only."), "{}", stage.frame(80, 24));
}

#[test]
fn what_is_typed_for_the_step_is_there_again_after_a_look_at_quick_trials() {
    let mut stage = at_leg(8);
    stage.press("<C-y><C-y>");
    assert!(stage.shows("Guided walk") && stage.shows("▸ 24.5"), "{}", stage.frame(80, 24));
}

#[test]
fn a_reading_voided_after_its_verdict_was_acted_on_says_so() {
    let said = "The decision rested on this reading; undo to the decision if it changes anything.";
    for leg in [11, 13, 16, 17, 22] {
        let mut stage = at_leg(leg);
        stage.press("<C-x><Up><Up><Up><Up><Up><Up><Enter>dropped in<Enter>");
        assert!(matches!(stage.last(), Deed::Voided { .. }), "after leg {leg}: {}", stage.frame(80, 24));
        assert!(stage.frame(140, 40).contains(said), "after leg {leg}: {}", stage.frame(140, 40));
    }
    for leg in [9, 10] {
        let mut stage = at_leg(leg);
        stage.press("<C-x><Enter>dropped in<Enter>");
        assert!(!stage.frame(140, 40).contains("The decision rested"), "{}", stage.frame(140, 40));
    }
}

#[test]
fn an_empty_note_is_no_note() {
    let mut stage = at_leg(1);
    let before = stage.record().clone();
    stage.press("o<Enter>");
    assert!(stage.shows("Type a note, or press Esc"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.press("<Esc>").record(), before);
    assert_eq!(stage.awaiting(), Awaiting::Tick(Check::BikeSupported));
}

#[test]
fn a_step_is_taken_back_and_a_set_started_anew() {
    let mut stage = at_the_verdict();
    assert_eq!(stage.press("t").last(), Deed::Undone);
    assert_eq!(stage.step(), Step::SeatedReading);
    assert_eq!(stage.press("<F8>").last(), Deed::Redone);
    assert_eq!(stage.step(), Step::Decision);
    let before = stage.record().clone();
    stage.press("r");
    let question = "It sets aside the readings 24.5, 24.0 and 24.5.";
    assert!(stage.shows(question) && stage.shows("t brings them back."), "{}", stage.frame(80, 24));
    // Any other key than Enter lets the readings be.
    assert_eq!(*stage.press("<Down><Up>").record(), before);
    assert_eq!(stage.press("r<Enter>").last(), Deed::StartedAgain);
    assert_eq!(stage.step(), Step::SeatIndicator);
    assert!(stage.shows("Take 3 seated readings"), "{}", stage.frame(80, 24));
    stage.press("t");
    assert!(stage.step() == Step::Decision && stage.shows("24.5  24.0  24.5"), "{}", stage.frame(80, 24));
}

#[test]
fn enough_readings_lead_to_the_verdict_early() {
    let mut stage = at_leg(9);
    assert_eq!(stage.press("g").last(), Deed::EnoughReadings);
    assert_eq!(stage.step(), Step::Decision);
}

#[test]
fn a_detail_is_corrected_and_the_walk_goes_on() {
    let mut stage = at_leg(1);
    stage.press("d");
    stage.press("<C-w><C-w>85<Enter><Esc>");
    assert!(
        matches!(stage.last(), Deed::Entered(Detail::Rider(rider)) if rider == Mass::kg(85.0)),
        "{:?}",
        stage.last()
    );
    assert_eq!(stage.awaiting(), Awaiting::Tick(Check::BikeSupported));
    assert!(stage.shows("Bench check"));
}

#[test]
fn quick_trials_and_the_guide_share_one_record() {
    let mut stage = at_leg(9);
    stage.press("y");
    assert!(stage.shows("Quick trials") && stage.shows("#1 24.5"), "{}", stage.frame(80, 24));
    stage.press("24<Enter>");
    assert_eq!(stage.last(), Deed::Trial { reading: Length::mm(24.0) });
    stage.press("<C-y>");
    assert!(stage.shows("Guided walk") && stage.shows("reading 3 of 3"), "{}", stage.frame(80, 24));
}

#[test]
fn a_step_that_must_be_finished_does_not_change_over() {
    let mut stage = at_leg(12);
    stage.press("y");
    assert!(stage.shows("quick trials only take readings"), "{}", stage.frame(80, 24));
    assert!(stage.shows("Guided walk"));
}
