//! Where each unknown stands in the list of all of them.
//!
//! What hangs on few others stands first: the postures of the sets of a mounting, where contact was called in it, the label
//! of its spring; then the load of each condition, and what every reading shares. So the normal matrix keeps to its skyline. Not here: their values.

use super::prior::COMMON;
use super::seen::Seen;
use crate::mechanics::SpringNumber;
use crate::session::ConditionNumber;

/// The places of a session's unknowns.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Places {
    /// ln(rate/label), one a spring tried.
    labels: Vec<(SpringNumber, usize)>,
    /// Where contact was called, one a mounting.
    contacts: Vec<(u16, usize)>,
    /// Posture, one a set, in the order of the sets.
    pub(super) postures: Vec<usize>,
    /// How far off the load of a condition is, one a condition.
    conditions: Vec<(ConditionNumber, usize)>,
    /// The first of those that every reading shares.
    pub(super) common: usize,
    /// The first place each unknown hangs together with.
    pub(super) first: Vec<usize>,
}

impl Places {
    /// Those of these sets, and of the condition forecasts are of.
    pub(super) fn of(sets: &[Seen], now: ConditionNumber) -> Self {
        let mut places = Self {
            labels: vec![],
            contacts: vec![],
            postures: vec![0; sets.len()],
            conditions: vec![],
            common: 0,
            first: vec![],
        };
        for spring in firsts(sets.iter().map(|set| set.spring)) {
            let label_first = places.first.len();
            let of_spring = || sets.iter().enumerate().filter(move |(_, set)| set.spring == spring);
            for mounting in firsts(of_spring().map(|(_, set)| set.mounting)) {
                let contact_first = places.first.len();
                for (index, _) in of_spring().filter(|(_, set)| set.mounting == mounting) {
                    places.postures[index] = places.push(places.first.len());
                }
                let contact = places.push(contact_first);
                places.contacts.push((mounting, contact));
            }
            let label = places.push(label_first);
            places.labels.push((spring, label));
        }
        let conditions = sets.iter().map(|set| set.how.condition).chain([now]);
        for condition in firsts(conditions.filter(|condition| *condition != ConditionNumber::AS_ENTERED)) {
            let place = places.push(0);
            places.conditions.push((condition, place));
        }
        places.common = places.first.len();
        for _ in 0..COMMON {
            places.push(0);
        }
        places
    }

    fn push(&mut self, first: usize) -> usize {
        self.first.push(first);
        self.first.len() - 1
    }

    /// How many unknowns there are.
    pub(super) fn count(&self) -> usize {
        self.first.len()
    }

    pub(super) fn label(&self, spring: SpringNumber) -> Option<usize> {
        self.labels.iter().find(|(known, _)| *known == spring).map(|(_, place)| *place)
    }

    pub(super) fn contact(&self, mounting: u16) -> Option<usize> {
        self.contacts.iter().find(|(known, _)| *known == mounting).map(|(_, place)| *place)
    }

    pub(super) fn condition(&self, condition: ConditionNumber) -> Option<usize> {
        self.conditions.iter().find(|(known, _)| *known == condition).map(|(_, place)| *place)
    }

    /// Every condition with its place.
    pub(super) fn conditions(&self) -> impl Iterator<Item = (ConditionNumber, usize)> {
        self.conditions.iter().copied()
    }

    /// Every spring tried, with the place of its label.
    pub(super) fn labels(&self) -> impl Iterator<Item = (SpringNumber, usize)> {
        self.labels.iter().copied()
    }

    /// The place of every contact.
    pub(super) fn contacts(&self) -> impl Iterator<Item = usize> {
        self.contacts.iter().map(|(_, place)| *place)
    }
}

/// Each once, in the order they come.
fn firsts<T: PartialEq>(items: impl Iterator<Item = T>) -> Vec<T> {
    let mut found = Vec::new();
    for item in items {
        if !found.contains(&item) {
            found.push(item);
        }
    }
    found
}
