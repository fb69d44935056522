//! Springs with a mark: typed on the rack, learned from past sessions, offered and written into a new session's record.
//!
//! The past sessions are the demonstrations, entered as if a workshop had them, with marks on some of their springs.

use std::fs;

use coilwright::archive::form::{self, Unknown};
use coilwright::session::{Detail, Spring};
use coilwright::text::mark::Mark;

use super::rack::shop;
use super::review::TO_LIST;
use super::shopfloor::{Shopfloor, copy_demonstrations};

/// From the first screen to the rack.
pub(crate) const TO_RACK: &str = "<Up><Up><Up><Up><Up><Up><Enter>";
/// Three marked springs that the past sessions read, a fourth that nobody read, and two without a mark.
const RACK: &str = "(format: 1, springs: [(rate_lb_in: 375.0, stroke_mm: 62.0, mark: \"C1\", count: 0), \
                    (rate_lb_in: 450.0, stroke_mm: 65.0, mark: \"A3\"), (rate_lb_in: 450.0, stroke_mm: 65.0, mark: \"A4\"), \
                    (rate_lb_in: 500.0, stroke_mm: 62.0, mark: \"B1\", measured_lb_in: 507.0, measured_doubt_lb_in: 5.0), \
                    (rate_lb_in: 550.0, stroke_mm: 65.0, count: 2)])";

/// A shop that marked its springs and has worked with them.
pub(crate) fn marked_shop() -> Shopfloor {
    Shopfloor::with(|records| {
        copy_demonstrations(records);
        for file in fs::read_dir(records).expect("the records") {
            let path = file.expect("a file").path();
            let Ok(text) = fs::read_to_string(&path) else { continue };
            let text = text
                .replace("origin: Demonstration,", "")
                .replace(
                    "rate_lb_in: 375.0, stroke_mm: 62.0)",
                    "rate_lb_in: 375.0, stroke_mm: 62.0, mark: \"C1\")",
                )
                .replace(
                    "rate_lb_in: 450.0, stroke_mm: 65.0)",
                    "rate_lb_in: 450.0, stroke_mm: 65.0, mark: \"A3\")",
                )
                .replace(
                    "rate_lb_in: 500.0, stroke_mm: 62.0)",
                    "rate_lb_in: 500.0, stroke_mm: 62.0, mark: \"B1\")",
                );
            fs::write(&path, text).expect("it can be written");
        }
        fs::write(records.join("rack.ron"), RACK).expect("it can be written");
    })
}

fn with_mark(springs: &[Spring], mark: &str) -> Spring {
    let mark = Mark::read(mark).expect("a mark");
    *springs.iter().find(|spring| spring.mark() == Some(mark)).expect("it is on the list")
}

fn file(shop: &Shopfloor) -> String {
    fs::read_to_string(shop.records.join("rack.ron")).expect("it is there")
}

#[test]
fn a_mark_is_typed_on_the_rack_and_stands_in_its_file() {
    let mut shop = shop(None);
    shop.press("a450x65, mark a3<Enter>").must_show("A3");
    assert!(file(&shop).contains("mark: \"A3\""), "{}", file(&shop));
    // A single spring: there is no second one to count.
    shop.press("<Right>");
    assert!(file(&shop).contains("count: 1"));
    shop.press("<Left>");
    assert!(file(&shop).contains("count: 0"));
    shop.press("<Enter><End>4<Enter>").must_show("A34");
    shop.press("t").must_show("A3 ");
}

#[test]
fn a_mark_that_is_none_or_another_springs_is_refused_with_the_way_out() {
    let mut shop = shop(Some("(format: 1, springs: [(rate_lb_in: 450.0, mark: \"A3\")])"));
    for (line, said) in [
        ("500, mark 3A", "A mark is one word of at most 8 letters and digits"),
        ("500, mark x2", "means something else"),
        ("500, mark a3", "Two springs have the mark A3"),
        ("500 x2, mark B1", "B1 is the mark of one spring"),
        ("500 550, mark B1", "A mark belongs to one spring"),
    ] {
        shop.press("a").press(&"<BSpace>".repeat(40)).press(line).press("<Enter>").must_show(said);
        shop.press("<Esc>");
    }
    assert_eq!(file(&shop).matches("rate_lb_in").count(), 1);
}

