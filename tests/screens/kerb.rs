//! The kerb drop by keys: nothing is claimed that nobody saw, each answer says which way the knob goes, and it stands in what
//! is read later.

use coilwright::phrase;
use coilwright::session::{Deed, KerbReturn, Step};
use coilwright::units::UnitSet;

use super::guide::at_leg;

/// The walk up to the answers of the kerb drop, its caution read.
const AT_THE_KERB: usize = 25;

#[test]
fn enter_goes_on_without_it_and_claims_nothing() {
    let mut stage = at_leg(AT_THE_KERB);
    assert_eq!(stage.press("<Enter>").last(), Deed::KerbDropped(KerbReturn::NotDone));
    assert_eq!(stage.step(), Step::TrailCheck);
    let mut stage = at_leg(AT_THE_KERB);
    assert_eq!(stage.press("p").last(), Deed::KerbDropped(KerbReturn::NotDone));
}

#[test]
fn its_dangers_are_read_first_beside_those_of_the_first_ride() {
    let stage = at_leg(AT_THE_KERB - 1);
    for words in ["A kerb can throw the rider", "The first ride is a test ride", "Helmet on"] {
        assert!(stage.shows(words), "{}", stage.frame(80, 24));
    }
}

#[test]
fn bouncing_on_says_slower_and_stands_in_the_summary() {
    let mut stage = at_leg(AT_THE_KERB);
    stage.press("<Down><Down><Enter>");
    assert_eq!(stage.step(), Step::KerbDrop);
    assert!(stage.shows("Bounces on: rebound 1 click slower, towards closed."), "{}", stage.frame(80, 24));
    assert!(stage.shows("Go on without another roll"), "{}", stage.frame(80, 24));
    stage.press("t");
    assert!(!stage.shows("Bounces on: rebound"), "{}", stage.frame(80, 24));
    stage.press("e<Down><Enter>");
    stage.press("<Right><Enter><Right><Right><Enter><Right><Right><Enter><Enter><Enter>");
    assert_eq!(stage.step(), Step::Closed);
    let summary = "Kerb drop: rebound 1 click slower, towards closed";
    assert!(stage.frame(140, 60).contains(summary), "{}", stage.frame(140, 60));
    let told = stage.record().entries.iter().map(|entry| phrase::deed(&entry.deed, UnitSet::Trade, &[]));
    let kerb: Vec<String> = told.filter(|line| line.starts_with("Kerb drop")).collect();
    let bounces = "Kerb drop: bounces on";
    assert_eq!(kerb, [bounces, "Kerb drop: one return, no second bounce"]);
}
