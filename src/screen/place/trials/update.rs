//! What every key does in quick trials.

use std::mem;

use super::line::{self, CommandFault, LineCommand};
use super::{PendingSwap, TrialStage, Trials};
use crate::phrase;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::screen::part::field::TextField;
use crate::screen::place::Component;
use crate::screen::place::guide::Guide;
use crate::screen::place::intake::Form;
use crate::screen::place::joining::{Joining, join, joined};
use crate::screen::place::key_outcome::{DeedsDone, KeyOutcome, start_again};
use crate::screen::place::stroke;
use crate::session::limits;
use crate::session::{Caution, Deed, ReadingNumber, Refusal, Stamp, Step, machine};
use crate::text::FreeText;
use crate::units::{Length, Quantity, Turns, UnitSet, parse};

/// Takes a key in.
pub(super) fn update(trials: &mut Trials, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
    let Some(session) = &desk.session else { return Reply::going(Go::Back) };
    let accepts = pressed == Pressed::Action(Action::Accept);
    if pressed == Pressed::Action(Action::Back) && trials.changing.is_none() {
        desk.line_left = Some((session.record.opened, trials.field.text().to_owned()));
    }
    let outcome = match pressed {
        Pressed::Edit(edit) => {
            trials.asked.forget();
            trials.field.edit(edit);
            KeyOutcome::Shown
        }
        Pressed::Line(_) => KeyOutcome::Shown,
        Pressed::Action(action) => act(trials, session, desk, action, at),
    };
    let asks_stroke = matches!(trials.stage(session), TrialStage::Stroke(_));
    let beside = if asks_stroke { None } else { beside_the_line(&outcome, desk.units) };
    let (reply, done) = outcome.carry_out(desk, at);
    match (done, beside) {
        // What is typed on the line stays beside a spring that only joined the list.
        (DeedsDone::All, Some(TrialsAside { to_say, line })) => {
            trials.done(if line == LineFate::Stays { Kept::Line } else { Kept::Nothing });
            desk.say(Notice::Said(to_say));
        }
        (DeedsDone::All, None) => trials.done(if accepts { Kept::Nothing } else { Kept::Line }),
        (DeedsDone::NotAll, _) => {}
    }
    reply
}

/// What stays of a line once something was done.
#[derive(Clone, Copy, PartialEq)]
enum Kept {
    Line,
    Nothing,
}

impl Trials {
    /// Something was done: the line is to be had again, or stays as it was typed.
    fn done(&mut self, kept: Kept) {
        let (mut before, field) = (mem::take(&mut self.before), mem::take(&mut self.field));
        let field = if kept == Kept::Line {
            field
        } else {
            before.took_in(field.text());
            TextField::default()
        };
        *self = Self { field, before, ..Self::default() };
    }
}

/// A deed beside the trials: what is to be said once it is done, and what becomes of the line.
struct TrialsAside {
    to_say: String,
    line: LineFate,
}

/// What becomes of the line that is typed.
#[derive(PartialEq)]
enum LineFate {
    Stays,
    Goes,
}

/// A remark, or a spring that joins the list.
fn beside_the_line(outcome: &KeyOutcome, units: UnitSet) -> Option<TrialsAside> {
    let KeyOutcome::Deeds(deeds) = outcome else { return None };
    match &deeds[..] {
        [Deed::Noted(_)] => {
            Some(TrialsAside { to_say: phrase::guide::NOTE_KEPT.to_owned(), line: LineFate::Goes })
        }
        deeds => joined(deeds, units).map(|to_say| TrialsAside { to_say, line: LineFate::Stays }),
    }
}

fn act(trials: &mut Trials, session: &OpenSession, desk: &Desk, action: Action, at: Stamp) -> KeyOutcome {
    let starts_again = trials.asked.is_starting_again();
    if starts_again {
        trials.asked.forget();
    }
    match action {
        Action::Accept if starts_again => KeyOutcome::deed(Deed::StartedAgain),
        Action::Accept => accept(trials, session, desk, at),
        Action::Add => session.offered().map_or(KeyOutcome::Shown, |kind| join(&kind, session)),
        Action::Undo => KeyOutcome::deed(Deed::Undone),
        Action::Redo => KeyOutcome::deed(Deed::Redone),
        Action::StartAgain => {
            let typing = trials.typing(desk);
            start_again(&mut trials.asked, session, desk.units, typing)
        }
        Action::Details => KeyOutcome::Go(Go::To(Form::new(&session.state.entered).into())),
        Action::OtherMode => to_the_guide(trials),
        Action::Previous => {
            trials.field =
                trials.before.earlier(&trials.field).unwrap_or_else(|| mem::take(&mut trials.field));
            KeyOutcome::Shown
        }
        Action::Next => {
            trials.field = trials.before.later().unwrap_or_else(|| mem::take(&mut trials.field));
            KeyOutcome::Shown
        }
        Action::PageUp => {
            let unseen = super::table::lines_of(session).saturating_sub(1).min(desk.window.last);
            trials.below = (trials.below + desk.window.page().div_ceil(2)).min(unseen);
            KeyOutcome::Shown
        }
        Action::PageDown => {
            trials.below = trials.below.saturating_sub(desk.window.page().div_ceil(2));
            KeyOutcome::Shown
        }
        Action::Back if trials.changing.is_some() => {
            trials.changing = None;
            KeyOutcome::Shown
        }
        Action::Back => KeyOutcome::Go(Go::Back),
        _ => KeyOutcome::Shown,
    }
}

