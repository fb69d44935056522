//! Sessions of one bike side by side.

use std::fs;

use coilwright::archive::seal::{Revision, seal};
use coilwright::screen::place::Place;

use super::shopfloor::{Shopfloor, copy_demonstrations, fill_with};

use super::review::TO_LIST;

pub(crate) fn compared() -> Shopfloor {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press(TO_LIST).press("2026-06-11<Enter>v");
    shop
}

#[test]
fn two_visits_stand_side_by_side_with_their_differences_marked() {
    let shop = compared();
    shop.must_show("2025-09-20");
    shop.must_show("2026-06-11");
    // Eight rows that differ, and what the mark says.
    assert_eq!(shop.frame(80, 24).matches('≠').count(), 9, "{}", shop.frame(80, 24));
}

#[test]
fn a_heavier_rider_explains_more_sag() {
    let mut shop = compared();
    shop.press("<PgDn><PgDn>");
    assert!(shop.frame(140, 40).contains("Nothing unusual: no spring has gone soft under a similar rider."));
}

#[test]
fn a_spring_that_sags_more_under_a_like_rider_is_pointed_out() {
    let mut shop = Shopfloor::with(|records| {
        copy_demonstrations(records);
        let text = fs::read_to_string("sessions/2025-09-20-1420-a240f6.ron").expect("it ships");
        let body: String = text.lines().filter(|line| !line.starts_with("// rev")).map(deeper).collect();
        let later = seal(&body, Revision::new(1));
        fs::write(records.join("2026-09-20-1420-a240f7.ron"), later).expect("it can be written");
    });
    shop.press(TO_LIST).press("2026-09-20<Enter>v");
    let frame = shop.frame(140, 40);
    assert!(frame.contains("the spring may have sagged"), "{frame}");
    assert!(frame.contains("20 September 2025") && frame.contains("20 September 2026"), "{frame}");
}

/// A line of a record a year later, every reading 4 mm deeper.
fn deeper(line: &str) -> String {
    let line = line.replace("2025-09-20", "2026-09-20");
    let Some((before, reading)) = line.split_once("reading_mm: ") else { return line + "\n" };
    let (figure, after) = reading.split_once(')').expect("a reading ends");
    let deeper = figure.parse::<f64>().expect("a figure") + 4.0;
    format!("{before}reading_mm: {deeper:.1}){after}\n")
}

#[test]
fn a_bike_with_one_session_says_so() {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press(TO_LIST)
        .press("enduro<Enter>v")
        .must_show("There is no other session for this customer and bike");
}

/// A shop with a visit and one a year later that sags more, in neither of which anybody wrote a name down.
fn two_nameless() -> Shopfloor {
    Shopfloor::with(|records| {
        let text = fs::read_to_string("sessions/2025-09-20-1420-a240f6.ron").expect("it ships");
        let body = || text.lines().filter(|line| !line.starts_with("// rev")).filter(|line| !names(line));
        for (name, body) in [
            ("2025-09-20-1420-a240f6", body().flat_map(|line| [line, "\n"]).collect::<String>()),
            ("2026-09-20-1420-a240f7", body().map(deeper).collect()),
        ] {
            let file = records.join(name).with_extension("ron");
            fs::write(file, seal(&body, Revision::new(1))).expect("it can be written");
        }
    })
}

/// Whether a line of a record names the customer or the bike.
fn names(line: &str) -> bool {
    ["customer:", "bike_name:"].iter().any(|field| line.trim_start().starts_with(field))
}

#[test]
fn sessions_without_any_name_are_not_taken_for_one_bike() {
    let mut shop = two_nameless();
    shop.press(TO_LIST).press("<Enter>v").must_show("This session has no customer or bike name");
    let mut shop = two_nameless();
    shop.press(TO_LIST).press("<C- ><Down><C- ><C-v>").must_show("Sessions side by side");
    assert!(!shop.frame(140, 60).contains("the spring may have sagged"), "{}", shop.frame(140, 60));
}

#[test]
fn sessions_picked_by_hand_are_compared_whatever_their_bikes() {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press(TO_LIST).press("<C- >");
    shop.must_show("1 picked");
    assert!(!shop.shows("Ctrl-V"), "one session is not compared");
    shop.press("<Down><C- ><Down><Down><C- >");
    shop.must_show("3 picked");
    shop.press("<C-v>");
    assert!(matches!(shop.model.place(), Place::Compare(_)), "{}", shop.frame(80, 24));
    shop.press("<Esc>").must_show("3 picked");
}

#[test]
fn a_session_stays_picked_while_others_are_searched_and_is_let_go_by_the_same_key() {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press(TO_LIST).press("enduro<C- ><Esc>2025-09<C- ><Esc>");
    shop.must_show("2 picked");
    shop.press("enduro<C- ><Esc>").must_show("1 picked");
    shop.press("<C-v>").must_show("1 picked");
}

#[test]
fn no_more_are_picked_than_are_compared() {
    let mut shop = Shopfloor::with(|records| fill_with(records, 20));
    shop.press(TO_LIST);
    for _ in 0..13 {
        shop.press("<C- ><Down>");
    }
    shop.press("<Up><C- >").must_show("12 sessions are picked, and no more are compared at once.");
    shop.must_show("12 picked");
}

#[test]
fn what_cannot_be_compared_is_said() {
    let mut shop = Shopfloor::with(|records| {
        copy_demonstrations(records);
        fs::write(records.join("2026-09-20-1420-a240f7.ron"), "no record").expect("it can be written");
    });
    shop.press(TO_LIST).press("<C- ><Down><C- ><C-v>");
    shop.must_show("Of these sessions fewer than two have their details complete");
    shop.press("<Down><C- ><C-v>").must_show("1 session is not compared");
}

#[test]
fn the_comparison_is_drawn_at_every_size() {
    let shop = compared();
    for width in (1..=100).chain([116, 140, 200]) {
        for height in [1, 2, 5, 12, 23, 24, 25, 40, 60] {
            assert!(!shop.frame(width, height).trim().is_empty(), "{width} by {height}");
        }
    }
}
