//! A spring from its wire: a form whose result stands below it while it is being typed.
//!
//! Nothing here is part of a record; it answers a question that comes up with a worn spring in the hand. Not here: the
//! formula (`mechanics::wire`), and how the form looks (`drawing`).

mod drawing;

use ratatui::Frame;
use ratatui::layout::Rect;

use super::{Component, neighbour};
use crate::mechanics::wire::{CaliperedSpring, EndType, Material, WireFault, WireFigures};
use crate::phrase;
use crate::phrase::places;
use crate::screen::click_targets::ClickTargets;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::screen::part::field::TextField;
use crate::session::Stamp;
use crate::text::Shown;
use crate::units::{Kind, Length, UnitSet, Unreadable, parse};

/// A row of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum WireRow {
    Wire,
    Outer,
    Coils,
    Ends,
    Material,
    FreeLength,
    Calipers,
}

/// What is typed and chosen.
#[derive(Debug)]
pub struct WireForm {
    focus: WireRow,
    /// Texts of the rows that are typed, in the order of [`WireRow::TYPED`].
    texts: [TextField; 5],
    ends: EndType,
    material: Material,
    /// The units bare figures were typed in.
    units: UnitSet,
}

/// What the figures come to so far.
#[derive(Debug, PartialEq)]
enum WireResult {
    /// Some row still needs a figure.
    Needs(WireRow),
    /// The text of a row cannot be read.
    Unreadable(WireRow, Unreadable),
    /// The figures belong to no spring.
    Fault(WireFault),
    /// The spring.
    Calculated(WireFigures),
}

impl WireRow {
    const ALL: [Self; 7] =
        [Self::Wire, Self::Outer, Self::Coils, Self::Ends, Self::Material, Self::FreeLength, Self::Calipers];
    const TYPED: [Self; 5] = [Self::Wire, Self::Outer, Self::Coils, Self::FreeLength, Self::Calipers];

    /// Its place among the texts; none where it is a choice.
    fn text(self) -> Option<usize> {
        Self::TYPED.iter().position(|row| *row == self)
    }
}

impl WireForm {
    /// An empty form; the calipers as most are.
    pub fn new(units: UnitSet) -> Self {
        let mut texts: [TextField; 5] = Default::default();
        if let Some(calipers) = WireRow::Calipers.text() {
            texts[calipers] = TextField::holding("0.05 mm");
        }
        let (ends, material) = (EndType::ClosedGround, Material::ChromeSilicon);
        Self { focus: WireRow::Wire, texts, ends, material, units }
    }

    /// Whether a length stands in the row without its unit.
    fn is_bare_length(&self, row: WireRow) -> bool {
        let text = self.typed(row);
        let bare = !text.contains(|letter: char| letter.is_alphabetic() || letter == '"');
        row != WireRow::Coils && bare && parse::length(text, self.units).is_ok()
    }

    /// The text of a row as it is understood: a bare length with its unit.
    fn shown(&self, row: WireRow) -> String {
        let text = Shown::from(self.typed(row)).to_string();
        let unit = self.units.unit(Kind::Length).symbol();
        if self.is_bare_length(row) { format!("{text} {unit}") } else { text }
    }

    fn step(&mut self, by: isize) {
        let here = WireRow::ALL.iter().position(|row| *row == self.focus).unwrap_or(0);
        let there = here.saturating_add_signed(by).min(WireRow::ALL.len() - 1);
        self.reach(WireRow::ALL[there]);
    }

    fn reach(&mut self, row: WireRow) {
        self.focus = row;
        if let Some(place) = row.text() {
            self.texts[place].reached();
        }
    }

    fn choose(&mut self, by: isize) {
        match self.focus {
            WireRow::Ends => self.ends = neighbour(&EndType::ALL, self.ends, by),
            WireRow::Material => self.material = neighbour(&Material::ALL, self.material, by),
            _ => {}
        }
    }

