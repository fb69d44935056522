//! Which way somebody works: step by step, or trial after trial.
//!
//! Both write the same record; the deeds of each tell them apart, so that a session opens again where its work was last
//! done. Not here: what the two look like (`screen`).

use super::entry::{Deed, Record};

/// A way to work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkMode {
    /// The guided walk.
    Guided,
    /// Quick trials.
    Trials,
}

/// The way the work was last done; none before the first deed that tells. What was taken back tells too: it was done there.
pub fn last(record: &Record) -> Option<WorkMode> {
    record.entries.iter().rev().find_map(|entry| of(&entry.deed))
}

/// The way a deed belongs to; none for one that is done in both.
const fn of(deed: &Deed) -> Option<WorkMode> {
    match deed {
        Deed::TrialsOpened { .. } | Deed::Trial { .. } | Deed::Swapped { .. } => Some(WorkMode::Trials),
        Deed::Ticked(..)
        | Deed::Skipped { .. }
        | Deed::Unloaded { .. }
        | Deed::IndicatorSeated
        | Deed::Read { .. }
        | Deed::EnoughReadings
        | Deed::Decided(_)
        | Deed::KerbDropped(_)
        | Deed::TrailRidden { .. }
        | Deed::Closed => Some(WorkMode::Guided),
        Deed::IntakeDone
        | Deed::Entered(_)
        | Deed::CautionSeen(_)
        | Deed::ReadHow { .. }
        | Deed::Under(_)
        | Deed::GapLookedFor(_)
        | Deed::Risen { .. }
        | Deed::PreloadSet { .. }
        | Deed::TakenBack
        | Deed::StartedAgain
        | Deed::Undone
        | Deed::Redone
        | Deed::Voided { .. }
        | Deed::Noted(_)
        | Deed::AsFound(_)
        | Deed::AsLeft(_)
        | Deed::RideTold(_) => None,
    }
}
