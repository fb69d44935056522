//! Inks and glyphs: few colours out of the terminal's own sixteen, its own ground, and a pass that makes a frame ASCII.
//!
//! Meaning stands in words and shapes first; colour only repeats it, blue and cyan against red, which protanopes,
//! deuteranopes and tritanopes tell apart. Marks may be a darker blue than words, which need more contrast (WCAG 2.2, 1.4.3
//! and 1.4.11); `tests/screens/colour.rs` holds the inks to both. Neither yellow nor dark grey is ever the only ink: the
//! one is lost on a light ground, the other on a dark one. Without colour the theme sets none at all, because even a reset
//! would swallow bold and reverse there. Not here: what is drawn.

use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier, Style};

use crate::archive::search::fold;
use crate::settings::Settings;
pub use crate::settings::{Glyphs, Ink};

/// How the screen is inked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// The inks.
    pub ink: Ink,
    /// What the terminal can show.
    pub glyphs: Glyphs,
}

/// What the look of a run comes from: the terminal, and what the command line said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ThemeChoice {
    /// What the terminal and its locale say.
    pub found: Theme,
    /// The inks the command line asks for.
    pub asked_ink: Option<Ink>,
    /// The glyphs the command line asks for.
    pub asked_glyphs: Option<Glyphs>,
}

impl ThemeChoice {
    /// A look with nothing asked for.
    pub const fn found(found: Theme) -> Self {
        Self { found, asked_ink: None, asked_glyphs: None }
    }

    /// The theme under these settings: the command line comes first, then the settings, then the terminal.
    pub fn theme(self, settings: &Settings) -> Theme {
        Theme {
            ink: self.asked_ink.or(settings.ink).unwrap_or(self.found.ink),
            glyphs: self.asked_glyphs.or(settings.glyphs).unwrap_or(self.found.glyphs),
        }
    }
}

/// What an ink is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Use {
    /// Signs and shapes.
    Mark,
    /// Words that stand out.
    Words,
    Alert,
}

impl Theme {
    /// The usual one.
    pub const DARK: Self = Self { ink: Ink::Dark, glyphs: Glyphs::Full };

    fn inked(self, what: Use) -> Style {
        let colour = match (self.ink, what) {
            (Ink::Plain, _) => return Style::new(),
            (Ink::Dark, Use::Mark) => Color::LightBlue,
            (Ink::Dark, Use::Words) => Color::Cyan,
            (Ink::Light, Use::Mark | Use::Words) => Color::Blue,
            (Ink::Light, Use::Alert) => Color::Red,
            (Ink::HighContrast, Use::Mark | Use::Words) => Color::LightCyan,
            (Ink::Dark | Ink::HighContrast, Use::Alert) => Color::LightRed,
        };
        Style::new().fg(colour)
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
        match self.ink {
            Ink::Dark | Ink::Plain => Style::new().add_modifier(Modifier::DIM),
            Ink::Light | Ink::HighContrast => Style::new(),
        }
    }

    /// Marks and curves.
    pub fn accent(self) -> Style {
        self.inked(Use::Mark)
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
        self.inked(Use::Alert).add_modifier(Modifier::BOLD)
    }

    /// Something in order; the words say so as well.
    pub fn good(self) -> Style {
        self.inked(Use::Words).add_modifier(Modifier::BOLD)
    }

    /// The title of a step.
    pub fn title(self) -> Style {
        self.inked(Use::Words).add_modifier(Modifier::BOLD)
    }

    /// The ground of the target range with the ink on it: blue and white of the sixteen, legible on any ground around it. None
    /// without colour, where lines edge the range.
    pub fn ground(self) -> Option<Style> {
        let inked = Style::new().bg(Color::Blue).fg(Color::White).remove_modifier(Modifier::DIM);
        (self.ink != Ink::Plain).then_some(inked)
    }

    /// A figure that does not count.
    pub fn void(self) -> Style {
        self.quiet().add_modifier(Modifier::CROSSED_OUT)
    }

    /// Makes a finished frame what the terminal can show.
    pub fn finish(self, buffer: &mut Buffer) {
        if self.glyphs == Glyphs::Ascii {
            to_ascii(buffer);
        }
        if self.ink == Ink::HighContrast {
            on_black(buffer);
        }
    }
}

