//! The form of all details: one row at a time has focus, every accepted row is kept at once.
//!
//! A few rows are asked, then the work can begin; the rows below stand filled in (`starting`) or may stay empty. What is
//! typed in a row stays there until it is accepted or taken out: an error keeps the text, going to another row keeps it as
//! a draft. After the intake the same form corrects it. Not here: what is possible (`session::limits`), the rows (`row`), their
//! texts (`text`), the line of springs (`spring_list`), what is known of the leverage (`leverage`).

mod accept;
mod drawing;
mod known;
pub mod leverage;
pub mod row;
pub mod spring_list;
mod starting;
pub mod text;
mod warning;

use std::collections::BTreeMap;

use known::Offers;
use leverage::TypedLeverage;
use row::{FormOrder, IntakeRow};
use text::Unread;

use super::curve::Curve;
use super::guide::Guide;
use super::trials::Trials;
use super::wire::WireForm;
use super::{Component, Place};
use crate::phrase;
use crate::phrase::places;
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::effect::{Effect, PastRecord};
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Notice, Reply};
use crate::screen::part::field::TextField;
use crate::session::{Deed, Detail, Fact, Hazard, Intake, LeverageKnowledge, Refusal, Stamp, Step};
use crate::units::UnitSet;
use ratatui::Frame;
use ratatui::layout::Rect;

/// Where the form leads when it is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AfterForm {
    /// The guided walk.
    #[default]
    Guide,
    /// Quick trials.
    Trials,
}

/// A question put to the mechanic.
#[derive(Debug, PartialEq)]
enum FormQuestion {
    Nothing,
    /// Whether these details are meant: one is unusual, or they could be read in two ways.
    Meant(Vec<Detail>),
    /// Whether texts that were not accepted are to be left behind.
    Leaving,
}

/// The form.
#[derive(Debug)]
pub struct Form {
    focus: IntakeRow,
    field: TextField,
    /// What the focused field held when the focus came to it.
    came_as: String,
    /// Texts left in other rows without having been accepted.
    drafts: BTreeMap<IntakeRow, String>,
    /// What was asked last, and is taken for answered if the same key comes again.
    asked: FormQuestion,
    /// Hazards of the spring on the bike that were read here before the work began.
    read: Vec<Hazard>,
    then: AfterForm,
    /// The customers whose names are like the one typed, where past sessions know any.
    known: Option<Offers>,
}

impl Form {
    /// The form over what was told so far, at its first question.
    pub fn new(entered: &Intake) -> Self {
        let first = FormOrder::of(entered, AfterForm::Guide).first();
        let mut form = Self {
            focus: first,
            field: TextField::default(),
            came_as: String::new(),
            drafts: BTreeMap::new(),
            asked: FormQuestion::Nothing,
            read: Vec::new(),
            then: AfterForm::default(),
            known: None,
        };
        form.arrive(first, entered, UnitSet::default());
        form
    }

    /// The form of an intake that was begun before: at the first row that still needs something, or at what may have
    /// changed where a customer is back.
    pub fn resuming(entered: &Intake) -> Self {
        let mut form = Self::new(entered);
        if entered.earlier.is_none() && *entered != Intake::default() {
            let order = FormOrder::of(entered, AfterForm::Guide);
            let open = order.rows().into_iter().find(|row| row.is_asked_first(entered, AfterForm::Guide));
            form.arrive(open.unwrap_or(IntakeRow::Begin), entered, UnitSet::default());
        }
        form
    }

    /// The form over a closed session, of which only whose it is can be corrected.
    pub fn of_closed(entered: &Intake) -> Self {
        let mut form = Self::new(entered);
        form.arrive(IntakeRow::Of(Fact::Customer), entered, UnitSet::default());
        form
    }

    /// The form leading elsewhere when it is done, at the first question there.
    #[must_use]
    pub fn then(mut self, then: AfterForm, entered: &Intake) -> Self {
        self.then = then;
        self.arrive(FormOrder::of(entered, then).first(), entered, UnitSet::default());
        self
    }

    /// The first row without which the work cannot begin; none where it can.
    fn lacking(&self, desk: &Desk) -> Option<IntakeRow> {
        let entered = &desk.session.as_ref()?.state.entered;
        let rows = FormOrder::of(entered, self.then).rows().into_iter();
        rows.filter(|row| row.is_asked_first(entered, self.then)).find(|row| !starting::is_filled(*row, desk))
    }

    /// The leverage as it is being typed where that can be read, else as it was told.
    fn knowledge(&self, desk: &Desk) -> LeverageKnowledge {
        match leverage::read(self.field.text(), desk.units) {
            Ok(TypedLeverage::Known(knowledge)) => knowledge,
            _ => desk
                .session
                .as_ref()
                .map(|session| session.state.entered.leverage.clone())
                .unwrap_or_default(),
        }
    }

