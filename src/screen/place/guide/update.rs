//! What every key does in the guided walk.

use std::mem;

use super::choice::{self, DecisionChoice};
use super::trail::{Direction, NOTE_ROW};
use super::{Aside, Guide, Task, entry, list};
use crate::assessment::Forecast;
use crate::phrase;
use crate::screen::click_targets::ViewSize;
use crate::screen::effect::Effect;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::screen::part::spring_ladder;
use crate::screen::place::Component;
use crate::screen::place::intake::Form;
use crate::screen::place::joining::{join, joined};
use crate::screen::place::key_outcome::{DeedsDone, KeyOutcome, start_again};
use crate::screen::place::replay;
use crate::screen::place::sheet::SheetForm;
use crate::screen::place::stroke;
use crate::screen::place::trials::{self, Trials};
use crate::session::state::{CheckAnswer, ReadHow};
use crate::session::{
    Check, Decision, Deed, Detail, Indicator, KerbReturn, ReadingNumber, ReadingSet, Refusal, SpringNumber,
    Stamp, Step, TickAnswer, machine,
};
use crate::text::FreeText;
use crate::units::{Share, UnitSet};

/// Below this chance of the band a spring is asked about before it is taken: the least that is told as a figure.
const HOPELESS: Share = Share::percent(1.0);

/// Takes a key in.
pub(super) fn update(guide: &mut Guide, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
    let Some(session) = &desk.session else { return Reply::going(Go::Back) };
    if pressed == Pressed::Action(Action::Card) {
        let (record, units) = (Box::new(session.record.clone()), desk.units);
        return Reply::asking(vec![Effect::HandOver { record, name: None, units }]);
    }
    if pressed == Pressed::Action(Action::Watch) {
        return replay::watch(session.record.clone(), desk);
    }
    let task = guide.task(session);
    let outcome = match pressed {
        Pressed::Edit(edit) => {
            guide.asked.forget();
            let field = if task.is_aside() { &mut guide.note_field } else { &mut guide.field };
            field.edit(edit);
            KeyOutcome::Shown
        }
        Pressed::Line(place) => {
            guide.asked.forget();
            guide.marked = Some(place);
            KeyOutcome::Shown
        }
        Pressed::Action(action) => act(guide, session, desk, task, action),
    };
    // The stroke of the spring on the bike is an answer to the step, though it corrects the list of springs.
    let beside = if task == Task::Stroke { None } else { beside_the_step(&outcome, session, desk.units) };
    let from_the_list = task == Task::Joins;
    let (reply, done) = outcome.carry_out(desk, at);
    match (done, beside) {
        // What is typed for the step stays.
        (DeedsDone::All, Some(GuideAside { to_say })) => {
            guide.close_aside();
            if from_the_list {
                guide.back_to_springs(desk);
            }
            if let Some(words) = to_say {
                desk.say(Notice::Said(words));
            }
        }
        (DeedsDone::All, None) => *guide = Guide { line: mem::take(&mut guide.line), ..Guide::default() },
        (DeedsDone::NotAll, _) => {}
    }
    reply
}

/// A deed beside the step, and what is to be said once it is done.
struct GuideAside {
    to_say: Option<String>,
}

/// A remark, a void or a spring that joins the list; none where the step itself was done.
fn beside_the_step(outcome: &KeyOutcome, session: &OpenSession, units: UnitSet) -> Option<GuideAside> {
    let KeyOutcome::Deeds(deeds) = outcome else { return None };
    match deeds[..] {
        [Deed::Under(_)] => Some(GuideAside { to_say: None }),
        [Deed::Noted(_)] => Some(GuideAside { to_say: Some(phrase::guide::NOTE_KEPT.to_owned()) }),
        [Deed::Voided { reading, .. }] => {
            let judged = was_judged_by(reading, session);
            Some(GuideAside { to_say: judged.then(|| phrase::guide::VERDICT_RESTED_ON_IT.to_owned()) })
        }
        _ => joined(deeds, units).map(|words| GuideAside { to_say: Some(words) }),
    }
}

