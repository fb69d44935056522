//! Two versions of one session brought together: what another computer recorded goes behind what was recorded here.
//!
//! Nothing of ours is moved, so the merged record carries ours on. Of the other version goes in what is in effect there and not
//! here yet, in its order and with its times; what cannot be vouched for, such as a reading taken while another spring may have
//! been on the bike, stays out and is listed. Not here: which file is the other version, and what becomes of it (`archive`).

use std::collections::{BTreeMap, BTreeSet};

use super::fold::Fold;
use super::{EntryMisfit, advance_by, in_effect, replay};
use crate::session::entry::{Decision, Deed, Entry, ReadingNumber, Record};
use crate::session::intake::{Detail, Fact, Intake, SpringNumber, Value};
use crate::session::refusal::Refusal;
use crate::session::state::{ReadingSet, State};
use crate::units::Turns;

/// What two versions come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Merged {
    /// Ours, and behind it what was taken over.
    pub record: Record,
    /// The entries taken over, in order.
    pub taken: Vec<Entry>,
    /// What the other version says and the merged record does not.
    pub left: Vec<NotTaken>,
}

/// An entry of the other version that was not taken over.
#[derive(Debug, Clone, PartialEq)]
pub struct NotTaken {
    /// The entry as it is there.
    pub entry: Entry,
    /// Why.
    pub because: WhyNotTaken,
}

/// Why an entry was not taken over.
#[derive(Debug, Clone, PartialEq)]
pub enum WhyNotTaken {
    /// By what is recorded here, another spring, collar, load or way of reading was in use: nobody can tell what was measured.
    OtherwiseOnBike,
    /// The same detail or sheet was entered here too, and that stays.
    EnteredHere,
    /// The reading it is about is not in the merged record.
    ReadingNotHere,
    /// The spring it names is another one in the list here, or the list was changed in both.
    OtherSprings,
    /// It was undone there and counts here.
    UndoneThere,
    /// It does not fit the step that was reached here.
    Refused(Refusal),
}

/// Why two versions cannot be brought together at all.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotMerge {
    /// They were opened at different moments, or one is a demonstration: not the same session.
    OtherSession,
    /// Details told at the start differ.
    OtherDetails(Vec<Fact>),
    /// An entry of one of them does not fit.
    Misfit(EntryMisfit),
}

/// Brings another version of a session together with ours.
///
/// # Errors
/// Where they are not versions of one session, or one of them cannot be followed.
pub fn merge(ours: &Record, theirs: &Record) -> Result<Merged, CannotMerge> {
    if ours.opened != theirs.opened || ours.intake.origin != theirs.intake.origin {
        return Err(CannotMerge::OtherSession);
    }
    let there = replay(theirs).map_err(CannotMerge::Misfit)?;
    let record = Record { intake: intake_of_both(ours, theirs)?, ..ours.clone() };
    let state = replay(&record).map_err(CannotMerge::Misfit)?;
    let mut elsewhere = BTreeSet::new();
    loop {
        let merging = Merging::of(ours, theirs, record.clone(), state.clone(), &elsewhere)?;
        // A correction can tell later what was on the bike all along, so what was taken is judged again by how it all ends.
        let strays = merging.strays(&there);
        if strays.is_empty() {
            return Ok(Merged { record: merging.record, taken: merging.taken, left: merging.left });
        }
        elsewhere.extend(strays);
    }
}

/// The details of both; once work has begun here, they have to be the same.
fn intake_of_both(ours: &Record, theirs: &Record) -> Result<Intake, CannotMerge> {
    let mut both = ours.intake.clone();
    let begun = !ours.entries.is_empty();
    let differs = |fact: &Fact| {
        let (here, there) = (ours.intake.entered(*fact), theirs.intake.entered(*fact));
        here != there && (begun || (here.is_some() && there.is_some()))
    };
    let differing: Vec<Fact> = Fact::ALL.iter().copied().filter(differs).collect();
    if !differing.is_empty() {
        return Err(CannotMerge::OtherDetails(differing));
    }
    let missing = Fact::ALL.iter().filter(|fact| ours.intake.entered(**fact).is_none());
    let details = missing.filter_map(|fact| fact.detail(Some(theirs.intake.entered(*fact)?)));
    both.enter_all(details).map_err(|_| CannotMerge::OtherDetails(Vec::new()))?;
    Ok(both)
}

/// How many readings these entries hold, those undone too.
fn readings(entries: &[Entry]) -> u16 {
    entries.iter().map(|entry| u16::from(entry.deed.is_reading())).sum()
}

/// What was entered in effect here since the versions parted.
fn entered_since(ours: &Record, common: usize) -> Vec<Replaceable> {
    let since = in_effect(ours).into_iter().filter(|index| *index >= common);
    since.filter_map(|index| Replaceable::of(&ours.entries[index].deed)).collect()
}

