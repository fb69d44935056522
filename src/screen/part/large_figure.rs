//! A figure set large, three lines high, to be read from the other side of the bike.
//!
//! A small font of its own, three by five dots, two dots a cell. On a terminal without block characters the figure is set
//! in bold on the middle line instead.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;

use crate::screen::theme::{Glyphs, Theme};

/// Lines it takes.
pub const HEIGHT: u16 = 3;

/// Draws the figure at the left of the area; what does not fit is set in ordinary size, never cut.
pub fn draw(frame: &mut Frame<'_>, area: Rect, figure: &str, style: Style, theme: Theme) {
    let area = area.intersection(frame.area());
    if area.is_empty() {
        return;
    }
    let fits = area.height >= HEIGHT && width(figure) <= area.width && theme.glyphs == Glyphs::Full;
    if !fits {
        let middle = area.y + (area.height.min(HEIGHT) - 1) / 2;
        frame.buffer_mut().set_stringn(area.x, middle, figure, usize::from(area.width), style);
        return;
    }
    let mut left = area.x;
    for character in figure.chars() {
        draw_character(frame, left, area.y, character, style);
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

fn draw_character(frame: &mut Frame<'_>, left: u16, top: u16, character: char, style: Style) {
    let dots = dots(character);
    for line in 0..HEIGHT {
        for column in 0..advance(character) - 1 {
            let dot = |row: u16| {
                let bits = dots.get(usize::from(row)).copied().unwrap_or(0);
                bits >> (advance(character) - 2 - column) & 1 == 1
            };
            let symbol = match (dot(2 * line), dot(2 * line + 1)) {
                (true, true) => "█",
                (true, false) => "▀",
                (false, true) => "▄",
                (false, false) => continue,
            };
            frame.buffer_mut().set_stringn(left + column, top + line, symbol, 1, style);
        }
    }
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
    fn a_figure_too_wide_is_set_in_ordinary_size() {
        drawn("25.4", 6, 3).backend().assert_buffer_lines(["      ", "25.4  ", "      "]);
    }
}
