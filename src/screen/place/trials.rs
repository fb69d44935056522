//! Quick trials: sag after sag, for a rider who knows the way and has a helper.
//!
//! One line takes everything: a figure is a trial, `s 450` changes the spring, `t 1` sets the collar (`line`). The cautions
//! stand before the first trial and before every change of spring. Record and assessment are those of the guided walk, so
//! one may change over at any time. Not here: words (`phrase`), and what is legal when (`session::machine`).

mod drawing;
mod line;
mod round;
mod sets;
mod small;
mod spring_line;
mod table;
mod update;

use ratatui::Frame;
use ratatui::layout::Rect;
pub use update::can_open_at;

use super::joining::Joining;
use super::key_outcome::ConfirmOnce;
use super::{Component, Place, changes_of};
use crate::phrase::{self, places};
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::keys::{Action, Edit, Pressed, Typing};
use crate::screen::model::{Desk, Model, OpenSession, Reply};
use crate::screen::part::field::TextField;
use crate::session::{Caution, Hazard, Spring, SpringNumber, Stamp, Step, machine};
use crate::units::{Turns, UnitSet};

/// What is being typed and asked.
#[derive(Debug, Default)]
pub struct Trials {
    field: TextField,
    /// A change of spring whose cautions are shown.
    changing: Option<PendingSwap>,
    /// An unusual figure that has been asked about.
    asked: ConfirmOnce,
    /// How many lines of the table lie below its lower edge.
    below: usize,
    /// What was typed for the step of the guided walk before the change over.
    step: TextField,
    before: TakenLines,
}

/// The lines that were taken in, to be had again.
#[derive(Debug, Default)]
struct TakenLines {
    lines: Vec<String>,
    /// Which of them stands in the field.
    at: Option<usize>,
    /// What stood in the field before one was asked for.
    typed: TextField,
}

impl TakenLines {
    /// The line before the one in the field; none where there is none.
    fn earlier(&mut self, field: &TextField) -> Option<TextField> {
        let at = self.at.unwrap_or(self.lines.len()).checked_sub(1)?;
        if self.at.is_none() {
            self.typed = field.clone();
        }
        self.at = Some(at);
        self.lines.get(at).map(|line| TextField::holding(line))
    }

    /// The line after it, and after the last what was being typed.
    fn later(&mut self) -> Option<TextField> {
        let at = self.at? + 1;
        self.at = (at < self.lines.len()).then_some(at);
        Some(
            self.lines
                .get(at)
                .map_or_else(|| std::mem::take(&mut self.typed), |line| TextField::holding(line)),
        )
    }

    /// Takes note of a line that was taken in.
    fn took_in(&mut self, line: &str) {
        self.at = None;
        if !line.trim().is_empty() {
            self.lines.push(line.to_owned());
        }
    }
}

/// A change of spring.
#[derive(Debug, Clone, Copy, PartialEq)]
struct PendingSwap {
    spring: SpringNumber,
    preload_turns: Turns,
    /// The spring, where it is not on the session's list yet.
    joins: Option<Joining>,
}

impl PendingSwap {
    /// The change as something to do, and that the spring joins the list.
    fn words(&self, rack: &[Spring], units: UnitSet) -> String {
        let name = self.joins.map_or_else(
            || phrase::spring(self.spring, rack, units),
            |joining| format!("{} ({})", joining.name(units), joining.words()),
        );
        phrase::trials::change_to(&name, self.preload_turns, units)
    }
}

/// What is wanted at the moment.
#[derive(Debug, Clone, PartialEq)]
enum TrialStage {
    /// A hazard of the spring on the bike to be acknowledged.
    Hazard(Hazard),
    /// The stroke of the spring on the bike is asked for.
    Stroke(Hazard),
    /// Cautions to be acknowledged before the first trial.
    Cautions(Vec<Caution>),
    /// Where the collar stands as trials begin.
    Collar,
    /// A line.
    Line,
    /// The cautions of a change of spring to be acknowledged.
    Change(PendingSwap),
}

/// The cautions before the measuring.
const BEFORE: [Caution; 2] = [Caution::BikeSteady, Caution::LooseCollar];
/// Those of the measuring itself.
const MEASURING: [Caution; 4] =
    [Caution::ShaftScratch, Caution::CrushedFingers, Caution::SitGently, Caution::DriveOn];

impl Trials {
    /// Trials come to from the guided walk: the line as it was left here, and what is typed for the step there.
    pub(super) fn coming_over(line: TextField, step: TextField) -> Self {
        Self { field: line, step, ..Self::default() }
    }

    /// The line as it was when somebody went away.
    pub(in crate::screen) fn take_up(&mut self, line: &str) {
        self.field = TextField::holding(line);
    }

    fn stage(&self, session: &OpenSession) -> TrialStage {
        if let Some(change) = self.changing {
            return TrialStage::Change(change);
        }
        let hazards = session.state.pending_hazards();
        let (grave, unknown): (Vec<_>, Vec<_>) =
            hazards.into_iter().partition(|hazard| hazard.forbids_riding());
        if let [hazard, ..] = grave[..] {
            return TrialStage::Hazard(hazard);
        }
        let unseen = |wanted: &[Caution]| -> Vec<Caution> {
            let ever = &session.state.cautions.ever;
            wanted.iter().copied().filter(|caution| !ever.contains(caution)).collect()
        };
        let before = matches!(session.state.step, Step::BenchCheck | Step::Unload);
        let of_the_work = if before { unseen(&BEFORE) } else { Vec::new() };
        let unseen = if of_the_work.is_empty() { unseen(&MEASURING) } else { of_the_work };
        match unknown[..] {
            _ if !unseen.is_empty() => TrialStage::Cautions(unseen),
            [hazard, ..] => TrialStage::Stroke(hazard),
            _ if before => TrialStage::Collar,
            // Anywhere else the walk itself refuses a trial, in its own words.
            _ => TrialStage::Line,
        }
    }
}

