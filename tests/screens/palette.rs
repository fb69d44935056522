//! The palette: what can be done now by its name, and past sessions and springs of the rack where they can be used.

use std::fs;

use coilwright::screen::keys::{Action, binding};
use coilwright::screen::place::Place;

use super::shopfloor::Shopfloor;
use super::{guide, scenes, trials};

#[test]
fn it_lists_every_live_action_with_its_key_but_what_answers_or_only_moves() {
    for scene in scenes::one_of_every_place() {
        let mut stage = scene.stage();
        if stage.model.place().is_layer() {
            continue;
        }
        let desk = &stage.model.desk;
        let (live, typing) = (stage.model.place().live(desk), stage.model.place().typing(desk));
        let frame = stage.press("<F9>").frame(140, 120);
        for action in live {
            let row = binding(action);
            let key = row.shown(typing).expect("a live action has a key");
            let is_its = |part: &str| {
                let inside = part.trim_matches(|edge| " ▸".contains(edge));
                inside.starts_with(row.name) && inside.ends_with(&format!(" {key}"))
            };
            let wanted = !action.answers() && !action.moves() && action != Action::Palette;
            let listed = frame.lines().any(|shown| shown.split('│').any(is_its));
            assert_eq!(listed, wanted, "{} from {}:\n{frame}", row.name, scene.name);
        }
    }
}

#[test]
fn a_few_letters_and_enter_do_what_the_key_does() {
    let mut stage = guide::at_leg(10);
    let mut keyed = guide::at_leg(10);
    stage.press("<F9>undo<Enter>");
    keyed.press("<C-t>");
    assert_eq!(stage.record(), keyed.record());
    assert_eq!(stage.frame(80, 24), keyed.frame(80, 24));
}

#[test]
fn the_way_back_clears_then_closes_and_does_nothing() {
    let mut stage = guide::at_leg(10);
    let before = stage.frame(80, 24);
    stage.press("<F9>undo<Esc>");
    assert!(matches!(stage.model.place(), Place::Palette(_)));
    stage.press("<Esc>");
    assert_eq!(stage.frame(80, 24), before);
}

#[test]
fn a_past_session_is_found_as_in_the_list_of_them_and_opened_for_looking_at() {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press(":mountan").must_show("past session");
    shop.press("<Enter>");
    assert!(matches!(shop.model.place(), Place::PastSession(_)), "{}", shop.frame(80, 24));
    shop.press("<Esc>");
    assert!(matches!(shop.model.place(), Place::Home(_)), "{}", shop.frame(80, 24));
}

#[test]
fn no_past_session_is_offered_while_one_is_open() {
    let mut shop = Shopfloor::of_demonstrations();
    shop.press("<Enter><F9>");
    assert!(!shop.frame(140, 120).contains("past session "), "{}", shop.frame(140, 120));
}

#[test]
fn a_spring_of_the_rack_is_shown_there_from_the_first_screen() {
    let mut shop = Shopfloor::with(|records| {
        let rack = "(format: 1, springs: [(rate_lb_in: 475.0, stroke_mm: 65.0), (rate_lb_in: 525.0, stroke_mm: 65.0)])";
        fs::write(records.join("rack.ron"), rack).expect("it can be written");
    });
    shop.press(":525<Enter>");
    assert!(matches!(shop.model.place(), Place::Rack(_)), "{}", shop.frame(80, 24));
    let frame = shop.frame(80, 24);
    let marked = frame.lines().find(|line| line.contains('▸')).expect("a marked spring");
    assert!(marked.contains("525"), "{frame}");
}

#[test]
fn in_quick_trials_it_types_the_swap_and_saves_nothing() {
    let mut stage = trials::ready();
    stage.model.desk.shelf.rack =
        coilwright::screen::effect::ShopRack::Read(vec![coilwright::session::ShopSpring::labelled(
            coilwright::units::SpringRate::lb_per_in(550.0),
        )]);
    let before = stage.record().clone();
    stage.press("<F9>550<Enter>");
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("s 550 lb/in"), "{}", stage.frame(80, 24));
    // Enter there goes on to the cautions of the swap.
    stage.press("<Enter>");
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("spring"), "{}", stage.frame(80, 24));
}

#[test]
fn an_enter_held_down_in_it_answers_nothing_that_comes_of_it() {
    let mut stage = guide::at_leg(10);
    let entries = stage.record().entries.len();
    stage.burst("<F9>undo<Enter><Enter><Enter>");
    assert_eq!(stage.record().entries.len(), entries + 1, "only the undo");
}

#[test]
fn an_enter_before_anything_is_typed_opens_the_help() {
    for scene in scenes::one_of_every_place() {
        let mut stage = scene.stage();
        if !stage.model.place().is_layer() {
            stage.press("<F9><Enter>");
            assert!(matches!(stage.model.place(), Place::Help(_)), "{}", scene.name);
        }
    }
}
