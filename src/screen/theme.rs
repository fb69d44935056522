//! Inks and glyphs: few colours out of the terminal's own sixteen, its own ground, and a pass that makes a frame ASCII.
//!
//! Meaning stands in words and shapes first; colour only repeats it. Bright red and bright blue are the two of the sixteen
//! that can be read on dark and on light grounds alike. Without colour the theme sets none at all, because
//! even a reset would swallow bold and reverse there. Not here: what is drawn.

use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier, Style};

/// How the screen is inked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// Whether colours are set.
    pub ink: Ink,
    /// What the terminal can show.
    pub glyphs: Glyphs,
}

/// Whether colours are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// The terminal's own sixteen colours.
    Colour,
    /// None: bold, dim and reverse only.
    Plain,
}

/// What the terminal can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Glyphs {
    /// Lines, blocks and signs beyond ASCII.
    Full,
    /// ASCII only.
    Ascii,
}

impl Theme {
    /// The usual one.
    pub const COLOUR: Self = Self { ink: Ink::Colour, glyphs: Glyphs::Full };

    fn inked(self, colour: Color) -> Style {
        match self.ink {
            Ink::Colour => Style::new().fg(colour),
            Ink::Plain => Style::new(),
        }
    }

    /// Running text.
    pub fn text(self) -> Style {
        Style::new()
    }

    /// Headings and what matters most.
    pub fn strong(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// What may be passed over by the eye.
    pub fn quiet(self) -> Style {
        Style::new().add_modifier(Modifier::DIM)
    }

    /// Keys, marks and rules.
    pub fn accent(self) -> Style {
        self.inked(Color::LightBlue)
    }

    /// The key of a footer.
    pub fn key(self) -> Style {
        self.strong()
    }

    /// The marked line of a list.
    pub fn marked(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD | Modifier::REVERSED)
    }

    /// A field being typed into.
    pub fn field(self) -> Style {
        Style::new().add_modifier(Modifier::UNDERLINED)
    }

    /// A caution or a refusal; the words say so as well.
    pub fn alert(self) -> Style {
        self.inked(Color::LightRed).add_modifier(Modifier::BOLD)
    }

    /// Something in order; the words say so as well.
    pub fn good(self) -> Style {
        self.inked(Color::LightBlue).add_modifier(Modifier::BOLD)
    }

    /// The title of a step.
    pub fn title(self) -> Style {
        self.inked(Color::Cyan).add_modifier(Modifier::BOLD)
    }

    /// A figure that does not count.
    pub fn void(self) -> Style {
        Style::new().add_modifier(Modifier::DIM | Modifier::CROSSED_OUT)
    }

    /// Makes a finished frame what the terminal can show.
    pub fn finish(self, buffer: &mut Buffer) {
        if self.glyphs == Glyphs::Ascii {
            to_ascii(buffer);
        }
    }
}

/// Replaces everything beyond ASCII, cell by cell, so that no part has to know.
fn to_ascii(buffer: &mut Buffer) {
    let width = usize::from(buffer.area.width);
    for index in 0..buffer.content.len() {
        let symbol = buffer.content[index].symbol();
        if symbol.is_ascii() {
            continue;
        }
        if symbol == "±" && within_blanks(buffer, index, width) {
            for (place, sign) in [(index - 1, "+"), (index, "/"), (index + 1, "-")] {
                buffer.content[place].set_symbol(sign);
            }
            continue;
        }
        let stand_in = stand_in(symbol);
        buffer.content[index].set_symbol(stand_in);
    }
}

fn within_blanks(buffer: &Buffer, index: usize, width: usize) -> bool {
    let column = index % width;
    let blank = |place: usize| buffer.content[place].symbol() == " ";
    column > 0 && column + 1 < width && blank(index - 1) && blank(index + 1)
}

/// Whether a cell holds a dot of a curve; braille without dots is a blank and never drawn.
fn is_braille(symbol: &str) -> bool {
    symbol.chars().all(|dots| ('\u{2801}'..='\u{28ff}').contains(&dots))
}

fn stand_in(symbol: &str) -> &'static str {
    match symbol {
        "─" | "━" | "−" | "–" | "—" | "·" | "•" => "-",
        "│" | "┃" => "|",
        "┏" | "┓" | "┗" | "┛" | "┌" | "┐" | "└" | "┘" | "├" | "┤" | "┬" | "┴" | "┼" | "╭" | "╮" | "╰"
        | "╯" | "±" => "+",
        "▸" | "▶" | "→" | "›" => ">",
        "◂" | "◀" | "←" => "<",
        "↑" | "▲" => "^",
        "↓" | "▼" => "v",
        "✓" | "×" => "x",
        "○" => "o",
        "●" => "*",
        "◆" | "█" | "▀" | "▄" | "▌" | "▐" | "▓" | "▒" | "░" | "▆" | "▇" => "#",
        "…" => "~",
        braille if is_braille(braille) => ".",
        "°" => "'",
        _ => "?",
    }
}

#[cfg(test)]
mod tests {
    use ratatui::layout::Rect;

    use super::*;

    #[test]
    fn an_uncertainty_keeps_its_sign_in_ascii() {
        let mut buffer = Buffer::with_lines(["25.4 ± 0.6 % ─ ü"]);
        Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii }.finish(&mut buffer);
        assert_eq!(buffer, Buffer::with_lines(["25.4+/-0.6 % - ?"]));
    }

    #[test]
    fn the_plain_theme_sets_no_colour() {
        let plain = Theme { ink: Ink::Plain, glyphs: Glyphs::Full };
        for style in [plain.accent(), plain.alert(), plain.good(), plain.marked(), plain.field()] {
            assert_eq!((style.fg, style.bg), (None, None));
        }
    }

    #[test]
    fn an_empty_frame_is_no_trouble() {
        Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii }.finish(&mut Buffer::empty(Rect::ZERO));
    }
}
