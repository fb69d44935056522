//! The shop's rack and the settings as the screen gets them: read, or every fault of the file in a sentence.
//!
//! Not here: reading and writing them (`app::own_files`).

use crate::session::{ShopSpring, Spring, shop_rack};
use crate::settings::Settings;

/// The springs of the shop, as far as their file can be read.
#[derive(Debug, Clone, PartialEq)]
pub enum ShopRack {
    /// It was read, or there is none yet.
    Read(Vec<ShopSpring>),
    /// It cannot be read; every fault in a sentence of its own.
    Unreadable(Vec<String>),
}

impl Default for ShopRack {
    fn default() -> Self {
        Self::Read(Vec::new())
    }
}

impl ShopRack {
    /// Every kind of spring on it, those that are out too; none where it cannot be read.
    pub fn kinds(&self) -> &[ShopSpring] {
        match self {
            Self::Read(springs) => springs,
            Self::Unreadable(_) => &[],
        }
    }

    pub(in crate::screen) fn kinds_mut(&mut self) -> &mut [ShopSpring] {
        match self {
            Self::Read(springs) => springs,
            Self::Unreadable(_) => &mut [],
        }
    }

    /// The springs a session may take from it; none that are out.
    pub fn at_hand(&self) -> Vec<Spring> {
        shop_rack::at_hand(self.kinds())
    }
}

/// The settings, as far as their file can be read.
#[derive(Debug, Clone, PartialEq)]
pub enum SettingsFile {
    /// They were read, or there are none yet and they are as the program brings them.
    Read(Box<Settings>),
    /// They cannot be read; every fault in a sentence of its own.
    Unreadable(Vec<String>),
}
