//! The walk as a pure fold over the entries of a record.
//!
//! [`replay`] folds a record to its state; [`advance`] adds one deed or refuses it. Taking back and starting anew are
//! deeds that leave the earlier ones in the record and out of the state: the fold keeps the list of entries in effect
//! as a stack and folds it again when one is taken off. What each single deed does is in `transition`.

mod transition;

use super::entry::{Deed, Entry, ReadingNumber, Record, Stamp};
use super::intake::Detail;
use super::refusal::Refusal;
use super::state::State;
use super::step::Step;

/// The most entries one record holds: far beyond a long day, small enough to stay quick.
pub const MOST_ENTRIES: usize = 4_000;

/// An entry of a stored record that does not fit the walk at its place: the file was changed by hand or is damaged.
#[derive(Debug, Clone, PartialEq)]
pub struct EntryMisfit {
    /// Its place among the entries, from one.
    pub entry: usize,
    /// Why it does not fit.
    pub refusal: Refusal,
}

/// Folds a record to the state of its walk.
///
/// # Errors
/// With the first entry that does not belong where it stands.
pub fn replay(record: &Record) -> Result<State, EntryMisfit> {
    let mut fold = Fold::opening(record);
    for index in 0..record.entries.len() {
        fold.take(index).map_err(|refusal| EntryMisfit { entry: index + 1, refusal })?;
    }
    Ok(fold.state)
}

/// Adds one deed to a record, at the given moment, if it is legal now.
///
/// # Errors
/// When the deed does not belong to the present step or its figures are impossible; the record is untouched then.
pub fn advance(record: &mut Record, at: Stamp, deed: Deed) -> Result<State, Refusal> {
    record.entries.push(Entry { at, deed });
    replay(record).map_err(|misfit| {
        record.entries.pop();
        misfit.refusal
    })
}

/// Takes a detail into the record: straight into the intake while it is open, as a [`Deed::Entered`] afterwards.
///
/// # Errors
/// When the detail is impossible; the record is untouched then.
pub fn enter(record: &mut Record, at: Stamp, detail: Detail) -> Result<State, Refusal> {
    if record.entries.iter().any(|entry| entry.deed == Deed::IntakeDone) {
        return advance(record, at, Deed::Entered(detail));
    }
    record.intake.enter(detail)?;
    replay(record).map_err(|misfit| misfit.refusal)
}

/// Places of the entries that are in effect, in order: those not taken back. For showing the walk as it was gone.
pub fn in_effect(record: &Record) -> Vec<usize> {
    let mut fold = Fold::opening(record);
    for index in 0..record.entries.len() {
        if fold.take(index).is_err() {
            break;
        }
    }
    fold.effective
}

struct Fold<'a> {
    record: &'a Record,
    effective: Vec<usize>,
    state: State,
    readings: u16,
}

impl<'a> Fold<'a> {
    fn opening(record: &'a Record) -> Self {
        Self { record, effective: Vec::new(), state: State::opening(&record.intake), readings: 0 }
    }

    fn take(&mut self, index: usize) -> Result<(), Refusal> {
        if index >= MOST_ENTRIES {
            return Err(Refusal::RecordFull);
        }
        match &self.record.entries[index].deed {
            Deed::Undone => self.undo(),
            Deed::StartedAgain => self.start_again(),
            deed => {
                // A reading keeps its number even when it is taken back, so that a void never changes its target.
                self.readings += u16::from(is_reading(deed));
                self.apply(index, ReadingNumber(self.readings))?;
                self.effective.push(index);
                Ok(())
            }
        }
    }

    fn apply(&mut self, index: usize, number: ReadingNumber) -> Result<(), Refusal> {
        let entry = &self.record.entries[index];
        transition::apply(&mut self.state, &entry.deed, entry.at, number)
    }

