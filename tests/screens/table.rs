//! The one table of keys: whatever is live is in the help and, all but the rarest, in the footer; no key means two things at
//! one place.

use coilwright::screen::keys::{Action, TABLE, binding};
use coilwright::screen::part::footer;

use super::{Stage, scenes};

fn places() -> Vec<Stage> {
    scenes::all().iter().map(scenes::Scene::stage).collect()
}

#[test]
fn every_live_action_is_in_the_help_and_all_but_the_rarest_in_a_wide_footer() {
    for mut stage in places() {
        let desk = &stage.model.desk;
        let (live, typing) = (stage.model.place().live(desk), stage.model.place().typing(desk));
        let enter = stage.model.place().enter(desk);
        let shown = footer::shown(&live, typing);
        let wanted = live.iter().filter(|action| action.in_footer()).count();
        assert_eq!(shown.len(), wanted, "a live action has no key while {typing:?} is typed");
        let frame = stage.frame(400, 24);
        for (key, name) in shown {
            let name = enter.clone().filter(|_| key == "Enter").unwrap_or(name);
            assert!(frame.contains(&format!("{key} {name}")), "{key} {name} is not in the footer:\n{frame}");
        }
        // Help is of the place beneath a layer, not of the layer.
        if !stage.model.place().is_layer() {
            let help = stage.press("<F1>").frame(100, 200);
            for action in live {
                let row = binding(action);
                assert!(help.contains(&row.all_shown(typing)), "{} is not in the help:\n{help}", row.name);
            }
        }
    }
}

#[test]
fn the_footer_is_one_line_that_begins_with_what_enter_does_and_ends_with_help() {
    for stage in places() {
        let desk = &stage.model.desk;
        let (live, typing) = (stage.model.place().live(desk), stage.model.place().typing(desk));
        let sizes = [(60, 20), (80, 24), (100, 30), (140, 40)];
        let (least, _) = stage.model.place().least();
        for (width, height) in sizes.into_iter().filter(|(width, _)| *width >= least) {
            let frame = stage.frame(width, height);
            let footer = frame.trim_end().lines().last().unwrap_or_default().trim();
            let first = if live.contains(&Action::Accept) { "Enter " } else { "" };
            let help = binding(Action::Help).shown(typing).unwrap_or_default();
            assert!(
                footer.starts_with(first) && footer.ends_with(&format!("{help} help")),
                "{footer}\n{frame}"
            );
        }
    }
}

#[test]
fn no_key_means_two_things_at_one_place() {
    for stage in places() {
        let desk = &stage.model.desk;
        let live = stage.model.place().live(desk);
        let keys: Vec<_> = live.iter().flat_map(|action| binding(*action).keys).collect();
        for (index, key) in keys.iter().enumerate() {
            assert!(!keys[index + 1..].contains(key), "{key:?} twice at {}", stage.model.place().title());
        }
    }
}

#[test]
fn every_action_has_one_row() {
    for (index, row) in TABLE.iter().enumerate() {
        assert!(TABLE[index + 1..].iter().all(|other| other.action != row.action), "{row:?}");
        assert!(!row.keys.is_empty() && row.meaning.ends_with('.'), "{row:?}");
    }
}
