//! Past sessions: the list and what finds in it, one session to look at, and the ways on from it.

use std::fs;

use coilwright::screen::keys::binding;
use coilwright::screen::part::footer;
use coilwright::screen::place::Place;
use coilwright::session::{Origin, Step};

use super::shopfloor::{Shopfloor, copy_demonstrations, fill_with};

/// From the first screen to the list of past sessions.
pub(crate) const TO_LIST: &str = "<Up><Up><Up><Up><Up><Up><Up><Enter>";

fn listed() -> Shopfloor {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press(TO_LIST);
    shop
}

/// A shop with one record, changed in this way.
fn with_one(name: &str, change: impl Fn(String) -> String) -> Shopfloor {
    let mut shop = Shopfloor::with(|records| {
        let text = fs::read_to_string(format!("sessions/{name}")).expect("it ships");
        fs::write(records.join(name), change(text)).expect("it can be written");
    });
    shop.press(TO_LIST);
    shop
}

#[test]
fn all_sessions_are_listed_newest_first() {
    let frame = listed().frame(80, 24);
    let days = ["2026-06-11", "2026-05-23", "2026-04-02", "2026-03-14", "2025-09-20"];
    let places = days.map(|day| frame.find(day).unwrap_or_else(|| panic!("{day} is missing:\n{frame}")));
    assert!(places.is_sorted(), "{frame}");
}

#[test]
fn letters_find_and_are_never_commands() {
    let mut shop = listed();
    shop.press("mountain");
    shop.must_show("2 of 5 sessions");
    shop.press(" 2025-09");
    shop.must_show("1 of 5 sessions");
    shop.press("<Esc>");
    shop.must_show("5 sessions");
    shop.press("q");
    assert!(matches!(shop.model.place(), Place::Review(_)));
}

#[test]
fn what_is_not_found_leaves_an_empty_list_and_says_so() {
    let mut shop = listed();
    shop.press("xyzzyx<Enter><Down>");
    shop.must_show("none of 5 sessions");
}

#[test]
fn an_empty_folder_says_so() {
    let mut shop = Shopfloor::with(|_| {});
    shop.press(TO_LIST).must_show("No session is saved in this folder yet.");
}

#[test]
fn one_session_is_looked_at_without_being_touched() {
    let mut shop = listed();
    let before = fs::read(shop.records.join("2026-06-11-1130-a27713.ron")).expect("it is there");
    shop.press("<Enter>");
    shop.press("<PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn><PgDn>");
    shop.must_show("Trail: bottoming never, ride height right, feel right; livelier, as\n         wanted");
    shop.must_show("Session closed");
    assert!(shop.model.desk.session.is_none());
    assert_eq!(fs::read(shop.records.join("2026-06-11-1130-a27713.ron")).expect("there"), before);
    shop.press("<Esc>").must_show("5 sessions");
}

#[test]
fn going_on_opens_it_and_back_leads_home() {
    let mut shop = listed();
    shop.press("81d0b7<Esc>small<Enter>c");
    assert!(shop.model.desk.session.is_some(), "{}", shop.frame(80, 24));
    shop.press("<Esc>");
    assert!(matches!(shop.model.place(), Place::Home(_)));
    assert!(shop.model.desk.session.is_none());
}

#[test]
fn a_record_changed_outside_is_listed_as_that() {
    let mut shop =
        with_one("2026-06-11-1130-a27713.ron", |text| text.replace("rider_kg: 78.5", "rider_kg: 79.5"));
    shop.must_show("edited");
    shop.press("<Enter>").must_show("This record was changed outside the program");
}

#[test]
fn a_record_of_a_later_program_is_listed_as_that() {
    let mut shop = with_one("2026-06-11-1130-a27713.ron", |text| text.replace("format: 2", "format: 9"));
    shop.must_show("newer");
    shop.press("<Enter>").must_show("with the newer program that wrote it");
}

#[test]
fn a_damaged_record_says_where_and_goes_on_from_what_can_be_read() {
    let name = "2026-06-11-1130-a27713.ron";
    let mut shop = with_one(name, |text| text.replace("Read(reading_mm: 14.0)", "Read(reading_mm: x)"));
    let before = fs::read(shop.records.join(name)).expect("it is there");
    shop.must_show("damaged");
    shop.press("<Enter>").must_show("is damaged at line");
    shop.press("c");
    let steps = shop.record().entries.len();
    assert!(steps > 30, "{steps} entries were saved");
    assert_eq!(fs::read(shop.records.join(name)).expect("it is there"), before);
    let kept = fs::read_dir(&shop.records).expect("a folder");
    let records =
        kept.filter(|file| file.as_ref().expect("a file").path().extension().is_some_and(|end| end == "ron"));
    assert_eq!(records.count(), 2);
}

