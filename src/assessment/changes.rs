//! What changes with the spring: the one on the bike, the next step and the landing spring side by side.
//!
//! Every figure comes from the forecasts, so nothing here can say other than they do. How the frame tips is told against
//! the spring on the bike, with the fork as it is, because nobody measures the fork here; and only as far as its lengths
//! were told. Not here: words and columns (`phrase::changes`).

use super::advice::Advice;
use super::forecast::{Forecast, RateSource};
use crate::mechanics::geometry::{FrameLengths, Sinking, bottom_bracket_drop, head_angle_slackens};
use crate::mechanics::{SpringNumber, ride};
use crate::units::{Angle, Length, Share};

/// One spring of the comparison.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringComparison {
    /// Why it stands here.
    pub role: WhyCompared,
    /// What it would do.
    pub forecast: Forecast,
    /// What becomes other than it is now; none where no spring is on the bike to compare with.
    pub against_fitted: Option<AgainstFitted>,
}

/// Why a spring stands in the comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyCompared {
    /// It is on the bike.
    Fitted,
    /// It is the next step of 25 or 50 lb/in.
    Step,
    /// It has the best chance of the band.
    BestMatch,
    /// Nothing at hand lands in the band; it comes nearest.
    Nearest,
}

/// What becomes other than it is with the spring on the bike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AgainstFitted {
    /// More rebound damping wanted; negative is less.
    pub rebound: Share,
    /// How much lower the bottom bracket comes; negative is higher. None where the frame's lengths were not told.
    pub bottom_bracket_lower: Option<Length>,
    /// How much slacker the head angle becomes; negative is steeper. None where the wheelbase was not told.
    pub head_angle_slacker: Option<Angle>,
}

/// The spring on the bike and those the advice speaks of; a spring named twice stands twice, under both roles.
pub(super) fn gather(advice: &Advice, forecasts: &[Forecast], frame: FrameLengths) -> Vec<SpringComparison> {
    let fitted = forecasts.iter().find(|forecast| forecast.known == RateSource::OnTheBike);
    let one = |(role, number): (WhyCompared, SpringNumber)| {
        let forecast = *forecasts.iter().find(|forecast| forecast.spring == number)?;
        let against_fitted = fitted.map(|fitted| beside(fitted, &forecast, frame));
        Some(SpringComparison { role, forecast, against_fitted })
    };
    let present = fitted.map(|fitted| (WhyCompared::Fitted, fitted.spring));
    present.into_iter().chain(advised(advice)).filter_map(one).collect()
}

fn advised(advice: &Advice) -> Vec<(WhyCompared, SpringNumber)> {
    match advice {
        Advice::FirstSpring { best_match, .. } => vec![(WhyCompared::BestMatch, *best_match)],
        Advice::Swap { step, best_match, .. } => {
            vec![(WhyCompared::Step, step.to), (WhyCompared::BestMatch, *best_match)]
        }
        Advice::NothingOnTheList { nearest, .. } => {
            nearest.iter().map(|nearest| (WhyCompared::Nearest, *nearest)).collect()
        }
        Advice::TakeReadings { .. }
        | Advice::Check { .. }
        | Advice::ReadAgain { .. }
        | Advice::NoneFits { .. }
        | Advice::Keep { .. }
        | Advice::SetPreload(_) => Vec::new(),
    }
}

fn beside(fitted: &Forecast, other: &Forecast, frame: FrameLengths) -> AgainstFitted {
    let rear = other.ride.axle_sinks - fitted.ride.axle_sinks;
    let further = Sinking { rear, front: Length::ZERO };
    let lengths = frame.wheelbase.zip(frame.rear_centre);
    AgainstFitted {
        rebound: ride::rebound_change(fitted.rate, other.rate),
        bottom_bracket_lower: lengths
            .map(|(wheelbase, rear_centre)| bottom_bracket_drop(further, wheelbase, rear_centre)),
        head_angle_slacker: frame.wheelbase.map(|wheelbase| head_angle_slackens(further, wheelbase)),
    }
}
