//! Customers of past sessions, offered while a name is typed: one customer, however the name is spelt.

use std::fs;
use std::path::Path;

use coilwright::archive::seal::{Revision, seal};
use coilwright::session::{Fact, Step, Value};
use coilwright::text::FreeText;

use super::shopfloor::{Shopfloor, demonstrations};

/// The closed sessions that ship, as if they were real: two visits of Anna's blue bike, one of her other bike, one of Ben's.
fn customers(records: &Path) {
    let real = [
        ("2025-09-20", "anna kovacic", "blue trail bike"),
        ("2026-06-11", "Anna Kovačić", "Blue trail bike"),
        ("2026-03-14", "Anna Kovačić", "enduro bike"),
        ("2026-05-23", "Ben Other", "park bike"),
    ];
    for file in demonstrations() {
        let name = file.file_name().expect("a name").to_string_lossy().into_owned();
        let Some((_, customer, bike)) = real.iter().find(|(day, _, _)| name.starts_with(day)) else {
            continue;
        };
        let line = |line: &str| match line.trim_start() {
            line if line.starts_with("customer:") => format!("    customer: \"{customer}\","),
            line if line.starts_with("bike_name:") => format!("    bike_name: \"{bike}\","),
            line if line.starts_with("origin:") => "    origin: Workshop,".to_owned(),
            _ => line.to_owned(),
        };
        let text = fs::read_to_string(&file).expect("text");
        let body: Vec<String> = text.lines().filter(|line| !line.starts_with("// rev")).map(line).collect();
        fs::write(records.join(name), seal(&(body.join("\n") + "\n"), Revision::new(1))).expect("room");
    }
}

/// At the name of the customer, in a new session.
fn at_the_name() -> Shopfloor {
    let mut shop = Shopfloor::with(customers);
    shop.press("<Enter><Up><Up>");
    shop
}

fn entered(shop: &Shopfloor, fact: Fact) -> Option<Value> {
    shop.record().intake.entered(fact)
}

fn text(shop: &Shopfloor, fact: Fact) -> Option<FreeText> {
    entered(shop, fact).and_then(|value| FreeText::try_from(value).ok())
}

#[test]
fn a_name_with_a_slip_in_it_offers_the_customer_with_each_of_their_bikes() {
    let mut shop = at_the_name();
    shop.press("ana kovacik");
    shop.must_show("Anna Kovačić, 3 visits, Blue trail bike")
        .must_show("Anna Kovačić, 3 visits, enduro bike");
    shop.must_show("Down marks one, Enter takes over");
    assert!(!shop.shows("Ben Other"));
    shop.press("<C-u>be").must_show("Ben Other, 1 visit, park bike");
}

#[test]
fn enter_on_an_offer_takes_the_bike_over_and_what_was_typed_today_stays() {
    let mut shop = Shopfloor::with(customers);
    shop.press("<Enter>84<Enter><Up><Up><Up>anna k<Down>");
    shop.must_show("▸ Anna Kovačić, 3 visits, Blue trail bike");
    shop.must_show("Enter take over this bike");
    shop.press("<Enter>").must_show("Details of 11 June 2026 taken over");
    assert_eq!(text(&shop, Fact::Customer), Some(FreeText::new("Anna Kovačić")));
    assert_eq!(text(&shop, Fact::BikeName), Some(FreeText::new("Blue trail bike")));
    let rider = shop.record().intake.rider.expect("typed");
    assert!((rider.as_kg() - 84.0).abs() < 1e-9, "{rider:?}");
    assert!(entered(&shop, Fact::Earlier).is_some() && !shop.record().intake.springs.is_empty());
    assert!(entered(&shop, Fact::Stroke).is_some() && entered(&shop, Fact::SpringOnArrival).is_some());
    // It is on disk at once.
    let files = fs::read_dir(&shop.records).expect("a folder").flatten();
    let kept = files.filter_map(|file| fs::read_to_string(file.path()).ok());
    assert!(kept.into_iter().any(|text| text.contains("rider_kg: 84.0") && text.contains("Blue trail bike")));
}

#[test]
fn enter_on_what_was_typed_takes_only_that() {
    let mut shop = at_the_name();
    shop.press("anna k<Down><Down><Up><Up><Enter>");
    assert_eq!(text(&shop, Fact::Customer), Some(FreeText::new("anna k")));
    assert!(entered(&shop, Fact::Stroke).is_none());
    // Behind the last offer comes the next row.
    shop.press("<Up>x<C-u>anna k<Down><Down><Down>");
    assert!(!shop.shows("3 visits"), "{}", shop.frame(80, 24));
}

#[test]
fn in_a_closed_session_an_offer_is_a_spelling_and_nothing_else() {
    let mut shop = Shopfloor::with(customers);
    shop.press("<Down><Down><Enter><Enter>");
    assert_eq!(shop.model.desk.session.as_ref().map(|session| session.state.step), None);
    // The newest session is closed; its name is corrected from the page of the past session.
    shop.press("c");
    assert_eq!(shop.model.desk.session.as_ref().map(|session| session.state.step), Some(Step::Closed));
    let stroke = entered(&shop, Fact::Stroke);
    shop.press("d<C-u>ben o<Down>");
    shop.must_show("Enter takes the name as it").must_show("Enter take this name");
    shop.press("<Enter>");
    let session = shop.model.desk.session.as_ref().expect("it is open");
    assert_eq!(session.state.entered.customer, FreeText::new("Ben Other"));
    assert_eq!(entered(&shop, Fact::Stroke), stroke);
}
