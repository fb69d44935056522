//! Whole sessions, cautions, checks and quick trials. Not here: what goes against the stream (`repairs`).

use coilwright::session::state::{BenchCheckState, CheckAnswer};
use coilwright::session::{
    Awaiting, Caution, Check, Decision, Deed, Detail, LimitFrom, Record, Refusal, SpringNumber, State, Step,
    TickAnswer, machine,
};
use coilwright::text::FreeText;
use coilwright::units::{Estimate, Length, Quantity, SpringRate, Turns};

use super::sample::{
    FITTED, LONG, NARROW, NONE_SUCH, SHORT, UNKNOWN_STROKE, arrive, at, awaited, does, entered, follow, rack,
    report,
};

pub(super) fn refuses(record: &Record, deed: Deed) -> Refusal {
    machine::advance(&mut record.clone(), at(99), deed).expect_err("it is refused")
}

pub(super) fn why() -> FreeText {
    FreeText::new("the rider bounced")
}

fn read(moved: f64) -> Deed {
    Deed::Read { reading: Length::mm(moved) }
}

fn trial(moved: f64) -> Deed {
    Deed::Trial { reading: Length::mm(moved) }
}

/// Takes one reading step by step.
pub(super) fn take(record: &mut Record, moved: f64) -> State {
    arrive(record, Step::SeatedReading);
    does(record, read(moved))
}

pub(super) fn moved(state: &State) -> Vec<Vec<f64>> {
    state.sets.iter().map(|set| set.counting().map(|reading| reading.distance.as_mm()).collect()).collect()
}

/// What is read before the first trial.
pub(crate) const BEFORE_A_TRIAL: [Caution; 6] = [
    Caution::BikeSteady,
    Caution::LooseCollar,
    Caution::ShaftScratch,
    Caution::CrushedFingers,
    Caution::SitGently,
    Caution::DriveOn,
];

/// A record in quick trials with the fitted spring.
pub(crate) fn in_trials() -> Record {
    let mut record = entered();
    does(&mut record, Deed::IntakeDone);
    for caution in BEFORE_A_TRIAL {
        does(&mut record, Deed::CautionSeen(caution));
    }
    does(&mut record, Deed::TrialsOpened { preload_turns: Turns::of(0.5) });
    record
}

/// A record whose mechanic has just decided for a spring.
pub(super) fn swapping_to(spring: SpringNumber) -> Record {
    let mut record = entered();
    arrive(&mut record, Step::Decision);
    does(&mut record, Deed::Decided(Decision::Swap { to: spring }));
    record
}

/// The final checks done; the record goes on from there as those from before the kerb drop do.
fn arrive_before_the_kerb(record: &mut Record) {
    follow(record, |state| state.step == Step::KerbDrop);
}

/// The session of `records/format-1.ron`: too soft a spring, one swap, the band reached, the trail ridden, closed.
pub(super) fn whole_setup() -> Record {
    let mut record = entered();
    take(&mut record, 19.5);
    take(&mut record, 20.0);
    does(&mut record, Deed::Decided(Decision::Swap { to: UNKNOWN_STROKE }));
    follow(&mut record, |state| state.awaiting() == Awaiting::Tick(Check::ClipOrKnobOff));
    does(&mut record, Deed::Ticked(Check::ClipOrKnobOff, TickAnswer::HasNone));
    take(&mut record, 17.5);
    take(&mut record, 18.0);
    does(&mut record, Deed::Decided(Decision::Keep));
    arrive_before_the_kerb(&mut record);
    does(&mut record, Deed::CautionSeen(Caution::FirstRide));
    does(&mut record, Deed::from(report()));
    does(&mut record, Deed::Closed);
    record
}

