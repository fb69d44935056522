//! Help as a layer: the place beneath stays in sight, what is typed narrows both pages, the way back clears and then closes.

use coilwright::screen::place::Place;

use super::{Stage, guide, shopfloor::Shopfloor};

#[test]
fn the_place_beneath_stays_in_sight_and_a_small_window_is_all_help() {
    let mut stage = guide::at_leg(10);
    let before = stage.frame(80, 24);
    stage.press("?");
    let help = stage.frame(80, 24);
    let top = |frame: &str| frame.lines().take(4).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(top(&before), top(&help), "title and the first lines of the place:\n{help}");
    assert!(help.contains("╭ Help ") && help.contains("Keys: Guided walk"), "{help}");
    let small = stage.frame(60, 20);
    assert!(!small.contains('╭') && small.contains("Find") && small.contains("Keys: Guided walk"), "{small}");
}

#[test]
fn keys_come_first_and_enter_turns_to_the_words_and_back() {
    let mut stage = Stage::new();
    assert!(stage.press("?").shows("Keys: Home"));
    assert!(stage.shows("Enter words of the trade"), "{}", stage.frame(80, 24));
    stage.press("<Enter>");
    assert!(stage.shows("▸ Words") && !stage.shows("Keys: Home"), "{}", stage.frame(80, 24));
    assert!(stage.press("<Enter>").shows("Keys: Home"));
}

#[test]
fn typing_narrows_and_the_way_back_clears_before_it_closes() {
    let mut stage = Stage::new();
    stage.press("?tally");
    assert!(stage.shows("i, F6") && !stage.shows("Draws the screen again"), "{}", stage.frame(80, 24));
    stage.press("<Esc>");
    assert!(matches!(stage.model.place(), Place::Help(_)) && stage.shows("Keys: Home"));
    stage.press("<Esc>");
    assert!(matches!(stage.model.place(), Place::Home(_)));
}

#[test]
fn what_only_the_words_hold_is_shown_from_the_words() {
    let mut stage = Stage::new();
    stage.press("?coil bind");
    assert!(stage.shows("▸ Words") && stage.shows("Coil bind"), "{}", stage.frame(80, 24));
}

#[test]
fn a_figure_half_typed_is_shown_in_other_units_beneath_the_help_too() {
    let mut shop = Shopfloor::with(|_| {});
    shop.press("<Enter>180 lb<F1><F3><Esc>");
    let after = shop.frame(80, 24);
    let mut plain = Shopfloor::with(|_| {});
    plain.press("<Enter>180 lb<F3>");
    assert_eq!(after, plain.frame(80, 24));
}
