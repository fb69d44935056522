//! What can hurt someone, at the least size, through the details, the guided walk and quick trials: it cannot be missed, and
//! what it refuses has a way out.

use coilwright::session::work_mode::WorkMode;
use coilwright::session::{Caution, Deed, Detail, Step, TickAnswer};
use coilwright::units::{Length, Turns};

use super::guide::{WALK, at_leg, at_the_verdict};
use super::trials::{begun, ready, three};
use super::{Stage, WHOLE_INTAKE, WHOLE_TRIALS};

/// The keys of an intake whose fitted 450 has this much stroke on a shock of 65 mm.
fn intake_with(springs: &str) -> String {
    WHOLE_INTAKE.replace("350-600 by 50, stroke 70", springs)
}

fn trials_with(springs: &str) -> String {
    WHOLE_TRIALS.replace("350-600 by 50, stroke 70", springs)
}

const BINDS: &str = "450/55 500/70 550/70";

/// A bike with a binding spring on it, the details told and its warning on the screen.
pub(crate) fn told_that_it_binds(mode: WorkMode) -> Stage {
    let mut stage = Stage::new();
    match mode {
        WorkMode::Guided => stage.press("<Enter>").press(&intake_with(BINDS)),
        WorkMode::Trials => stage.press("<Down><Enter>").press(&trials_with(BINDS)),
    };
    stage
}

/// At the verdict with the binding spring, its warning read everywhere before.
pub(crate) fn judged_binding() -> Stage {
    let mut stage = told_that_it_binds(WorkMode::Guided);
    stage.press("<Enter><Enter>");
    for leg in &WALK[1..=7] {
        stage.press(leg.keys);
    }
    stage.press("<Enter>20<Enter><Enter>19.5<Enter><Enter>20<Enter>");
    stage
}

/// Whether the warning stands over the whole width.
fn warns(stage: &Stage) -> bool {
    let frame = stage.frame(80, 24);
    let wide = frame.lines().any(|line| line.contains('┏') && line.chars().count() > 70);
    wide && frame.contains("This spring will coil-bind")
        && frame.contains("The 450 lb/in on the bike has 55.0 mm of stroke")
}

#[test]
fn a_binding_spring_is_said_at_the_details_at_the_bench_and_at_the_verdict_and_cannot_be_kept() {
    let mut stage = told_that_it_binds(WorkMode::Guided);
    assert!(warns(&stage), "{}", stage.frame(80, 24));
    // Nothing but Enter answers it.
    stage.press("7<Down>");
    assert!(warns(&stage), "{}", stage.frame(80, 24));
    stage.press("<Enter><Enter>");
    assert_eq!((stage.step(), stage.last()), (Step::BenchCheck, Deed::CautionSeen(Caution::FittedBinds)));
    for leg in &WALK[1..=7] {
        stage.press(leg.keys);
        let said = stage.shows("! This spring will coil-bind") || stage.shows("Enter: read and understood");
        assert!(said, "after {:?}: {}", leg.keys, stage.frame(80, 24));
    }
    stage.press("<Enter>20<Enter><Enter>19.5<Enter><Enter>20<Enter>");
    assert!(stage.step() == Step::Decision && warns(&stage), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::FittedBinds));
    assert!(stage.shows("! This spring will coil-bind"), "{}", stage.frame(80, 24));
    assert!(!stage.shows("Keep spring and collar"), "{}", stage.frame(80, 24));
}

#[test]
fn a_binding_spring_is_said_in_quick_trials_before_the_first_and_at_the_verdict() {
    let mut stage = told_that_it_binds(WorkMode::Trials);
    assert!(warns(&stage), "{}", stage.frame(80, 24));
    stage.press("<Enter><Enter>");
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::FittedBinds));
    stage.press("<Enter><Enter><Enter><Enter>20<Enter>19.5<Enter>20<Enter>");
    assert!(stage.step() == Step::Decision && warns(&stage), "{}", stage.frame(80, 24));
    let before = stage.record().clone();
    assert_eq!(*stage.press("20").record(), before, "a figure answers no warning");
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::FittedBinds));
    stage.press("s 500<Enter><Enter>");
    assert!(matches!(stage.last(), Deed::Swapped { .. }), "{}", stage.frame(80, 24));
    assert!(!warns(&stage));
}

