//! Two versions of a session brought together: nothing lost without a word, nothing doubled, no reading on another spring.

use coilwright::session::machine::{self, CannotMerge, Merged, WhyNotTaken, merge};
use coilwright::session::{
    Caution, Deed, Detail, Entry, Fact, Reading, ReadingNumber, Record, Spring, SpringNumber, State,
};
use coilwright::text::FreeText;
use coilwright::units::{Length, Mass, Turns};
use proptest::prelude::*;

use super::sample::{FITTED, LONG, Move, at, does, entered, moves};
use super::sessions::{in_trials, moved};

/// Does one deed on a version, that many minutes after the versions parted.
fn later(version: &mut Record, minutes: usize, deed: Deed) {
    machine::advance(version, at(300 + minutes), deed).expect("possible here");
}

/// Quick trials on the first spring, with these readings in them.
fn trials(readings: &[f64]) -> Record {
    let mut record = in_trials();
    for mm in readings {
        does(&mut record, trial(*mm));
    }
    record
}

/// Fits another spring in quick trials, having read what that wants.
fn swap(version: &mut Record, minutes: usize, spring: SpringNumber) {
    for caution in [Caution::LoadedSpring, Caution::LooseBolts, Caution::FlyingClip] {
        later(version, minutes, Deed::CautionSeen(caution));
    }
    later(version, minutes, Deed::Swapped { spring, preload_turns: Turns::ZERO });
}

fn trial(mm: f64) -> Deed {
    Deed::Trial { reading: Length::mm(mm) }
}

fn together(ours: &Record, theirs: &Record) -> Merged {
    merge(ours, theirs).expect("two versions of one session")
}

fn state(record: &Record) -> State {
    machine::replay(record).expect("it fits")
}

#[test]
fn readings_taken_on_two_computers_on_the_same_spring_are_one_set() {
    let ours = trials(&[16.0]);
    let (mut here, mut there) = (ours.clone(), ours);
    later(&mut here, 1, trial(17.0));
    later(&mut there, 2, trial(18.0));
    let merged = together(&here, &there);
    assert_eq!(moved(&state(&merged.record)), [[16.0, 17.0, 18.0]]);
    assert_eq!((merged.taken.len(), merged.left.len()), (1, 0));
    // The same file comes once more: nothing is doubled.
    let again = together(&merged.record, &there);
    assert_eq!((again.record, again.taken.len(), again.left.len()), (merged.record, 0, 0));
}

#[test]
fn a_reading_is_not_taken_over_where_another_spring_may_have_been_on_the_bike() {
    let ours = trials(&[16.0]);
    let (mut here, mut there) = (ours.clone(), ours);
    swap(&mut here, 1, LONG);
    later(&mut there, 2, trial(18.0));
    let merged = together(&here, &there);
    assert_eq!(merged.record, here);
    let [left] = &merged.left[..] else { panic!("{:?}", merged.left) };
    assert_eq!((&left.entry.deed, &left.because), (&trial(18.0), &WhyNotTaken::OtherwiseOnBike));
    // Where the other version says itself what it fitted, its readings are those of that spring.
    swap(&mut there, 3, LONG);
    later(&mut there, 9, trial(14.0));
    let state = state(&together(&here, &there).record);
    assert_eq!(state.on_bike.fitted, Some(LONG));
    assert_eq!(moved(&state).last().expect("a set"), &[14.0]);
}

#[test]
fn a_void_follows_its_reading_to_its_new_number() {
    let ours = trials(&[16.0]);
    let (mut here, mut there) = (ours.clone(), ours);
    later(&mut here, 1, trial(17.0));
    later(&mut there, 2, trial(25.0));
    later(&mut there, 3, Deed::Voided { reading: ReadingNumber(2), because: FreeText::new("it bounced") });
    let sets = state(&together(&here, &there).record).sets;
    let void: Vec<f64> = sets[0].readings.iter().filter(|read| read.void.is_some()).map(mm).collect();
    assert_eq!(void, [25.0]);
}

fn mm(reading: &Reading) -> f64 {
    reading.distance.as_mm()
}

#[test]
fn what_was_corrected_here_stays_and_what_was_undone_there_is_said() {
    let ours = trials(&[16.0, 17.0]);
    let (mut here, mut there) = (ours.clone(), ours);
    later(&mut here, 1, Deed::Entered(Detail::Rider(Mass::kg(84.0))));
    later(&mut there, 2, Deed::Undone);
    later(&mut there, 3, Deed::Entered(Detail::Rider(Mass::kg(79.0))));
    later(&mut there, 4, Deed::Noted(FreeText::new("clicks counted")));
    let merged = together(&here, &there);
    assert_eq!(state(&merged.record).entered.rider, Some(Mass::kg(84.0)));
    let because: Vec<_> = merged.left.iter().map(|left| &left.because).collect();
    assert_eq!(because, [&WhyNotTaken::UndoneThere, &WhyNotTaken::EnteredHere]);
    assert!(matches!(&merged.taken[..], [Entry { deed: Deed::Noted(_), .. }]), "{:?}", merged.taken);
}

