//! Another load inside a session: a pack, another rider, softer tyres. Its sets are labelled, never averaged with others, and
//! compared with what was read before.

use coilwright::assessment::assess;
use coilwright::assets;
use coilwright::session::{Condition, ConditionNumber, Deed, Detail, ReadHow, Step, machine};
use coilwright::text::FreeText;
use coilwright::units::{Mass, Share, UnitSet};

use super::Stage;
use super::guide::at_leg;
use super::trials::{ready, three};
use crate::paper::Session;

/// Sags the springs would rest at, as the session has them.
fn forecasts(stage: &Stage, more: &[Deed]) -> Vec<Share> {
    let mut record = stage.record().clone();
    let at = record.opened;
    for deed in more {
        machine::advance(&mut record, at, deed.clone()).expect("the deed is in order");
    }
    let folded = machine::replay(&record).expect("the record folds");
    let setup = folded.setup.as_ref().expect("the intake is done");
    let assessed = assess(setup, &folded, assets::doubts());
    assessed.forecasts.iter().map(|forecast| forecast.sag.value).collect()
}

fn rider(stage: &Stage) -> Mass {
    stage.model.desk.session.as_ref().expect("open").state.setup.as_ref().expect("done").rider
}

fn pack(rider: Mass) -> Deed {
    Deed::Under(Some(Condition { name: FreeText::new("pack"), rider: Some(rider) }))
}

#[test]
fn a_pack_has_a_name_a_weight_and_sets_of_its_own() {
    let mut stage = three();
    stage.press("w 120 pack");
    assert!(stage.shows("= with pack, rider 120 kg; a set of its own"), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), pack(Mass::kg(120.0)));
    stage.press("26<Enter>26.5<Enter>");
    let sets = &stage.model.desk.session.as_ref().expect("open").state.sets;
    assert_eq!(sets.iter().map(|set| set.readings.len()).collect::<Vec<_>>(), [3, 2]);
    let frame = stage.frame(100, 30);
    assert!(frame.contains("with pack") && frame.contains("450 lb/in, pack"), "{frame}");
    assert!(frame.contains("points more sag on 450 lb/in."), "{frame}");
    stage.press("w<Enter>");
    assert_eq!(stage.last(), Deed::Under(None));
    stage.press("<C-t>");
    let how = stage.model.desk.session.as_ref().expect("open").state.how;
    assert_ne!(how.condition, ConditionNumber::AS_ENTERED);
}

#[test]
fn a_condition_is_told_by_weight_by_name_or_not_at_all() {
    let forms = [
        ("w 92 pack", "pack, rider 92 kg"),
        ("with 92 kg big pack", "big pack, rider 92 kg"),
        ("w 203 lb pack", "pack, rider 92.1 kg"),
        ("w wet tyres", "wet tyres;"),
        ("w", "as entered"),
    ];
    for (line, told) in forms {
        let mut stage = three();
        stage.press(line);
        assert!(stage.shows(told), "{line}: {}", stage.frame(80, 24));
    }
    let mut stage = three();
    let before = stage.record().clone();
    stage.press("w 92<Enter>");
    assert!(stage.shows("w 86 pack"), "{}", stage.frame(80, 24));
    stage.press("<C-u>w 400 elephant<Enter>");
    assert_eq!(*stage.record(), before);
}

#[test]
fn eight_kilograms_on_the_back_are_forecast_as_a_rider_eight_kilograms_heavier() {
    let stage = ready();
    let heavier = rider(&stage) + Mass::kg(8.0);
    let with_pack = forecasts(&stage, &[pack(heavier)]);
    let entered = forecasts(&stage, &[Deed::Entered(Detail::Rider(heavier))]);
    let plain = forecasts(&stage, &[]);
    for ((packed, entered), plain) in with_pack.iter().zip(&entered).zip(&plain) {
        let off = (*packed - *entered).abs().as_percent();
        assert!(off < 0.05, "{off} points apart");
        assert!(packed > plain);
    }
}

