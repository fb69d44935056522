//! The form: nothing typed is lost, nothing is taken that was not accepted, everything accepted is kept at once.

use coilwright::screen::place::intake::row::FormOrder;
use coilwright::session::{Deed, LeverageKnowledge, SpringNumber};
use coilwright::units::{Length, Share, UnitSet};
use crossterm::event::Event;

use super::{Stage, WHOLE_INTAKE};

fn at_the_rider() -> Stage {
    let mut stage = Stage::new();
    stage.press("<Enter>");
    stage
}

#[test]
fn an_accepted_figure_is_kept_at_once() {
    let mut stage = at_the_rider();
    stage.press("82<Enter>");
    assert_eq!(stage.shell.kept.len(), 1);
    assert_eq!(stage.shell.kept[0].intake.rider.map(coilwright::units::Mass::as_kg), Some(82.0));
    assert!(stage.shows("✓ saved"));
}

#[test]
fn a_figure_says_how_it_is_understood_before_it_is_accepted() {
    let mut stage = at_the_rider();
    assert!(stage.press("180 lb").shows("= 81.6 kg · 180 lb"), "{}", stage.frame(80, 24));
    assert!(stage.shell.kept.is_empty());
}

#[test]
fn a_progressive_spring_is_typed_with_its_two_rates_and_its_stroke() {
    let mut stage = at_the_rider();
    stage.press("82<Enter>150<Enter>60<Enter>400-490<Enter>");
    assert!(stage.shows("Type its stroke too"), "{}", stage.frame(80, 24));
    stage.press("/65");
    assert!(stage.shows("= 400–490 lb/in, stroke 65.0 mm"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    let [spring] = stage.record().intake.springs[..] else { panic!("{:?}", stage.record().intake) };
    assert_eq!(spring.end_rate.map(|rate| rate.as_lb_per_in().round()), Some(490.0));
    // Looked at again, it stays the spring it is.
    stage.press("<Up><Enter>");
    assert_eq!(stage.record().intake.springs.len(), 1);
    assert!(stage.shows("400-490/65mm"), "{}", stage.frame(80, 24));
}

#[test]
fn a_text_that_cannot_be_read_stays_in_the_field() {
    let mut stage = at_the_rider();
    stage.press("eighty<Enter>");
    assert!(stage.shows("eighty"));
    assert!(stage.shows("is not a number"), "{}", stage.frame(80, 24));
    assert!(stage.shell.kept.is_empty());
}

#[test]
fn a_text_not_accepted_waits_in_its_row() {
    let mut stage = at_the_rider();
    stage.press("82<Tab>");
    assert!(stage.shows("82 (not accepted yet)"), "{}", stage.frame(80, 24));
    stage.press("<Up><Enter>");
    assert_eq!(stage.record().intake.rider.map(coilwright::units::Mass::as_kg), Some(82.0));
}

#[test]
fn an_impossible_figure_is_refused_and_stays_in_the_field() {
    let mut stage = at_the_rider();
    stage.press("820<Enter>");
    assert!(stage.shows("820"));
    assert_eq!(stage.record().intake.rider, None);
}

#[test]
fn an_unusual_figure_is_asked_about_once() {
    let mut stage = at_the_rider();
    stage.press("135<Enter>");
    assert!(stage.shows("is unusual"), "{}", stage.frame(80, 24));
    assert_eq!(stage.record().intake.rider, None);
    stage.press("<Enter>");
    assert_eq!(stage.record().intake.rider.map(coilwright::units::Mass::as_kg), Some(135.0));
}

#[test]
fn an_unusual_figure_changed_is_asked_about_anew() {
    let mut stage = at_the_rider();
    stage.press("135<Enter><BSpace>6<Enter>");
    assert_eq!(stage.record().intake.rider, None);
}

#[test]
fn what_is_typical_is_shown_as_such_and_never_enters_the_record() {
    let mut stage = at_the_rider();
    for shown in ["15 kg  typical", "28.5–31.5 %  typical", "1.25 mm  typical"] {
        assert!(stage.shows(shown), "{shown}: {}", stage.frame(80, 24));
    }
    stage.press(&"<Tab>".repeat(6));
    assert!(stage.shows("Typical: 15 kg. Enter goes on with it."), "{}", stage.frame(80, 24));
    stage.press("<Enter><Enter>");
    assert_eq!((stage.record().intake.bike, stage.record().intake.target), (None, None));
    stage.press("<Up>lively<Enter>");
    let target = stage.record().intake.target.expect("accepted");
    assert_eq!((target.sag, target.tolerance), (Share::percent(25.0), Share::percent(1.5)));
}

#[test]
fn a_pasted_line_break_does_not_accept() {
    let mut stage = Stage::new();
    stage.press("<Enter><Up>").take(Event::Paste("Invented\nRider\n".to_owned()));
    assert!(stage.shows("Invented Rider"));
    assert!(stage.shell.kept.is_empty());
}

#[test]
fn a_question_mark_is_text_in_a_name_and_help_in_a_figure() {
    let mut stage = Stage::new();
    stage.press("<Enter><Up>who?");
    assert!(stage.shows("who?"));
    stage.press("<Tab>?");
    assert!(stage.shows("Keys: Details"), "{}", stage.frame(80, 24));
    assert!(stage.press("?").shows("▸ Rider, ready to ride"), "{}", stage.frame(80, 24));
}

#[test]
fn help_and_back_lose_no_letter() {
    let mut stage = at_the_rider();
    stage.press("8<F1><Esc>2<Enter>");
    assert_eq!(stage.record().intake.rider.map(coilwright::units::Mass::as_kg), Some(82.0));
}

#[test]
fn going_through_the_units_changes_no_record() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(WHOLE_INTAKE);
    let before = stage.record().clone();
    for _ in 0..3 {
        stage.press("<C-u>").press(&"<Up>".repeat(6)).press(&"<Enter>".repeat(6));
        stage.press("<Tab>").press(&"<Enter>".repeat(12)).press(&"<Up>".repeat(12));
        assert_eq!(*stage.record(), before);
    }
}

#[test]
fn the_work_does_not_begin_before_everything_needed_is_told() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(&"<Tab>".repeat(4)).press("<Enter>");
    assert!(stage.record().entries.is_empty());
    assert!(stage.shows("▸ Rider, ready to ride"), "{}", stage.frame(80, 24));
}

