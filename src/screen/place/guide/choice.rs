//! What there is to choose at the verdict and after the trail, and which of it is advised.
//!
//! Not here: the advice itself (`assessment`) and its words (`phrase`).

use crate::assessment::{Advice, Assessment, Forecast, RateSource, TrailFinding};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::session::{Decision, KerbReturn, ShopSpring, SpringNumber, Step, Target};
use crate::units::{Estimate, Minutes, Share, UnitSet};

/// Something to choose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum DecisionChoice {
    /// A decision, taken as it stands.
    Decide(Decision),
    /// A collar position to be typed.
    OtherTurns,
    /// A spring to be picked from those at hand.
    OtherSpring,
    /// The shop's spring goes on the list.
    TakeFromShop(ShopSpring),
    /// The aim moves, and the walk goes round once more.
    MoveTarget(Target),
    /// How the rear came back off the kerb.
    Kerb(KerbReturn),
    /// The session is closed.
    Close,
}

/// The answers at the kerb. Going on without it comes first: under the mark, it says nothing that nobody saw.
const KERB: [KerbReturn; 4] =
    [KerbReturn::NotDone, KerbReturn::Once, KerbReturn::BouncesOn, KerbReturn::Slow];

/// What can be chosen now, in the order it is shown.
pub(super) fn choices(session: &OpenSession) -> Vec<DecisionChoice> {
    let Some(assessment) = &session.assessment else { return Vec::new() };
    match session.state.step {
        Step::KerbDrop => KERB.map(DecisionChoice::Kerb).into(),
        Step::AfterTrail => after_trail(assessment),
        Step::Decision if session.state.fitted().is_none() => {
            let begin = advised_decision(&assessment.advice).map(DecisionChoice::Decide);
            let offer = offered(session).map(DecisionChoice::TakeFromShop);
            begin.into_iter().chain(offer).chain([DecisionChoice::OtherSpring]).collect()
        }
        _ => {
            let mut choices = at_the_verdict(assessment, offered(session));
            // What must not be ridden is not kept; the walk itself refuses it too.
            if session.state.unfit().is_some() {
                choices.retain(|choice| *choice != DecisionChoice::Decide(Decision::Keep));
            }
            choices
        }
    }
}

/// The spring of the shop that is offered for the list; none where none would help or the walk is not at the verdict.
pub(super) fn offered(session: &OpenSession) -> Option<ShopSpring> {
    session.offered().filter(|_| session.state.step == Step::Decision)
}

/// The advised choice first and the careful way below it, then what else there is.
fn at_the_verdict(assessment: &Assessment, offer: Option<ShopSpring>) -> Vec<DecisionChoice> {
    let decide = |decision| Some(DecisionChoice::Decide(decision));
    let advised = advised_decision(&assessment.advice).map(DecisionChoice::Decide);
    let beside = match &assessment.advice {
        Advice::Swap { step, .. } => decide(Decision::Swap { to: step.to }),
        Advice::SetPreload(_) => without_the_collar(assessment).and_then(|to| decide(Decision::Swap { to })),
        Advice::NothingOnTheList { today: Some(plan), .. } => decide(Decision::SetPreload { to: plan.to }),
        _ => None,
    };
    let always = [
        decide(Decision::Keep),
        decide(Decision::ReadAgain),
        Some(DecisionChoice::OtherTurns),
        Some(DecisionChoice::OtherSpring),
    ];
    let all = [offer.map(DecisionChoice::TakeFromShop), advised, beside].into_iter().chain(always).flatten();
    all.fold(Vec::new(), |mut choices, choice| {
        if !choices.contains(&choice) {
            choices.push(choice);
        }
        choices
    })
}

/// The spring for whoever would rather have another spring than preload: the likeliest with the collar left at contact.
fn without_the_collar(assessment: &Assessment) -> Option<SpringNumber> {
    let others =
        assessment.forecasts.iter().filter(|one| one.known != RateSource::OnTheBike && one.fit.is_possible());
    let likeliest = others.max_by(|one, other| one.chance.value().total_cmp(&other.chance.value()));
    likeliest.map(|forecast| forecast.spring)
}

fn after_trail(assessment: &Assessment) -> Vec<DecisionChoice> {
    let moved = match assessment.trail {
        Some(TrailFinding::MoveTarget { to, .. }) => Some(DecisionChoice::MoveTarget(to)),
        _ => None,
    };
    moved.into_iter().chain([DecisionChoice::Close, DecisionChoice::Decide(Decision::AnotherRound)]).collect()
}

