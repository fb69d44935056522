//! The springs of the shop beyond the session's list: offered at the verdict, put on the list by a key, typed in quick
//! trials, and the rate to get where the shop has none either.
//!
//! The bike and its readings are invented. That a spring whose coils close before the shock's stroke ends must not be
//! fitted, and that springs come in steps of 50 lb/in, some of 25, is common practice, no source.

use std::fs;

use coilwright::assessment::Advice;
use coilwright::screen::model::OpenSession;
use coilwright::screen::place::Place;
use coilwright::session::{Deed, Detail, SpringNumber, Step};
use coilwright::units::{Length, SpringRate};
use insta::assert_snapshot;

use super::guide::WALK;
use super::shopfloor::Shopfloor;
use super::{WHOLE_INTAKE, WHOLE_TRIALS};

/// A shop whose rack holds these, and the intake of a bike whose session has three springs that are all too soft.
fn shop(springs: &str) -> Shopfloor {
    Shopfloor::with(|records| {
        let text = format!("(format: 1, springs: [{springs}])");
        fs::write(records.join("rack.ron"), text).expect("it can be written");
    })
}

/// The intake with a short list.
fn intake() -> String {
    short(WHOLE_INTAKE)
}

fn short(intake: &str) -> String {
    intake.replace("350-600 by 50, stroke 70", "400 425 450, stroke 70")
}

/// The guided walk at the verdict, with far too much sag on the stiffest spring of the list.
fn at_the_verdict(springs: &str) -> Shopfloor {
    let mut shop = shop(springs);
    shop.press("<Enter>").press(&intake()).press("<Enter>");
    for leg in &WALK[..=10] {
        shop.press(leg.keys);
    }
    assert_eq!(shop.step(), Step::Decision, "{}", shop.frame(80, 24));
    shop
}

/// The same in quick trials.
fn three_trials(springs: &str) -> Shopfloor {
    let mut shop = shop(springs);
    shop.press("<Down><Enter>").press(&short(WHOLE_TRIALS)).press("<Enter><Enter><Enter><Enter>");
    shop.press("24.5<Enter>24<Enter>24.5<Enter>");
    shop
}

impl Shopfloor {
    fn session(&self) -> &OpenSession {
        self.model.desk.session.as_ref().expect("a session is open")
    }

    fn step(&self) -> Step {
        self.session().state.step
    }

    fn last(&self) -> Deed {
        self.record().entries.last().expect("something was done").deed.clone()
    }

