//! What there is to choose at the verdict and after the trail, and which of it is advised.
//!
//! Not here: the advice itself (`assessment`) and its words (`phrase`).

use crate::assessment::{Advice, Assessment, Forecast, Known, TrailFinding};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::session::{Aim, Decision, ShopSpring, SpringNumber, Step};
use crate::units::{Estimate, Share, UnitSet};

/// Something to choose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Choice {
    /// A decision, taken as it stands.
    Decide(Decision),
    /// A collar position to be typed.
    OtherTurns,
    /// A spring to be picked from those at hand.
    OtherSpring,
    /// The shop's spring goes on the list.
    TakeFromShop(ShopSpring),
    /// The aim moves, and the walk goes round once more.
    MoveAim(Aim),
    /// The session is closed.
    Close,
}

/// What can be chosen now, in the order it is shown.
pub(super) fn choices(session: &OpenSession) -> Vec<Choice> {
    let Some(assessment) = &session.assessment else { return Vec::new() };
    match session.state.step {
        Step::AfterTrail => after_trail(assessment),
        Step::Verdict if session.state.fitted().is_none() => {
            let begin = advised_decision(&assessment.advice).map(Choice::Decide);
            let offer = offered(session).map(Choice::TakeFromShop);
            begin.into_iter().chain(offer).chain([Choice::OtherSpring]).collect()
        }
        _ => at_the_verdict(assessment, offered(session)),
    }
}

/// The spring of the shop that is offered for the list; none where none would help or the walk is not at the verdict.
pub(super) fn offered(session: &OpenSession) -> Option<ShopSpring> {
    session.offered().filter(|_| session.state.step == Step::Verdict)
}

fn at_the_verdict(assessment: &Assessment, offer: Option<ShopSpring>) -> Vec<Choice> {
    let mut choices = vec![Choice::Decide(Decision::Keep), Choice::Decide(Decision::ReadAgain)];
    if let Advice::Trim(plan) = &assessment.advice {
        choices.push(Choice::Decide(Decision::Trim { to: plan.to }));
        choices.extend(without_the_collar(assessment).map(|to| Choice::Decide(Decision::Swap { to })));
    }
    if let Advice::Swap { step, landing } = &assessment.advice {
        choices.push(Choice::Decide(Decision::Swap { to: step.to }));
        if *landing != step.to {
            choices.push(Choice::Decide(Decision::Swap { to: *landing }));
        }
    }
    choices.extend(offer.map(Choice::TakeFromShop));
    choices.extend([Choice::OtherTurns, Choice::OtherSpring]);
    choices
}

/// The spring for whoever would rather have another spring than preload: the likeliest with the collar left at contact.
fn without_the_collar(assessment: &Assessment) -> Option<SpringNumber> {
    let others =
        assessment.forecasts.iter().filter(|one| one.known != Known::OnTheBike && one.fit.is_possible());
    let likeliest = others.max_by(|one, other| one.chance.value().total_cmp(&other.chance.value()));
    likeliest.map(|forecast| forecast.spring)
}

fn after_trail(assessment: &Assessment) -> Vec<Choice> {
    let moved = match assessment.trail {
        Some(TrailFinding::MoveAim { to, .. }) => Some(Choice::MoveAim(to)),
        _ => None,
    };
    moved.into_iter().chain([Choice::Close, Choice::Decide(Decision::AnotherRound)]).collect()
}

/// The place of the advised choice; none where nothing that can be chosen would do. A spring of the shop is offered only
/// where it is clearly better than all on the list, so then it is what is advised.
pub(super) fn advised(session: &OpenSession) -> Option<usize> {
    if session.state.step == Step::AfterTrail {
        return Some(0);
    }
    let advice = session.assessment.as_ref().map(|assessment| &assessment.advice);
    let shops = offered(session).map(Choice::TakeFromShop);
    let wanted = shops.or_else(|| advice.and_then(advised_decision).map(Choice::Decide))?;
    choices(session).iter().position(|choice| *choice == wanted)
}

/// The place of the choice that is marked before anybody moves the mark: the advised one, else the one to another spring.
pub(super) fn marked_first(session: &OpenSession) -> usize {
    let other = || choices(session).iter().position(|choice| *choice == Choice::OtherSpring);
    advised(session).or_else(other).unwrap_or(0)
}

/// The decision the advice comes to; none where it asks for a spring that is not at hand.
fn advised_decision(advice: &Advice) -> Option<Decision> {
    match advice {
        Advice::Keep { .. } => Some(Decision::Keep),
        Advice::ReadAgain { .. } | Advice::Check { .. } | Advice::TakeReadings { .. } => {
            Some(Decision::ReadAgain)
        }
        Advice::Trim(plan) => Some(Decision::Trim { to: plan.to }),
        Advice::Swap { step, .. } => Some(Decision::Swap { to: step.to }),
        Advice::FirstSpring { landing, .. } => Some(Decision::Swap { to: *landing }),
        Advice::NothingOnTheRack { .. } => None,
    }
}

/// The choice in words.
pub(super) fn words(choice: Choice, session: &OpenSession, units: UnitSet) -> String {
    match choice {
        Choice::Decide(decision) => phrase::guide::to_do(decision, &session.state.told.rack, units),
        Choice::OtherTurns => phrase::guide::OTHER_TURNS.to_owned(),
        Choice::OtherSpring => phrase::guide::OTHER_SPRING.to_owned(),
        Choice::TakeFromShop(kind) => phrase::beyond::take_from_the_shop(kind.label, units),
        Choice::MoveAim(aim) => phrase::guide::move_aim(aim, units),
        Choice::Close => phrase::guide::CLOSE.to_owned(),
    }
}

/// The sag the choice would come to, and its chance of the band; none where nothing can be said beforehand.
pub(super) fn outlook(choice: Choice, session: &OpenSession, units: UnitSet) -> Option<[String; 2]> {
    let assessment = session.assessment.as_ref()?;
    let told =
        |sag: Estimate<Share>, likely: Share| [format!("→ {}", sag.shown(units)), phrase::chance(likely)];
    match (choice, &assessment.advice) {
        (Choice::Decide(Decision::Swap { to }), _) => {
            forecast(assessment, to).map(|forecast| told(forecast.sag, forecast.chance))
        }
        (Choice::Decide(Decision::Trim { .. }), Advice::Trim(plan)) => {
            Some(told(plan.sag_after, plan.chance_after))
        }
        (Choice::TakeFromShop(_), _) => {
            let held = session.beyond.as_ref()?.offered()?;
            Some(told(held.forecast.sag, held.forecast.chance))
        }
        _ => None,
    }
}

fn forecast(assessment: &Assessment, number: SpringNumber) -> Option<&Forecast> {
    assessment.forecasts.iter().find(|forecast| forecast.spring == number)
}
