//! What each deed does to the state, and why it may be refused. Taking back is in `machine`.

use crate::session::entry::{Decision, Deed, KerbReturn, ReadingNumber, Stamp, TickAnswer, TrailReport};
use crate::session::intake::{Detail, Setup, SpringNumber};
use crate::session::limits::{Figure, check_reading};
use crate::session::refusal::Refusal;
use crate::session::ride_told::RideTold;
use crate::session::state::{BenchCheckState, CheckAnswer, ReadHow, Reading, ReadingSet, State};
use crate::session::step::{Caution, Check, Plan, Stage, Step};
use crate::text::FreeText;
use crate::units::{Quantity, Turns};

/// Applies one deed; on refusal the state may be half changed and must be thrown away.
pub(super) fn apply(state: &mut State, deed: &Deed, at: Stamp, number: ReadingNumber) -> Result<(), Refusal> {
    if state.step == Step::Closed {
        return state.take_after_closing(deed);
    }
    match deed {
        Deed::IntakeDone => state.finish_intake(),
        Deed::Noted(_) => Ok(()),
        _ if state.step == Step::Intake => Err(state.elsewhere()),
        Deed::Entered(detail) => state.correct(detail),
        Deed::CautionSeen(caution) => state.acknowledge(*caution),
        Deed::Ticked(check, how) => state.tick(*check, *how),
        Deed::Skipped { because } => state.skip(because),
        Deed::Voided { reading, because } => state.void(*reading, because),
        Deed::Under(condition) => state.read_under(condition.as_ref()),
        Deed::Decided(decision) => state.decide(*decision),
        Deed::KerbDropped(returned) => state.roll_off(*returned),
        Deed::TrailRidden { .. } => {
            state.past_the_kerb()?;
            state.at(&[Step::TrailCheck])?;
            state.cautions_first()?;
            state.hear_the_trail(deed);
            state.enter(Step::AfterTrail)
        }
        Deed::Closed => {
            state.at(&[Step::AfterTrail])?;
            state.enter(Step::Closed)
        }
        Deed::AsFound(sheet) => sheet.check().map(|()| state.found = (**sheet).clone()),
        Deed::AsLeft(sheet) => sheet.check().map(|()| state.left = (**sheet).clone()),
        Deed::RideTold(ride) => {
            state.past_the_kerb()?;
            state.at(&[Step::TrailCheck, Step::AfterTrail])?;
            state.ridden(ride)
        }
        Deed::TakenBack | Deed::StartedAgain | Deed::Undone | Deed::Redone => Err(Refusal::NothingToUndo),
        _ => apply_measuring(state, deed, at, number),
    }
}

fn apply_measuring(state: &mut State, deed: &Deed, at: Stamp, number: ReadingNumber) -> Result<(), Refusal> {
    match *deed {
        Deed::Unloaded { preload_turns } => {
            state.at(&[Step::Unload])?;
            state.cautions_first()?;
            state.on_bike.mountings += 1;
            state.begin_set(preload_turns)
        }
        Deed::IndicatorSeated => {
            state.at(&[Step::SeatIndicator])?;
            state.cautions_first()?;
            state.enter(Step::SeatedReading)
        }
        Deed::Read { reading } => {
            state.at(&[Step::SeatedReading])?;
            state.cautions_first()?;
            state.read(Reading { number, at, distance: reading, risen: None, void: None })
        }
        Deed::Trial { reading } => {
            state.at(&MEASURING)?;
            state.need_seen(&[Caution::ShaftScratch, Caution::SitGently])?;
            state.read(Reading { number, at, distance: reading, risen: None, void: None })
        }
        Deed::ReadHow { indicator, posture } => state.read_how(ReadHow { indicator, posture, ..state.how }),
        Deed::GapLookedFor(gap) => state.gap_looked_for(gap),
        Deed::Risen { reading } => state.let_rise(reading),
        Deed::EnoughReadings => {
            state.at(&[Step::SeatIndicator, Step::SeatedReading])?;
            state.need_reading()?;
            state.enter(Step::Decision)
        }
        Deed::PreloadSet { preload_turns } => state.trim(preload_turns),
        Deed::Swapped { spring, preload_turns } => state.refit(spring, preload_turns),
        Deed::TrialsOpened { preload_turns } => state.open_trials(preload_turns),
        _ => Err(state.elsewhere()),
    }
}