    fn arrive(&mut self, row: IntakeRow, entered: &Intake, units: UnitSet) {
        self.focus = row;
        self.came_as = row.entered(entered, units);
        let text = self.drafts.remove(&row).unwrap_or_else(|| self.came_as.clone());
        self.field = TextField::holding(&text);
        if row.is_replaced() {
            self.field.reached();
        }
        self.asked = FormQuestion::Nothing;
        self.known = None;
    }

    /// Goes to another row; a text that was not accepted stays behind as a draft.
    fn leave_for(&mut self, row: IntakeRow, entered: &Intake, units: UnitSet) {
        if self.field.text() != self.came_as {
            self.drafts.insert(self.focus, self.field.text().to_owned());
        }
        self.arrive(row, entered, units);
    }

    fn neighbour(&self, rows: &[IntakeRow], step: isize) -> IntakeRow {
        let here = rows.iter().position(|row| *row == self.focus).unwrap_or(0);
        let there = here.saturating_add_signed(step).min(rows.len().saturating_sub(1));
        rows.get(there).copied().unwrap_or(self.focus)
    }
}

impl Component for Form {
    fn title(&self) -> &'static str {
        places::DETAILS
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn change_units(&mut self, desk: &Desk) {
        if let (Some(session), true) = (&desk.session, self.field.text() == self.came_as) {
            self.arrive(self.focus, &session.state.entered, desk.units);
        }
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        if warning::due(self, desk).is_some() {
            return vec![Action::Accept, Action::Back];
        }
        let known = self.known.as_ref().map(|_| Action::ComeBack);
        [Action::Accept, Action::Next, Action::Previous]
            .into_iter()
            .chain(known)
            .chain([Action::Back])
            .collect()
    }

    fn enter(&self, desk: &Desk) -> Option<String> {
        let enter = match self.focus {
            _ if warning::due(self, desk).is_some() => phrase::enter::UNDERSTOOD,
            IntakeRow::Begin => phrase::enter::BEGIN,
            IntakeRow::Of(_) => self.known.as_ref().map_or(phrase::enter::NEXT_LINE, Offers::enter),
        };
        let asked = matches!(self.asked, FormQuestion::Meant(_));
        Some(if asked { phrase::enter::again(enter) } else { enter.to_owned() })
    }

    fn asks(&self, desk: &Desk) -> bool {
        warning::due(self, desk).is_some() || matches!(self.asked, FormQuestion::Meant(_))
    }

    fn guards(&self, desk: &Desk) -> bool {
        warning::due(self, desk).is_some()
    }

    fn typing(&self, desk: &Desk) -> Typing {
        if warning::due(self, desk).is_some() { Typing::Nothing } else { self.focus.typing() }
    }

    fn figures(&self, desk: &Desk) -> Option<Place> {
        match self.focus {
            IntakeRow::Of(Fact::Leverage) => Some(Curve { knowledge: self.knowledge(desk) }.into()),
            IntakeRow::Of(Fact::Springs) => Some(WireForm::new(desk.units).into()),
            _ => None,
        }
    }

    fn step(&self, _: &Desk) -> Option<Step> {
        Some(Step::Intake)
    }

    fn take_table(&mut self, desk: &mut Desk, table: &str) {
        take_table(self, desk, table);
    }

    fn take_visit(&mut self, desk: &mut Desk, past: PastRecord) {
        if let Some(known) = &mut self.known {
            known.take_visit(desk, past);
        }
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        update(self, desk, pressed, at)
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk, click_targets);
    }
}

/// The rows shown, in their order: that to begin the work only while the intake is open, and of a closed session those
/// that say whose it is.
fn rows(form: &Form, desk: &Desk) -> Vec<IntakeRow> {
    let Some(session) = &desk.session else { return Vec::new() };
    let all = FormOrder::of(&session.state.entered, form.then).rows().into_iter();
    all.filter(|row| match session.state.step {
        Step::Intake => true,
        Step::Closed => row.is_of_the_customer(),
        _ => *row != IntakeRow::Begin,
    })
    .collect()
}

/// Takes a key in.
fn update(form: &mut Form, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
    let Some(entered) = desk.session.as_ref().map(|session| session.state.entered.clone()) else {
        return Reply::going(Go::Back);
    };
    if let Some(hazard) = warning::due(form, desk) {
        return warning::answered(form, desk, hazard, &pressed, at);
    }
    match pressed {
        Pressed::Edit(edit) => {
            form.field.edit(edit);
            form.asked = FormQuestion::Nothing;
            form.known = Offers::of(form.focus, form.field.text(), desk);
        }
        Pressed::Action(Action::Next) if form.known.as_mut().is_some_and(Offers::mark_next) => {
            return known::recall(form);
        }
        Pressed::Action(Action::Previous) if form.known.as_mut().is_some_and(Offers::mark_previous) => {
            return known::recall(form);
        }
        Pressed::Action(Action::Next) => {
            form.leave_for(form.neighbour(&rows(form, desk), 1), &entered, desk.units);
        }
        Pressed::Action(Action::Previous) => {
            form.leave_for(form.neighbour(&rows(form, desk), -1), &entered, desk.units);
        }
        Pressed::Action(Action::ComeBack) => {
            let look = form.known.take().and_then(|known| known.newest()).map(Effect::LookAt);
            return Reply::asking(look.into_iter().collect());
        }
        Pressed::Action(Action::Back) => return back(form, desk),
        Pressed::Action(Action::Accept) if form.focus == IntakeRow::Begin => return begin(form, desk, at),
        Pressed::Action(Action::Accept) if form.known.as_ref().is_some_and(Offers::is_marked) => {
            return known::take_over(form, desk, &entered, at);
        }
        Pressed::Action(Action::Accept) => return accept::accept(form, desk, &entered, at),
        Pressed::Line(place) => {
            if let Some(row) = rows(form, desk).get(place) {
                form.leave_for(*row, &entered, desk.units);
            }
        }
        Pressed::Action(_) => {}
    }
    Reply::stay()
}

