//! What a key comes to in the places that add deeds to the record, and how it is carried out; and the question asked once
//! about an unusual figure.

use crate::screen::model::{Desk, Go, Notice, Reply};
use crate::session::limits::Field;
use crate::session::{Deed, Stamp};
use crate::units::Quantity;

/// What a key comes to.
#[derive(Debug)]
pub(super) enum Came {
    /// Deeds, in order.
    Deeds(Vec<Deed>),
    /// Something to be said.
    Say(Notice),
    /// Elsewhere.
    Go(Go),
    /// The screen changed, nothing else.
    Shown,
}

/// Whether deeds were done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Done {
    /// All of them, and there were some.
    All,
    /// None, or one was refused.
    NotAll,
}

impl Came {
    /// A single deed.
    pub(super) fn deed(deed: Deed) -> Self {
        Self::Deeds(vec![deed])
    }

    /// A sentence to be said.
    pub(super) fn said(sentence: impl Into<String>) -> Self {
        Self::Say(Notice::Said(sentence.into()))
    }

    /// Carries it out.
    pub(super) fn carry_out(self, desk: &mut Desk, at: Stamp) -> (Reply, Done) {
        match self {
            Self::Shown => (Reply::stay(), Done::NotAll),
            Self::Go(go) => (Reply::going(go), Done::NotAll),
            Self::Say(notice) => {
                desk.say(notice);
                (Reply::stay(), Done::NotAll)
            }
            Self::Deeds(deeds) => match desk.advance_all(at, deeds) {
                Ok(effects) => (Reply::asking(effects), Done::All),
                Err(effects) => (Reply::asking(effects), Done::NotAll),
            },
        }
    }
}

/// The unusual figure that has been asked about.
#[derive(Debug, Default)]
pub(super) struct Asked(Option<Quantity>);

impl Asked {
    /// Forgets the figure: the text was changed.
    pub(super) fn forget(&mut self) {
        self.0 = None;
    }

    /// Whether a question stands.
    pub(super) fn stands(&self) -> bool {
        self.0.is_some()
    }

    /// Lets a usual figure pass, an impossible one too, because the walk refuses it in better words; an unusual one
    /// passes the second time.
    ///
    /// # Errors
    /// With the question, the first time.
    pub(super) fn once(&mut self, field: Field, told: Quantity) -> Result<(), Notice> {
        if field.check(told).is_err() || !field.is_unusual(told) || self.0 == Some(told) {
            return Ok(());
        }
        self.0 = Some(told);
        Err(Notice::Unusual(field, told))
    }
}