impl Component for Trials {
    fn title(&self) -> &'static str {
        places::TRIALS
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        let Some(session) = &desk.session else { return vec![Action::Back] };
        let mut live = vec![Action::Accept];
        match self.stage(session) {
            TrialStage::Change(_) => {}
            TrialStage::Line => {
                live.push(Action::PageUp);
                live.extend((self.below > 0).then_some(Action::PageDown));
                live.extend((!self.before.lines.is_empty()).then_some(Action::Previous));
                live.extend(self.before.at.map(|_| Action::Next));
                live.extend(session.offered().map(|_| Action::Add));
                live.push(Action::Undo);
                live.extend(machine::can_redo(&session.record).then_some(Action::Redo));
                live.extend([Action::StartAgain, Action::Details, Action::OtherMode]);
            }
            TrialStage::Hazard(_) | TrialStage::Stroke(_) => {
                live.extend([Action::Undo, Action::Details, Action::OtherMode]);
            }
            TrialStage::Cautions(_) | TrialStage::Collar => {
                live.extend([Action::Details, Action::OtherMode]);
            }
        }
        live.push(Action::Back);
        live
    }

    fn takes_spring(&self, desk: &Desk) -> bool {
        let stage = desk.session.as_ref().map(|session| self.stage(session));
        matches!(stage, Some(TrialStage::Line)) && desk.only_to_look_at().is_none()
    }

    /// The line asks for the swap; Enter there goes on to its cautions.
    fn take_spring(&mut self, desk: &Desk, spring: usize) {
        let Some(spring) = desk.shelf.rack.kinds().get(spring) else { return };
        self.asked.forget();
        self.field.edit(Edit::DeleteAll);
        self.field.edit(Edit::Insert(phrase::trials::swap_to(spring, desk.units)));
    }

    fn asks(&self, desk: &Desk) -> bool {
        match desk.session.as_ref().map(|session| self.stage(session)) {
            Some(TrialStage::Hazard(_) | TrialStage::Cautions(_) | TrialStage::Change(_)) => true,
            Some(TrialStage::Collar | TrialStage::Stroke(_)) if self.field.text().trim().is_empty() => true,
            _ => self.asked.stands(),
        }
    }

    fn guards(&self, desk: &Desk) -> bool {
        let stage = desk.session.as_ref().map(|session| self.stage(session));
        match stage {
            Some(TrialStage::Stroke(_)) => self.field.text().trim().is_empty(),
            stage => {
                matches!(stage, Some(TrialStage::Hazard(_) | TrialStage::Cautions(_) | TrialStage::Change(_)))
            }
        }
    }

    fn typing(&self, desk: &Desk) -> Typing {
        match desk.session.as_ref().map(|session| self.stage(session)) {
            Some(TrialStage::Line) if line::is_free_text(self.field.text()) => Typing::Text,
            Some(TrialStage::Collar | TrialStage::Line | TrialStage::Stroke(_)) => Typing::Figure,
            _ => Typing::Nothing,
        }
    }

    fn hint(&self, desk: &Desk) -> Option<String> {
        Some(match self.stage(desk.session.as_ref()?) {
            TrialStage::Hazard(_) | TrialStage::Cautions(_) | TrialStage::Change(_) => {
                phrase::guide::CAUTIONS_FIRST.to_owned()
            }
            TrialStage::Stroke(_) => phrase::hazard::STROKE.to_owned(),
            TrialStage::Collar => phrase::step(Step::Unload).entry.clone(),
            TrialStage::Line => phrase::trials::takes(desk.units)[0].to_owned(),
        })
    }

    fn enter(&self, desk: &Desk) -> Option<String> {
        let session = desk.session.as_ref()?;
        let enter = match self.stage(session) {
            TrialStage::Hazard(_) | TrialStage::Cautions(_) => phrase::enter::UNDERSTOOD.to_owned(),
            TrialStage::Stroke(_) if self.field.is_empty() => phrase::enter::NO_STROKE.to_owned(),
            TrialStage::Stroke(_) => phrase::enter::STROKE.to_owned(),
            TrialStage::Collar if self.field.is_empty() => phrase::enter::COLLAR.to_owned(),
            TrialStage::Collar => phrase::enter::TURNS.to_owned(),
            TrialStage::Change(_) => phrase::enter::CHANGE.to_owned(),
            TrialStage::Line => line::enter(
                self.field.text(),
                drawing::hand(session.state.setup.as_ref()?, session, desk),
                desk.units,
            ),
        };
        Some(if self.asked.stands() { phrase::enter::again(&enter) } else { enter })
    }

    fn step(&self, desk: &Desk) -> Option<Step> {
        desk.session.as_ref().map(|open| open.state.step)
    }

    fn figures(&self, desk: &Desk) -> Option<Place> {
        changes_of(desk)
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
