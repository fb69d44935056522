//! Setup cards: those of the demonstrations to the letter, and what holds for every card.

use coilwright::units::UnitSet;
use insta::assert_snapshot;
use proptest::prelude::*;
use unicode_width::UnicodeWidthStr;

use coilwright::mechanics::damper::Knob;
use coilwright::report;
use coilwright::session::{Deed, KerbReturn, Sheet, Step};
use coilwright::settings::Paper;
use coilwright::text::FreeText;

use super::{Session, busy, demonstrations};
use crate::walk::sample;

/// The page without its head, which is the same for all.
fn body(page: &str) -> &str {
    page.split_once("<body").expect("a body").1
}

#[test]
fn the_cards_of_the_demonstrations_as_text() {
    for session in demonstrations() {
        assert_snapshot!(format!("text_{}", session.name), session.card(UnitSet::Trade));
    }
}

#[test]
fn the_cards_of_the_demonstrations_as_pages() {
    for session in demonstrations() {
        assert_snapshot!(format!("page_{}", session.name), body(&session.page()));
    }
}

#[test]
fn a_card_in_inches_and_pounds_speaks_of_nothing_else() {
    for session in demonstrations() {
        let card = session.card(UnitSet::Imperial);
        assert!(!card.contains(" mm") && !card.contains(" kg"), "{card}");
        assert!(card.contains(" lb ready to ride"), "{card}");
    }
}

#[test]
fn the_page_needs_nothing_from_elsewhere_and_runs_nothing() {
    for session in demonstrations() {
        let page = session.page();
        for word in ["<script", "<link", "<img", "<iframe", "@import", "url(", "src=", "href="] {
            assert!(!page.contains(word), "{word} in {page}");
        }
        // The one address is the name of SVG, which nobody fetches (SVG 2, 1.4).
        let rest = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!rest.contains("://"), "{rest}");
    }
}

#[test]
fn a_bike_without_its_final_checks_is_not_ready_to_ride() {
    for session in demonstrations() {
        let closed = session.name != "2026-04-02-1640-81d0b7";
        assert_eq!(session.card(UnitSet::Trade).contains("Not ready to ride"), !closed, "{}", session.name);
    }
}

#[test]
fn every_card_of_a_demonstration_says_that_it_is_one() {
    for session in demonstrations() {
        for card in [session.card(UnitSet::Trade), session.page()] {
            assert!(card.contains("Demonstration: workshop, rider, bike and figures are invented."));
        }
    }
}

#[test]
fn a_session_of_many_sets_stays_within_what_one_sheet_holds() {
    let session = busy(20);
    let page = session.workshop_page();
    assert_eq!(page.matches("<tr>").count(), 1 + 12);
    assert!(page.contains("8 earlier sets are in the record.") && page.contains("and 4 more"), "{page}");
    assert!(page.contains("2 earlier trail checks are in the record."), "{page}");
    let longest =
        page.split(['<', '>']).filter(|text| !text.contains("@page")).map(UnicodeWidthStr::width).max();
    assert!(longest.expect("text") < 300, "{page}");
}

#[test]
fn the_head_of_a_card_is_the_shops() {
    let session = written_on();
    let text = FreeText::new;
    let paper = Paper {
        shop: text("Invented Workshop"),
        address: text("1 Example Lane"),
        mechanic: text("M. Example"),
        printer: text("lp"),
    };
    let head = report::Letterhead { paper: &paper, session: None };
    let card = report::card(&session.subject(), session.record.opened, UnitSet::Trade, head);
    let card = coilwright::document::as_text(&card);
    assert!(card.contains("Invented Workshop, 1 Example Lane; mechanic M. Example"), "{card}");
    assert!(!card.contains("lp\n"), "{card}");
}

/// A session with the sheet as found and as left, ridden and closed.
pub(super) fn written_on() -> Session {
    let mut record = sample::entered();
    sample::arrive(&mut record, Step::BenchCheck);
    sample::does(&mut record, Deed::AsFound(Box::new(sample::sheet())));
    sample::arrive(&mut record, Step::TrailCheck);
    let left = Sheet { rebound: Some(Knob { from_closed: 6, of: Some(14) }), ..sample::sheet() };
    sample::does(&mut record, Deed::AsLeft(Box::new(left)));
    sample::does(&mut record, Deed::RideTold(sample::ride()));
    sample::follow(&mut record, |state| state.step == Step::Closed);
    Session::new("2026-11-25-1000-000004", record)
}

#[test]
fn the_card_of_a_bike_with_a_sheet_says_how_it_was_found_and_left() {
    let card = written_on().card(UnitSet::Trade);
    assert_snapshot!("text_with_a_sheet", card);
    assert!(card.lines().count() < 90, "{} lines", card.lines().count());
}

#[test]
fn the_workshop_has_everything_on_its_own_copy() {
    let copy = written_on().workshop_copy(UnitSet::Trade);
    for words in ["Tried", "readings", "What if", "Front and rear", "The ride", "Torque"] {
        assert!(copy.contains(words), "{words} is missing: {copy}");
    }
}

#[test]
fn the_workshop_copy_names_who_worked_on_the_bike_once_each() {
    let mut session = written_on();
    assert!(!session.workshop_copy(UnitSet::Trade).contains("Mechanic"));
    for (place, entry) in session.record.entries.iter_mut().enumerate().skip(2) {
        entry.by = FreeText::new(if place % 2 == 0 { "Cleo" } else { "B. \u{1b}[2JOther" });
    }
    let copy = session.workshop_copy(UnitSet::Trade);
    let line = copy.lines().find(|line| line.contains("Mechanic")).expect("a line of it");
    assert!(line.contains("Cleo, B. ␛[2JOther") && !line.contains("Other,"), "{line}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    #[test]
    fn no_line_of_a_card_is_wider_than_72_columns(record in sample::record()) {
        let session = Session::new("2026-11-25-1000-000003", record);
        if session.assessment.is_none() {
            return Ok(());
        }
        for units in UnitSet::ALL {
            for line in [session.card(units), session.workshop_copy(units)].iter().flat_map(|card| card.lines()) {
                prop_assert!(line.width() <= 72, "{}", line);
            }
        }
    }
}

#[test]
fn a_click_of_rebound_by_the_kerb_stands_on_the_card() {
    let mut record = sample::entered();
    sample::arrive(&mut record, Step::KerbDrop);
    sample::does(&mut record, Deed::KerbDropped(KerbReturn::BouncesOn));
    sample::follow(&mut record, |state| state.step == Step::Closed);
    let card = Session::new("2026-11-25-1000-000004", record).card(UnitSet::Trade);
    assert!(card.contains("Kerb drop: rebound 1 click slower, towards closed"), "{card}");
}
