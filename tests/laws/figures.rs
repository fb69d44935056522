//! Laws of measured leverage, of a spring's wire and of a frame that tips, for any that is possible.

use coilwright::mechanics::geometry::{Sinking, bottom_bracket_drop, head_angle_slackens};
use coilwright::mechanics::pairs::{SecondColumn, from_heights};
use coilwright::mechanics::survey::survey;
use coilwright::mechanics::wire::{CaliperedSpring, EndType, Material};
use coilwright::mechanics::{LeverageCurve, LeveragePair};
use coilwright::screen::place::intake::leverage::{TypedLeverage, from_table, read, written};
use coilwright::session::{LeverageKnowledge, limits};
use coilwright::units::{Length, Turns, UnitSet};
use proptest::prelude::*;
use proptest::sample::select;

/// Pairs from no stroke to the end, the wheel always further: anything from a straight line to a wild one.
fn pairs() -> impl Strategy<Value = Vec<LeveragePair>> {
    let steps = proptest::collection::vec((3.0..15.0f64, 1.2..4.5f64), 4..12);
    steps.prop_map(|steps| {
        let (mut stroke, mut wheel) = (0.0, 0.0);
        let tenths = |figure: f64| (figure * 10.0_f64).round() / 10.0;
        let pair = |(run, ratio): &(f64, f64)| {
            stroke = tenths(stroke + run);
            wheel = tenths(wheel + run * ratio);
            LeveragePair { stroke: Length::mm(stroke), wheel: Length::mm(wheel) }
        };
        steps.iter().map(pair).collect()
    })
}

fn near(one: &[LeveragePair], other: &[LeveragePair], tolerance: f64) -> bool {
    let close = |one: Length, other: Length| (one - other).abs().as_mm() <= tolerance;
    let same = |(one, other): (&LeveragePair, &LeveragePair)| {
        close(one.stroke, other.stroke) && close(one.wheel, other.wheel)
    };
    one.len() == other.len() && one.iter().zip(other).all(same)
}

