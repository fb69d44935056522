//! What every key does in the guided walk.

use std::mem;

use super::choice::{self, Choice};
use super::trail::{NOTE_ROW, Turn};
use super::{Guide, Opened, Task, entry};
use crate::assessment::Forecast;
use crate::phrase;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::screen::part::spring_ladder;
use crate::screen::place::came::{Came, Done};
use crate::screen::place::intake::Form;
use crate::screen::place::joining::{join, joined};
use crate::screen::place::trials::{self, Trials};
use crate::session::{
    Decision, Deed, Detail, ReadingNumber, ReadingSet, Refusal, SpringNumber, Stamp, Step, TickedHow, machine,
};
use crate::text::FreeText;
use crate::units::{Share, UnitSet};

/// Below this chance of the band a spring is asked about before it is taken: the least that is told as a figure.
const HOPELESS: Share = Share::percent(1.0);

/// Takes a key in.
pub(super) fn update(guide: &mut Guide, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
    let Some(session) = &desk.session else { return Reply::going(Go::Back) };
    let task = guide.task(session);
    let came = match pressed {
        Pressed::Edit(edit) => {
            guide.asked.forget();
            let field = if task.is_aside() { &mut guide.aside } else { &mut guide.field };
            field.edit(edit);
            Came::Shown
        }
        Pressed::Line(place) => {
            guide.asked.forget();
            guide.marked = Some(place);
            Came::Shown
        }
        Pressed::Action(action) => act(guide, session, desk, task, action),
    };
    let beside = beside_the_step(&came, session, desk.units);
    let from_the_list = task == Task::Joins;
    let (reply, done) = came.carry_out(desk, at);
    match (done, beside) {
        // What is typed for the step stays.
        (Done::All, Some(Beside { to_say })) => {
            guide.close_aside();
            if from_the_list {
                guide.back_to_springs(desk);
            }
            if let Some(words) = to_say {
                desk.say(Notice::Said(words));
            }
        }
        (Done::All, None) => *guide = Guide { line: mem::take(&mut guide.line), ..Guide::default() },
        (Done::NotAll, _) => {}
    }
    reply
}

/// A deed beside the step, and what is to be said once it is done.
struct Beside {
    to_say: Option<String>,
}

/// A remark, a void or a spring that joins the list; none where the step itself was done.
fn beside_the_step(came: &Came, session: &OpenSession, units: UnitSet) -> Option<Beside> {
    let Came::Deeds(deeds) = came else { return None };
    match deeds[..] {
        [Deed::Noted(_)] => Some(Beside { to_say: Some(phrase::guide::NOTE_KEPT.to_owned()) }),
        [Deed::Voided { reading, .. }] => {
            let judged = was_judged_by(reading, session);
            Some(Beside { to_say: judged.then(|| phrase::guide::VERDICT_RESTED_ON_IT.to_owned()) })
        }
        _ => joined(deeds, units).map(|words| Beside { to_say: Some(words) }),
    }
}

/// Whether a verdict already acted on rested on the reading: always once the work has gone on from the verdict, and in the
/// next set for the readings of the earlier ones.
fn was_judged_by(reading: ReadingNumber, session: &OpenSession) -> bool {
    match session.state.step {
        Step::Verdict => false,
        Step::SeatIndicator | Step::SeatedReading => {
            let present = session.state.present_set();
            !present.is_some_and(|set| set.readings.iter().any(|one| one.number == reading))
        }
        _ => true,
    }
}

