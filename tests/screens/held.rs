//! Keys held down or pressed faster than the screen is drawn: nothing is answered that nobody can have read, and nothing
//! typed is lost.

use chrono::TimeDelta;
use coilwright::session::{Awaiting, Caution, Check, Deed, Step};
use coilwright::units::Length;
use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

use super::guide::{at_leg, at_the_bench};
use super::trials::{begun, ready};
use super::{Stage, noon};

const ONE_AT_A_TIME: &str = "One at a time. Read this, then press Enter.";

#[test]
fn twenty_enters_at_once_answer_one_question() {
    for leg in [0, 1, 3, 5, 10, 11, 13, 20, 22] {
        let mut stage = at_leg(leg);
        let before = stage.record().entries.len();
        let together = stage.read_together();
        stage.burst(&"<Enter>".repeat(20));
        assert_eq!(
            stage.record().entries.len(),
            before + together,
            "after leg {leg}:\n{}",
            stage.frame(80, 24)
        );
        assert!(stage.shows(ONE_AT_A_TIME), "after leg {leg}:\n{}", stage.frame(80, 24));
    }
}

#[test]
fn an_enter_after_the_next_frame_answers_the_next_question() {
    let mut stage = at_the_bench();
    stage.burst("<Enter><Enter>").burst("<Enter><Enter>");
    assert_eq!(stage.last(), Deed::Ticked(Check::BikeSupported, coilwright::session::TickAnswer::Done));
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
    assert_eq!(stage.last(), Deed::Read { reading: Length::mm(24.5) });
    let mut stage = ready();
    stage.burst("24.5<Enter>24<Enter>24.5<Enter>");
    assert_eq!(stage.last(), Deed::Trial { reading: Length::mm(24.5) });
    assert_eq!(stage.record().entries.len(), 11);
}

#[test]
fn an_unusual_figure_is_not_kept_before_its_question_was_seen() {
    let mut stage = ready();
    let before = stage.record().clone();
    stage.burst("60<Enter><Enter>");
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("was expected."), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::Trial { reading: Length::mm(60.0) });
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

impl Stage {
    /// How many entries the next Enter makes: cautions that stand in one frame are read together.
    pub(super) fn read_together(&self) -> usize {
        let session = self.model.desk.session.as_ref().expect("a session is open");
        session.state.cautions_now().len().max(1)
    }
}

/// Presses Enter so many times, each after a frame, with this much time from one to the next and before the first.
fn every(stage: &mut Stage, milliseconds: i64, times: usize) {
    for _ in 0..times {
        let before = stage.shell.clock.unwrap_or_else(noon);
        stage.shell.clock = Some(before + TimeDelta::milliseconds(milliseconds));
        stage.press("<Enter>");
    }
}

#[test]
fn a_key_held_down_that_comes_as_ordinary_presses_stops_at_what_guards_from_harm() {
    // Repeats of a held key, from the quickest terminals to the slowest.
    for repeat in [15, 33, 92, 240] {
        for leg in [0, 11, 13, 20, 22] {
            let mut stage = at_leg(leg);
            let before = stage.record().entries.len();
            let together = stage.read_together();
            every(&mut stage, 1_000, 1);
            every(&mut stage, repeat, 200);
            let answered = &stage.record().entries[before..];
            let guarding = answered.iter().skip(together).filter(|entry| match entry.deed {
                Deed::CautionSeen(_) => true,
                Deed::Ticked(check, _) => check.guards_from_harm(),
                _ => false,
            });
            assert_eq!(guarding.count(), 0, "every {repeat} ms after leg {leg}: {answered:?}");
            assert!(stage.shows(ONE_AT_A_TIME), "after leg {leg}:\n{}", stage.frame(80, 24));
        }
    }
}

#[test]
fn a_key_let_go_and_pressed_again_answers() {
    let mut stage = at_the_bench();
    every(&mut stage, 33, 50);
    let before = stage.record().entries.len();
    every(&mut stage, 250, 1);
    assert_eq!(stage.record().entries.len(), before + 1);
}

#[test]
fn somebody_who_answers_quickly_on_purpose_is_not_held_up() {
    let mut stage = at_the_bench();
    every(&mut stage, 260, 7);
    assert_eq!(stage.step(), Step::Unload, "{}", stage.frame(80, 24));
}

#[test]
fn a_clock_that_is_set_back_holds_nobody_up() {
    let mut stage = at_the_bench();
    every(&mut stage, -3_600_000, 7);
    assert_eq!(stage.step(), Step::Unload, "{}", stage.frame(80, 24));
}

#[test]
fn the_record_tells_whole_seconds() {
    let mut stage = at_the_bench();
    every(&mut stage, 260, 7);
    let stamps = stage.record().entries.iter().map(|entry| entry.at.timestamp_subsec_nanos());
    assert!(stamps.into_iter().all(|nanoseconds| nanoseconds == 0));
}
