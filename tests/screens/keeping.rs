//! What is on disk and what is not is said, and nothing that is not kept is left behind unasked.

use coilwright::screen::Flow;
use coilwright::screen::effect::StorageState;

use super::guide::at_leg;
use super::{Memory, Stage};
use coilwright::screen::theme::Theme;

fn shop_that_keeps_nothing() -> Stage {
    let shell = Memory { fault: Some("The disk is full.".to_owned()), ..Memory::default() };
    Stage::with(shell, Theme::DARK)
}

#[test]
fn a_step_that_was_not_kept_is_never_shown_as_kept() {
    let mut stage = shop_that_keeps_nothing();
    stage.press("<Enter><Up><Up>Invented Rider<Enter>");
    assert!(!stage.shows("✓ saved"));
    assert!(stage.shows("Not saved: in memory only. The disk is full."), "{}", stage.frame(80, 24));
}

#[test]
fn leaving_with_a_step_in_memory_only_takes_a_second_word() {
    let mut stage = shop_that_keeps_nothing();
    stage.press("<Enter><Up><Up>Invented Rider<Enter><C-c>");
    assert_eq!(stage.flow, Flow::On);
    assert!(stage.shows("Press Ctrl-C again to quit without it"), "{}", stage.frame(80, 24));
    assert_eq!(stage.press("<C-c>").flow, Flow::Leave);
}

#[test]
fn going_home_with_a_step_in_memory_only_keeps_the_session_open() {
    let mut stage = shop_that_keeps_nothing();
    stage.press("<Enter><Up><Up>Invented Rider<Enter><Esc><Esc>");
    assert_eq!(stage.record().intake.customer.as_typed(), "Invented Rider");
    stage.shell.fault = None;
    stage.press("<Esc>");
    assert_eq!(stage.shell.kept.len(), 1);
    stage.press("<Esc>");
    assert!(stage.model.desk.session.is_none());
}

#[test]
fn leaving_with_everything_kept_asks_nothing() {
    let mut stage = Stage::new();
    stage.press("<Enter><Up><Up>Invented Rider<Enter>");
    assert_eq!(stage.press("<C-c>").flow, Flow::Leave);
}

#[test]
fn a_session_only_to_look_at_offers_nothing_that_would_be_refused() {
    for (leg, way) in [(1, ""), (8, ""), (8, "<C-y>"), (10, ""), (13, ""), (25, ""), (27, "")] {
        let mut stage = at_leg(leg);
        let session = stage.model.desk.session.as_mut().expect("a session is open");
        session.keeping = StorageState::ReadOnly { because: "Another program has it.".to_owned() };
        let before = stage.record().clone();
        stage.press(way);
        let frame = stage.frame(200, 24);
        let footer = frame.rsplit('─').next().unwrap_or_default().to_owned();
        for name in ["accept", "undo", "restart", "void", "note", "verdict", "skip", "has none"] {
            assert!(!footer.contains(name), "{name} after leg {leg}{way}:\n{frame}");
        }
        assert!(footer.contains("details") && footer.contains("Esc back"), "after leg {leg}{way}:\n{frame}");
        stage.press("<Enter>");
        assert!(stage.shows("Another program has it."), "after leg {leg}{way}:\n{}", stage.frame(80, 24));
        stage.press("<C-t><C-r><C-x><C-o>");
        assert_eq!(*stage.record(), before);
    }
}

#[test]
fn back_never_leaves_the_program() {
    let mut stage = Stage::new();
    for _ in 0..5 {
        assert_eq!(stage.press("<Esc>").flow, Flow::On);
    }
}

#[test]
fn the_letter_leaves_from_the_first_screen_only() {
    assert_eq!(Stage::new().press("q").flow, Flow::Leave);
    let mut stage = Stage::new();
    stage.press("<Enter>").press(&"<Tab>".repeat(18)).press("q");
    assert_eq!(stage.flow, Flow::On);
}

#[test]
fn a_session_with_nothing_told_writes_no_file() {
    let mut stage = Stage::new();
    stage.press("<Enter><Esc>");
    assert!(stage.shell.kept.is_empty());
}

#[test]
fn the_page_of_demonstrations_is_left_back_and_never_out_of_the_program() {
    let mut stage = Stage::new();
    stage.press("<Up><Up><Up><Enter>");
    assert!(stage.shows("invented sessions, to look at"), "{}", stage.frame(80, 24));
    stage.press("q");
    assert_eq!(stage.flow, Flow::On);
    stage.press("<Esc>q");
    assert_eq!(stage.flow, Flow::Leave);
}
