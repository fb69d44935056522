//! The counting, on four sessions small enough to be counted by hand.

use chrono::DateTime;

use super::*;
use crate::units::Estimate;

fn tested(moment: ForecastMoment, off: f64, uncertainty: f64) -> TestedForecast {
    TestedForecast { moment, off: Estimate::new(Share::percent(off), Share::percent(uncertainty)) }
}

fn session(opened: &str, label: f64, origin: SpringOrigin) -> SessionOutcome {
    SessionOutcome {
        opened: DateTime::parse_from_rfc3339(opened).expect("a time"),
        tested: Vec::new(),
        first_guess_off: None,
        swaps: u16::from(origin == SpringOrigin::FittedHere),
        sits: 4,
        minutes: Minutes::of(30.0),
        standing: Some(Standing::Inside),
        travel: Length::mm(150.0),
        kept: Some(KeptSpring { label: SpringRate::lb_per_in(label), origin }),
    }
}

fn shop() -> [SessionOutcome; 4] {
    use ForecastMoment::{AfterSwap, BeforeAnyReading};
    use SpringOrigin::{CameWithTheBike, FittedHere};
    [
        SessionOutcome {
            tested: vec![tested(BeforeAnyReading, -3.0, 4.0), tested(AfterSwap, 2.0, 1.0)],
            first_guess_off: Some(Share::percent(4.0)),
            // Still October where the workshop is.
            ..session("2026-10-31T23:30:00-03:00", 450.0, FittedHere)
        },
        SessionOutcome {
            tested: vec![tested(AfterSwap, -1.0, 2.0)],
            first_guess_off: Some(Share::percent(-2.0)),
            standing: Some(Standing::Above),
            ..session("2026-11-02T10:00:00+01:00", 440.0, FittedHere)
        },
        SessionOutcome {
            tested: vec![tested(AfterSwap, 12.0, 2.0)],
            travel: Length::mm(168.0),
            ..session("2026-11-03T10:00:00+01:00", 500.0, FittedHere)
        },
        SessionOutcome {
            travel: Length::mm(171.0),
            ..session("2026-11-04T10:00:00+01:00", 500.0, CameWithTheBike)
        },
    ]
}

#[track_caller]
fn assert_percent(found: Option<Share>, expected: f64) {
    let found = found.expect("a figure").as_percent();
    assert!((found - expected).abs() < 1e-3, "{found} is not {expected}");
}

#[test]
fn forecasts_after_a_swap_are_counted_apart_from_those_before_any_reading() {
    let tally = Tally::of(&shop().each_ref());
    let after = tally.after_swap;
    assert_eq!((after.off.count, after.held), (3, 1));
    // 2, -1 and 12: the average is 13/3, the squares about it come to 92.667, over 2, and of that the root.
    assert_percent(after.off.bias, 13.0 / 3.0);
    assert_percent(after.off.spread, 6.8069);
    let before = tally.before_any;
    assert_eq!((before.off.count, before.held, before.off.spread), (1, 1, None));
    assert_percent(before.off.bias, -3.0);
}

#[test]
fn the_factor_of_the_doubts_is_one_until_a_swap_says_otherwise_and_no_slip_decides_it() {
    assert_eq!(Tally::of(&[]).doubt_factor, DoubtFactor { factor: Share::fraction(1.0), swaps: 0 });
    // z is 2, -0.5 and 6, of which 3 count: (20 + 4 + 0.25 + 9)/23 is 1.44565, and the root of that 1.20235.
    let found = Tally::of(&shop().each_ref()).doubt_factor;
    assert_eq!(found.swaps, 3);
    assert_percent(Some(found.factor), 120.235);
}

#[test]
fn the_first_guess_is_held_against_the_spring_that_stayed() {
    let guess = Tally::of(&shop().each_ref()).first_guess;
    assert_eq!(guess.count, 2);
    assert_percent(guess.bias, 1.0);
    // 4 and -2 are 3 to either side of 1: the root of 9 + 9 over 1.
    assert_percent(guess.spread, 4.2426);
}

#[test]
fn work_is_counted_in_the_month_of_the_workshop() {
    let months = Tally::of(&shop().each_ref()).months;
    let rows: Vec<_> = months
        .iter()
        .map(|month| (month.year, month.month, month.sessions, month.on_target, month.swaps, month.sits))
        .collect();
    assert_eq!(rows, [(2026, 10, 1, 1, 1, 4), (2026, 11, 3, 2, 2, 12)]);
    assert_eq!(months[1].minutes, Minutes::of(90.0));
}

#[test]
fn rates_that_stayed_are_counted_to_a_stock_step_and_travels_to_ten_millimetres() {
    let tally = Tally::of(&shop().each_ref());
    let rows = |rates: &[KeptRate]| {
        let row = |rate: &KeptRate| (rate.rate.as_lb_per_in().round(), rate.kept, rate.fitted_here);
        rates.iter().map(row).collect::<Vec<_>>()
    };
    assert_eq!(rows(&tally.rates), [(450.0, 2, 2), (500.0, 2, 1)]);
    let travels: Vec<_> = tally.by_travel.iter().map(|row| (row.travel.as_mm(), rows(&row.rates))).collect();
    assert_eq!(travels, [(150.0, vec![(450.0, 2, 2)]), (170.0, vec![(500.0, 2, 1)])]);
}
