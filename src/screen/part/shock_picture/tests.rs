//! The picture of the shock by its laws: the indicator is on the target range exactly when the reading is in it.

use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;

use super::*;

/// A stroke of 65 mm over 40 cells: a half cell is 0.8125 mm.
const WIDTH: u16 = 54;
const HALF_CELL: f64 = 65.0 / 80.0;

fn shown(moved: f64) -> ShockPicture {
    ShockPicture {
        stroke: Length::mm(65.0),
        target: Target::PLANTED,
        preload: Length::ZERO,
        spring_stroke: Some(Length::mm(70.0)),
        moved: Length::mm(moved),
    }
}

fn drawn(shown: ShockPicture, width: u16, height: u16) -> Buffer {
    let mut terminal =
        Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
    terminal
        .draw(|frame| draw(frame, frame.area(), shown, UnitSet::Trade, Theme::DARK))
        .expect("the test terminal always works");
    terminal.backend().buffer().clone()
}

fn line(buffer: &Buffer, y: u16) -> String {
    (0..buffer.area.width).map(|x| buffer[(x, y)].symbol()).collect()
}

/// The left edge of the first mark of a line, in millimetres from the seal.
fn mark(buffer: &Buffer, y: u16, left: &str, right: &str) -> f64 {
    let found = (11..WIDTH).find(|x| [left, right].contains(&buffer[(*x, y)].symbol()));
    let column = found.expect("the mark is drawn");
    let half = u16::from(buffer[(column, y)].symbol() == right);
    f64::from(2 * (column - 11) + half) * HALF_CELL
}

#[test]
fn the_indicator_stands_where_it_was_read_to_half_a_cell() {
    for tenth in 0..=640 {
        let moved = f64::from(tenth) / 10.0;
        let at = mark(&drawn(shown(moved), WIDTH, HEIGHT), 1, "▌", "▐");
        // A half cell, and another at the edge of the band.
        assert!((at - moved).abs() <= 2.0 * HALF_CELL + 1e-9, "{moved} mm is drawn at {at} mm");
    }
}

#[test]
fn the_indicator_stands_on_the_target_exactly_when_the_reading_is_in_it() {
    for width in [40, 54, 60, 76, 84] {
        for tenth in 0..=650 {
            let shown = shown(f64::from(tenth) / 10.0);
            let buffer = drawn(shown, width, HEIGHT);
            let ring = (0..width).find(|x| ["▌", "▐"].contains(&buffer[(*x, 1)].symbol()));
            let ring = ring.expect("the indicator is drawn");
            let on_ground = buffer[(ring, 1)].bg == ratatui::style::Color::Blue;
            assert_eq!(on_ground, shown.lies() == Lies::Inside, "{} mm at {width}", shown.moved.as_mm());
        }
    }
}

#[test]
fn the_target_runs_through_coils_shaft_and_ruler_alike() {
    let buffer = drawn(shown(40.0), WIDTH, HEIGHT);
    let ground = |y: u16| -> Vec<u16> {
        (0..WIDTH).filter(|x| buffer[(*x, y)].bg == ratatui::style::Color::Blue).collect()
    };
    assert!(!ground(0).is_empty());
    assert!((1..4).all(|y| ground(y) == ground(0)));
}

#[test]
fn a_preloaded_collar_stands_nearer_to_the_seal() {
    let collar = |preload: f64| {
        let buffer = drawn(ShockPicture { preload: Length::mm(preload), ..shown(0.0) }, WIDTH, HEIGHT);
        (0..WIDTH).find(|x| buffer[(*x, 0)].symbol() == "┃").expect("the collar is drawn")
    };
    assert_eq!(collar(3.25) - collar(0.0), 2);
}

#[test]
fn a_spring_that_would_bind_is_crossed_off_on_the_shaft() {
    let binds = ShockPicture { spring_stroke: Some(Length::mm(60.0)), ..shown(20.0) };
    let buffer = drawn(binds, WIDTH, HEIGHT);
    assert!(line(&buffer, 1).contains('×') && line(&buffer, 4).contains("× coil bind at 60.0 mm"));
    assert!(!line(&drawn(shown(20.0), WIDTH, HEIGHT), 1).contains('×'));
}

#[test]
fn whatever_room_there_is_the_words_stay_whole() {
    for (height, last) in [(HEIGHT, 4), (4, 3), (3, 1), (2, 1)] {
        let text = line(&drawn(shown(24.5), WIDTH, height), last);
        assert!(text.contains("24.5") && text.contains("target 18.5–20.5"), "{height} lines: {text}");
    }
}

#[test]
fn every_size_is_drawn() {
    for width in 1..120 {
        for height in 1..8 {
            drawn(shown(24.5), width, height);
        }
    }
}
