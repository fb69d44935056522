//! What the walk promises whatever is done, checked after each step of random walks.

use coilwright::session::state::CheckAnswer;
use coilwright::session::{
    Awaiting, Caution, Check, Deed, Detail, Entry, Intake, Plan, Record, Refusal, SpringNumber, State, Step,
    machine,
};
use coilwright::units::Length;
use proptest::prelude::*;

use super::sample::{at, awaited, detail, entered, full_intake, moves};

/// The cautions that must stand before a deed, counted from the deed that led to it, and those at any time before.
fn guards(before: &State, deed: &Deed) -> (Vec<Caution>, Vec<Caution>) {
    let binding = |number: Option<SpringNumber>| {
        let spring = number.and_then(|number| before.setup.as_ref()?.spring(number));
        spring.is_some_and(|spring| spring.stroke.is_none()).then_some(Caution::SpringBinds)
    };
    let mut here = Vec::new();
    let mut ever = Vec::new();
    match (before.step, deed) {
        (_, Deed::Unloaded { .. } | Deed::PreloadSet { .. }) | (Step::FinalChecks, Deed::Skipped { .. }) => {
            ever.push(Caution::LooseCollar);
        }
        (_, Deed::TrialsOpened { .. }) => ever.extend([Caution::BikeSteady, Caution::LooseCollar]),
        (_, Deed::Read { .. } | Deed::Trial { .. }) => {
            ever.extend([Caution::SitGently, Caution::DriveOn, Caution::CrushedFingers]);
        }
        (_, Deed::Swapped { spring, .. }) => {
            here.push(Caution::LoadedSpring);
            here.extend(binding(Some(*spring)));
            ever.extend([Caution::LooseBolts, Caution::FlyingClip]);
        }
        (Step::Swap, Deed::Ticked(check, _)) => {
            here.push(Caution::LoadedSpring);
            ever.push(Caution::FlyingClip);
            ever.extend((*check == Check::BoltsToFigure).then_some(Caution::LooseBolts));
            if let (Check::SpringExchanged, Plan::Spring(number)) = (check, before.plan) {
                here.extend(binding(Some(number)));
            }
        }
        (Step::Swap, Deed::Skipped { .. }) => here.push(Caution::LoadedSpring),
        (Step::FinalChecks, Deed::Ticked(check, _)) => {
            ever.push(Caution::LooseCollar);
            ever.extend((*check == Check::BoltsChecked).then_some(Caution::LooseBolts));
        }
        // What is told of a ride after the close is told of a ride that is over.
        (Step::Closed, Deed::TrailRidden { .. }) => {}
        (_, Deed::TrailRidden { .. }) => ever.push(Caution::FirstRide),
        (_, Deed::KerbDropped(_)) => ever.extend([Caution::KerbDrop, Caution::FirstRide]),
        _ => {}
    }
    (here, ever)
}

/// Whether the last entry of the record has every caution that guards it in effect before it.
fn is_guarded(before: &State, record: &Record) -> Result<(), TestCaseError> {
    let deeds: Vec<_> = machine::in_effect(record).iter().map(|&index| &record.entries[index].deed).collect();
    let Some((last, earlier)) = deeds.split_last() else { return Ok(()) };
    let (here, ever) = guards(before, last);
    let on_a_list = !before.step.checks().is_empty();
    let same_visit = |deed: &&Deed| {
        matches!(deed, Deed::CautionSeen(_) | Deed::Noted(_) | Deed::Entered(_) | Deed::Voided { .. })
            || matches!(deed, Deed::AsFound(_) | Deed::AsLeft(_) | Deed::RideTold(_))
            || (on_a_list && matches!(deed, Deed::Ticked(..) | Deed::Skipped { .. }))
    };
    let visit: Vec<_> = earlier.iter().rev().copied().take_while(same_visit).collect();
    for caution in here {
        prop_assert!(visit.contains(&&Deed::CautionSeen(caution)), "{last:?} without {caution:?}");
    }
    for caution in ever {
        prop_assert!(earlier.contains(&&Deed::CautionSeen(caution)), "{last:?} without {caution:?}");
    }
    Ok(())
}

/// Whether something that is awaited can be done; where a later correction forbids it, going back can.
fn goes_on(state: &State, record: &Record) -> Result<(), TestCaseError> {
    if state.awaiting() == Awaiting::Nothing {
        prop_assert_eq!(state.step, Step::Closed);
        return Ok(());
    }
    let accepts = |deed: Deed| machine::advance(&mut record.clone(), at(500), deed).map(drop);
    let tried: Vec<_> = (0..4).filter_map(|choice| awaited(state, choice)).map(accepts).collect();
    let forbidden_since = |refusal: &Refusal| {
        matches!(
            refusal,
            Refusal::WouldBind { .. }
                | Refusal::BeyondTurnsLimit { .. }
                | Refusal::TooNarrow { .. }
                | Refusal::AlreadyFitted(_)
                | Refusal::Unfit(_)
        )
    };
    let only_forbidden = tried.iter().any(|tried| tried.as_ref().is_err_and(forbidden_since));
    prop_assert!(
        tried.iter().any(Result::is_ok) || (only_forbidden && accepts(Deed::Undone).is_ok()),
        "{:?} at {:?}: {tried:?}",
        state.awaiting(),
        state.step
    );
    Ok(())
}