/// What counted when the versions parted, still counts here, and was undone there.
fn undone_there(ours: &Record, theirs: &Record, common: usize) -> Vec<NotTaken> {
    let (here, there) = (in_effect(ours), in_effect(theirs));
    let undone = here.into_iter().filter(|index| *index < common && there.binary_search(index).is_err());
    let entries = undone.map(|index| &ours.entries[index]).filter(|entry| says_something(&entry.deed));
    entries.map(|entry| NotTaken { entry: entry.clone(), because: WhyNotTaken::UndoneThere }).collect()
}

/// Something of which a later entry takes the place of an earlier one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Replaceable {
    Detail(Fact),
    AsFound,
    AsLeft,
}

impl Replaceable {
    fn of(deed: &Deed) -> Option<Self> {
        match deed {
            Deed::Entered(detail) => Some(Self::Detail(detail.fact())),
            Deed::AsFound(_) => Some(Self::AsFound),
            Deed::AsLeft(_) => Some(Self::AsLeft),
            _ => None,
        }
    }
}

/// What was on the bike when the reading of this number was taken, by everything told since.
fn setup_of(state: &State, number: u16) -> Option<(SpringNumber, Turns)> {
    let holds = |set: &&ReadingSet| set.readings.iter().any(|reading| reading.number.0 == number);
    state.sets.iter().find(holds).map(|set| (set.spring, set.preload_turns))
}

/// A merge under way.
struct Merging<'a> {
    record: Record,
    state: State,
    /// Places of our entries since the versions parted that no entry of the other version was found to be yet.
    unmatched: Vec<usize>,
    entered_here: Vec<Replaceable>,
    /// The numbers of readings there, and here.
    numbers: BTreeMap<u16, u16>,
    /// The numbers there and here of the readings taken over.
    taken_readings: Vec<(u16, u16)>,
    /// Numbers there of readings that turned out to be of something else.
    elsewhere: &'a BTreeSet<u16>,
    taken: Vec<Entry>,
    left: Vec<NotTaken>,
}

impl<'a> Merging<'a> {
    /// Goes through the other version; readings of it with these numbers are known to be of something else.
    fn of(
        ours: &Record,
        theirs: &Record,
        record: Record,
        state: State,
        elsewhere: &'a BTreeSet<u16>,
    ) -> Result<Self, CannotMerge> {
        let common =
            ours.entries.iter().zip(&theirs.entries).take_while(|(ours, theirs)| ours == theirs).count();
        let mut merging = Self {
            unmatched: (common..ours.entries.len()).collect(),
            entered_here: entered_since(ours, common),
            numbers: (1..=readings(&ours.entries[..common])).map(|number| (number, number)).collect(),
            taken_readings: Vec::new(),
            elsewhere,
            record,
            state,
            taken: Vec::new(),
            left: undone_there(ours, theirs, common),
        };
        let effective = in_effect(theirs);
        let mut fold = Fold::opening(theirs);
        for (index, entry) in theirs.entries.iter().enumerate() {
            if index >= common && effective.binary_search(&index).is_ok() {
                merging.take(entry, &fold.state, readings(&theirs.entries[..=index]));
            }
            fold.take(index)
                .map_err(|refusal| CannotMerge::Misfit(EntryMisfit { entry: index + 1, refusal }))?;
        }
        Ok(merging)
    }

    /// Numbers there of readings taken over that in the end stand here on another spring or at another preload than there.
    fn strays(&self, there: &State) -> Vec<u16> {
        let stray = |(number, here): &&(u16, u16)| setup_of(there, *number) != setup_of(&self.state, *here);
        self.taken_readings.iter().filter(stray).map(|(number, _)| *number).collect()
    }

    /// Takes an entry over that was entered in this state there; `number` is that of the last reading there.
    fn take(&mut self, entry: &Entry, there: &State, number: u16) {
        match self.renumbered(entry) {
            Some(here) if self.is_here(&here, number) => {}
            Some(here) => {
                let vouched = if here.deed.is_reading() && self.elsewhere.contains(&number) {
                    Err(WhyNotTaken::OtherwiseOnBike)
                } else {
                    self.vouched_for(&here.deed, there)
                };
                if let Err(because) = vouched.and_then(|()| self.push(here, number)) {
                    self.leave(entry, because);
                }
            }
            None => self.leave(entry, WhyNotTaken::ReadingNotHere),
        }
    }

    fn leave(&mut self, entry: &Entry, because: WhyNotTaken) {
        if says_something(&entry.deed) {
            self.left.push(NotTaken { entry: entry.clone(), because });
        }
    }

