//! What lies beyond the session's list: the springs of the shop, looked at where the list has nothing that lands or where
//! one of them would be clearly better than all on it; and the spring to get where the shop has none either.
//!
//! Kept apart from the assessment, which reads the record only: what hangs in the shop is no part of a session, and may be
//! another spring tomorrow. The forecasts are those of a spring on the list of which as much is known. Not here: putting
//! one on the list (a correction of the rack, like any other), and words (`phrase::shop_alternatives`).

use super::doubts::Doubts;
use super::forecast::{self, Forecast, RateSource};
use super::posterior::Posterior;
use super::{Advice, Assessment};
use crate::mechanics::{Spring, SpringNumber};
use crate::session::{Setup, ShopSpring, State, shop_rack};
use crate::units::{Share, SpringRate, Turns};

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
    let least = least_worth(assessment, doubts)?;
    let nothing_lands = matches!(assessment.advice, Advice::NothingOnTheList { .. });
    if shop.is_empty() && !nothing_lands {
        return None;
    }
    let (_, _, posterior) = super::learn(setup, state, doubts);
    let look = ShopLook { setup, present: assessment.present(), posterior, doubts };
    let mut shop_alternatives =
        ShopAlternatives { held: look.best(shop, least), get: None, kinds: shop.len() };
    if nothing_lands && shop_alternatives.offered().is_none() {
        shop_alternatives.get = look.to_get(assessment.findings.needed_rate.value);
    }
    (shop_alternatives.held.is_some() || shop_alternatives.get.is_some()).then_some(shop_alternatives)
}

/// What a spring must be worth to be spoken of: to land at all where nothing on the list does, else to gain as much over
/// the advised way as a swap must. None while another reading or a check comes first.
fn least_worth(assessment: &Assessment, doubts: &Doubts) -> Option<Share> {
    let limits = &doubts.decision;
    let of = |number: SpringNumber| {
        let forecast = assessment.forecasts.iter().find(|forecast| forecast.spring == number);
        forecast.map(|forecast| forecast.worth(limits))
    };
    let best = match &assessment.advice {
        Advice::NothingOnTheList { .. } => return Some(limits.lands),
        Advice::FirstSpring { best_match, .. } | Advice::Swap { best_match, .. } => of(*best_match)?,
        Advice::Keep { .. } => assessment.present()?.chance,
        Advice::SetPreload(plan) => plan.chance_after,
        Advice::TakeReadings { .. } | Advice::Check { .. } | Advice::ReadAgain { .. } => return None,
    };
    Some(best + limits.better_by)
}

/// What a forecast takes.
struct ShopLook<'a> {
    setup: &'a Setup,
    /// The spring on the bike.
    present: Option<&'a Forecast>,
    posterior: Posterior,
    doubts: &'a Doubts,
}

impl ShopLook<'_> {
    fn forecast(&self, spring: &Spring) -> Forecast {
        forecast::forecast(self.setup, spring, Turns::ZERO, RateSource::ByLabel, &self.posterior, self.doubts)
    }

    /// The best spring of the shop that is worth enough: one that can be had before one that cannot.
    fn best(&self, shop: &[ShopSpring], least: Share) -> Option<ShopAlternative> {
        let limits = &self.doubts.decision;
        let others =
            shop.iter().filter(|kind| !self.setup.springs.iter().any(|spring| kind.is_kind_of(spring)));
        let held = others.map(|kind| self.held(kind));
        let would_do =
            held.filter(|held| held.forecast.worth(limits) >= least && !self.is_twin(&held.forecast));
        would_do.max_by(|one, other| {
            let worth = one.forecast.by_worth(&other.forecast, self.setup.target, limits);
            other.how.cmp(&one.how).then(worth)
        })
    }

    /// Whether it is a twin of the spring on the bike.
    fn is_twin(&self, forecast: &Forecast) -> bool {
        self.present.is_some_and(|present| forecast.is_twin_of(present))
    }

    fn held(&self, kind: &ShopSpring) -> ShopAlternative {
        let forecast = self.forecast(&shop_rack::joining(kind, &self.setup.springs));
        let how = match kind.count {
            _ if !forecast.fit.is_possible() => Availability::DoesNotFit,
            0 => Availability::Out,
            _ => Availability::There,
        };
        ShopAlternative { kind: *kind, forecast, how }
    }

    /// The spring to get for a rate: springs come in steps of 50 lb/in, some in steps of 25 (common practice, no source);
    /// one between the fifties only where that is clearly better. None where that is a twin of the one on the bike.
    fn to_get(&self, needed: SpringRate) -> Option<Forecast> {
        let limits = &self.doubts.decision;
        let nearest = |step: f64| {
            let rate = SpringRate::lb_per_in(((needed.as_lb_per_in() / step).round() * step).max(step));
            self.forecast(&shop_rack::joining(&ShopSpring::labelled(rate), &self.setup.springs))
        };
        match [50.0, 25.0].map(|step| Some(nearest(step)).filter(|forecast| !self.is_twin(forecast))) {
            [Some(coarse), Some(fine)] if fine.worth(limits) <= coarse.worth(limits) + limits.better_by => {
                Some(coarse)
            }
            [coarse, fine] => fine.or(coarse),
        }
    }
}
