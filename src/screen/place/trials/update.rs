//! What every key does in quick trials.

use std::mem;

use super::line::{self, Hand, Order, Unclear};
use super::{Change, Stage, Trials};
use crate::phrase;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::screen::part::field::Field;
use crate::screen::place::came::{Came, Done};
use crate::screen::place::guide::Guide;
use crate::screen::place::intake::Form;
use crate::screen::place::joining::{Joining, join, joined};
use crate::session::limits;
use crate::session::{Caution, Deed, Refusal, Stamp, Step, machine};
use crate::units::{Quantity, Turns, UnitSet, parse};

/// Takes a key in.
pub(super) fn update(trials: &mut Trials, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
    let Some(session) = &desk.session else { return Reply::going(Go::Back) };
    let came = match pressed {
        Pressed::Edit(edit) => {
            trials.asked.forget();
            trials.field.edit(edit);
            Came::Shown
        }
        Pressed::Line(_) => Came::Shown,
        Pressed::Action(action) => act(trials, session, desk, action, at),
    };
    let beside = beside_the_line(&came, desk.units);
    let (reply, done) = came.carry_out(desk, at);
    match (done, beside) {
        // What is typed on the line stays beside a spring that only joined the list.
        (Done::All, Some(Beside { to_say, line })) => {
            let field = if line == Line::Stays { mem::take(&mut trials.field) } else { Field::default() };
            *trials = Trials { field, ..Trials::default() };
            desk.say(Notice::Said(to_say));
        }
        (Done::All, None) => *trials = Trials::default(),
        (Done::NotAll, _) => {}
    }
    reply
}

/// A deed beside the trials: what is to be said once it is done, and what becomes of the line.
struct Beside {
    to_say: String,
    line: Line,
}

/// What becomes of the line that is typed.
#[derive(PartialEq)]
enum Line {
    Stays,
    Goes,
}

/// A remark, or a spring that joins the list.
fn beside_the_line(came: &Came, units: UnitSet) -> Option<Beside> {
    let Came::Deeds(deeds) = came else { return None };
    match &deeds[..] {
        [Deed::Noted(_)] => Some(Beside { to_say: phrase::guide::NOTE_KEPT.to_owned(), line: Line::Goes }),
        deeds => joined(deeds, units).map(|to_say| Beside { to_say, line: Line::Stays }),
    }
}

fn act(trials: &mut Trials, session: &OpenSession, desk: &Desk, action: Action, at: Stamp) -> Came {
    match action {
        Action::Accept => accept(trials, session, desk, at),
        Action::Add => session.offered().map_or(Came::Shown, |kind| join(&kind, session)),
        Action::TakeBack => Came::deed(Deed::Back),
        Action::StartAnew => Came::deed(Deed::Redo),
        Action::Details => Came::Go(Go::To(Form::new(&session.state.told).into())),
        Action::OtherWay => to_the_guide(trials),
        Action::PageUp => {
            trials.below = (trials.below + 6).min(super::table::lines_of(session).saturating_sub(1));
            Came::Shown
        }
        Action::PageDown => {
            trials.below = trials.below.saturating_sub(6);
            Came::Shown
        }
        Action::Back if trials.changing.is_some() => {
            trials.changing = None;
            Came::Shown
        }
        Action::Back => Came::Go(Go::Back),
        _ => Came::Shown,
    }
}

/// The line stays behind, to be found again.
fn to_the_guide(trials: &mut Trials) -> Came {
    let guide = Guide::coming_over(mem::take(&mut trials.step), mem::take(&mut trials.field));
    Came::Go(Go::Instead(guide.into()))
}

/// What Enter comes to.
fn accept(trials: &mut Trials, session: &OpenSession, desk: &Desk, at: Stamp) -> Came {
    match trials.stage(session) {
        Stage::Cautions(cautions) => Came::Deeds(cautions.into_iter().map(Deed::CautionSeen).collect()),
        Stage::Collar => match collar(trials, session, desk.units) {
            Ok(past_contact) => Came::deed(Deed::TrialsOpened { past_contact }),
            Err(notice) => Came::Say(notice),
        },
        Stage::Line => order(trials, session, desk, at),
        Stage::Change(change) => Came::Deeds(refitting(session, change)),
    }
}

