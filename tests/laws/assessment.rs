//! Laws of the assessment: what no record, however odd, may make it say.

use chrono::DateTime;
use coilwright::assessment::{Advice, Assessment, Forecast, RateSource, assess, next_visit};
use coilwright::assets;
use coilwright::mechanics::Fit;
use coilwright::session::{Deed, Earlier, FoundSpring, Intake, LearnedOn, ReadingNumber, State, machine};
use coilwright::text::FreeText;
use coilwright::units::{Estimate, Share, SpringRate, Turns};
use proptest::prelude::*;

use super::bikes::{Move, intake, moves, played};

fn assessed(state: &State) -> Assessment {
    assess(state.setup.as_ref().expect("the intake is done"), state, assets::doubts())
}

fn figures(assessment: &Assessment) -> Vec<f64> {
    let findings = &assessment.findings;
    let mut figures = vec![
        findings.load.value.value(),
        findings.load.uncertainty.value(),
        findings.falloff.value.value(),
        findings.falloff.uncertainty.value(),
        findings.scatter.value(),
        findings.needed_rate.value.value(),
        findings.needed_rate.uncertainty.value(),
    ];
    for set in &assessment.sets {
        figures.extend([
            set.sag.value.value(),
            set.sag.uncertainty.value(),
            set.ninety_percent.value(),
            set.wheel_sag.value(),
        ]);
    }
    for forecast in &assessment.forecasts {
        let ride = forecast.ride;
        figures.extend([
            forecast.sag.value.value(),
            forecast.sag.uncertainty.value(),
            forecast.chance.value(),
            forecast.chance_with_collar.value(),
            ride.energy_left.value(),
            ride.bounce.value(),
            ride.wheel_rate.value(),
            ride.breakaway.value(),
        ]);
    }
    figures
}