#[test]
fn a_whole_intake_leads_to_the_bench_check() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    assert_eq!(stage.record().entries.last().map(|entry| &entry.deed), Some(&Deed::IntakeDone));
    assert_eq!(stage.record().intake.spring_on_arrival, Some(SpringNumber(3)));
    assert!(stage.shows("Bench check"), "{}", stage.frame(80, 24));
    assert!(stage.model.desk.session.as_ref().is_some_and(|session| session.assessment.is_some()));
}

#[test]
fn leverage_ratios_are_read_from_start_to_end_and_taken_back_by_an_empty_line() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(&"<Tab>".repeat(12)).press("2.8 to 2.2<Enter>");
    let LeverageKnowledge::Ends { start, end } = stage.record().intake.leverage else { panic!("two ratios") };
    assert_eq!((start.value(), end.value()), (2.8, 2.2));
    stage.press("<Up><C-w><C-w><C-w><Enter>");
    assert_eq!(stage.record().intake.leverage, LeverageKnowledge::TravelOnly);
}

#[test]
fn a_rack_is_corrected_without_making_other_springs_of_it() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(WHOLE_INTAKE);
    stage.press("<Tab><Home>300 <Enter>");
    let rack = &stage.record().intake.springs;
    assert_eq!(rack[0].number, SpringNumber(7));
    assert_eq!((rack[3].number, rack[3].stroke), (SpringNumber(3), Some(Length::mm(70.0))));
}

#[test]
fn what_a_row_takes_is_in_sight_whichever_row_has_the_focus() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(WHOLE_INTAKE).press(&"<Up>".repeat(6));
    for row in FormOrder::FirstVisit.rows() {
        let frame = stage.frame(80, 24);
        // The sentence may be broken over lines, so its words are looked for one after another.
        let mut rest = frame.as_str();
        for word in row.takes(UnitSet::Trade).split(' ') {
            let found = rest.split_once(word);
            assert!(found.is_some(), "{word} of {row:?} is out of sight:\n{frame}");
            rest = found.map_or("", |(_, behind)| behind);
        }
        stage.press("<Tab>");
    }
}

#[test]
fn going_back_asks_once_about_a_text_not_accepted() {
    let mut stage = at_the_rider();
    stage.press("82<Esc>");
    assert!(stage.shows("Rider, ready to ride holds text that was not accepted"), "{}", stage.frame(80, 24));
    stage.press("<Esc>");
    assert!(stage.shows("New session"), "{}", stage.frame(80, 24));
}

#[test]
fn a_figure_typed_into_a_row_reached_again_replaces_it_unless_it_is_gone_into() {
    let rider = |stage: &Stage| stage.record().intake.rider.map(coilwright::units::Mass::as_kg);
    let mut stage = at_the_rider();
    stage.press("82<Enter><Up>84<Enter>");
    assert_eq!(rider(&stage), Some(84.0));
    stage.press("<Up><Home><Del>7<Enter>");
    assert_eq!(rider(&stage), Some(74.0));
    stage.press("<Up><Up>blue<Tab><Up> bike<Enter>");
    assert_eq!(stage.record().intake.bike_name.as_typed(), "blue bike");
}