/// Puts what a table says into the focused row, to be looked over and accepted; a table that cannot be read leaves the
/// text alone.
fn take_table(form: &mut Form, desk: &mut Desk, table: &str) {
    let Ok(TypedLeverage::Table { column, .. }) = leverage::read(form.field.text(), desk.units) else {
        return;
    };
    match leverage::from_table(table, column, desk.units) {
        Ok(pairs) => {
            desk.say(Notice::Said(phrase::leverage::table_read(&pairs)));
            form.field = TextField::holding(&pairs);
        }
        Err(unread) => desk.say(notice(unread, desk.units)),
    }
}

/// One level back; texts that were not accepted are asked about first.
fn back(form: &mut Form, desk: &mut Desk) -> Reply {
    let here = (form.field.text() != form.came_as).then_some(form.focus);
    let left = here.or_else(|| form.drafts.keys().next().copied());
    match left {
        Some(row) if form.asked != FormQuestion::Leaving => {
            form.asked = FormQuestion::Leaving;
            desk.say(Notice::Said(phrase::intake::leaving(&row.label())));
            Reply::stay()
        }
        _ => Reply::going(Go::Back),
    }
}

/// On to the work, or to the first row that still needs something or holds text that nobody accepted. What stands filled in
/// from the shop's settings and rack enters the record.
fn begin(form: &mut Form, desk: &mut Desk, at: Stamp) -> Reply {
    let Some(entered) = desk.session.as_ref().map(|session| session.state.entered.clone()) else {
        return Reply::going(Go::Back);
    };
    if let Some(row) = form.lacking(desk) {
        let lacking = still_needed(form, desk);
        desk.say(Notice::Refused(Refusal::IntakeIncomplete(lacking)));
        form.leave_for(row, &entered, desk.units);
        return Reply::stay();
    }
    if let Some(row) = form.drafts.keys().next().copied() {
        desk.say(Notice::Said(phrase::intake::not_accepted(&row.label())));
        form.leave_for(row, &entered, desk.units);
        return Reply::stay();
    }
    for detail in starting::shops_own(&entered, desk) {
        if desk.enter(at, detail).is_empty() {
            return Reply::stay();
        }
    }
    let mut effects = desk.advance(at, Deed::IntakeDone);
    if effects.is_empty() {
        return Reply::stay();
    }
    for hazard in std::mem::take(&mut form.read) {
        effects.extend(warning::acknowledged(desk, hazard, at));
    }
    let place: Place = match form.then {
        AfterForm::Guide => Guide::default().into(),
        AfterForm::Trials => Trials::default().into(),
    };
    Reply { effects, go: Go::Instead(place) }
}

/// What is still needed before the work can begin.
fn still_needed(form: &Form, desk: &Desk) -> Vec<Fact> {
    let Some(session) = &desk.session else { return Vec::new() };
    let entered = &session.state.entered;
    let lacks = |row: IntakeRow| match row {
        IntakeRow::Of(fact) => {
            (row.is_asked_first(entered, form.then) && !starting::is_filled(row, desk)).then_some(fact)
        }
        IntakeRow::Begin => None,
    };
    FormOrder::of(entered, form.then).rows().into_iter().filter_map(lacks).collect()
}

fn notice(unread: Unread, units: UnitSet) -> Notice {
    match unread {
        Unread::Figure(unreadable) => Notice::Unreadable(unreadable),
        Unread::Rack(fault) => Notice::Said(fault.sentence(units)),
        Unread::Leverage => Notice::Said(phrase::intake::LEVERAGE_TAKES.to_owned()),
        Unread::Pairs(fault) => Notice::Said(phrase::pairs_unreadable(&fault, units)),
        Unread::Heights(fault) => Notice::Said(phrase::leverage::heights_start_elsewhere(fault).to_owned()),
        Unread::EmptyTable => Notice::Said(phrase::leverage::EMPTY_TABLE.to_owned()),
        Unread::NoFile => Notice::Said(phrase::leverage::NO_FILE.to_owned()),
        Unread::NoSuchNumber => Notice::Said(phrase::intake::no_such_number(units)),
    }
}
