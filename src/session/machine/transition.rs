//! What each deed does to the state, and why it may be refused. Taking back is in `machine`.

use crate::session::entry::{Decision, Deed, ReadingNumber, Stamp, TickedHow, TrailReport};
use crate::session::intake::{Detail, Setup, SpringNumber};
use crate::session::limits::{Field, check_reading};
use crate::session::refusal::Refusal;
use crate::session::state::{BenchCheckDone, Reading, ReadingSet, State, Ticked};
use crate::session::step::{Caution, Check, Planned, Step};
use crate::text::FreeText;
use crate::units::{Quantity, Turns};

/// Applies one deed; on refusal the state may be half changed and must be thrown away.
pub(super) fn apply(state: &mut State, deed: &Deed, at: Stamp, number: ReadingNumber) -> Result<(), Refusal> {
    if state.step == Step::Closed {
        return Err(Refusal::SessionClosed);
    }
    match deed {
        Deed::IntakeDone => state.finish_intake(),
        Deed::Noted(_) => Ok(()),
        _ if state.step == Step::Intake => Err(state.elsewhere()),
        Deed::Told(detail) => state.correct(detail),
        Deed::CautionSeen(caution) => state.acknowledge(*caution),
        Deed::Ticked(check, how) => state.tick(*check, *how),
        Deed::Skipped { because } => state.skip(because),
        Deed::Voided { reading, because } => state.void(*reading, because),
        Deed::Decided(decision) => state.decide(*decision),
        Deed::TrailRidden { bottoming, ride_height, feel, note } => {
            state.at(&[Step::TrailCheck])?;
            state.cautions_first()?;
            let (bottoming, ride_height, feel, note) = (*bottoming, *ride_height, *feel, note.clone());
            state.trail.push(TrailReport { bottoming, ride_height, feel, note });
            state.enter(Step::AfterTrail)
        }
        Deed::Closed => {
            state.at(&[Step::AfterTrail])?;
            state.enter(Step::Closed)
        }
        Deed::Back | Deed::Redo => Err(Refusal::NothingToTakeBack),
        _ => apply_measuring(state, deed, at, number),
    }
}

fn apply_measuring(state: &mut State, deed: &Deed, at: Stamp, number: ReadingNumber) -> Result<(), Refusal> {
    match *deed {
        Deed::Unloaded { past_contact } => {
            state.at(&[Step::Unload])?;
            state.cautions_first()?;
            state.begin_set(past_contact)
        }
        Deed::IndicatorSeated => {
            state.at(&[Step::SeatIndicator])?;
            state.cautions_first()?;
            state.enter(Step::SeatedReading)
        }
        Deed::Read { moved } => {
            state.at(&[Step::SeatedReading])?;
            state.cautions_first()?;
            state.read(Reading { number, at, moved, void: None })
        }
        Deed::Trial { moved } => {
            state.at(&MEASURING)?;
            state.need_seen(&[Caution::ShaftScratch, Caution::SitGently])?;
            state.read(Reading { number, at, moved, void: None })
        }
        Deed::EnoughReadings => {
            state.at(&[Step::SeatIndicator, Step::SeatedReading])?;
            state.need_reading()?;
            state.enter(Step::Verdict)
        }
        Deed::Trimmed { past_contact } => state.trim(past_contact),
        Deed::Refitted { spring, past_contact } => state.refit(spring, past_contact),
        Deed::TrialsOpened { past_contact } => state.open_trials(past_contact),
        _ => Err(state.elsewhere()),
    }
}

const MEASURING: [Step; 3] = [Step::SeatIndicator, Step::SeatedReading, Step::Verdict];

impl State {
    fn elsewhere(&self) -> Refusal {
        Refusal::NotAtThisStep { step: self.step }
    }

    fn at(&self, steps: &[Step]) -> Result<(), Refusal> {
        if steps.contains(&self.step) { Ok(()) } else { Err(self.elsewhere()) }
    }

