//! What makes the spring on the bike, or its collar, unfit to be ridden, and what is not known of it.
//!
//! A hazard is data with the figures behind it: acknowledged once in each part of the work, and again when its figures
//! change. Not here: springs that are only about to be fitted (`machine`), which are refused, and words (`phrase`).

use super::intake::SpringNumber;
use super::state::State;
use super::step::{Caution, Stage, Step};
use crate::units::{Length, Turns};

/// A hazard of what is fitted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hazard {
    /// The coils touch before the shock's full stroke (coil bind).
    Binds {
        /// Which spring.
        spring: SpringNumber,
        /// How far it may be compressed.
        spring_stroke: Length,
        /// How far the shock compresses it: its stroke and the preload.
        needed: Length,
    },
    /// The spring does not pass over the shock body.
    TooNarrow {
        /// Which spring.
        spring: SpringNumber,
        /// Its inner diameter.
        bore: Length,
        /// The diameter of the body.
        body: Length,
    },
    /// The collar is further past contact than the limit.
    CollarBeyondLimit {
        /// Where it is.
        at: Turns,
        /// The limit.
        limit: Turns,
    },
    /// Nobody has said what stroke the spring has, so nobody can tell whether it binds.
    StrokeUnknown {
        /// Which spring.
        spring: SpringNumber,
    },
}

impl Hazard {
    /// The caution that acknowledges it.
    pub const fn caution(self) -> Caution {
        match self {
            Self::Binds { .. } => Caution::FittedBinds,
            Self::TooNarrow { .. } => Caution::FittedTooNarrow,
            Self::CollarBeyondLimit { .. } => Caution::CollarBeyondLimit,
            Self::StrokeUnknown { .. } => Caution::FittedStrokeUnknown,
        }
    }

    /// Whether the bike must not be ridden with it.
    pub const fn forbids_riding(self) -> bool {
        !matches!(self, Self::StrokeUnknown { .. })
    }
}

impl State {
    /// Everything hazardous about the spring on the bike and its collar, as far as the figures are known.
    pub fn hazards(&self) -> Vec<Hazard> {
        let number = if self.setup.is_some() { self.on_bike.fitted } else { self.entered.spring_on_arrival };
        let Some(spring) = self.entered.springs.iter().find(|spring| Some(spring.number) == number) else {
            return Vec::new();
        };
        let at = self.present_set().map_or(Turns::ZERO, |set| set.preload_turns);
        let preload = self.entered.collar_pitch.map_or(Length::ZERO, |pitch| pitch * at.value());
        let binds = spring.stroke.zip(self.entered.stroke).and_then(|(spring_stroke, stroke)| {
            let needed = stroke + preload;
            (spring_stroke < needed).then_some(Hazard::Binds { spring: spring.number, spring_stroke, needed })
        });
        let narrow = spring.bore.zip(self.entered.body_diameter).and_then(|(bore, body)| {
            (bore < body).then_some(Hazard::TooNarrow { spring: spring.number, bore, body })
        });
        let collar = self.entered.turns_limit.filter(|limit| at > *limit);
        let collar = collar.map(|limit| Hazard::CollarBeyondLimit { at, limit });
        let unknown = spring.stroke.is_none().then_some(Hazard::StrokeUnknown { spring: spring.number });
        [binds, narrow, collar, unknown].into_iter().flatten().collect()
    }

    /// The first hazard the bike must not be ridden with.
    pub fn unfit(&self) -> Option<Hazard> {
        self.hazards().into_iter().find(|hazard| hazard.forbids_riding())
    }

    /// The hazards to be acknowledged now; the stroke of the spring is asked for once, with the collar in hand.
    pub fn pending_hazards(&self) -> Vec<Hazard> {
        let Some(stage) = self.step.stage() else { return Vec::new() };
        let asking =
            matches!(self.step, Step::Unload | Step::SeatIndicator | Step::SeatedReading | Step::Decision);
        let open = |hazard: &Hazard| {
            let due = hazard.forbids_riding() || asking;
            due && !self.cautions.has_read(*hazard, stage)
        };
        self.hazards().into_iter().filter(open).collect()
    }
}

/// A hazard as it was acknowledged, and in which part of the work.
pub type Read = (Hazard, Stage);
