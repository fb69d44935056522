//! A customer to be forgotten: everything there is of them on a page, a word that has to be typed, and what came of it.
//!
//! Enter alone leaves everything as it is, for this cannot be undone. Not here: what the page says (`phrase::forget`), and what
//! is done (`app::forget`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::Component;
use crate::phrase::forget::{self as words, ForgetOutcome, Keeping};
use crate::phrase::places;
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::Scroll;
use crate::screen::effect::{CustomerTraced, Effect};
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Notice, Reply};
use crate::screen::part::document;
use crate::screen::part::field::{self, TextField};
use crate::session::Stamp;
use crate::text::wrap::wrap;

/// Cells of the widest line.
const WIDEST: u16 = 88;
/// Cells of the line that is typed.
const FIELD: u16 = 20;

/// The place.
#[derive(Debug)]
pub struct Forget {
    found: CustomerTraced,
    scroll: Scroll,
    field: TextField,
    /// What came of it, once it is done.
    outcome: Option<ForgetOutcome>,
}

impl Forget {
    /// What was found of a customer.
    pub fn of(found: CustomerTraced) -> Self {
        Self { found, scroll: Scroll::default(), field: TextField::default(), outcome: None }
    }

    /// What came of forgetting them.
    #[must_use]
    pub fn done(self: Box<Self>, outcome: ForgetOutcome) -> Self {
        Self { scroll: Scroll::default(), field: TextField::default(), outcome: Some(outcome), ..*self }
    }

    /// What is to be kept, by the word that was typed; none where it is neither of the two.
    fn keeping(&self) -> Option<Keeping> {
        match self.field.text().trim().to_lowercase().as_str() {
            words::REMOVE => Some(Keeping::Nothing),
            words::FIGURES => Some(Keeping::Figures),
            _ => None,
        }
    }

    fn accept(&mut self, desk: &mut Desk) -> Reply {
        if self.field.is_empty() {
            return Reply::going(Go::Back);
        }
        let Some(keeping) = self.keeping() else {
            desk.say(Notice::Said(words::NEITHER_WORD.to_owned()));
            return Reply::stay();
        };
        let traces = Box::new(self.found.traces.clone());
        Reply::asking(vec![Effect::Forget(traces, keeping), Effect::TakeStock, Effect::List])
    }
}

impl Component for Forget {
    fn title(&self) -> &'static str {
        places::FORGET
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        use Action as A;
        vec![A::Accept, A::Next, A::Previous, A::PageDown, A::PageUp, A::Back]
    }

    fn typing(&self, _: &Desk) -> Typing {
        if self.outcome.is_none() { Typing::Text } else { Typing::Nothing }
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        let does = match (&self.outcome, self.keeping()) {
            (Some(_), _) => words::GO_BACK,
            (None, Some(Keeping::Nothing)) => words::REMOVE_ALL,
            (None, Some(Keeping::Figures)) => words::KEEP_FIGURES,
            (None, None) if self.field.is_empty() => words::LEAVE,
            (None, None) => words::READ_WORD,
        };
        Some(does.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        if self.scroll.take(&pressed, desk.window) {
            return Reply::stay();
        }
        match pressed {
            Pressed::Edit(edit) if self.outcome.is_none() => {
                self.field.edit(edit);
                Reply::stay()
            }
            Pressed::Action(Action::Accept) if self.outcome.is_none() => self.accept(desk),
            Pressed::Action(Action::Accept | Action::Back) => Reply::going(Go::Back),
            _ => Reply::stay(),
        }
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        let theme = model.desk.theme;
        let width = usize::from(area.width.min(WIDEST));
        let will_go = &self.found.will_go;
        let page = match &self.outcome {
            Some(outcome) => words::result(&will_go.customer, outcome),
            None => words::page(will_go, Keeping::Nothing),
        };
        let lines = document::lines(&page, width, theme, |_, _| Vec::new());
        let mut below: Vec<Line<'_>> = Vec::new();
        if self.outcome.is_none() {
            below.extend([Line::raw(""), Line::styled("▸ ", theme.accent())]);
            below.extend(wrap(words::WORDS_TO_TYPE, width).into_iter().map(Line::raw));
        }
        let height = u16::try_from(below.len()).unwrap_or(0);
        let [above, foot] = Layout::vertical([Constraint::Min(1), Constraint::Length(height)]).areas(area);
        // The title needs no blank line above it.
        self.scroll.draw(frame, above, lines.into_iter().skip(1).collect(), click_targets);
        if self.outcome.is_none() {
            frame.render_widget(Paragraph::new(below), foot);
            let line = Rect { x: foot.x + 2, y: foot.y + 1, width: FIELD, height: 1 };
            field::draw(frame, line.intersection(foot), &self.field, theme);
        }
    }
}