    #[expect(clippy::unnecessary_wraps, reason = "the last word of most deeds, which answer with a result")]
    fn enter(&mut self, step: Step) -> Result<(), Refusal> {
        self.step = step;
        self.ticks.clear();
        self.cautions.this_visit.clear();
        if !matches!(step, Step::Swap | Step::Trim) {
            self.planned = Planned::Nothing;
        }
        Ok(())
    }

    fn setup_known(&self) -> Result<&Setup, Refusal> {
        self.setup.as_ref().ok_or(self.elsewhere())
    }

    fn cautions_first(&self) -> Result<(), Refusal> {
        self.pending_caution().map_or(Ok(()), |caution| Err(Refusal::CautionFirst(caution)))
    }

    fn need_seen(&self, cautions: &[Caution]) -> Result<(), Refusal> {
        let open = cautions.iter().find(|caution| !self.cautions.ever.contains(caution));
        open.map_or(Ok(()), |caution| Err(Refusal::CautionFirst(*caution)))
    }

    fn need_reading(&self) -> Result<(), Refusal> {
        let any = self.present_set().is_some_and(|set| set.counting().next().is_some());
        if any { Ok(()) } else { Err(Refusal::NoReadingYet) }
    }

    fn finish_intake(&mut self) -> Result<(), Refusal> {
        self.at(&[Step::Intake])?;
        let setup = self.told.complete().ok_or_else(|| Refusal::IntakeIncomplete(self.told.missing()))?;
        self.bench.fitted = self.told.fitted;
        self.setup = Some(setup);
        self.enter(Step::BenchCheck)
    }

    fn correct(&mut self, detail: &Detail) -> Result<(), Refusal> {
        let came_with = self.told.fitted;
        self.told.tell(detail.clone())?;
        self.correct_first_spring(came_with)?;
        let planned = if let Planned::Spring(number) = self.planned { Some(number) } else { None };
        let used = self.sets.iter().map(|set| set.spring).chain(self.bench.fitted).chain(planned);
        for number in used {
            if !self.told.rack.iter().any(|spring| spring.number == number) {
                return Err(Refusal::SpringInUse(number));
            }
        }
        let setup = self.told.complete().ok_or_else(|| Refusal::IntakeIncomplete(self.told.missing()))?;
        let readings =
            self.sets.iter().flat_map(|set| &set.readings).filter(|reading| reading.void.is_none());
        for reading in readings {
            check_reading(reading.moved, setup.shock.stroke)?;
        }
        self.setup = Some(setup);
        self.wanted_anew(detail)
    }

    /// A number of readings corrected while a set is open counts for that set too.
    fn wanted_anew(&mut self, detail: &Detail) -> Result<(), Refusal> {
        let Detail::ReadingsWanted(count) = detail else { return Ok(()) };
        let open = matches!(self.step, Step::SeatIndicator | Step::SeatedReading);
        let Some(set) = self.sets.last_mut().filter(|_| open) else { return Ok(()) };
        set.wanted = usize::from(*count);
        if set.counting().count() >= set.wanted { self.enter(Step::Verdict) } else { Ok(()) }
    }

    /// Puts the spring the bike came with right where it was reckoned with: on the bike, if it is there still, and in
    /// the sets read with it.
    fn correct_first_spring(&mut self, came_with: Option<SpringNumber>) -> Result<(), Refusal> {
        let told = self.told.fitted;
        if told == came_with {
            return Ok(());
        }
        if self.step == Step::BenchCheck {
            self.bench.fitted = told;
            return Ok(());
        }
        let came_with = came_with.ok_or(self.elsewhere())?;
        let told = told.ok_or(Refusal::SpringInUse(came_with))?;
        for set in self.sets.iter_mut().take_while(|set| set.spring == came_with) {
            set.spring = told;
        }
        if self.bench.swaps == 0 {
            self.bench.fitted = Some(told);
        }
        Ok(())
    }

    #[expect(clippy::unnecessary_wraps, reason = "every deed answers alike")]
    fn acknowledge(&mut self, caution: Caution) -> Result<(), Refusal> {
        for seen in [&mut self.cautions.ever, &mut self.cautions.this_visit] {
            if !seen.contains(&caution) {
                seen.push(caution);
            }
        }
        Ok(())
    }

