//! A figure set large, to be read from the other side of the bike: three lines high, five on a tall screen.
//!
//! A small font of its own, three by five dots, two dots a cell; tall figures draw the upright strokes out. How tall hangs
//! on the screen alone, so that a figure does not jump when a message comes or goes. On a terminal without block characters
//! the figure is set in bold on the middle line instead.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;

use crate::screen::theme::{Glyphs, Theme};

/// Lines of a screen from which on figures are tall: less, and a message may take the room of one.
const TALL_SCREEN: u16 = 36;
/// Dots each row of the font is drawn out to in a tall figure: strokes across stay thin.
const DRAWN_OUT: [u8; 5] = [1, 3, 1, 3, 1];

/// Lines it takes on a screen of so many.
pub const fn height(screen: u16) -> u16 {
    if screen >= TALL_SCREEN { 5 } else { 3 }
}

/// Draws the figure at the left of the area; what does not fit is set in ordinary size, never cut.
pub fn draw(frame: &mut Frame<'_>, area: Rect, figure: &str, style: Style, theme: Theme) {
    let area = area.intersection(frame.area());
    if area.is_empty() {
        return;
    }
    let height = height(frame.area().height);
    let fits = area.height >= height && width(figure) <= area.width && theme.glyphs == Glyphs::Full;
    if !fits {
        let middle = area.y + (area.height.min(height) - 1) / 2;
        frame.buffer_mut().set_stringn(area.x, middle, figure, usize::from(area.width), style);
        return;
    }
    let mut left = area.x;
    for character in figure.chars() {
        draw_character(frame, Rect { x: left, y: area.y, width: advance(character) - 1, height }, character, style);
        left += advance(character);
    }
}

/// Cells the figure takes.
pub fn width(figure: &str) -> u16 {
    figure.chars().map(advance).sum()
}

fn advance(character: char) -> u16 {
    match character {
        '.' | ',' | ' ' => 2,
        _ => 4,
    }
}

fn draw_character(frame: &mut Frame<'_>, area: Rect, character: char, style: Style) {
    let rows = rows(character, area.height);
    for (line, two) in (area.y..).zip(rows.chunks(2)) {
        for column in 0..area.width {
            let dot = |row: Option<&u8>| row.is_some_and(|bits| bits >> (area.width - 1 - column) & 1 == 1);
            let symbol = match (dot(two.first()), dot(two.get(1))) {
                (true, true) => "█",
                (true, false) => "▀",
                (false, true) => "▄",
                (false, false) => continue,
            };
            frame.buffer_mut().set_stringn(area.x + column, line, symbol, 1, style);
        }
    }
}

/// The rows of dots of a character, two a line.
fn rows(character: char, height: u16) -> Vec<u8> {
    let tall = height > 3;
    let times = |row: usize| if tall { DRAWN_OUT[row] } else { 1 };
    let dots = dots(character).into_iter().enumerate();
    dots.flat_map(|(row, bits)| (0..times(row)).map(move |_| bits)).collect()
}

/// Five rows of three dots, the leftmost in the highest bit; a point has one dot a row.
fn dots(character: char) -> [u8; 5] {
    match character {
        '0' => [0b111, 0b101, 0b101, 0b101, 0b111],
        '1' => [0b010, 0b110, 0b010, 0b010, 0b111],
        '2' => [0b111, 0b001, 0b111, 0b100, 0b111],
        '3' => [0b111, 0b001, 0b111, 0b001, 0b111],
        '4' => [0b101, 0b101, 0b111, 0b001, 0b001],
        '5' => [0b111, 0b100, 0b111, 0b001, 0b111],
        '6' => [0b111, 0b100, 0b111, 0b101, 0b111],
        '7' => [0b111, 0b001, 0b010, 0b010, 0b010],
        '8' => [0b111, 0b101, 0b111, 0b101, 0b111],
        '9' => [0b111, 0b101, 0b111, 0b001, 0b111],
        '.' | ',' => [0, 0, 0, 0, 1],
        '−' | '-' => [0, 0, 0b111, 0, 0],
        '+' => [0, 0b010, 0b111, 0b010, 0],
        '±' => [0b010, 0b111, 0b010, 0, 0b111],
        '%' => [0b101, 0b001, 0b010, 0b100, 0b101],
        '/' => [0b001, 0b001, 0b010, 0b100, 0b100],
        _ => [0; 5],
    }
}

#[cfg(test)]
mod tests {
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;

    use super::*;

    fn drawn(figure: &str, width: u16, height: u16) -> Terminal<TestBackend> {
        let mut terminal =
            Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
        terminal
            .draw(|frame| draw(frame, frame.area(), figure, Style::new(), Theme::DARK))
            .expect("the test terminal always works");
        terminal
    }

    #[test]
    fn twenty_five_point_four_is_three_lines_high() {
        drawn("25.4", 14, 3).backend().assert_buffer_lines([
            "▀▀█ █▀▀   █ █ ",
            "█▀▀ ▀▀█   ▀▀█ ",
            "▀▀▀ ▀▀▀ ▀   ▀ ",
        ]);
    }

    #[test]
    fn on_a_tall_screen_it_is_five_lines_high() {
        let terminal = drawn("25", 8, TALL_SCREEN);
        let buffer = terminal.backend().buffer();
        let line = |y: u16| (0..8).map(|x| buffer[(x, y)].symbol()).collect::<String>();
        let lines: Vec<String> = (0..6).map(line).collect();
        assert_eq!(lines, ["▀▀█ █▀▀ ", "  █ █   ", "█▀▀ ▀▀█ ", "█     █ ", "▀▀▀ ▀▀▀ ", "        "]);
    }

    #[test]
    fn a_figure_too_wide_is_set_in_ordinary_size() {
        drawn("25.4", 6, 3).backend().assert_buffer_lines(["      ", "25.4  ", "      "]);
    }
}
