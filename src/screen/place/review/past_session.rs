//! One past session, to look at: what of its file could be read, how far it is scrolled, and the ways on from it.
//!
//! Nothing here is held or written. "Carry on with it" opens the record for going on; "customer is back" begins a new one
//! with what this one taught. Not here: how it looks (`page`).

use super::super::compare::of_one_bike;
use super::super::intake::Form;
use super::super::replay;
use super::super::{Component, Place};
use super::page;
use crate::archive::SessionName;
use crate::archive::index::Location;
use crate::assessment::next_visit;
use crate::assets;
use crate::phrase;
use crate::phrase::places;
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::Scroll;
use crate::screen::effect::{Effect, FoundRecord, PastRecord, StorageState};
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Notice, OpenSession, Reply};
use crate::session::limits::MOST_SPRINGS;
use crate::session::shop_rack::free_numbers;
use crate::session::{Detail, Origin, Record, Spring, Stamp};
use ratatui::Frame;
use ratatui::layout::Rect;

/// A past session looked at.
#[derive(Debug)]
pub struct PastSession {
    pub(super) name: SessionName,
    pub(super) seen: PastContent,
    pub(super) scroll: Scroll,
}

/// What there is to see of it.
#[derive(Debug)]
pub(super) enum PastContent {
    /// All of it.
    Whole {
        session: Box<OpenSession>,
        /// What came to light in reading it.
        remark: Option<&'static str>,
    },
    /// Why not, with the way out, and what can be read all the same.
    InPart { because: String, readable: Option<Box<Record>> },
    /// Why not, and the version before the damage.
    Before { because: String, version: Box<Record> },
}

impl PastSession {
    /// Has the card written.
    fn hand_over(&self, desk: &Desk) -> Reply {
        let PastContent::Whole { session, .. } = &self.seen else { return Reply::stay() };
        let record = Box::new(session.record.clone());
        let name = Some(self.name.clone());
        Reply::asking(vec![Effect::HandOver { record, name, units: desk.units }])
    }

    /// Has everything looked for that there is of its customer.
    fn forget(&self) -> Reply {
        let PastContent::Whole { session, .. } = &self.seen else { return Reply::stay() };
        Reply::asking(vec![Effect::Trace(session.state.entered.customer.clone())])
    }

    /// Shows it moment by moment.
    fn watch(&self, desk: &mut Desk) -> Reply {
        let PastContent::Whole { session, .. } = &self.seen else { return Reply::stay() };
        replay::watch(session.record.clone(), desk)
    }

    /// What was read, folded.
    pub fn of(past: PastRecord) -> Self {
        let seen = match past.found {
            FoundRecord::Sound(record) => folded(record, None),
            FoundRecord::Edited(record) => folded(record, Some(phrase::review::EDITED_OUTSIDE)),
            FoundRecord::Left { record, whereabouts } => folded(record, Some(lies(whereabouts))),
            FoundRecord::Unreadable { because, before: Some(version), .. } => {
                PastContent::Before { because, version }
            }
            FoundRecord::Unreadable { because, readable, before: None } => {
                PastContent::InPart { because, readable: readable.map(Box::new) }
            }
        };
        Self { name: past.name, seen, scroll: Scroll::default() }
    }
}

/// Where a session without a record lies, and the way on.
fn lies(whereabouts: Location) -> &'static str {
    match whereabouts {
        Location::Spool => phrase::review::ONLY_IN_SPOOL,
        Location::Records | Location::Beside => phrase::review::RECORD_GONE,
    }
}

fn folded(record: Record, remark: Option<&'static str>) -> PastContent {
    match OpenSession::to_look_at(record.clone()) {
        Ok(session) => PastContent::Whole { session: Box::new(session), remark },
        Err(misfit) => {
            let because = phrase::review::misfit(misfit.entry);
            PastContent::InPart { because, readable: Some(Box::new(cut_before(record, misfit.entry))) }
        }
    }
}

/// The record up to an entry that does not fit.
fn cut_before(mut record: Record, entry: usize) -> Record {
    record.entries.truncate(entry.saturating_sub(1));
    record
}

impl Component for PastSession {
    fn title(&self) -> &'static str {
        places::PAST_SESSION
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        let mut live = Vec::new();
        match &self.seen {
            PastContent::Whole { session, .. } => {
                live.extend([Action::GoOn, Action::Watch, Action::Forget]);
                if session.state.setup.is_some() {
                    live.extend([Action::ComeBack, Action::Card, Action::Compare]);
                }
            }
            PastContent::InPart { readable: Some(_), .. } | PastContent::Before { .. } => {
                live.push(Action::GoOn);
            }
            PastContent::InPart { readable: None, .. } => {}
        }
        live.extend([Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back]);
        live
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        match pressed {
            Pressed::Action(Action::Back) => return Reply::going(Go::Back),
            Pressed::Action(Action::GoOn) => return go_on(self, desk, at),
            Pressed::Action(Action::Compare) => return compare(self, desk),
            Pressed::Action(Action::Card) => return self.hand_over(desk),
            Pressed::Action(Action::Forget) => return self.forget(),
            Pressed::Action(Action::Watch) => return self.watch(desk),
            Pressed::Action(Action::ComeBack) => return come_back(self, desk, at),
            _ => {
                self.scroll.take(&pressed, desk.window);
            }
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        page::draw(frame, area, self, &model.desk, click_targets);
    }
}