/// The line stays behind, to be found again.
fn to_the_guide(trials: &mut Trials) -> KeyOutcome {
    let guide = Guide::coming_over(mem::take(&mut trials.step), mem::take(&mut trials.field));
    KeyOutcome::Go(Go::Instead(guide.into()))
}

/// What Enter comes to.
fn accept(trials: &mut Trials, session: &OpenSession, desk: &Desk, at: Stamp) -> KeyOutcome {
    match trials.stage(session) {
        TrialStage::Hazard(hazard) => KeyOutcome::deed(Deed::CautionSeen(hazard.caution())),
        TrialStage::Stroke(_) => {
            let answer = stroke::answered(trials.field.text(), session, &mut trials.asked, desk.units);
            answer.map_or_else(KeyOutcome::Say, KeyOutcome::deed)
        }
        TrialStage::Cautions(cautions) => {
            KeyOutcome::Deeds(cautions.into_iter().map(Deed::CautionSeen).collect())
        }
        TrialStage::Collar => match collar(trials, session, desk.units) {
            Ok(preload_turns) => KeyOutcome::deed(Deed::TrialsOpened { preload_turns }),
            Err(notice) => KeyOutcome::Say(notice),
        },
        TrialStage::Line => order(trials, session, desk, at),
        TrialStage::Change(change) => KeyOutcome::Deeds(refitting(session, change)),
    }
}

/// Where the collar stands as trials begin; nothing typed is contact.
fn collar(trials: &mut Trials, session: &OpenSession, units: UnitSet) -> Result<Turns, Notice> {
    let text = trials.field.text().trim();
    if text.is_empty() {
        return Ok(Turns::ZERO);
    }
    let turns = parse::turns(text).map_err(Notice::Unreadable)?.value;
    trials.asked.found_once(turns, session.state.setup.as_ref(), units)?;
    Ok(turns)
}

/// What the line comes to.
fn order(trials: &mut Trials, session: &OpenSession, desk: &Desk, at: Stamp) -> KeyOutcome {
    let Some(setup) = &session.state.setup else { return KeyOutcome::Shown };
    let hand = super::drawing::hand(setup, session, desk);
    if trials.field.text().trim().is_empty() {
        return KeyOutcome::Say(Notice::Unreadable(line::nothing_typed()));
    }
    let order = match line::read(trials.field.text(), hand, desk.units) {
        Ok(order) => order,
        Err(CommandFault::Figure(unreadable)) => return KeyOutcome::Say(Notice::Unreadable(unreadable)),
        Err(CommandFault::Said(sentence)) => return KeyOutcome::said(sentence),
    };
    let one = KeyOutcome::deed;
    match order {
        LineCommand::Trial(_) | LineCommand::Trials(_) | LineCommand::Slip(..)
            if session.state.on_bike.fitted.is_none() =>
        {
            KeyOutcome::said(phrase::trials::NO_SPRING_YET)
        }
        LineCommand::Trial(reading) => trials
            .asked
            .reading_once(reading, session, desk.units)
            .map_or_else(KeyOutcome::Say, |()| one(Deed::Trial { reading })),
        LineCommand::Trials(readings) => several(trials, readings),
        LineCommand::Collar(preload_turns) => set_collar(trials, session, preload_turns, at),
        LineCommand::Slip(reading, because) => {
            let number = session.record.next_reading();
            KeyOutcome::Deeds(vec![Deed::Trial { reading }, Deed::Voided { reading: number, because }])
        }
        LineCommand::Void(readings, because) => void(trials, readings, &because, desk),
        LineCommand::Under(condition) => one(Deed::Under(condition)),
        LineCommand::Note(note) => one(Deed::Noted(note)),
        LineCommand::Indicator(indicator) => {
            one(Deed::ReadHow { indicator, posture: session.state.how.posture })
        }
        LineCommand::Posture(posture) => {
            one(Deed::ReadHow { indicator: session.state.how.indicator, posture })
        }
        LineCommand::Gap(gap) => one(Deed::GapLookedFor(gap)),
        LineCommand::Risen(reading) => one(Deed::Risen { reading }),
        LineCommand::Undo => one(Deed::Undone),
        LineCommand::Redo => one(Deed::Redone),
        LineCommand::Change(change) => {
            let agreed = |joining: Joining| joining.agreed(setup, &mut trials.asked, desk.units);
            if let Some(Err(notice)) = change.joins.map(agreed) {
                return KeyOutcome::Say(notice);
            }
            if let Some(refusal) = refused(session, refitting(session, change), at) {
                return KeyOutcome::Say(Notice::Refused(refusal));
            }
            trials.changing = Some(change);
            KeyOutcome::Shown
        }
    }
}

