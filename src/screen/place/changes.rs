//! What changes with the spring, over the whole screen: the spring on the bike, the next step and the landing spring.
//!
//! Not here: the table itself (`part::changes_table`), and which springs stand in it (`assessment::changes`).

use ratatui::Frame;
use ratatui::layout::Rect;

use crate::phrase::{self, ChangesTable};
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Reply};
use crate::screen::part::changes_table;

/// The actions live here.
pub const LIVE: &[Action] = &[Action::Accept, Action::Back];

/// Takes a key in.
pub fn update(pressed: &Pressed) -> Reply {
    match pressed {
        Pressed::Action(Action::Accept | Action::Back) => Reply::going(Go::Back),
        _ => Reply::stay(),
    }
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, desk: &Desk) {
    if let Some(table) = table(desk) {
        changes_table::draw(frame, area, &table, desk.theme);
    }
}

/// The table of the session on the desk; none while there is no spring to speak of.
pub fn table(desk: &Desk) -> Option<ChangesTable> {
    let session = desk.session.as_ref()?;
    let (setup, assessment) = (session.state.setup.as_ref()?, session.assessment.as_ref()?);
    phrase::changes(&assessment.changes, setup, desk.units)
}
