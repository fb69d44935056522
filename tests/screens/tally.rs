//! The tally on the screen: the same parts as on paper, counted from a day on, reached from the first screen and the list.

use std::fs;

use coilwright::screen::place::Place;
use coilwright::units::UnitSet;

use super::Stage;
use super::marks::marked_shop;
use super::review::TO_LIST;
use super::shopfloor::Shopfloor;

/// All that the place says, without blanks.
fn whole(shop: &Shopfloor) -> String {
    shop.frame(80, 200).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn it_is_a_key_of_the_first_screen_and_of_the_list() {
    for keys in ["i", "<F6>", &format!("{TO_LIST}<F6>")] {
        let mut shop = marked_shop();
        shop.press(keys).must_show("What our sessions teach: 4 finished sessions.");
        assert!(matches!(shop.model.place(), Place::Tally(_)), "{keys}");
        shop.press("<Esc>");
        assert!(!matches!(shop.model.place(), Place::Tally(_)), "{keys}");
    }
}

#[test]
fn it_says_what_the_command_says() {
    let mut shop = marked_shop();
    shop.press("i");
    let said = whole(&shop);
    for part in [
        "Not counted: 1 unfinished session.",
        "After a swap 5",
        "Factor for our doubts: ",
        "2026-05 1",
        "One session on average: ",
        "Rates to stock: springs that stayed",
    ] {
        assert!(said.contains(part), "{part} is not in {said}");
    }
}

#[test]
fn left_and_right_count_from_a_day_on_and_the_units_follow() {
    let mut shop = marked_shop();
    shop.press("i").press("<Right>").must_show("3 finished sessions since 2025-11-25.");
    assert!(!whole(&shop).contains("2025-09"));
    shop.press("<Right>").must_show("There are no finished sessions since 2026-08-25 in this folder.");
    shop.press("<Left><Left>").must_show("4 finished sessions.");
    shop.press("u");
    assert_eq!(shop.model.desk.units, UnitSet::Imperial);
    assert!(whole(&shop).contains("in 375 lb/in") || whole(&shop).contains(" in "), "{}", whole(&shop));
}

#[test]
fn a_session_that_cannot_be_read_is_said_and_the_others_are_counted() {
    let mut shop = marked_shop();
    fs::write(shop.records.join("2026-03-10-1005-000000.ron"), "(format: 2").expect("room");
    shop.press("i").must_show("1 session file cannot be read").must_show("4 finished sessions");
}

#[test]
fn it_can_be_left_and_looked_away_from_while_sessions_are_read() {
    // Nothing comes from a shell in memory: the place stays where it was begun.
    let mut stage = Stage::new();
    stage.press("i").press("?").press("<Esc>");
    assert!(stage.frame(80, 24).contains("Reading the sessions: 0 of 0."), "{}", stage.frame(80, 24));
    stage.press("<Esc>");
    assert!(matches!(stage.model.place(), Place::Home(_)));
}
