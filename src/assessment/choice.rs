//! What could be done now, weighed: the chance of ending in the band, less a price in chance.
//!
//! Not here: which choices there are and what becomes of the best (`advice`).

use super::forecast::{self, Forecast};
use super::preload::PreloadPlan;
use crate::session::Target;
use crate::units::{Estimate, Share};

/// One thing that could be done, with the sag it leads to.
pub(super) struct WeighedChoice<'a> {
    pub(super) what: ChoiceKind<'a>,
    pub(super) sag: Estimate<Share>,
    pub(super) reach: CollarReach,
    pub(super) target: Target,
    /// What it costs, in parts of chance.
    pub(super) price: f64,
}

/// What it is.
pub(super) enum ChoiceKind<'a> {
    Keep,
    SetPreload(PreloadPlan),
    Swap(&'a Forecast),
}

/// How much too much sag the collar could still take away, and what that is worth beside landing without it.
#[derive(Clone, Copy)]
pub(super) struct CollarReach {
    pub(super) by: Share,
    pub(super) worth: f64,
}

impl CollarReach {
    pub(super) const NONE: Self = Self { by: Share::ZERO, worth: 0.0 };
}

impl WeighedChoice<'_> {
    /// Chance of the band less the price, if the sag turned out this much larger than it looks now.
    pub(super) fn worth(&self, shift: Share) -> f64 {
        let sag = Estimate::new(self.sag.value + shift, self.sag.uncertainty);
        let chance = |high: Share| forecast::chance_between(sag, self.target.low(), high).as_fraction();
        let alone = chance(self.target.high());
        let rescued =
            if self.reach.worth > 0.0 { chance(self.target.high() + self.reach.by) - alone } else { 0.0 };
        alone + self.reach.worth * rescued - self.price
    }
}

/// The choice that is worth most; the earlier of two alike, since it is the cheaper.
pub(super) fn best<'a, 'b>(choices: &'b [WeighedChoice<'a>], shift: Share) -> &'b WeighedChoice<'a> {
    choices
        .iter()
        .rev()
        .max_by(|one, other| one.worth(shift).total_cmp(&other.worth(shift)))
        .unwrap_or(&choices[0])
}