pub(super) const MEASURING: [Step; 3] = [Step::SeatIndicator, Step::SeatedReading, Step::Decision];

impl State {
    pub(super) fn elsewhere(&self) -> Refusal {
        Refusal::NotAtThisStep { step: self.step }
    }

    pub(super) fn at(&self, steps: &[Step]) -> Result<(), Refusal> {
        if steps.contains(&self.step) { Ok(()) } else { Err(self.elsewhere()) }
    }

    #[expect(clippy::unnecessary_wraps, reason = "the last word of most deeds, which answer with a result")]
    pub(super) fn enter(&mut self, step: Step) -> Result<(), Refusal> {
        self.step = step;
        self.ticks.clear();
        self.cautions.this_visit.clear();
        if !matches!(step, Step::Swap | Step::SetPreload) {
            self.plan = Plan::Nothing;
        }
        Ok(())
    }

    /// Once, and the trail is next; any other return is put right by a click, and rolled again.
    fn roll_off(&mut self, returned: KerbReturn) -> Result<(), Refusal> {
        self.at(&[Step::KerbDrop])?;
        self.cautions_first()?;
        self.kerb.push(returned);
        match returned {
            KerbReturn::Once | KerbReturn::NotDone => self.enter(Step::TrailCheck),
            KerbReturn::BouncesOn | KerbReturn::Slow => Ok(()),
        }
    }

    /// What is told of the trail passes the kerb by: records from before go from the final checks to the trail.
    fn past_the_kerb(&mut self) -> Result<(), Refusal> {
        if self.step == Step::KerbDrop { self.enter(Step::TrailCheck) } else { Ok(()) }
    }

    fn ridden(&mut self, ride: &RideTold) -> Result<(), Refusal> {
        let stroke = self.setup_known()?.shock.stroke;
        ride.deepest.map_or(Ok(()), |deepest| check_reading(deepest, stroke))?;
        self.rides.push(ride.clone());
        Ok(())
    }

    pub(super) fn setup_known(&self) -> Result<&Setup, Refusal> {
        self.setup.as_ref().ok_or(self.elsewhere())
    }

    /// The cautions that every record has before a deed of the step; new deeds need more of them (`rules`).
    fn cautions_first(&self) -> Result<(), Refusal> {
        let mut open = self.cautions_here().filter(|caution| caution.is_in_every_record());
        let open = open.find(|caution| !self.cautions.settled(*caution));
        open.map_or(Ok(()), |caution| Err(Refusal::CautionFirst(caution)))
    }

    /// A closed session takes what concerns the customer, a note, and what the trail told later.
    fn take_after_closing(&mut self, deed: &Deed) -> Result<(), Refusal> {
        match deed {
            Deed::Noted(_) => Ok(()),
            Deed::Entered(detail @ (Detail::Customer(_) | Detail::BikeName(_) | Detail::Notes(_))) => {
                self.correct(detail)
            }
            Deed::TrailRidden { .. } => {
                self.hear_the_trail(deed);
                Ok(())
            }
            _ => Err(Refusal::SessionClosed),
        }
    }

    fn hear_the_trail(&mut self, deed: &Deed) {
        if let Deed::TrailRidden { bottoming, ride_height, feel, note } = deed {
            let (bottoming, ride_height, feel, note) = (*bottoming, *ride_height, *feel, note.clone());
            self.trail.push(TrailReport { bottoming, ride_height, feel, note });
        }
    }

    fn need_seen(&self, cautions: &[Caution]) -> Result<(), Refusal> {
        let open = cautions.iter().find(|caution| !self.cautions.ever.contains(caution));
        open.map_or(Ok(()), |caution| Err(Refusal::CautionFirst(*caution)))
    }

    pub(super) fn need_reading(&self) -> Result<(), Refusal> {
        let any = self.present_set().is_some_and(|set| set.counting().next().is_some());
        if any { Ok(()) } else { Err(Refusal::NoReadingYet) }
    }

    fn finish_intake(&mut self) -> Result<(), Refusal> {
        self.at(&[Step::Intake])?;
        let setup =
            self.entered.complete().ok_or_else(|| Refusal::IntakeIncomplete(self.entered.missing()))?;
        self.on_bike.fitted = self.entered.spring_on_arrival;
        self.setup = Some(setup);
        self.enter(Step::BenchCheck)
    }

