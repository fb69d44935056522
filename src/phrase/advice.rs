//! Advice in words: a headline to act on and the reason a mechanic accepts.
//!
//! Not here: which advice applies (`assessment::advice`), and large figures (`screen`).

use super::spring;
use crate::assessment::{
    Advice, Assessment, Cause, Forecast, KeepReason, ListEnd, PreloadPlan, ReadAgainReason, SpringStep,
    Suspect,
};
use crate::session::{Setup, SpringNumber};
use crate::units::{Share, SpringRate, Turns, UnitSet};

/// A piece of advice, ready to read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AdviceWords {
    /// What to do, in a few words.
    pub headline: String,
    /// Why, in one or two sentences.
    pub reason: String,
}

/// The advice of an assessment in words.
pub fn advice(assessment: &Assessment, setup: &Setup, units: UnitSet) -> AdviceWords {
    let context = SentenceContext { assessment, setup, units };
    let (headline, reason) = match &assessment.advice {
        Advice::FirstSpring { best_match, softest, stiffest } => {
            context.first_spring(*best_match, *softest, *stiffest)
        }
        Advice::TakeReadings { have, needed } => context.take_readings(*have, *needed),
        Advice::Check { suspect, causes } => check(*suspect, causes),
        Advice::ReadAgain { because } => context.read_again(*because),
        Advice::Keep { because } => context.keep(*because),
        Advice::SetPreload(plan) => context.trim(plan),
        Advice::Swap { step, best_match } => context.swap(*step, *best_match),
        Advice::NothingOnTheList { needed, end, nearest } => context.nothing(*needed, *end, *nearest),
    };
    AdviceWords { headline, reason }
}

/// Below this chance a spring is out of the band whatever another reading says.
const HARDLY: Share = Share::percent(2.0);

/// Everything a sentence may speak of.
struct SentenceContext<'a> {
    assessment: &'a Assessment,
    setup: &'a Setup,
    units: UnitSet,
}

impl SentenceContext<'_> {
    fn spring(&self, number: SpringNumber) -> String {
        spring(number, &self.setup.springs, self.units)
    }

    fn forecast(&self, number: SpringNumber) -> Option<&Forecast> {
        self.assessment.forecasts.iter().find(|forecast| forecast.spring == number)
    }

    fn sag(&self, number: SpringNumber) -> String {
        self.forecast(number).map_or_else(String::new, |forecast| forecast.sag.shown(self.units))
    }

    fn chance(&self, number: SpringNumber) -> String {
        self.forecast(number).map_or_else(String::new, |forecast| chance(forecast.chance))
    }

    /// The sag that all sets and the weights together speak for, which need not be the mean of the last set.
    fn together(&self, sag: &str) -> String {
        if self.assessment.sets.len() > 1 {
            format!("All sets together put sag at {sag}")
        } else {
            format!("Readings and weights together put sag at {sag}")
        }
    }

    fn band(&self) -> String {
        let target = self.setup.target;
        format!("{} to {}", self.units.show(target.low()), self.units.show(target.high()))
    }

    fn first_spring(
        &self,
        best_match: SpringNumber,
        softest: SpringRate,
        stiffest: SpringRate,
    ) -> (String, String) {
        let range = format!("{} and {}", self.units.show(softest), self.units.show(stiffest));
        let ground = self.setup.earlier.map_or_else(
            || "From weights, travel and stroke alone".to_owned(),
            |earlier| format!("From what the session of {} taught", super::review::day(earlier.opened)),
        );
        let reason = format!(
            "{ground} the right rate lies between {range}. This one is {} to land in the band; the readings will tell.",
            self.chance(best_match)
        );
        (format!("Begin with {}", self.spring(best_match)), reason)
    }

    fn take_readings(&self, have: usize, needed: usize) -> (String, String) {
        let (headline, reason) = take_readings(have, needed);
        match &self.setup.earlier {
            Some(earlier) if self.assessment.sets.is_empty() => {
                (headline, format!("{reason} {}", super::review::earlier_used(earlier, self.units)))
            }
            _ => (headline, reason),
        }
    }

    fn read_again(&self, because: ReadAgainReason) -> (String, String) {
        let present = self.assessment.present();
        let sag = present.map_or_else(String::new, |present| present.sag.shown(self.units));
        let reason = match because {
            ReadAgainReason::NearTheEdge if present.is_some_and(|present| present.chance < HARDLY) => {
                format!(
                    "{}, band {}: that it is out is sure, which spring would land is not yet. One more reading takes a \
                 minute, a swap a quarter of an hour.",
                    self.together(&sag),
                    self.band()
                )
            }
            ReadAgainReason::NearTheEdge => format!(
                "{}, band {}: too close to call. One more reading takes a minute, a swap a quarter of an hour.",
                self.together(&sag),
                self.band()
            ),
            ReadAgainReason::Scatter => format!(
                "The readings scatter more than usual, so {sag} may be off. One more gentle reading settles it sooner \
                 than a swap."
            ),
        };
        ("Read once more".to_owned(), reason)
    }

    fn keep(&self, because: KeepReason) -> (String, String) {
        let Some(present) = self.assessment.present() else {
            return ("Keep this spring".to_owned(), String::new());
        };
        let sag = present.sag.shown(self.units);
        let reason = match because {
            KeepReason::OnTarget => {
                format!(
                    "{}, band {}: {} to be in it. On to the final checks.",
                    self.together(&sag),
                    self.band(),
                    chance(present.chance)
                )
            }
            KeepReason::NothingBetter => format!(
                "{}, band {}. No other spring at hand is enough likelier to land there to be worth a swap.",
                self.together(&sag),
                self.band()
            ),
        };
        ("Keep this spring".to_owned(), reason)
    }

    fn trim(&self, plan: &PreloadPlan) -> (String, String) {
        let way = if plan.by > Turns::ZERO { "in" } else { "back" };
        let headline = format!("Turn the collar {way} {}", self.units.show(plan.by.abs()));
        let after = plan.sag_after.shown(self.units);
        let cost = if plan.to > Turns::ZERO {
            let all = if plan.to < self.setup.shock.turns_limit { "" } else { ", all that is allowed," };
            format!(
                " At {} past contact{all} the shock stays still until {} of the load is on it.",
                self.units.show(plan.to),
                self.units.show(plan.breakaway)
            )
        } else {
            String::new()
        };
        let reason =
            format!("That brings sag to {after}, {} to be in the band.{cost}", chance(plan.chance_after));
        (headline, reason)
    }

    fn swap(&self, step: SpringStep, best_match: SpringNumber) -> (String, String) {
        let direction = if step.change > SpringRate::ZERO { "stiffer" } else { "softer" };
        let size = self.units.show(step.change.abs());
        let headline = format!("{size} {direction}: {}", self.spring(step.to));
        let now = self.assessment.present().map_or_else(String::new, |present| present.sag.shown(self.units));
        let much = if direction == "stiffer" { "too much" } else { "too little" };
        let best_match_words = if best_match == step.to {
            format!("It lands at {}, {} to be in the band.", self.sag(best_match), self.chance(best_match))
        } else {
            format!(
                "Or go at once to {}: it lands at {}, {} to be in the band.",
                self.spring(best_match),
                self.sag(best_match),
                self.chance(best_match)
            )
        };
        let never = if direction == "softer" { " Preload cannot add sag." } else { "" };
        (headline, format!("{}, {much} for {}.{never} {best_match_words}", self.together(&now), self.band()))
    }

    fn nothing(&self, needed: SpringRate, end: ListEnd, nearest: Option<SpringNumber>) -> (String, String) {
        let place = match end {
            ListEnd::Softest => "softer than any spring at hand",
            ListEnd::Stiffest => "stiffer than any spring at hand",
            ListEnd::Between => "between two springs at hand that both miss the band",
        };
        let nearest = nearest.map_or_else(String::new, |number| {
            format!(" Nearest at hand is {}, at {}.", self.spring(number), self.sag(number))
        });
        let reason = format!(
            "The rate that would land is about {}, {place}.{nearest} Check stroke, travel and leverage ratio as entered \
             before ordering one.",
            self.units.show(needed)
        );
        (format!("No spring at hand; about {}", self.units.show(needed)), reason)
    }
}

