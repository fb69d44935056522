//! A customer who was here before, known by the name that is typed.
//!
//! Not here: beginning from their last session, which is done where one looks at it (`review`).

use super::row::IntakeRow;
use crate::archive::search::fold;
use crate::archive::{Contents, SessionName};
use crate::phrase;
use crate::screen::model::Desk;
use crate::session::Fact;

/// The most bikes told by name.
const MOST_BIKES: usize = 2;

/// What the past sessions say of a customer.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RateSource {
    /// The last session.
    pub(super) newest: SessionName,
    words: String,
}

impl RateSource {
    /// The customer of the name typed in the row of names; none where no past session has just that name.
    pub(super) fn of(row: IntakeRow, typed: &str, desk: &Desk) -> Option<Self> {
        let folded = |text: &str| fold(text).trim().to_owned();
        let wanted = folded(typed);
        if row != IntakeRow::Of(Fact::Customer) || wanted.is_empty() {
            return None;
        }
        let read = desk.catalogue.as_ref()?.all().iter().filter_map(|session| match &session.contents {
            Contents::Read(summary) => Some((session, summary)),
            Contents::Unreadable { .. } => None,
        });
        let visits: Vec<_> =
            read.filter(|(_, summary)| folded(summary.customer.as_typed()) == wanted).collect();
        let (newest, summary) = visits.first()?;
        let mut bikes: Vec<String> = Vec::new();
        for (_, visit) in &visits {
            let bike = visit.bike.shown().fitted(24);
            if !bike.is_empty() && !bikes.contains(&bike) && bikes.len() < MOST_BIKES {
                bikes.push(bike);
            }
        }
        let words = phrase::intake::known_customer(summary.customer.as_typed(), visits.len(), &bikes);
        Some(Self { newest: newest.name.clone(), words })
    }

    /// How often they were here, and the way to their last session.
    pub(super) fn words(&self) -> &str {
        &self.words
    }
}
