//! When each piece of advice is given.
//!
//! Not here: what there is to advise (`advice`), and the weighing (`choice`).

use super::{Advice, Cause, KeepReason, Lands, ListEnd, ReadAgainReason, SpringStep, Suspect};
use crate::assessment::BikeFindings;
use crate::assessment::belief::Belief;
use crate::assessment::check::{self, Against, CollarSuspect, Off};
use crate::assessment::choice::{self, NextMove, Weighed};
use crate::assessment::doubts::Doubts;
use crate::assessment::forecast::{Forecast, RateSource, ninety_percent_factor};
use crate::assessment::preload::{self, PreloadPlan};
use crate::mechanics::{Spring, SpringNumber, spring};
use crate::session::{ReadingNumber, ReadingSet, Setup, State};
use crate::units::{Estimate, Length, Share, SpringRate, Turns};

/// All that a piece of advice may look at.
#[derive(Debug, Clone, Copy)]
pub(in crate::assessment) struct AdviceInput<'a> {
    /// What was told.
    pub(in crate::assessment) setup: &'a Setup,
    /// Where the walk stands.
    pub(in crate::assessment) state: &'a State,
    /// What all sets together say.
    pub(in crate::assessment) belief: &'a Belief<'a>,
    pub(in crate::assessment) findings: &'a BikeFindings,
    /// Every spring on the rack.
    pub(in crate::assessment) forecasts: &'a [Forecast],
    /// What could be done, weighed.
    pub(in crate::assessment) weighed: &'a Weighed,
    /// The first set beside what was told, and the last beside those before it, where they are off.
    pub(in crate::assessment) off: [Option<Off>; 2],
    /// The table of doubts.
    pub(in crate::assessment) doubts: &'a Doubts,
}

/// The one thing to do next.
pub(in crate::assessment) fn advise(situation: &AdviceInput<'_>) -> Advice {
    let (Some(fitted), Some(set)) = (situation.fitted(), situation.state.present_set()) else {
        return situation.before_any_reading();
    };
    let have = set.counting().count();
    if have < check::first_readings(situation.state.sets.len()) {
        return situation.more_readings(have, Some(set));
    }
    situation.check(set, have).unwrap_or_else(|| situation.decide(fitted, set))
}

/// The spring step from one rate to the landing spring: 50 lb/in, or 25 where that is nearer, from the springs that
/// exist and fit (common practice, no source).
fn spring_step(from: SpringRate, best_match: &Forecast, rack: &[Forecast]) -> SpringStep {
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
        rack.iter().filter(on_the_way).min_by(|one, other| distance(one).total_cmp(&distance(other)));
    let to = nearest.unwrap_or(best_match);
    SpringStep { change: to.rate - from, to: to.spring }
}