    fn tick(&mut self, check: Check, how: TickedHow) -> Result<(), Refusal> {
        let next = self.next_check().ok_or(self.elsewhere())?;
        self.cautions_first()?;
        if check != next {
            return Err(if self.step.checks().contains(&check) {
                Refusal::CheckFirst(next)
            } else {
                self.elsewhere()
            });
        }
        if how == TickedHow::HasNone && !check.may_be_absent() {
            return Err(Refusal::EveryBikeHasIt(check));
        }
        if let (Check::SpringExchanged, Planned::Spring(number)) = (check, self.planned) {
            // The rack may have been corrected since the spring was chosen.
            self.can_fit(number, Turns::ZERO)?;
            self.fit(number);
        }
        self.answer(check, Ticked::How(how))
    }

    fn skip(&mut self, because: &FreeText) -> Result<(), Refusal> {
        if because.is_empty() {
            return Err(Refusal::ReasonNeeded);
        }
        if self.step == Step::TrailCheck {
            return self.enter(Step::AfterTrail);
        }
        let check = self.next_check().ok_or(Refusal::StepCannotBeSkipped(self.step))?;
        self.cautions_first()?;
        if check.guards_from_harm() {
            return Err(Refusal::CannotBeSkipped(check));
        }
        self.answer(check, Ticked::Skipped(because.clone()))
    }

    fn answer(&mut self, check: Check, ticked: Ticked) -> Result<(), Refusal> {
        self.ticks.push((check, ticked));
        if self.next_check().is_some() {
            return Ok(());
        }
        match self.step {
            Step::BenchCheck => {
                self.bench.bench_check = BenchCheckDone::Walked;
                self.enter(if self.bench.fitted.is_some() { Step::Unload } else { Step::Verdict })
            }
            Step::Swap => self.enter(Step::Unload),
            _ => self.enter(Step::TrailCheck),
        }
    }

    fn fit(&mut self, number: SpringNumber) {
        self.bench.swaps += u16::from(self.bench.fitted.is_some());
        self.bench.fitted = Some(number);
    }

    fn begin_set(&mut self, past_contact: Turns) -> Result<(), Refusal> {
        Field::TurnsPastContact.check(Quantity::Turns(past_contact))?;
        let spring = self.bench.fitted.ok_or(self.elsewhere())?;
        let wanted = usize::from(self.setup_known()?.readings_wanted);
        self.sets.push(ReadingSet { spring, past_contact, wanted, readings: Vec::new() });
        self.enter(Step::SeatIndicator)
    }

    fn read(&mut self, reading: Reading) -> Result<(), Refusal> {
        check_reading(reading.moved, self.setup_known()?.shock.stroke)?;
        let verdict = self.step == Step::Verdict;
        self.present_set().ok_or(self.elsewhere())?;
        let Some(set) = self.sets.last_mut() else { return Err(Refusal::NoReadingYet) };
        set.readings.push(reading);
        let enough = set.counting().count() >= set.wanted;
        match (verdict || enough, self.step) {
            (true, Step::Verdict) => Ok(()),
            (true, _) => self.enter(Step::Verdict),
            (false, _) => self.enter(Step::SeatIndicator),
        }
    }

    fn void(&mut self, number: ReadingNumber, because: &FreeText) -> Result<(), Refusal> {
        if because.is_empty() {
            return Err(Refusal::ReasonNeeded);
        }
        let mut readings = self.sets.iter_mut().flat_map(|set| &mut set.readings);
        let reading =
            readings.find(|reading| reading.number == number).ok_or(Refusal::NoSuchReading(number))?;
        if reading.void.is_some() {
            return Err(Refusal::AlreadyVoid(number));
        }
        reading.void = Some(because.clone());
        let short = self.present_set().is_some_and(|set| set.counting().count() < set.wanted);
        if self.step == Step::Verdict && short {
            return self.enter(Step::SeatIndicator);
        }
        Ok(())
    }

