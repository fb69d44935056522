//! What the desk knows of marked springs: the book of all past sessions, and the rack as that book has it.
//!
//! It is learned anew when the rack or the list of sessions changes, never in the middle of a key. Not here: the learning
//! (`assessment::marks`), and where what was learned enters a record (`session::shop_rack::at_hand`).

use super::Desk;
use crate::mechanics::spring::Marked;
use crate::session::Spring;

impl Desk {
    /// Learns anew from all sessions known what the marked springs are.
    pub(in crate::screen) fn learn_marks(&mut self) {
        let rack = &mut self.shelf.rack;
        self.marks =
            self.catalogue.as_ref().map(|catalogue| catalogue.marks(rack.kinds())).unwrap_or_default();
        for kind in rack.kinds_mut() {
            let label = kind.label;
            kind.marked.iter_mut().for_each(|marked| marked.learned = self.marks.learned(marked.mark, label));
        }
        self.look_beyond();
    }

    /// A spring of an earlier session as it is known now.
    pub fn as_known_now(&self, spring: &Spring) -> Spring {
        let now =
            |marked: Marked| Marked { learned: self.marks.learned(marked.mark, spring.label), ..marked };
        Spring { marked: spring.marked.map(now), ..*spring }
    }
}