/// How far two assessments of one session are apart where it matters: the forecasts' sags, in points.
fn furthest(one: &Assessment, other: &Assessment) -> f64 {
    let pairs = one.forecasts.iter().zip(&other.forecasts);
    pairs.map(|(one, other)| (one.sag.value - other.sag.value).abs().as_percent()).fold(0.0, f64::max)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(128) })]

    #[test]
    fn no_record_makes_a_figure_that_is_not_a_number(intake in intake(), moves in moves()) {
        let (_, state) = played(&intake, &moves);
        prop_assert!(figures(&assessed(&state)).into_iter().all(f64::is_finite));
    }

    #[test]
    fn no_advice_proposes_a_spring_that_binds(intake in intake(), moves in moves()) {
        let (_, state) = played(&intake, &moves);
        let assessment = assessed(&state);
        let proposed = match &assessment.advice {
            Advice::Swap { step, best_match, .. } => vec![step.to, *best_match],
            Advice::FirstSpring { best_match, .. } => vec![*best_match],
            Advice::NothingOnTheList { nearest, .. } => nearest.iter().copied().collect(),
            _ => Vec::new(),
        };
        for spring in proposed {
            let forecast = assessment.forecasts.iter().find(|forecast| forecast.spring == spring);
            let binds = matches!(forecast.map(|forecast| forecast.fit), Some(Fit::WouldBind { .. }));
            prop_assert!(!binds);
        }
    }

    #[test]
    fn too_little_sag_is_never_answered_with_preload(intake in intake(), moves in moves()) {
        let (_, state) = played(&intake, &moves);
        let assessment = assessed(&state);
        if let (Advice::SetPreload(plan), Some(present)) = (&assessment.advice, assessment.present()) {
            let too_little = present.sag.value < intake.target.expect("told").sag;
            prop_assert!(!too_little || plan.by < Turns::ZERO);
            prop_assert!(plan.to <= intake.turns_limit.expect("told"));
        }
    }

    #[test]
    fn a_step_is_of_25_or_50_or_what_the_rack_allows(intake in intake(), moves in moves()) {
        let (_, state) = played(&intake, &moves);
        let assessment = assessed(&state);
        let Advice::Swap { step, best_match, .. } = &assessment.advice else { return Ok(()) };
        let from = assessment.present().expect("fitted").rate;
        let whole = assessment.forecasts.iter().find(|f| f.spring == *best_match).expect("on the rack").rate - from;
        if whole.abs() < SpringRate::lb_per_in(0.5) {
            // Back to a twin that was measured: labels lie, each its own way.
            prop_assert_eq!(step.to, *best_match);
            return Ok(());
        }
        prop_assert!(step.change.value() * whole.value() > 0.0, "a step goes toward the landing spring");
        let size = step.change.abs().as_lb_per_in();
        let standard = [25.0, 50.0].iter().any(|standard| (size - standard).abs() < 0.5);
        // Where the rack has no spring at the standard step, none lies nearer to it on the way either.
        let wanted = if whole.abs() < SpringRate::lb_per_in(49.5) { 25.0 } else { 50.0 };
        let nearer = assessment.forecasts.iter().filter(|f| f.known != RateSource::OnTheBike && f.fit.is_possible()).any(|f| {
            let change = f.rate - from;
            let on_the_way = change.value() * whole.value() > 0.0 && change.abs() <= whole.abs();
            on_the_way && (change.abs().as_lb_per_in() - wanted).abs() < (size - wanted).abs() - 1e-6
        });
        prop_assert!(standard || !nearer);
    }

    #[test]
    fn a_void_reading_has_no_effect(intake in intake(), moves in moves(), moved in 0.1..0.8f64) {
        let (mut record, state) = played(&intake, &moves);
        let before = assessed(&state);
        let reading = Deed::Trial { reading: intake.stroke.expect("told") * moved };
        let trials = record.entries.iter().filter(|entry| matches!(entry.deed, Deed::Trial { .. })).count();
        prop_assume!(machine::advance(&mut record, DateTime::default(), reading).is_ok());
        let number = ReadingNumber(u16::try_from(trials + 1).expect("few readings"));
        let void = Deed::Voided { reading: number, because: FreeText::new("bounced") };
        let state = machine::advance(&mut record, DateTime::default(), void).expect("it is there");
        let after = assessed(&state);
        prop_assert_eq!(before.sets, after.sets);
        prop_assert_eq!(before.forecasts, after.forecasts);
    }

    #[test]
    fn the_order_of_sets_does_not_matter(intake in intake(), moves in moves()) {
        let (_, state) = played(&intake, &moves);
        let mut turned = state.clone();
        // The last set stays last, since it says where the collar stands now.
        if let Some((_, before)) = turned.sets.split_last_mut() {
            before.reverse();
        }
        prop_assert!(furthest(&assessed(&state), &assessed(&turned)) < 1e-6);
    }

    #[test]
    fn a_forecast_at_the_measured_spring_lies_within_reach_of_the_reading(
        intake in intake(),
        share in 0.15..0.5f64,
    ) {
        let (_, state) = played(&intake, &[Move::Read(share), Move::Read(share), Move::Read(share)]);
        let assessment = assessed(&state);
        let (Some(set), Some(present)) = (assessment.sets.last(), assessment.present()) else { return Ok(()) };
        // Weights and reading pull on one another; what is learned lies between what each says alone.
        let nothing_read = Intake { spring_on_arrival: intake.spring_on_arrival, ..intake.clone() };
        let (_, blank) = played(&nothing_read, &[]);
        let by_weights = assessed(&blank).present().expect("fitted").sag.value;
        // A dragged indicator keeps a little more than the rest: what is learned of that goes off the reading.
        let kept = Share::fraction(assessment.findings.kept.value / intake.stroke.expect("told"));
        let rest = set.sag.value - kept;
        let (low, high) = if by_weights < rest { (by_weights, rest) } else { (rest, by_weights) };
        let slack = Share::percent(0.6);
        prop_assert!(present.sag.value > low - slack && present.sag.value < high + slack);
    }

    #[test]
    fn forecasts_fall_as_rates_rise(intake in intake(), moves in moves()) {
        let (_, state) = played(&intake, &moves);
        let assessment = assessed(&state);
        let by_label: Vec<_> = assessment.forecasts.iter().filter(|f| f.known == RateSource::ByLabel).collect();
        prop_assert!(by_label.windows(2).all(|pair| pair[1].sag.value <= pair[0].sag.value + Share::percent(1e-9)));
    }

    #[test]
    fn what_an_earlier_session_taught_narrows_the_first_forecast(intake in intake(), off in 0.85..1.18f64) {
        let fresh = assessed(&played(&intake, &[]).1);
        let Some(by_weights) = fresh.present() else { return Ok(()) };
        // A rider who sags much as the weights say; another would teach more, at another sag.
        let share = (by_weights.sag.value.as_fraction() * off).clamp(0.05, 0.9);
        let (_, first) = played(&intake, &[Move::Read(share), Move::Read(share), Move::Read(share)]);
        let findings = assessed(&first).findings;
        let setup = first.setup.as_ref().expect("the intake is done");
        let earlier = next_visit::carried(setup, &findings, DateTime::default(), assets::doubts());
        let again = Intake { earlier: Some(earlier), ..intake.clone() };
        let known = assessed(&played(&again, &[]).1);
        let Some(known) = known.present() else { return Ok(()) };
        let relative = |forecast: &Forecast| forecast.sag.uncertainty / forecast.sag.value;
        prop_assert!(relative(known) <= relative(by_weights) + 1e-9);
        // The same rider on the same spring: the forecast lies nearer to where it rested then.
        let rest = assessed(&first).present().expect("fitted").sag.value;
        prop_assert!((known.sag.value - rest).abs() <= (by_weights.sag.value - rest).abs() + Share::percent(0.2));
    }

    #[test]
    fn the_spring_an_earlier_session_left_on_the_bike_starts_from_what_was_found(intake in intake(), ratio in 0.93..1.07f64) {
        prop_assume!(intake.spring_on_arrival.is_some());
        let intake = with_labels_only(intake);
        let (_, first) = played(&intake, &[Move::Read(0.3), Move::Read(0.3)]);
        let setup = first.setup.as_ref().expect("the intake is done");
        let findings = assessed(&first).findings;
        let found = findings.found.expect("a spring was read");
        let earlier = next_visit::carried(setup, &findings, DateTime::default(), assets::doubts());
        let ratio = Estimate::new(Share::fraction(ratio), Share::percent(1.0));
        let known = Earlier { spring: Some(FoundSpring { ratio, ..found }), ..earlier };
        let forecast = |earlier| {
            let (_, state) = played(&Intake { earlier: Some(earlier), ..intake.clone() }, &[]);
            let present = *assessed(&state).present().expect("a spring is on the bike");
            (present.sag.value.as_fraction(), present.sag.uncertainty.as_fraction())
        };
        let (plain, plain_doubt) = forecast(Earlier { spring: None, ..earlier });
        let (sag, _) = forecast(known);
        let stiffer = ratio.value.as_fraction() > 1.0;
        prop_assert!(if stiffer { sag <= plain } else { sag >= plain }, "{sag} {plain}");
        let as_printed = Estimate::new(Share::fraction(1.0), Share::percent(1.0));
        let (_, doubt) = forecast(Earlier { spring: Some(FoundSpring { ratio: as_printed, ..found }), ..earlier });
        prop_assert!(doubt <= plain_doubt + 1e-9, "{doubt} {plain_doubt}");
        // A spring of another label is another spring.
        let other = FoundSpring { label: found.label * 1.1, ratio };
        let (as_labelled, _) = forecast(Earlier { spring: Some(other), ..earlier });
        prop_assert!((as_labelled - plain).abs() < 1e-12);
    }

    #[test]
    fn what_an_earlier_session_taught_of_another_rider_or_frame_has_no_effect(intake in intake()) {
        let (_, first) = played(&intake, &[Move::Read(0.3), Move::Read(0.3)]);
        let findings = assessed(&first).findings;
        let setup = first.setup.as_ref().expect("the intake is done");
        let earlier = next_visit::carried(setup, &findings, DateTime::default(), assets::doubts());
        let on = earlier.learned_on.expect("it says what it was learned on");
        let other = LearnedOn { rider: on.rider * 1.3, travel: on.travel * 1.1, stroke: on.stroke };
        let parted = |learned_on| {
            let earlier = Some(Earlier { learned_on: Some(learned_on), ..earlier });
            let (_, state) = played(&Intake { earlier, ..intake.clone() }, &[]);
            let findings = assessed(&state).findings;
            [findings.load.uncertainty.value(), findings.falloff.value.value(), findings.gas.value.value()]
        };
        let (known, fresh) = (parted(on), parted(other));
        let plain = assessed(&played(&Intake { earlier: None, ..intake.clone() }, &[]).1).findings;
        let plain = [plain.load.uncertainty.value(), plain.falloff.value.value(), plain.gas.value.value()];
        prop_assert!(furthest_of(&fresh, &plain) < 1e-9, "{fresh:?} {plain:?}");
        // Each part stands and falls by itself.
        let other_rider = parted(LearnedOn { rider: other.rider, ..on });
        prop_assert!(furthest_of(&other_rider[1..], &known[1..]) < 1e-9);
        let other_frame = parted(LearnedOn { travel: other.travel, ..on });
        prop_assert!(furthest_of(&other_frame[1..], &plain[1..]) < 1e-9);
    }
}

/// The same with nobody having measured a spring.
fn with_labels_only(mut intake: Intake) -> Intake {
    intake.springs.iter_mut().for_each(|spring| spring.measured = None);
    intake
}

/// The largest difference of two rows of figures.
fn furthest_of(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| (one - other).abs()).fold(0.0, f64::max)
}