/// Whether a verdict already acted on rested on the reading: always once the work has gone on from the verdict, and in the
/// next set for the readings of the earlier ones.
fn was_judged_by(reading: ReadingNumber, session: &OpenSession) -> bool {
    match session.state.step {
        Step::Decision => false,
        Step::SeatIndicator | Step::SeatedReading => {
            let present = session.state.present_set();
            !present.is_some_and(|set| set.readings.iter().any(|one| one.number == reading))
        }
        _ => true,
    }
}

fn act(guide: &mut Guide, session: &OpenSession, desk: &Desk, task: Task, action: Action) -> KeyOutcome {
    let starts_again = guide.asked.is_starting_again();
    if starts_again {
        guide.asked.forget();
    }
    match action {
        Action::Accept if starts_again => KeyOutcome::deed(Deed::StartedAgain),
        Action::Accept => accept(guide, session, desk, task),
        Action::Next | Action::Previous | Action::PageDown | Action::PageUp => {
            guide.asked.forget();
            guide.mark(session, task, action, desk.window);
            KeyOutcome::Shown
        }
        Action::ChoiceRight | Action::ChoiceLeft => {
            let row = guide.trail_row();
            guide
                .answers
                .turn(row, if action == Action::ChoiceRight { Direction::Right } else { Direction::Left });
            KeyOutcome::Shown
        }
        Action::HasNone => match task {
            Task::Tick(check) => KeyOutcome::deed(Deed::Ticked(check, TickAnswer::HasNone)),
            _ => KeyOutcome::Shown,
        },
        Action::Skip if task == Task::Choose => KeyOutcome::deed(Deed::KerbDropped(KerbReturn::NotDone)),
        Action::Skip => skip_check(guide, task),
        Action::Enough => KeyOutcome::deed(Deed::EnoughReadings),
        Action::AllDone => guide.open(Aside::AllDone),
        Action::Undo => KeyOutcome::deed(Deed::Undone),
        Action::Redo => KeyOutcome::deed(Deed::Redone),
        Action::StartAgain => {
            let typing = guide.typing(desk);
            start_again(&mut guide.asked, session, desk.units, typing)
        }
        Action::LateTrail => guide.open(Aside::LateTrail),
        Action::Void => guide.open(Aside::VoidWhich),
        Action::Note => guide.open(Aside::Note),
        Action::Add if task == Task::Springs => guide.open(Aside::Joins),
        Action::Add => choice::offered(session).map_or(KeyOutcome::Shown, |kind| join(&kind, session)),
        Action::Condition => guide.open(Aside::Condition),
        Action::OtherReading => KeyOutcome::deed(other_reading(session)),
        Action::Sheet => KeyOutcome::Go(Go::To(SheetForm::of(session, desk.units).into())),
        Action::Details if session.state.step == Step::Closed => {
            KeyOutcome::Go(Go::To(Form::of_closed(&session.state.entered).into()))
        }
        Action::Details => KeyOutcome::Go(Go::To(Form::new(&session.state.entered).into())),
        Action::OtherMode => to_trials(guide, session),
        Action::Back if task == Task::Joins => guide.open(Aside::Springs),
        Action::Back if task.is_aside() || guide.opened == Aside::LateTrail => {
            guide.close_aside();
            KeyOutcome::Shown
        }
        Action::Back => KeyOutcome::Go(Go::Back),
        _ => KeyOutcome::Shown,
    }
}

/// What guards from harm is refused before a reason is asked for.
fn skip_check(guide: &mut Guide, task: Task) -> KeyOutcome {
    match task {
        Task::Tick(check) if check.guards_from_harm() => {
            KeyOutcome::Say(Notice::Refused(Refusal::CannotBeSkipped(check)))
        }
        _ => guide.open(Aside::Skip),
    }
}

/// Quick trials take readings; from a step that must be finished first there is no way over.
fn to_trials(guide: &mut Guide, session: &OpenSession) -> KeyOutcome {
    let step = session.state.step;
    if trials::can_open_at(step) {
        let trials = Trials::coming_over(mem::take(&mut guide.line), mem::take(&mut guide.field));
        KeyOutcome::Go(Go::Instead(trials.into()))
    } else {
        KeyOutcome::said(phrase::trials::elsewhere(step))
    }
}

