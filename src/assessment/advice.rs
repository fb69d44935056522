//! What to do next: one thing at a time, the first that applies, as data with its reason.
//!
//! Order: a first spring where none is fitted, readings where there are too few, a check where trials disagree, another
//! reading where it can change the answer, then keep, trim or swap by the chance of ending in the band. A swap costs a
//! quarter of an hour, a reading a minute; the limits stand in the table of doubts. Too little sag at contact preload
//! is never answered with preload. Not here: words (`phrase`).

use super::Learned;
use super::choice::{Choice, Reach, What, best};
use super::doubts::{DecisionLimits, Doubts};
use super::evidence::SetFinding;
use super::forecast::{Forecast, Known};
use super::posterior::Agreement;
use super::trim::TrimPlan;
use crate::mechanics::SpringNumber;
use crate::session::{ReadingNumber, ReadingSet, Setup, State, Step};
use crate::units::{Share, SpringRate};

/// What to do next.
#[derive(Debug, Clone, PartialEq)]
pub enum Advice {
    /// No spring is fitted: begin with this one.
    FirstSpring {
        /// The spring with the best chance of the band.
        landing: SpringNumber,
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
        wanted: usize,
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
    Trim(TrimPlan),
    /// Fit another spring.
    Swap {
        /// The next spring step of 25 or 50 lb/in.
        step: SpringStep,
        /// The spring with the best chance of the band, for going there at once.
        landing: SpringNumber,
    },
    /// No spring at hand lands in the band.
    NothingOnTheRack {
        /// The rate that would.
        wanted: SpringRate,
        /// Which end of the rack it is past.
        end: RackEnd,
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
    InTheBand,
    /// It may not, but no other spring at hand is enough better to be worth a swap.
    NothingBetter,
}

/// Which end of the rack the wanted rate is past.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RackEnd {
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
pub struct Situation<'a> {
    /// What was told.
    pub setup: &'a Setup,
    /// Where the walk stands.
    pub state: &'a State,
    /// The sets so far.
    pub sets: &'a [SetFinding],
    /// What they say together.
    pub learned: &'a Learned,
    /// Every spring on the rack.
    pub forecasts: &'a [Forecast],
    /// The best turn of the collar, where one helps.
    pub trim: Option<TrimPlan>,
    /// The table of doubts.
    pub doubts: &'a Doubts,
}

/// The one thing to do next.
pub fn advise(situation: &Situation<'_>) -> Advice {
    let Some(present) = situation.present() else { return situation.first_spring() };
    let Some(set) = situation.state.present_set() else { return situation.more_readings(0, None) };
    let have = set.counting().count();
    let at_verdict =
        !matches!(situation.state.step, Step::Unload | Step::SeatIndicator | Step::SeatedReading);
    if have == 0 || (have < set.wanted && !at_verdict) {
        return situation.more_readings(have, Some(set));
    }
    if let Some(check) = situation.check(have) {
        return check;
    }
    situation.decide(present, have)
}

/// The spring step from one rate to the landing spring: 50 lb/in, or 25 where that is nearer, from the springs that
/// exist and fit (common practice, no source).
pub(super) fn spring_step(from: SpringRate, landing: &Forecast, rack: &[Forecast]) -> SpringStep {
    let whole = landing.rate - from;
    let size = if whole.abs() < SpringRate::lb_per_in(49.5) { 25.0 } else { 50.0 };
    let aimed = from + SpringRate::lb_per_in(size * whole.value().signum());
    let on_the_way = |forecast: &&Forecast| {
        let change = forecast.rate - from;
        forecast.fit.is_possible()
            && forecast.known != Known::OnTheBike
            && change.value() * whole.value() > 0.0
            && change.abs() <= whole.abs()
    };
    let distance = |forecast: &Forecast| (forecast.rate - aimed).abs().value();
    let nearest =
        rack.iter().filter(on_the_way).min_by(|one, other| distance(one).total_cmp(&distance(other)));
    let to = nearest.unwrap_or(landing);
    SpringStep { change: to.rate - from, to: to.spring }
}

impl Situation<'_> {
    fn limits(&self) -> &DecisionLimits {
        &self.doubts.decision
    }

    fn present(&self) -> Option<&Forecast> {
        self.forecasts.iter().find(|forecast| forecast.known == Known::OnTheBike)
    }