/// Gives every cell without a colour of its own white ink, and every cell without a ground a black one.
fn on_black(buffer: &mut Buffer) {
    for cell in &mut buffer.content {
        cell.fg = if cell.fg == Color::Reset { Color::White } else { cell.fg };
        cell.bg = if cell.bg == Color::Reset { Color::Black } else { cell.bg };
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
        let (letter, stand_in) = (bare_letter(symbol), stand_in(symbol));
        let cell = &mut buffer.content[index];
        if let Some(letter) = letter {
            cell.set_char(letter)
        } else {
            cell.set_symbol(stand_in)
        };
    }
}

/// A letter without what stands on it, so that names stay readable; none for anything but a letter, and for one that has
/// nothing of the kind among the ASCII ones.
fn bare_letter(symbol: &str) -> Option<char> {
    let letter = symbol.chars().next().filter(|letter| letter.is_alphabetic())?;
    let bare = fold(symbol).chars().next().filter(char::is_ascii_alphanumeric)?;
    Some(if letter.is_uppercase() { bare.to_ascii_uppercase() } else { bare })
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
        "─" | "−" | "–" | "—" | "·" | "╴" | "╶" => "-",
        "━" | "╸" | "╺" | "╼" | "╾" => "=",
        "│" | "┃" | "▌" | "▐" => "|",
        "╱" => "/",
        "•" | "▖" | "▗" => ".",
        "░" | "▒" => ":",
        "┏" | "┓" | "┗" | "┛" | "┌" | "┐" | "└" | "┘" | "├" | "┤" | "┬" | "┴" | "┼" | "╭" | "╮" | "╰"
        | "╯" | "±" | "✓" => "+",
        "▸" | "▶" | "→" | "»" => ">",
        "◂" | "◀" | "←" | "«" => "<",
        "↑" | "▲" => "^",
        "↓" | "▼" => "v",
        "×" => "x",
        "○" | "◎" => "o",
        "●" | "≠" => "*",
        "◆" | "█" | "▀" | "▄" => "#",
        "■" => "@",
        "…" => "~",
        braille if is_braille(braille) => ".",
        "°" | "▘" | "▝" => "'",
        _ => "?",
    }
}

#[cfg(test)]
mod tests {
    use ratatui::layout::Rect;

    use super::*;

    #[test]
    fn an_uncertainty_keeps_its_sign_and_a_name_its_letters_in_ascii() {
        let mut buffer = Buffer::with_lines(["25.4 ± 0.6 % ─ Łukasz Müller, Ærø 漢"]);
        Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii }.finish(&mut buffer);
        assert_eq!(buffer, Buffer::with_lines(["25.4+/-0.6 % - Lukasz Muller, Aro ? "]));
    }

    #[test]
    fn the_plain_theme_sets_no_colour() {
        let plain = Theme { ink: Ink::Plain, glyphs: Glyphs::Full };
        for style in [plain.accent(), plain.alert(), plain.good(), plain.marked(), plain.field()] {
            assert_eq!((style.fg, style.bg), (None, None));
        }
    }

    #[test]
    fn no_theme_inks_anything_in_yellow_or_dark_grey() {
        for ink in [Ink::Dark, Ink::Light, Ink::HighContrast, Ink::Plain] {
            let theme = Theme { ink, glyphs: Glyphs::Full };
            for style in [theme.accent(), theme.alert(), theme.good(), theme.title(), theme.quiet()] {
                let lost = [Color::Yellow, Color::LightYellow, Color::DarkGray];
                assert!(style.fg.is_none_or(|colour| !lost.contains(&colour)), "{ink:?}: {style:?}");
            }
        }
    }

    #[test]
    fn nothing_is_dimmed_on_a_light_ground_or_in_high_contrast() {
        for ink in [Ink::Light, Ink::HighContrast] {
            let theme = Theme { ink, glyphs: Glyphs::Full };
            for style in [theme.quiet(), theme.void()] {
                assert!(!style.add_modifier.contains(Modifier::DIM), "{ink:?}");
            }
        }
    }

    #[test]
    fn high_contrast_brings_its_own_ground() {
        let mut buffer = Buffer::with_lines(["sag"]);
        Theme { ink: Ink::HighContrast, glyphs: Glyphs::Full }.finish(&mut buffer);
        assert!(buffer.content.iter().all(|cell| (cell.fg, cell.bg) == (Color::White, Color::Black)));
    }

    #[test]
    fn an_empty_frame_is_no_trouble() {
        Theme { ink: Ink::Plain, glyphs: Glyphs::Ascii }.finish(&mut Buffer::empty(Rect::ZERO));
    }
}