/// Several readings at once, asked about once.
fn several(trials: &mut Trials, readings: Vec<Length>) -> KeyOutcome {
    let unusual = |reading: &&Length| limits::Figure::Reading.is_unusual(Quantity::Length(**reading));
    let odd = readings.iter().find(unusual).or(readings.first()).copied().unwrap_or_default();
    let asked = trials.asked.once(limits::Figure::Reading, Quantity::Length(odd));
    asked.map_or_else(KeyOutcome::Say, |()| {
        KeyOutcome::Deeds(readings.into_iter().map(|reading| Deed::Trial { reading }).collect())
    })
}

/// Readings that do not count; a reason that is a figure is asked about.
fn void(trials: &mut Trials, readings: Vec<ReadingNumber>, because: &FreeText, desk: &Desk) -> KeyOutcome {
    let Some(first) = readings.first() else { return KeyOutcome::Shown };
    let voided = |reading| Deed::Voided { reading, because: because.clone() };
    trials
        .asked
        .reason_once(*first, because, desk.units)
        .map_or_else(KeyOutcome::Say, |()| KeyOutcome::Deeds(readings.into_iter().map(voided).collect()))
}

/// The collar set by the line: what is refused is refused before an unusual figure is asked about.
fn set_collar(trials: &mut Trials, session: &OpenSession, preload_turns: Turns, at: Stamp) -> KeyOutcome {
    let deed = Deed::PreloadSet { preload_turns };
    if let Some(refusal) = refused(session, vec![deed.clone()], at) {
        return KeyOutcome::Say(Notice::Refused(refusal));
    }
    let asked = trials.asked.once(limits::Figure::PreloadTurns, Quantity::Turns(preload_turns));
    asked.map_or_else(KeyOutcome::Say, |()| KeyOutcome::deed(deed))
}

/// Why deeds would be refused, before anybody is asked to confirm them.
fn refused(session: &OpenSession, deeds: Vec<Deed>, at: Stamp) -> Option<Refusal> {
    let mut trial = session.record.clone();
    deeds.into_iter().find_map(|deed| machine::advance(&mut trial, at, deed).err())
}

/// The spring joining the list where it is not on it, the cautions of the change, and the change.
fn refitting(session: &OpenSession, change: PendingSwap) -> Vec<Deed> {
    let PendingSwap { spring, preload_turns, joins } = change;
    let joined = joins.zip(session.state.setup.as_ref()).map(|(joining, setup)| joining.deed(setup));
    let seen = cautions(session, change).into_iter().map(Deed::CautionSeen);
    joined.into_iter().chain(seen).chain([Deed::Swapped { spring, preload_turns }]).collect()
}

/// The cautions of a change of spring that stand in full: that of a loaded spring at every change, the others until they
/// were read.
pub(super) fn cautions(session: &OpenSession, change: PendingSwap) -> Vec<Caution> {
    let (_, unread) = of_change(session, change);
    unread
}

/// Those that were read before.
pub(super) fn read_before(session: &OpenSession, change: PendingSwap) -> Vec<Caution> {
    let (read, _) = of_change(session, change);
    read
}

/// The cautions of a change of spring, read before or not; that it binds, only where nobody can tell from the rack.
fn of_change(session: &OpenSession, change: PendingSwap) -> (Vec<Caution>, Vec<Caution>) {
    let listed = session.state.setup.as_ref().and_then(|setup| setup.spring(change.spring));
    let spring = change.joins.as_ref().map(|joining| &joining.spring).or(listed);
    let binding = spring.is_some_and(|spring| spring.stroke.is_none()).then_some(Caution::SpringBinds);
    let all = [Caution::LoadedSpring, Caution::FlyingClip, Caution::LooseBolts].into_iter().chain(binding);
    all.partition(|caution| !caution.every_time() && session.state.cautions.settled(*caution))
}

/// Whether trials can be taken where the walk stands.
pub fn can_open_at(step: Step) -> bool {
    matches!(
        step,
        Step::BenchCheck | Step::Unload | Step::SeatIndicator | Step::SeatedReading | Step::Decision
    )
}
