//! What lies beyond the session's list: the springs of the shop, looked at where the list has nothing that lands or where
//! one of them would be clearly better than all on it; and the spring to get where the shop has none either.
//!
//! Kept apart from the assessment, which reads the record only: what hangs in the shop is no part of a session, and may be
//! another spring tomorrow. The forecasts are those of a spring on the list of which as much is known. Not here: putting
//! one on the list (a correction of the rack, like any other), and words (`phrase::shop_alternatives`).

use super::belief::Belief;
use super::choice::{self, Weighed};
use super::doubts::Doubts;
use super::forecast::{self, Forecast};
use super::{Advice, Assessment, KeepReason};
use crate::mechanics::Spring;
use crate::session::{Setup, ShopSpring, State, shop_rack};
use crate::units::{Minutes, Share, SpringRate};

/// What lies beyond the session's list.
#[derive(Debug, Clone, PartialEq)]
pub struct ShopAlternatives {
    /// The best spring of the shop that would do; none where none would.
    pub held: Option<ShopAlternative>,
    /// The spring to get, where nothing at hand lands and the shop cannot help now.
    pub get: Option<Forecast>,
    /// How many kinds of spring the shop's rack names, those that are out too.
    pub kinds: usize,
}

impl ShopAlternatives {
    /// The spring of the shop to offer: one that would do and can be had.
    pub fn offered(&self) -> Option<&ShopAlternative> {
        self.held.as_ref().filter(|held| held.how == Availability::There)
    }
}

/// A spring of the shop that would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShopAlternative {
    /// The kind.
    pub kind: ShopSpring,
    /// What it would do, under the number it would have on the list.
    pub forecast: Forecast,
    /// Whether it can be had.
    pub how: Availability,
}

/// Whether a spring of the shop can be had; the better comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Availability {
    /// It is there and nothing known speaks against it.
    There,
    /// It is the shop's, and out.
    Out,
    /// It is there and does not fit this shock; the forecast says why.
    DoesNotFit,
}

/// Looks past the session's list at the springs of a shop. None where the list will do, or where the readings are not yet
/// settled enough to say.
pub fn shop_alternatives(
    setup: &Setup,
    state: &State,
    assessment: &Assessment,
    shop: &[ShopSpring],
    doubts: &Doubts,
) -> Option<ShopAlternatives> {
    let least = least_worth(assessment)?;
    let nothing_lands = least == Least::Lands;
    let order = nothing_lands || is_only_kept(assessment);
    if shop.is_empty() && !order {
        return None;
    }
    let belief = super::learn(setup, state, doubts);
    let look = ShopLook { belief: &belief, assessment, lands: doubts.lands };
    let mut shop_alternatives =
        ShopAlternatives { held: look.best(shop, least), get: None, kinds: shop.len() };
    if order && shop_alternatives.offered().is_none() {
        shop_alternatives.get = look.to_get(least);
    }
    (shop_alternatives.held.is_some() || shop_alternatives.get.is_some()).then_some(shop_alternatives)
}

/// What a spring must promise to be spoken of.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Least {
    /// To land at all: nothing on the list does.
    Lands,
    /// To be worth more than the advised way.
    Worth(Minutes),
}

/// None while another reading or a check comes first.
fn least_worth(assessment: &Assessment) -> Option<Least> {
    let weighed = &assessment.weighed;
    match &assessment.advice {
        Advice::NothingOnTheList { .. } | Advice::NoneFits { .. } => Some(Least::Lands),
        Advice::FirstSpring { .. } | Advice::Swap { .. } => Some(Least::Worth(weighed.swap?.1)),
        Advice::Keep { .. } | Advice::SetPreload(_) => Some(Least::Worth(weighed.stop?.1)),
        Advice::TakeReadings { .. } | Advice::Check { .. } | Advice::ReadAgain { .. } => None,
    }
}

/// Whether the spring stays for want of a better one.
fn is_only_kept(assessment: &Assessment) -> bool {
    matches!(assessment.advice, Advice::Keep { because: KeepReason::NothingBetter })
}

