//! The kerb drop: how the rear comes back is put right by a click at a time, and nobody has to roll off.
//!
//! That one return without a second bounce is right, and that bouncing on wants slower rebound, is common practice, no
//! source.

use coilwright::assessment::kerb::finding;
use coilwright::mechanics::damper::{Knob, ReboundWay};
use coilwright::phrase::kerb::{next, told};
use coilwright::session::{Caution, Deed, Entry, KerbReturn, Record, Refusal, Sheet, State, Step, machine};

use super::sample::{arrive, at, does, entered, follow, report, ride};

fn returned(record: &mut Record, how: KerbReturn) -> State {
    does(record, Deed::KerbDropped(how))
}

fn at_the_kerb() -> Record {
    let mut record = entered();
    arrive(&mut record, Step::KerbDrop);
    record
}

#[test]
fn one_return_and_no_second_bounce_leads_to_the_trail() {
    let mut record = at_the_kerb();
    let state = returned(&mut record, KerbReturn::Once);
    assert_eq!(state.step, Step::TrailCheck);
    let finding = finding(&state).expect("somebody rolled off");
    assert_eq!((finding.clicks, next(finding), told(finding)), (None, None, None));
}

#[test]
fn bouncing_on_is_a_click_slower_and_rolled_again_until_it_is_right() {
    let mut record = at_the_kerb();
    for clicks in 1..=2 {
        let state = returned(&mut record, KerbReturn::BouncesOn);
        assert_eq!(state.step, Step::KerbDrop);
        assert_eq!(finding(&state).expect("rolled").clicks, Some((clicks, ReboundWay::Slower)));
    }
    let right = returned(&mut record, KerbReturn::Once);
    assert_eq!(right.step, Step::TrailCheck);
    assert_eq!(
        told(finding(&right).expect("rolled")).expect("two clicks"),
        "Kerb drop: rebound 2 clicks slower, towards closed, then one return and no second bounce (common practice)."
    );
}

#[test]
fn a_slow_return_wants_it_faster_and_a_knob_fully_open_says_so() {
    let mut record = at_the_kerb();
    let open = Sheet { rebound: Some(Knob { from_closed: 14, of: Some(14) }), ..Sheet::default() };
    does(&mut record, Deed::AsLeft(Box::new(open)));
    let state = returned(&mut record, KerbReturn::Slow);
    let finding = finding(&state).expect("rolled");
    assert_eq!(finding.clicks, Some((1, ReboundWay::Faster)));
    assert!(next(finding).expect("an answer").contains("out of range"), "{finding:?}");
}

#[test]
fn an_answer_is_undone_and_done_again() {
    let mut record = at_the_kerb();
    let before = machine::replay(&record).expect("it fits");
    let after = returned(&mut record, KerbReturn::BouncesOn);
    assert_eq!(does(&mut record, Deed::Undone), before);
    assert_eq!(does(&mut record, Deed::Redone), after);
    let on = returned(&mut record, KerbReturn::NotDone);
    assert_eq!(does(&mut record, Deed::Undone), after);
    assert_eq!(does(&mut record, Deed::Redone), on);
}

#[test]
fn nobody_has_to_roll_off_but_the_caution_stands_before_it() {
    let mut record = entered();
    follow(&mut record, |state| state.step == Step::KerbDrop);
    let refused = machine::advance(&mut record, at(99), Deed::KerbDropped(KerbReturn::NotDone));
    assert!(matches!(refused, Err(Refusal::CautionFirst(_))), "{refused:?}");
    arrive(&mut record, Step::KerbDrop);
    let state = returned(&mut record, KerbReturn::NotDone);
    assert_eq!((state.step, finding(&state)), (Step::TrailCheck, None));
}

#[test]
fn a_spring_fitted_after_the_ride_is_rolled_off_anew() {
    use coilwright::session::Decision;
    let mut record = at_the_kerb();
    returned(&mut record, KerbReturn::BouncesOn);
    returned(&mut record, KerbReturn::Once);
    arrive(&mut record, Step::AfterTrail);
    does(&mut record, Deed::Decided(Decision::AnotherRound));
    let state = arrive(&mut record, Step::KerbDrop);
    assert_eq!(state.kerb, []);
}

/// The final checks done, and from there on as a record from before the step tells it.
fn before_the_step(later: &[Deed]) -> State {
    let mut record = entered();
    follow(&mut record, |state| state.step == Step::KerbDrop);
    record.entries.extend(later.iter().map(|deed| Entry::new(at(500), deed.clone())));
    machine::replay(&record).expect("a record from before loads")
}

#[test]
fn a_record_from_before_the_step_stands_where_it_stood() {
    let read = Deed::CautionSeen(Caution::FirstRide);
    let ridden = Deed::from(report());
    let because = coilwright::text::FreeText::new("dark");
    let stories = [
        (vec![read.clone()], Step::TrailCheck),
        (vec![read.clone(), Deed::RideTold(ride())], Step::TrailCheck),
        (vec![read.clone(), ridden.clone()], Step::AfterTrail),
        (vec![read.clone(), ridden.clone(), Deed::Undone, ridden.clone()], Step::AfterTrail),
        (vec![Deed::Skipped { because }], Step::AfterTrail),
        (vec![read, ridden, Deed::Closed], Step::Closed),
    ];
    for (later, expected) in stories {
        let state = before_the_step(&later);
        assert_eq!((state.step, state.kerb.len()), (expected, 0), "{later:?}");
    }
}
