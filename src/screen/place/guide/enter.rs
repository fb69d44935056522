//! What Enter does at the present step, in the words of the footer.
//!
//! Not here: the doing (`update`), and the words themselves (`phrase::enter`).

use super::trail::NOTE_ROW;
use super::{Guide, Task, choice};
use crate::phrase::enter;
use crate::screen::model::{Desk, OpenSession};
use crate::units::parse;

/// The words; none where the record is only looked at.
pub(super) fn words(guide: &Guide, session: &OpenSession, desk: &Desk) -> Option<String> {
    let is_typed = !guide.field.text().trim().is_empty();
    let words = match guide.task(session) {
        Task::Acknowledge(_) => enter::UNDERSTOOD,
        Task::Stroke if is_typed => enter::STROKE,
        Task::Stroke => enter::NO_STROKE,
        Task::AllDone => enter::TICK_ALL,
        Task::Tick(_) => enter::TICK,
        Task::Collar(_) if is_typed => enter::TURNS,
        Task::Collar(_) => enter::COLLAR,
        Task::Seat => enter::SEATED,
        Task::Read => return Some(reading(guide, desk)),
        Task::Choose => return chosen(guide, session, desk),
        Task::Trail if guide.trail_row() == NOTE_ROW => enter::REPORT,
        Task::Trail => enter::NEXT_QUESTION,
        Task::Condition => enter::DO_IT,
        Task::Note => enter::NOTE,
        Task::Skip => enter::SKIP,
        Task::VoidWhich => enter::CHOOSE_READING,
        Task::VoidWhy(_) => enter::VOID,
        Task::Springs => enter::CHOOSE_SPRING,
        Task::Joins => enter::ADD_SPRING,
        Task::Turns => enter::TURNS,
        Task::Look => return None,
    };
    Some(words.to_owned())
}

fn reading(guide: &Guide, desk: &Desk) -> String {
    let typed = parse::length(guide.field.text(), desk.units).ok();
    typed.map_or_else(|| enter::READING.to_owned(), |read| enter::reading(read.value, desk.units))
}

fn chosen(guide: &Guide, session: &OpenSession, desk: &Desk) -> Option<String> {
    let marked = *choice::choices(session).get(guide.marked_choice(session))?;
    Some(enter::choice(&choice::words(marked, session, desk.units)))
}