fn act(guide: &mut Guide, session: &OpenSession, desk: &Desk, task: Task, action: Action) -> Came {
    match action {
        Action::Accept => accept(guide, session, desk, task),
        Action::Next | Action::Previous | Action::PageDown | Action::PageUp => {
            guide.asked.forget();
            guide.mark(session, task, action);
            Came::Shown
        }
        Action::ChoiceRight | Action::ChoiceLeft => {
            let row = guide.trail_row();
            guide.answers.turn(row, if action == Action::ChoiceRight { Turn::Right } else { Turn::Left });
            Came::Shown
        }
        Action::HasNone => match task {
            Task::Tick(check) => Came::deed(Deed::Ticked(check, TickedHow::HasNone)),
            _ => Came::Shown,
        },
        Action::PassOver => pass_over(guide, task),
        Action::Enough => Came::deed(Deed::EnoughReadings),
        Action::TakeBack => Came::deed(Deed::Back),
        Action::StartAnew => Came::deed(Deed::Redo),
        Action::Void => guide.open(Opened::VoidWhich),
        Action::Note => guide.open(Opened::Note),
        Action::Add if task == Task::Springs => guide.open(Opened::Joins),
        Action::Add => choice::offered(session).map_or(Came::Shown, |kind| join(&kind, session)),
        Action::Details => Came::Go(Go::To(Form::new(&session.state.told).into())),
        Action::OtherWay => to_trials(guide, session),
        Action::Back if task == Task::Joins => guide.open(Opened::Springs),
        Action::Back if task.is_aside() => {
            guide.close_aside();
            Came::Shown
        }
        Action::Back => Came::Go(Go::Back),
        _ => Came::Shown,
    }
}

/// What guards from harm is refused before a reason is asked for.
fn pass_over(guide: &mut Guide, task: Task) -> Came {
    match task {
        Task::Tick(check) if check.guards_from_harm() => {
            Came::Say(Notice::Refused(Refusal::CannotBeSkipped(check)))
        }
        _ => guide.open(Opened::PassOver),
    }
}

/// Quick trials take readings; from a step that must be finished first there is no way over.
fn to_trials(guide: &mut Guide, session: &OpenSession) -> Came {
    let step = session.state.step;
    if trials::can_open_at(step) {
        let trials = Trials::coming_over(mem::take(&mut guide.line), mem::take(&mut guide.field));
        Came::Go(Go::Instead(trials.into()))
    } else {
        Came::said(phrase::trials::elsewhere(step))
    }
}

/// What Enter comes to.
fn accept(guide: &mut Guide, session: &OpenSession, desk: &Desk, task: Task) -> Came {
    let one = Came::deed;
    match task {
        Task::Acknowledge(caution) => one(Deed::CautionSeen(caution)),
        Task::Tick(check) => one(Deed::Ticked(check, TickedHow::Done)),
        Task::Seat => one(Deed::IndicatorSeated),
        Task::Choose => chosen(guide, session),
        Task::Trail => trail(guide),
        Task::VoidWhich => match guide.marked_reading(session) {
            Some(number) => guide.open(Opened::VoidWhy(number)),
            None => Came::said(phrase::guide::NOTHING_TO_VOID),
        },
        Task::Springs => other_spring(guide, session, desk.units),
        Task::Joins => entry::joining(guide, session, desk).map_or_else(Came::Say, one),
        Task::Look => Came::Shown,
        _ => entry::deed(guide, session, task, desk.units).map_or_else(Came::Say, one),
    }
}

fn chosen(guide: &mut Guide, session: &OpenSession) -> Came {
    let choices = choice::choices(session);
    match choices.get(guide.marked_choice(session)) {
        None => Came::Shown,
        Some(Choice::Decide(decision)) => Came::deed(Deed::Decided(*decision)),
        Some(Choice::OtherTurns) => guide.open(Opened::Turns),
        Some(Choice::OtherSpring) => guide.open(Opened::Springs),
        Some(Choice::TakeFromShop(kind)) => join(kind, session),
        Some(Choice::Close) => Came::deed(Deed::Closed),
        Some(Choice::MoveAim(aim)) => {
            Came::Deeds(vec![Deed::Told(Detail::Aim(*aim)), Deed::Decided(Decision::AnotherRound)])
        }
    }
}