    /// The entry with the number its reading has here.
    fn renumbered(&self, entry: &Entry) -> Option<Entry> {
        let mut here = entry.clone();
        if let Deed::Voided { reading, .. } = &mut here.deed {
            reading.0 = *self.numbers.get(&reading.0)?;
        }
        Some(here)
    }

    /// Whether the entry came here before, with an earlier merge.
    fn is_here(&mut self, entry: &Entry, number: u16) -> bool {
        let found = self.unmatched.iter().position(|index| self.record.entries[*index] == *entry);
        let Some(place) = found else { return false };
        let index = self.unmatched.remove(place);
        if entry.deed.is_reading() {
            self.numbers.insert(number, readings(&self.record.entries[..=index]));
        }
        true
    }

    fn push(&mut self, entry: Entry, number: u16) -> Result<(), WhyNotTaken> {
        let ReadingNumber(next) = self.record.next_reading();
        let Entry { at, by, deed } = entry.clone();
        self.state = advance_by(&mut self.record, at, by, deed).map_err(WhyNotTaken::Refused)?;
        if entry.deed.is_reading() {
            self.numbers.insert(number, next);
            self.taken_readings.push((number, next));
        }
        self.taken.push(entry);
        Ok(())
    }

    /// Whether the entry means here what it meant there.
    fn vouched_for(&self, deed: &Deed, there: &State) -> Result<(), WhyNotTaken> {
        let unless = |known: bool, because: WhyNotTaken| if known { Ok(()) } else { Err(because) };
        if let Some(spring) = spring_named(deed) {
            unless(self.spring_is_the_same(spring, there), WhyNotTaken::OtherSprings)?;
        }
        match deed {
            Deed::Entered(detail) => {
                unless(
                    !self.entered_here.contains(&Replaceable::Detail(detail.fact())),
                    WhyNotTaken::EnteredHere,
                )?;
                unless(self.adds_springs(detail), WhyNotTaken::OtherSprings)
            }
            Deed::AsFound(_) => {
                unless(!self.entered_here.contains(&Replaceable::AsFound), WhyNotTaken::EnteredHere)
            }
            Deed::AsLeft(_) => {
                unless(!self.entered_here.contains(&Replaceable::AsLeft), WhyNotTaken::EnteredHere)
            }
            Deed::Read { .. }
            | Deed::Trial { .. }
            | Deed::GapLookedFor(_)
            | Deed::KerbDropped(_)
            | Deed::Decided(_) => unless(is_alike(&self.state, there), WhyNotTaken::OtherwiseOnBike),
            Deed::Risen { .. } => {
                let last = last_reading(there).and_then(|number| self.numbers.get(&number).copied());
                unless(last.is_some() && last == last_reading(&self.state), WhyNotTaken::ReadingNotHere)
            }
            _ => Ok(()),
        }
    }

    fn spring_is_the_same(&self, number: SpringNumber, there: &State) -> bool {
        let here = self.state.entered.springs.iter().find(|spring| spring.number == number);
        here == there.entered.springs.iter().find(|spring| spring.number == number)
    }

    /// Whether a list of springs leaves those of ours where they are.
    fn adds_springs(&self, detail: &Detail) -> bool {
        match detail {
            Detail::Springs(springs) => springs.starts_with(&self.state.entered.springs),
            _ => true,
        }
    }
}

fn spring_named(deed: &Deed) -> Option<SpringNumber> {
    match deed {
        Deed::Swapped { spring, .. } | Deed::Decided(Decision::Swap { to: spring }) => Some(*spring),
        Deed::Entered(detail) => match detail.value() {
            Some(Value::Spring(number)) => Some(number),
            _ => None,
        },
        _ => None,
    }
}

/// Whether by both the same is on the bike and read in the same way.
fn is_alike(here: &State, there: &State) -> bool {
    let collar = |state: &State| state.present_set().map(|set| set.preload_turns);
    let way = |state: &State| (state.how.indicator, state.how.posture);
    here.fitted() == there.fitted()
        && collar(here) == collar(there)
        && way(here) == way(there)
        && here.condition() == there.condition()
}

fn last_reading(state: &State) -> Option<u16> {
    state.present_set()?.readings.last().map(|reading| reading.number.0)
}

/// Whether somebody would miss it; what only moves the walk on is done again where it is needed.
fn says_something(deed: &Deed) -> bool {
    !matches!(
        deed,
        Deed::IntakeDone
            | Deed::CautionSeen(_)
            | Deed::Ticked(..)
            | Deed::TrialsOpened { .. }
            | Deed::IndicatorSeated
            | Deed::ReadHow { .. }
            | Deed::EnoughReadings
    )
}
