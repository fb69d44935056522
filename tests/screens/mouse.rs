//! The mouse: a click does what the key at that spot does, and nothing can be done with the mouse alone.

use coilwright::screen::click_targets::{ClickTarget, ClickTargets};
use coilwright::screen::keys::Action;
use coilwright::screen::place::Place;
use coilwright::screen::{self};
use coilwright::session::Step;
use coilwright::settings::Mouse;
use crossterm::event::{Event, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::layout::Position;

use proptest::prelude::*;

use super::scenes::{self, Scene};
use super::{Stage, WHOLE_INTAKE, anything, guide, trials};

/// Cells across that no footer needs.
const WIDE: u16 = 400;

/// Draws the frame and shows it, as the real screen does.
fn shown(stage: &mut Stage) -> ClickTargets {
    shown_at(stage, 80)
}

fn shown_at(stage: &mut Stage, width: u16) -> ClickTargets {
    let mut hits = ClickTargets::default();
    let mut terminal = Terminal::new(TestBackend::new(width, 24)).expect("the test terminal always works");
    terminal
        .draw(|frame| screen::draw_noting(frame, &stage.model, &mut hits))
        .expect("the test terminal always works");
    stage.model.was_drawn_with(hits.clone());
    hits
}

/// The first cell at which a text stands.
fn place_of(stage: &Stage, text: &str) -> (u16, u16) {
    let frame = stage.frame(80, 24);
    places_of(&frame, text).next().unwrap_or_else(|| panic!("{text} is not on:\n{frame}"))
}

/// The same of the footer of a window wide enough for all of it, which is below everything.
fn place_in_footer(stage: &Stage, text: &str) -> (u16, u16) {
    let frame = stage.frame(WIDE, 24);
    places_of(&frame, text).last().unwrap_or_else(|| panic!("{text} is not on:\n{frame}"))
}

fn places_of(frame: &str, text: &str) -> impl Iterator<Item = (u16, u16)> {
    let cells = |line: &str| line.find(text).map(|start| line[..start].chars().count());
    let found = frame.lines().map(cells).collect::<Vec<_>>().into_iter().zip(0..);
    found.filter_map(|(column, row)| Some((u16::try_from(column?).expect("on the screen"), row)))
}

fn event(kind: MouseEventKind, (column, row): (u16, u16)) -> Event {
    Event::Mouse(MouseEvent { kind, column, row, modifiers: KeyModifiers::NONE })
}

/// Clicks where a text stands.
fn click(stage: &mut Stage, text: &str) {
    shown(stage);
    let at = place_of(stage, text);
    stage.take(event(MouseEventKind::Down(MouseButton::Left), at));
    stage.take(event(MouseEventKind::Up(MouseButton::Left), at));
}

#[test]
fn a_click_marks_a_line_and_a_click_on_the_marked_one_opens_it() {
    let mut stage = Stage::new();
    click(&mut stage, "Demonstrations");
    assert!(matches!(stage.model.place(), Place::Home(_)));
    assert!(stage.shows("▸ 7  Demonstrations"));
    click(&mut stage, "Demonstrations");
    assert!(stage.shows("invented sessions, to look at"));
}

#[test]
fn a_click_on_a_key_of_the_footer_is_that_key() {
    let mut stage = Stage::new();
    click(&mut stage, "? help");
    assert!(matches!(stage.model.place(), Place::Help(_)));
    click(&mut stage, "Esc back");
    assert!(matches!(stage.model.place(), Place::Home(_)));
    click(&mut stage, "i tally");
    assert!(matches!(stage.model.place(), Place::Tally(_)));
}

#[test]
fn every_key_of_every_footer_can_be_clicked() {
    for mut stage in scenes::all().iter().map(Scene::stage) {
        let hits = shown_at(&mut stage, WIDE);
        let desk = &stage.model.desk;
        for action in stage.model.place().live(desk).into_iter().filter(|action| action.in_footer()) {
            let typing = stage.model.place().typing(desk);
            let (key, name) = screen::part::footer::shown(&[action], typing).remove(0);
            let enter = stage.model.place().enter(desk).filter(|_| action == Action::Accept);
            let name = enter.unwrap_or(name);
            let (column, row) = place_in_footer(&stage, &format!("{key} {name}"));
            assert_eq!(hits.at(Position::new(column, row)), Some(ClickTarget::Key(action)), "{key} {name}");
        }
    }
}

#[test]
fn the_wheel_goes_through_a_list() {
    let mut stage = Stage::new();
    stage.take(event(MouseEventKind::ScrollDown, (0, 0))).take(event(MouseEventKind::ScrollDown, (0, 0)));
    assert!(stage.shows("▸ 3  Past sessions"));
    stage.take(event(MouseEventKind::ScrollUp, (0, 0)));
    assert!(stage.shows("▸ 2  Quick trials"));
}

#[test]
fn a_click_goes_to_a_row_of_the_intake_and_keeps_what_was_typed_as_a_draft() {
    let mut stage = Stage::new();
    stage.press("<Enter>Invented");
    click(&mut stage, "Bike alone");
    assert!(stage.shows("▸ Bike alone") && stage.shows("Invented (not accepted yet)"));
    // A click on the row being typed into takes nothing.
    stage.press("15");
    click(&mut stage, "Bike alone");
    assert_eq!(stage.record().intake.bike, None);
}

#[test]
fn choices_ticks_and_springs_of_the_walk_are_clicked_line_by_line() {
    let mut stage = Stage::new();
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter><Enter><Enter><Enter>");
    let before = stage.record().entries.len();
    click(&mut stage, "Set tyres to");
    assert_eq!(stage.record().entries.len(), before + 1, "{}", stage.frame(80, 24));
    for leg in 0..guide::WALK.len() {
        let mut stage = guide::at_leg(leg);
        if stage.model.desk.session.as_ref().is_some_and(|session| session.state.step == Step::Decision) {
            click(&mut stage, "Another spring on");
            assert!(stage.frame(80, 24).lines().any(|line| line.contains("▸ Another spring")));
            click(&mut stage, "Another spring on");
            let rates = stage.frame(80, 24).matches("lb/in").count();
            assert!(rates > 3, "{}", stage.frame(80, 24));
            return;
        }
    }
    panic!("no leg of the walk ends at the decision");
}

#[test]
fn a_second_click_before_the_next_frame_does_nothing() {
    let mut stage = Stage::new();
    shown(&mut stage);
    let at = place_of(&stage, "New session");
    let down = || event(MouseEventKind::Down(MouseButton::Left), at);
    stage.take(down()).take(down());
    assert!(matches!(stage.model.place(), Place::Intake(_)));
    assert!(stage.shell.kept.is_empty());
}

#[test]
fn a_click_on_nothing_says_and_does_nothing() {
    let mut stage = trials::ready();
    let before = stage.frame(80, 24);
    shown(&mut stage);
    stage.take(event(MouseEventKind::Down(MouseButton::Left), (79, 0)));
    stage.take(event(MouseEventKind::Moved, (10, 10)));
    stage.take(event(MouseEventKind::ScrollDown, (10, 10)));
    stage.take(event(MouseEventKind::Down(MouseButton::Right), (3, 23)));
    assert_eq!(stage.frame(80, 24), before);
}

#[test]
fn a_key_hands_the_mouse_over_and_back_until_one_leaves() {
    let mut stage = Stage::new();
    assert_eq!(stage.model.desk.mouse, Mouse::Terminal);
    stage.press("<F2>");
    assert_eq!(stage.model.desk.mouse, Mouse::Program);
    assert!(stage.shows("Clicks and wheel work the screen"));
    // The same key in a field that takes text.
    stage.press("<Enter><F2>");
    assert_eq!(stage.model.desk.mouse, Mouse::Terminal);
    assert!(!stage.model.place().live(&stage.model.desk).is_empty());
    assert!(!Action::Mouse.in_footer());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_clicked_what_is_shown_as_kept_was_kept(
        begun in any::<bool>(),
        clicks in prop::collection::vec((0_u16..80, 0_u16..24, 0_u8..5), 1..60),
    ) {
        let mut stage = Stage::new();
        if begun {
            stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
        }
        for (column, row, kind) in clicks {
            shown(&mut stage);
            let kind = match kind {
                0 => MouseEventKind::ScrollDown,
                1 => MouseEventKind::ScrollUp,
                _ => MouseEventKind::Down(MouseButton::Left),
            };
            stage.take(event(kind, (column, row)));
            anything::check(&stage)?;
        }
    }
}