#[test]
fn the_rack_says_what_past_sessions_found() {
    let mut shop = marked_shop();
    // Two sessions of one bike are one bike.
    shop.press(TO_RACK).must_show("C1 was found").must_show(", on 1 bike.");
    shop.press("<Down>").must_show("A3 was found");
    shop.press("<Down>");
    assert!(!shop.shows("was found"), "nobody read A4");
    // What a scale measured is known beforehand.
    shop.press("<Down>").must_show("B1 was found").must_show("507 ± 5 lb/in");
    assert!(shop.frame(140, 40).contains("found"));
}

#[test]
fn a_new_session_begins_with_what_was_found_and_needs_no_past_for_it_again() {
    let mut shop = marked_shop();
    shop.press("<Down><Enter>").press("88<Enter>150<Enter>62<Enter>").press("<Tab><Enter>");
    let springs = shop.record().intake.springs.clone();
    let [found, new] = ["A3", "A4"].map(|mark| with_mark(&springs, mark));
    let learned = found.learned().expect("past sessions read it");
    assert_eq!((learned.bikes, new.learned()), (1, None));
    assert!(springs.iter().all(|spring| spring.label.as_lb_per_in() > 400.0), "C1 is out");
    // In the file it stands with the spring, and reads back the same without any other session.
    let text = form::write(shop.record(), &Unknown::default()).expect("it can be written");
    assert!(
        text.starts_with("(\n    format: 4,\n") && text.contains("mark: \"A3\", learned: (ratio: "),
        "{text}"
    );
    assert_eq!(form::read(&text).expect("it reads").record, *shop.record());
}

#[test]
fn a_marked_spring_is_meant_by_its_mark_wherever_a_spring_is_typed() {
    let mut shop = marked_shop();
    // On the form: the customer's own 450 is not the shop's A3, and A3 is.
    shop.press("<Down><Enter>").press("88<Enter>150<Enter>62<Enter>");
    shop.press("a3<Enter>");
    let session = shop.model.desk.session.as_ref().expect("a session");
    let fitted = session.state.entered.spring_on_arrival;
    let a3 = with_mark(&session.state.entered.springs, "A3");
    assert_eq!(fitted, Some(a3.number));
    shop.press("<Up>").must_show("A3");
    shop.press(&"<BSpace>".repeat(8)).press("450x65<Enter>");
    let entered = &shop.model.desk.session.as_ref().expect("a session").state.entered;
    let on_bike = entered.springs.iter().find(|spring| Some(spring.number) == entered.spring_on_arrival);
    assert_eq!(on_bike.map(|spring| spring.marked), Some(None), "the customer's own");
}

#[test]
fn a_customer_who_is_back_on_a_marked_spring_has_it_once_and_as_it_is_known_now() {
    let mut shop = marked_shop();
    // The rack still counts A3, which the customer of the park bike rides.
    shop.press(&format!("{TO_LIST}park<Enter>b"));
    let springs = shop.record().intake.springs.clone();
    let marks: Vec<Mark> = springs.iter().filter_map(Spring::mark).collect();
    assert_eq!(marks.iter().filter(|mark| mark.to_string() == "A3").count(), 1, "{marks:?}");
    let a3 = with_mark(&springs, "A3");
    assert_eq!(shop.record().intake.spring_on_arrival, Some(a3.number));
    assert!(a3.learned().is_some());
    assert!(!shop.record().intake.details().iter().any(|detail| matches!(detail, Detail::Notes(_))));
}