/// The marked spring of the rack; one that will hardly land in the band is asked about once.
fn other_spring(guide: &mut Guide, session: &OpenSession, units: UnitSet) -> Came {
    let Some(to) = guide.marked_spring(session) else { return Came::Shown };
    let forecasts = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.forecasts);
    // What cannot be fitted is the walk's to refuse, so only a spring that fits is asked about.
    let hopeless = |forecast: &Forecast| {
        forecast.spring == to && forecast.fit.is_possible() && forecast.chance < HOPELESS
    };
    if forecasts.iter().any(hopeless) {
        let name = phrase::spring(to, &session.state.told.rack, units);
        if let Err(question) = guide.asked.spring_once(to, phrase::guide::hardly_lands(&name)) {
            return Came::Say(question);
        }
    }
    Came::deed(Deed::Decided(Decision::Swap { to }))
}

/// The next row, or from the last one the whole report.
fn trail(guide: &mut Guide) -> Came {
    let row = guide.trail_row();
    let open = if row < NOTE_ROW {
        guide.answers.of(row).is_none().then_some(row)
    } else {
        guide.answers.first_open()
    };
    if let Some(open) = open {
        guide.marked = Some(open);
        return Came::said(phrase::guide::TRAIL_OPEN);
    }
    if row < NOTE_ROW {
        guide.marked = Some(row + 1);
        return Came::Shown;
    }
    let report = guide.answers.report(FreeText::new(guide.field.text()));
    report.map_or(Came::Shown, |report| Came::deed(report.into()))
}

impl Guide {
    fn open(&mut self, opened: Opened) -> Came {
        self.opened = opened;
        self.aside.clear();
        self.marked = None;
        Came::Shown
    }

    fn close_aside(&mut self) {
        self.opened = Opened::Nothing;
        self.aside.clear();
        self.marked = None;
    }

    /// The list of springs again, with the one that joined it last under the mark.
    fn back_to_springs(&mut self, desk: &Desk) {
        let Some(session) = &desk.session else { return };
        let joined = session.state.told.rack.last().map(|spring| spring.number);
        self.opened = Opened::Springs;
        self.marked = rack(session).iter().position(|number| Some(*number) == joined);
    }

    fn mark(&mut self, session: &OpenSession, task: Task, action: Action) {
        let (here, last) = match task {
            Task::Choose => (self.marked_choice(session), choice::choices(session).len().saturating_sub(1)),
            Task::VoidWhich => {
                (self.marked_line_of_readings(session), countable(session).len().saturating_sub(1))
            }
            Task::Springs => (self.marked_line_of_springs(session), rack(session).len().saturating_sub(1)),
            Task::Trail => (self.trail_row(), NOTE_ROW),
            Task::Look => (self.marked.unwrap_or(0), machine::in_effect(&session.record).len()),
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
        let landing =
            assessment.and_then(|assessment| spring_ladder::landing(assessment).or(assessment.best_to_fit));
        let landing = landing.and_then(|number| rack(session).iter().position(|spring| *spring == number));
        self.marked.or(landing).unwrap_or(0)
    }

    fn marked_reading(&self, session: &OpenSession) -> Option<ReadingNumber> {
        countable(session).get(self.marked_line_of_readings(session)).copied()
    }

    fn marked_spring(&self, session: &OpenSession) -> Option<SpringNumber> {
        rack(session).get(self.marked_line_of_springs(session)).copied()
    }
}

/// The readings that count, in the order they were taken.
fn countable(session: &OpenSession) -> Vec<ReadingNumber> {
    session.state.sets.iter().flat_map(ReadingSet::counting).map(|reading| reading.number).collect()
}

/// The springs of the rack, softest first.
fn rack(session: &OpenSession) -> Vec<SpringNumber> {
    let forecasts = session.assessment.as_ref().map_or(&[][..], |assessment| &assessment.forecasts);
    forecasts.iter().map(|forecast| forecast.spring).collect()
}
