//! Small windows, a split of a terminal or a phone: what is there at 60 by 20 and 40 by 12, and that nothing acts where nothing
//! can be seen.

use coilwright::screen;
use coilwright::screen::Flow;
use coilwright::screen::click_targets::ClickTargets;
use coilwright::session::{Caution, Deed};
use crossterm::event::Event;
use insta::{assert_snapshot, with_settings};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::guide::at_leg;
use super::trials::{begun, three};
use super::{Stage, WHOLE_INTAKE, drawn, events};

const SIZES: [(u16, u16); 2] = [(60, 20), (40, 12)];

/// Draws the frame as the program does, and presses keys, each after a frame.
fn press_at(stage: &mut Stage, size: (u16, u16), keys: &str) {
    for key in events(keys) {
        see(stage, size);
        stage.take(Event::Key(key));
    }
    see(stage, size);
}

fn see(stage: &mut Stage, (width, height): (u16, u16)) {
    let mut terminal =
        Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
    let mut hits = ClickTargets::default();
    terminal
        .draw(|frame| screen::draw_noting(frame, &stage.model, &mut hits))
        .expect("the test terminal always works");
    stage.model.was_drawn_with(hits);
}

fn looks_as_found_good(name: &str, stage: &Stage) {
    let pages = SIZES.map(|(width, height)| {
        let frame = drawn(&stage.model, width, height);
        format!("{:=<width$}\n{frame}", format!("{width}x{height} "), width = usize::from(width))
    });
    with_settings!({ prepend_module_to_snapshot => false, omit_expression => true }, {
        assert_snapshot!(format!("small_{name}"), pages.join("\n"));
    });
}

#[test]
fn small_windows_look_as_they_were_found_good() {
    looks_as_found_good("home", &Stage::new());
    let mut intake = Stage::new();
    intake.press("<Enter>Invented Rider");
    looks_as_found_good("intake", &intake);
    intake.press("<Enter>").press(&WHOLE_INTAKE["Invented Rider<Enter>".len()..]);
    looks_as_found_good("intake_complete", &intake);
    looks_as_found_good("guide_reading", &reading());
    looks_as_found_good("guide_caution", &cautioned());
    looks_as_found_good("trials", &three());
}

/// A reading is being typed, the second of its set.
fn reading() -> Stage {
    let mut legs = (0..super::guide::WALK.len()).map(at_leg);
    let mut stage = legs.find(|stage| stage.shows("Type the distance")).expect("the walk reads");
    stage.press("<C-u>18.5");
    stage
}

/// Quick trials begin with their cautions.
fn cautioned() -> Stage {
    let stage = begun();
    assert!(stage.shows("Before the first trial"));
    stage
}

#[test]
fn the_figure_the_field_the_advice_and_the_warnings_are_there_at_every_small_size() {
    for size in SIZES {
        let frame = drawn(&three().model, size.0, size.1);
        for wanted in ["too much", "▸", "! Bench check left to you", "help"] {
            assert!(frame.contains(wanted), "{wanted} is missing at {size:?}:\n{frame}");
        }
    }
}

#[test]
fn below_the_least_size_nothing_acts_but_quit_suspend_and_redraw() {
    for size in [(39, 12), (40, 11), (20, 5)] {
        let mut stage = cautioned();
        let before = stage.record().clone();
        press_at(&mut stage, size, "<Enter><Enter>24<Enter><Enter><Esc>n<F1><C-d>");
        stage.take(Event::Paste("24\n24.5\n".to_owned()));
        assert_eq!(*stage.record(), before, "at {size:?}");
        see(&mut stage, (80, 24));
        assert!(stage.shows("Before the first trial"), "{}", stage.frame(80, 24));
        for (key, flow) in [("<C-z>", Flow::Suspend), ("<C-l>", Flow::Repaint), ("<C-c>", Flow::Leave)] {
            press_at(&mut stage, size, key);
            assert_eq!(stage.flow, flow, "{key}");
        }
    }
}

