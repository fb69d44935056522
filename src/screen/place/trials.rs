//! Quick trials: sag after sag, for a rider who knows the way and has a helper.
//!
//! One line takes everything: a figure is a trial, `s 450` changes the spring, `t 1` sets the collar (`line`). The cautions
//! stand before the first trial and before every change of spring. Record and assessment are those of the guided walk, so
//! one may change over at any time. Not here: words (`phrase`), and what is legal when (`session::machine`).

mod drawing;
mod line;
mod table;
mod update;

use ratatui::Frame;
use ratatui::layout::Rect;
pub use update::can_open_at;

use super::joining::Joining;
use super::key_outcome::ConfirmOnce;
use super::{Component, Place, changes_of};
use crate::phrase::{self, places};
use crate::screen::click_targets::ClickTargets;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Model, OpenSession, Reply};
use crate::screen::part::field::TextField;
use crate::session::{Caution, Spring, SpringNumber, Stamp, Step};
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
            |joining| format!("{} ({})", units.show(joining.spring.label), joining.words()),
        );
        phrase::trials::change_to(&name, self.preload_turns, units)
    }
}

/// What is wanted at the moment.
#[derive(Debug, Clone, PartialEq)]
enum TrialStage {
    /// Cautions to be acknowledged before the first trial.
    Cautions(Vec<Caution>),
    /// Where the collar stands as trials begin.
    Collar,
    /// A line.
    Line,
    /// The cautions of a change of spring to be acknowledged.
    Change(PendingSwap),
}

/// The cautions of the measuring itself, and those before it.
const BEFORE: [Caution; 4] =
    [Caution::BikeSteady, Caution::LooseCollar, Caution::ShaftScratch, Caution::SitGently];

impl Trials {
    /// Trials come to from the guided walk: the line as it was left here, and what is typed for the step there.
    pub(super) fn coming_over(line: TextField, step: TextField) -> Self {
        Self { field: line, step, ..Self::default() }
    }

    fn stage(&self, session: &OpenSession) -> TrialStage {
        if let Some(change) = self.changing {
            return TrialStage::Change(change);
        }
        let unseen = |wanted: &[Caution]| -> Vec<Caution> {
            let ever = &session.state.cautions.ever;
            wanted.iter().copied().filter(|caution| !ever.contains(caution)).collect()
        };
        let (unseen, then) = match session.state.step {
            Step::BenchCheck | Step::Unload => (unseen(&BEFORE), TrialStage::Collar),
            // Anywhere else the walk itself refuses a trial, in its own words.
            _ => (unseen(&BEFORE[2..]), TrialStage::Line),
        };
        if unseen.is_empty() { then } else { TrialStage::Cautions(unseen) }
    }
}

impl Component for Trials {
    fn title(&self) -> &'static str {
        places::TRIALS
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        let Some(session) = &desk.session else { return vec![Action::Back] };
        let mut live = vec![Action::Accept];
        match self.stage(session) {
            TrialStage::Change(_) => {}
            TrialStage::Line => {
                live.extend([Action::PageUp, Action::PageDown]);
                live.extend(session.offered().map(|_| Action::Add));
                live.extend([Action::Undo, Action::StartAgain, Action::Details, Action::OtherMode]);
            }
            TrialStage::Cautions(_) | TrialStage::Collar => {
                live.extend([Action::Details, Action::OtherMode]);
            }
        }
        live.push(Action::Back);
        live
    }

    fn asks(&self, desk: &Desk) -> bool {
        match desk.session.as_ref().map(|session| self.stage(session)) {
            Some(TrialStage::Cautions(_) | TrialStage::Change(_)) => true,
            Some(TrialStage::Collar) if self.field.text().trim().is_empty() => true,
            _ => self.asked.stands(),
        }
    }

    fn guards(&self, desk: &Desk) -> bool {
        let stage = desk.session.as_ref().map(|session| self.stage(session));
        matches!(stage, Some(TrialStage::Cautions(_) | TrialStage::Change(_)))
    }

    fn typing(&self, desk: &Desk) -> Typing {
        match desk.session.as_ref().map(|session| self.stage(session)) {
            Some(TrialStage::Line) if line::is_free_text(self.field.text()) => Typing::Text,
            Some(TrialStage::Collar | TrialStage::Line) => Typing::Figure,
            _ => Typing::Nothing,
        }
    }

    fn hint(&self, desk: &Desk) -> Option<String> {
        Some(match self.stage(desk.session.as_ref()?) {
            TrialStage::Cautions(_) | TrialStage::Change(_) => phrase::guide::CAUTIONS_FIRST.to_owned(),
            TrialStage::Collar => phrase::step(Step::Unload).entry.clone(),
            TrialStage::Line => phrase::trials::takes(desk.units)[0].to_owned(),
        })
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

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, _: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk);
    }
}