    fn field(&self, row: WireRow) -> Option<&TextField> {
        row.text().map(|place| &self.texts[place])
    }

    fn typed(&self, row: WireRow) -> &str {
        self.field(row).map_or("", |field| field.text().trim())
    }

    fn outcome(&self) -> WireResult {
        match self.spring() {
            Ok(spring) => spring.figures().map_or_else(WireResult::Fault, WireResult::Calculated),
            Err(outcome) => outcome,
        }
    }

    fn spring(&self) -> Result<CaliperedSpring, WireResult> {
        Ok(CaliperedSpring {
            wire: self.length(WireRow::Wire)?,
            outer: self.length(WireRow::Outer)?,
            coils: parse::turns(self.entered(WireRow::Coils)?)
                .map_err(|fault| WireResult::Unreadable(WireRow::Coils, fault))?
                .value,
            ends: self.ends,
            material: self.material,
            free_length: match self.typed(WireRow::FreeLength) {
                "" => None,
                _ => Some(self.length(WireRow::FreeLength)?),
            },
            calipers: self.length(WireRow::Calipers)?,
        })
    }

    fn entered(&self, row: WireRow) -> Result<&str, WireResult> {
        let text = self.typed(row);
        if text.is_empty() { Err(WireResult::Needs(row)) } else { Ok(text) }
    }

    fn length(&self, row: WireRow) -> Result<Length, WireResult> {
        parse::length(self.entered(row)?, self.units)
            .map(|understood| understood.value)
            .map_err(|fault| WireResult::Unreadable(row, fault))
    }
}

impl Component for WireForm {
    fn title(&self) -> &'static str {
        places::WIRE
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        let mut live = vec![Action::Accept, Action::Next, Action::Previous];
        if self.focus.text().is_none() {
            live.extend([Action::ChoiceRight, Action::ChoiceLeft]);
        }
        live.push(Action::Back);
        live
    }

    fn typing(&self, _: &Desk) -> Typing {
        if self.focus.text().is_some() { Typing::Figure } else { Typing::Nothing }
    }

    fn change_units(&mut self, desk: &Desk) {
        let unit = self.units.unit(Kind::Length).symbol();
        for (place, row) in WireRow::TYPED.into_iter().enumerate() {
            if self.is_bare_length(row) {
                self.texts[place] = TextField::holding(&format!("{} {unit}", self.typed(row)));
            }
        }
        self.units = desk.units;
    }

    fn update(&mut self, _: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        update(self, pressed)
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk, click_targets);
    }
}

/// Takes a key in.
fn update(form: &mut WireForm, pressed: Pressed) -> Reply {
    match pressed {
        Pressed::Edit(edit) => {
            if let Some(place) = form.focus.text() {
                form.texts[place].edit(edit);
            }
        }
        Pressed::Action(Action::Accept | Action::Next) => form.step(1),
        Pressed::Action(Action::Previous) => form.step(-1),
        Pressed::Action(Action::ChoiceRight) => form.choose(1),
        Pressed::Action(Action::ChoiceLeft) => form.choose(-1),
        Pressed::Action(Action::Back) => return Reply::going(Go::Back),
        Pressed::Line(place) => form.reach(WireRow::ALL.get(place).copied().unwrap_or(form.focus)),
        Pressed::Action(_) => {}
    }
    Reply::stay()
}

/// What stands in the row, and what is needed to say it.
fn sentence(outcome: &WireResult, units: UnitSet) -> Option<String> {
    match outcome {
        WireResult::Needs(row) => Some(phrase::wire::needed(&drawing::name(*row))),
        WireResult::Unreadable(row, fault) => {
            Some(format!("{}: {}", drawing::name(*row), phrase::unreadable(fault, units)))
        }
        WireResult::Fault(fault) => Some(phrase::wire_fault(*fault, units)),
        WireResult::Calculated(_) => None,
    }
}
