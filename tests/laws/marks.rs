//! Laws of what past sessions teach of a marked spring, and of its use in a new session.

use coilwright::assessment::marks::{MarkBook, MarkedSession, evidence};
use coilwright::assessment::{Assessment, RateSource, assess};
use coilwright::assets;
use coilwright::mechanics::spring::{LearnedRate, Marked};
use coilwright::session::{Intake, SpringNumber, State};
use coilwright::units::{Estimate, Share, SpringRate};
use proptest::prelude::*;
use rand::SeedableRng;
use rand::rngs::StdRng;

use super::bikes::{intake, moves, played};
use super::virtual_shop::{Bike, LABELS, Truth, book, day, mark, normal, rack, said};

fn assessed(state: &State) -> Assessment {
    assess(state.setup.as_ref().expect("the intake is done"), state, assets::doubts())
}

fn learned(book: &MarkBook, place: usize) -> LearnedRate {
    book.learned(mark(place), SpringRate::lb_per_in(LABELS[place])).expect("it was read")
}

/// ln(rate/label) and its uncertainty.
fn in_logs(learned: LearnedRate) -> (f64, f64) {
    (learned.ratio.value.as_fraction().ln(), learned.ratio.uncertainty / learned.ratio.value)
}

/// The intake with what a book says of its marked springs.
fn as_learned(mut intake: Intake, book: &MarkBook) -> Intake {
    for spring in &mut intake.springs {
        let label = spring.label;
        spring.marked =
            spring.marked.map(|marked| Marked { learned: book.learned(marked.mark, label), ..marked });
    }
    intake
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    #[test]
    fn a_mark_of_which_nothing_was_learned_changes_no_digit(intake in intake(), moves in moves()) {
        let plain = assessed(&played(&intake, &moves).1);
        let mut marked = intake.clone();
        for (place, spring) in marked.springs.iter_mut().enumerate() {
            spring.marked = Some(Marked { mark: mark(place), learned: None });
        }
        prop_assert_eq!(assessed(&played(&marked, &moves).1), plain);
    }

    #[test]
    fn a_spring_found_soft_is_forecast_softer_and_surer(intake in intake(), softer in 0.02..0.08f64, doubt in 0.8..1.6f64) {
        let mut marked = intake.clone();
        let ratio = Estimate::new(Share::fraction(1.0 - softer), Share::percent(doubt));
        let last = marked.springs.last_mut().expect("a rack");
        last.marked = Some(Marked { mark: mark(0), learned: Some(LearnedRate { ratio, bikes: 4 }) });
        let number = last.number;
        prop_assume!(intake.spring_on_arrival != Some(number));
        let forecast = |intake: &Intake| {
            let assessment = assessed(&played(intake, &[]).1);
            *assessment.forecasts.iter().find(|forecast| forecast.spring == number).expect("on the list")
        };
        let (plain, known) = (forecast(&intake), forecast(&marked));
        // A spring pressed to the end of the stroke rests there, however soft.
        prop_assume!(plain.sag.value < Share::percent(60.0));
        prop_assert!(known.sag.value > plain.sag.value);
        prop_assert!(known.sag.uncertainty / known.sag.value < plain.sag.uncertainty / plain.sag.value);
        prop_assert_eq!((plain.known, known.known), (RateSource::ByLabel, RateSource::FoundBefore));
        // What was not marked is forecast as before.
        let others = |intake: &Intake| assessed(&played(intake, &[]).1).forecasts.into_iter().filter(|f| f.spring != number).collect::<Vec<_>>();
        for (one, other) in others(&intake).into_iter().zip(others(&marked)) {
            prop_assert_eq!((one.spring, one.sag), (other.spring, other.sag));
        }
    }
}

/// A shop with a soft spring, and what it read of it on so many bikes.
fn soft_shop(bikes: usize, seed: u64) -> (Truth, Vec<State>, StdRng) {
    let truth: Truth = [0.01, -0.06, 0.0, 0.02];
    let (sessions, random) = shop(truth, bikes, seed);
    (truth, sessions, random)
}

/// What a shop with these springs read on so many bikes.
fn shop(truth: Truth, bikes: usize, seed: u64) -> (Vec<State>, StdRng) {
    let mut random = StdRng::seed_from_u64(seed);
    let sessions = (0..bikes).map(|_| Bike::drawn(&mut random).session(&truth, &mut random)).collect();
    (sessions, random)
}