#[test]
fn a_whole_setup_with_one_swap_ends_closed_with_two_sets() {
    let state = machine::replay(&whole_setup()).expect("it fits");
    assert_eq!(state.step, Step::Closed);
    assert_eq!(state.awaiting(), Awaiting::Nothing);
    assert_eq!(moved(&state), [[19.5, 20.0], [17.5, 18.0]]);
    let springs: Vec<_> = state.sets.iter().map(|set| set.spring).collect();
    assert_eq!(springs, [FITTED, UNKNOWN_STROKE]);
    assert_eq!((state.on_bike.fitted, state.on_bike.swaps), (Some(UNKNOWN_STROKE), 1));
    assert_eq!(state.on_bike.bench_check, BenchCheckState::Walked);
    assert_eq!(state.trail, [report()]);
}

#[test]
fn the_four_cautions_stand_in_a_setup_with_a_swap() {
    let record = whole_setup();
    let place = |deed: &Deed| record.entries.iter().rposition(|entry| entry.deed == *deed);
    let before = |caution, deed: &Deed| {
        let seen = place(&Deed::CautionSeen(caution)).expect("it was seen");
        assert!(seen < place(deed).expect("it was done"), "{caution:?} before {deed:?}");
    };
    let ticked = |check| Deed::Ticked(check, TickAnswer::Done);
    before(Caution::LoadedSpring, &ticked(Check::BikeHung));
    before(Caution::SpringBinds, &ticked(Check::SpringExchanged));
    before(Caution::LooseCollar, &ticked(Check::CollarHolds));
    before(Caution::LooseBolts, &ticked(Check::BoltsChecked));
}

#[test]
fn a_shock_without_a_spring_goes_from_the_bench_to_choosing_one() {
    let mut record = entered();
    machine::enter(&mut record, at(0), Detail::SpringOnArrival(None)).expect("there is none");
    let state = follow(&mut record, |state| state.step == Step::Decision);
    assert_eq!(state.awaiting(), Awaiting::FirstSpring);
    assert_eq!(refuses(&record, Deed::Decided(Decision::Keep)), Refusal::NoReadingYet);
    does(&mut record, Deed::Decided(Decision::Swap { to: LONG }));
    let state = arrive(&mut record, Step::SeatIndicator);
    assert_eq!((state.on_bike.fitted, state.on_bike.swaps), (Some(LONG), 0));
}

#[test]
fn an_incomplete_intake_says_what_is_missing() {
    let mut record = entered();
    record.intake.stroke = None;
    record.intake.springs.clear();
    record.intake.spring_on_arrival = None;
    let missing = vec![coilwright::session::Fact::Stroke, coilwright::session::Fact::Springs];
    assert_eq!(refuses(&record, Deed::IntakeDone), Refusal::IntakeIncomplete(missing));
}

#[test]
fn nothing_is_done_before_its_caution_is_acknowledged() {
    let mut record = entered();
    does(&mut record, Deed::IntakeDone);
    let tick = Deed::Ticked(Check::BikeSupported, TickAnswer::Done);
    assert_eq!(refuses(&record, tick), Refusal::CautionFirst(Caution::BikeSteady));
    follow(&mut record, |state| state.step == Step::Unload);
    let unloaded = Deed::Unloaded { preload_turns: Turns::ZERO };
    assert_eq!(refuses(&record, unloaded), Refusal::CautionFirst(Caution::LooseCollar));
}

#[test]
fn a_spring_of_unknown_stroke_is_exchanged_only_after_the_caution_that_it_may_bind() {
    let mut record = swapping_to(UNKNOWN_STROKE);
    // It is asked for before anything is undone, and insisted on before the spring is exchanged.
    let state = follow(&mut record, |state| state.caution_now() == Some(Caution::SpringBinds));
    assert_eq!(state.next_check(), Some(Check::BikeHung));
    for check in [Check::BikeHung, Check::CollarFullyOff, Check::ShockBoltsOut, Check::ClipOrKnobOff] {
        does(&mut record, Deed::Ticked(check, TickAnswer::Done));
    }
    let exchanged = Deed::Ticked(Check::SpringExchanged, TickAnswer::Done);
    assert_eq!(refuses(&record, exchanged), Refusal::CautionFirst(Caution::SpringBinds));
    let mut record = swapping_to(LONG);
    let state = follow(&mut record, |state| state.next_check() == Some(Check::SpringExchanged));
    assert_eq!(state.awaiting(), Awaiting::Tick(Check::SpringExchanged));
}

