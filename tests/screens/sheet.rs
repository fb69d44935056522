//! The sheet of the bike by keys: as found, as left, the ride, and where what was written is shown again.
//!
//! That a click makes up for about 50 lb/in, and what to try first, is common practice, no source.

use coilwright::mechanics::damper::Knob;
use coilwright::screen::place::Place;
use coilwright::session::{Deed, Symptom};
use coilwright::units::{Angle, Length};

use super::Stage;
use super::guide::at_leg;

/// Ten rows and one more down: from the first row of the sheet to the fork's sag.
const TO_FORK_SAG: &str = "<Down><Down><Down><Down><Down><Down><Down><Down><Down><Down><Down>";

/// At the bench check, with the sheet written: rebound 8 of 14, and the fork.
pub(crate) fn found() -> Stage {
    let mut stage = at_leg(1);
    stage.press("s").press("<Down>8 of 14").press("<Up>").press(TO_FORK_SAG);
    stage.press("32<Enter>160<Enter>64.5<Esc>");
    stage
}

/// The walk from the bench check to the last line of the final checks, with a stiffer spring on.
fn at_the_last_check() -> Stage {
    let mut stage = found();
    for leg in &super::guide::WALK[2..=22] {
        stage.press(leg.keys);
    }
    stage.press("<Enter><Enter>");
    stage
}

/// At the trail check, its caution read.
pub(crate) fn ridden() -> Stage {
    let mut stage = found();
    for leg in &super::guide::WALK[2..=26] {
        stage.press(leg.keys);
    }
    stage.press("s52<Enter><Right>");
    stage
}

#[test]
fn what_is_written_on_the_sheet_is_one_deed_and_reads_back() {
    let mut stage = found();
    let Deed::AsFound(sheet) = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(sheet.rebound, Some(Knob { from_closed: 8, of: Some(14) }));
    assert_eq!(sheet.fork_sag_mm, Some(Length::mm(32.0)));
    assert_eq!(sheet.head_angle_degrees, Some(Angle::degrees(64.5)));
    let entries = stage.record().entries.len();
    stage.press("s");
    assert!(stage.shows("8 of 14 from closed"), "{}", stage.frame(80, 24));
    // Nothing was changed, so nothing is added.
    stage.press("<Esc>");
    assert_eq!(stage.record().entries.len(), entries);
}

#[test]
fn the_sheet_is_taken_back_like_any_step() {
    let mut stage = found();
    stage.press("t");
    assert!(stage.model.desk.session.as_ref().expect("open").state.found.is_empty());
}

#[test]
fn a_row_nobody_can_read_is_said_and_what_was_typed_stays() {
    let mut stage = at_leg(1);
    stage.press("s<Down>eight<Esc>");
    assert!(stage.shows("Rebound is not understood.") && stage.shows("eight"), "{}", stage.frame(80, 24));
    stage.press("<BSpace><BSpace><BSpace><BSpace><BSpace>8<Esc>");
    assert!(matches!(stage.last(), Deed::AsFound(_)));
}

#[test]
fn the_adjusters_found_stand_where_they_are_set_back_with_what_the_spring_asks() {
    let stage = at_the_last_check();
    let frame = stage.frame(140, 40);
    assert!(frame.contains("As found: rebound 8 of 14 from closed."), "{frame}");
    assert!(frame.contains("slower, towards closed"), "{frame}");
}

#[test]
fn from_the_final_checks_on_the_sheet_says_how_the_bike_is_left() {
    let mut stage = at_the_last_check();
    stage.press("s");
    let frame = stage.frame(100, 30);
    assert!(frame.contains("As left") && frame.contains("As found"), "{frame}");
    stage.press("<Down>6 of 14<Esc>");
    let Deed::AsLeft(sheet) = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!(sheet.rebound, Some(Knob { from_closed: 6, of: Some(14) }));
}

#[test]
fn a_ride_tells_its_deepest_stroke_and_what_bothers_and_hears_what_to_try_first() {
    let mut stage = ridden();
    stage.press("<Esc>");
    let Deed::RideTold(ride) = stage.last() else { panic!("{:?}", stage.last()) };
    assert_eq!((ride.deepest, ride.symptom), (Some(Length::mm(52.0)), Some(Symptom::PacksDown)));
    assert!(stage.shows("Packs down: rebound 1 or 2 clicks faster"), "{}", stage.frame(80, 24));
    stage.press("f");
    assert!(matches!(stage.model.place(), Place::Around(_)));
    let frame = stage.frame(140, 60);
    assert!(
        frame.contains("Deepest stroke 52.0 mm") && frame.contains("The same hit on other springs"),
        "{frame}"
    );
    assert!(frame.contains("Front") && frame.contains("Hz"), "{frame}");
}

#[test]
fn a_deepest_stroke_beyond_the_shocks_is_refused_and_stays_typed() {
    let mut stage = ridden();
    stage.press("<Up>99<Esc>");
    assert!(matches!(stage.model.place(), Place::Sheet(_)), "{}", stage.frame(80, 24));
    assert!(!matches!(stage.last(), Deed::RideTold(_)));
}

#[test]
fn a_shock_without_a_clip_is_not_asked_for_it_again() {
    let mut stage = at_leg(13);
    stage.press("n<Enter>");
    assert!(stage.shows("Turn the collar to contact"), "{}", stage.frame(80, 24));
    let none = stage
        .record()
        .entries
        .iter()
        .filter(|entry| matches!(entry.deed, Deed::Ticked(_, coilwright::session::TickAnswer::HasNone)));
    assert_eq!(none.count(), 3);
}