    fn correct(&mut self, detail: &Detail) -> Result<(), Refusal> {
        let came_with = self.entered.spring_on_arrival;
        self.entered.enter(detail.clone())?;
        self.correct_first_spring(came_with)?;
        let planned = if let Plan::Spring(number) = self.plan { Some(number) } else { None };
        let used = self.sets.iter().map(|set| set.spring).chain(self.on_bike.fitted).chain(planned);
        for number in used {
            if !self.entered.springs.iter().any(|spring| spring.number == number) {
                return Err(Refusal::SpringInUse(number));
            }
        }
        let setup =
            self.entered.complete().ok_or_else(|| Refusal::IntakeIncomplete(self.entered.missing()))?;
        let readings =
            self.sets.iter().flat_map(|set| &set.readings).filter(|reading| reading.void.is_none());
        for reading in readings {
            check_reading(reading.distance, setup.shock.stroke)?;
        }
        self.setup = Some(setup);
        self.needed_again(detail)
    }

    /// A number of readings corrected while a set is open counts for that set too.
    fn needed_again(&mut self, detail: &Detail) -> Result<(), Refusal> {
        let Detail::ReadingsEach(count) = detail else { return Ok(()) };
        let open = matches!(self.step, Step::SeatIndicator | Step::SeatedReading);
        let Some(set) = self.sets.last_mut().filter(|_| open) else { return Ok(()) };
        set.needed = usize::from(*count);
        if set.counting().count() >= set.needed { self.enter(Step::Decision) } else { Ok(()) }
    }

    /// Puts the spring the bike came with right where it was reckoned with: on the bike, if it is there still, and in
    /// the sets read with it.
    fn correct_first_spring(&mut self, came_with: Option<SpringNumber>) -> Result<(), Refusal> {
        let entered = self.entered.spring_on_arrival;
        if entered == came_with {
            return Ok(());
        }
        if self.step == Step::BenchCheck {
            self.on_bike.fitted = entered;
            return Ok(());
        }
        let came_with = came_with.ok_or(self.elsewhere())?;
        let entered = entered.ok_or(Refusal::SpringInUse(came_with))?;
        for set in self.sets.iter_mut().take_while(|set| set.spring == came_with) {
            set.spring = entered;
        }
        if self.on_bike.swaps == 0 {
            self.on_bike.fitted = Some(entered);
        }
        Ok(())
    }

    fn acknowledge(&mut self, caution: Caution) -> Result<(), Refusal> {
        // In a record from before, the first ride alone was read, and that at the trail check.
        if caution == Caution::FirstRide && !self.cautions.ever.contains(&Caution::KerbDrop) {
            self.past_the_kerb()?;
        }
        for seen in [&mut self.cautions.ever, &mut self.cautions.this_visit] {
            if !seen.contains(&caution) {
                seen.push(caution);
            }
        }
        if let Some(stage) = self.step.stage() {
            let hazards = self.hazards().into_iter();
            let read = hazards.filter(|hazard| hazard.caution() == caution).map(|hazard| (hazard, stage));
            self.cautions.hazards.extend(read);
        }
        Ok(())
    }

    fn tick(&mut self, check: Check, how: TickAnswer) -> Result<(), Refusal> {
        let next = self.next_check().ok_or(self.elsewhere())?;
        self.cautions_first()?;
        if check != next {
            return Err(if self.step.checks().contains(&check) {
                Refusal::CheckFirst(next)
            } else {
                self.elsewhere()
            });
        }
        if how == TickAnswer::HasNone && !check.may_be_absent() {
            return Err(Refusal::EveryBikeHasIt(check));
        }
        if let (Check::SpringExchanged, Plan::Spring(number)) = (check, self.plan) {
            // The rack may have been corrected since the spring was chosen.
            self.can_fit(number, Turns::ZERO)?;
            self.fit(number);
        }
        self.answer(check, CheckAnswer::How(how))
    }

    fn skip(&mut self, because: &FreeText) -> Result<(), Refusal> {
        if because.is_empty() {
            return Err(Refusal::ReasonNeeded);
        }
        if matches!(self.step, Step::KerbDrop | Step::TrailCheck) {
            return self.enter(Step::AfterTrail);
        }
        let check = self.next_check().ok_or(Refusal::StepCannotBeSkipped(self.step))?;
        self.cautions_first()?;
        if check.guards_from_harm() {
            return Err(Refusal::CannotBeSkipped(check));
        }
        self.answer(check, CheckAnswer::Skipped(because.clone()))
    }

