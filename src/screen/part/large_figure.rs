//! A figure set large, to be read from the other side of the bike: three, five, nine or thirteen lines high, as the room allows.
//!
//! A small font of its own, three by five dots; the larger sizes draw strokes out and make them broader. The size hangs on the
//! screen alone, so that a figure does not jump when a message comes or goes. Without block characters a figure of three lines
//! cannot be drawn and is set in bold on the middle line. A unit stands small behind the digits.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;

use crate::screen::theme::{Glyphs, Theme};

/// Lines of the lowest figure.
pub const LOW: u16 = 3;

/// How the dots of the font are laid on cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct DotSize {
    /// Lines of the screen from which on there is room for it.
    from: u16,
    /// Lines it takes.
    height: u16,
    /// Halves of a line for each row of dots: strokes across stay thin.
    rows: [usize; 5],
    /// Cells for each column of dots.
    columns: [u16; 3],
    /// Cells between two digits.
    gap: u16,
}

/// The sizes, the largest first.
const SIZES: [DotSize; 4] = [
    DotSize { from: 56, height: 13, rows: [4, 7, 4, 7, 4], columns: [3, 2, 3], gap: 2 },
    DotSize { from: 40, height: 9, rows: [2, 6, 2, 6, 2], columns: [2, 2, 2], gap: 1 },
    DotSize { from: 32, height: 5, rows: [1, 3, 1, 3, 1], columns: [1, 1, 1], gap: 1 },
    DotSize { from: 0, height: LOW, rows: [1, 1, 1, 1, 1], columns: [1, 1, 1], gap: 1 },
];

/// The largest size for a screen of so many lines.
fn of_screen(lines: u16) -> DotSize {
    SIZES.into_iter().find(|size| size.from <= lines).unwrap_or(SIZES[3])
}

/// Lines it takes on a screen of so many.
pub fn height(screen: u16) -> u16 {
    of_screen(screen).height
}

/// Cells a figure with a sign of its unit takes on a screen of so many lines.
pub fn cells_for(figure: &str, screen: u16) -> u16 {
    of_screen(screen).width(figure) + 3
}

/// Lines a figure takes in so many cells across, on a screen of so many lines.
pub fn lines_of(figure: &str, width: u16, screen: u16, theme: Theme) -> u16 {
    fitting(figure, width, height(screen), theme).map_or(LOW, |size| size.height)
}

/// The largest size a figure goes in whole.
fn fitting(figure: &str, width: u16, most: u16, theme: Theme) -> Option<DotSize> {
    let (digits, unit) = figure.split_once(' ').unwrap_or((figure, ""));
    let unit_cells = if unit.is_empty() { 0 } else { u16::try_from(unit.len()).unwrap_or(0) + 1 };
    SIZES.into_iter().find(|size| {
        size.height <= most
            && size.width(digits) + unit_cells <= width
            && (theme.glyphs == Glyphs::Full || size.height > LOW)
    })
}

/// Draws the figure at the left of the area, as large as it goes in whole; never cut. A unit behind a blank stands small beside
/// the last line.
pub fn draw(frame: &mut Frame<'_>, area: Rect, figure: &str, style: Style, theme: Theme) {
    let area = area.intersection(frame.area());
    if area.is_empty() {
        return;
    }
    let (digits, unit) = figure.split_once(' ').unwrap_or((figure, ""));
    let most = height(frame.area().height).min(area.height);
    let Some(size) = fitting(figure, area.width, most, theme) else {
        let middle = area.y + (area.height.min(LOW) - 1) / 2;
        frame.buffer_mut().set_stringn(area.x, middle, figure, usize::from(area.width), style);
        return;
    };
    let mut left = area.x;
    for character in digits.chars() {
        draw_character(frame, Rect { x: left, ..area }, character, size, theme.glyphs, style);
        left += size.advance(character);
    }
    frame.buffer_mut().set_stringn(left, area.y + size.height - 1, unit, unit.len(), style);
}

impl DotSize {
    fn width(self, figure: &str) -> u16 {
        figure.chars().map(|character| self.advance(character)).sum()
    }

    /// Cells of a character and of the gap behind it.
    fn advance(self, character: char) -> u16 {
        self.gap + if is_point(character) { self.columns[0] } else { self.columns.iter().sum() }
    }

