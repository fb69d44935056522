//! Advice in words: a headline to act on and the reason a mechanic accepts.
//!
//! Not here: which advice applies (`assessment::advice`), and large figures (`screen`).

use super::chance::{SUREST, chance};
use super::{measurement, spring};
use crate::assessment::{
    Advice, Assessment, Cause, Forecast, KeepReason, Lands, ListEnd, PreloadPlan, ReadAgainReason,
    SpringStep, Standing, Suspect,
};
use crate::session::{Earlier, LimitFrom, Setup, SpringNumber};
use crate::units::{Share, Show, SpringRate, Turns, UnitSet};

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
        Advice::Swap { step, best_match, lands } => context.swap(*step, *best_match, lands),
        Advice::NothingOnTheList { end, nearest, today, .. } => {
            context.nothing(*end, *nearest, today.as_ref())
        }
        Advice::NoneFits { .. } => context.none_fits(),
    };
    AdviceWords { headline, reason: reason + &context.worth_measuring() }
}

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

    fn sag_of(&self, number: SpringNumber) -> String {
        self.forecast(number).map_or_else(String::new, |forecast| forecast.sag_to_tell().shown(self.units))
    }

    fn chance(&self, number: SpringNumber) -> String {
        self.forecast(number).map_or_else(String::new, |forecast| chance(forecast.chance))
    }

    /// The sag at rest that all readings and the weights together speak for, which need not be the mean of the last set.
    fn together(&self) -> String {
        let now = self
            .assessment
            .present()
            .map_or_else(String::new, |present| present.sag_to_tell().shown(self.units));
        format!("At rest it sags {now}")
    }

    fn target_range(&self) -> String {
        super::target_range(self.setup.target, self.units)
    }

    fn first_spring(
        &self,
        best_match: SpringNumber,
        softest: SpringRate,
        stiffest: SpringRate,
    ) -> (String, String) {
        let range = format!("{} and {}", self.units.show(softest), self.units.show(stiffest));
        let used = self.setup.earlier_of_rider().or(self.setup.earlier_of_frame());
        let ground = used.map_or_else(
            || "From weights, travel and stroke alone".to_owned(),
            |earlier| format!("From what the session of {} taught", super::review::day(earlier.opened)),
        );
        let reason = format!(
            "{ground} the right rate lies between {range}. This one has {} of being on target; the readings will tell.",
            self.chance(best_match)
        );
        (format!("Begin with {}", self.spring(best_match)), reason)
    }

    fn earlier_used(&self, earlier: &Earlier) -> String {
        let lengths = (self.setup.travel, self.setup.shock.stroke);
        super::review::earlier_used(earlier, Some(self.setup.rider), Some(lengths), self.units)
    }

    fn take_readings(&self, have: usize, needed: usize) -> (String, String) {
        let (headline, reason) = take_readings(have, needed);
        match &self.setup.earlier {
            Some(earlier) if self.assessment.sets.is_empty() => {
                (headline, format!("{reason} {}", self.earlier_used(earlier)))
            }
            _ => (headline, reason),
        }
    }

    fn read_again(&self, because: ReadAgainReason) -> (String, String) {
        let together = self.together();
        let reason = match because {
            ReadAgainReason::WhichSpring => format!(
                "{together}, target {}: it is off target, but it is not yet clear which spring fits; {}.",
                self.target_range(),
                self.one_more()
            ),
            ReadAgainReason::NearTheEdge => {
                format!("{together}, target {}: {}.", self.target_range(), self.one_more())
            }
            ReadAgainReason::Scatter => format!(
                "The readings spread more than usual. {together}, which may be off; one more gentle reading settles it \
                 sooner than a swap."
            ),
        };
        ("Take one more reading".to_owned(), reason)
    }

    /// That further sits will not make it surer, where most of the doubt is none they lower.
    fn no_sharper(&self) -> &'static str {
        let present = self.assessment.present().map(|present| present.sag.uncertainty.value());
        let left = self.assessment.findings.left_by_sits.map(Share::value);
        match (present, left) {
            (Some(now), Some(left)) if left > 0.85 * now => {
                " More sits will not sharpen this: the indicator may have been dragged too far; look for a gap at the seal \
                 while the rider sits."
            }
            _ => "",
        }
    }

    fn keep(&self, because: KeepReason) -> (String, String) {
        let likely = self.assessment.present().map_or_else(String::new, |present| chance(present.chance));
        let reason = match because {
            KeepReason::OnTarget => {
                let sharper = if likely == SUREST { "" } else { self.no_sharper() };
                format!(
                    "{}, target {}: {likely} of being on target. Go to the final checks.{sharper}",
                    self.together(),
                    self.target_range()
                )
            }
            KeepReason::NothingBetter => format!(
                "{}, target {}: {likely} of being on target. No other spring on the list is likely enough to do better to be worth a swap.{}",
                self.together(),
                self.target_range(),
                self.no_sharper()
            ),
        };
        ("Keep this spring".to_owned(), reason)
    }

    fn trim(&self, plan: &PreloadPlan) -> (String, String) {
        let way = if plan.by > Turns::ZERO { "in" } else { "back" };
        let headline = format!("Turn the collar {way} {}", self.units.show(plan.by.abs()));
        let after = plan.sag_to_tell.shown(self.units);
        let cost = self.cost_of(plan);
        let reason =
            format!("That brings sag to {after}: {} of being on target.{cost}", chance(plan.chance_after));
        (headline, reason)
    }

    /// Where the collar stands then, and what that costs.
    fn cost_of(&self, plan: &PreloadPlan) -> String {
        if plan.to == Turns::ZERO {
            return String::new();
        }
        let all = match self.setup.turns_limit_from() {
            _ if plan.to < self.setup.shock.turns_limit => "",
            LimitFrom::Typical => " (the typical limit)",
            LimitFrom::Entered => " (the limit entered)",
        };
        format!(
            " At {} of preload{all} the shock stays still until {} of the load is on it.",
            self.units.show(plan.to),
            self.units.show(plan.breakaway)
        )
    }

    fn swap(&self, step: SpringStep, best_match: SpringNumber, lands: &Lands) -> (String, String) {
        let present = self.assessment.present();
        let progressive = self.setup.springs.iter().filter(|spring| spring.end_rate.is_some());
        let progressive: Vec<SpringNumber> = progressive.map(|spring| spring.number).collect();
        let change = self.forecast(best_match).zip(present).map(|(to, from)| {
            // The printed rates say the step, but not of a spring that bears two.
            let printed = [to, from].iter().all(|one| !progressive.contains(&one.spring));
            if printed { to.label - from.label } else { to.rate - from.rate }
        });
        let change = change.unwrap_or(step.change);
        let direction = if change > SpringRate::ZERO { "stiffer" } else { "softer" };
        let (carried, there) = if lands.turns == Turns::ZERO {
            (String::new(), String::new())
        } else {
            let turns = self.units.show(lands.turns);
            (format!(" and {turns}"), format!(" with {turns} of preload"))
        };
        let headline = format!("{}{carried}: {}", self.spring(best_match), in_steps(change, self.units));
        let much = self.much(present.map(|present| present.sag.value), direction);
        let lands = format!(
            "Expect {}{there}: {} of being on target.",
            lands.sag_to_tell.shown(self.units),
            chance(lands.chance)
        );
        let careful = if best_match == step.to {
            String::new()
        } else {
            format!(
                " The careful way is one step of {}: {}, {}, {}.",
                self.units.show(step.change.abs()),
                self.spring(step.to),
                self.sag_of(step.to),
                self.chance(step.to)
            )
        };
        let never = if direction == "softer" { " Preload cannot add sag." } else { "" };
        (headline, format!("{}, {much}.{never} {lands}{careful}", self.together()))
    }

    /// Where the sag lies beside the band; inside it a stiffer or softer spring is only nearer to its middle.
    fn much(&self, sag: Option<Share>, direction: &str) -> String {
        let lies = sag.map(|sag| (sag, Standing::of(sag, self.setup)));
        match lies {
            Some((sag, lies)) if lies != Standing::Inside => {
                super::guide::standing_beside(sag, lies, self.setup.target, self.units)
            }
            _ => format!("a {direction} spring would be nearer to the middle of {}", self.target_range()),
        }
    }

    fn nothing(
        &self,
        end: ListEnd,
        nearest: Option<SpringNumber>,
        today: Option<&PreloadPlan>,
    ) -> (String, String) {
        let place = match end {
            ListEnd::Softest => "softer than any spring on the list that fits",
            ListEnd::Stiffest => "stiffer than any spring on the list that fits",
            ListEnd::Between => "between two springs on the list that both miss the target range",
        };
        let nearest = nearest.map_or_else(String::new, |number| {
            format!(" Nearest on the list is {}, at {}.", self.spring(number), self.sag_of(number))
        });
        let today = today.map_or_else(String::new, |plan| {
            format!(
                " For today: {} of preload brings sag to {}.{}",
                self.units.show(plan.to),
                plan.sag_to_tell.shown(self.units),
                self.cost_of(plan)
            )
        });
        let reason = format!("{}, {place}.{nearest}{today}{}", self.needed(), self.before_ordering());
        (self.none_on_the_list(), reason)
    }

    fn none_fits(&self) -> (String, String) {
        let reason = format!(
            "None of the springs on the list has stroke and inner diameter enough for this shock; do not ride with one of them. \
             {}.{}",
            self.needed(),
            self.before_ordering()
        );
        (self.none_on_the_list(), reason)
    }

    fn none_on_the_list(&self) -> String {
        let needed = self.assessment.findings.needed_rate.value;
        format!("No spring on the list; about {}", self.units.show(needed))
    }

    /// The rate that would land, as the range it may turn out to lie in.
    fn needed(&self) -> String {
        let (softest, stiffest) = self.assessment.findings.needed_range();
        format!("The rate needed is {} to {}", softest.written(self.units).figure, self.units.show(stiffest))
    }

    /// What is worth measuring before a spring is ordered, and what to look at.
    fn before_ordering(&self) -> String {
        match self.assessment.worth_measuring() {
            Some(one) => format!(
                " Before ordering: {}. Check stroke, travel and leverage ratio as entered.",
                measurement::priced(one, &self.setup.springs, self.units)
            ),
            None => " Check stroke, travel and leverage ratio as entered before ordering one.".to_owned(),
        }
    }

    /// What is worth measuring before the advice is taken; empty where nothing clearly pays, and where a spring is to be got.
    fn worth_measuring(&self) -> String {
        let ordering =
            matches!(self.assessment.advice, Advice::NothingOnTheList { .. } | Advice::NoneFits { .. });
        let pays = self.assessment.worth_measuring().filter(|_| !ordering);
        pays.map_or_else(String::new, |one| {
            format!(" Worth it first: {}.", measurement::priced(one, &self.setup.springs, self.units))
        })
    }

    /// What one more reading takes and what it is expected to save.
    fn one_more(&self) -> String {
        let takes = measurement::minutes(self.assessment.prices.sit);
        let saves = self.assessment.reading_saves().map_or(0.0, |saves| saves.value().round());
        if saves > self.assessment.prices.sit.value() {
            format!("one more reading takes {takes} and saves about {saves:.0}")
        } else {
            format!("one more reading takes {takes} and may change the advice")
        }
    }
}