    fn answer(&mut self, check: Check, ticked: CheckAnswer) -> Result<(), Refusal> {
        self.ticks.push((check, ticked));
        if self.next_check().is_some() {
            return Ok(());
        }
        match self.step {
            Step::BenchCheck => {
                self.on_bike.bench_check = BenchCheckState::Walked;
                self.enter(if self.on_bike.fitted.is_some() { Step::Unload } else { Step::Decision })
            }
            Step::Swap => self.enter(Step::Unload),
            _ => {
                self.kerb.clear();
                self.enter(Step::KerbDrop)
            }
        }
    }

    fn fit(&mut self, number: SpringNumber) {
        self.on_bike.swaps += u16::from(self.on_bike.fitted.is_some());
        self.on_bike.fitted = Some(number);
        // Before it went on, the caution that it may bind asked for its stroke.
        let unknown = self.hazards().into_iter().filter(|hazard| !hazard.forbids_riding());
        let asked: Vec<_> = unknown.map(|hazard| (hazard, Stage::Measuring)).collect();
        self.cautions.hazards.extend(asked);
    }

    pub(super) fn begin_set(&mut self, preload_turns: Turns) -> Result<(), Refusal> {
        Figure::PreloadTurns.check(Quantity::Turns(preload_turns))?;
        let spring = self.on_bike.fitted.ok_or(self.elsewhere())?;
        let needed = self.setup_known()?.readings_wanted(self.sets.len());
        let (mounting, how) = (self.on_bike.mountings, self.how);
        let readings = Vec::new();
        self.sets.push(ReadingSet { spring, mounting, how, gap: None, preload_turns, needed, readings });
        self.enter(Step::SeatIndicator)
    }

    fn decide(&mut self, decision: Decision) -> Result<(), Refusal> {
        if decision == Decision::AnotherRound {
            self.at(&[Step::AfterTrail])?;
            return self.enter(Step::Decision);
        }
        self.at(&[Step::Decision])?;
        match decision {
            Decision::Swap { to } => {
                self.can_fit(to, Turns::ZERO)?;
                self.plan = Plan::Spring(to);
                self.enter(Step::Swap)
            }
            Decision::SetPreload { to } => {
                self.need_reading()?;
                self.can_stand_at(to)?;
                self.plan = Plan::Collar(to);
                self.enter(Step::SetPreload)
            }
            Decision::ReadAgain => {
                let set = self.sets.last_mut().ok_or(Refusal::NoReadingYet)?;
                set.needed = set.counting().count() + 1;
                self.enter(Step::SeatIndicator)
            }
            Decision::Keep | Decision::AnotherRound => {
                self.need_reading()?;
                self.enter(Step::FinalChecks)
            }
        }
    }

    fn trim(&mut self, preload_turns: Turns) -> Result<(), Refusal> {
        if self.step != Step::SetPreload {
            self.at(&MEASURING)?;
        }
        self.can_stand_at(preload_turns)?;
        self.begin_set(preload_turns)
    }

    fn refit(&mut self, spring: SpringNumber, preload_turns: Turns) -> Result<(), Refusal> {
        self.at(&MEASURING)?;
        self.can_fit(spring, preload_turns)?;
        let stroke_known = self.setup_known()?.spring(spring).is_some_and(|spring| spring.stroke.is_some());
        let binding = (!stroke_known).then_some(Caution::SpringBinds);
        for caution in [Caution::LoadedSpring, Caution::LooseBolts].into_iter().chain(binding) {
            if !self.cautions.settled(caution) {
                return Err(Refusal::CautionFirst(caution));
            }
        }
        self.fit(spring);
        self.can_stand_at(preload_turns)?;
        self.on_bike.mountings += 1;
        self.begin_set(preload_turns)
    }

    fn open_trials(&mut self, preload_turns: Turns) -> Result<(), Refusal> {
        self.at(&[Step::BenchCheck, Step::Unload])?;
        self.need_seen(&[Caution::BikeSteady, Caution::LooseCollar])?;
        if self.on_bike.bench_check == BenchCheckState::NotYet {
            self.on_bike.bench_check = BenchCheckState::LeftToRider;
        }
        if self.on_bike.fitted.is_none() {
            return self.enter(Step::Decision);
        }
        self.on_bike.mountings += 1;
        self.begin_set(preload_turns)
    }
}
