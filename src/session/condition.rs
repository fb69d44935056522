//! What is otherwise than at the intake while some sets are read: a pack, another rider, softer tyres.
//!
//! A condition bears a name and, where it changes what sits on the bike, the weight of the rider with all that is on. Its
//! sets are labelled with it and never averaged with others. Not here: what a condition does to the load
//! (`assessment::belief`).

use serde::{Deserialize, Serialize};

use crate::text::FreeText;
use crate::units::Mass;

/// A condition that sets are read under.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// What is otherwise: "pack", "tyres 1.6 bar".
    pub name: FreeText,
    /// The rider with all that is on; none where the weight stays or nobody knows it.
    #[serde(default, rename = "rider_kg", skip_serializing_if = "Option::is_none")]
    pub rider: Option<Mass>,
}

/// The place of a condition among those of the session, from one; nought is everything as at the intake.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct ConditionNumber(u16);

impl ConditionNumber {
    /// Everything as at the intake.
    pub const AS_ENTERED: Self = Self(0);
    /// Conditions a session has at most: a shop compares a few.
    pub const MOST: usize = 20;

    /// The number of this condition, which joins the list where it is not on it; none where the list is full.
    pub(super) fn of(condition: &Condition, list: &mut Vec<Condition>) -> Option<Self> {
        let place = list.iter().position(|known| known == condition).unwrap_or(list.len());
        if place == list.len() {
            if list.len() >= Self::MOST {
                return None;
            }
            list.push(condition.clone());
        }
        u16::try_from(place + 1).ok().map(Self)
    }

    /// The number, nought for everything as at the intake.
    pub const fn number(self) -> u16 {
        self.0
    }

    /// The condition on the list of its session; none for everything as at the intake.
    pub fn on(self, list: &[Condition]) -> Option<&Condition> {
        list.get(usize::from(self.0).checked_sub(1)?)
    }
}