fn take_readings(have: usize, needed: usize) -> (String, String) {
    let left = needed.saturating_sub(have).max(1);
    let headline = match (have, left) {
        (0, 1) => "Take a seated reading".to_owned(),
        (0, left) => format!("Take {left} seated readings"),
        (_, 1) => "Take one more seated reading".to_owned(),
        (_, left) => format!("Take {left} more seated readings"),
    };
    let reason = if have == 0 {
        "No reading with this spring and collar yet.".to_owned()
    } else {
        format!("{have} of {needed} taken. Readings scatter; the mean of a few is worth more than one.")
    };
    (headline, reason)
}

fn check(suspect: Suspect, causes: &[Cause]) -> (String, String) {
    let (headline, opening) = match suspect {
        Suspect::Reading(number) => (
            format!("Check reading {}", number.0),
            format!(
                "Reading {} stands apart from its fellows. Void it if you know why, or read once more.",
                number.0
            ),
        ),
        Suspect::Set(number) => (
            "These trials disagree".to_owned(),
            format!("Set {number} does not go with the others. Check, then read once more."),
        ),
    };
    let list: Vec<&str> = causes.iter().map(|named| cause(*named)).collect();
    (headline, format!("{opening} Likeliest first: {}.", list.join("; ")))
}

/// A likely cause of trials that disagree.
pub fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Bounced => "the rider bounced or dropped in",
        Cause::IndicatorNotSeated => "the indicator was not against the seal",
        Cause::PreloadDiffers => "the collar stood elsewhere than entered",
        Cause::WrongLabel => "the spring is not what its label says",
        Cause::AdjusterClosed => "the lockout or the compression was closed",
        Cause::Misread => "the ruler was misread or the figure mistyped",
        Cause::NotFullySeated => "the rider was not fully seated",
    }
}

/// A chance as a figure; nothing is ever quite certain.
pub fn chance(chance: Share) -> String {
    match chance.as_percent() {
        percent if percent < 1.0 => "less than 1 % likely".to_owned(),
        percent if percent > 99.0 => "more than 99 % likely".to_owned(),
        percent => format!("{percent:.0} % likely"),
    }
}
