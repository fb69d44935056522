//! Another load inside a session: a pack, another rider, softer tyres. Its sets are labelled, never averaged with others, and
//! compared with what was read before.

use coilwright::assessment::assess;
use coilwright::assets;
use coilwright::session::{Condition, ConditionNumber, Deed, Detail, machine};
use coilwright::text::FreeText;
use coilwright::units::{Mass, Share};

use super::Stage;
use super::trials::{ready, three};

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
    assert!(stage.shows("= from now on with: pack, rider 120 kg"), "{}", stage.frame(80, 24));
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