#[test]
fn a_spring_without_a_mark_lends_its_label_to_no_other() {
    // The same stiff springs stood beside A2 on every bike: their labels, believed afresh each time, would make it soft.
    let (mut sessions, _) = shop([0.09, 0.0, 0.09, 0.09], 60, 13);
    for state in &mut sessions {
        let setup = state.setup.as_mut().expect("the intake is done");
        setup
            .springs
            .iter_mut()
            .filter(|spring| spring.number != SpringNumber(2))
            .for_each(|spring| spring.marked = None);
    }
    let said: Vec<_> = sessions.iter().filter_map(|state| evidence(state, assets::doubts())).collect();
    let (found, doubt) = in_logs(learned(&book(&said), 1));
    assert!(found.abs() < 2.0 * doubt, "found {found} ± {doubt}");
}

#[test]
fn a_soft_spring_is_found_and_its_next_bike_is_forecast_better() {
    let (truth, sessions, mut random) = soft_shop(40, 7);
    let book = book(&said(&sessions));
    let (found, doubt) = in_logs(learned(&book, 1));
    assert!(
        (found - truth[1]).abs() < 2.0 * doubt && found < -0.03,
        "found {found} ± {doubt}, truly {}",
        truth[1]
    );
    let (mut by_label, mut by_mark) = (0.0, 0.0);
    for _ in 0..200 {
        let bike = Bike::drawn(&mut random);
        let rest = bike.rest(1, &truth, 1.0, 0.0) / 62.5;
        let off = |intake: &Intake| {
            let assessment = assessed(&played(intake, &[]).1);
            let forecast = assessment.forecasts.iter().find(|one| one.spring == SpringNumber(2));
            (forecast.expect("on the list").sag.value.as_fraction() - rest).powi(2)
        };
        by_label += off(&bike.intake);
        by_mark += off(&as_learned(bike.intake.clone(), &book));
    }
    assert!(by_mark < 0.97 * by_label, "{by_mark} of {by_label}");
}

#[test]
fn what_is_learned_is_as_far_off_as_it_says() {
    let mut random = StdRng::seed_from_u64(11);
    let (mut squares, mut count) = (0.0, 0.0);
    for _ in 0..60 {
        let truth: Truth = std::array::from_fn(|_| normal(&mut random, 0.0, 0.03));
        let sessions: Vec<State> =
            (0..12).map(|_| Bike::drawn(&mut random).session(&truth, &mut random)).collect();
        let book = book(&said(&sessions));
        for (place, truth) in truth.iter().enumerate() {
            let Some(known) = book.learned(mark(place), SpringRate::lb_per_in(LABELS[place])) else {
                continue;
            };
            let (found, doubt) = in_logs(known);
            squares += ((found - truth) / doubt).powi(2);
            count += 1.0;
        }
    }
    let factor = f64::sqrt(squares / count);
    assert!((0.8..1.2).contains(&factor), "off by {factor} of its doubts");
}

#[test]
fn one_session_teaches_what_it_found_itself() {
    // With a single spring read, the posterior of the session is what one bike teaches.
    let mut random = StdRng::seed_from_u64(3);
    let bike = Bike::drawn(&mut random);
    let mut state = bike.session(&[0.0, -0.06, 0.0, 0.0], &mut random);
    state.sets.remove(0);
    let found = assessed(&state).findings.found.expect("a spring was read").ratio;
    let place = usize::from(state.sets[0].spring.0) - 1;
    let taught = learned(&book(&said(&[state])), place);
    let (ln, doubt) = in_logs(taught);
    assert_eq!(taught.bikes, 1);
    // The weights of the readings hang a little on what is known of the spring.
    assert!((ln - found.value.as_fraction().ln()).abs() < 5e-4, "{ln} {found:?}");
    let own = (found.uncertainty / found.value).hypot(0.002);
    assert!((doubt - own.min(0.03)).abs() < 2e-4, "{doubt} {own}");
}