#[test]
fn a_damaged_record_goes_on_from_the_whole_version_beside_it_in_a_key() {
    let name = "2026-06-11-1130-a27713";
    let damaged = "(format: 1, opened: \"2026-";
    let mut shop = Shopfloor::with(|records| {
        let shipped = super::shopfloor::demonstrations();
        let whole = shipped.iter().find(|file| file.ends_with(format!("{name}.ron"))).expect("it ships");
        fs::copy(whole, records.join(format!(".{name}.older"))).expect("room");
        fs::write(records.join(format!("{name}.ron")), damaged).expect("room");
    });
    shop.press("<Down><Down><Enter>").must_show("damaged");
    shop.press("<Enter>").must_show("The version before it is whole.");
    assert_eq!(fs::read_to_string(shop.records.join(format!("{name}.ron"))).expect("text"), damaged);
    shop.press("c").must_show("lies untouched beside it");
    assert!(shop.record().entries.len() > 30);
    assert_eq!(fs::read_to_string(shop.records.join(format!(".{name}.aside-1"))).expect("text"), damaged);
}

#[test]
fn hundreds_of_sessions_are_listed_found_and_paged() {
    let mut shop = Shopfloor::with(|records| fill_with(records, 300));
    shop.press(TO_LIST).must_show("300 sessions");
    shop.press("<PgDn><PgDn><Down>").must_show("Invented customer 21");
    shop.press("customer 217").must_show("Invented customer 217");
    shop.press("<Enter>").must_show("Invented customer 217");
}

#[test]
fn what_was_learned_of_the_folder_is_remembered() {
    let mut shop = listed();
    shop.press("<Esc><Esc>");
    assert!(matches!(shop.model.place(), Place::Home(_)));
    fs::remove_file(shop.records.join("2026-06-11-1130-a27713.ron")).expect("it can be removed");
    shop.press("<Enter>").must_show("4 sessions");
}

#[test]
fn list_and_session_are_drawn_at_every_size() {
    for keys in ["", "d", "<Enter>", "<PgDn><PgDn>"] {
        let mut shop = listed();
        shop.press("<Enter><Esc>").press(keys);
        for width in (1..=100).chain([115, 116, 119, 120, 140, 200]) {
            for height in [1, 2, 3, 5, 8, 12, 23, 24, 25, 40, 60] {
                assert!(!shop.frame(width, height).trim().is_empty(), "{width} by {height}");
            }
        }
    }
}

#[test]
fn a_session_only_in_the_spool_is_listed_looked_at_and_put_back_by_going_on() {
    let name = "2026-06-11-1130-a27713.ron";
    let mut shop = Shopfloor::with(|records| {
        copy_demonstrations(records);
        let spool = records.with_file_name("spool").join("0000000000000007");
        fs::create_dir_all(&spool).expect("room");
        fs::rename(records.join(name), spool.join(name)).expect("it moves");
    });
    shop.press(TO_LIST).must_show("5 sessions");
    shop.must_show("backup");
    shop.press("2026-06-11<Enter>").must_show("This session is only in the backup on this computer");
    shop.press("c");
    assert!(shop.records.join(name).exists(), "{}", shop.frame(80, 24));
}

/// From the list to a new session for the rider of the marked one.
fn come_back() -> Shopfloor {
    let mut shop = listed();
    shop.press("2025-09-20<Enter>b");
    shop
}

#[test]
fn a_customer_who_is_back_is_asked_first_what_may_have_changed() {
    let shop = come_back();
    let frame = shop.frame(80, 24);
    let asked = ["▸ Rider, ready to ride", "Spring on the bike now", "Target sag", "Begin the work"];
    let places = asked.map(|row| frame.find(row).unwrap_or_else(|| panic!("{row} is missing:\n{frame}")));
    assert!(places.is_sorted(), "{frame}");
}

#[test]
fn all_that_was_told_is_carried_and_what_was_learned() {
    let shop = come_back();
    let intake = &shop.record().intake;
    assert_eq!(intake.customer.as_typed(), "Invented rider D");
    assert!(intake.notes.is_empty() && intake.missing().is_empty());
    let earlier = intake.earlier.expect("it is entered");
    assert_eq!(earlier.opened.to_rfc3339(), "2025-09-20T14:20:00+02:00");
    assert!((0.5..0.9).contains(&earlier.rider_share.value.as_fraction()), "{earlier:?}");
    shop.must_show("What the session of 20 September 2025 taught is used");
    shop.must_show("Start with");
}

