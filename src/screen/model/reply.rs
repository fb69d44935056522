//! What an update of a place comes to: what is asked of the world, and where to go.
//!
//! Not here: who does either (`model`, and the shell behind `effect`).

use crate::screen::effect::Effect;
use crate::screen::place::Place;

/// Where to go after an update.
#[derive(Debug)]
pub enum Go {
    /// Nowhere.
    Stay,
    /// One level back.
    Back,
    /// Further in.
    To(Place),
    /// To a record just laid out, straight from the first screen: the way back from it leads there.
    FromHome(Place),
    /// Elsewhere, at the same level.
    Instead(Place),
}

/// What an update of a place comes to.
#[derive(Debug)]
pub struct Reply {
    /// What is asked of the world.
    pub effects: Vec<Effect>,
    /// Where to go.
    pub go: Go,
}

impl Reply {
    /// Nothing asked, nowhere gone.
    pub fn stay() -> Self {
        Self::asking(Vec::new())
    }

    /// Something asked, nowhere gone.
    pub fn asking(effects: Vec<Effect>) -> Self {
        Self { effects, go: Go::Stay }
    }

    /// Nothing asked, gone somewhere.
    pub fn going(go: Go) -> Self {
        Self { effects: Vec::new(), go }
    }
}