/// Opens the record for going on, or goes on from what can be read of it in a new one.
fn go_on(sitting: &PastSession, desk: &mut Desk, at: Stamp) -> Reply {
    let readable = match &sitting.seen {
        PastContent::Whole { .. } => {
            return Reply::asking(vec![Effect::Open(sitting.name.clone()), Effect::ReadRack]);
        }
        PastContent::Before { .. } => {
            return Reply::asking(vec![Effect::GoOnBefore(sitting.name.clone()), Effect::ReadRack]);
        }
        PastContent::InPart { readable, .. } => readable,
    };
    let Some(readable) = readable else {
        desk.say(Notice::Said(phrase::review::NOTHING_TO_GO_ON_WITH.to_owned()));
        return Reply::stay();
    };
    let mut record = (**readable).clone();
    if let Err(misfit) = desk.lay_out(record.clone(), StorageState::NothingYet) {
        record = cut_before(record, misfit.entry);
        if desk.lay_out(record.clone(), StorageState::NothingYet).is_err() {
            return Reply::stay();
        }
    }
    let effects = vec![Effect::Begin { opened: at }, Effect::Keep(Box::new(record))];
    let place = desk.session.as_ref().map(Place::of);
    Reply { effects, go: place.map_or(Go::Stay, Go::FromHome) }
}

/// Has all sessions of the same customer and bike read.
fn compare(sitting: &PastSession, desk: &mut Desk) -> Reply {
    let catalogue = desk.catalogue.as_ref();
    let names = catalogue.map_or_else(Vec::new, |catalogue| of_one_bike(catalogue, &sitting.name));
    let why_not = match names.len() {
        0 => phrase::compare::NAMELESS,
        1 => phrase::compare::ONLY_ONE,
        _ => return Reply::asking(vec![Effect::Compare(names)]),
    };
    desk.say(Notice::Said(why_not.to_owned()));
    Reply::stay()
}

/// The details with the springs the shop has now, where it keeps a rack, and the one on the customer's bike, which is on no
/// rack; else with the springs of the past session.
fn with_shops_springs(details: Vec<Detail>, shop: Vec<Spring>, fitted: Option<&Spring>) -> Vec<Detail> {
    if shop.is_empty() {
        return details;
    }
    let mark = fitted.and_then(Spring::mark);
    // What is on the bike is on no rack, whatever the rack says.
    let shop: Vec<Spring> =
        shop.into_iter().filter(|spring| mark.is_none() || spring.mark() != mark).collect();
    let on_bike = fitted.and_then(|spring| Some(Spring { number: free_numbers(&shop).next()?, ..*spring }));
    // As many as a session takes, the one on the bike among them.
    let room = MOST_SPRINGS - usize::from(on_bike.is_some());
    let springs = shop.into_iter().take(room).chain(on_bike).collect();
    let kept = details
        .into_iter()
        .filter(|detail| !matches!(detail, Detail::Springs(_) | Detail::SpringOnArrival(_)));
    kept.chain([Detail::Springs(springs), Detail::SpringOnArrival(on_bike.map(|spring| spring.number))])
        .collect()
}

/// What a new session of the same rider and bike is told, from their last one; nothing where that came to nothing.
pub(in crate::screen::place) fn for_next_visit(session: &OpenSession, desk: &Desk) -> Vec<Detail> {
    let Some(assessment) = &session.assessment else { return Vec::new() };
    let details =
        next_visit::for_next_visit(session.record.opened, &session.state, assessment, assets::doubts());
    let now = |detail| match detail {
        Detail::Springs(springs) => {
            Detail::Springs(springs.iter().map(|spring| desk.as_known_now(spring)).collect())
        }
        other => other,
    };
    let fitted = session.state.fitted().map(|spring| desk.as_known_now(spring));
    with_shops_springs(details.into_iter().map(now).collect(), desk.shelf.rack.at_hand(), fitted.as_ref())
}

/// Begins a new session for the same rider and bike.
fn come_back(sitting: &PastSession, desk: &mut Desk, at: Stamp) -> Reply {
    let PastContent::Whole { session, .. } = &sitting.seen else { return Reply::stay() };
    let Some(assessment) = &session.assessment else {
        desk.say(Notice::Said(phrase::review::NOTHING_TO_COME_BACK_TO.to_owned()));
        return Reply::stay();
    };
    let mut record = Record::new(at);
    record.intake.origin = session.record.intake.origin;
    if record.intake.origin == Origin::Demonstration {
        desk.say(Notice::Said(phrase::review::STAYS_A_DEMONSTRATION.to_owned()));
    }
    for detail in for_next_visit(session, desk) {
        // All of it was possible before; what one session taught need not be, and is then left out with a word about it.
        if let Err(refusal) = record.intake.enter(detail) {
            desk.say(Notice::Refused(refusal));
        }
    }
    if assessment.sets.is_empty() {
        desk.say(Notice::Said(phrase::review::TAUGHT_NOTHING.to_owned()));
    }
    if desk.lay_out(record.clone(), StorageState::NothingYet).is_err() {
        return Reply::stay();
    }
    let form = Form::resuming(&record.intake);
    Reply {
        effects: vec![Effect::Begin { opened: at }, Effect::Keep(Box::new(record))],
        go: Go::FromHome(form.into()),
    }
}