/// The place of the advised choice; none where nothing that can be chosen would do. A spring of the shop is offered only
/// where it is clearly better than all on the list, so then it is what is advised.
pub(super) fn advised(session: &OpenSession) -> Option<usize> {
    match session.state.step {
        Step::AfterTrail => return Some(0),
        Step::KerbDrop => return None,
        _ => {}
    }
    let advice = session.assessment.as_ref().map(|assessment| &assessment.advice);
    let shops = offered(session).map(DecisionChoice::TakeFromShop);
    let wanted = shops.or_else(|| advice.and_then(advised_decision).map(DecisionChoice::Decide))?;
    choices(session).iter().position(|choice| *choice == wanted)
}

/// The place of the choice that is marked before anybody moves the mark: the advised one, else the one to another spring.
pub(super) fn marked_first(session: &OpenSession) -> usize {
    let other = || choices(session).iter().position(|choice| *choice == DecisionChoice::OtherSpring);
    advised(session).or_else(other).unwrap_or(0)
}

/// The decision the advice comes to; none where it asks for a spring that is not at hand.
fn advised_decision(advice: &Advice) -> Option<Decision> {
    match advice {
        Advice::Keep { .. } => Some(Decision::Keep),
        Advice::ReadAgain { .. } | Advice::Check { .. } | Advice::TakeReadings { .. } => {
            Some(Decision::ReadAgain)
        }
        Advice::SetPreload(plan) => Some(Decision::SetPreload { to: plan.to }),
        Advice::Swap { best_match, .. } | Advice::FirstSpring { best_match, .. } => {
            Some(Decision::Swap { to: *best_match })
        }
        Advice::NothingOnTheList { .. } | Advice::NoneFits { .. } => None,
    }
}

/// The choice in words.
pub(super) fn words(choice: DecisionChoice, session: &OpenSession, units: UnitSet) -> String {
    match choice {
        DecisionChoice::Decide(decision) => {
            phrase::guide::to_do(decision, &session.state.entered.springs, units)
        }
        DecisionChoice::OtherTurns => phrase::guide::OTHER_TURNS.to_owned(),
        DecisionChoice::OtherSpring => phrase::guide::OTHER_SPRING.to_owned(),
        DecisionChoice::TakeFromShop(kind) => phrase::shop_alternatives::take_from_the_shop(&kind, units),
        DecisionChoice::MoveTarget(target) => phrase::guide::move_target(target, units),
        DecisionChoice::Kerb(returned) => phrase::kerb::choice(returned, &session.state.kerb),
        DecisionChoice::Close => phrase::guide::CLOSE.to_owned(),
    }
}

/// What a choice would come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Outlook {
    /// The sag, as people are told it.
    pub(super) sag: Estimate<Share>,
    /// Its chance of being on target.
    pub(super) chance: Share,
}

/// Minutes a choice takes; none where it only opens another list or ends the session.
pub(super) fn minutes(choice: DecisionChoice, session: &OpenSession) -> Option<Minutes> {
    let prices = &session.assessment.as_ref()?.prices;
    match choice {
        DecisionChoice::Decide(decision) => Some(prices.of(decision)),
        DecisionChoice::TakeFromShop(_) => Some(prices.swap + prices.sit),
        _ => None,
    }
    .filter(|minutes| *minutes > Minutes::ZERO)
}

/// What the choice would come to; none where nothing can be said beforehand.
pub(super) fn outlook(choice: DecisionChoice, session: &OpenSession) -> Option<Outlook> {
    let assessment = session.assessment.as_ref()?;
    let entered = |sag: Estimate<Share>, chance: Share| Outlook { sag, chance };
    match (choice, &assessment.advice) {
        (DecisionChoice::Decide(Decision::Swap { to }), Advice::Swap { best_match, lands, .. })
            if to == *best_match =>
        {
            Some(entered(lands.sag_to_tell, lands.chance))
        }
        (DecisionChoice::Decide(Decision::Swap { to }), _) => {
            forecast(assessment, to).map(|forecast| entered(forecast.sag_to_tell(), forecast.chance))
        }
        (
            DecisionChoice::Decide(Decision::SetPreload { .. }),
            Advice::SetPreload(plan) | Advice::NothingOnTheList { today: Some(plan), .. },
        ) => Some(entered(plan.sag_to_tell, plan.chance_after)),
        (DecisionChoice::Decide(Decision::Keep), _) => {
            assessment.present().map(|present| entered(present.sag_to_tell(), present.chance))
        }
        (DecisionChoice::TakeFromShop(_), _) => {
            let held = session.shop_alternatives.as_ref()?.offered()?;
            Some(entered(held.forecast.sag_to_tell(), held.forecast.chance))
        }
        _ => None,
    }
}

fn forecast(assessment: &Assessment, number: SpringNumber) -> Option<&Forecast> {
    assessment.forecasts.iter().find(|forecast| forecast.spring == number)
}
