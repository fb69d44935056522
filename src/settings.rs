//! Floor 3: what a shop chooses once for all its sessions, as plain data: units, ruler, inks, glyphs, mouse, bands of aim
//! and the springs a new session starts with.
//!
//! Every value here is possible: what is not, its constructor refuses. Settings are no part of a record; a session takes
//! from them only what somebody accepts. Not here: the file (`archive::settings_file`), their words (`phrase::settings`),
//! and what holds for one run only (`screen::settings_in_force`).

mod paper;
mod starting_springs;
mod target_range;

pub use paper::{Paper, PaperLine};
pub use starting_springs::{RateRow, RateStep, RowFault, StartingSprings};
pub use target_range::{LONGEST_NAME, MOST_BANDS, TargetRange, TargetRangeFault, TargetRanges};

use crate::session::Refusal;
use crate::session::limits::Figure;
use crate::text::FreeText;
use crate::units::{Length, Quantity, UnitSet};

/// Everything a shop chooses.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Settings {
    /// The units the program starts with.
    pub units: UnitSet,
    /// The ruler that lies at the bench.
    pub ruler: Ruler,
    /// The inks; none to go by what the terminal says.
    pub ink: Option<Ink>,
    /// The glyphs; none to go by what the locale says.
    pub glyphs: Option<Glyphs>,
    /// Whose the mouse is.
    pub mouse: Mouse,
    /// The bands of aim offered by name.
    pub target_ranges: TargetRanges,
    /// The springs a new session starts with.
    pub springs: StartingSprings,
    /// The shop on paper.
    pub paper: Paper,
    /// The records folder, as somebody wrote it; empty for that of the user account.
    pub records: FreeText,
}

/// Names of the settings besides the bands of aim, which have names of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Setting {
    /// [`Settings::units`].
    Units,
    /// [`Settings::ruler`].
    Ruler,
    /// [`Settings::ink`].
    Theme,
    /// [`Settings::glyphs`].
    Glyphs,
    /// [`Settings::mouse`].
    Mouse,
    /// [`Settings::springs`].
    Springs,
}

impl Setting {
    /// Every one.
    pub const ALL: [Self; 6] =
        [Self::Units, Self::Ruler, Self::Theme, Self::Glyphs, Self::Mouse, Self::Springs];
}

/// The least difference a ruler shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ruler(Length);

impl Ruler {
    /// A ruler.
    ///
    /// # Errors
    /// When there is no such ruler.
    pub fn new(least_difference: Length) -> Result<Self, Refusal> {
        Figure::Ruler.check(Quantity::Length(least_difference))?;
        Ok(Self(least_difference))
    }

    /// The least difference it shows.
    pub const fn least_difference(self) -> Length {
        self.0
    }
}

impl Default for Ruler {
    /// Half a millimetre, as an eye reads between the marks of a steel rule (common practice, no source).
    fn default() -> Self {
        Self(Length::mm(0.5))
    }
}

/// The inks of a screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// For a dark ground: the brighter of the terminal's sixteen colours.
    Dark,
    /// For a light ground: the darker ones, and nothing dimmed.
    Light,
    /// White on black, whatever the terminal's ground is, and nothing dimmed.
    HighContrast,
    /// No colour: bold, dim and reverse only.
    Plain,
}

impl Ink {
    /// Every one.
    pub const ALL: [Self; 4] = [Self::Dark, Self::Light, Self::HighContrast, Self::Plain];
}

/// What the terminal can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Glyphs {
    /// Lines, blocks and signs beyond ASCII.
    Full,
    /// ASCII only.
    Ascii,
}

impl Glyphs {
    /// Every one.
    pub const ALL: [Self; 2] = [Self::Full, Self::Ascii];
}

/// Whose clicks and wheel are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mouse {
    /// The terminal's, which selects text with them.
    #[default]
    Terminal,
    /// The program's.
    Program,
}

impl Mouse {
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Terminal => Self::Program,
            Self::Program => Self::Terminal,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ruler_without_marks_is_none() {
        assert!(Ruler::new(Length::mm(0.0)).is_err());
        assert_eq!(Ruler::new(Length::mm(1.0)).map(Ruler::least_difference), Ok(Length::mm(1.0)));
    }
}
