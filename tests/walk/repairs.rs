//! Deeds that go against the stream: taking back, starting anew, voiding, correcting, and what stays of each.

use coilwright::session::{
    Awaiting, Caution, Check, Decision, Deed, Detail, ReadingNumber, Refusal, Spring, Step, TickAnswer,
    machine,
};
use coilwright::text::FreeText;
use coilwright::units::{Length, Mass, Turns};

use super::sample::{FITTED, LONG, UNKNOWN_STROKE, arrive, at, does, entered, follow, rack, report};
use super::sessions::{moved, refuses, swapping_to, take, whole_setup, why};

#[test]
fn going_back_through_a_whole_setup_ends_at_the_start_of_the_work() {
    let mut record = whole_setup();
    let mut steps = 0;
    let last = loop {
        match machine::advance(&mut record, at(200), Deed::TakenBack) {
            Ok(state) => steps += usize::from(state.step != Step::Intake),
            Err(refusal) => break refusal,
        }
    };
    assert_eq!(last, Refusal::NothingToUndo);
    let state = machine::replay(&record).expect("it fits");
    assert_eq!((state.step, state.on_bike.fitted, state.sets.len()), (Step::BenchCheck, Some(FITTED), 0));
    assert!(state.ticks.is_empty() && state.trail.is_empty());
    assert_eq!(record.entries.len(), whole_setup().entries.len() + steps);
}

#[test]
fn a_reading_taken_back_leaves_its_number_unused() {
    let mut record = entered();
    take(&mut record, 15.0);
    does(&mut record, Deed::TakenBack);
    let state = take(&mut record, 16.0);
    assert_eq!(state.sets[0].readings[0].number, ReadingNumber(2));
    assert_eq!(moved(&state), [[16.0]]);
}

#[test]
fn a_remark_stays_when_the_deed_before_it_is_taken_back() {
    let mut record = entered();
    take(&mut record, 15.0);
    does(&mut record, Deed::Noted(why()));
    does(&mut record, Deed::TakenBack);
    let kept = machine::in_effect(&record);
    assert!(kept.iter().any(|&index| record.entries[index].deed == Deed::Noted(why())));
}

#[test]
fn a_caution_seen_after_a_deed_goes_with_it_when_it_is_taken_back() {
    let mut record = swapping_to(LONG);
    does(&mut record, Deed::CautionSeen(Caution::LoadedSpring));
    does(&mut record, Deed::CautionSeen(Caution::LooseBolts));
    let state = does(&mut record, Deed::TakenBack);
    assert_eq!((state.step, state.cautions.this_visit.len()), (Step::Decision, 0));
    let refit = Deed::Swapped { spring: LONG, preload_turns: Turns::ZERO };
    assert_eq!(refuses(&record, refit), Refusal::CautionFirst(Caution::LoadedSpring));
}

#[test]
fn starting_anew_takes_the_ticks_of_the_present_list_and_nothing_else() {
    let mut record = swapping_to(LONG);
    follow(&mut record, |state| state.next_check() == Some(Check::ClipSeated));
    let state = does(&mut record, Deed::StartedAgain);
    assert_eq!((state.step, state.ticks.len(), state.on_bike.fitted), (Step::Swap, 0, Some(FITTED)));
    assert_eq!(state.sets.len(), 1);
    assert_eq!(state.awaiting(), Awaiting::Acknowledgement(Caution::LoadedSpring));
    assert_eq!(refuses(&record, Deed::StartedAgain), Refusal::NothingToUndo);
}

#[test]
fn starting_anew_takes_the_readings_of_the_present_set_and_keeps_the_corrections() {
    let mut record = entered();
    take(&mut record, 15.0);
    does(&mut record, Deed::Entered(Detail::Rider(Mass::kg(90.0))));
    take(&mut record, 16.0);
    let state = does(&mut record, Deed::StartedAgain);
    assert_eq!((state.step, moved(&state)), (Step::SeatIndicator, vec![vec![]]));
    assert_eq!(state.entered.rider, Some(Mass::kg(90.0)));
}

#[test]
fn starting_anew_leaves_a_void_in_an_earlier_set() {
    let mut record = entered();
    take(&mut record, 15.0);
    take(&mut record, 25.0);
    does(&mut record, Deed::Decided(Decision::SetPreload { to: Turns::of(1.0) }));
    does(&mut record, Deed::PreloadSet { preload_turns: Turns::of(1.0) });
    take(&mut record, 14.0);
    does(&mut record, Deed::Voided { reading: ReadingNumber(2), because: why() });
    let state = does(&mut record, Deed::StartedAgain);
    assert_eq!(moved(&state), [vec![15.0], vec![]]);
}

#[test]
fn a_void_reading_stays_in_the_set_and_does_not_count() {
    let mut record = entered();
    take(&mut record, 15.0);
    take(&mut record, 25.0);
    let void = |reading| Deed::Voided { reading: ReadingNumber(reading), because: why() };
    let state = does(&mut record, void(2));
    // One short of what was wanted, the set is open again.
    assert_eq!((state.step, moved(&state)), (Step::SeatIndicator, vec![vec![15.0]]));
    assert_eq!(state.sets[0].readings[1].void, Some(why()));
    assert_eq!(refuses(&record, void(2)), Refusal::AlreadyVoid(ReadingNumber(2)));
    assert_eq!(refuses(&record, void(3)), Refusal::NoSuchReading(ReadingNumber(3)));
    let silent = Deed::Voided { reading: ReadingNumber(1), because: FreeText::default() };
    assert_eq!(refuses(&record, silent), Refusal::ReasonNeeded);
    // With the last reading void there is nothing to judge by.
    assert_eq!(does(&mut record, void(1)).step, Step::SeatIndicator);
    assert_eq!(refuses(&record, Deed::EnoughReadings), Refusal::NoReadingYet);
}