#[test]
fn readings_with_a_pack_speak_for_the_rider_without_it() {
    // Three dragged readings with the pack, as the balance has them: the load as entered is found again.
    let mut stage = three();
    let before = forecasts(&stage, &[]);
    stage.press("w 120 pack<Enter>");
    let expected =
        stage.model.desk.session.as_ref().expect("open").assessment.as_ref().expect("done").expected;
    let reading = expected.expect("a spring is fitted").value;
    let trials = [0, 1, 2].map(|_| Deed::Trial { reading });
    let after: Vec<Deed> = trials.into_iter().chain([Deed::Under(None)]).collect();
    for (before, after) in before.iter().zip(forecasts(&stage, &after)) {
        let off = (*before - after).abs().as_percent();
        assert!(off < 0.1, "{off} points apart");
    }
}

/// Sets of the session, each with how many readings it holds and whether it is as entered.
fn sets(stage: &Stage) -> Vec<(usize, bool)> {
    let walk = &stage.model.desk.session.as_ref().expect("open").state;
    let as_entered = |how: ReadHow| how.condition == ConditionNumber::AS_ENTERED;
    walk.sets.iter().map(|set| (set.readings.len(), as_entered(set.how))).collect()
}

#[test]
fn at_the_verdict_of_the_guide_another_condition_is_a_set_of_its_own_compared_with_the_one_before() {
    let mut stage = at_leg(10);
    stage.press("w");
    assert!(stage.shows("What is different from now on"), "{}", stage.frame(80, 24));
    stage.press("120 pack");
    assert!(stage.shows("= with pack, rider 120 kg; a set of its own"), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<Enter>").last(), pack(Mass::kg(120.0)));
    assert_eq!(stage.step(), Step::SeatIndicator);
    assert!(stage.shows("pack"), "{}", stage.frame(80, 24));
    stage.press("<Enter>26<Enter><Enter>26.5<Enter><Enter>26<Enter>");
    assert_eq!(stage.step(), Step::Decision, "{}", stage.frame(80, 24));
    assert_eq!(sets(&stage), [(3, true), (3, false)]);
    let frame = stage.frame(100, 30);
    assert!(
        frame.contains("Judged with pack. To go back to the details as entered: w, then Enter"),
        "{frame}"
    );
    assert!(frame.contains("With pack:") && frame.contains("points more sag on 450 lb/in."), "{frame}");
    assert_eq!(stage.press("w<Enter>").last(), Deed::Under(None));
    stage.press("t");
    assert_eq!(stage.step(), Step::Decision);
}

#[test]
fn while_a_reading_is_typed_another_condition_is_a_key_away_and_the_figure_stays() {
    let mut stage = at_leg(8);
    stage.press("<F7>wet tyres<Enter>");
    assert!(matches!(stage.last(), Deed::Under(Some(_))), "{}", stage.frame(80, 24));
    assert!(stage.shows("▸ 24.5"), "{}", stage.frame(80, 24));
    // A set without readings takes it over, as it does another way of reading.
    assert_eq!(sets(&stage), [(0, false)]);
    let before = stage.record().clone();
    stage.press("<F7>92<Enter>");
    assert!(stage.shows("its name: 86 pack"), "{}", stage.frame(80, 24));
    assert_eq!(*stage.press("<Esc>").record(), before);
}

#[test]
fn nothing_named_is_refused_where_all_is_as_entered() {
    let mut stage = at_leg(10);
    let before = stage.record().clone();
    assert_eq!(*stage.press("w<Enter>").record(), before);
    assert!(stage.shows("Type the rider's weight with it"), "{}", stage.frame(80, 24));
}

#[test]
fn the_card_says_what_its_sag_was_read_with() {
    let mut stage = at_leg(10);
    stage.press("w120 pack<Enter><Enter>26<Enter><Enter>26.5<Enter>");
    let session = Session::new("2026-11-25-1000-000004", stage.record().clone());
    let card = session.card(UnitSet::Trade);
    assert!(card.contains("Read with") && card.contains("pack, rider 120 kg"), "{card}");
}
