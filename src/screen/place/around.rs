//! What is said around the spring, over the whole screen: what if, rebound, the ride, the front, as found and as left.
//!
//! Not here: the sentences (`phrase::around`).

use ratatui::Frame;
use ratatui::layout::Rect;

use super::{Component, Place};
use crate::document::{Block, Size};
use crate::phrase;
use crate::phrase::around::{self, Section};
use crate::phrase::places;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::Scroll;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::screen::part::document;
use crate::session::{Stamp, Step};

/// The place; what it shows is the session's.
#[derive(Debug, Default)]
pub struct Around {
    scroll: Scroll,
}

impl Component for Around {
    fn title(&self) -> &'static str {
        places::AROUND
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Accept, Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back]
    }

    fn step(&self, desk: &Desk) -> Option<Step> {
        desk.session.as_ref().map(|open| open.state.step)
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        Some(phrase::enter::BACK.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        match pressed {
            Pressed::Action(Action::Accept | Action::Back) => return Reply::going(Go::Back),
            _ => {
                self.scroll.take(&pressed, desk.window);
            }
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        let lists = sections(&model.desk)
            .into_iter()
            .map(|(title, entered)| Block::List(title, entered, Size::Plain));
        let blocks: Vec<Block> = lists.collect();
        let lines =
            document::lines(&blocks, usize::from(area.width.min(WIDEST)), model.desk.theme, |_, _| {
                Vec::new()
            });
        // The first heading needs no blank line above it.
        self.scroll.draw(frame, area, lines.into_iter().skip(1).collect(), click_targets);
    }
}

/// Cells of the widest line.
const WIDEST: u16 = 100;

/// What there is to say of the session on the desk.
fn sections(desk: &Desk) -> Vec<Section> {
    let entered = desk.session.as_ref().and_then(|session| {
        let (setup, assessment) = (session.state.setup.as_ref()?, session.assessment.as_ref()?);
        Some(around::sections(setup, &session.state, assessment, desk.units))
    });
    entered.unwrap_or_default()
}

/// The place, where it has something to say.
pub(super) fn around_of(desk: &Desk) -> Option<Place> {
    (!sections(desk).is_empty()).then(|| Around::default().into())
}