/// What Enter comes to.
fn accept(guide: &mut Guide, session: &OpenSession, desk: &Desk, task: Task) -> KeyOutcome {
    let one = KeyOutcome::deed;
    match task {
        Task::Acknowledge(_) => {
            KeyOutcome::Deeds(session.state.cautions_now().into_iter().map(Deed::CautionSeen).collect())
        }
        Task::Stroke => {
            let answer = stroke::answered(guide.field.text(), session, &mut guide.asked, desk.units);
            answer.map_or_else(KeyOutcome::Say, one)
        }
        Task::AllDone => KeyOutcome::Deeds(list::all_done(session)),
        Task::Tick(check) => KeyOutcome::Deeds(ticked(session, check)),
        Task::Seat => one(Deed::IndicatorSeated),
        Task::Choose => chosen(guide, session),
        Task::Trail => trail(guide),
        Task::VoidWhich => match guide.marked_reading(session) {
            Some(number) => guide.open(Aside::VoidWhy(number)),
            None => KeyOutcome::said(phrase::guide::NOTHING_TO_VOID),
        },
        Task::Springs => other_spring(guide, session, desk.units),
        Task::Joins => entry::joining(guide, session, desk).map_or_else(KeyOutcome::Say, one),
        Task::Look => KeyOutcome::Shown,
        _ => entry::deed(guide, session, task, desk.units).map_or_else(KeyOutcome::Say, one),
    }
}

/// The check done; and where the shock was said to have no clip or knob, the checks that would only ask for it again.
fn ticked(session: &OpenSession, check: Check) -> Vec<Deed> {
    let none = (Check::ClipOrKnobOff, CheckAnswer::How(TickAnswer::HasNone));
    let has_none = check == Check::SpringExchanged && session.state.ticks.contains(&none);
    let none_of_these = [Check::ClipSeated, Check::KnobSnug].into_iter().filter(|_| has_none);
    let answered = none_of_these.map(|check| Deed::Ticked(check, TickAnswer::HasNone));
    std::iter::once(Deed::Ticked(check, TickAnswer::Done)).chain(answered).collect()
}

fn chosen(guide: &mut Guide, session: &OpenSession) -> KeyOutcome {
    let choices = choice::choices(session);
    match choices.get(guide.marked_choice(session)) {
        None => KeyOutcome::Shown,
        Some(DecisionChoice::Decide(decision)) => KeyOutcome::deed(Deed::Decided(*decision)),
        Some(DecisionChoice::OtherTurns) => guide.open(Aside::Turns),
        Some(DecisionChoice::OtherSpring) => guide.open(Aside::Springs),
        Some(DecisionChoice::TakeFromShop(kind)) => join(kind, session),
        Some(DecisionChoice::Kerb(returned)) => KeyOutcome::deed(Deed::KerbDropped(*returned)),
        Some(DecisionChoice::Close) => KeyOutcome::deed(Deed::Closed),
        Some(DecisionChoice::MoveTarget(target)) => KeyOutcome::Deeds(vec![
            Deed::Entered(Detail::Target(*target)),
            Deed::Decided(Decision::AnotherRound),
        ]),
    }
}

/// The marked spring of the rack; one that will hardly land in the band is asked about once.
fn other_spring(guide: &mut Guide, session: &OpenSession, units: UnitSet) -> KeyOutcome {
    let Some(to) = guide.marked_spring(session) else { return KeyOutcome::Shown };
    let forecasts = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.forecasts);
    // What cannot be fitted is the walk's to refuse, so only a spring that fits is asked about.
    let hopeless = |forecast: &Forecast| {
        forecast.spring == to && forecast.fit.is_possible() && forecast.chance < HOPELESS
    };
    if forecasts.iter().any(hopeless) {
        let name = phrase::spring(to, &session.state.entered.springs, units);
        if let Err(question) = guide.asked.spring_once(to, phrase::guide::hardly_lands(&name)) {
            return KeyOutcome::Say(question);
        }
    }
    KeyOutcome::deed(Deed::Decided(Decision::Swap { to }))
}

/// The next row, or from the last one the whole report.
fn trail(guide: &mut Guide) -> KeyOutcome {
    let row = guide.trail_row();
    let open = if row < NOTE_ROW {
        guide.answers.of(row).is_none().then_some(row)
    } else {
        guide.answers.first_open()
    };
    if let Some(open) = open {
        guide.marked = Some(open);
        return KeyOutcome::said(phrase::guide::TRAIL_OPEN);
    }
    if row < NOTE_ROW {
        guide.marked = Some(row + 1);
        return KeyOutcome::Shown;
    }
    let report = guide.answers.report(FreeText::new(guide.field.text()));
    report.map_or(KeyOutcome::Shown, |report| KeyOutcome::deed(report.into()))
}

