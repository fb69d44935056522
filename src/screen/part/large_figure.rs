//! A figure set large, to be read from the other side of the bike: three lines high, five on a tall screen.
//!
//! A small font of its own, three by five dots, two dots a cell; tall figures draw the upright strokes out. How tall hangs
//! on the screen alone, so that a figure does not jump when a message comes or goes. Without block characters a
//! tall figure has a line for each row of dots, and a lower one is set in bold on the middle line.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use crate::screen::theme::{Glyphs, Theme};

/// Lines of a screen from which on figures are tall: less, and a message may take the room of one.
const TALL_SCREEN: u16 = 36;
/// Lines of a low figure.
const LOW: u16 = 3;
/// Lines of a tall one.
const TALL: u16 = 5;
/// Halves of a line each row of the font is drawn out to in a tall figure: strokes across stay thin.
const DRAWN_OUT: [usize; 5] = [1, 3, 1, 3, 1];

/// Lines it takes on a screen of so many.
pub const fn height(screen: u16) -> u16 {
    if screen >= TALL_SCREEN { TALL } else { LOW }
}

/// Draws the figure at the left of the area; what does not fit is set in ordinary size, never cut.
pub fn draw(frame: &mut Frame<'_>, area: Rect, figure: &str, style: Style, theme: Theme) {
    let area = area.intersection(frame.area());
    if area.is_empty() {
        return;
    }
    let height = height(frame.area().height);
    let font =
        Font::of(height, theme.glyphs).filter(|_| area.height >= height && width(figure) <= area.width);
    let Some(font) = font else {
        let middle = area.y + (area.height.min(height) - 1) / 2;
        frame.buffer_mut().set_stringn(area.x, middle, figure, usize::from(area.width), style);
        return;
    };
    let mut left = area.x;
    for character in figure.chars() {
        draw_character(frame, Position { x: left, y: area.y }, character, font, style);
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

/// How the rows of dots are laid on lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Font {
    /// Two rows a line.
    Low,
    /// Two rows a line, the upright strokes drawn out.
    Tall,
    /// A row a line.
    Coarse,
}

impl Font {
    /// The one for a figure of so many lines; none where it would not fit.
    const fn of(height: u16, glyphs: Glyphs) -> Option<Self> {
        match (glyphs, height >= TALL) {
            (Glyphs::Full, false) => Some(Self::Low),
            (Glyphs::Full, true) => Some(Self::Tall),
            (Glyphs::Ascii, true) => Some(Self::Coarse),
            (Glyphs::Ascii, false) => None,
        }
    }

    /// How often a row of the font is drawn, in halves of a line.
    const fn times(self, row: usize) -> usize {
        match (self, row) {
            (Self::Low, _) => 1,
            (Self::Coarse, _) => 2,
            (Self::Tall, row) => DRAWN_OUT[row],
        }
    }
}

fn draw_character(frame: &mut Frame<'_>, at: Position, character: char, font: Font, style: Style) {
    let rows = dots(character).into_iter().enumerate();
    let halves: Vec<u8> = rows.flat_map(|(row, bits)| std::iter::repeat_n(bits, font.times(row))).collect();
    let width = advance(character) - 1;
    for (line, two) in (at.y..).zip(halves.chunks(2)) {
        for column in 0..width {
            let dot = |half: Option<&u8>| half.is_some_and(|bits| bits >> (width - 1 - column) & 1 == 1);
            let symbol = match (dot(two.first()), dot(two.get(1))) {
                (true, true) => "█",
                (true, false) => "▀",
                (false, true) => "▄",
                (false, false) => continue,
            };
            frame.buffer_mut().set_stringn(at.x + column, line, symbol, 1, style);
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
    fn on_a_tall_screen_it_is_five_lines_high() {
        let terminal = drawn("25", 8, TALL_SCREEN);
        let buffer = terminal.backend().buffer();
        let line = |y: u16| (0..8).map(|x| buffer[(x, y)].symbol()).collect::<String>();
        let lines: Vec<String> = (0..6).map(line).collect();
        assert_eq!(lines, ["▀▀█ █▀▀ ", "  █ █   ", "█▀▀ ▀▀█ ", "█     █ ", "▀▀▀ ▀▀▀ ", "        "]);
    }

    #[test]
    fn without_block_characters_a_tall_figure_has_a_line_a_row() {
        assert_eq!(Font::of(TALL, Glyphs::Ascii), Some(Font::Coarse));
        assert_eq!(Font::of(LOW, Glyphs::Ascii), None);
        assert_eq!((0..5).map(|row| Font::Coarse.times(row)).sum::<usize>(), 2 * usize::from(TALL));
    }

    #[test]
    fn a_figure_too_wide_is_set_in_ordinary_size() {
        drawn("25.4", 6, 3).backend().assert_buffer_lines(["      ", "25.4  ", "      "]);
    }
}
