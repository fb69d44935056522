//! What deeds do to the readings of a set: one taken, one voided, one let rise from below, another way of reading.
//!
//! Not here: where a set begins and ends (`transition`).

use super::transition::MEASURING;
use crate::session::condition::{Condition, ConditionNumber};
use crate::session::entry::{Gap, ReadingNumber};
use crate::session::limits::{Figure, check_reading};
use crate::session::refusal::Refusal;
use crate::session::state::{ReadHow, Reading, State};
use crate::session::step::Step;
use crate::text::FreeText;
use crate::units::{Length, Quantity};

impl State {
    pub(super) fn read(&mut self, reading: Reading) -> Result<(), Refusal> {
        check_reading(reading.distance, self.setup_known()?.shock.stroke)?;
        let verdict = self.step == Step::Decision;
        self.present_set().ok_or(self.elsewhere())?;
        let Some(set) = self.sets.last_mut() else { return Err(Refusal::NoReadingYet) };
        set.readings.push(reading);
        let enough = set.counting().count() >= set.needed;
        match (verdict || enough, self.step) {
            (true, Step::Decision) => Ok(()),
            (true, _) => self.enter(Step::Decision),
            (false, _) => self.enter(Step::SeatIndicator),
        }
    }

    /// Another way of reading begins a set of its own, of the same mounting; a set without readings takes it over.
    pub(super) fn read_how(&mut self, how: ReadHow) -> Result<(), Refusal> {
        let changed = self.how != how;
        self.how = how;
        let measuring = MEASURING.contains(&self.step) && self.present_set().is_some();
        let Some(set) = self.sets.last_mut().filter(|_| measuring && changed) else { return Ok(()) };
        if set.readings.is_empty() {
            set.how = how;
            return Ok(());
        }
        let preload_turns = set.preload_turns;
        self.begin_set(preload_turns)
    }

    /// Readings under another condition are a set of their own, as those read in another way are.
    pub(super) fn read_under(&mut self, condition: Option<&Condition>) -> Result<(), Refusal> {
        let number = match condition {
            None => ConditionNumber::AS_ENTERED,
            Some(condition) => {
                if let Some(rider) = condition.rider {
                    Figure::Rider.check(Quantity::Mass(rider))?;
                }
                ConditionNumber::of(condition, &mut self.conditions).ok_or(Refusal::ConditionsFull)?
            }
        };
        self.read_how(ReadHow { condition: number, ..self.how })
    }

    pub(super) fn gap_looked_for(&mut self, gap: Gap) -> Result<(), Refusal> {
        self.at(&MEASURING)?;
        self.need_reading()?;
        if let Some(set) = self.sets.last_mut() {
            set.gap = Some(gap);
        }
        Ok(())
    }

    pub(super) fn let_rise(&mut self, reading: Length) -> Result<(), Refusal> {
        self.at(&MEASURING)?;
        self.need_reading()?;
        check_reading(reading, self.setup_known()?.shock.stroke)?;
        let readings = self.sets.last_mut().map(|set| set.readings.iter_mut().rev());
        let last = readings.and_then(|mut readings| readings.find(|reading| reading.void.is_none()));
        last.ok_or(Refusal::NoReadingYet)?.risen = Some(reading);
        Ok(())
    }

    pub(super) fn void(&mut self, number: ReadingNumber, because: &FreeText) -> Result<(), Refusal> {
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
        let short = self.present_set().is_some_and(|set| set.counting().count() < set.needed);
        if self.step == Step::Decision && short {
            return self.enter(Step::SeatIndicator);
        }
        Ok(())
    }
}
