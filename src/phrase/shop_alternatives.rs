//! The springs of the shop beyond the session's list, in words: which would do, why one is not offered, and which to get.
//!
//! Not here: which they are (`assessment::shop_alternatives`), and the advice itself (`advice`).

use super::deed::named;
use super::review::with_a_little_preload;
use super::{AdviceWords, chance};
use crate::assessment::{Advice, Assessment, Availability, Forecast, ShopAlternative, ShopAlternatives};
use crate::mechanics::{Fit, Spring};
use crate::session::{Setup, Shock, ShopSpring};
use crate::units::{Length, UnitSet};

/// What lies beyond the list, in one to three sentences.
pub fn shop_alternatives(shop_alternatives: &ShopAlternatives, setup: &Setup, units: UnitSet) -> String {
    let held = shop_alternatives.held.as_ref().map(|held| self::held(held, setup, units));
    let get = shop_alternatives.get.as_ref().map(|get| to_get(get, shop_alternatives, setup, units));
    held.into_iter().chain(get).collect::<Vec<_>>().join(" ")
}

/// The verdict with what lies beyond the list in it: headline and reason. Where a spring of the shop is offered, it is what
/// is advised and comes first.
pub fn verdict(
    advice: AdviceWords,
    assessment: &Assessment,
    shop_alternatives: Option<&ShopAlternatives>,
    offered: Option<ShopSpring>,
    setup: &Setup,
    units: UnitSet,
) -> [String; 2] {
    let shop_alternatives = shop_alternatives
        .map(|shop_alternatives| self::shop_alternatives(shop_alternatives, setup, units))
        .unwrap_or_default();
    let Some(kind) = offered else {
        return [advice.headline, format!("{} {shop_alternatives}", advice.reason).trim_end().to_owned()];
    };
    let headline = format!("Better: the shop's {}", name(&kind, units));
    let of_the_list = match assessment.advice {
        Advice::NothingOnTheList { .. } | Advice::NoneFits { .. } => String::new(),
        _ => format!(" Of those on the list: {}. {}", advice.headline, advice.reason),
    };
    [headline, format!("{shop_alternatives}{of_the_list}")]
}

/// The same in a few words, for a narrow column.
pub fn in_short(shop_alternatives: &ShopAlternatives, units: UnitSet) -> String {
    let held = shop_alternatives.held.as_ref().map(|held| {
        let rate = name(&held.kind, units);
        match held.how {
            Availability::There => format!("The shop has {rate}."),
            Availability::Out => format!("The shop's {rate} is out."),
            Availability::DoesNotFit => format!("The shop's {rate} does not fit."),
        }
    });
    let get = shop_alternatives.get.as_ref().map(|get| format!("Get {}.", units.show(get.rate)));
    held.into_iter().chain(get).collect::<Vec<_>>().join(" ")
}

/// A spring of the rack by its label, with its mark where it has one.
fn name(kind: &ShopSpring, units: UnitSet) -> String {
    named(kind.label, None, kind.mark(), units)
}

fn held(held: &ShopAlternative, setup: &Setup, units: UnitSet) -> String {
    let rate = name(&held.kind, units);
    let lands = lands(&held.forecast, units);
    match held.how {
        Availability::There => format!("Not on the list, but on the rack: {rate}, {lands}."),
        Availability::Out => format!("On the rack, but out: {rate}, {lands}."),
        Availability::DoesNotFit => {
            let spring = held.kind.numbered(held.forecast.spring);
            let why = in_the_way(&spring, held.forecast.fit, &setup.shock, units);
            format!("The shop's {rate} would be on target, but does not fit: {why}.")
        }
    }
}

fn to_get(get: &Forecast, shop_alternatives: &ShopAlternatives, setup: &Setup, units: UnitSet) -> String {
    let rate = units.show(get.rate);
    let lands = format!(": expect {}", lands(get, units));
    let (opening, lands) = match &shop_alternatives.held {
        _ if shop_alternatives.kinds == 0 => ("Order", lands),
        Some(held) if units.show(held.kind.label) == rate => ("Or order another", String::new()),
        Some(_) => ("Else get", lands),
        None => ("The shop has none that would; order", lands),
    };
    let body = setup.shock.body_diameter;
    let body = body.map_or_else(String::new, |body| format!(", inner diameter {}", units.show(body)));
    let stroke = units.show(setup.shock.stroke);
    format!("{opening} {rate}, with a stroke of at least {stroke}{body}{lands}.")
}

fn lands(forecast: &Forecast, units: UnitSet) -> String {
    let with_collar = with_a_little_preload(forecast);
    format!(
        "{}, {} of being on target{with_collar}",
        forecast.sag_to_tell().shown(units),
        chance(forecast.chance)
    )
}

/// Why a spring cannot go on this shock; empty where nothing known speaks against it.
fn in_the_way(spring: &Spring, fit: Fit, shock: &Shock, units: UnitSet) -> String {
    let figure =
        |length: Option<Length>| length.map_or_else(|| "unknown".to_owned(), |known| units.show(known));
    match fit {
        Fit::WouldBind { needed } => format!(
            "its coils would close, since it may be compressed {} and the shock would compress it {}",
            figure(spring.stroke),
            units.show(needed)
        ),
        Fit::TooNarrow => format!(
            "its inner diameter is {} and the shock body's {}",
            figure(spring.bore),
            figure(shock.body_diameter)
        ),
        Fit::Fits | Fit::StrokeUnknown => String::new(),
    }
}

/// A spring that is not put on the list because it cannot be fitted.
pub fn does_not_fit(spring: &Spring, fit: Fit, shock: &Shock, units: UnitSet) -> String {
    let why = in_the_way(spring, fit, shock, units);
    format!(
        "{} does not fit this shock: {why}. Take another spring.",
        named(spring.label, None, spring.mark(), units)
    )
}

/// Adding the shop's spring to the list, as something to do.
pub fn take_from_the_shop(kind: &ShopSpring, units: UnitSet) -> String {
    format!("Add the shop's {}", name(kind, units))
}

/// Whose a spring is that joins the list.
pub const SHOPS: &str = "the shop's, goes on the list";
/// The same for one that nobody at the shop wrote down.
pub const IN_HAND: &str = "goes on the list";

/// A spring that the shop's rack names as out, asked about once.
pub fn out_but_here(name: &str) -> String {
    format!(
        "{name} is the shop's, but its rack says it is out. If it is in your hands, Enter once more puts it on the list."
    )
}

/// A spring that neither the session nor the shop knows, asked about once.
pub fn known_to_nobody(name: &str) -> String {
    format!(
        "No spring of {name} is on the list, nor on the shop's rack. If it is in your hands, Enter once more puts it on the list."
    )
}

/// A mark typed of a spring that is on the list.
pub fn listed_already(name: &str) -> String {
    format!("{name} is on the list already. Choose it there.")
}

/// A spring that joined the list.
pub fn joined(name: &str) -> String {
    format!("{name} is on the list now.")
}

/// Prompt for a spring that joins the list.
pub const WHICH_JOINS: &str =
    "Add which spring? Type the rate and the stroke printed on it: 475/65, or its mark: A3.";
/// More than one was typed.
pub const ONE_AT_A_TIME: &str = "Add one spring at a time here. To add several, press d (details).";
