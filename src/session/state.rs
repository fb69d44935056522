//! The state of the walk: what a record folds to. Derived, never stored.

use super::condition::{Condition, ConditionNumber};
use super::entry::{Gap, Indicator, KerbReturn, Posture, ReadingNumber, Stamp, TickAnswer, TrailReport};
use super::hazard::{self, Hazard};
use super::intake::{Intake, Setup, Spring, SpringNumber};
use super::ride_told::RideTold;
use super::sheet::Sheet;
use super::step::{Awaiting, Caution, Check, Plan, Stage, Step};
use crate::text::FreeText;
use crate::units::{Length, Turns};

/// Where the walk stands.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// The present step.
    pub step: Step,
    /// The intake with every later correction.
    pub entered: Intake,
    /// The same, complete: what the mathematics reads; none while the intake is open.
    pub setup: Option<Setup>,
    /// What is on the bike now.
    pub on_bike: OnBike,
    /// How readings are taken now.
    pub how: ReadHow,
    /// Every condition read under, in order.
    pub conditions: Vec<Condition>,
    /// Sets of readings, in order; the last is the present one.
    pub sets: Vec<ReadingSet>,
    /// The tick list of the present step so far.
    pub ticks: Vec<(Check, CheckAnswer)>,
    /// Cautions acknowledged.
    pub cautions: CautionRecord,
    /// What the decision taken will change.
    pub plan: Plan,
    /// The answers of the last kerb drop, in order.
    pub kerb: Vec<KerbReturn>,
    /// Every trail check ridden.
    pub trail: Vec<TrailReport>,
    /// The bike as it was found.
    pub found: Sheet,
    /// The bike as it was left.
    pub left: Sheet,
    /// What rides told besides.
    pub rides: Vec<RideTold>,
}

/// What is on the bike.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct OnBike {
    /// The spring fitted.
    pub fitted: Option<SpringNumber>,
    /// Springs fitted since the bike came in.
    pub swaps: u16,
    /// How often a spring was brought to contact anew: readings of one mounting share where contact was called.
    pub mountings: u16,
    /// How the bench check went.
    pub bench_check: BenchCheckState,
}

/// How readings are taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct ReadHow {
    /// How the indicator comes where it is read.
    pub indicator: Indicator,
    /// How the rider is on the bike.
    pub posture: Posture,
    /// What is otherwise than at the intake.
    pub condition: ConditionNumber,
}

/// How the bench check went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BenchCheckState {
    /// Not yet.
    #[default]
    NotYet,
    /// Every check ticked or skipped with a reason.
    Walked,
    /// Left to the rider, who went to quick trials.
    LeftToRider,
}

/// How a check of the list was answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CheckAnswer {
    /// Ticked.
    How(TickAnswer),
    /// Skipped, with the reason given.
    Skipped(FreeText),
}

/// Cautions acknowledged, in the session and since the present step was entered.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CautionRecord {
    /// At least once in the session.
    pub ever: Vec<Caution>,
    /// Since the present step was entered (for quick trials: since the last spring change).
    pub this_visit: Vec<Caution>,
    /// Hazards of the spring on the bike.
    pub hazards: Vec<hazard::Read>,
}

impl CautionRecord {
    /// Whether the caution has been acknowledged as often as it wants to be.
    pub fn settled(&self, caution: Caution) -> bool {
        let seen = if caution.every_time() { &self.this_visit } else { &self.ever };
        seen.contains(&caution)
    }

    /// Whether the hazard was acknowledged in this part of the work, with the figures it has now. That a stroke is not
    /// known is acknowledged once.
    pub fn has_read(&self, hazard: Hazard, stage: Stage) -> bool {
        self.hazards.iter().any(|(read, at)| *read == hazard && (*at == stage || !hazard.forbids_riding()))
    }
}

/// Readings taken in one way with one spring, mounted once, at one collar position.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingSet {
    /// The spring.
    pub spring: SpringNumber,
    /// Which mounting it was read in, from one.
    pub mounting: u16,
    /// How its readings were taken.
    pub how: ReadHow,
    /// Whether a gap was seen between indicator and seal, where somebody looked.
    pub gap: Option<Gap>,
    /// Collar turns past contact.
    pub preload_turns: Turns,
    /// Readings wanted before the verdict.
    pub needed: usize,
    /// The readings, void ones too.
    pub readings: Vec<Reading>,
}

impl ReadingSet {
    /// The readings that count.
    pub fn counting(&self) -> impl Iterator<Item = &Reading> {
        self.readings.iter().filter(|reading| reading.void.is_none())
    }
}

/// One seated reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Its number for the rest of the session.
    pub number: ReadingNumber,
    /// When it was taken.
    pub at: Stamp,
    /// How far the indicator moved.
    pub distance: Length,
    /// How far it stood when the rear was pushed down and let rise, where that was tried.
    pub risen: Option<Length>,
    /// Why it does not count, if it does not.
    pub void: Option<FreeText>,
}

