//! The guided walk: one step at a time, its caution first, then what to do and what to enter.
//!
//! Which step comes next is the machine's to say; here a key becomes a deed. What is wanted at the moment is a `Task`,
//! derived from the state of the walk and from what a key has opened on top of it. Not here: quick trials, and words
//! (`phrase`).

mod body;
mod choice;
mod choice_rows;
mod drawing;
mod enter;
mod entry;
mod list;
mod picture;
mod rail;
mod small;
mod strip;
mod trail;
mod update;

use ratatui::Frame;
use ratatui::layout::Rect;

use super::around::around_of;
use super::key_outcome::ConfirmOnce;
use super::sheet::lies_beside;
use super::{Component, Place, changes_of};
use crate::phrase::{self, places};
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Model, OpenSession, Reply};
use crate::screen::part::field::TextField;
use crate::session::{Awaiting, Caution, Check, ReadingNumber, Stamp, Step, machine};
use crate::units::Turns;
use trail::Answers;

/// What is being typed, marked and asked at the present step.
#[derive(Debug, Default)]
pub struct Guide {
    /// What is typed for the step itself.
    field: TextField,
    /// What is typed for something a key opened on top of the step.
    note_field: TextField,
    opened: Aside,
    /// The marked line of a list, where another than the suggested one was chosen.
    marked: Option<usize>,
    /// The answers of the trail check so far.
    answers: Answers,
    /// What has been asked about.
    asked: ConfirmOnce,
    /// The line of quick trials as it was left before the change over.
    line: TextField,
}

/// What a key opened on top of the step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Aside {
    #[default]
    Nothing,
    Note,
    Skip,
    VoidWhich,
    VoidWhy(ReadingNumber),
    Springs,
    Joins,
    Turns,
    AllDone,
    Condition,
    LateTrail,
}

/// What is wanted at the moment.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Task {
    /// A caution to be acknowledged, with the others that stand beside it.
    Acknowledge(Caution),
    /// The stroke of the spring on the bike.
    Stroke,
    /// Whether every check left of the list is done.
    AllDone,
    /// A check to be ticked.
    Tick(Check),
    /// Where the collar stands; the figure an empty field stands for.
    Collar(Turns),
    /// The indicator to be seated.
    Seat,
    /// A reading.
    Read,
    /// A choice of the list.
    Choose,
    /// The answers of the trail check.
    Trail,
    /// Nothing: the record is shown.
    Look,
    /// A remark.
    Note,
    /// Why the check or step is passed over.
    Skip,
    /// Which reading does not count.
    VoidWhich,
    /// Why it does not.
    VoidWhy(ReadingNumber),
    /// A spring of the rack.
    Springs,
    /// A spring that joins the rack.
    Joins,
    /// A collar position to turn to.
    Turns,
    /// What is otherwise from now on.
    Condition,
}

impl Task {
    /// Whether a key opened it on top of the step.
    const fn is_aside(self) -> bool {
        matches!(
            self,
            Self::Note
                | Self::Skip
                | Self::VoidWhich
                | Self::VoidWhy(_)
                | Self::Springs
                | Self::Joins
                | Self::Turns
                | Self::AllDone
                | Self::Condition
        )
    }
}

impl Guide {
    /// The guided walk come to from quick trials: what is typed for the step, and the line left there.
    pub(super) fn coming_over(step: TextField, line: TextField) -> Self {
        Self { field: step, line, ..Self::default() }
    }

    fn task(&self, session: &OpenSession) -> Task {
        match self.opened {
            Aside::Nothing => of_the_step(session),
            Aside::Note => Task::Note,
            Aside::Skip => Task::Skip,
            Aside::VoidWhich => Task::VoidWhich,
            Aside::VoidWhy(number) => Task::VoidWhy(number),
            Aside::Springs => Task::Springs,
            Aside::Joins => Task::Joins,
            Aside::Turns => Task::Turns,
            Aside::AllDone => Task::AllDone,
            Aside::Condition => Task::Condition,
            Aside::LateTrail => Task::Trail,
        }
    }

    /// The row of the trail check that has the focus.
    fn trail_row(&self) -> usize {
        self.marked.unwrap_or(0).min(trail::NOTE_ROW)
    }
}