    fn decide(&mut self, decision: Decision) -> Result<(), Refusal> {
        if decision == Decision::AnotherRound {
            self.at(&[Step::AfterTrail])?;
            return self.enter(Step::Verdict);
        }
        self.at(&[Step::Verdict])?;
        match decision {
            Decision::Swap { to } => {
                self.can_fit(to, Turns::ZERO)?;
                self.planned = Planned::Spring(to);
                self.enter(Step::Swap)
            }
            Decision::Trim { to } => {
                self.need_reading()?;
                self.can_stand_at(to)?;
                self.planned = Planned::Collar(to);
                self.enter(Step::Trim)
            }
            Decision::ReadAgain => {
                let set = self.sets.last_mut().ok_or(Refusal::NoReadingYet)?;
                set.wanted = set.counting().count() + 1;
                self.enter(Step::SeatIndicator)
            }
            Decision::Keep | Decision::AnotherRound => {
                self.need_reading()?;
                self.enter(Step::FinalChecks)
            }
        }
    }

    fn trim(&mut self, past_contact: Turns) -> Result<(), Refusal> {
        if self.step != Step::Trim {
            self.at(&MEASURING)?;
        }
        self.can_stand_at(past_contact)?;
        self.begin_set(past_contact)
    }

    fn refit(&mut self, spring: SpringNumber, past_contact: Turns) -> Result<(), Refusal> {
        self.at(&MEASURING)?;
        self.can_fit(spring, past_contact)?;
        let stroke_known = self.setup_known()?.spring(spring).is_some_and(|spring| spring.stroke.is_some());
        let binding = (!stroke_known).then_some(Caution::SpringBinds);
        for caution in [Caution::LoadedSpring, Caution::LooseBolts].into_iter().chain(binding) {
            if !self.cautions.this_visit.contains(&caution) {
                return Err(Refusal::CautionFirst(caution));
            }
        }
        self.fit(spring);
        self.can_stand_at(past_contact)?;
        self.begin_set(past_contact)
    }

    fn open_trials(&mut self, past_contact: Turns) -> Result<(), Refusal> {
        self.at(&[Step::BenchCheck, Step::Unload])?;
        self.need_seen(&[Caution::BikeSteady, Caution::LooseCollar])?;
        if self.bench.bench_check == BenchCheckDone::NotYet {
            self.bench.bench_check = BenchCheckDone::LeftToRider;
        }
        if self.bench.fitted.is_none() { self.enter(Step::Verdict) } else { self.begin_set(past_contact) }
    }

    fn can_fit(&self, number: SpringNumber, past_contact: Turns) -> Result<(), Refusal> {
        if self.bench.fitted == Some(number) {
            return Err(Refusal::AlreadyFitted(number));
        }
        let setup = self.setup_known()?;
        let spring = setup.spring(number).ok_or(Refusal::NoSuchSpring(number))?;
        if let (Some(bore), Some(body)) = (spring.bore, setup.shock.body_diameter)
            && bore < body
        {
            return Err(Refusal::TooNarrow { spring: number });
        }
        self.must_not_bind(number, past_contact)
    }

    fn can_stand_at(&self, past_contact: Turns) -> Result<(), Refusal> {
        Field::TurnsPastContact.check(Quantity::Turns(past_contact))?;
        let allowed = self.setup_known()?.shock.turns_allowed;
        if past_contact > allowed {
            return Err(Refusal::BeyondTurnsAllowed { asked: past_contact, allowed });
        }
        let fitted = self.bench.fitted.ok_or(self.elsewhere())?;
        self.must_not_bind(fitted, past_contact)
    }

    fn must_not_bind(&self, number: SpringNumber, past_contact: Turns) -> Result<(), Refusal> {
        let setup = self.setup_known()?;
        let needed = setup.shock.stroke + setup.shock.preload(past_contact);
        match setup.spring(number).and_then(|spring| spring.stroke) {
            Some(spring_stroke) if spring_stroke < needed => {
                Err(Refusal::WouldBind { spring: number, spring_stroke, needed })
            }
            _ => Ok(()),
        }
    }
}
