//! What to do next: one thing at a time, the first that applies, as data with its reason.
//!
//! Order: a first spring where none is fitted, readings where there are too few, a check where trials disagree, another
//! reading where it can change the answer, then keep, trim or swap by the chance of ending in the band. A swap costs a
//! quarter of an hour, a reading a minute; the limits stand in the table of doubts. Too little sag at contact preload
//! is never answered with preload. Not here: words (`phrase`).

use super::BikeFindings;
use super::choice::{ChoiceKind, CollarReach, WeighedChoice, best};
use super::doubts::{DecisionLimits, Doubts};
use super::evidence::SetFinding;
use super::forecast::{Forecast, RateSource};
use super::posterior::Agreement;
use super::preload::PreloadPlan;
use crate::mechanics::SpringNumber;
use crate::session::{ReadingNumber, ReadingSet, Setup, State, Step};
use crate::units::{Share, SpringRate};

/// What to do next.
#[derive(Debug, Clone, PartialEq)]
pub enum Advice {
    /// No spring is fitted: begin with this one.
    FirstSpring {
        /// The spring with the best chance of the band.
        best_match: SpringNumber,
        /// Softest rate that may turn out right (90 %).
        softest: SpringRate,
        /// Stiffest rate that may turn out right (90 %).
        stiffest: SpringRate,
    },
    /// Readings are still wanted before a verdict.
    TakeReadings {
        /// Readings that count so far.
        have: usize,
        /// Readings wanted.
        needed: usize,
    },
    /// Trials disagree: check, then read again.
    Check {
        /// What stands apart.
        suspect: Suspect,
        /// What it may be, the likeliest first.
        causes: Vec<Cause>,
    },
    /// Another seated reading can change the answer.
    ReadAgain {
        /// Why.
        because: ReadAgainReason,
    },
    /// Leave spring and collar.
    Keep {
        /// Why.
        because: KeepReason,
    },
    /// Turn the collar.
    SetPreload(PreloadPlan),
    /// Fit another spring.
    Swap {
        /// The next spring step of 25 or 50 lb/in.
        step: SpringStep,
        /// The spring with the best chance of the band, for going there at once.
        best_match: SpringNumber,
    },
    /// No spring at hand lands in the band.
    NothingOnTheList {
        /// The rate that would.
        needed: SpringRate,
        /// Which end of the rack it is past.
        end: ListEnd,
        /// The best spring at hand, where that is not the one on the bike.
        nearest: Option<SpringNumber>,
    },
}

/// What stands apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Suspect {
    /// One reading from its fellows.
    Reading(ReadingNumber),
    /// A set from where the others put it.
    Set(usize),
}

/// What may have gone wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// The rider bounced or dropped in.
    Bounced,
    /// The indicator did not sit against the seal.
    IndicatorNotSeated,
    /// The collar was not where it was said to be.
    PreloadDiffers,
    /// The spring's label is far off.
    WrongLabel,
    /// A climb switch or compression adjuster was closed.
    AdjusterClosed,
    /// The figure was misread or mistyped.
    Misread,
    /// The rider was not fully seated.
    NotFullySeated,
}

/// Why another reading can change the answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadAgainReason {
    /// The sag lies too near the edge of the band to call.
    NearTheEdge,
    /// The readings scatter too much to call it.
    Scatter,
}

/// Why the spring stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeepReason {
    /// It lies in the band.
    OnTarget,
    /// It may not, but no other spring at hand is enough better to be worth a swap.
    NothingBetter,
}

/// Which end of the rack the wanted rate is past.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListEnd {
    /// Softer than anything at hand.
    Softest,
    /// Stiffer than anything at hand.
    Stiffest,
    /// Between two springs that both miss the band.
    Between,
}

/// The next spring step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringStep {
    /// Difference of the labels, softer negative.
    pub change: SpringRate,
    /// The spring that makes it.
    pub to: SpringNumber,
}

/// All that a piece of advice may look at.
#[derive(Debug, Clone, Copy)]
pub struct AdviceInput<'a> {
    /// What was told.
    pub setup: &'a Setup,
    /// Where the walk stands.
    pub state: &'a State,
    /// The sets so far.
    pub sets: &'a [SetFinding],
    /// What they say together.
    pub findings: &'a BikeFindings,
    /// Every spring on the rack.
    pub forecasts: &'a [Forecast],
    /// The best turn of the collar, where one helps.
    pub preload_plan: Option<PreloadPlan>,
    /// The table of doubts.
    pub doubts: &'a Doubts,
}

