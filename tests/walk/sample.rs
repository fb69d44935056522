//! An invented bike, rider and rack, and random deeds on them.

use chrono::{DateTime, TimeDelta};
use coilwright::mechanics::damper::Knob;
use coilwright::session::{
    Awaiting, Bottoming, Caution, Check, Decision, Deed, Detail, Earlier, Feel, Intake, KerbReturn,
    LeverageKnowledge, LeveragePair, ReadingNumber, Record, RideHeight, RideTold, Sheet, Spring,
    SpringNumber, Stamp, State, Step, Symptom, Target, TickAnswer, TrailReport, WheelLoad, machine,
};
use coilwright::text::FreeText;
use coilwright::units::{Angle, Estimate, Length, LeverageRatio, Mass, Share, SpringRate, Turns};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

/// A moment of the invented day.
pub(crate) fn at(minute: usize) -> Stamp {
    let opened = DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").expect("a time");
    opened + TimeDelta::minutes(i64::try_from(minute).expect("a short session"))
}

/// The spring that is on the bike as it comes in: long enough, and its stroke is known.
pub(crate) const FITTED: SpringNumber = SpringNumber(1);
/// A spring of which only the label is known, so that nobody can tell whether it binds.
pub(crate) const UNKNOWN_STROKE: SpringNumber = SpringNumber(2);
/// Another long enough spring.
pub(crate) const LONG: SpringNumber = SpringNumber(3);
/// A spring too short for the shock.
pub(crate) const SHORT: SpringNumber = SpringNumber(4);
/// A spring too narrow for the shock.
pub(crate) const NARROW: SpringNumber = SpringNumber(5);
/// No spring of the rack.
pub(crate) const NONE_SUCH: SpringNumber = SpringNumber(9);

/// The rack of the invented workshop.
pub(crate) fn rack() -> Vec<Spring> {
    let spring = |number, label| Spring::labelled(number, SpringRate::lb_per_in(label));
    let long = Some(Length::mm(65.0));
    vec![
        Spring { stroke: long, ..spring(FITTED, 450.0) },
        spring(UNKNOWN_STROKE, 500.0),
        Spring {
            stroke: long,
            measured: Some(Estimate::new(SpringRate::n_per_mm(71.3), SpringRate::lb_per_in(4.5))),
            ..spring(LONG, 400.0)
        },
        Spring { stroke: Some(Length::mm(55.0)), ..spring(SHORT, 425.0) },
        Spring { stroke: long, bore: Some(Length::mm(35.0)), ..spring(NARROW, 475.0) },
    ]
}

/// Everything the work needs to begin, and some of what it does not.
pub(crate) fn details() -> Vec<Detail> {
    vec![
        Detail::Customer(FreeText::new("an invented workshop")),
        Detail::BikeName(FreeText::new("an enduro bike")),
        Detail::Rider(Mass::kg(82.0)),
        Detail::Bike(Mass::kg(15.6)),
        Detail::Travel(Length::mm(150.0)),
        Detail::Stroke(Length::mm(62.5)),
        Detail::CollarPitch(Length::mm(1.25)),
        Detail::TurnsLimit(Turns::of(2.0)),
        Detail::BodyDiameter(Some(Length::mm(36.0))),
        Detail::Wheelbase(Some(Length::mm(1_240.0))),
        Detail::RearCentre(Some(Length::mm(440.0))),
        Detail::Target(Target::PLANTED),
        Detail::Ruler(Length::mm(0.5)),
        Detail::ReadingsEach(2),
        Detail::Springs(rack()),
        Detail::SpringOnArrival(Some(FITTED)),
    ]
}

/// A record with all details told and nothing done.
pub(crate) fn entered() -> Record {
    let mut record = Record::new(at(0));
    for detail in details() {
        machine::enter(&mut record, at(0), detail).expect("an invented detail is possible");
    }
    record
}

/// Does one deed that must be accepted.
pub(crate) fn does(record: &mut Record, deed: Deed) -> State {
    let minute = record.entries.len() + 1;
    machine::advance(record, at(minute), deed)
        .unwrap_or_else(|refusal| panic!("entry {minute} is refused: {refusal:?}"))
}