#[test]
fn a_spring_that_cannot_go_on_is_refused() {
    let mut record = entered();
    arrive(&mut record, Step::Decision);
    let swap = |to| refuses(&record, Deed::Decided(Decision::Swap { to }));
    assert_eq!(swap(FITTED), Refusal::AlreadyFitted(FITTED));
    assert_eq!(swap(NONE_SUCH), Refusal::NoSuchSpring(NONE_SUCH));
    assert_eq!(swap(NARROW), Refusal::TooNarrow { spring: NARROW });
    let (spring_stroke, needed) = (Length::mm(55.0), Length::mm(62.5));
    assert_eq!(swap(SHORT), Refusal::WouldBind { spring: SHORT, spring_stroke, needed });
}

#[test]
fn checks_are_ticked_in_order_and_only_a_part_that_may_be_absent_is_absent() {
    let mut record = swapping_to(LONG);
    arrive(&mut record, Step::Swap);
    let tick = |check, how| Deed::Ticked(check, how);
    let ahead = refuses(&record, tick(Check::ShockBoltsOut, TickAnswer::Done));
    assert_eq!(ahead, Refusal::CheckFirst(Check::BikeHung));
    let absent = refuses(&record, tick(Check::BikeHung, TickAnswer::HasNone));
    assert_eq!(absent, Refusal::EveryBikeHasIt(Check::BikeHung));
    let foreign = refuses(&record, tick(Check::CollarHolds, TickAnswer::Done));
    assert_eq!(foreign, Refusal::NotAtThisStep { step: Step::Swap });
}

#[test]
fn what_guards_from_harm_is_never_skipped_and_the_rest_only_with_a_reason() {
    let mut record = swapping_to(LONG);
    let mut state = arrive(&mut record, Step::Swap);
    while let (Step::Swap, Some(check)) = (state.step, state.next_check()) {
        if state.pending_caution().is_none() && check.guards_from_harm() {
            let skip = Deed::Skipped { because: why() };
            assert_eq!(refuses(&record, skip), Refusal::CannotBeSkipped(check));
        }
        let next = awaited(&state, 0).expect("the list goes on");
        state = does(&mut record, next);
    }
    let mut record = entered();
    arrive(&mut record, Step::BenchCheck);
    does(&mut record, Deed::Ticked(Check::BikeSupported, TickAnswer::Done));
    assert_eq!(refuses(&record, Deed::Skipped { because: FreeText::default() }), Refusal::ReasonNeeded);
    let state = does(&mut record, Deed::Skipped { because: why() });
    assert_eq!(state.ticks[1], (Check::AdjustersOpen, CheckAnswer::Skipped(why())));
}

#[test]
fn a_further_reading_is_asked_for_one_at_a_time() {
    let mut record = entered();
    arrive(&mut record, Step::Decision);
    does(&mut record, Deed::Decided(Decision::ReadAgain));
    let state = take(&mut record, 16.0);
    assert_eq!((state.step, state.sets[0].readings.len()), (Step::Decision, 3));
}

#[test]
fn a_reading_outside_the_stroke_is_refused() {
    let mut record = entered();
    arrive(&mut record, Step::SeatedReading);
    let beyond = Refusal::BeyondStroke { reading: Length::mm(62.6), stroke: Length::mm(62.5) };
    assert_eq!(refuses(&record, read(62.6)), beyond);
    assert!(matches!(refuses(&record, read(0.0)), Refusal::Outside { .. }));
    assert_eq!(does(&mut record, read(62.5)).step, Step::SeatIndicator);
}

