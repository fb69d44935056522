//! What the one key does that takes the advice: in one place, for the screen, for scripts and for the study alike.
//!
//! Not here: why (`advice`).

use super::Assessment;
use super::advice::Advice;
use super::forecast::RateSource;
use crate::mechanics::SpringNumber;
use crate::session::State;
use crate::units::{Share, Turns};

/// What Enter would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Enter {
    /// The work.
    pub does: Does,
    /// The spring that is on the bike afterwards.
    pub spring: Option<SpringNumber>,
    /// Where its collar stands then.
    pub turns: Turns,
    /// Its chance of the band then; none where no reading and no forecast says.
    pub chance: Option<Share>,
}

/// The work Enter takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Does {
    /// Leave spring and collar.
    Keep,
    /// Take a reading.
    Read,
    /// Turn the collar.
    Turn,
    /// Fit the spring.
    Swap,
    /// Check what is named, then read again.
    Check,
    /// Nothing: there is none at hand.
    None,
}

impl Enter {
    pub(super) const fn nothing() -> Self {
        Self { does: Does::None, spring: None, turns: Turns::ZERO, chance: None }
    }
}

/// What Enter would do now.
pub(super) fn of(assessment: &Assessment, state: &State) -> Enter {
    let present = assessment.present();
    let turns = state.present_set().map_or(Turns::ZERO, |set| set.preload_turns);
    let stays = |does| {
        let chance = present.filter(|_| state.present_set().is_some()).map(|present| present.chance);
        Enter { does, spring: state.on_bike.fitted, turns, chance }
    };
    let forecast = |number| assessment.forecasts.iter().find(|one| one.spring == number);
    match &assessment.advice {
        Advice::Keep { .. } => stays(Does::Keep),
        Advice::TakeReadings { .. } | Advice::ReadAgain { .. } => stays(Does::Read),
        Advice::Check { .. } => stays(Does::Check),
        Advice::NothingOnTheList { .. } | Advice::NoneFits { .. } => stays(Does::None),
        Advice::SetPreload(plan) => {
            Enter { turns: plan.to, chance: Some(plan.chance_after), ..stays(Does::Turn) }
        }
        Advice::Swap { best_match, lands, .. } => Enter {
            does: Does::Swap,
            spring: Some(*best_match),
            turns: lands.turns,
            chance: Some(lands.chance),
        },
        Advice::FirstSpring { best_match, .. } => {
            let chance =
                forecast(*best_match).filter(|one| one.known != RateSource::OnTheBike).map(|one| one.chance);
            Enter { does: Does::Swap, spring: Some(*best_match), turns: Turns::ZERO, chance }
        }
    }
}