#[test]
fn an_intake_opened_again_warns_again() {
    let mut stage = told_that_it_binds(WorkMode::Guided);
    // Another spring on the bike ends it; the binding one again is a new warning.
    stage.press("<Enter><Up>500<Enter>");
    assert!(!warns(&stage), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert!(
        !stage.record().entries.iter().any(|entry| entry.deed == Deed::CautionSeen(Caution::FittedBinds))
    );
}

#[test]
fn a_collar_found_past_the_limit_is_warned_of_at_every_step_until_it_is_turned_back() {
    let mut stage = at_leg(4);
    stage.press("3<Enter><Enter>");
    assert!(stage.shows("The collar is past the limit"), "{}", stage.frame(80, 24));
    assert!(stage.shows("The collar is at 3 turns of preload, over the limit of 2 turns."));
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::CollarBeyondLimit));
}

#[test]
fn the_stroke_of_the_spring_on_the_bike_is_asked_for_once_in_both_ways_to_work() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(&intake_with("450 500/70 550")).press("<Enter>");
    for leg in &WALK[1..=4] {
        stage.press(leg.keys);
    }
    assert!(stage.shows("What stroke does this spring have?"), "{}", stage.frame(80, 24));
    stage.press("70");
    assert!(stage.shows("▸ 70"), "{}", stage.frame(80, 24));
    let Deed::Entered(Detail::Springs(list)) = stage.press("<Enter>").last() else {
        panic!("{:?}", stage.last())
    };
    assert_eq!(list[0].stroke, Some(Length::mm(70.0)));
    assert!(!stage.shows("What stroke does this spring have?"), "{}", stage.frame(80, 24));

    let mut stage = Stage::new();
    stage.press("<Down><Enter>").press(&trials_with("450 500/70 550")).press("<Enter><Enter><Enter><Enter>");
    assert!(stage.shows("What stroke does this spring have?"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::CautionSeen(Caution::FittedStrokeUnknown));
    stage.press("20<Enter>");
    assert_eq!(stage.last(), Deed::Trial { reading: Length::mm(20.0) });
    // A stroke that is too short is a binding spring at once.
    let mut stage = Stage::new();
    stage
        .press("<Down><Enter>")
        .press(&trials_with("450 500/70 550"))
        .press("<Enter><Enter><Enter><Enter>55<Enter>");
    assert!(warns(&stage), "{}", stage.frame(80, 24));
}

#[test]
fn whether_the_limit_was_entered_is_in_the_record_and_no_maker_is_quoted() {
    // Passed by, the limit is nobody's: what is typical stands for it and is not written down.
    let mut typical = Stage::new();
    typical
        .press("<Enter>")
        .press(&WHOLE_INTAKE.replace("1.5<Enter>2<Enter>", "1.5<Enter><Tab>"))
        .press("<Enter>");
    for leg in &WALK[1..=4] {
        typical.press(leg.keys);
    }
    assert_eq!(typical.record().intake.turns_limit, None);
    typical.press("3<Enter>");
    assert!(
        typical.shows("Typical limit 2 turns; the shock maker's figure goes first."),
        "{}",
        typical.frame(80, 24)
    );
    let mut entered = Stage::new();
    entered.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    assert_eq!(entered.record().intake.turns_limit, Some(Turns::of(2.0)), "{}", entered.frame(80, 24));
    for leg in &WALK[1..=4] {
        entered.press(leg.keys);
    }
    entered.press("3<Enter>");
    assert!(entered.shows("The limit entered is 2 turns."), "{}", entered.frame(80, 24));
}