/// A change of spring in the steps it is bought in: "three steps of 50 stiffer".
fn in_steps(change: SpringRate, units: UnitSet) -> String {
    let direction = if change > SpringRate::ZERO { "stiffer" } else { "softer" };
    let size = change.abs().as_lb_per_in();
    let steps = |step: f64| {
        let is_count = |(count, _): &(u8, &str)| (size - f64::from(*count) * step).abs() < 1.0;
        let words = (2..).zip(["two", "three", "four", "five", "six", "seven", "eight", "nine"]);
        words.into_iter().find(is_count).map(|(_, count)| format!("{count} steps of {step:.0} {direction}"))
    };
    let is_one_step = (size - 50.0).abs() < 1.0;
    let whole = (units != UnitSet::Metric && !is_one_step).then(|| steps(50.0).or_else(|| steps(25.0)));
    whole.flatten().unwrap_or_else(|| format!("{} {direction}", units.show(change.abs())))
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
        format!("{have} of {needed} taken. Readings vary; the average of a few is more reliable.")
    };
    (headline, reason)
}

fn check(suspect: Suspect, causes: &[Cause]) -> (String, String) {
    let (headline, opening) = match suspect {
        Suspect::Reading(number) => (
            format!("Check reading {}", number.0),
            format!(
                "Reading {} is far off from its fellows. Void it if you know why, or read once more.",
                number.0
            ),
        ),
        Suspect::NoReading(number) => (
            format!("Check reading {}", number.0),
            format!("Reading {} is too small to be a rider's sag. Void it and read once more.", number.0),
        ),
        Suspect::Set(number) => (
            "These sets disagree".to_owned(),
            format!("Set {number} does not go with the others. Check, then read once more."),
        ),
        Suspect::Told => (
            "Check before going on".to_owned(),
            "These readings are not where weights, travel and stroke put them. Check, then read once more.".to_owned(),
        ),
        Suspect::Figures => (
            "These figures do not go together".to_owned(),
            "No load on the rear wheel explains readings, weights and springs together, so nothing said here is to be relied \
             on."
                .to_owned(),
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
        Cause::ToldWrong => "rider weight, travel, stroke or spring not as entered",
    }
}
