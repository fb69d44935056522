//! The form of all details: one row at a time has focus, every accepted row is kept at once.
//!
//! What stands in a row stays there until it is accepted or taken out: an error keeps the text, going to another row keeps
//! it as a draft. What is customary is offered in words and enters the record only when accepted. After the intake the
//! same form corrects it. Not here: what is possible (`session::limits`), the rows (`row`), their
//! texts (`text`), the line of springs (`spring_list`), what is known of the leverage (`leverage`).

mod drawing;
pub mod leverage;
pub mod row;
pub mod spring_list;
mod starting;
pub mod text;
mod warning;

use std::collections::BTreeMap;

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
use crate::screen::effect::Effect;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Notice, Reply};
use crate::screen::part::field::TextField;
use crate::session::{
    Deed, Detail, Fact, Hazard, Intake, LeverageKnowledge, LimitFrom, Refusal, Spring, Stamp, Step, limits,
};
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
    /// Whether this unusual detail is meant.
    Unusual(Detail),
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
}

impl Form {
    /// The form over what was told so far, at its first row.
    pub fn new(entered: &Intake) -> Self {
        let mut form = Self {
            focus: IntakeRow::Of(Fact::Customer),
            field: TextField::default(),
            came_as: String::new(),
            drafts: BTreeMap::new(),
            asked: FormQuestion::Nothing,
            read: Vec::new(),
            then: AfterForm::default(),
        };
        form.arrive(IntakeRow::Of(Fact::Customer), entered, UnitSet::default());
        form
    }

    /// The form of an intake that was begun before: at the first row that still needs something, or at what may have
    /// changed where a customer is back.
    pub fn resuming(entered: &Intake) -> Self {
        let mut form = Self::new(entered);
        if FormOrder::of(entered) == FormOrder::Return {
            form.arrive(IntakeRow::Of(Fact::Rider), entered, UnitSet::default());
        } else if *entered != Intake::default() {
            let lacking = IntakeRow::all().into_iter().find(|row| row.is_lacking(entered));
            form.arrive(lacking.unwrap_or(IntakeRow::Begin), entered, UnitSet::default());
        }
        form
    }

    /// The form leading elsewhere when it is done.
    #[must_use]
    pub fn then(self, then: AfterForm) -> Self {
        Self { then, ..self }
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
        vec![Action::Accept, Action::Next, Action::Previous, Action::Back]
    }

    fn asks(&self, desk: &Desk) -> bool {
        warning::due(self, desk).is_some() || matches!(self.asked, FormQuestion::Unusual(_))
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

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        update(self, desk, pressed, at)
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk, click_targets);
    }
}

/// The rows shown, in their order: that to begin the work only while the intake is open, and of a closed session those
/// that say whose it is.
fn rows(desk: &Desk) -> Vec<IntakeRow> {
    let Some(session) = &desk.session else { return Vec::new() };
    let all = FormOrder::of(&session.state.entered).rows().into_iter();
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
        }
        Pressed::Action(Action::Next) => form.leave_for(form.neighbour(&rows(desk), 1), &entered, desk.units),
        Pressed::Action(Action::Previous) => {
            form.leave_for(form.neighbour(&rows(desk), -1), &entered, desk.units);
        }
        Pressed::Action(Action::Back) => return back(form, desk),
        Pressed::Action(Action::Accept) if form.focus == IntakeRow::Begin => return begin(form, desk, at),
        Pressed::Action(Action::Accept) => return accept(form, desk, &entered, at),
        Pressed::Line(place) => {
            if let Some(row) = rows(desk).get(place) {
                form.leave_for(*row, &entered, desk.units);
            }
        }
        Pressed::Action(_) => {}
    }
    Reply::stay()
}

/// Takes the text of the focused row, or what is customary where it is empty, into the record.
fn accept(form: &mut Form, desk: &mut Desk, entered: &Intake, at: Stamp) -> Reply {
    let text = &*starting::text(form.focus, form.field.text(), desk);
    if let (IntakeRow::Of(Fact::Leverage), Ok(TypedLeverage::Table { path, .. })) =
        (form.focus, leverage::read(text, desk.units))
    {
        return Reply::asking(vec![Effect::ReadTable(path)]);
    }
    if *text == form.came_as && (form.focus.is_optional() || !text.is_empty()) {
        form.leave_for(form.neighbour(&rows(desk), 1), entered, desk.units);
        return Reply::stay();
    }
    let read = match offered_springs(form, desk) {
        Some(springs) => Ok(Some(Detail::Springs(springs))),
        None => form.focus.read(text, entered, desk.units),
    };
    let detail = match read {
        Ok(Some(detail)) => detail,
        Ok(None) => return Reply::stay(),
        Err(unread) => {
            desk.say(notice(unread, desk.units));
            return Reply::stay();
        }
    };
    if let Some((field, figure)) = limits::unusual(&detail, entered)
        && !matches!(&form.asked, FormQuestion::Unusual(asked) if *asked == detail)
    {
        form.asked = FormQuestion::Unusual(detail);
        desk.say(Notice::Unusual(field, figure));
        return Reply::stay();
    }
    let mut effects = desk.enter(at, detail.clone());
    if !effects.is_empty() {
        effects.extend(limit_from(form, desk, &detail, at));
    }
    if let (false, Some(session)) = (effects.is_empty(), &desk.session) {
        let entered = &session.state.entered;
        form.came_as = form.field.text().to_owned();
        form.leave_for(form.neighbour(&rows(desk), 1), entered, desk.units);
    }
    Reply::asking(effects)
}

/// Whose the limit of the collar is: the typical one where it was offered and taken, else somebody typed it.
fn limit_from(form: &Form, desk: &mut Desk, detail: &Detail, at: Stamp) -> Vec<Effect> {
    let offered = form.field.text().trim().is_empty();
    let from = if offered { LimitFrom::Typical } else { LimitFrom::Entered };
    let entered = desk.session.as_ref().map(|session| session.state.entered.turns_allowed_from);
    if !matches!(detail, Detail::TurnsLimit(_)) || entered == Some(from) {
        return Vec::new();
    }
    desk.enter(at, Detail::TurnsAllowedFrom(from))
}

/// The springs to start with, where the empty row of springs stands for them.
fn offered_springs(form: &Form, desk: &Desk) -> Option<Vec<Spring>> {
    if form.focus != IntakeRow::Of(Fact::Springs) || !form.field.text().trim().is_empty() {
        return None;
    }
    Some(starting::springs(desk)).filter(|springs| !springs.is_empty())
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

/// On to the work, or to the first row that still needs something.
fn begin(form: &mut Form, desk: &mut Desk, at: Stamp) -> Reply {
    if let Some((row, entered)) = desk.session.as_ref().and_then(|session| {
        let entered = &session.state.entered;
        let lacking = IntakeRow::all().into_iter().find(|row| row.is_lacking(entered))?;
        Some((row_or(form, lacking), entered.clone()))
    }) {
        desk.say(Notice::Refused(Refusal::IntakeIncomplete(entered.missing())));
        form.leave_for(row, &entered, desk.units);
        return Reply::stay();
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

/// A row left with a draft comes before one that was never touched.
fn row_or(form: &Form, lacking: IntakeRow) -> IntakeRow {
    form.drafts.keys().next().copied().filter(|draft| *draft < lacking).unwrap_or(lacking)
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
        Unread::NotOnTheList => Notice::Said(phrase::intake::NOT_ON_THE_LIST.to_owned()),
    }
}
