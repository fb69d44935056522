//! Keys held down or pressed faster than the screen is drawn: nothing is answered that nobody can have read, and nothing
//! typed is lost.

use coilwright::session::{Awaiting, Caution, Check, Deed, Step};
use coilwright::units::Length;
use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

use super::guide::{at_leg, at_the_bench};
use super::trials::{begun, ready};

const ONE_AT_A_TIME: &str = "One at a time: read it, then press Enter.";

#[test]
fn twenty_enters_at_once_answer_one_question() {
    for leg in [0, 1, 3, 5, 10, 11, 13, 20, 22] {
        let mut stage = at_leg(leg);
        let before = stage.record().entries.len();
        stage.burst(&"<Enter>".repeat(20));
        assert_eq!(stage.record().entries.len(), before + 1, "after leg {leg}:\n{}", stage.frame(80, 24));
        assert!(stage.shows(ONE_AT_A_TIME), "after leg {leg}:\n{}", stage.frame(80, 24));
    }
}

#[test]
fn an_enter_after_the_next_frame_answers_the_next_question() {
    let mut stage = at_the_bench();
    stage.burst("<Enter><Enter>").burst("<Enter><Enter>");
    assert_eq!(stage.last(), Deed::Ticked(Check::BikeSupported, coilwright::session::TickedHow::Done));
}

#[test]
fn a_check_this_shock_lacks_is_answered_one_at_a_time() {
    let mut stage = at_leg(13);
    let before = stage.record().entries.len();
    stage.burst("nnnn");
    assert_eq!(stage.record().entries.len(), before + 1, "{}", stage.frame(80, 24));
}

#[test]
fn a_key_held_down_answers_nothing() {
    let mut stage = at_the_bench();
    let held = KeyEvent::new_with_kind(KeyCode::Enter, KeyModifiers::NONE, KeyEventKind::Repeat);
    stage.take(Event::Key(held));
    assert_eq!(stage.awaiting(), Awaiting::Acknowledgement(Caution::BikeSteady));
    assert!(stage.shows(ONE_AT_A_TIME), "{}", stage.frame(80, 24));
}

#[test]
fn what_is_typed_with_its_enter_at_once_is_taken() {
    let mut stage = at_leg(7);
    stage.press("<Enter>").burst("24.5<Enter>");
    assert_eq!(stage.last(), Deed::Read { moved: Length::mm(24.5) });
    let mut stage = ready();
    stage.burst("24.5<Enter>24<Enter>24.5<Enter>");
    assert_eq!(stage.last(), Deed::Trial { moved: Length::mm(24.5) });
    assert_eq!(stage.record().entries.len(), 9);
}

#[test]
fn an_unusual_figure_is_not_kept_before_its_question_was_seen() {
    let mut stage = ready();
    let before = stage.record().clone();
    stage.burst("60<Enter><Enter>");
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("is unusual"), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::Trial { moved: Length::mm(60.0) });
}

#[test]
fn the_cautions_of_quick_trials_are_answered_one_screen_at_a_time() {
    let mut stage = begun();
    stage.burst("<Enter><Enter><Enter>");
    assert_eq!(stage.step(), Step::BenchCheck, "{}", stage.frame(80, 24));
    let mut stage = ready();
    let before = stage.record().clone();
    stage.burst("s 550<Enter><Enter>");
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("A loaded spring can fly off"), "{}", stage.frame(80, 24));
}
