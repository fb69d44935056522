//! The first screen: every unfinished session, the one worked on last first, and numerals that take a line.

use coilwright::archive::SessionName;
use coilwright::archive::index::WorkSummary;
use coilwright::assessment::Standing;
use coilwright::screen::effect::{ListedSession, ListedSummary, SessionProgress};
use coilwright::screen::place::Place;
use coilwright::screen::theme::Theme;
use coilwright::session::{Origin, Record, Step};
use coilwright::text::FreeText;
use coilwright::units::{Share, SpringRate};

use super::shopfloor::Shopfloor;
use super::{Memory, Stage, noon};

/// Sessions opened at noon, each worked on so many hours later.
fn worked_on(sessions: &[(u32, &str, i64)]) -> Stage {
    let past = sessions.iter().map(|(number, customer, hours)| {
        let work = WorkSummary {
            last_worked: noon() + chrono::TimeDelta::hours(*hours),
            step: Step::Decision,
            fitted: Some(SpringRate::lb_per_in(450.0)),
            swaps: 0,
            sag: Some(Share::percent(37.4)),
            standing: Some(Standing::Above),
            target: Some(Share::percent(30.0)),
        };
        let summary = ListedSummary::Read {
            opened: noon(),
            customer: FreeText::new(customer),
            bike: FreeText::default(),
            origin: Origin::Workshop,
            progress: SessionProgress::Unfinished,
            work,
        };
        (ListedSession { name: SessionName::new(&noon(), *number), summary }, Record::new(noon()))
    });
    Stage::with(Memory { past: past.collect(), ..Memory::default() }, Theme::DARK)
}

#[test]
fn every_unfinished_session_is_offered_the_one_worked_on_last_first() {
    let stage = worked_on(&[(1, "Early", 1), (2, "Late", 5), (3, "Between", 3)]);
    let frame = stage.frame(80, 24);
    let at = |name: &str| frame.find(name).unwrap_or_else(|| panic!("{name}:\n{frame}"));
    assert!(at("Late") < at("Between") && at("Between") < at("Early"), "{frame}");
    assert!(frame.contains("450 lb/in · ▲ 37.4 % · "), "{frame}");
}

#[test]
fn a_numeral_takes_its_line() {
    let mut stage = worked_on(&[(1, "Early", 1), (2, "Late", 5)]);
    stage.press("3");
    assert!(matches!(stage.model.place(), Place::Intake(_)), "{}", stage.frame(80, 24));
    assert!(stage.press("<Esc>8").shows("Settings"), "{}", stage.frame(80, 24));
}

#[test]
fn a_session_begun_by_mistake_is_discarded_once_asked_about_and_comes_back() {
    let mut shop = Shopfloor::with(|_| {});
    shop.press("<Enter><Up><Up>Mistaken<Enter><Esc>").must_show("Go on: Mistaken");
    shop.press("<Del>").must_show("Discard Mistaken? Press Del again");
    // Another line marked, it is asked about again.
    shop.press("<Down><Up><Del>").must_show("Go on: Mistaken");
    shop.press("<Del>").must_show("is in the wastebasket");
    assert!(!shop.shows("Go on:"), "{}", shop.frame(80, 24));
    shop.press("t").must_show("Go on: Mistaken");
}