/// What the shop's spring must be worth more before the list is left for it (common practice, no source).
const CLEARLY: Minutes = Minutes::of(5.0);

/// What a look takes.
struct ShopLook<'a> {
    belief: &'a Belief<'a>,
    assessment: &'a Assessment,
    lands: Share,
}

/// A spring as it was looked at.
struct SpringSeen {
    forecast: Forecast,
    /// What fitting it is worth; none where it does not fit.
    worth: Option<Minutes>,
}

impl ShopLook<'_> {
    fn look(&self, spring: &Spring) -> SpringSeen {
        let fitting = choice::fitting(self.belief, spring);
        let worth = fitting.as_ref().map(|fitting| Minutes::of(fitting.worth));
        let weighed = Weighed::of_one(fitting);
        SpringSeen { forecast: forecast::of_other(self.belief, spring, &weighed), worth }
    }

    /// The best spring of the shop that is worth enough: one that can be had before one that cannot.
    fn best(&self, shop: &[ShopSpring], least: Least) -> Option<ShopAlternative> {
        let setup = self.belief.setup;
        let others = shop.iter().filter(|kind| !setup.springs.iter().any(|spring| kind.is_kind_of(spring)));
        let held = others.map(|kind| self.held(kind));
        let would_do = held.filter(|(held, seen)| self.does(seen, least) && !self.is_twin(&held.forecast));
        let best = would_do.max_by(|(one, first), (other, second)| {
            other.how.cmp(&one.how).then(rank(first).total_cmp(&rank(second)))
        });
        best.map(|(held, _)| held)
    }

    /// Whether it promises enough. A spring that does not fit is spoken of by its chance.
    fn does(&self, seen: &SpringSeen, least: Least) -> bool {
        match (least, seen.worth) {
            (Least::Worth(least), Some(worth)) => worth > least + CLEARLY,
            (Least::Worth(_), None) => false,
            (Least::Lands, _) => seen.forecast.chance_with_collar >= self.lands,
        }
    }

    /// Whether it is a twin of the spring on the bike.
    fn is_twin(&self, forecast: &Forecast) -> bool {
        self.assessment.present().is_some_and(|present| forecast.is_twin_of(present))
    }

    fn held(&self, kind: &ShopSpring) -> (ShopAlternative, SpringSeen) {
        let seen = self.look(&shop_rack::joining(kind, &self.belief.setup.springs));
        let how = match kind.count {
            _ if !seen.forecast.fit.is_possible() => Availability::DoesNotFit,
            0 => Availability::Out,
            _ => Availability::There,
        };
        (ShopAlternative { kind: *kind, forecast: seen.forecast, how }, seen)
    }

    /// The spring to get: springs come in steps of 50 lb/in, some in steps of 25 (common practice, no source); one between
    /// the fifties only where that is worth a swap's price more. None where that is a twin of the one on the bike, or no
    /// better than what is there.
    fn to_get(&self, least: Least) -> Option<Forecast> {
        let needed = self.belief.needed_rate().value;
        let price = self.belief.doubts.prices.swap;
        let nearest = |step: f64| {
            let rate = SpringRate::lb_per_in(((needed.as_lb_per_in() / step).round() * step).max(step));
            self.look(&shop_rack::joining(&ShopSpring::labelled(rate), &self.belief.setup.springs))
        };
        let [coarse, fine] = [50.0, 25.0]
            .map(nearest)
            .map(|seen| Some(seen).filter(|seen| self.does(seen, least) && !self.is_twin(&seen.forecast)));
        match (coarse, fine) {
            (Some(coarse), Some(fine)) if rank(&fine) <= rank(&coarse) + price.value() => {
                Some(coarse.forecast)
            }
            (coarse, fine) => fine.or(coarse).map(|seen| seen.forecast),
        }
    }
}

/// What the better has more of: worth, or the chance of one that cannot be fitted.
fn rank(seen: &SpringSeen) -> f64 {
    seen.worth.map_or_else(|| seen.forecast.chance.as_fraction(), Minutes::value)
}