impl Guide {
    fn open(&mut self, opened: Aside) -> KeyOutcome {
        self.opened = opened;
        self.note_field.clear();
        self.marked = None;
        KeyOutcome::Shown
    }

    fn close_aside(&mut self) {
        self.opened = Aside::Nothing;
        self.note_field.clear();
        self.marked = None;
    }

    /// The list of springs again, with the one that joined it last under the mark.
    fn back_to_springs(&mut self, desk: &Desk) {
        let Some(session) = &desk.session else { return };
        let joined = session.state.entered.springs.last().map(|spring| spring.number);
        self.opened = Aside::Springs;
        self.marked = springs(session).iter().position(|number| Some(*number) == joined);
    }

    fn mark(&mut self, session: &OpenSession, task: Task, action: Action, window: ViewSize) {
        let (here, last) = match task {
            Task::Choose => (self.marked_choice(session), choice::choices(session).len().saturating_sub(1)),
            Task::VoidWhich => {
                (self.marked_line_of_readings(session), countable(session).len().saturating_sub(1))
            }
            Task::Springs => (self.marked_line_of_springs(session), springs(session).len().saturating_sub(1)),
            Task::Trail => (self.trail_row(), NOTE_ROW),
            Task::Look => {
                let last = machine::in_effect(&session.record).len().min(window.last);
                (self.marked.unwrap_or(0).min(last), last)
            }
            _ => return,
        };
        let there = match action {
            Action::Next => here + 1,
            Action::Previous => here.saturating_sub(1),
            Action::PageDown => here + 8,
            _ => here.saturating_sub(8),
        };
        self.marked = Some(there.min(last));
    }

    /// The marked choice; the advised one until another is marked.
    pub(super) fn marked_choice(&self, session: &OpenSession) -> usize {
        self.marked.unwrap_or_else(|| choice::marked_first(session))
    }

    /// The marked line of the readings that count: the one that stands apart, or the last, until another is marked.
    pub(super) fn marked_line_of_readings(&self, session: &OpenSession) -> usize {
        let readings = countable(session);
        let sets = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.sets);
        let apart = sets.last().and_then(|set| set.apart);
        let apart = apart.and_then(|number| readings.iter().position(|reading| *reading == number));
        self.marked.or(apart).unwrap_or(readings.len().saturating_sub(1))
    }

    /// The marked line of the rack: the spring that lands best until another is marked. Where the advice names none,
    /// it is the best to fit all the same.
    pub(super) fn marked_line_of_springs(&self, session: &OpenSession) -> usize {
        let assessment = session.assessment.as_ref();
        let best_match = assessment
            .and_then(|assessment| spring_ladder::best_match(assessment).or(assessment.best_to_fit));
        let best_match =
            best_match.and_then(|number| springs(session).iter().position(|spring| *spring == number));
        self.marked.or(best_match).unwrap_or(0)
    }

    fn marked_reading(&self, session: &OpenSession) -> Option<ReadingNumber> {
        countable(session).get(self.marked_line_of_readings(session)).copied()
    }

    fn marked_spring(&self, session: &OpenSession) -> Option<SpringNumber> {
        springs(session).get(self.marked_line_of_springs(session)).copied()
    }
}

/// The readings that count, in the order they were taken.
fn countable(session: &OpenSession) -> Vec<ReadingNumber> {
    session.state.sets.iter().flat_map(ReadingSet::counting).map(|reading| reading.number).collect()
}

/// The springs of the rack, softest first.
fn springs(session: &OpenSession) -> Vec<SpringNumber> {
    let forecasts = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.forecasts);
    forecasts.iter().map(|forecast| forecast.spring).collect()
}

/// From here on the indicator is read in the other way, the rider sitting as before.
fn other_reading(session: &OpenSession) -> Deed {
    let ReadHow { indicator, posture, .. } = session.state.how;
    let indicator = match indicator {
        Indicator::Kept => Indicator::Pushed,
        Indicator::Pushed => Indicator::Kept,
    };
    Deed::ReadHow { indicator, posture }
}