#[test]
fn the_work_begins_after_the_three_questions() {
    let mut shop = come_back();
    shop.press("<C-w><C-w>78.5<Enter><Enter><C-w><C-w><C-w><C-w>25<Enter><Enter>");
    let state = &shop.model.desk.session.as_ref().expect("open").state;
    assert_eq!(state.step, Step::BenchCheck, "{}", shop.frame(80, 24));
    assert_eq!(state.entered.rider.map(|rider| (rider.as_kg() * 10.0).round()), Some(785.0));
    assert_eq!(state.entered.target.map(|target| target.sag.as_percent().round()), Some(25.0));
}

#[test]
fn the_past_session_stays_as_it_was_when_its_customer_is_back() {
    let shop = come_back();
    let text = |name: &str| fs::read(name).expect("it is there");
    let kept = shop.records.join("2025-09-20-1420-a240f6.ron");
    assert_eq!(text(&kept.to_string_lossy()), text("sessions/2025-09-20-1420-a240f6.ron"));
}

#[test]
fn every_live_action_is_in_the_help_and_no_key_means_two_things() {
    let ways = ["", "<Enter>", "mountain<Enter>v", "<Esc><Down><Enter>", "<Esc><Down><Enter>a450<Enter>"];
    for way in ways {
        let mut shop = listed();
        shop.press(way);
        let (place, desk) = (shop.model.place(), &shop.model.desk);
        let (live, typing) = (place.live(desk), place.typing(desk));
        let frame = shop.frame(400, 24);
        for (key, name) in footer::shown(&live, typing) {
            let name = place.enter(desk).filter(|_| key == "Enter").unwrap_or(name);
            assert!(frame.contains(&format!("{key} {name}")), "{key} {name} is not in the footer:\n{frame}");
        }
        let keys: Vec<_> = live.iter().flat_map(|action| binding(*action).keys).collect();
        for (index, key) in keys.iter().enumerate() {
            assert!(!keys[index + 1..].contains(key), "{key:?} means two things at {way}");
        }
        let help = shop.press("<F1>").frame(100, 200);
        for action in live {
            assert!(
                help.contains(&binding(action).all_shown(typing)),
                "{action:?} is not in the help:\n{help}"
            );
        }
    }
}

#[test]
fn a_customer_who_is_back_is_offered_what_the_shop_has_now_and_keeps_the_spring_on_the_bike() {
    let mut shop = Shopfloor::with(|records| {
        copy_demonstrations(records);
        let rack = "(format: 1, springs: [(rate_lb_in: 475.0, stroke_mm: 65.0), (rate_lb_in: 525.0, stroke_mm: 65.0)])";
        fs::write(records.join("rack.ron"), rack).expect("it can be written");
    });
    shop.press(TO_LIST).press("2025-09-20<Enter>b");
    let intake = &shop.record().intake;
    let rates: Vec<f64> = intake.springs.iter().map(|spring| spring.label.as_lb_per_in().round()).collect();
    assert_eq!(rates, [475.0, 525.0, 375.0]);
    assert_eq!(intake.spring_on_arrival.map(|number| number.0), Some(3));
    shop.must_show("Start with");
}

#[test]
fn a_demonstration_gone_on_with_remains_one_and_says_so() {
    let mut shop = Shopfloor::of_demonstrations();
    shop.must_show(", demonstration");
    shop.press(TO_LIST).must_show("* Invented rider");
    shop.press("<Enter>").must_show("Demonstration: workshop, rider, bike and figures are invented.");
    shop.press("c").must_show("demonstration, ✓ saved");
    assert_eq!(shop.record().intake.origin, Origin::Demonstration);
}

#[test]
fn a_customer_who_comes_back_from_a_demonstration_stays_invented_and_a_new_session_does_not() {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press(TO_LIST)
        .press("<Enter>b")
        .must_show("it stays a demonstration")
        .must_show("demonstration, ✓ saved");
    assert_eq!(shop.record().intake.origin, Origin::Demonstration);
    // The way to a real session: a new one, whatever was looked at before.
    shop.press("<Esc>");
    let marked = |shop: &Shopfloor| {
        shop.frame(80, 24).lines().any(|line| line.contains('▸') && line.contains("New session"))
    };
    for _ in 0..20 {
        if !marked(&shop) {
            shop.press("<Down>");
        }
    }
    shop.press("<Enter>Somebody<Enter>");
    assert_eq!(shop.record().intake.origin, Origin::Workshop);
    assert!(!shop.shows("demonstration"), "{}", shop.frame(80, 24));
}

#[test]
fn a_demonstration_has_its_sign_and_its_state_in_a_narrow_list() {
    let frame = listed().frame(80, 24);
    assert!(frame.contains("* Invented rider D") && frame.contains("* demonstration"), "{frame}");
    assert!(frame.contains("closed") && !frame.contains(" invented "), "{frame}");
    let wide = listed().frame(120, 40);
    assert!(!wide.contains("* Invented") && wide.contains("invented, "), "{wide}");
}
