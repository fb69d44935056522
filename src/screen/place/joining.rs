//! A spring that joins the session's list in the middle of the work: one of the shop's, or one that somebody holds.
//!
//! What is known of it at the shop comes with it; what cannot be fitted stays off the list, with the reason; what the
//! shop's rack does not offer is asked about once. In the record it is a correction of the rack, like any other. Not here:
//! where it is typed (`guide`, `trials`).

use super::key_outcome::{ConfirmOnce, KeyOutcome};
use super::typed_spring::SpringFault;
use crate::mechanics::fit;
use crate::phrase;
use crate::screen::model::{Notice, OpenSession};
use crate::session::shop_rack::{self, bears, same_length};
use crate::session::{Deed, Detail, Setup, ShopSpring, Spring};
use crate::text::mark::Mark;
use crate::units::{Turns, UnitSet};

/// A spring about to join.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Joining {
    /// As it will stand on the list.
    pub(super) spring: Spring,
    from: Source,
}

/// Where it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Source {
    /// The shop's rack has it.
    Shop,
    /// The shop's rack names it, and none is there.
    Out,
    /// Neither list nor rack knows it.
    Hand,
}

impl Joining {
    /// The shop's spring with a mark; none where no spring of the rack bears it.
    pub(super) fn with_mark(mark: Mark, setup: &Setup, shop: &[ShopSpring]) -> Option<Self> {
        shop.iter().find(|kind| kind.mark() == Some(mark)).map(|kind| Self::of_shop(kind, setup))
    }

    fn of_shop(kind: &ShopSpring, setup: &Setup) -> Self {
        let from = if kind.count > 0 { Source::Shop } else { Source::Out };
        Self { spring: shop_rack::joining(kind, &setup.springs), from }
    }

    /// The spring as it was typed, of its stroke where one was named: the shop's that fits and is there before others, and
    /// one without a mark before one that has it, because the mark was not typed.
    ///
    /// # Errors
    /// When several springs with marks are meant: which of them is on the coil to read.
    pub(super) fn of(typed: &Spring, setup: &Setup, shop: &[ShopSpring]) -> Result<Self, SpringFault> {
        let Spring { label, stroke, end_rate, .. } = *typed;
        let printed = |kind: &ShopSpring| match (kind.stroke, stroke) {
            (_, None) => true,
            (Some(known), Some(entered)) => same_length(known, entered),
            (None, Some(_)) => false,
        };
        let ends = |kind: &ShopSpring| kind.end_rate.is_some() == end_rate.is_some();
        let asked = |kind: &&ShopSpring| bears(kind.label, label) && ends(kind) && printed(kind);
        let joined = |kind: &ShopSpring| shop_rack::joining(kind, &setup.springs);
        let fits = |kind: &ShopSpring| fit(&joined(kind), &setup.shock, Turns::ZERO).is_possible();
        let rank = |kind: &ShopSpring| (fits(kind), kind.count.min(1), kind.marked.is_none());
        let Some(best) = shop.iter().filter(asked).max_by_key(|kind| rank(kind)) else {
            let kind = ShopSpring { end_rate, stroke, ..ShopSpring::labelled(label) };
            return Ok(Self { spring: joined(&kind), from: Source::Hand });
        };
        let as_good: Vec<Mark> = shop
            .iter()
            .filter(asked)
            .filter(|kind| rank(kind) == rank(best))
            .filter_map(ShopSpring::mark)
            .collect();
        if as_good.len() > 1 {
            return Err(SpringFault::WhichMark(label, as_good));
        }
        Ok(Self::of_shop(best, setup))
    }

    /// Lets a spring pass that fits and that the shop has; another the second time it comes.
    ///
    /// # Errors
    /// With why it does not fit, or with the question the first time.
    pub(super) fn agreed(
        &self,
        setup: &Setup,
        asked: &mut ConfirmOnce,
        units: UnitSet,
    ) -> Result<(), Notice> {
        let fit = fit(&self.spring, &setup.shock, Turns::ZERO);
        if !fit.is_possible() {
            return Err(Notice::Said(phrase::shop_alternatives::does_not_fit(
                &self.spring,
                fit,
                &setup.shock,
                units,
            )));
        }
        let name = &self.name(units);
        match self.from {
            Source::Shop => Ok(()),
            Source::Out => {
                asked.spring_once(self.spring.number, phrase::shop_alternatives::out_but_here(name))
            }
            Source::Hand => {
                asked.spring_once(self.spring.number, phrase::shop_alternatives::known_to_nobody(name))
            }
        }
    }

    /// The spring by its label and its mark.
    pub(super) fn name(&self, units: UnitSet) -> String {
        phrase::spring(self.spring.number, &[self.spring], units)
    }

    /// Whose it is, and that it joins the list.
    pub(super) const fn words(&self) -> &'static str {
        match self.from {
            Source::Shop | Source::Out => phrase::shop_alternatives::SHOPS,
            Source::Hand => phrase::shop_alternatives::IN_HAND,
        }
    }

    /// The correction of the rack that it comes to.
    pub(super) fn deed(&self, setup: &Setup) -> Deed {
        Deed::Entered(Detail::Springs(setup.springs.iter().copied().chain([self.spring]).collect()))
    }
}

/// The spring the shop offers goes on the list; it was looked at before it was offered.
pub(super) fn join(kind: &ShopSpring, session: &OpenSession) -> KeyOutcome {
    let Some(setup) = &session.state.setup else { return KeyOutcome::Shown };
    let joining = Joining { spring: shop_rack::joining(kind, &setup.springs), from: Source::Shop };
    KeyOutcome::deed(joining.deed(setup))
}

/// What is to be said of a spring that only joined the list; none where anything else was done.
pub(super) fn joined(deeds: &[Deed], units: UnitSet) -> Option<String> {
    let [Deed::Entered(Detail::Springs(list))] = deeds else { return None };
    let name = phrase::spring(list.last()?.number, list, units);
    Some(phrase::shop_alternatives::joined(&name))
}