/// Where the collar stands as trials begin; nothing typed is contact.
fn collar(trials: &mut Trials, session: &OpenSession, units: UnitSet) -> Result<Turns, Notice> {
    let text = trials.field.text().trim();
    if text.is_empty() {
        return Ok(Turns::ZERO);
    }
    let turns = parse::turns(text).map_err(Notice::Unreadable)?.value;
    let allowed = session.state.setup.as_ref().map_or(turns, |setup| setup.shock.turns_allowed);
    trials.asked.found_once(turns, allowed, units)?;
    Ok(turns)
}

/// What the line comes to.
fn order(trials: &mut Trials, session: &OpenSession, desk: &Desk, at: Stamp) -> Came {
    let Some(setup) = &session.state.setup else { return Came::Shown };
    let hand = Hand { setup, shop: desk.shelf.rack.kinds() };
    if trials.field.text().trim().is_empty() {
        return Came::Say(Notice::Unreadable(line::nothing_typed()));
    }
    let order = match line::read(trials.field.text(), hand, desk.units) {
        Ok(order) => order,
        Err(Unclear::Figure(unreadable)) => return Came::Say(Notice::Unreadable(unreadable)),
        Err(Unclear::Said(sentence)) => return Came::said(sentence),
    };
    let one = Came::deed;
    match order {
        Order::Trial(_) if session.state.bench.fitted.is_none() => Came::said(phrase::trials::NO_SPRING_YET),
        Order::Trial(moved) => trials
            .asked
            .once(limits::Field::Reading, Quantity::Length(moved))
            .map_or_else(Came::Say, |()| one(Deed::Trial { moved })),
        Order::Collar(past_contact) => set_collar(trials, session, past_contact, at),
        Order::Void(reading, because) => trials
            .asked
            .reason_once(reading, &because, desk.units)
            .map_or_else(Came::Say, |()| one(Deed::Voided { reading, because })),
        Order::Note(note) => one(Deed::Noted(note)),
        Order::Change(change) => {
            let agreed = |joining: Joining| joining.agreed(setup, &mut trials.asked, desk.units);
            if let Some(Err(notice)) = change.joins.map(agreed) {
                return Came::Say(notice);
            }
            if let Some(refusal) = refused(session, refitting(session, change), at) {
                return Came::Say(Notice::Refused(refusal));
            }
            trials.changing = Some(change);
            Came::Shown
        }
    }
}

/// The collar set by the line: what is refused is refused before an unusual figure is asked about.
fn set_collar(trials: &mut Trials, session: &OpenSession, past_contact: Turns, at: Stamp) -> Came {
    let deed = Deed::Trimmed { past_contact };
    if let Some(refusal) = refused(session, vec![deed.clone()], at) {
        return Came::Say(Notice::Refused(refusal));
    }
    let asked = trials.asked.once(limits::Field::TurnsPastContact, Quantity::Turns(past_contact));
    asked.map_or_else(Came::Say, |()| Came::deed(deed))
}

/// Why deeds would be refused, before anybody is asked to confirm them.
fn refused(session: &OpenSession, deeds: Vec<Deed>, at: Stamp) -> Option<Refusal> {
    let mut trial = session.record.clone();
    deeds.into_iter().find_map(|deed| machine::advance(&mut trial, at, deed).err())
}

/// The spring joining the list where it is not on it, the cautions of the change, and the change.
fn refitting(session: &OpenSession, change: Change) -> Vec<Deed> {
    let Change { spring, past_contact, joins } = change;
    let joined = joins.zip(session.state.setup.as_ref()).map(|(joining, setup)| joining.deed(setup));
    let seen = cautions(session, change).into_iter().map(Deed::CautionSeen);
    joined.into_iter().chain(seen).chain([Deed::Refitted { spring, past_contact }]).collect()
}

/// The cautions of a change of spring: that it binds, only where nobody can tell from the rack.
pub(super) fn cautions(session: &OpenSession, change: Change) -> Vec<Caution> {
    let listed = session.state.setup.as_ref().and_then(|setup| setup.spring(change.spring));
    let spring = change.joins.as_ref().map(|joining| &joining.spring).or(listed);
    let binding = spring.is_some_and(|spring| spring.stroke.is_none()).then_some(Caution::SpringBinds);
    [Caution::LoadedSpring, Caution::LooseBolts].into_iter().chain(binding).collect()
}

/// Whether trials can be taken where the walk stands.
pub fn can_open_at(step: Step) -> bool {
    matches!(
        step,
        Step::BenchCheck | Step::Unload | Step::SeatIndicator | Step::SeatedReading | Step::Verdict
    )
}