impl Component for Guide {
    fn title(&self) -> &'static str {
        places::GUIDE
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        let Some(session) = &desk.session else { return vec![Action::Back] };
        let task = self.task(session);
        let mut live: Vec<Action> = match task {
            Task::Look => {
                let scrolls = [Action::Next, Action::Previous, Action::PageDown, Action::PageUp];
                let again = machine::can_redo(&session.record).then_some(Action::Redo);
                let closed =
                    [Action::Watch, Action::Card, Action::LateTrail, Action::Undo].into_iter().chain(again);
                scrolls.into_iter().chain(closed).chain([Action::Note, Action::Details]).collect()
            }
            Task::Springs => vec![Action::Accept, Action::Next, Action::Previous, Action::Add],
            Task::Choose | Task::VoidWhich => {
                let list = [Action::Accept, Action::Next, Action::Previous].into_iter();
                let offered = task == Task::Choose && choice::offered(session).is_some();
                let at_the_kerb = task == Task::Choose && session.state.step == Step::KerbDrop;
                list.chain(offered.then_some(Action::Add))
                    .chain(at_the_kerb.then_some(Action::Skip))
                    .collect()
            }
            Task::Trail if self.trail_row() == trail::NOTE_ROW => {
                vec![Action::Accept, Action::Next, Action::Previous, Action::Skip]
            }
            Task::Trail => vec![
                Action::Accept,
                Action::Next,
                Action::Previous,
                Action::ChoiceRight,
                Action::ChoiceLeft,
                Action::Skip,
            ],
            Task::Tick(check) if check.may_be_absent() => {
                vec![Action::Accept, Action::HasNone, Action::Skip, Action::AllDone]
            }
            Task::Tick(_) => vec![Action::Accept, Action::Skip, Action::AllDone],
            _ => vec![Action::Accept],
        };
        if self.opened == Aside::LateTrail {
            live.retain(|action| *action != Action::Skip);
        } else if !task.is_aside() && task != Task::Look {
            live.extend(of_the_walk(session));
        }
        live.push(Action::Back);
        live
    }

    fn asks(&self, desk: &Desk) -> bool {
        let Some(session) = &desk.session else { return false };
        match self.task(session) {
            Task::Acknowledge(_)
            | Task::AllDone
            | Task::Tick(_)
            | Task::Seat
            | Task::Choose
            | Task::VoidWhich
            | Task::Springs => true,
            Task::Collar(_) | Task::Stroke if self.field.text().trim().is_empty() => true,
            _ => self.asked.stands(),
        }
    }

    fn guards(&self, desk: &Desk) -> bool {
        match desk.session.as_ref().map(|session| self.task(session)) {
            Some(Task::Acknowledge(_) | Task::AllDone) => true,
            Some(Task::Stroke) => self.field.text().trim().is_empty(),
            Some(Task::Tick(check)) => check.guards_from_harm(),
            _ => false,
        }
    }

    fn typing(&self, desk: &Desk) -> Typing {
        let Some(session) = &desk.session else { return Typing::Nothing };
        match self.task(session) {
            Task::Collar(_) | Task::Read | Task::Joins | Task::Turns | Task::Stroke => Typing::Figure,
            Task::Note | Task::Skip | Task::VoidWhy(_) | Task::Condition => Typing::Text,
            Task::Trail if self.trail_row() == trail::NOTE_ROW => Typing::Text,
            _ => Typing::Nothing,
        }
    }

    fn hint(&self, desk: &Desk) -> Option<String> {
        let session = desk.session.as_ref()?;
        let step_asks = self.opened == Aside::Nothing && session.state.step != Step::Closed;
        step_asks.then(|| phrase::awaiting(session.state.awaiting(), desk.units))
    }

    fn enter(&self, desk: &Desk) -> Option<String> {
        let session = desk.session.as_ref()?;
        let enter = enter::words(self, session, desk)?;
        Some(if self.asked.stands() { phrase::enter::again(&enter) } else { enter })
    }

    fn step(&self, desk: &Desk) -> Option<Step> {
        desk.session.as_ref().map(|open| open.state.step)
    }

    fn figures(&self, desk: &Desk) -> Option<Place> {
        let changes = (self.step(desk) == Some(Step::Decision)).then(|| changes_of(desk)).flatten();
        changes.or_else(|| around_of(desk))
    }

    fn records(&self) -> bool {
        true
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        update::update(self, desk, pressed, at)
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk, click_targets);
    }
}

/// What the walk itself waits for.
fn of_the_step(session: &OpenSession) -> Task {
    match session.state.awaiting() {
        Awaiting::Acknowledgement(Caution::FittedStrokeUnknown) => Task::Stroke,
        Awaiting::Acknowledgement(caution) => Task::Acknowledge(caution),
        Awaiting::Tick(check) => Task::Tick(check),
        Awaiting::ContactTurns => Task::Collar(Turns::ZERO),
        Awaiting::PreloadTurns(to) => Task::Collar(to),
        Awaiting::Indicator => Task::Seat,
        Awaiting::Reading => Task::Read,
        Awaiting::Decision | Awaiting::FirstSpring | Awaiting::KerbReturn | Awaiting::CloseOrAnotherRound => {
            Task::Choose
        }
        Awaiting::TrailReport => Task::Trail,
        Awaiting::Nothing | Awaiting::Details => Task::Look,
    }
}

/// What can be asked for at most steps.
fn of_the_walk(session: &OpenSession) -> Vec<Action> {
    let reading = matches!(session.state.step, Step::SeatIndicator | Step::SeatedReading);
    let counting = session.state.present_set().is_some_and(|set| set.counting().next().is_some());
    let any = session.state.sets.iter().any(|set| set.counting().next().is_some());
    let mut live = Vec::new();
    if reading && counting {
        live.push(Action::Enough);
    }
    if any {
        live.push(Action::Void);
    }
    if reading {
        live.push(Action::OtherReading);
    }
    if (reading || session.state.step == Step::Decision) && session.state.present_set().is_some() {
        live.push(Action::Condition);
    }
    if lies_beside(session.state.step) {
        live.push(Action::Sheet);
    }
    live.push(Action::Undo);
    live.extend(machine::can_redo(&session.record).then_some(Action::Redo));
    live.extend([Action::StartAgain, Action::Note, Action::Details, Action::OtherMode]);
    live
}