fn spring() -> impl Strategy<Value = CaliperedSpring> {
    let ends = select(EndType::ALL.to_vec());
    let material = select(Material::ALL.to_vec());
    (6.0..14.0f64, 45.0..75.0f64, 4.0..12.0f64, ends, material, 0.01..0.3f64).prop_map(
        |(wire, outer, coils, ends, material, calipers)| CaliperedSpring {
            wire: Length::mm(wire),
            outer: Length::mm(outer),
            coils: Turns::of(coils),
            ends,
            material,
            free_length: None,
            calipers: Length::mm(calipers),
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn pairs_that_are_accepted_make_a_curve_on_which_the_wheel_never_goes_back(pairs in pairs()) {
        let last = pairs[pairs.len() - 1];
        prop_assert_eq!(limits::check_pairs(&pairs, last.wheel, last.stroke), Ok(()));
        let curve = LeverageCurve::measured(last.wheel, last.stroke, &pairs).expect("accepted pairs");
        let survey = survey(&curve, &pairs);
        // The slope of a shape-preserving cubic may touch nought, give or take a rounding.
        prop_assert!(survey.curve.iter().all(|at| at.ratio.value() >= -1e-9), "{:?}", survey.curve);
        let misfit = survey.misfit.expect("there are pairs");
        prop_assert!(misfit.largest <= last.wheel * 0.01 + Length::mm(1e-9));
        prop_assert!(survey.measured.len() == pairs.len());
    }

    #[test]
    fn pairs_read_back_whatever_units_they_were_written_and_are_read_in(
        pairs in pairs(),
        written_in in select(UnitSet::ALL.to_vec()),
        read_in in select(UnitSet::ALL.to_vec()),
    ) {
        let text = written(&LeverageKnowledge::Measured(pairs.clone()), written_in).expect("told");
        let Ok(TypedLeverage::Known(LeverageKnowledge::Measured(found))) = read(&text, read_in) else {
            panic!("{text} does not read back")
        };
        // Ten-thousandths of an inch are what is written there.
        prop_assert!(near(&found, &pairs, 0.001_3), "{text}");
    }

    #[test]
    fn a_table_says_what_its_pairs_typed_say(pairs in pairs(), mark in select(vec![",", ";", "\t"])) {
        let line = |pair: &LeveragePair| format!("{}{mark}{}\n", pair.stroke.as_mm(), pair.wheel.as_mm());
        let table: String = pairs.iter().map(line).collect();
        let text = from_table(&table, SecondColumn::WheelTravel, UnitSet::Trade).expect("a table");
        prop_assert_eq!(Some(text), written(&LeverageKnowledge::Measured(pairs), UnitSet::Trade));
    }

    #[test]
    fn heights_say_the_same_from_the_ground_up_and_from_a_beam_down(pairs in pairs(), ground in 100.0..600.0f64) {
        let still = LeveragePair { stroke: Length::ZERO, wheel: Length::ZERO };
        let travel: Vec<LeveragePair> = std::iter::once(still).chain(pairs).collect();
        for upward in [1.0, -1.0] {
            let height = |pair: &LeveragePair| LeveragePair {
                wheel: Length::mm(ground) + pair.wheel * upward,
                ..*pair
            };
            let heights: Vec<LeveragePair> = travel.iter().map(height).collect();
            let found = from_heights(&heights).expect("from full extension");
            prop_assert!(near(&found, &travel, 1e-9));
        }
    }

    #[test]
    fn no_text_whatever_breaks_the_row(text in ".{0,60}") {
        for units in UnitSet::ALL {
            let _ = read(&text, units);
            let _ = from_table(&text, SecondColumn::AxleHeight, units);
        }
    }

    #[test]
    fn thicker_wire_is_stiffer_and_more_coils_are_softer(spring in spring()) {
        let rate = |spring: CaliperedSpring| spring.figures().expect("possible").rate.value;
        let here = rate(spring);
        let thicker = CaliperedSpring { wire: spring.wire * 1.01, ..spring };
        let longer = CaliperedSpring { coils: spring.coils + Turns::of(0.25), ..spring };
        let wider = CaliperedSpring { outer: spring.outer * 1.01, ..spring };
        prop_assert!(rate(thicker) > here);
        prop_assert!(rate(longer) < here);
        prop_assert!(rate(wider) < here);
    }

    #[test]
    fn worse_calipers_never_make_a_rate_surer(spring in spring(), worse in 1.0..3.0f64) {
        let doubt = |spring: CaliperedSpring| spring.figures().expect("possible").rate.uncertainty;
        let blunt = CaliperedSpring { calipers: spring.calipers * worse, ..spring };
        prop_assert!(doubt(blunt) >= doubt(spring));
        prop_assert!(doubt(spring).value() > 0.0);
    }

    #[test]
    fn the_bottom_bracket_comes_down_by_something_between_the_axles(
        rear in 0.0..80.0f64,
        front in 0.0..80.0f64,
        wheelbase in 1_000.0..1_400.0f64,
        rear_centre in 380.0..500.0f64,
    ) {
        let (wheelbase, rear_centre) = (Length::mm(wheelbase), Length::mm(rear_centre));
        let sinking = Sinking { rear: Length::mm(rear), front: Length::mm(front) };
        let drop = bottom_bracket_drop(sinking, wheelbase, rear_centre).as_mm();
        prop_assert!(drop >= rear.min(front) - 1e-9 && drop <= rear.max(front) + 1e-9);
        // Seen from the other side the bike is the same bike.
        let turned = Sinking { rear: sinking.front, front: sinking.rear };
        let mirrored = bottom_bracket_drop(turned, wheelbase, wheelbase - rear_centre).as_mm();
        prop_assert!((drop - mirrored).abs() < 1e-9);
        let angles = [sinking, turned].map(|sinking| head_angle_slackens(sinking, wheelbase).value());
        prop_assert!((angles[0] + angles[1]).abs() < 1e-9);
    }
}