impl State {
    /// The walk before anything was done.
    pub(super) fn opening(intake: &Intake) -> Self {
        Self {
            step: Step::Intake,
            entered: intake.clone(),
            setup: None,
            on_bike: OnBike::default(),
            how: ReadHow::default(),
            conditions: Vec::new(),
            sets: Vec::new(),
            ticks: Vec::new(),
            cautions: CautionRecord::default(),
            plan: Plan::Nothing,
            kerb: Vec::new(),
            trail: Vec::new(),
            found: Sheet::default(),
            left: Sheet::default(),
            rides: Vec::new(),
        }
    }

    /// The spring on the bike.
    pub fn fitted(&self) -> Option<&Spring> {
        self.setup.as_ref()?.spring(self.on_bike.fitted?)
    }

    /// The set of readings under way or just finished with the spring on the bike.
    pub fn present_set(&self) -> Option<&ReadingSet> {
        self.sets.last().filter(|set| Some(set.spring) == self.on_bike.fitted)
    }

    /// The condition that readings are taken under now; none while everything is as at the intake.
    pub fn condition(&self) -> Option<&Condition> {
        self.how.condition.on(&self.conditions)
    }

    /// The first check of the present list that has no answer yet.
    pub fn next_check(&self) -> Option<Check> {
        self.step.checks().iter().copied().find(|check| !self.ticks.iter().any(|(ticked, _)| ticked == check))
    }

    /// The caution that has to be acknowledged before anything else is done.
    pub fn pending_caution(&self) -> Option<Caution> {
        self.pending_cautions().into_iter().next()
    }

    /// Every caution to be acknowledged before anything else is done: hazards of what is fitted first, then those of the
    /// step. That the stroke of the spring is not known comes last, as a question of its own.
    pub fn pending_cautions(&self) -> Vec<Caution> {
        // While the intake is open there is no entry for a hazard yet; the form shows it.
        let hazards = if self.setup.is_some() { self.pending_hazards() } else { Vec::new() };
        let (grave, unknown): (Vec<_>, Vec<_>) =
            hazards.into_iter().partition(|hazard| hazard.forbids_riding());
        let of_step = self.cautions_here().filter(|caution| !self.cautions.settled(*caution));
        let grave = grave.into_iter().map(Hazard::caution);
        grave.chain(of_step).chain(unknown.into_iter().map(Hazard::caution)).collect()
    }

    /// The cautions that belong to this step and the check at hand, acknowledged or not.
    pub fn cautions_here(&self) -> impl Iterator<Item = Caution> {
        let cautions = self.step.cautions(self.next_check());
        cautions.filter(|caution| *caution != Caution::SpringBinds || self.binding_is_open())
    }

    /// The caution to put before the mechanic now: the one that is due, or, as soon as a change of spring begins, that a
    /// spring of unknown stroke may bind. Nothing insists on that one before the spring is exchanged, but whoever reads it
    /// with the old spring already off has read it too late.
    pub fn caution_now(&self) -> Option<Caution> {
        self.cautions_now().into_iter().next()
    }

    /// The cautions to put before the mechanic together: those due, a hazard of what is fitted and the question for its
    /// stroke each alone.
    pub fn cautions_now(&self) -> Vec<Caution> {
        let mut pending = self.pending_cautions();
        let binds = Caution::SpringBinds;
        let early = self.step == Step::Swap && self.binding_is_open() && !self.cautions.settled(binds);
        if pending.is_empty() && early {
            pending.push(binds);
        }
        let alone = pending.iter().position(|caution| caution.is_of_what_is_fitted());
        pending.truncate(alone.map_or(pending.len(), |place| place.max(1)));
        pending
    }

    /// Whether nobody can tell from what is known of it if the planned spring has stroke enough.
    pub fn binding_is_open(&self) -> bool {
        let Plan::Spring(number) = self.plan else { return false };
        self.setup
            .as_ref()
            .and_then(|setup| setup.spring(number))
            .is_some_and(|spring| spring.stroke.is_none())
    }

    /// What the walk waits for.
    pub fn awaiting(&self) -> Awaiting {
        if let Some(caution) = self.caution_now() {
            return Awaiting::Acknowledgement(caution);
        }
        if let Some(check) = self.next_check() {
            return Awaiting::Tick(check);
        }
        match self.step {
            Step::Intake => Awaiting::Details,
            Step::Unload => Awaiting::ContactTurns,
            Step::SeatIndicator => Awaiting::Indicator,
            Step::SeatedReading => Awaiting::Reading,
            Step::Decision if self.on_bike.fitted.is_none() => Awaiting::FirstSpring,
            Step::Decision => Awaiting::Decision,
            Step::SetPreload => match self.plan {
                Plan::Collar(turns) => Awaiting::PreloadTurns(turns),
                _ => Awaiting::Decision,
            },
            Step::KerbDrop => Awaiting::KerbReturn,
            Step::TrailCheck => Awaiting::TrailReport,
            Step::AfterTrail => Awaiting::CloseOrAnotherRound,
            Step::BenchCheck | Step::Swap | Step::FinalChecks | Step::Closed => Awaiting::Nothing,
        }
    }
}
