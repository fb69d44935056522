//! The shop's rack on the screen and in its file, and the intake that offers it.

use std::fs;

use coilwright::screen::place::Place;
use insta::assert_snapshot;

use super::shopfloor::Shopfloor;

/// From the first screen to the rack.
const TO_RACK: &str = "<Up><Up><Up><Up><Up><Up><Enter>";
/// Three kinds of spring, typed.
pub(crate) const THREE: &str =
    "a450 x2, stroke 65, bore 36.5<Enter>a500, stroke 65, measured 507 +- 5<Enter>a400<Enter>";

/// A shop with this text as its rack.
pub(crate) fn shop(text: Option<&str>) -> Shopfloor {
    let mut shop = Shopfloor::with(|records| {
        if let Some(text) = text {
            fs::write(records.join("rack.ron"), text).expect("it can be written");
        }
    });
    shop.press(TO_RACK);
    shop
}

fn file(shop: &Shopfloor) -> String {
    fs::read_to_string(shop.records.join("rack.ron")).expect("it is there")
}

#[test]
fn springs_are_typed_and_are_in_the_file_at_once() {
    let mut shop = shop(None);
    shop.must_show("No spring is on the rack yet");
    assert!(!shop.records.join("rack.ron").exists());
    shop.press(THREE).must_show("t undoes");
    assert_snapshot!(file(&shop));
    shop.press("<Esc><Enter>").must_show("507 ± 5 lb/in");
}

#[test]
fn a_kind_is_counted_up_and_down_and_never_below_none() {
    let mut shop = shop(Some("(format: 1, springs: [(rate_lb_in: 450.0, count: 1)])"));
    shop.press("<Right><Right>");
    assert!(file(&shop).contains("count: 3"));
    shop.press("<Left><Left><Left><Left>");
    assert!(file(&shop).contains("count: 0"));
}

#[test]
fn what_is_removed_or_counted_comes_back_change_by_change() {
    let mut shop = shop(Some("(format: 1, springs: [(rate_lb_in: 450.0), (rate_lb_in: 500.0)])"));
    assert!(!shop.shows("t undo "));
    shop.press("<Del><Right>");
    assert!(!file(&shop).contains("450.0") && file(&shop).contains("count: 2"));
    shop.press("t");
    assert!(!file(&shop).contains("450.0") && !file(&shop).contains("count: 2"));
    shop.press("t").must_show("450 lb/in");
    assert!(file(&shop).contains("450.0") && !shop.shows("t undo "));
    shop.press("<Esc>");
    assert!(matches!(shop.model.place(), Place::Home(_)));
}

#[test]
fn a_line_left_before_it_was_accepted_opens_again_as_it_was() {
    let mut shop = shop(Some("(format: 1, springs: [(rate_lb_in: 450.0)])"));
    shop.press("a500, stroke<Esc>").must_show("Your text is not lost");
    shop.press("a 65<Enter>").must_show("500 lb/in");
    // A line that was not touched has nothing to come back to.
    shop.press("<Enter><Esc>");
    assert!(!shop.shows("What was typed"));
}

#[test]
fn a_file_with_faults_is_shown_with_all_of_them_and_never_written_over() {
    let text = "(\n  format: 1,\n  springs: [\n    (rate_lb_in: 45000.0),\n    (rate_lb_in: 450.0, stroke_mm: 9000.0),\n    \
                (rate_lb_in: 500,0),\n  ],\n)";
    let mut shop = shop(Some(text));
    for line in ["Line 4: Spring rate must be", "Line 5: Spring stroke must be", "Line 6: a comma"] {
        shop.must_show(line);
    }
    shop.press("a450<Enter>");
    assert_eq!(file(&shop), text);
}

#[test]
fn a_rack_somebody_else_changed_meanwhile_is_left_alone() {
    let mut shop = shop(Some("(format: 1, springs: [(rate_lb_in: 450.0)])"));
    let theirs = "(format: 1, springs: [(rate_lb_in: 600.0)])";
    fs::write(shop.records.join("rack.ron"), theirs).expect("it can be written");
    shop.press("<Right>").must_show("was changed by somebody else meanwhile");
    shop.must_show("on the screen only");
    assert_eq!(file(&shop), theirs);
    shop.press("<Esc><Esc><Enter>").must_show("600 lb/in");
}

#[test]
fn a_line_that_cannot_be_read_stays_and_says_what_is_taken() {
    let mut shop = shop(None);
    shop.press("a450, colour red<Enter>").must_show("After the rate come stroke");
    shop.must_show("450, colour red");
}

#[test]
fn the_intake_offers_what_is_on_the_rack_with_all_that_is_known() {
    let mut shop = shop(None);
    shop.press(THREE).press("<Esc><Up><Up><Up><Enter>").press("112<Enter>160<Enter>65<Enter>");
    shop.must_show("4 springs, 400 to 500 lb/in  from the rack");
    shop.press("<Tab><Enter>");
    let rack = &shop.record().intake.springs;
    assert_eq!(rack.len(), 4);
    assert!(rack[3].measured.is_some() && rack[1].bore.is_some() && rack[0].stroke.is_none(), "{rack:?}");
}

#[test]
fn the_rack_is_drawn_at_every_size() {
    for keys in ["", "a", "450 x2, stroke 65<Enter>", "<Right>", "<Enter>"] {
        let mut shop = shop(Some("(format: 1, springs: [(rate_lb_in: 450.0)])"));
        shop.press("a").press("500<Enter>").press(keys);
        for width in (1..=90).chain([116, 140, 200]) {
            for height in [1, 2, 3, 5, 8, 12, 23, 24, 25, 40, 60] {
                assert!(!shop.frame(width, height).trim().is_empty(), "{width} by {height}");
            }
        }
    }
}

#[test]
fn a_large_window_shows_the_springs_by_rate_with_the_gap_between() {
    let mut shop = super::marks::marked_shop();
    let frame = shop.press(super::marks::TO_RACK).frame(200, 60);
    for shown in ["Springs by rate", "gap of 75 lb/in", "450 lb/in  ▄ ▄"] {
        assert!(frame.contains(shown), "no {shown}:\n{frame}");
    }
    // 450, 500 and 550 are a step of 50 apart.
    assert_eq!(frame.matches("gap of").count(), 1, "{frame}");
}
