//! The fold itself: which entries are in effect, and what undoing, redoing and starting anew make of them.
//!
//! Every change is remembered with what it takes to go back on it. Not here: what a single deed does (`transition`).

use super::{MOST_ENTRIES, transition};
use crate::session::entry::{Decision, Deed, Entry, ReadingNumber, Record};
use crate::session::refusal::Refusal;
use crate::session::state::State;
use crate::session::step::Step;

/// A record half folded.
pub(super) struct Fold<'a> {
    record: &'a Record,
    /// Places of the entries in effect, in order.
    pub(super) effective: Vec<usize>,
    /// What they come to.
    pub(super) state: State,
    readings: u16,
    /// What moved the work, in order, to be undone.
    done: Vec<Change>,
    /// What was undone since, to be done again.
    undone: Vec<Undone>,
}

/// Something that moved the work.
enum Change {
    /// The entry at this place.
    Entry(usize),
    /// A start anew, with what was in effect before it.
    Anew(Vec<usize>),
}

/// A change that was undone, with what was in effect before that.
struct Undone {
    change: Change,
    effective: Vec<usize>,
}

impl<'a> Fold<'a> {
    /// Nothing done yet.
    pub(super) fn opening(record: &'a Record) -> Self {
        let state = State::opening(&record.intake);
        Self { record, effective: Vec::new(), state, readings: 0, done: Vec::new(), undone: Vec::new() }
    }

    /// Takes the entry at this place in.
    pub(super) fn take(&mut self, index: usize) -> Result<(), Refusal> {
        if index >= MOST_ENTRIES {
            return Err(Refusal::RecordFull);
        }
        match self.deed(index) {
            Deed::TakenBack => self.take_back(),
            Deed::StartedAgain => self.start_again(),
            Deed::Undone => self.undo(),
            Deed::Redone => self.redo(),
            _ => self.take_deed(index),
        }
    }

    fn take_deed(&mut self, index: usize) -> Result<(), Refusal> {
        let deed = self.deed(index);
        // A reading keeps its number even when it is taken back, so that a void never changes its target.
        self.readings += u16::from(deed.is_reading());
        self.apply(index, ReadingNumber(self.readings))?;
        self.effective.push(index);
        if moves_the_work(deed) {
            self.done.push(Change::Entry(index));
            self.undone.clear();
        }
        Ok(())
    }

    fn apply(&mut self, index: usize, number: ReadingNumber) -> Result<(), Refusal> {
        let entry = &self.record.entries[index];
        transition::apply(&mut self.state, &entry.deed, entry.at, number)
    }

    /// Undoes the last change; what a start anew set aside comes back. Notes made since stay.
    fn undo(&mut self) -> Result<(), Refusal> {
        let effective = self.effective.clone();
        match self.done.pop() {
            Some(Change::Entry(index)) if *self.deed(index) != Deed::IntakeDone => {
                self.fold_again(self.without(index))?;
                self.undone.push(Undone { change: Change::Entry(index), effective });
            }
            Some(Change::Anew(before)) => {
                self.fold_again(self.with_notes_since(before.clone()))?;
                self.undone.push(Undone { change: Change::Anew(before), effective });
            }
            first => {
                self.done.extend(first);
                return Err(Refusal::NothingToUndo);
            }
        }
        Ok(())
    }

    /// Does again what was undone last.
    fn redo(&mut self) -> Result<(), Refusal> {
        let Undone { change, effective } = self.undone.pop().ok_or(Refusal::NothingToRedo)?;
        self.fold_again(self.with_notes_since(effective))?;
        self.done.push(change);
        Ok(())
    }

    /// Takes back the last deed in effect that moved the work on, with the cautions acknowledged after it: what `Back`
    /// means in a record, a start anew passed over.
    fn take_back(&mut self) -> Result<(), Refusal> {
        let last = self.effective.iter().copied().rev().find(|&index| moves_the_work(self.deed(index)));
        let last = last.filter(|&index| *self.deed(index) != Deed::IntakeDone);
        let last = last.ok_or(Refusal::NothingToUndo)?;
        while self.done.pop().is_some_and(|change| !matches!(change, Change::Entry(index) if index == last)) {
        }
        self.undone.clear();
        self.fold_again(self.without(last))
    }

    /// What is in effect without this entry and the cautions acknowledged after it.
    fn without(&self, last: usize) -> Vec<usize> {
        let stays = |index: &usize| *index < last || (*index > last && self.is_note(*index));
        self.effective.iter().copied().filter(stays).collect()
    }

    /// These entries, and the notes in effect that came later.
    fn with_notes_since(&self, mut entries: Vec<usize>) -> Vec<usize> {
        let last = entries.last().copied();
        let later = |index: &usize| last.is_none_or(|last| *index > last) && self.is_note(*index);
        entries.extend(self.effective.iter().copied().filter(later));
        entries
    }

    fn is_note(&self, index: usize) -> bool {
        matches!(self.deed(index), Deed::Noted(_))
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
        self.done.push(Change::Anew(self.effective.clone()));
        self.undone.clear();
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

    fn deed(&self, index: usize) -> &'a Deed {
        &self.record.entries[index].deed
    }
}

fn count_readings(entries: &[Entry]) -> u16 {
    entries.iter().map(|entry| u16::from(entry.deed.is_reading())).sum()
}

fn moves_the_work(deed: &Deed) -> bool {
    !matches!(deed, Deed::CautionSeen(_) | Deed::Noted(_))
}

fn is_tick(deed: &Deed) -> bool {
    matches!(deed, Deed::Ticked(..) | Deed::Skipped { .. } | Deed::CautionSeen(_))
}

fn is_reading_work(deed: &Deed) -> bool {
    deed.is_reading()
        || matches!(
            deed,
            Deed::IndicatorSeated
                | Deed::GapLookedFor(_)
                | Deed::Risen { .. }
                | Deed::EnoughReadings
                | Deed::Decided(Decision::ReadAgain)
                | Deed::Voided { .. }
                | Deed::CautionSeen(_)
        )
}