/// The one thing to do next.
pub fn advise(situation: &AdviceInput<'_>) -> Advice {
    let Some(present) = situation.present() else { return situation.first_spring() };
    let Some(set) = situation.state.present_set() else { return situation.more_readings(0, None) };
    let have = set.counting().count();
    let at_verdict =
        !matches!(situation.state.step, Step::Unload | Step::SeatIndicator | Step::SeatedReading);
    if have == 0 || (have < set.needed && !at_verdict) {
        return situation.more_readings(have, Some(set));
    }
    if let Some(check) = situation.check(have) {
        return check;
    }
    situation.decide(present, have)
}

/// The spring step from one rate to the landing spring: 50 lb/in, or 25 where that is nearer, from the springs that
/// exist and fit (common practice, no source).
pub(super) fn spring_step(from: SpringRate, best_match: &Forecast, springs: &[Forecast]) -> SpringStep {
    let whole = best_match.rate - from;
    let size = if whole.abs() < SpringRate::lb_per_in(49.5) { 25.0 } else { 50.0 };
    let goal = from + SpringRate::lb_per_in(size * whole.value().signum());
    let on_the_way = |forecast: &&Forecast| {
        let change = forecast.rate - from;
        forecast.fit.is_possible()
            && forecast.known != RateSource::OnTheBike
            && change.value() * whole.value() > 0.0
            && change.abs() <= whole.abs()
    };
    let distance = |forecast: &Forecast| (forecast.rate - goal).abs().value();
    let nearest =
        springs.iter().filter(on_the_way).min_by(|one, other| distance(one).total_cmp(&distance(other)));
    let to = nearest.unwrap_or(best_match);
    SpringStep { change: to.rate - from, to: to.spring }
}

