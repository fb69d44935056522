//! How each setting is spelled in the file, and both ways between that and what it means.
//!
//! Spellings stay for ever within a format, whatever the program calls things. Not here: the file as a whole.

use serde::{Deserialize, Serialize};

use crate::archive::own_file::tidy;
use crate::settings::{Glyphs, Ink, Mouse, StartingSprings};
use crate::units::{SpringRate, UnitSet};

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum UnitsWord {
    Trade,
    Imperial,
    Metric,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum ThemeWord {
    AsTerminal,
    Dark,
    Light,
    HighContrast,
    Plain,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum GlyphSet {
    AsLocale,
    Full,
    Ascii,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum Switch {
    Off,
    On,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum Springs {
    Shop,
    Row { from_lb_in: f64, to_lb_in: f64, step_lb_in: f64 },
    Nothing,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Band {
    pub(super) name: String,
    pub(super) sag_percent: f64,
    pub(super) half_width_percent: f64,
}

impl From<UnitsWord> for UnitSet {
    fn from(units: UnitsWord) -> Self {
        match units {
            UnitsWord::Trade => Self::Trade,
            UnitsWord::Imperial => Self::Imperial,
            UnitsWord::Metric => Self::Metric,
        }
    }
}

impl From<UnitSet> for UnitsWord {
    fn from(units: UnitSet) -> Self {
        match units {
            UnitSet::Trade => Self::Trade,
            UnitSet::Imperial => Self::Imperial,
            UnitSet::Metric => Self::Metric,
        }
    }
}

impl From<ThemeWord> for Option<Ink> {
    fn from(theme: ThemeWord) -> Self {
        match theme {
            ThemeWord::AsTerminal => None,
            ThemeWord::Dark => Some(Ink::Dark),
            ThemeWord::Light => Some(Ink::Light),
            ThemeWord::HighContrast => Some(Ink::HighContrast),
            ThemeWord::Plain => Some(Ink::Plain),
        }
    }
}

impl From<Option<Ink>> for ThemeWord {
    fn from(ink: Option<Ink>) -> Self {
        match ink {
            None => Self::AsTerminal,
            Some(Ink::Dark) => Self::Dark,
            Some(Ink::Light) => Self::Light,
            Some(Ink::HighContrast) => Self::HighContrast,
            Some(Ink::Plain) => Self::Plain,
        }
    }
}

impl From<GlyphSet> for Option<Glyphs> {
    fn from(glyphs: GlyphSet) -> Self {
        match glyphs {
            GlyphSet::AsLocale => None,
            GlyphSet::Full => Some(Glyphs::Full),
            GlyphSet::Ascii => Some(Glyphs::Ascii),
        }
    }
}

impl From<Option<Glyphs>> for GlyphSet {
    fn from(glyphs: Option<Glyphs>) -> Self {
        match glyphs {
            None => Self::AsLocale,
            Some(Glyphs::Full) => Self::Full,
            Some(Glyphs::Ascii) => Self::Ascii,
        }
    }
}

impl From<Switch> for Mouse {
    fn from(switch: Switch) -> Self {
        match switch {
            Switch::Off => Self::Terminal,
            Switch::On => Self::Program,
        }
    }
}

impl From<Mouse> for Switch {
    fn from(mouse: Mouse) -> Self {
        match mouse {
            Mouse::Terminal => Self::Off,
            Mouse::Program => Self::On,
        }
    }
}

impl From<StartingSprings> for Springs {
    fn from(springs: StartingSprings) -> Self {
        let rate = |rate: SpringRate| tidy(rate.as_lb_per_in());
        match springs {
            StartingSprings::ShopRack => Self::Shop,
            StartingSprings::Nothing => Self::Nothing,
            StartingSprings::Row(row) => Self::Row {
                from_lb_in: rate(row.from()),
                to_lb_in: rate(row.to()),
                step_lb_in: rate(row.step().rate()),
            },
        }
    }
}