    /// The dots of a line, a half of a line each; without block characters both halves are that of the upper.
    fn halves(self, character: char, glyphs: Glyphs) -> Vec<u8> {
        let rows = dots(character).into_iter().zip(self.rows);
        let mut halves: Vec<u8> = rows.flat_map(|(bits, times)| std::iter::repeat_n(bits, times)).collect();
        if glyphs == Glyphs::Ascii {
            halves.resize(halves.len().next_multiple_of(2), 0);
            for two in halves.chunks_mut(2) {
                two.fill(two.iter().fold(0, |all, bits| all | bits));
            }
        }
        halves
    }
}

const fn is_point(character: char) -> bool {
    matches!(character, '.' | ',')
}

fn draw_character(
    frame: &mut Frame<'_>,
    at: Rect,
    character: char,
    size: DotSize,
    glyphs: Glyphs,
    style: Style,
) {
    let halves = size.halves(character, glyphs);
    let columns: &[u16] = if is_point(character) { &size.columns[..1] } else { &size.columns };
    for (line, two) in (at.y..).zip(halves.chunks(2)) {
        let mut x = at.x;
        for (place, cells) in columns.iter().enumerate() {
            let bit = columns.len() - 1 - place;
            let dot = |half: Option<&u8>| half.is_some_and(|bits| bits >> bit & 1 == 1);
            let symbol = match (dot(two.first()), dot(two.get(1))) {
                (true, true) => "█",
                (true, false) => "▀",
                (false, true) => "▄",
                (false, false) => "",
            };
            let drawn = symbol.repeat(usize::from(*cells));
            frame.buffer_mut().set_stringn(x, line, drawn, usize::from(*cells), style);
            x += cells;
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
        '/' => [0b001, 0b001, 0b010, 0b100, 0b100],
        _ => [0; 5],
    }
}

#[cfg(test)]
mod tests {
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;

    use super::*;

    fn drawn(figure: &str, width: u16, height: u16, theme: Theme) -> Vec<String> {
        let mut terminal =
            Terminal::new(TestBackend::new(width, height)).expect("the test terminal always works");
        terminal
            .draw(|frame| draw(frame, frame.area(), figure, Style::new(), theme))
            .expect("the test terminal always works");
        let buffer = terminal.backend().buffer();
        let line = |y: u16| (0..width).map(|x| buffer[(x, y)].symbol()).collect::<String>();
        (0..height).map(|y| line(y).trim_end().to_owned()).collect()
    }

    #[test]
    fn twenty_five_point_four_is_three_lines_high_and_its_unit_small() {
        let lines = drawn("25.4 %", 18, 3, Theme::DARK);
        assert_eq!(lines, ["▀▀█ █▀▀   █ █", "█▀▀ ▀▀█   ▀▀█", "▀▀▀ ▀▀▀ ▀   ▀ %"]);
    }

    #[test]
    fn on_a_taller_screen_it_is_five_lines_high() {
        let lines = drawn("25", 8, 32, Theme::DARK);
        assert_eq!(lines[..6], ["▀▀█ █▀▀", "  █ █", "█▀▀ ▀▀█", "█     █", "▀▀▀ ▀▀▀", ""]);
    }

    #[test]
    fn the_more_lines_a_screen_has_the_larger_it_is() {
        let lines =
            |screen| drawn("1", 20, screen, Theme::DARK).iter().filter(|line| !line.is_empty()).count();
        assert_eq!([24, 32, 40, 56].map(lines), [3, 5, 9, 13]);
    }

    #[test]
    fn without_block_characters_every_half_drawn_is_a_whole_one() {
        let ascii = Theme { glyphs: Glyphs::Ascii, ..Theme::DARK };
        let lines = drawn("1", 8, 32, ascii);
        assert!(
            lines[..5].iter().all(|line| line.chars().all(|cell| cell == ' ' || cell == '█')),
            "{lines:?}"
        );
        assert_eq!(drawn("1", 8, 3, ascii), ["", "1", ""]);
    }

    #[test]
    fn a_figure_too_wide_is_set_smaller_and_at_last_in_ordinary_size() {
        assert_eq!(drawn("25", 8, 56, Theme::DARK)[5], "");
        assert_eq!(drawn("25.4", 6, 3, Theme::DARK), ["", "25.4", ""]);
    }

    #[test]
    fn every_size_has_the_lines_and_cells_it_says() {
        for size in SIZES {
            assert_eq!(size.rows.iter().sum::<usize>().div_ceil(2), usize::from(size.height));
        }
    }
}
