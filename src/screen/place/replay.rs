//! A session watched: what was done, moment by moment, on the screens where it was done, forwards and back.
//!
//! The desk shows the record up to a moment, folded as ever, and nothing can be entered in it; on the way back the desk is as
//! it was. Moments at which only a caution was read are passed by. Not here: how a past session looks as a page (`review`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Component, Place};
use crate::phrase::{self, places};
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::effect::StorageState;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Notice, OpenSession, Reply};
use crate::session::{Deed, Record, Stamp};
use crate::text::Shown;

/// A record being watched.
#[derive(Debug)]
pub struct Replay {
    record: Record,
    /// How many of its entries are shown.
    shown: usize,
    /// What was on the desk before.
    before: Option<Box<OpenSession>>,
}

impl Replay {
    /// Lays the beginning of a record on the desk; none of one in which nothing was done.
    fn begin(record: Record, desk: &mut Desk) -> Option<Self> {
        let first = moments(&record).next()?;
        let before = desk.session.take().map(Box::new);
        let mut replay = Self { record, shown: first, before };
        replay.lay_out(desk);
        Some(replay)
    }

    /// Shows the record up to the moment.
    fn lay_out(&mut self, desk: &mut Desk) {
        let entries = self.record.entries.iter().take(self.shown).cloned().collect();
        let until = Record { entries, ..self.record.clone() };
        let keeping = StorageState::ReadOnly { because: phrase::replay::ONLY_WATCHED.to_owned() };
        if let Err(misfit) = desk.lay_out(until, keeping) {
            desk.say(Notice::Said(phrase::review::misfit(misfit.entry)));
        }
    }

    /// Goes so many moments on, or back.
    fn go(&mut self, by: isize, desk: &mut Desk) {
        let all: Vec<usize> = moments(&self.record).collect();
        let here = all.iter().position(|shown| *shown == self.shown).unwrap_or(0);
        let there = here.saturating_add_signed(by).min(all.len().saturating_sub(1));
        let shown = all.get(there).copied().unwrap_or(self.shown);
        if shown != self.shown {
            self.shown = shown;
            self.lay_out(desk);
        }
    }

    /// What was done at this moment, when, and how far the session is.
    fn moment(&self, desk: &Desk) -> Line<'static> {
        let Some(entry) = self.record.entries.get(self.shown.saturating_sub(1)) else { return Line::raw("") };
        let springs = desk.session.as_ref().map_or(&[][..], |session| &session.state.entered.springs);
        let done = phrase::deed(&entry.deed, desk.units, springs);
        let place = moments(&self.record).take_while(|shown| *shown <= self.shown).count();
        let of_all = phrase::replay::moment(entry.at, place, moments(&self.record).count());
        Line::from(vec![
            Span::styled(format!("{of_all}  "), desk.theme.quiet()),
            Span::styled(Shown::from(done.as_str()).to_string(), desk.theme.strong()),
        ])
    }
}

/// Goes to the first moment of a record; says so where there is none.
pub fn watch(record: Record, desk: &mut Desk) -> Reply {
    if let Some(replay) = Replay::begin(record, desk) {
        return Reply::going(Go::To(replay.into()));
    }
    desk.say(Notice::Said(phrase::replay::NOTHING.to_owned()));
    Reply::stay()
}

/// How many entries are shown at each moment worth a stop: all but those at which a caution was read.
fn moments(record: &Record) -> impl Iterator<Item = usize> {
    let entries = record.entries.iter().zip(1..);
    entries.filter(|(entry, _)| !matches!(entry.deed, Deed::CautionSeen(_))).map(|(_, shown)| shown)
}

impl Component for Replay {
    fn title(&self) -> &'static str {
        places::REPLAY
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Accept, Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back]
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        Some(phrase::replay::NEXT.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        match pressed {
            Pressed::Action(Action::Accept | Action::Next) => self.go(1, desk),
            Pressed::Action(Action::Previous) => self.go(-1, desk),
            Pressed::Action(Action::PageDown) => self.go(PAGE, desk),
            Pressed::Action(Action::PageUp) => self.go(-PAGE, desk),
            Pressed::Action(Action::Back) => {
                desk.session = self.before.take().map(|session| *session);
                return Reply::going(Go::Back);
            }
            _ => {}
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, _: &mut ClickTargets) {
        let [moment, _, below] =
            Layout::vertical([Constraint::Length(1), Constraint::Length(1), Constraint::Min(0)]).areas(area);
        frame.render_widget(Paragraph::new(self.moment(&model.desk)), moment);
        let Some(session) = &model.desk.session else { return };
        // What it shows cannot be worked, so nothing in it can be clicked.
        Place::of(session).draw(frame, below, model, &mut ClickTargets::default());
    }
}

/// Moments a page key goes.
const PAGE: isize = 8;