impl AdviceInput<'_> {
    pub(in crate::assessment) fn fitted(&self) -> Option<&Spring> {
        self.state.fitted()
    }

    fn present(&self) -> Option<&Forecast> {
        self.forecasts.iter().find(|forecast| forecast.known == RateSource::OnTheBike)
    }

    fn more_readings(&self, have: usize, set: Option<&ReadingSet>) -> Advice {
        let needed = set.map_or(self.setup.readings_wanted(self.state.sets.len()), |set| set.needed);
        Advice::TakeReadings { have, needed: needed.max(have + 1) }
    }

    fn before_any_reading(&self) -> Advice {
        if self.fitted().is_some() {
            return self.more_readings(0, None);
        }
        let (softest, stiffest) = self.findings.needed_range();
        match self.weighed.swap {
            Some((best_match, _)) if self.lands() => Advice::FirstSpring { best_match, softest, stiffest },
            _ => self.nothing_lands(),
        }
    }

    fn lands(&self) -> bool {
        self.weighed.best_chance() >= self.doubts.lands.as_fraction()
    }

    /// The best spring that is not on the bike.
    pub(in crate::assessment) fn best_match(&self) -> Option<SpringNumber> {
        self.weighed.swap.map(|(spring, _)| spring)
    }

    /// Readings that are not where they should be, once: after another reading the answer goes on with what is there.
    fn check(&self, set: &ReadingSet, have: usize) -> Option<Advice> {
        if let Some(reading) = check::faulty(&self.state.sets, self.setup) {
            let causes = vec![Cause::IndicatorNotSeated, Cause::AdjusterClosed, Cause::Misread];
            return Some(Advice::Check { suspect: Suspect::NoReading(reading), causes });
        }
        let number = self.state.sets.len();
        if have <= check::first_readings(number) {
            let off = self.off.iter().flatten().find(|off| off.set == number);
            if let Some(off) = off {
                return Some(self.check_of(off));
            }
        }
        if !self.belief.is_settled() {
            return Some(Advice::Check {
                suspect: Suspect::Figures,
                causes: vec![Cause::ToldWrong, Cause::Misread],
            });
        }
        let apart = self.belief.apart().find(|(set, _)| *set == number).map(|(_, reading)| reading);
        let reads = self.weighed.next_move(set.preload_turns) == NextMove::Read;
        let wild = self.findings.scatter > self.doubts.reading.scatter * WILD && have > 1;
        let wild = wild && have < usize::from(self.doubts.reading.most);
        let suspect = if wild { check::furthest(set) } else { apart.filter(|_| reads) }?;
        Some(Advice::Check { suspect: Suspect::Reading(suspect), causes: Self::causes_of(suspect, set) })
    }

    fn check_of(&self, off: &Off) -> Advice {
        let mut causes = too_far_one_way(off.read > off.expected.value);
        match off.against {
            Against::Told => causes.push(Cause::ToldWrong),
            Against::SetsBefore => {
                if off.collar == CollarSuspect::MayBe {
                    causes.insert(0, Cause::PreloadDiffers);
                }
                if self.is_first_of_its_spring(off.set) {
                    causes.push(Cause::WrongLabel);
                }
            }
        }
        let suspect = match off.against {
            Against::Told => Suspect::Told,
            Against::SetsBefore => Suspect::Set(off.set),
        };
        Advice::Check { suspect, causes }
    }

    fn is_first_of_its_spring(&self, number: usize) -> bool {
        let sets = &self.state.sets;
        let spring = sets.get(number - 1).map(|set| set.spring);
        sets.iter().filter(|set| Some(set.spring) == spring).count() == 1
    }

    fn causes_of(reading: ReadingNumber, set: &ReadingSet) -> Vec<Cause> {
        let moved = set.readings.iter().find(|one| one.number == reading).map(|one| one.distance);
        let others = set.counting().filter(|one| one.number != reading).map(|one| one.distance.as_mm());
        let (sum, count) = others.fold((0.0, 0.0), |(sum, count), moved| (sum + moved, count + 1.0));
        too_far_one_way(moved.is_none_or(|moved| count < 1.0 || moved > Length::mm(sum / count)))
    }

    fn decide(&self, fitted: &Spring, set: &ReadingSet) -> Advice {
        match self.weighed.next_move(set.preload_turns) {
            NextMove::Read => Advice::ReadAgain { because: self.why_read_again() },
            _ if !self.lands() => self.nothing_lands(),
            NextMove::Swap(best_match) => self.swap(fitted, best_match),
            NextMove::Turn(to) => self.trim(fitted, set.preload_turns, to),
            NextMove::Keep => self.keep(),
        }
    }

    fn swap(&self, fitted: &Spring, best_match: SpringNumber) -> Advice {
        let forecast = self.forecasts.iter().find(|forecast| forecast.spring == best_match);
        let fitting = self.weighed.fitting(best_match);
        let (Some(forecast), Some(fitting)) = (forecast, fitting) else { return self.nothing_lands() };
        let on_the_bike = self.forecasts.iter().find(|forecast| forecast.spring == fitted.number);
        let from = on_the_bike.map_or(fitted.rate(), |present| present.rate);
        let step = spring_step(from, forecast, self.forecasts);
        let (turns, outcome, chance) = fitting.carried();
        let sag = self.belief.sag_of(outcome);
        let half_width = sag.uncertainty * ninety_percent_factor(f64::INFINITY);
        let sag_to_tell = Estimate::new(sag.value, half_width);
        let lands = Lands { turns, sag_to_tell, chance: Share::fraction(chance) };
        Advice::Swap { step, best_match, lands }
    }

    fn trim(&self, fitted: &Spring, from: Turns, to: Turns) -> Advice {
        let at = self.weighed.turns.iter().find(|at| choice::is_at(at.turns, to));
        at.map_or_else(|| self.keep(), |at| Advice::SetPreload(preload::plan(self.belief, fitted, from, at)))
    }

    fn keep(&self) -> Advice {
        match self.present() {
            Some(present) if present.chance >= Share::percent(50.0) => {
                Advice::Keep { because: KeepReason::OnTarget }
            }
            Some(present) if present.fit.is_possible() => Advice::Keep { because: KeepReason::NothingBetter },
            _ => self.nothing_lands(),
        }
    }

    fn why_read_again(&self) -> ReadAgainReason {
        let usual = self.doubts.reading.scatter;
        if self.findings.scatter > usual * 1.5 {
            return ReadAgainReason::Scatter;
        }
        let out = self.present().is_some_and(|present| present.chance < Share::percent(5.0));
        if out { ReadAgainReason::WhichSpring } else { ReadAgainReason::NearTheEdge }
    }

    fn nothing_lands(&self) -> Advice {
        let needed = self.findings.needed_rate.value;
        let fitting = || self.forecasts.iter().filter(|forecast| forecast.fit.is_possible());
        if fitting().next().is_none() {
            return Advice::NoneFits { needed };
        }
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
        Advice::NothingOnTheList { needed, end, nearest, today: self.for_today() }
    }

    /// The least preload beyond what is planned that holds the spring on the bike in the band, as far as the shock and the
    /// spring allow it.
    fn for_today(&self) -> Option<PreloadPlan> {
        let (fitted, set) = (self.fitted()?, self.state.present_set()?);
        set.counting().next()?;
        let most = spring::most_turns(fitted, &self.setup.shock).value().min(100.0);
        let planned = self.doubts.prices.most_turns.value();
        let quarters = (0..=400u16).map(|quarter| f64::from(quarter) / 4.0);
        let shop_alternatives =
            quarters.skip_while(|turns| *turns <= planned).take_while(|turns| *turns <= most + 1e-9);
        let at =
            shop_alternatives.map(|turns| choice::beyond_planned(self.belief, fitted, set, Turns::of(turns)));
        let holds = at.into_iter().find(|at| at.chance >= 0.5)?;
        Some(preload::plan(self.belief, fitted, set.preload_turns, &holds))
    }
}

/// Usual scatters from which nothing is said by the readings before the furthest was looked at: they are not of one rider at
/// rest (common practice, no source).
const WILD: f64 = 3.0;

/// What makes a reading too large or too small: bouncing and a loose indicator read too much, a closed adjuster and a rider
/// half out of the saddle too little (common practice, no source).
fn too_far_one_way(too_large: bool) -> Vec<Cause> {
    if too_large {
        vec![Cause::Bounced, Cause::IndicatorNotSeated, Cause::Misread]
    } else {
        vec![Cause::Misread, Cause::AdjusterClosed, Cause::NotFullySeated]
    }
}