/// The deed the walk waits for; `choice` picks among several.
pub(crate) fn awaited(state: &State, choice: u8) -> Option<Deed> {
    let swap = if state.on_bike.fitted == Some(FITTED) { LONG } else { FITTED };
    Some(match state.awaiting() {
        Awaiting::Details => Deed::IntakeDone,
        Awaiting::Acknowledgement(caution) => Deed::CautionSeen(caution),
        Awaiting::Tick(check) => Deed::Ticked(check, TickAnswer::Done),
        Awaiting::ContactTurns => Deed::Unloaded { preload_turns: Turns::of(0.25) },
        Awaiting::Indicator => Deed::IndicatorSeated,
        Awaiting::Reading => Deed::Read { reading: Length::mm(15.0 + f64::from(choice % 8) / 2.0) },
        Awaiting::FirstSpring => Deed::Decided(Decision::Swap { to: swap }),
        Awaiting::Decision => Deed::Decided(match choice % 4 {
            0 => Decision::Keep,
            1 => Decision::ReadAgain,
            2 => Decision::SetPreload { to: Turns::of(1.0) },
            _ => Decision::Swap { to: swap },
        }),
        Awaiting::PreloadTurns(to) => Deed::PreloadSet { preload_turns: to },
        Awaiting::KerbReturn => Deed::KerbDropped(match choice % 4 {
            0 => KerbReturn::Once,
            1 => KerbReturn::BouncesOn,
            2 => KerbReturn::Slow,
            _ => KerbReturn::NotDone,
        }),
        Awaiting::TrailReport => Deed::from(report()),
        Awaiting::CloseOrAnotherRound => match choice % 2 {
            0 => Deed::Closed,
            _ => Deed::Decided(Decision::AnotherRound),
        },
        Awaiting::Nothing => return None,
    })
}

/// Follows the walk, always with the first choice, until it stands at a step (and at a check of its list).
pub(crate) fn follow(record: &mut Record, until: impl Fn(&State) -> bool) -> State {
    let mut state = machine::replay(record).expect("it fits");
    while !until(&state) {
        let next = awaited(&state, 0).expect("the walk goes on");
        state = does(record, next);
    }
    state
}

/// Follows the walk to a step and past the cautions at its opening.
pub(crate) fn arrive(record: &mut Record, step: Step) -> State {
    follow(record, |state| state.step == step && state.pending_caution().is_none())
}

/// What an invented trail told.
pub(crate) fn report() -> TrailReport {
    TrailReport {
        bottoming: Bottoming::NowAndThen,
        ride_height: RideHeight::Right,
        feel: Feel::Nervous,
        note: FreeText::new("roots\nand \"rocks\""),
    }
}

/// A step of a random walk: what is awaited, or anything at all.
#[derive(Debug, Clone)]
pub(crate) enum Move {
    Awaited(u8),
    Anything(Box<Deed>),
}

impl Move {
    /// The deed it comes to.
    pub(crate) fn deed(&self, state: &State) -> Option<Deed> {
        match self {
            Self::Awaited(choice) => awaited(state, *choice),
            Self::Anything(deed) => Some((**deed).clone()),
        }
    }
}

/// A random walk: mostly forward, often astray.
pub(crate) fn moves() -> impl Strategy<Value = Vec<Move>> {
    let step = prop_oneof![
        3 => any::<u8>().prop_map(Move::Awaited),
        2 => deed().prop_map(|deed| Move::Anything(Box::new(deed))),
    ];
    vec(step, 0..90)
}

/// A record at the end of a random walk, with an intake of its own.
pub(crate) fn record() -> impl Strategy<Value = Record> {
    (vec(detail(), 0..6), moves()).prop_map(|(details, moves)| {
        let mut record = entered();
        for detail in details {
            // A detail that does not go with the others is simply not told.
            let _ = record.intake.enter(detail);
        }
        let mut state = machine::replay(&record).expect("nothing was done");
        for (minute, step) in moves.iter().enumerate() {
            let Some(deed) = step.deed(&state) else { continue };
            if let Ok(next) = machine::advance(&mut record, at(minute), deed) {
                state = next;
            }
        }
        record
    })
}

