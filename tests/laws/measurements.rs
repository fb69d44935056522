//! What a measurement is worth, on bikes of every kind: never less than nothing, never more than a bike in range, nothing
//! where it was made already, and never said where it does not clearly pay.

use coilwright::assessment::{Advice, Assessment, Does, Measurement, assess};
use coilwright::assets;
use coilwright::mechanics::{Spring, SpringNumber};
use coilwright::session::{
    Charge, Deed, Detail, Intake, LeverageKnowledge, Record, Refusal, State, WheelLoad, machine,
};
use coilwright::units::{Estimate, Force, Length, LeverageRatio, Mass, SpringRate, Turns};
use proptest::prelude::*;

/// What is told of a bike.
#[derive(Debug, Clone)]
struct Told {
    rider: f64,
    rates: Vec<u16>,
    readings: Vec<f64>,
    more: Vec<Detail>,
}

fn assessed(told: &Told) -> (Assessment, State) {
    let opened = chrono::DateTime::UNIX_EPOCH.into();
    let springs: Vec<Spring> = (1..)
        .zip(&told.rates)
        .map(|(number, rate)| Spring::labelled(SpringNumber(number), SpringRate::lb_per_in(f64::from(*rate))))
        .collect();
    let mut intake = Intake::default();
    let details = [
        Detail::Rider(Mass::kg(told.rider)),
        Detail::Travel(Length::mm(160.0)),
        Detail::Stroke(Length::mm(65.0)),
        Detail::SpringOnArrival(Some(springs[0].number)),
        Detail::Springs(springs),
    ];
    intake.enter_all(details.into_iter().chain(told.more.iter().cloned())).expect("a usual bike");
    let mut record = Record::new(opened);
    record.intake = intake;
    let trials = told.readings.iter().map(|reading| Deed::Trial { reading: Length::mm(*reading) });
    let opened_trials = Deed::TrialsOpened { preload_turns: Turns::ZERO };
    for deed in [Deed::IntakeDone, opened_trials].into_iter().chain(trials) {
        while let Err(refusal) = machine::advance(&mut record, opened, deed.clone()) {
            let Refusal::CautionFirst(due) = refusal else { panic!("a job as it is done: {refusal:?}") };
            machine::advance(&mut record, opened, Deed::CautionSeen(due)).expect("a caution that is due");
        }
    }
    let state = machine::replay(&record).expect("a record of its own deeds");
    let setup = state.setup.clone().expect("complete");
    assert_eq!(
        state.sets.last().map_or(0, |set| set.readings.len()),
        told.readings.len(),
        "every reading is in"
    );
    (assess(&setup, &state, assets::doubts()), state)
}

fn told() -> impl Strategy<Value = Told> {
    let more = prop::collection::vec(
        prop_oneof![
            Just(Detail::Bike(Mass::kg(15.5))),
            Just(Detail::Charge(Some(Charge::Weighed(Force::newtons(120.0))))),
            Just(Detail::WheelLoad(Some(WheelLoad { shown: Estimate::new(Mass::kg(66.0), Mass::kg(1.0)) }))),
            Just(Detail::Leverage(LeverageKnowledge::Ends {
                start: LeverageRatio::ratio(2.75),
                end: LeverageRatio::ratio(2.2)
            })),
        ],
        0..3,
    );
    let rates = prop::collection::vec((12u16..=26).prop_map(|step| step * 25), 1..8);
    let readings = (14.0..26.0f64).prop_flat_map(|rest| prop::collection::vec(rest - 0.7..rest + 0.7, 2..5));
    (55.0..110.0f64, rates, readings, more).prop_map(|(rider, rates, readings, more)| Told {
        rider,
        rates,
        readings,
        more,
    })
}

fn told_of(told: &Told, fact: impl Fn(&Detail) -> bool) -> bool {
    told.more.iter().any(fact)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_measurement_saves_no_less_than_nothing_and_no_more_than_there_is_to_win(told in told()) {
        let (assessment, _) = assessed(&told);
        let most = match assessment.advice {
            Advice::NothingOnTheList { .. } | Advice::NoneFits { .. } => assets::doubts().measuring.ordered_in_range,
            _ => assessment.prices.in_range,
        };
        for priced in &assessment.measurements {
            prop_assert!(priced.saves.value() >= 0.0, "{priced:?}");
            prop_assert!(priced.saves < most, "{priced:?}");
            prop_assert!(priced.takes.value() > 0.0, "{priced:?}");
        }
        let over = |saves: f64, takes: f64| saves - takes;
        let sorted = assessment.measurements.windows(2).all(|pair| {
            over(pair[0].saves.value(), pair[0].takes.value()) >= over(pair[1].saves.value(), pair[1].takes.value())
        });
        prop_assert!(sorted);
    }

    #[test]
    fn what_was_measured_is_not_asked_for_and_the_wheel_never_without_the_gas(told in told()) {
        let (assessment, _) = assessed(&told);
        let asked = |what: Measurement| assessment.measurements.iter().any(|priced| priced.what == what);
        let charge = told_of(&told, |detail| matches!(detail, Detail::Charge(_)));
        let wheel = told_of(&told, |detail| matches!(detail, Detail::WheelLoad(_)));
        prop_assert!(!asked(Measurement::Rider) && !asked(Measurement::Travel), "both were entered");
        prop_assert!(!(charge && asked(Measurement::Gas)));
        prop_assert!(charge || !asked(Measurement::Wheel), "the wheel alone misleads");
        prop_assert!(!wheel || !(asked(Measurement::Wheel) || asked(Measurement::WheelAndGas) || asked(Measurement::Bike)));
        if told_of(&told, |detail| matches!(detail, Detail::Leverage(_))) {
            prop_assert!(!asked(Measurement::LeverageEnds));
        }
    }

    #[test]
    fn only_what_saves_twice_its_price_is_said_and_a_check_comes_first(told in told()) {
        let (assessment, _) = assessed(&told);
        if let Some(said) = assessment.worth_measuring() {
            prop_assert!(said.saves.value() > 2.0 * said.takes.value());
        }
        if matches!(assessment.enter.does, Does::Check) {
            prop_assert!(assessment.measurements.is_empty());
        }
    }

    #[test]
    fn two_things_measured_save_no_less_than_one_of_them(told in told()) {
        let (assessment, _) = assessed(&told);
        let saves = |what: Measurement| {
            assessment.measurements.iter().find(|priced| priced.what == what).map(|priced| priced.saves.value())
        };
        if let (Some(both), Some(gas)) = (saves(Measurement::WheelAndGas), saves(Measurement::Gas)) {
            // Three nodes stand for five here, which is worth a minute or two on a short list.
            prop_assert!(both >= gas - 3.0, "{both} {gas}");
        }
    }
}