    /// The main column of the guide as running text.
    fn running(&self) -> String {
        let frame = self.frame(100, 40);
        let column = frame.lines().map(|line| line.chars().take(76).collect::<String>());
        column.collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The rates of the list with their numbers.
    fn list(&self) -> Vec<(u16, f64)> {
        let entered = &self.session().state.entered;
        entered.springs.iter().map(|spring| (spring.number.0, spring.label.as_lb_per_in().round())).collect()
    }
}

const FIVE_FIFTY: &str = "(rate_lb_in: 550.0, stroke_mm: 70.0, bore_mm: 38.0)";

#[test]
fn a_spring_of_the_shop_that_lands_is_offered_and_one_key_puts_it_on_the_list() {
    for keys in ["<Enter>", "a"] {
        let mut shop = at_the_verdict(FIVE_FIFTY);
        shop.must_show("Better: the shop's 550 lb/in").must_show("on the rack: 550");
        shop.must_show("▸ Add the shop's 550 lb/in");
        shop.press(keys);
        assert_eq!(shop.list(), [(1, 400.0), (2, 425.0), (3, 450.0), (4, 550.0)]);
        let Deed::Entered(Detail::Springs(list)) = shop.last() else { panic!("{:?}", shop.last()) };
        assert_eq!(list[3].bore, Some(Length::mm(38.0)));
        // From here on the advice speaks of it by itself.
        shop.must_show("550 lb/in is on the list now.").must_show("550 lb/in: two steps of 50 stiffer");
        assert!(!shop.shows("Add the shop's"), "{}", shop.frame(80, 24));
        // And it is taken back like any step.
        shop.press("t").must_show("on the rack: 550");
    }
}

#[test]
fn what_is_foretold_of_a_spring_of_the_shop_is_foretold_of_it_on_the_list() {
    let mut shop = at_the_verdict(FIVE_FIFTY);
    let beyond = shop.session().shop_alternatives.clone().expect("the shop has one");
    let offered = beyond.held.expect("it has one").forecast;
    shop.press("a");
    let assessment = shop.session().assessment.as_ref().expect("assessed");
    assert!(assessment.forecasts.contains(&offered), "{offered:?}");
    assert_eq!(assessment.best_to_fit, Some(offered.spring));
}

#[test]
fn the_offer_on_the_screen() {
    let shop = at_the_verdict(FIVE_FIFTY);
    assert_snapshot!(shop.frame(80, 24));
    let shop = three_trials(FIVE_FIFTY);
    assert_snapshot!(shop.frame(80, 24));
    assert_snapshot!(shop.frame(140, 40));
}

#[test]
fn a_spring_that_is_clearly_better_is_offered_beside_the_advice() {
    let mut shop = shop(FIVE_FIFTY);
    shop.press("<Enter>")
        .press(&WHOLE_INTAKE.replace("350-600 by 50, stroke 70", "400 450 475, stroke 70"))
        .press("<Enter>");
    for leg in &WALK[..=10] {
        shop.press(leg.keys);
    }
    shop.must_show("on the rack: 550").must_show("Add the shop's 550 lb/in");
    // Offered only because it is clearly better, it is what is advised; what the list itself has stands beside it.
    shop.must_show("▸ Add the shop's 550 lb/in");
    assert!(shop.running().contains("Of those on the list:"), "{}", shop.running());
}

#[test]
fn the_shop_is_left_out_where_the_list_has_as_good_a_spring() {
    let mut shop = shop("(rate_lb_in: 560.0, stroke_mm: 70.0)");
    shop.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    for leg in &WALK[..=10] {
        shop.press(leg.keys);
    }
    assert!(!shop.shows("the shop"), "{}", shop.frame(80, 24));
}

#[test]
fn a_spring_that_is_out_is_said_to_be() {
    let shop = at_the_verdict("(rate_lb_in: 550.0, stroke_mm: 70.0, count: 0)");
    let running = shop.running();
    assert!(running.contains("On the rack, but out: 550 lb/in"), "{running}");
    assert!(running.contains("Or order another 550 lb/in"), "{running}");
    assert!(!shop.shows("Add the shop's"));
}

#[test]
fn a_spring_that_does_not_fit_is_not_offered_and_the_reason_is_said() {
    let shop = at_the_verdict("(rate_lb_in: 550.0, stroke_mm: 60.0)");
    let running = shop.running();
    assert!(running.contains("does not fit: its coils would close"), "{running}");
    assert!(running.contains("60.0 mm and the shock would compress it 65.0 mm"), "{running}");
    assert!(!shop.shows("Add the shop's"));
    let mut shop = three_trials("(rate_lb_in: 550.0, stroke_mm: 60.0)");
    let before = shop.record().clone();
    shop.press("s 550<Enter><Enter>").must_show("550 lb/in does not fit this shock");
    assert_eq!(*shop.record(), before);
}

#[test]
fn a_spring_too_narrow_for_the_shock_body_is_not_offered_either() {
    let mut shop = shop("(rate_lb_in: 550.0, stroke_mm: 70.0, bore_mm: 36.0)");
    let intake = intake().replace("2<Enter><Up>", "2<Enter><Tab>38<Enter><Up><Up><Up>");
    shop.press("<Enter>").press(&intake).press("<Enter>");
    for leg in &WALK[..=10] {
        shop.press(leg.keys);
    }
    let running = shop.running();
    assert!(running.contains("its inner diameter is 36.0 mm and the shock body's 38.0 mm"), "{running}");
    assert!(running.contains("at least 65.0 mm, inner diameter 38.0 mm"), "{running}");
}

#[test]
fn where_the_shop_has_none_either_the_one_to_get_is_named() {
    let shop = at_the_verdict("(rate_lb_in: 300.0, stroke_mm: 70.0)");
    let running = shop.running();
    assert!(running.contains("The shop has none that would; order 550 lb/in"), "{running}");
    assert!(running.contains("with a stroke of at least 65.0 mm"), "{running}");
    // A rider without a shop is not told about one.
    let running = at_the_verdict("").running();
    assert!(running.contains("Order 550 lb/in") && !running.contains("The shop"), "{running}");
}

/// Quick trials with one spring at hand, on the bike, and six readings alike.
fn six_alike(springs: &str, target: &str, reading: &str) -> Shopfloor {
    let mut shop = shop(springs);
    let intake =
        WHOLE_TRIALS.replace("30 +- 1.5", target).replace("350-600 by 50, stroke 70", "450, stroke 70");
    shop.press("<Down><Enter>").press(&intake).press("<Enter><Enter><Enter><Enter>");
    for _ in 0..6 {
        shop.press(reading).press("<Enter>");
    }
    shop
}

/// Only readings tell a second spring of one rate from the one on the bike.
#[test]
fn a_twin_of_the_spring_on_the_bike_is_not_offered() {
    for reading in ["17.6", "18"] {
        let twin = "(rate_lb_in: 450.0, stroke_mm: 75.0)";
        let shop = six_alike(twin, "30 +- 1.5", reading);
        assert_eq!(shop.session().offered(), None, "{reading} mm");
    }
}

#[test]
fn a_twin_of_the_spring_on_the_bike_is_not_the_one_to_get() {
    let shop = six_alike("", "30 +- 0.3<Enter>", "18.9");
    let advice = &shop.session().assessment.as_ref().expect("assessed").advice;
    assert!(matches!(advice, Advice::NothingOnTheList { .. }), "{advice:?}");
    assert_eq!(shop.session().shop_alternatives, None);
}

#[test]
fn a_rack_that_is_filled_meanwhile_is_looked_at_when_the_session_is_opened_again() {
    let mut shop = at_the_verdict("");
    let text = format!("(format: 1, springs: [{FIVE_FIFTY}])");
    fs::write(shop.records.join("rack.ron"), text).expect("it can be written");
    shop.press("<Esc><Enter>").must_show("on the rack: 550");
}

#[test]
fn in_quick_trials_the_shops_spring_joins_the_list_as_it_is_fitted() {
    let mut shop = three_trials(FIVE_FIFTY);
    let before = shop.record().clone();
    shop.press("s 550").must_show("= Change to 550 lb/in (the shop's, goes on the list)");
    // The cautions are the one question; Esc leaves everything as it was.
    shop.press("<Enter><Esc>");
    assert_eq!(*shop.record(), before);
    shop.press("<Enter><Enter>");
    assert_eq!(
        shop.last(),
        Deed::Swapped { spring: SpringNumber(4), preload_turns: coilwright::units::Turns::ZERO }
    );
    assert_eq!(shop.list().last(), Some(&(4, 550.0)));
}

#[test]
fn insert_puts_the_offered_spring_on_the_list_and_the_line_stays() {
    let mut shop = three_trials(FIVE_FIFTY);
    shop.press("24").press("<Ins>").must_show("550 lb/in is on the list now.").must_show("▸ 24");
    assert_eq!(shop.list().len(), 4);
}

#[test]
fn a_spring_nobody_knows_is_asked_about_once_and_then_joins_the_list() {
    let mut shop = three_trials("(rate_lb_in: 500.0, stroke_mm: 70.0, count: 0)");
    let before = shop.record().clone();
    shop.press("s 525<Enter>").must_show("No spring of 525 lb/in is on the list");
    assert_eq!(*shop.record(), before);
    // Its stroke is not known, so the caution that it may bind stands with the others.
    shop.press("<Enter>").must_show("goes on the list");
    shop.must_show("coils");
    shop.press("<Enter>");
    assert_eq!(shop.list().last(), Some(&(4, 525.0)));
    shop.press("s 500<Enter>").must_show("its rack says it is out");
    shop.press("<Enter><Enter>");
    assert_eq!(shop.list().last(), Some(&(5, 500.0)));
}

#[test]
fn a_figure_of_the_shop_alone_is_not_taken_for_its_spring() {
    let mut shop = three_trials(FIVE_FIFTY);
    let before = shop.record().clone();
    shop.press("550<Enter>").must_show("550.0 mm is more than the shock stroke");
    assert_eq!(*shop.record(), before);
}

#[test]
fn in_the_guide_a_spring_is_typed_to_join_the_list_and_is_marked_there() {
    let mut shop = at_the_verdict("");
    shop.press("<Enter>").must_show("Which spring?");
    shop.press("a").must_show("Add which spring?");
    shop.press("575/75").must_show("= 575 lb/in: goes on the list");
    shop.press("<Enter>").must_show("Enter once more puts it on the list");
    shop.press("<Enter>").must_show("575 lb/in is on the list now.").must_show("Which spring?");
    let Deed::Entered(Detail::Springs(list)) = shop.last() else { panic!("{:?}", shop.last()) };
    assert_eq!(list[3].stroke, Some(Length::mm(75.0)));
    assert!((list[3].label - SpringRate::lb_per_in(575.0)).abs() < SpringRate::lb_per_in(0.01));
    shop.press("<Enter>");
    assert_eq!(shop.step(), Step::Swap, "{}", shop.frame(80, 24));
}

#[test]
fn a_line_that_is_no_spring_stays_and_escape_goes_back_to_the_list() {
    let mut shop = at_the_verdict("");
    shop.press("<Enter>a").press("x<Enter>");
    let before = shop.record().clone();
    shop.press("<BSpace>500 550<Enter>").must_show("one spring at a time");
    shop.press("<Esc>").must_show("Which spring?");
    shop.press("<Esc>").must_show("No spring on the list");
    assert_eq!(*shop.record(), before);
    assert!(matches!(shop.model.place(), Place::Guide(_)));
}

#[test]
fn numbers_of_springs_stay_small_and_with_their_spring_however_often_the_list_is_corrected() {
    let mut shop = at_the_verdict("");
    for (line, list) in [
        ("450 500 550, stroke 70", vec![(3, 450.0), (4, 500.0), (5, 550.0)]),
        ("450 475 525, stroke 70", vec![(3, 450.0), (1, 475.0), (2, 525.0)]),
        ("450 475 600, stroke 70", vec![(3, 450.0), (1, 475.0), (4, 600.0)]),
    ] {
        shop.press("d")
            .press(&"<Tab>".repeat(4))
            .press(&"<BSpace>".repeat(60))
            .press(line)
            .press("<Enter><Esc>");
        assert_eq!(shop.list(), list, "{}", shop.frame(80, 24));
    }
}

/// Two springs of one rate with marks, and one without of another.
const MARKED: &str =
    "(rate_lb_in: 550.0, stroke_mm: 70.0, mark: \"A3\"), (rate_lb_in: 550.0, stroke_mm: 70.0, mark: \"B1\")";

#[test]
fn in_quick_trials_a_marked_spring_is_fitted_by_its_mark_and_never_guessed_by_its_rate() {
    let mut shop = three_trials(MARKED);
    shop.press("s 550<Enter>").must_show("have marks: A3, B1. Type the mark.");
    shop.press("<C-u>s b1 t 1/2").must_show("= Change to 550 lb/in (B1) (the shop's, goes on the list)");
    shop.press("<Enter><Enter>");
    let Deed::Swapped { spring, preload_turns } = shop.last() else { panic!("{:?}", shop.last()) };
    assert_eq!(preload_turns, coilwright::units::Turns::of(0.5));
    let listed = shop.session().state.entered.springs.iter().find(|one| one.number == spring).copied();
    assert_eq!(listed.and_then(|spring| spring.mark()).map(|mark| mark.to_string()).as_deref(), Some("B1"));
    shop.must_show("550 lb/in (B1)");
}

#[test]
fn in_the_guide_a_marked_spring_joins_the_list_by_its_mark() {
    let mut shop = at_the_verdict(MARKED);
    shop.press("<Down><Down><Down><Down><Enter>").must_show("Which spring?");
    shop.press("a550/70<Enter>").must_show("Type the mark.");
    shop.press(&"<BSpace>".repeat(9)).press("A3").must_show("= 550 lb/in (A3): the shop's");
    shop.press("<Enter>").must_show("550 lb/in (A3) is on the list now.");
    shop.press("aa3<Enter>").must_show("550 lb/in (A3) is on the list already");
}