#[test]
fn a_list_done_all_at_once_names_what_guards_from_harm_first() {
    let mut stage = at_leg(12);
    let before = stage.record().clone();
    stage.press("k");
    for line in ["! Back the collar fully off", "! Seat the clip in its groove", "! Tighten bolts"] {
        assert!(stage.shows(line), "{line}: {}", stage.frame(80, 24));
    }
    assert!(stage.shows("A loose bolt can break the frame"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.press("<Esc>").record(), before);
    stage.press("k<Enter>");
    assert_eq!(stage.step(), Step::Unload, "{}", stage.frame(80, 24));
    let ticked = stage.record().entries[before.entries.len()..].iter();
    let done = ticked.filter(|entry| matches!(entry.deed, Deed::Ticked(_, TickAnswer::Done)));
    assert_eq!(done.count(), Step::Swap.checks().len());
    assert!(stage.record().entries.iter().any(|entry| entry.deed == Deed::CautionSeen(Caution::LooseBolts)));
}

#[test]
fn what_was_read_before_stands_as_a_line_at_its_place() {
    for (leg, line) in [
        (6, "! A scratched shaft leaks  ! Fingers can be crushed"),
        (8, "! Sit down gently, with support"),
        (8, "! An e-bike can drive off"),
        (13, "! A loaded spring can fly off  ! The clip can fly off"),
        (22, "! A loose collar frees the spring"),
    ] {
        assert!(at_leg(leg).shows(line), "{line}: {}", at_leg(leg).frame(80, 24));
    }
    let mut stage = at_the_verdict();
    stage.press("<Down><Down><Down><Down><Enter>1<Enter>");
    assert!(stage.shows("! A loose collar frees the spring"), "{}", stage.frame(80, 24));
    let mut stage = ready();
    assert!(stage.press("t 1").shows("! A loose collar frees the spring"), "{}", stage.frame(80, 24));
    let mut stage = three();
    stage.press("s 550<Enter>");
    let frame = stage.frame(80, 24);
    assert!(
        frame.contains("a clip that is half in its groove") && frame.contains("eye protection"),
        "{frame}"
    );
}

#[test]
fn undo_and_redo_are_words_of_the_line_too() {
    let mut stage = three();
    stage.press("undo");
    assert!(stage.shows("= the last step undone"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::Undone);
    assert!(!stage.shows("  3 "), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("redo<Enter>").last(), Deed::Redone);
    stage.press("<C-r>");
    assert!(stage.shows("It sets aside the readings 24.5, 24.0 and 24.5."), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::StartedAgain);
    stage.press("undo<Enter>");
    assert!(stage.shows("#1 24.5  #2 24.0  #3 24.5"), "{}", stage.frame(80, 24));
}

#[test]
fn a_reading_far_from_its_forecast_is_asked_about_in_quick_trials_and_not_again_for_its_fellows() {
    let mut stage = ready();
    stage.press("31<Enter>");
    assert!(
        stage.shows("31.0 mm? About 23.1 mm was expected. Press Enter again to keep it."),
        "{}",
        stage.frame(80, 24)
    );
    stage.press("<Enter>");
    assert_eq!(stage.last(), Deed::Trial { reading: Length::mm(31.0) });
    assert_eq!(stage.press("31.5<Enter>").last(), Deed::Trial { reading: Length::mm(31.5) });
}

#[test]
fn a_closed_session_takes_a_note_a_name_and_a_late_trail_by_its_keys() {
    let mut stage = at_leg(WALK.len() - 1);
    stage.press("onew bushings<Enter>");
    assert!(matches!(stage.last(), Deed::Noted(_)), "{}", stage.frame(80, 24));
    stage.press("l<Right><Enter><Right><Right><Enter><Right><Right><Enter>after a week<Enter>");
    assert!(matches!(stage.last(), Deed::TrailRidden { .. }), "{}", stage.frame(80, 24));
    assert_eq!(stage.step(), Step::Closed);
    stage.press("d<C-w><C-w>Another Invented<Enter><Esc>");
    let entered = stage
        .record()
        .entries
        .iter()
        .filter(|entry| matches!(entry.deed, Deed::Entered(Detail::Customer(_))));
    assert_eq!(entered.count(), 1, "{}", stage.frame(80, 24));
    stage.press("t");
    assert_eq!(stage.last(), Deed::Undone);
}

#[test]
fn a_collar_found_past_what_is_allowed_opens_the_trials_once_that_is_said() {
    let mut stage = begun();
    stage.press("<Enter><Enter>2.5<Enter>");
    assert!(stage.shows("The limit entered is 2 turns."), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), Deed::TrialsOpened { preload_turns: Turns::of(2.5) });
}
