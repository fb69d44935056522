//! Two versions of one session on a page, to be brought together or left.
//!
//! Not here: what the page says (`phrase::versions`), and what is done (`app::merge`).

use ratatui::Frame;
use ratatui::layout::Rect;

use super::Component;
use crate::phrase::places;
use crate::phrase::versions as words;
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::{Confirm, Scroll};
use crate::screen::effect::{Effect, OtherVersionFate, VersionsFound};
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Notice, Reply};
use crate::screen::part::document;
use crate::session::Stamp;

/// Cells of the widest line.
const WIDEST: u16 = 88;

/// The place.
#[derive(Debug)]
pub struct Versions {
    found: VersionsFound,
    scroll: Scroll,
    /// Whether to put the other version away as it is.
    asked: Confirm<OtherVersionFate>,
}

impl Versions {
    /// The versions found of a session.
    pub fn of(found: VersionsFound) -> Self {
        Self { found, scroll: Scroll::default(), asked: Confirm::default() }
    }

    fn settle(&self, fate: OtherVersionFate) -> Reply {
        let effects = vec![Effect::SettleVersions(self.found.name.clone(), fate), Effect::List];
        Reply { effects, go: Go::Back }
    }
}

impl Component for Versions {
    fn title(&self) -> &'static str {
        places::VERSIONS
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![
            Action::Accept,
            Action::Next,
            Action::Previous,
            Action::PageDown,
            Action::PageUp,
            Action::Remove,
            Action::Back,
        ]
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        let together = self.found.can_be_brought_together();
        Some(if together { words::BRING_TOGETHER } else { words::LEAVE }.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        if self.scroll.take(&pressed, desk.window) {
            return Reply::stay();
        }
        match pressed {
            Pressed::Action(Action::Accept) if self.found.can_be_brought_together() => {
                self.settle(OtherVersionFate::BroughtTogether)
            }
            Pressed::Action(Action::Accept | Action::Back) => Reply::going(Go::Back),
            Pressed::Action(Action::Remove) if self.asked.once(OtherVersionFate::PutAway) => {
                self.settle(OtherVersionFate::PutAway)
            }
            Pressed::Action(Action::Remove) => {
                desk.say(Notice::Said(words::PUT_AWAY_ASKED.to_owned()));
                Reply::stay()
            }
            _ => Reply::stay(),
        }
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        let VersionsFound { name, here, others } = &self.found;
        let page = words::page(name.as_str(), here, others, model.desk.units);
        let width = usize::from(area.width.min(WIDEST));
        let lines = document::lines(&page, width, model.desk.theme, |_, _| Vec::new());
        // The title needs no blank line above it.
        self.scroll.draw(frame, area, lines.into_iter().skip(1).collect(), click_targets);
    }
}