#[test]
fn what_was_known_of_a_spring_counts_once_however_many_bikes() {
    let (_, sessions, _) = soft_shop(2, 5);
    let alone = |state: &State| {
        let mut state = state.clone();
        state.sets.truncate(1);
        for set in &mut state.sets {
            set.spring = SpringNumber(2);
        }
        state
    };
    let sessions: Vec<State> = sessions.iter().map(alone).collect();
    let each: Vec<(f64, f64)> =
        sessions.iter().map(|state| in_logs(learned(&book(&said(std::slice::from_ref(state))), 1))).collect();
    let (ln, doubt) = in_logs(learned(&book(&said(&sessions)), 1));
    // Two posteriors with one prior in both: it is taken out once (0.2 % a use is no part of either).
    let certainty = |doubt: f64, uses: f64| 1.0 / (doubt * doubt - uses * 0.002 * 0.002);
    let parts = each.iter().map(|(_, doubt)| certainty(*doubt, 1.0)).sum::<f64>();
    let both = parts - 1.0 / (0.03 * 0.03);
    assert!((certainty(doubt, 2.0) / both - 1.0).abs() < 1e-9, "{doubt} {each:?}");
    let pulled = each.iter().map(|(ln, doubt)| ln * certainty(*doubt, 1.0)).sum::<f64>() / both;
    assert!((ln - pulled).abs() < 1e-9, "{ln} {pulled}");
}

#[test]
fn a_session_says_the_same_whatever_others_had_taught_it() {
    let (_, sessions, _) = soft_shop(6, 9);
    let before = book(&said(&sessions[..5]));
    let fresh = &sessions[5];
    let mut taught = fresh.clone();
    let setup = taught.setup.as_mut().expect("the intake is done");
    for spring in &mut setup.springs {
        let label = spring.label;
        let learned = spring.mark().and_then(|mark| before.learned(mark, label));
        spring.marked = spring.marked.map(|marked| Marked { learned, ..marked });
    }
    assert_ne!(assessed(&taught).findings.load, assessed(fresh).findings.load, "it was used in the session");
    assert_eq!(evidence(&taught, assets::doubts()), evidence(fresh, assets::doubts()));
}

#[test]
fn a_bike_that_comes_again_counts_as_one() {
    let (_, sessions, _) = soft_shop(1, 4);
    let said = said(&sessions);
    let session = |number: usize, began_from: Option<usize>, customer| MarkedSession {
        opened: day(number),
        began_from: began_from.map(day),
        customer,
        bike: "the red one",
        evidence: &said[0],
    };
    let book = |sessions: Vec<MarkedSession<'_>>| MarkBook::of(sessions, &rack(), assets::doubts());
    let place = usize::from(sessions[0].sets[0].spring.0) - 1;
    let once = learned(&book(vec![session(0, None, "")]), place);
    let again = [
        vec![session(0, None, ""), session(1, Some(0), ""), session(2, Some(1), "")],
        vec![session(0, None, "A. Rider"), session(1, None, "a.  rider"), session(2, None, "A. RIDER")],
        // The session that both began from read no marked spring.
        vec![session(3, Some(0), ""), session(1, Some(0), ""), session(2, Some(1), "")],
    ];
    for again in again {
        let known = learned(&book(again), place);
        assert_eq!((known.bikes, known.ratio.value), (1, once.ratio.value));
        let worn = in_logs(once).1.hypot(2.0_f64.sqrt() * 0.002).min(0.03);
        assert!((in_logs(known).1 - worn).abs() < 1e-12, "three uses wear more than one");
    }
    let others =
        learned(&book(vec![session(0, None, "A"), session(1, None, "B"), session(2, None, "")]), place);
    assert_eq!(others.bikes, 3);
}

#[test]
fn a_mark_on_a_coil_of_another_rate_is_another_spring() {
    let (_, sessions, _) = soft_shop(3, 8);
    let book = book(&said(&sessions));
    assert_eq!(book.learned(mark(1), SpringRate::lb_per_in(475.0)), None);
    assert_eq!(book.learned(mark(7), SpringRate::lb_per_in(450.0)), None);
}

#[test]
fn what_a_scale_measured_of_a_marked_spring_is_known_before_the_bikes() {
    let (_, sessions, _) = soft_shop(4, 21);
    let said = said(&sessions);
    let mut rack = rack();
    rack[1].measured = Some(Estimate::new(SpringRate::lb_per_in(432.0), SpringRate::lb_per_in(2.2)));
    let session = |(number, evidence)| MarkedSession {
        opened: day(number),
        began_from: None,
        customer: "",
        bike: "",
        evidence,
    };
    let book = MarkBook::of(said.iter().enumerate().map(session).collect(), &rack, assets::doubts());
    let (ln, doubt) = in_logs(learned(&book, 1));
    assert!((ln - 0.96_f64.ln()).abs() < 0.006 && doubt < 0.009, "{ln} ± {doubt}");
}