#[test]
fn a_place_with_too_little_room_can_be_left_and_nothing_more() {
    let mut stage = Stage::new();
    press_at(&mut stage, (60, 20), "<Down><Down><Down><Enter>");
    let frame = stage.frame(60, 20);
    assert!(frame.contains("this needs 80 by 24") && frame.contains("Esc"), "{frame}");
    press_at(&mut stage, (60, 20), "a450<Enter>");
    assert!(stage.frame(60, 20).contains("this needs 80 by 24"));
    press_at(&mut stage, (60, 20), "<Esc>");
    assert!(stage.frame(60, 20).contains("New session"), "{}", stage.frame(60, 20));
}

fn acknowledged(stage: &Stage) -> Vec<Caution> {
    let seen = |deed: &Deed| match deed {
        Deed::CautionSeen(caution) => Some(*caution),
        _ => None,
    };
    stage.record().entries.iter().filter_map(|entry| seen(&entry.deed)).collect()
}

#[test]
fn a_caution_longer_than_its_room_is_acknowledged_only_once_its_end_was_shown() {
    for size in SIZES {
        let mut stage = cautioned();
        see(&mut stage, size);
        let mut pages = String::new();
        let mut pressed = 0;
        while acknowledged(&stage).len() < crate::walk::sessions::BEFORE_A_TRIAL.len() {
            pages += &stage.frame(size.0, size.1);
            press_at(&mut stage, size, "<Enter>");
            pressed += 1;
            assert!(pressed < 12, "it never ends at {size:?}");
        }
        assert!(pressed > 2 || size == SIZES[0], "more than a page at {size:?}");
        // Every word of the last caution was on one of them.
        for words in ["tip the bike over", "gently"] {
            assert!(pages.contains(words), "{words} was not shown at {size:?}:\n{pages}");
        }
    }
}

#[test]
fn a_window_pulled_wider_begins_the_caution_anew() {
    let mut stage = cautioned();
    press_at(&mut stage, (40, 12), "<Enter><Enter>");
    let read = acknowledged(&stage).len();
    stage.take(Event::Resize(60, 20));
    see(&mut stage, (60, 20));
    let first = coilwright::phrase::caution(crate::walk::sessions::BEFORE_A_TRIAL[read]).headline.clone();
    assert!(stage.frame(60, 20).contains(&first), "{}", stage.frame(60, 20));
}

#[test]
fn the_last_lines_of_quick_trials_come_back_and_what_was_typed_stays() {
    let mut stage = three();
    stage.press("note windy<Enter>25<Up>");
    assert!(stage.shows("▸ note windy"), "{}", stage.frame(80, 24));
    stage.press("<Up>");
    assert!(!stage.shows("▸ note windy"), "{}", stage.frame(80, 24));
    stage.press("<Down><Down>");
    assert!(stage.shows("▸ 25"), "{}", stage.frame(80, 24));
}

#[test]
fn a_line_is_edited_by_the_keys_of_every_line_editor() {
    let mut stage = three();
    for (keys, line) in [
        ("note windy and wet", "note windy and wet"),
        ("<C-w>", "note windy and"),
        ("<C-a><Right><Right><Right><Right><C-k>", "note"),
        ("<C-_>", "note windy and"),
        ("<C-u>", ""),
        ("<C-_>", "note windy and"),
    ] {
        stage.press(keys);
        let shown = stage.frame(80, 24);
        let typed = shown.lines().find_map(|line| line.trim_start().strip_prefix("▸")).expect("a line");
        assert_eq!(typed.trim(), line, "after {keys}");
    }
}

#[test]
fn ten_pasted_figures_are_one_line_and_no_enter() {
    let mut stage = three();
    let before = stage.record().clone();
    stage.take(Event::Paste("17.0\r\n17.5\n18\n17.5\n17\n18\n17.5\n17.5\n18\n17\n".to_owned()));
    assert_eq!(*stage.record(), before);
    assert!(stage.shows("17.0 17.5 18 17.5 17 18 17.5 17.5 18 17"), "{}", stage.frame(80, 24));
}
