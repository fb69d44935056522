//! A spring that cannot be ridden, a collar past the limit and a stroke nobody knows: read, refused, and never in the way of
//! an old record; and undo and redo, a start anew included.
//!
//! That a coil spring must have more stroke than the shock, preload included, is common practice, no source.

use coilwright::session::{
    Awaiting, Caution, Check, Decision, Deed, Detail, Entry, Hazard, LimitFrom, Record, Refusal, Spring,
    Step, TickAnswer, machine,
};
use coilwright::units::{Length, Turns};

use super::sample::{FITTED, NARROW, SHORT, UNKNOWN_STROKE, arrive, at, does, entered, follow, rack, report};
use super::sessions::{in_trials, moved, refuses, swapping_to, take, why};

/// A bike that came in with this spring.
fn came_in_with(spring: coilwright::session::SpringNumber) -> Record {
    let mut record = entered();
    machine::enter(&mut record, at(0), Detail::SpringOnArrival(Some(spring))).expect("it is on the list");
    record
}

fn keep() -> Deed {
    Deed::Decided(Decision::Keep)
}

#[test]
fn a_spring_that_binds_is_read_before_the_work_and_at_the_verdict_and_never_kept() {
    let mut record = came_in_with(SHORT);
    let (spring_stroke, needed) = (Length::mm(55.0), Length::mm(62.5));
    let state = does(&mut record, Deed::IntakeDone);
    assert_eq!(state.awaiting(), Awaiting::Acknowledgement(Caution::FittedBinds));
    let tick = Deed::Ticked(Check::BikeSupported, TickAnswer::Done);
    does(&mut record, Deed::CautionSeen(Caution::BikeSteady));
    assert_eq!(refuses(&record, tick), Refusal::CautionFirst(Caution::FittedBinds));
    let state = follow(&mut record, |state| state.step == Step::Decision);
    assert_eq!(state.awaiting(), Awaiting::Acknowledgement(Caution::FittedBinds));
    assert_eq!(
        refuses(&record, keep()),
        Refusal::Unfit(Hazard::Binds {
            spring: SHORT,
            spring_stroke,
            // A quarter of a turn of preload, 1.25 mm a turn, comes on top.
            needed: needed + Length::mm(0.3125),
        })
    );
    does(&mut record, Deed::CautionSeen(Caution::FittedBinds));
    let state = does(&mut record, Deed::Decided(Decision::Swap { to: FITTED }));
    assert_eq!((state.step, state.pending_hazards()), (Step::Swap, vec![]));
}

#[test]
fn a_spring_that_is_too_narrow_is_never_kept_either() {
    let mut record = came_in_with(NARROW);
    arrive(&mut record, Step::Decision);
    let (bore, body) = (Length::mm(35.0), Length::mm(36.0));
    assert_eq!(refuses(&record, keep()), Refusal::Unfit(Hazard::TooNarrow { spring: NARROW, bore, body }));
}

#[test]
fn a_collar_found_past_the_limit_is_turned_back_before_anything_is_kept() {
    let mut record = entered();
    follow(&mut record, |state| state.awaiting() == Awaiting::ContactTurns);
    let found = Turns::of(2.0 + 0.25);
    let mut springs = rack();
    springs[0].stroke = Some(Length::mm(70.0));
    does(&mut record, Deed::Entered(Detail::Springs(springs)));
    let state = does(&mut record, Deed::Unloaded { preload_turns: found });
    assert_eq!(state.awaiting(), Awaiting::Acknowledgement(Caution::CollarBeyondLimit));
    arrive(&mut record, Step::Decision);
    let limit = Turns::of(2.0);
    assert_eq!(refuses(&record, keep()), Refusal::Unfit(Hazard::CollarBeyondLimit { at: found, limit }));
    does(&mut record, Deed::Decided(Decision::SetPreload { to: limit }));
    does(&mut record, Deed::PreloadSet { preload_turns: limit });
    arrive(&mut record, Step::Decision);
    assert_eq!(does(&mut record, keep()).step, Step::FinalChecks);
}