#[test]
fn a_spring_named_otherwise_afterwards_takes_its_readings_with_it() {
    let ours = trials(&[16.0]);
    let (mut here, mut there) = (ours.clone(), ours);
    later(&mut here, 1, Deed::Entered(Detail::Rider(Mass::kg(84.0))));
    later(&mut there, 2, trial(18.0));
    // What is said there of the spring on the bike only after the reading is told here too: the reading stays with it.
    later(&mut there, 3, Deed::Entered(Detail::SpringOnArrival(Some(LONG))));
    let sets = state(&together(&here, &there).record).sets;
    assert_eq!((sets[0].spring, sets[0].readings.len()), (LONG, 2));
    // Where that was corrected here as well, ours stays, and nobody can tell what the reading there was taken on.
    let mut here = trials(&[16.0]);
    later(&mut there, 4, Deed::Entered(Detail::SpringOnArrival(Some(FITTED))));
    later(&mut here, 1, Deed::Entered(Detail::SpringOnArrival(Some(LONG))));
    later(&mut there, 5, trial(19.0));
    let merged = together(&here, &there);
    assert_eq!(moved(&state(&merged.record)), [[16.0]]);
    let because: Vec<_> = merged.left.iter().filter(|left| left.entry.deed.is_reading()).collect();
    assert_eq!(because.len(), 2, "{:?}", merged.left);
}

#[test]
fn a_spring_added_in_one_version_goes_over_and_one_added_in_both_does_not() {
    let ours = trials(&[16.0]);
    let more = |record: &Record, label: f64| {
        let mut springs = record.intake.springs.clone();
        let number = SpringNumber(17);
        let rate = coilwright::units::SpringRate::lb_per_in(label);
        springs.push(Spring { stroke: Some(Length::mm(65.0)), ..Spring::labelled(number, rate) });
        Deed::Entered(Detail::Springs(springs))
    };
    let (here, mut there) = (ours.clone(), ours.clone());
    later(&mut there, 2, more(&ours, 525.0));
    let merged = together(&here, &there);
    assert_eq!(state(&merged.record).entered.springs.len(), ours.intake.springs.len() + 1);
    let mut here = here;
    later(&mut here, 1, more(&ours, 550.0));
    let both = together(&here, &there);
    assert_eq!((both.taken.len(), both.left.len()), (0, 1));
}

#[test]
fn other_sessions_and_other_details_are_refused() {
    let (here, mut there) = (trials(&[16.0]), trials(&[16.0]));
    there.intake.enter(Detail::Rider(Mass::kg(70.0))).expect("possible");
    assert_eq!(merge(&here, &there), Err(CannotMerge::OtherDetails(vec![Fact::Rider])));
    there.opened = at(7);
    assert_eq!(merge(&here, &there), Err(CannotMerge::OtherSession));
    // Before the work begins, what only one of them says is put together.
    let (here, mut there) = (entered(), entered());
    there.intake.enter(Detail::Notes(FreeText::new("squeaks"))).expect("possible");
    assert_eq!(together(&here, &there).record.intake, there.intake);
}

/// A version gone on with by random moves, that many minutes after the versions parted.
fn gone_on(version: &Record, moves: &[Move], minutes: usize) -> Record {
    let mut version = version.clone();
    let mut state = state(&version);
    for (minute, step) in moves.iter().enumerate() {
        let Some(deed) = step.deed(&state) else { continue };
        if let Ok(next) = machine::advance(&mut version, at(minutes + minute), deed) {
            state = next;
        }
    }
    version
}

/// The readings of a record with their moments, each with what was on the bike.
fn readings(record: &Record) -> Vec<(Entry, SpringNumber, Turns)> {
    let state = state(record);
    let of_set = |set: &coilwright::session::ReadingSet| {
        let (spring, turns) = (set.spring, set.preload_turns);
        let entry = |read: &Reading| {
            let found = record.entries.iter().filter(|entry| entry.deed.is_reading());
            found.cloned().collect::<Vec<_>>().swap_remove(usize::from(read.number.0) - 1)
        };
        set.readings.iter().map(|read| (entry(read), spring, turns)).collect::<Vec<_>>()
    };
    state.sets.iter().flat_map(of_set).collect()
}

proptest! {
    #![proptest_config(crate::soak::cases(150))]

    /// Whatever was done on two computers: ours stays to the entry, every reading of the other version is there on the same
    /// spring at the same preload or is listed as left out, and the same version coming again doubles nothing.
    #[test]
    fn two_versions_lose_and_double_nothing(
        common in moves(),
        ours in moves(),
        theirs in moves(),
    ) {
        let common = gone_on(&entered(), &common, 0);
        let (here, there) = (gone_on(&common, &ours, 1_000), gone_on(&common, &theirs, 2_000));
        let Ok(merged) = merge(&here, &there) else {
            // Only what was told before the work began can keep two versions of one session apart.
            prop_assert_ne!(here.intake, there.intake);
            return Ok(());
        };
        prop_assert!(merged.record.entries.starts_with(&here.entries));
        prop_assert!(machine::replay(&merged.record).is_ok());
        for (entry, spring, turns) in readings(&there) {
            let is_new = entry.at >= at(2_000);
            let is_taken = merged.taken.contains(&entry);
            prop_assert!(!is_new || is_taken || merged.left.iter().any(|left| left.entry == entry), "{entry:?}");
            if is_taken {
                let mut same = readings(&merged.record).into_iter().filter(|(here, ..)| *here == entry);
                prop_assert!(same.all(|(_, here, preload)| (here, preload) == (spring, turns)), "{entry:?}");
            }
        }
        let again = merge(&merged.record, &there).expect("still two versions");
        let was_left = |entry: &Entry| merged.left.iter().any(|left| left.entry.at == entry.at);
        let of_weight = |entry: &&Entry| entry.deed.is_reading() || matches!(entry.deed, Deed::Noted(_));
        prop_assert!(again.taken.iter().filter(of_weight).all(was_left), "{:?}", again.taken);
    }
}