impl AdviceInput<'_> {
    fn limits(&self) -> &DecisionLimits {
        &self.doubts.decision
    }

    fn present(&self) -> Option<&Forecast> {
        self.forecasts.iter().find(|forecast| forecast.known == RateSource::OnTheBike)
    }

    fn more_readings(&self, have: usize, set: Option<&ReadingSet>) -> Advice {
        let needed = set.map_or(usize::from(self.setup.readings_each), |set| set.needed);
        Advice::TakeReadings { have, needed }
    }

    fn first_spring(&self) -> Advice {
        let (softest, stiffest) = self.findings.needed_range();
        match self.best_match() {
            Some(best_match) => Advice::FirstSpring { best_match: best_match.spring, softest, stiffest },
            None => self.nothing_on_the_list(),
        }
    }

    /// The best spring that is not on the bike.
    pub(super) fn best_match(&self) -> Option<&Forecast> {
        let present = self.present();
        let twin = |forecast: &Forecast| present.is_some_and(|present| forecast.is_twin_of(present));
        let others = self
            .forecasts
            .iter()
            .filter(|forecast| forecast.known != RateSource::OnTheBike && !twin(forecast));
        let fitting = others.filter(|forecast| forecast.fit.is_possible());
        fitting.max_by(|one, other| one.by_worth(other, self.setup.target, self.limits()))
    }

    /// Trials that disagree, once: after another reading the answer goes on with what is there.
    fn check(&self, have: usize) -> Option<Advice> {
        let last = self.sets.last()?;
        let read_again_since = have > usize::from(self.setup.readings_each);
        if let Some(apart) = last.apart.filter(|apart| !read_again_since || self.is_latest(*apart)) {
            return Some(Advice::Check {
                suspect: Suspect::Reading(apart),
                causes: self.causes_of(apart, last),
            });
        }
        if read_again_since {
            return None;
        }
        let Agreement::Apart { set } = self.findings.agreement else { return None };
        let same_spring = self.sets.iter().filter(|finding| finding.spring == last.spring).count() > 1;
        let mut causes = vec![Cause::PreloadDiffers, Cause::IndicatorNotSeated, Cause::Bounced];
        if !same_spring {
            causes.push(Cause::WrongLabel);
        }
        causes.push(Cause::AdjusterClosed);
        Some(Advice::Check { suspect: Suspect::Set(set), causes })
    }

    /// Whether no reading that counts was taken after this one.
    fn is_latest(&self, reading: ReadingNumber) -> bool {
        let set = self.state.present_set();
        set.and_then(|set| set.counting().last()).is_some_and(|latest| latest.number == reading)
    }

    /// What makes a reading stand apart on the side it does: bouncing and a loose indicator read too much, a closed
    /// adjuster and a rider half out of the saddle too little (common practice, no source).
    fn causes_of(&self, reading: ReadingNumber, set: &SetFinding) -> Vec<Cause> {
        let readings = self.state.sets.iter().flat_map(|set| &set.readings);
        let moved = readings.into_iter().find(|one| one.number == reading).map(|one| one.distance);
        if moved.is_some_and(|moved| moved < set.average.value) {
            vec![Cause::Misread, Cause::AdjusterClosed, Cause::NotFullySeated]
        } else {
            vec![Cause::Bounced, Cause::IndicatorNotSeated, Cause::Misread]
        }
    }

    fn decide(&self, present: &Forecast, have: usize) -> Advice {
        let choices = self.choices(present);
        let best = best(&choices, Share::ZERO);
        if have < usize::from(self.limits().most_readings) && self.another_reading_may_change(&choices, have)
        {
            return Advice::ReadAgain { because: self.why_read_again() };
        }
        if best.worth(Share::ZERO) + best.price < self.limits().lands.as_fraction() {
            return self.nothing_on_the_list();
        }
        match best.what {
            ChoiceKind::Swap(best_match) => {
                let step = spring_step(present.rate, best_match, self.forecasts);
                Advice::Swap { step, best_match: best_match.spring }
            }
            ChoiceKind::SetPreload(plan) => Advice::SetPreload(plan),
            ChoiceKind::Keep if present.chance >= Share::percent(50.0) => {
                Advice::Keep { because: KeepReason::OnTarget }
            }
            ChoiceKind::Keep => Advice::Keep { because: KeepReason::NothingBetter },
        }
    }

    /// Everything that could be done now, each with the sag it leads to and its price in chance.
    fn choices(&self, present: &Forecast) -> Vec<WeighedChoice<'_>> {
        let target = self.setup.target;
        let choice = |what, sag, reach, price: Share| WeighedChoice {
            what,
            sag,
            reach,
            target,
            price: price.as_fraction(),
        };
        let keep = choice(ChoiceKind::Keep, present.sag, CollarReach::NONE, Share::ZERO);
        let preload_plan = self.preload_plan.map(|plan| {
            choice(
                ChoiceKind::SetPreload(plan),
                plan.sag_after,
                CollarReach::NONE,
                self.limits().preload_gain,
            )
        });
        let swap = self.best_match().map(|best_match| {
            let reach =
                CollarReach { by: best_match.collar_reach, worth: self.limits().rescue.as_fraction() };
            choice(ChoiceKind::Swap(best_match), best_match.sag, reach, self.limits().better_by)
        });
        [Some(keep), preload_plan, swap].into_iter().flatten().collect()
    }

    /// Whether one more reading can move the sag far enough (1.64 standard deviations of what it would add) that another
    /// choice becomes the best by more than a point of chance.
    fn another_reading_may_change(&self, choices: &[WeighedChoice<'_>], have: usize) -> bool {
        let n = have as f64;
        let shift = self.findings.scatter.as_mm() / (n * (n + 1.0)).sqrt();
        let shift = Share::fraction(1.64 * shift / self.setup.shock.stroke.as_mm());
        let now = best(choices, Share::ZERO);
        if now.worth(Share::ZERO) + now.price >= self.limits().settled.as_fraction() {
            return false;
        }
        [shift, -shift].into_iter().any(|shift| best(choices, shift).worth(shift) > now.worth(shift) + 0.01)
    }

    fn why_read_again(&self) -> ReadAgainReason {
        let usual = self.doubts.reading.scatter;
        let scattered =
            self.sets.last().and_then(|set| set.scatter).is_some_and(|scatter| scatter > usual * 1.5);
        if scattered { ReadAgainReason::Scatter } else { ReadAgainReason::NearTheEdge }
    }

    fn nothing_on_the_list(&self) -> Advice {
        let needed = self.findings.needed_rate.value;
        let fitting = || self.forecasts.iter().filter(|forecast| forecast.fit.is_possible());
        let end = if fitting().all(|forecast| forecast.rate > needed) {
            ListEnd::Softest
        } else if fitting().all(|forecast| forecast.rate < needed) {
            ListEnd::Stiffest
        } else {
            ListEnd::Between
        };
        let distance = |forecast: &&Forecast| (forecast.sag.value - self.setup.target.sag).abs().value();
        let nearest = fitting().min_by(|one, other| distance(one).total_cmp(&distance(other)));
        let nearest = nearest
            .filter(|forecast| forecast.known != RateSource::OnTheBike)
            .map(|forecast| forecast.spring);
        Advice::NothingOnTheList { needed, end, nearest }
    }
}