#[test]
fn a_trim_that_makes_the_spring_bind_or_passes_the_limit_is_refused_with_the_reason() {
    let mut record = entered();
    let mut springs = rack();
    springs[0].stroke = Some(Length::mm(63.0));
    machine::enter(&mut record, at(0), Detail::Springs(springs)).expect("possible");
    arrive(&mut record, Step::Decision);
    let trim = |to| Deed::Decided(Decision::SetPreload { to: Turns::of(to) });
    // One turn of 1.25 mm on a shock of 62.5 mm needs 63.75 mm.
    let (spring_stroke, needed) = (Length::mm(63.0), Length::mm(63.75));
    assert_eq!(refuses(&record, trim(1.0)), Refusal::WouldBind { spring: FITTED, spring_stroke, needed });
    let (asked, allowed, from) = (Turns::of(2.5), Turns::of(2.0), LimitFrom::Entered);
    assert_eq!(refuses(&record, trim(2.5)), Refusal::BeyondTurnsLimit { asked, allowed, from });
}

#[test]
fn a_stroke_that_proves_too_short_stops_the_final_checks_and_the_way_out_is_the_verdict() {
    let mut record = entered();
    arrive(&mut record, Step::Decision);
    does(&mut record, keep());
    arrive(&mut record, Step::FinalChecks);
    let short = Spring { stroke: Some(Length::mm(60.0)), ..rack()[0] };
    let springs = [short].into_iter().chain(rack().into_iter().skip(1)).collect();
    let state = does(&mut record, Deed::Entered(Detail::Springs(springs)));
    assert_eq!(state.awaiting(), Awaiting::Acknowledgement(Caution::FittedBinds));
    does(&mut record, Deed::CautionSeen(Caution::FittedBinds));
    let tick = Deed::Ticked(Check::CollarHolds, TickAnswer::Done);
    assert!(matches!(refuses(&record, tick), Refusal::Unfit(Hazard::Binds { .. })));
    does(&mut record, Deed::Undone);
    assert_eq!(does(&mut record, Deed::Undone).step, Step::Decision);
}

#[test]
fn the_stroke_of_the_spring_on_the_bike_is_asked_for_once_and_nobody_knows_is_an_answer() {
    let mut record = came_in_with(UNKNOWN_STROKE);
    let asked = Awaiting::Acknowledgement(Caution::FittedStrokeUnknown);
    let state = follow(&mut record, |state| state.awaiting() == asked);
    assert_eq!(state.step, Step::Unload);
    does(&mut record, Deed::CautionSeen(Caution::FittedStrokeUnknown));
    let state = arrive(&mut record, Step::Decision);
    // It stays a warning, and is not asked again.
    assert_eq!(state.hazards(), [Hazard::StrokeUnknown { spring: UNKNOWN_STROKE }]);
    assert_eq!(state.awaiting(), Awaiting::Decision);
    assert_eq!(does(&mut record, keep()).step, Step::FinalChecks);
    // A spring fitted in the session was asked about by the caution that it may bind.
    let mut record = swapping_to(UNKNOWN_STROKE);
    let state = arrive(&mut record, Step::SeatIndicator);
    assert_eq!((state.on_bike.fitted, state.pending_hazards()), (Some(UNKNOWN_STROKE), vec![]));
}

#[test]
fn quick_trials_take_no_reading_with_a_spring_that_binds_before_that_was_read() {
    let mut record = in_trials();
    let short = Spring { stroke: Some(Length::mm(60.0)), ..rack()[0] };
    let springs = [short].into_iter().chain(rack().into_iter().skip(1)).collect();
    does(&mut record, Deed::Entered(Detail::Springs(springs)));
    let trial = Deed::Trial { reading: Length::mm(18.0) };
    assert_eq!(refuses(&record, trial.clone()), Refusal::CautionFirst(Caution::FittedBinds));
    does(&mut record, Deed::CautionSeen(Caution::FittedBinds));
    does(&mut record, trial);
}

