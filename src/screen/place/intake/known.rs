//! Customers who were here before, offered while the name is typed; Enter on one takes over the details of the bike.
//!
//! A name with a slip in it finds its customer too, so that one customer stays one. What was typed today goes before what a
//! past visit says. Not here: how names are found (`archive::search`), and looking at the last session (`review`).

use super::row::IntakeRow;
use super::{Form, Notice};
use crate::archive::{KnownCustomer, SessionName};
use crate::phrase;
use crate::screen::effect::{Effect, FoundRecord, PastRecord};
use crate::screen::model::{Desk, OpenSession, Reply};
use crate::screen::place::review::past_session;
use crate::session::{Detail, Fact, Intake, Stamp, Step};
use crate::text::FreeText;

/// The most offered at a time.
const MOST: usize = 3;
/// Letters from which on customers are offered.
const LETTERS: usize = 2;

/// What is offered for the name being typed.
#[derive(Debug)]
pub(super) struct Offers {
    all: Vec<Offer>,
    /// The one that Enter takes; none while what is typed is meant.
    marked: Option<usize>,
    /// Whether only a name is asked for, because the work has begun.
    is_name_only: bool,
}

/// A customer with one of their bikes.
#[derive(Debug)]
struct Offer {
    name: FreeText,
    newest: SessionName,
    words: String,
    /// What the last session tells of the bike, once it was read.
    visit: Option<LastVisit>,
}

/// The last session of a bike.
#[derive(Debug)]
struct LastVisit {
    opened: Stamp,
    details: Vec<Detail>,
}

impl Offers {
    /// The customers whose names are like what is typed in the row of names; none where no past session has any.
    pub(super) fn of(row: IntakeRow, typed: &str, desk: &Desk) -> Option<Self> {
        if row != IntakeRow::Of(Fact::Customer) || typed.trim().chars().count() < LETTERS {
            return None;
        }
        let is_name_only = desk.session.as_ref().is_some_and(|session| session.state.step != Step::Intake);
        let found = desk.catalogue.as_ref()?.register().like(typed, MOST).into_iter();
        let bikes = if is_name_only { 1 } else { MOST };
        let offers: Vec<Offer> =
            found.flat_map(|customer| Offer::of(customer).take(bikes)).take(MOST).collect();
        (!offers.is_empty()).then_some(Self { all: offers, marked: None, is_name_only })
    }

    /// Marks the next one; none is left to mark where this says no.
    pub(super) fn mark_next(&mut self) -> bool {
        let next = self.marked.map_or(0, |marked| marked + 1);
        let is_there = next < self.all.len();
        if is_there {
            self.marked = Some(next);
        }
        is_there
    }

    /// Marks the one before, or what is typed.
    pub(super) fn mark_previous(&mut self) -> bool {
        let marked = self.marked.take();
        self.marked = marked.and_then(|marked| marked.checked_sub(1));
        marked.is_some()
    }

    /// Whether Enter takes one of them.
    pub(super) fn is_marked(&self) -> bool {
        self.marked.is_some()
    }

    /// The last session of the marked one, or of the best.
    pub(super) fn newest(&self) -> Option<SessionName> {
        Some(self.all.get(self.marked.unwrap_or(0))?.newest.clone())
    }

    /// A line for each, and whether it is marked.
    pub(super) fn lines(&self) -> Vec<(String, bool)> {
        let line = |(place, offer): (usize, &Offer)| {
            let is_marked = self.marked == Some(place);
            (format!("{} {}", if is_marked { "▸" } else { " " }, offer.words), is_marked)
        };
        self.all.iter().enumerate().map(line).collect()
    }

    /// What Enter will do.
    pub(super) const fn enter(&self) -> &'static str {
        match self.marked {
            None => phrase::enter::NEXT_LINE,
            Some(_) if self.is_name_only => phrase::enter::TAKE_NAME,
            Some(_) => phrase::enter::TAKE_OVER,
        }
    }

    /// What can be done with them.
    pub(super) const fn hint(&self) -> &'static str {
        if self.is_name_only { phrase::intake::KNOWN_NAME_HINT } else { phrase::intake::KNOWN_HINT }
    }

    /// Takes the last session of one of them in.
    pub(super) fn take_visit(&mut self, desk: &Desk, past: PastRecord) {
        let Some(offer) = self.all.iter_mut().find(|offer| offer.newest == past.name) else { return };
        if let FoundRecord::Sound(record) | FoundRecord::Edited(record) = past.found
            && let Ok(session) = OpenSession::to_look_at(record)
        {
            let details = past_session::for_next_visit(&session, desk);
            offer.visit =
                (!details.is_empty()).then_some(LastVisit { opened: session.record.opened, details });
        }
    }
}

impl Offer {
    /// One for each bike of a customer.
    fn of(customer: &KnownCustomer) -> impl Iterator<Item = Self> + '_ {
        customer.bikes.iter().map(|bike| Self {
            name: customer.name.clone(),
            newest: bike.newest.clone(),
            words: phrase::intake::known_customer(&customer.name, customer.visits, &bike.name),
            visit: None,
        })
    }
}

/// Has the last session of the marked customer read.
pub(super) fn recall(form: &Form) -> Reply {
    let marked = form.known.as_ref().filter(|known| known.is_marked() && !known.is_name_only);
    let newest = marked.and_then(Offers::newest);
    Reply::asking(newest.map(Effect::Recall).into_iter().collect())
}

/// Takes the marked customer over: the name, and while the intake is open the details of the bike.
pub(super) fn take_over(form: &mut Form, desk: &mut Desk, entered: &Intake, at: Stamp) -> Reply {
    let Some(known) = form.known.take() else { return Reply::stay() };
    let Some(offer) = known.marked.and_then(|marked| known.all.into_iter().nth(marked)) else {
        return Reply::stay();
    };
    let mut effects = desk.enter(at, Detail::Customer(offer.name));
    match offer.visit {
        _ if known.is_name_only => {}
        None => desk.say(Notice::Said(phrase::intake::NOTHING_TO_TAKE.to_owned())),
        Some(LastVisit { opened, details }) => {
            desk.say(Notice::Said(phrase::intake::taken_over(opened)));
            for detail in details.into_iter().filter(|detail| is_open(detail, entered)) {
                // What today's details do not go with is left out with a word about it.
                let taken = desk.enter(at, detail);
                effects = if taken.is_empty() { effects } else { taken };
            }
        }
    }
    if let Some(session) = &desk.session {
        let next =
            if known.is_name_only { IntakeRow::Of(Fact::Customer) } else { IntakeRow::Of(Fact::Rider) };
        form.arrive(next, &session.state.entered, desk.units);
    }
    Reply::asking(effects)
}

/// Whether nothing was typed today that the detail would replace. The springs and the one on the bike belong together.
fn is_open(detail: &Detail, entered: &Intake) -> bool {
    let springs = [Fact::Springs, Fact::SpringOnArrival];
    match detail.fact() {
        Fact::Customer => false,
        fact if springs.contains(&fact) => springs.iter().all(|fact| is_empty(*fact, entered)),
        fact => is_empty(fact, entered),
    }
}

fn is_empty(fact: Fact, entered: &Intake) -> bool {
    entered.entered(fact).is_none() || entered.entered(fact) == Intake::default().entered(fact)
}
