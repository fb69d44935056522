//! The sheet of the bike: as it was found before the work, as it was left after it, and what the ride told.
//!
//! Which of the two columns is written goes by the step of the walk: from the final checks on it is how the bike was left.
//! One deed keeps the sheet as a whole when one goes back. Not here: which rows there are (`session::sheet`), and how it
//! looks (`drawing`).

mod drawing;

use ratatui::Frame;
use ratatui::layout::Rect;

use super::Component;
use crate::phrase;
use crate::phrase::places;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::Confirm;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Notice, OpenSession, Reply};
use crate::screen::part::field::{self, TextField};
use crate::session::sheet_typed::{self, NotUnderstood};
use crate::session::{Deed, Item, RideTold, Sheet, Stamp, Step, Symptom, Takes};
use crate::text::FreeText;
use crate::units::{Kind, Length, UnitSet, parse};

/// Which column is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SheetColumn {
    Found,
    Left,
}

/// A row of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SheetRow {
    /// The deepest stroke of the ride.
    Deepest,
    /// What bothered most on it.
    Bothers,
    /// What was changed before it.
    Changed,
    /// A row of the sheet.
    Of(Item),
}

/// What is typed and chosen.
#[derive(Debug)]
pub struct SheetForm {
    column: SheetColumn,
    rows: Vec<(SheetRow, TextField)>,
    focus: usize,
    bothers: Option<Symptom>,
    /// The units bare figures are taken in.
    units: UnitSet,
    /// Whether it was said that going back now loses a row nobody can read.
    leaves: Confirm<usize>,
}

/// The steps at which the sheet lies beside the work.
pub(super) const fn lies_beside(step: Step) -> bool {
    matches!(
        step,
        Step::BenchCheck
            | Step::Unload
            | Step::FinalChecks
            | Step::KerbDrop
            | Step::TrailCheck
            | Step::AfterTrail
    )
}

impl SheetForm {
    /// The sheet as far as it was written.
    pub fn of(session: &OpenSession, units: UnitSet) -> Self {
        let state = &session.state;
        let after = !matches!(state.step, Step::BenchCheck | Step::Unload);
        let (column, written) =
            if after { (SheetColumn::Left, &state.left) } else { (SheetColumn::Found, &state.found) };
        let ridden = matches!(state.step, Step::TrailCheck | Step::AfterTrail);
        let ride = [SheetRow::Deepest, SheetRow::Bothers, SheetRow::Changed].into_iter().filter(|_| ridden);
        let empty = ride.map(|row| (row, TextField::default()));
        let item = |item: &Item| {
            let text = phrase::sheet::value(written, *item, units).unwrap_or_default();
            (SheetRow::Of(*item), TextField::holding(&text))
        };
        let rows = empty.chain(Item::ALL.iter().map(item)).collect();
        Self { column, rows, focus: 0, bothers: None, units, leaves: Confirm::default() }
    }

    fn row(&self) -> SheetRow {
        self.rows[self.focus].0
    }

    fn step(&mut self, by: isize) {
        self.reach(self.focus.saturating_add_signed(by));
    }

    fn reach(&mut self, place: usize) {
        self.focus = place.min(self.rows.len() - 1);
        self.leaves.forget();
        self.rows[self.focus].1.reached();
    }

    /// The next symptom or the one before; nothing stands before the first.
    fn choose(&mut self, by: isize) {
        let all: Vec<Option<Symptom>> =
            std::iter::once(None).chain(Symptom::ALL.into_iter().map(Some)).collect();
        self.bothers = super::neighbour(&all, self.bothers, by);
    }

    /// What is typed, as deeds: the sheet where it changed, and the ride where it tells something.
    ///
    /// # Errors
    /// With the place of a row that cannot be read.
    fn deeds(&self, session: &OpenSession) -> Result<Vec<Deed>, usize> {
        let before = match self.column {
            SheetColumn::Found => &session.state.found,
            SheetColumn::Left => &session.state.left,
        };
        let mut sheet = before.clone();
        let mut ride = RideTold { symptom: self.bothers, ..RideTold::default() };
        for (place, (row, field)) in self.rows.iter().enumerate() {
            let text = field.text();
            match row {
                SheetRow::Deepest => ride.deepest = self.length(text).map_err(|()| place)?,
                SheetRow::Bothers => {}
                SheetRow::Changed => ride.changed = FreeText::new(text),
                SheetRow::Of(item) if Self::is_as_it_was(before, *item, text) => {}
                SheetRow::Of(item) => {
                    let written =
                        sheet_typed::read(*item, text, self.units).map_err(|NotUnderstood(_)| place)?;
                    sheet = sheet.with(*item, written);
                }
            }
        }
        let written = (sheet != *before).then(|| match self.column {
            SheetColumn::Found => Deed::AsFound(Box::new(sheet)),
            SheetColumn::Left => Deed::AsLeft(Box::new(sheet)),
        });
        let entered = (!ride.is_empty()).then_some(Deed::RideTold(ride));
        Ok(entered.into_iter().chain(written).collect())
    }