#[test]
fn quick_trials_take_reading_after_reading_and_change_the_spring_in_one_go() {
    let mut record = in_trials();
    for figure in [19.0, 19.5, 20.0] {
        does(&mut record, trial(figure));
    }
    let refit = Deed::Swapped { spring: UNKNOWN_STROKE, preload_turns: Turns::of(0.25) };
    for caution in [Caution::LoadedSpring, Caution::LooseBolts, Caution::SpringBinds, Caution::FlyingClip] {
        assert_eq!(refuses(&record, refit.clone()), Refusal::CautionFirst(caution));
        does(&mut record, Deed::CautionSeen(caution));
    }
    does(&mut record, refit);
    let state = does(&mut record, trial(17.0));
    assert_eq!(moved(&state), [vec![19.0, 19.5, 20.0], vec![17.0]]);
    assert_eq!((state.on_bike.fitted, state.on_bike.swaps), (Some(UNKNOWN_STROKE), 1));
    assert_eq!(state.on_bike.bench_check, BenchCheckState::LeftToRider);
    let again = Deed::Swapped { spring: FITTED, preload_turns: Turns::ZERO };
    assert_eq!(refuses(&record, again), Refusal::CautionFirst(Caution::LoadedSpring));
}

#[test]
fn a_collar_turned_in_quick_trials_begins_a_new_set() {
    let mut record = in_trials();
    does(&mut record, trial(19.0));
    let state = does(&mut record, Deed::PreloadSet { preload_turns: Turns::of(1.5) });
    assert_eq!(state.sets[1].preload_turns, Turns::of(1.5));
    let beyond = Refusal::BeyondTurnsLimit {
        asked: Turns::of(2.5),
        allowed: Turns::of(2.0),
        from: LimitFrom::Entered,
    };
    assert_eq!(refuses(&record, Deed::PreloadSet { preload_turns: Turns::of(2.5) }), beyond);
}

#[test]
fn a_spring_refitted_with_the_collar_beyond_the_turns_allowed_is_refused() {
    let mut record = in_trials();
    for caution in [Caution::LoadedSpring, Caution::LooseBolts, Caution::SpringBinds] {
        does(&mut record, Deed::CautionSeen(caution));
    }
    let refit = Deed::Swapped { spring: UNKNOWN_STROKE, preload_turns: Turns::of(2.5) };
    let beyond = Refusal::BeyondTurnsLimit {
        asked: Turns::of(2.5),
        allowed: Turns::of(2.0),
        from: LimitFrom::Entered,
    };
    assert_eq!(refuses(&record, refit), beyond);
}

#[test]
fn an_uncertainty_below_nothing_or_beyond_its_figure_is_refused() {
    for uncertainty in [-1.0, 400.5] {
        let mut springs = rack();
        springs[2].measured =
            Some(Estimate::new(SpringRate::lb_per_in(400.0), SpringRate::lb_per_in(uncertainty)));
        let refusal = machine::enter(&mut entered(), at(0), Detail::Springs(springs)).expect_err("refused");
        let entered = Quantity::Rate(SpringRate::lb_per_in(uncertainty));
        assert!(
            matches!(refusal, Refusal::Outside { entered: outside, .. } if outside == entered),
            "{refusal:?}"
        );
    }
}

#[test]
fn a_full_record_takes_no_more_and_an_overfull_one_does_not_fit() {
    let mut record = entered();
    let entry = coilwright::session::Entry::new(at(0), Deed::Noted(why()));
    record.entries = vec![entry.clone(); machine::MOST_ENTRIES];
    assert_eq!(refuses(&record, Deed::Noted(why())), Refusal::RecordFull);
    record.entries.push(entry);
    let misfit = machine::replay(&record).expect_err("one too many");
    assert_eq!((misfit.entry, misfit.refusal), (machine::MOST_ENTRIES + 1, Refusal::RecordFull));
}
