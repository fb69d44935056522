//! The pictures of guide and quick trials at three sizes, in full and ASCII glyphs, and what colour may and may not do.

use coilwright::screen;
use coilwright::screen::theme::{Glyphs, Ink, Theme};
use insta::assert_snapshot;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::style::Color;

use super::guide::{WALK, at_leg};
use super::{Memory, Stage, WHOLE_INTAKE};

const SIZES: [(u16, u16); 3] = [(80, 24), (100, 30), (140, 40)];
const ASCII: Theme = Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii };
/// Legs of the walk: a reading typed, the verdict, a second spring measured.
const READING: usize = 8;
const VERDICT: usize = 10;
const SECOND_SPRING: usize = 18;

/// The walk up to that leg under another theme.
fn themed(last: usize, theme: Theme) -> Stage {
    let mut stage = Stage::with(Memory::default(), theme);
    stage.press("<Enter>").press(WHOLE_INTAKE).press("<Enter>");
    for leg in &WALK[..=last] {
        stage.press(leg.keys);
    }
    stage
}

/// Frames of one moment at every size, one below the other.
fn frames(stage: &Stage) -> String {
    let frames = SIZES.map(|(width, height)| stage.frame(width, height));
    frames.join("\n\n")
}

fn cells(stage: &Stage, (width, height): (u16, u16)) -> Buffer {
    let mut terminal =
        Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
    terminal.draw(|frame| screen::draw(frame, &stage.model)).expect("the test terminal always works");
    terminal.backend().buffer().clone()
}

#[test]
fn the_shock_in_ascii() {
    assert_snapshot!(frames(&themed(READING, ASCII)));
}

#[test]
fn the_springs_in_ascii() {
    let mut stage = themed(VERDICT, ASCII);
    stage.press("<Down><Down><Down><Down><Down><Enter>");
    assert_snapshot!(frames(&stage));
}

#[test]
fn the_round_with_two_springs_in_ascii() {
    assert_snapshot!(themed(SECOND_SPRING, ASCII).frame(140, 40));
}

#[test]
fn the_indicator_goes_with_the_reading_as_it_is_typed() {
    let mut stage = at_leg(READING);
    let place = |stage: &Stage| {
        let frame = stage.frame(140, 40);
        let shaft = frame.lines().find(|line| line.contains("◎")).expect("the shock is drawn").to_owned();
        shaft.chars().position(|letter| "▌▐".contains(letter)).expect("the indicator is drawn")
    };
    let far = place(&stage);
    stage.press("<BSpace><BSpace><BSpace><BSpace>12");
    assert!(place(&stage) < far, "{}", stage.frame(140, 40));
}

#[test]
fn the_target_is_a_ground_where_there_is_colour_and_nothing_bites_holes_into_it() {
    let buffer = cells(&at_leg(VERDICT), (140, 40));
    let ground: Vec<_> = buffer.content.iter().filter(|cell| cell.bg == Color::Blue).collect();
    assert!(ground.len() > 20 && ground.iter().all(|cell| cell.fg == Color::White));
    // Intervals and marks lie across it, and the ground is under them as well.
    assert!(ground.iter().any(|cell| "━─●▶◆■○".contains(cell.symbol())));
}

#[test]
fn every_picture_in_ascii_is_ascii() {
    for last in 0..WALK.len() {
        for (width, height) in SIZES {
            let frame = themed(last, ASCII).frame(width, height);
            assert!(frame.is_ascii(), "{frame}");
            let questions = frame.matches('?').count() - frame.matches("? help").count();
            let asked = frame.matches("Which spring?").count();
            assert_eq!(questions, asked, "a sign has no stand-in:\n{frame}");
        }
    }
}

#[test]
fn a_message_does_not_make_the_large_figure_small() {
    let mut stage = at_leg(VERDICT);
    let rows = |stage: &Stage| stage.frame(80, 24).matches("▀▀▀ ▀▀▀").count();
    let before = rows(&stage);
    stage.press("g");
    assert!(stage.shows("does nothing at this moment"), "{}", stage.frame(80, 24));
    assert_eq!((before, rows(&stage)), (1, 1), "{}", stage.frame(80, 24));
}

#[test]
fn the_whole_intake_in_ascii() {
    let mut stage = Stage::with(Memory::default(), ASCII);
    let frame = stage.press("<Enter>").press(WHOLE_INTAKE).press("<Up>").frame(140, 40);
    assert!(frame.is_ascii(), "{frame}");
    assert!(frame.contains("28.5-31.5 %"), "{frame}");
}