fn spring_number() -> impl Strategy<Value = SpringNumber> {
    select(vec![FITTED, UNKNOWN_STROKE, LONG, SHORT, NARROW, NONE_SUCH])
}

fn turns() -> impl Strategy<Value = Turns> {
    prop_oneof![4 => 0.0..2.0, 1 => -1.0..30.0].prop_map(Turns::of)
}

fn moved() -> impl Strategy<Value = Length> {
    prop_oneof![4 => 5.0..40.0, 1 => -5.0..130.0].prop_map(Length::mm)
}

fn text() -> impl Strategy<Value = FreeText> {
    prop_oneof![Just(String::new()), ".{0,12}", Just("it bounced".to_owned())]
        .prop_map(|text| FreeText::new(&text))
}

fn checks() -> Vec<Check> {
    Step::ALL.iter().flat_map(|step| step.checks()).copied().collect()
}

fn decision() -> impl Strategy<Value = Decision> {
    prop_oneof![
        Just(Decision::Keep),
        Just(Decision::ReadAgain),
        Just(Decision::AnotherRound),
        turns().prop_map(|to| Decision::SetPreload { to }),
        spring_number().prop_map(|to| Decision::Swap { to }),
    ]
}

/// Any detail, possible or not.
pub(crate) fn detail() -> impl Strategy<Value = Detail> {
    let leverage = prop_oneof![
        Just(LeverageKnowledge::TravelOnly),
        (2.0..3.5, 1.8..3.0).prop_map(|(start, end)| LeverageKnowledge::Ends {
            start: LeverageRatio::ratio(start),
            end: LeverageRatio::ratio(end)
        }),
    ];
    let wheel_load = (30.0..120.0, 0.1..5.0)
        .prop_map(|(shown, give)| WheelLoad { shown: Estimate::new(Mass::kg(shown), Mass::kg(give)) });
    let target = (0.1..0.4, 0.5..3.0)
        .prop_map(|(sag, half)| Target { sag: Share::fraction(sag), tolerance: Share::percent(half) });
    prop_oneof![
        text().prop_map(Detail::Notes),
        (10.0..260.0).prop_map(|kg| Detail::Rider(Mass::kg(kg))),
        (30.0..120.0).prop_map(|mm| Detail::Stroke(Length::mm(mm))),
        (40.0..300.0).prop_map(|mm| Detail::Travel(Length::mm(mm))),
        turns().prop_map(Detail::TurnsLimit),
        leverage.prop_map(Detail::Leverage),
        proptest::option::of(wheel_load).prop_map(Detail::WheelLoad),
        proptest::option::of(earlier()).prop_map(Detail::Earlier),
        target.prop_map(Detail::Target),
        (0_u8..14).prop_map(Detail::ReadingsEach),
        (1_usize..5).prop_map(|springs| Detail::Springs(rack().into_iter().take(springs).collect())),
        (100.0..900.0).prop_map(|label| Detail::Springs(relabelled(label))),
        proptest::option::of(spring_number()).prop_map(Detail::SpringOnArrival),
    ]
}

/// What an earlier session may have taught, possible or not.
fn earlier() -> impl Strategy<Value = Earlier> {
    let share = |value: f64, doubt: f64| Estimate::new(Share::fraction(value), Share::fraction(doubt));
    (0.2..1.1, 0.0..0.1, -0.3..0.6, 0.0..0.2, -1.1..1.1).prop_map(
        move |(rider, doubt, falloff, its, correlation)| Earlier {
            opened: DateTime::default(),
            rider_share: share(rider, doubt),
            falloff: share(falloff, its),
            correlation: Share::fraction(correlation),
            gas: None,
            learned_on: None,
            spring: None,
        },
    )
}

fn relabelled(n_per_cm: f64) -> Vec<Spring> {
    let mut rack = rack();
    rack[2].label = SpringRate::n_per_mm(n_per_cm / 10.0);
    rack[2].stroke = None;
    rack
}