    /// A figure that was shown rounded and not touched stays what it was.
    fn is_as_it_was(before: &Sheet, item: Item, text: &str) -> bool {
        UnitSet::ALL
            .into_iter()
            .any(|units| phrase::sheet::value(before, item, units).as_deref() == Some(text))
    }

    fn length(&self, text: &str) -> Result<Option<Length>, ()> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        parse::length(text, self.units).map(|length| Some(length.value)).map_err(|_| ())
    }

    /// Keeps what is typed and goes back; a row nobody can read is said, and lost only the second time.
    fn leave(&mut self, desk: &mut Desk, at: Stamp) -> Reply {
        let Some(session) = &desk.session else { return Reply::going(Go::Back) };
        match self.deeds(session) {
            Ok(deeds) => {
                let remedy = deeds.iter().any(|deed| matches!(deed, Deed::RideTold(_)));
                match desk.advance_all(at, deeds) {
                    Ok(effects) => {
                        if remedy {
                            say_remedy(desk);
                        }
                        Reply { effects, go: Go::Back }
                    }
                    Err(effects) if self.leaves.once(usize::MAX) => Reply { effects, go: Go::Back },
                    Err(effects) => Reply { effects, go: Go::Stay },
                }
            }
            Err(place) if self.leaves.once(place) => Reply::going(Go::Back),
            Err(place) => {
                self.focus = place;
                desk.say(Notice::Said(phrase::sheet::not_understood(&self.name(place), self.takes(place))));
                Reply::stay()
            }
        }
    }

    fn name(&self, place: usize) -> String {
        match self.rows[place].0 {
            SheetRow::Deepest => phrase::sheet::DEEPEST.to_owned(),
            SheetRow::Bothers => phrase::sheet::BOTHERS.to_owned(),
            SheetRow::Changed => phrase::sheet::CHANGED.to_owned(),
            SheetRow::Of(item) => phrase::sheet::name(item).to_owned(),
        }
    }

    fn takes(&self, place: usize) -> &'static str {
        match self.rows[place].0 {
            SheetRow::Deepest => phrase::sheet::DEEPEST_TAKES,
            SheetRow::Bothers => phrase::sheet::BOTHERS_TAKES,
            SheetRow::Changed => phrase::sheet::CHANGED_TAKES,
            SheetRow::Of(item) => phrase::sheet::takes(item),
        }
    }

    fn is_length(row: SheetRow) -> bool {
        row == SheetRow::Deepest || matches!(row, SheetRow::Of(item) if item.takes() == Takes::Length)
    }
}

/// What the ride says to try first, as far as it told what bothers.
fn say_remedy(desk: &mut Desk) {
    let assessment = desk.session.as_ref().and_then(|session| session.assessment.as_ref());
    let remedy = assessment.and_then(|assessment| assessment.remedy);
    if let Some((bothers, first)) = remedy {
        desk.say(Notice::Said(phrase::ride::first_remedy(bothers, first)));
    }
}

impl Component for SheetForm {
    fn title(&self) -> &'static str {
        places::SHEET
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        let mut live = vec![Action::Accept, Action::Next, Action::Previous];
        if self.row() == SheetRow::Bothers {
            live.extend([Action::ChoiceRight, Action::ChoiceLeft]);
        }
        live.push(Action::Back);
        live
    }

    fn typing(&self, _: &Desk) -> Typing {
        match self.row() {
            SheetRow::Bothers => Typing::Nothing,
            SheetRow::Changed => Typing::Text,
            SheetRow::Of(item) if item.takes() == Takes::Text => Typing::Text,
            SheetRow::Deepest | SheetRow::Of(_) => Typing::Figure,
        }
    }

    fn step(&self, desk: &Desk) -> Option<Step> {
        desk.session.as_ref().map(|open| open.state.step)
    }

    fn hint(&self, _: &Desk) -> Option<String> {
        Some(self.takes(self.focus).to_owned())
    }

    fn records(&self) -> bool {
        true
    }

    fn change_units(&mut self, desk: &Desk) {
        let unit = self.units.unit(Kind::Length).symbol();
        for (_, field) in self.rows.iter_mut().filter(|(row, _)| Self::is_length(*row)) {
            let text = field.text().trim().to_owned();
            if !text.is_empty() && !field::names_a_unit(&text) {
                *field = TextField::holding(&format!("{text} {unit}"));
            }
        }
        self.units = desk.units;
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        match pressed {
            Pressed::Edit(edit) => {
                self.leaves.forget();
                self.rows[self.focus].1.edit(edit);
            }
            Pressed::Action(Action::Accept) if self.focus + 1 == self.rows.len() => {
                return self.leave(desk, at);
            }
            Pressed::Action(Action::Accept | Action::Next) => self.step(1),
            Pressed::Action(Action::Previous) => self.step(-1),
            Pressed::Action(Action::ChoiceRight) => self.choose(1),
            Pressed::Action(Action::ChoiceLeft) => self.choose(-1),
            Pressed::Action(Action::Back) => return self.leave(desk, at),
            Pressed::Line(place) => self.reach(place),
            Pressed::Action(_) => {}
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk, click_targets);
    }
}