#[test]
fn a_record_from_before_these_rules_loads_and_goes_on() {
    let mut record = came_in_with(SHORT);
    let seen = |caution| Deed::CautionSeen(caution);
    let mut deeds = vec![Deed::IntakeDone, seen(Caution::BikeSteady)];
    let tick = |check: &Check| Deed::Ticked(*check, TickAnswer::Done);
    deeds.extend(Step::BenchCheck.checks().iter().map(tick));
    deeds.extend([seen(Caution::LooseCollar), Deed::Unloaded { preload_turns: Turns::ZERO }]);
    deeds.extend([seen(Caution::ShaftScratch), Deed::IndicatorSeated, seen(Caution::SitGently)]);
    deeds.extend([Deed::Read { reading: Length::mm(18.0) }, Deed::EnoughReadings, keep()]);
    deeds.extend([seen(Caution::LooseCollar), seen(Caution::LooseBolts)]);
    deeds.extend(Step::FinalChecks.checks().iter().map(tick));
    record.entries = deeds.into_iter().map(|deed| Entry::new(at(1), deed)).collect();
    let state = machine::replay(&record).expect("it loads");
    // It was kept then; before it is ridden now, the warning is read.
    assert_eq!((state.step, state.caution_now()), (Step::KerbDrop, Some(Caution::FittedBinds)));
    assert_eq!(does(&mut record, Deed::CautionSeen(Caution::FirstRide)).step, Step::TrailCheck);
    assert_eq!(refuses(&record, Deed::from(report())), Refusal::CautionFirst(Caution::FittedBinds));
    does(&mut record, Deed::CautionSeen(Caution::FittedBinds));
    assert_eq!(does(&mut record, Deed::from(report())).step, Step::AfterTrail);
}

#[test]
fn each_caution_is_read_once_a_session_and_that_of_a_loaded_spring_at_every_change() {
    let mut record = swapping_to(super::sample::LONG);
    arrive(&mut record, Step::Decision);
    does(&mut record, Deed::Decided(Decision::Swap { to: FITTED }));
    arrive(&mut record, Step::Decision);
    does(&mut record, keep());
    arrive(&mut record, Step::TrailCheck);
    let times =
        |caution| record.entries.iter().filter(|entry| entry.deed == Deed::CautionSeen(caution)).count();
    assert_eq!(times(Caution::LoadedSpring), 2);
    for caution in [
        Caution::LooseCollar,
        Caution::LooseBolts,
        Caution::FlyingClip,
        Caution::DriveOn,
        Caution::CrushedFingers,
        Caution::FirstRide,
    ] {
        assert_eq!(times(caution), 1, "{caution:?}");
    }
}

#[test]
fn undo_after_a_start_anew_brings_the_readings_back_and_redo_sets_them_aside_again() {
    let mut record = entered();
    take(&mut record, 15.0);
    let before = take(&mut record, 16.0);
    let anew = does(&mut record, Deed::StartedAgain);
    assert_eq!(moved(&anew), [Vec::<f64>::new()]);
    assert_eq!(does(&mut record, Deed::Undone), before);
    assert_eq!(does(&mut record, Deed::Redone), anew);
    assert_eq!(does(&mut record, Deed::Undone), before);
    // A note in between stays, and takes nothing of what can be redone away.
    does(&mut record, Deed::Noted(why()));
    assert!(machine::can_redo(&record));
    does(&mut record, Deed::Redone);
    assert!(
        machine::in_effect(&record).iter().any(|&index| record.entries[index].deed == Deed::Noted(why()))
    );
    assert!(!machine::can_redo(&record));
    assert_eq!(refuses(&record, Deed::Redone), Refusal::NothingToRedo);
    // What is done after an undo ends what could be redone.
    does(&mut record, Deed::Undone);
    does(&mut record, Deed::Undone);
    take(&mut record, 16.5);
    assert!(!machine::can_redo(&record));
    assert_eq!(refuses(&record, Deed::Redone), Refusal::NothingToRedo);
}

#[test]
fn back_in_a_record_from_before_still_passes_over_a_start_anew() {
    let mut record = entered();
    take(&mut record, 15.0);
    does(&mut record, Deed::StartedAgain);
    assert_eq!(does(&mut record, Deed::TakenBack).step, Step::Unload);
}