#[test]
fn a_void_taken_back_counts_again() {
    let mut record = entered();
    take(&mut record, 15.0);
    take(&mut record, 25.0);
    does(&mut record, Deed::Voided { reading: ReadingNumber(1), because: why() });
    assert_eq!(moved(&does(&mut record, Deed::TakenBack)), [[15.0, 25.0]]);
}

#[test]
fn a_correction_is_an_entry_and_leaves_the_intake_as_it_was_told() {
    let mut record = entered();
    arrive(&mut record, Step::Decision);
    let state = machine::enter(&mut record, at(60), Detail::Rider(Mass::kg(90.0))).expect("possible");
    assert_eq!(record.intake.rider, Some(Mass::kg(82.0)));
    assert_eq!(state.setup.map(|setup| setup.rider), Some(Mass::kg(90.0)));
    assert_eq!(
        record.entries.last().map(|entry| &entry.deed),
        Some(&Deed::Entered(Detail::Rider(Mass::kg(90.0))))
    );
}

#[test]
fn a_correction_that_contradicts_the_readings_is_refused() {
    let mut record = entered();
    take(&mut record, 55.0);
    let short = Deed::Entered(Detail::Stroke(Length::mm(50.0)));
    assert_eq!(
        refuses(&record, short),
        Refusal::BeyondStroke { reading: Length::mm(55.0), stroke: Length::mm(50.0) }
    );
    let without_the_fitted = Deed::Entered(Detail::Springs(rack().split_off(1)));
    assert!(matches!(
        refuses(&record, without_the_fitted),
        Refusal::NoSuchSpring(FITTED) | Refusal::SpringInUse(FITTED)
    ));
}

#[test]
fn a_spring_about_to_be_fitted_cannot_leave_the_rack() {
    let mut record = swapping_to(LONG);
    arrive(&mut record, Step::Swap);
    let two_springs = Deed::Entered(Detail::Springs(rack().into_iter().take(2).collect()));
    assert_eq!(refuses(&record, two_springs), Refusal::SpringInUse(LONG));
}

#[test]
fn a_spring_found_too_short_on_the_way_is_not_fitted() {
    let mut record = swapping_to(UNKNOWN_STROKE);
    follow(&mut record, |state| state.awaiting() == Awaiting::Tick(Check::SpringExchanged));
    let mut corrected = rack();
    corrected[1] = Spring { stroke: Some(Length::mm(55.0)), ..corrected[1] };
    does(&mut record, Deed::Entered(Detail::Springs(corrected)));
    let exchanged = Deed::Ticked(Check::SpringExchanged, TickAnswer::Done);
    assert!(matches!(refuses(&record, exchanged), Refusal::WouldBind { spring: UNKNOWN_STROKE, .. }));
}

#[test]
fn the_spring_named_by_mistake_at_the_intake_can_be_put_right_until_one_is_changed() {
    let mut record = entered();
    take(&mut record, 15.0);
    let state = does(&mut record, Deed::Entered(Detail::SpringOnArrival(Some(LONG))));
    assert_eq!((state.on_bike.fitted, state.sets[0].spring), (Some(LONG), LONG));
    assert_eq!(state.present_set().map(|set| set.readings.len()), Some(1));
    assert_eq!(refuses(&record, Deed::Entered(Detail::SpringOnArrival(None))), Refusal::SpringInUse(LONG));

    let mut record = whole_setup();
    does(&mut record, Deed::TakenBack);
    let state = does(&mut record, Deed::Entered(Detail::SpringOnArrival(Some(LONG))));
    assert_eq!(state.on_bike.fitted, Some(UNKNOWN_STROKE));
    assert_eq!(state.sets.iter().map(|set| set.spring).collect::<Vec<_>>(), [LONG, UNKNOWN_STROKE]);
}

#[test]
fn a_closed_session_takes_notes_the_customers_name_and_a_late_trail_and_nothing_else_until_closing_is_undone()
{
    let mut record = whole_setup();
    does(&mut record, Deed::Noted(why()));
    let name = FreeText::new("another invented workshop");
    does(&mut record, Deed::Entered(Detail::Customer(name.clone())));
    let state = does(&mut record, Deed::from(report()));
    assert_eq!((state.step, state.trail.len(), state.entered.customer), (Step::Closed, 2, name));
    for deed in [Deed::Entered(Detail::Rider(Mass::kg(90.0))), Deed::IndicatorSeated, Deed::Closed] {
        assert_eq!(refuses(&record, deed), Refusal::SessionClosed);
    }
    assert_eq!(does(&mut record, Deed::Undone).trail.len(), 1);
    does(&mut record, Deed::Undone);
    assert_eq!(does(&mut record, Deed::Undone).step, Step::AfterTrail);
    assert_eq!(does(&mut record, Deed::Decided(Decision::AnotherRound)).step, Step::Decision);
}