    fn more_readings(&self, have: usize, set: Option<&ReadingSet>) -> Advice {
        let wanted = set.map_or(usize::from(self.setup.readings_wanted), |set| set.wanted);
        Advice::TakeReadings { have, wanted }
    }

    fn first_spring(&self) -> Advice {
        let (softest, stiffest) = self.learned.wanted_range();
        match self.landing() {
            Some(landing) => Advice::FirstSpring { landing: landing.spring, softest, stiffest },
            None => self.nothing_on_the_rack(),
        }
    }

    /// The best spring that is not on the bike.
    pub(super) fn landing(&self) -> Option<&Forecast> {
        let present = self.present();
        let twin = |forecast: &Forecast| present.is_some_and(|present| forecast.is_twin_of(present));
        let others =
            self.forecasts.iter().filter(|forecast| forecast.known != Known::OnTheBike && !twin(forecast));
        let fitting = others.filter(|forecast| forecast.fit.is_possible());
        fitting.max_by(|one, other| one.by_worth(other, self.setup.aim, self.limits()))
    }

    /// Trials that disagree, once: after another reading the answer goes on with what is there.
    fn check(&self, have: usize) -> Option<Advice> {
        let last = self.sets.last()?;
        let read_again_since = have > usize::from(self.setup.readings_wanted);
        if let Some(apart) = last.apart.filter(|apart| !read_again_since || self.is_latest(*apart)) {
            return Some(Advice::Check {
                suspect: Suspect::Reading(apart),
                causes: self.causes_of(apart, last),
            });
        }
        if read_again_since {
            return None;
        }
        let Agreement::Apart { set } = self.learned.agreement else { return None };
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
        let moved = readings.into_iter().find(|one| one.number == reading).map(|one| one.moved);
        if moved.is_some_and(|moved| moved < set.moved.value) {
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
            return self.nothing_on_the_rack();
        }
        match best.what {
            What::Swap(landing) => {
                let step = spring_step(present.rate, landing, self.forecasts);
                Advice::Swap { step, landing: landing.spring }
            }
            What::Trim(plan) => Advice::Trim(plan),
            What::Keep if present.chance >= Share::percent(50.0) => {
                Advice::Keep { because: KeepReason::InTheBand }
            }
            What::Keep => Advice::Keep { because: KeepReason::NothingBetter },
        }
    }

    /// Everything that could be done now, each with the sag it leads to and its price in chance.
    fn choices(&self, present: &Forecast) -> Vec<Choice<'_>> {
        let aim = self.setup.aim;
        let choice =
            |what, sag, reach, price: Share| Choice { what, sag, reach, aim, price: price.as_fraction() };
        let keep = choice(What::Keep, present.sag, Reach::NONE, Share::ZERO);
        let trim = self
            .trim
            .map(|plan| choice(What::Trim(plan), plan.sag_after, Reach::NONE, self.limits().trim_gain));
        let swap = self.landing().map(|landing| {
            let reach = Reach { by: landing.collar_reach, worth: self.limits().rescue.as_fraction() };
            choice(What::Swap(landing), landing.sag, reach, self.limits().better_by)
        });
        [Some(keep), trim, swap].into_iter().flatten().collect()
    }

    /// Whether one more reading can move the sag far enough (1.64 standard deviations of what it would add) that another
    /// choice becomes the best by more than a point of chance.
    fn another_reading_may_change(&self, choices: &[Choice<'_>], have: usize) -> bool {
        let n = have as f64;
        let shift = self.learned.scatter.as_mm() / (n * (n + 1.0)).sqrt();
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

    fn nothing_on_the_rack(&self) -> Advice {
        let wanted = self.learned.wanted_rate.value;
        let fitting = || self.forecasts.iter().filter(|forecast| forecast.fit.is_possible());
        let end = if fitting().all(|forecast| forecast.rate > wanted) {
            RackEnd::Softest
        } else if fitting().all(|forecast| forecast.rate < wanted) {
            RackEnd::Stiffest
        } else {
            RackEnd::Between
        };
        let distance = |forecast: &&Forecast| (forecast.sag.value - self.setup.aim.sag).abs().value();
        let nearest = fitting().min_by(|one, other| distance(one).total_cmp(&distance(other)));
        let nearest =
            nearest.filter(|forecast| forecast.known != Known::OnTheBike).map(|forecast| forecast.spring);
        Advice::NothingOnTheRack { wanted, end, nearest }
    }
}