/// Whether going back leads to the state before the last deed.
fn back_returns(before: &State, deed: &Deed, record: &Record) -> Result<(), TestCaseError> {
    if matches!(
        deed,
        Deed::TakenBack
            | Deed::Undone
            | Deed::Redone
            | Deed::CautionSeen(_)
            | Deed::Noted(_)
            | Deed::IntakeDone
    ) {
        return Ok(());
    }
    // From a start anew only undoing goes back; `Back` passes over it, as it always did.
    let ways = [Deed::Undone, Deed::TakenBack];
    for way in ways.into_iter().take(if *deed == Deed::StartedAgain { 1 } else { 2 }) {
        let mut record = record.clone();
        let done = machine::replay(&record).expect("it fits");
        let returned = machine::advance(&mut record, at(500), way.clone());
        let returned =
            returned.map_err(|refusal| TestCaseError::fail(format!("{way:?} from {deed:?}: {refusal:?}")))?;
        prop_assert_eq!(&returned, before, "{:?} from {:?}", way, deed);
        if way == Deed::Undone {
            let again = machine::advance(&mut record, at(501), Deed::Redone);
            prop_assert_eq!(again, Ok(done), "redo of {:?}", deed);
        }
    }
    Ok(())
}

/// What holds of any state.
fn is_sound(state: &State) -> Result<(), TestCaseError> {
    if let Some(number) = state.on_bike.fitted {
        prop_assert!(
            state.entered.springs.iter().any(|spring| spring.number == number),
            "an unheard-of spring is fitted"
        );
    }
    let numbers: Vec<_> =
        state.sets.iter().flat_map(|set| &set.readings).map(|reading| reading.number).collect();
    prop_assert!(numbers.windows(2).all(|pair| pair[0] < pair[1]), "numbers of readings: {numbers:?}");
    if matches!(state.step, Step::SeatIndicator | Step::SeatedReading | Step::SetPreload) {
        prop_assert!(state.present_set().is_some(), "no set at {:?}", state.step);
    }
    let skipped_guard = state
        .ticks
        .iter()
        .any(|(check, ticked)| check.guards_from_harm() && matches!(ticked, CheckAnswer::Skipped(_)));
    prop_assert!(!skipped_guard, "a check that guards from harm was passed over: {:?}", state.ticks);
    Ok(())
}

proptest! {
    #![proptest_config(crate::soak::cases(400))]

    #[test]
    fn a_random_walk_keeps_every_promise(moves in moves()) {
        let mut record = entered();
        let mut state = machine::replay(&record).expect("nothing was done");
        for (minute, step) in moves.iter().enumerate() {
            let Some(deed) = step.deed(&state) else { continue };
            let untouched = record.clone();
            match machine::advance(&mut record, at(minute), deed.clone()) {
                Err(_) => prop_assert_eq!(&record, &untouched),
                Ok(next) => {
                    prop_assert_eq!(record.entries.len(), untouched.entries.len() + 1);
                    prop_assert_eq!(machine::replay(&record), Ok(next.clone()));
                    if !matches!(deed, Deed::TakenBack | Deed::StartedAgain | Deed::Undone | Deed::Redone) {
                        is_guarded(&state, &record)?;
                    }
                    back_returns(&state, &deed, &record)?;
                    if deed == Deed::StartedAgain {
                        prop_assert!(next.ticks.is_empty() && next.sets.len() == state.sets.len());
                    }
                    state = next;
                }
            }
            is_sound(&state)?;
            goes_on(&state, &record)?;
        }
    }

    #[test]
    fn no_list_of_entries_makes_the_replay_panic(deeds in proptest::collection::vec(super::sample::deed(), 0..40)) {
        let mut record = entered();
        record.entries =
            deeds.into_iter().map(|deed| Entry::new(at(0), deed)).collect();
        if let Err(misfit) = machine::replay(&record) {
            prop_assert!((1..=record.entries.len()).contains(&misfit.entry));
            record.entries.truncate(misfit.entry - 1);
            prop_assert!(machine::replay(&record).is_ok());
        }
    }
}

/// The intake that comes of telling every detail of another one again.
fn told_again(intake: &Intake) -> Intake {
    let mut again = Intake { origin: intake.origin, ..Intake::default() };
    for detail in intake.details() {
        again.enter(detail).expect("it was possible before");
    }
    again
}

#[test]
fn every_detail_told_again_makes_the_same_intake() {
    let mut intake = full_intake();
    assert_eq!(told_again(&intake), intake);
    for detail in [
        Detail::Wheelbase(Some(Length::mm(1_230.0))),
        Detail::RearCentre(Some(Length::mm(440.0))),
        Detail::BodyDiameter(Some(Length::mm(36.0))),
    ] {
        intake.enter(detail).expect("possible");
    }
    assert_eq!(told_again(&intake), intake);
}

proptest! {
    #[test]
    fn whatever_was_told_can_be_told_again(entered in proptest::collection::vec(detail(), 0..12)) {
        let mut intake = Intake::default();
        for detail in entered {
            let _ = intake.enter(detail);
        }
        prop_assert_eq!(told_again(&intake), intake);
    }
}
