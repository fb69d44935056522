//! What a key comes to in the places that add deeds to the record, and how it is carried out; and the question asked once
//! about an unusual figure, spring or reason.

use crate::phrase;
use crate::screen::keys::{Action, Typing, binding};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::session::limits::Figure;
use crate::session::{Deed, ReadingNumber, Setup, SpringNumber, Stamp};
use crate::text::FreeText;
use crate::units::{Length, Quantity, Turns, UnitSet, parse};

/// What a key comes to.
#[derive(Debug)]
pub(super) enum KeyOutcome {
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
pub(super) enum DeedsDone {
    /// All of them, and there were some.
    All,
    /// None, or one was refused.
    NotAll,
}

impl KeyOutcome {
    /// A single deed.
    pub(super) fn deed(deed: Deed) -> Self {
        Self::Deeds(vec![deed])
    }

    /// A sentence to be said.
    pub(super) fn said(sentence: impl Into<String>) -> Self {
        Self::Say(Notice::Said(sentence.into()))
    }

    /// Carries it out.
    pub(super) fn carry_out(self, desk: &mut Desk, at: Stamp) -> (Reply, DeedsDone) {
        match self {
            Self::Shown => (Reply::stay(), DeedsDone::NotAll),
            Self::Go(go) => (Reply::going(go), DeedsDone::NotAll),
            Self::Say(notice) => {
                desk.say(notice);
                (Reply::stay(), DeedsDone::NotAll)
            }
            Self::Deeds(deeds) => match desk.advance_all(at, deeds) {
                Ok(effects) => (Reply::asking(effects), DeedsDone::All),
                Err(effects) => (Reply::asking(effects), DeedsDone::NotAll),
            },
        }
    }
}

/// Starts the present list or set again; where that sets readings aside, it is asked about once.
pub(super) fn start_again(
    asked: &mut ConfirmOnce,
    session: &OpenSession,
    units: UnitSet,
    typing: Typing,
) -> KeyOutcome {
    let of_a_list = !session.state.step.checks().is_empty();
    let set = session.state.sets.last().filter(|_| !of_a_list);
    let readings: Vec<Length> =
        set.map(|set| set.counting().map(|reading| reading.distance).collect()).unwrap_or_default();
    if readings.is_empty() {
        return KeyOutcome::deed(Deed::StartedAgain);
    }
    let undo = binding(Action::Undo).shown(typing).unwrap_or_default();
    asked.start_again(phrase::guide::start_again(&readings, &undo, units))
}

/// What has been asked about, and is taken when the same Enter comes again.
#[derive(Debug, Default)]
pub(super) struct ConfirmOnce(Option<Question>);

#[derive(Debug, Clone, Copy, PartialEq)]
enum Question {
    /// An unusual figure.
    Figure(Quantity),
    /// A spring that will hardly land in the band.
    Spring(SpringNumber),
    /// A figure as the reason why this reading does not count.
    Reason(ReadingNumber),
    /// Whether the readings of the set are set aside and it is started again.
    StartAgain,
}

impl ConfirmOnce {
    /// Forgets the question: the text was changed, or another line marked.
    pub(super) fn forget(&mut self) {
        self.0 = None;
    }

    /// Whether a question stands.
    pub(super) fn stands(&self) -> bool {
        self.0.is_some()
    }

    /// Asks before a start anew sets readings aside.
    pub(super) fn start_again(&mut self, words: String) -> KeyOutcome {
        self.0 = Some(Question::StartAgain);
        KeyOutcome::said(words)
    }

    /// Whether that is what was asked.
    pub(super) fn is_starting_again(&self) -> bool {
        self.0 == Some(Question::StartAgain)
    }

    /// Lets a reading pass that is near what was expected; one far from it passes the second time.
    ///
    /// # Errors
    /// With the question, the first time.
    pub(super) fn reading_once(
        &mut self,
        moved: Length,
        session: &OpenSession,
        units: UnitSet,
    ) -> Result<(), Notice> {
        let figure = Quantity::Length(moved);
        match session.expected_instead_of(moved) {
            Some(expected) if Figure::Reading.check(figure).is_ok() => {
                let words = phrase::guide::far_from_forecast(moved, expected, units);
                self.ask(Question::Figure(figure), Notice::Said(words))
            }
            _ => self.once(Figure::Reading, figure),
        }
    }

    /// Lets a usual figure pass, an impossible one too, because the walk refuses it in better words; an unusual one
    /// passes the second time.
    ///
    /// # Errors
    /// With the question, the first time.
    pub(super) fn once(&mut self, field: Figure, entered: Quantity) -> Result<(), Notice> {
        if field.check(entered).is_err() || !field.is_unusual(entered) {
            return Ok(());
        }
        self.ask(Question::Figure(entered), Notice::Unusual(field, entered))
    }

    /// The same for the collar as it was found: past the limit it is asked about in those words.
    ///
    /// # Errors
    /// With the question, the first time.
    pub(super) fn found_once(
        &mut self,
        found: Turns,
        setup: Option<&Setup>,
        units: UnitSet,
    ) -> Result<(), Notice> {
        let (field, entered) = (Figure::PreloadTurns, Quantity::Turns(found));
        let shop_alternatives =
            setup.filter(|setup| found > setup.shock.turns_limit && field.check(entered).is_ok());
        let Some(setup) = shop_alternatives else { return self.once(field, entered) };
        let (allowed, from) = (setup.shock.turns_limit, setup.turns_limit_from());
        let words = phrase::guide::found_beyond_allowed(found, allowed, from, units);
        self.ask(Question::Figure(entered), Notice::Said(words))
    }

    /// Asks about a spring, and lets it pass the second time.
    ///
    /// # Errors
    /// With the question, the first time.
    pub(super) fn spring_once(&mut self, spring: SpringNumber, words: String) -> Result<(), Notice> {
        self.ask(Question::Spring(spring), Notice::Said(words))
    }

    /// Lets the reason why a reading does not count pass; one that is only a figure passes the second time.
    ///
    /// # Errors
    /// With the question, the first time.
    pub(super) fn reason_once(
        &mut self,
        reading: ReadingNumber,
        because: &FreeText,
        units: UnitSet,
    ) -> Result<(), Notice> {
        if parse::length(because.as_typed(), units).is_err() {
            return Ok(());
        }
        let words = phrase::guide::reason_is_a_figure(because);
        self.ask(Question::Reason(reading), Notice::Said(words))
    }

    fn ask(&mut self, question: Question, notice: Notice) -> Result<(), Notice> {
        if self.0 == Some(question) {
            return Ok(());
        }
        self.0 = Some(question);
        Err(notice)
    }
}