/// A sheet with every row written.
pub(crate) fn sheet() -> Sheet {
    let clicks = Some(Knob { from_closed: 8, of: Some(14) });
    let text = |words: &str| Some(FreeText::new(words));
    Sheet {
        preload_turns: Some(Turns::of(1.5)),
        rebound: clicks,
        low_speed_compression: clicks,
        high_speed_compression: Some(Knob { from_closed: 3, of: None }),
        end_stop: clicks,
        bumper_mm: Some(Length::mm(9.0)),
        seat_mm: Some(Length::mm(36.0)),
        collar_least_mm: Some(Length::mm(130.0)),
        collar_most_mm: Some(Length::mm(145.0)),
        tyres: text("1.6 / 1.8 bar"),
        fork: text("5.2 bar"),
        fork_sag_mm: Some(Length::mm(32.0)),
        fork_travel_mm: Some(Length::mm(160.0)),
        head_angle_degrees: Some(Angle::degrees(64.5)),
        fork_springs: text("45 50 55"),
        service: text("in the spring"),
        frame: text("flip chip low"),
        work_order: text("A 117"),
        torque: text("upper 12 Nm, lower 12 Nm"),
    }
}

/// A ride that tells everything.
pub(crate) fn ride() -> RideTold {
    let changed = FreeText::new("rebound 1 faster");
    RideTold { deepest: Some(Length::mm(58.0)), symptom: Some(Symptom::Bucks), changed }
}

/// Any deed, legal or not.
pub(crate) fn deed() -> impl Strategy<Value = Deed> {
    let repairs = prop_oneof![
        1 => Just(Deed::TakenBack),
        3 => Just(Deed::Undone),
        2 => Just(Deed::Redone),
        1 => Just(Deed::StartedAgain),
        2 => (0_u16..12, text()).prop_map(|(reading, because)| Deed::Voided { reading: ReadingNumber(reading), because }),
        2 => text().prop_map(|because| Deed::Skipped { because }),
        1 => text().prop_map(Deed::Noted),
        1 => select(vec![Deed::AsFound(Box::new(sheet())), Deed::AsLeft(Box::new(sheet())), Deed::RideTold(ride())]),
        3 => detail().prop_map(Deed::Entered),
    ];
    let trials = prop_oneof![
        turns().prop_map(|preload_turns| Deed::TrialsOpened { preload_turns }),
        moved().prop_map(|moved| Deed::Trial { reading: moved }),
        turns().prop_map(|preload_turns| Deed::PreloadSet { preload_turns }),
        (spring_number(), turns())
            .prop_map(|(spring, preload_turns)| Deed::Swapped { spring, preload_turns }),
    ];
    let steps = prop_oneof![
        Just(Deed::IntakeDone),
        turns().prop_map(|preload_turns| Deed::Unloaded { preload_turns }),
        Just(Deed::IndicatorSeated),
        moved().prop_map(|moved| Deed::Read { reading: moved }),
        Just(Deed::EnoughReadings),
        decision().prop_map(Deed::Decided),
        select(vec![KerbReturn::Once, KerbReturn::BouncesOn, KerbReturn::NotDone])
            .prop_map(Deed::KerbDropped),
        Just(Deed::from(report())),
        Just(Deed::Closed),
    ];
    let ticks = (select(checks()), select(vec![TickAnswer::Done, TickAnswer::HasNone]))
        .prop_map(|(check, how)| Deed::Ticked(check, how));
    let cautions = select(Caution::ALL.to_vec()).prop_map(Deed::CautionSeen);
    prop_oneof![3 => repairs, 3 => trials, 2 => steps, 2 => ticks, 2 => cautions]
}

/// An intake with every field filled in.
pub(crate) fn full_intake() -> Intake {
    let mut record = entered();
    let pairs = [(0.0, 0.0), (20.0, 51.0), (40.0, 98.0), (62.0, 150.0)];
    let pair =
        |(stroke, wheel): (f64, f64)| LeveragePair { stroke: Length::mm(stroke), wheel: Length::mm(wheel) };
    let shown = Estimate::new(Mass::kg(66.5), Mass::kg(1.5));
    let more = [
        Detail::Notes(FreeText::new("first line\nsecond line\t\u{202e}end")),
        Detail::WheelLoad(Some(WheelLoad { shown })),
        Detail::Leverage(LeverageKnowledge::Measured(pairs.map(pair).to_vec())),
    ];
    for detail in more {
        record.intake.enter(detail).expect("an invented detail is possible");
    }
    record.intake
}