    /// Takes back the last deed that moved the work on, with the cautions acknowledged after it.
    fn undo(&mut self) -> Result<(), Refusal> {
        let last = self.effective.iter().rposition(|&index| moves_the_work(self.deed(index)));
        let last = last.ok_or(Refusal::NothingToUndo)?;
        if *self.deed(self.effective[last]) == Deed::IntakeDone {
            return Err(Refusal::NothingToUndo);
        }
        let record = self.record;
        let kept = |place: usize, index: usize| {
            place < last || (place > last && matches!(record.entries[index].deed, Deed::Noted(_)))
        };
        let placed = self.effective.iter().copied().enumerate();
        let remaining = placed.filter(|&(place, index)| kept(place, index)).map(|(_, index)| index).collect();
        self.fold_again(remaining)
    }

    /// Takes back what belongs to the present step: the ticks of a list, or the readings of the present set.
    fn start_again(&mut self) -> Result<(), Refusal> {
        let listed = !self.state.step.checks().is_empty();
        let reading = matches!(self.state.step, Step::SeatIndicator | Step::SeatedReading | Step::Decision);
        if !listed && !reading {
            return Err(Refusal::NothingToUndo);
        }
        let within = |deed: &Deed| if listed { is_tick(deed) } else { is_reading_work(deed) };
        let earlier: Vec<_> = self
            .state
            .sets
            .iter()
            .rev()
            .skip(1)
            .flat_map(|set| &set.readings)
            .map(|read| read.number)
            .collect();
        let kept_on_the_way = |deed: &Deed| match deed {
            Deed::Noted(_) | Deed::Entered(_) | Deed::AsFound(_) | Deed::AsLeft(_) | Deed::RideTold(_) => {
                true
            }
            // A void of a reading that stays has nothing to do with what is started anew.
            Deed::Voided { reading, .. } => listed || earlier.contains(reading),
            _ => false,
        };
        let taken = |deed: &Deed| within(deed) && !kept_on_the_way(deed);
        let start = self.effective.iter().rposition(|&index| {
            let deed = self.deed(index);
            !within(deed) && !kept_on_the_way(deed)
        });
        let start = start.map_or(0, |place| place + 1);
        if !self.effective[start..].iter().any(|&index| taken(self.deed(index))) {
            return Err(Refusal::NothingToUndo);
        }
        let record = self.record;
        let placed = self.effective.iter().copied().enumerate();
        let remaining = placed
            .filter(|&(place, index)| place < start || kept_on_the_way(&record.entries[index].deed))
            .map(|(_, index)| index)
            .collect();
        self.fold_again(remaining)
    }

    fn fold_again(&mut self, effective: Vec<usize>) -> Result<(), Refusal> {
        self.state = State::opening(&self.record.intake);
        let mut number = 0;
        let mut next = 0;
        for &index in &effective {
            number += count_readings(&self.record.entries[next..=index]);
            next = index + 1;
            self.apply(index, ReadingNumber(number))?;
        }
        self.effective = effective;
        Ok(())
    }

    fn deed(&self, index: usize) -> &Deed {
        &self.record.entries[index].deed
    }
}

fn is_reading(deed: &Deed) -> bool {
    matches!(deed, Deed::Read { .. } | Deed::Trial { .. })
}

fn count_readings(entries: &[Entry]) -> u16 {
    entries.iter().map(|entry| u16::from(is_reading(&entry.deed))).sum()
}

fn moves_the_work(deed: &Deed) -> bool {
    !matches!(deed, Deed::CautionSeen(_) | Deed::Noted(_))
}

fn is_tick(deed: &Deed) -> bool {
    matches!(deed, Deed::Ticked(..) | Deed::Skipped { .. } | Deed::CautionSeen(_))
}

fn is_reading_work(deed: &Deed) -> bool {
    use super::entry::Decision;
    is_reading(deed)
        || matches!(
            deed,
            Deed::IndicatorSeated
                | Deed::EnoughReadings
                | Deed::Decided(Decision::ReadAgain)
                | Deed::Voided { .. }
                | Deed::CautionSeen(_)
        )
}
