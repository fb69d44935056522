//! From what is typed to a deed: figures read, unusual ones asked about once, reasons and remarks taken as they are.

use super::{Guide, Task};
use crate::assessment::Standing;
use crate::phrase;
use crate::screen::model::{Desk, Notice, OpenSession};
use crate::screen::place::intake::spring_list;
use crate::screen::place::joining::Joining;
use crate::screen::place::typed_condition;
use crate::session::limits;
use crate::session::{Condition, Decision, Deed, Refusal, Setup, Step};
use crate::text::FreeText;
use crate::text::mark::Mark;
use crate::units::{Length, Share, Turns, UnitSet, parse};

/// The deed the typed text comes to.
///
/// # Errors
/// With what has to be said first: the text cannot be read, is empty, or is an unusual figure not yet asked about.
pub(super) fn deed(
    guide: &mut Guide,
    session: &OpenSession,
    task: Task,
    units: UnitSet,
) -> Result<Deed, Notice> {
    match task {
        Task::Collar(suggested) => {
            let preload_turns = turns(guide, session, suggested, units)?;
            Ok(match session.state.step {
                Step::SetPreload => Deed::PreloadSet { preload_turns },
                _ => Deed::Unloaded { preload_turns },
            })
        }
        Task::Read => Ok(Deed::Read { reading: reading(guide, session, units)? }),
        Task::Turns => {
            let to = parse::turns(guide.note_field.text()).map_err(Notice::Unreadable)?.value;
            Ok(Deed::Decided(Decision::SetPreload { to }))
        }
        Task::Condition => Ok(Deed::Under(condition(guide, session, units)?)),
        Task::Note if guide.note_field.text().trim().is_empty() => {
            Err(Notice::Said(phrase::guide::NOTE_EMPTY.to_owned()))
        }
        Task::Note => Ok(Deed::Noted(written(guide))),
        Task::Skip => Ok(Deed::Skipped { because: written(guide) }),
        Task::VoidWhy(reading) => {
            let because = written(guide);
            guide.asked.reason_once(reading, &because, units)?;
            Ok(Deed::Voided { reading, because })
        }
        _ => Err(Notice::Refused(Refusal::NotAtThisStep { step: session.state.step })),
    }
}

/// The condition named; an empty field is as entered, where it is not that already.
fn condition(guide: &Guide, session: &OpenSession, units: UnitSet) -> Result<Option<Condition>, Notice> {
    let named = typed_condition::read(guide.note_field.text(), units);
    let named = named.ok().filter(|named| named.is_some() || session.state.condition().is_some());
    named.ok_or_else(|| Notice::Said(phrase::condition::form("", units)))
}

/// The spring that is typed to join the list, as the deed that puts it there.
///
/// # Errors
/// With what has to be said first: the text is no spring, it does not fit, or it is known to nobody and not yet asked about.
pub(super) fn joining(guide: &mut Guide, session: &OpenSession, desk: &Desk) -> Result<Deed, Notice> {
    let Some(setup) = &session.state.setup else {
        return Err(Notice::Refused(Refusal::NotAtThisStep { step: session.state.step }));
    };
    let joining = typed_joining(guide.note_field.text(), setup, desk)?;
    joining.agreed(setup, &mut guide.asked, desk.units)?;
    Ok(joining.deed(setup))
}

fn typed_joining(text: &str, setup: &Setup, desk: &Desk) -> Result<Joining, Notice> {
    if let Ok(mark) = Mark::read(text) {
        if let Some(listed) = setup.springs.iter().find(|spring| spring.mark() == Some(mark)) {
            let name = phrase::spring(listed.number, &setup.springs, desk.units);
            return Err(Notice::Said(phrase::shop_alternatives::listed_already(&name)));
        }
        if let Some(joining) = Joining::with_mark(mark, setup, desk.shelf.rack.kinds()) {
            return Ok(joining);
        }
    }
    let listed =
        spring_list::read(text, desk.units, &[]).map_err(|fault| Notice::Said(fault.sentence(desk.units)))?;
    let [spring] = listed[..] else {
        return Err(Notice::Said(phrase::shop_alternatives::ONE_AT_A_TIME.to_owned()));
    };
    Joining::of(&spring, setup, desk.shelf.rack.kinds())
        .map_err(|fault| Notice::Said(fault.sentence(desk.units)))
}

fn written(guide: &Guide) -> FreeText {
    FreeText::new(guide.note_field.text())
}

/// A collar found may be past the limit; one set may not.
fn turns(
    guide: &mut Guide,
    session: &OpenSession,
    suggested: Turns,
    units: UnitSet,
) -> Result<Turns, Notice> {
    if guide.field.text().trim().is_empty() {
        return Ok(suggested);
    }
    let turns = parse::turns(guide.field.text()).map_err(Notice::Unreadable)?.value;
    let setup = session.state.setup.as_ref();
    if let Some(setup) = setup.filter(|setup| turns > setup.shock.turns_limit)
        && session.state.step == Step::SetPreload
    {
        let (allowed, from) = (setup.shock.turns_limit, setup.turns_limit_from());
        return Err(Notice::Refused(Refusal::BeyondTurnsLimit { asked: turns, allowed, from }));
    }
    guide.asked.found_once(turns, setup, units)?;
    Ok(turns)
}

fn reading(guide: &mut Guide, session: &OpenSession, units: UnitSet) -> Result<Length, Notice> {
    let reading = parse::length(guide.field.text(), units).map_err(Notice::Unreadable)?.value;
    if let Some(setup) = &session.state.setup {
        limits::check_reading(reading, setup.shock.stroke).map_err(Notice::Refused)?;
    }
    guide.asked.reading_once(reading, session, units)?;
    Ok(reading)
}

/// How the typed text is understood, for the line under the field; none while it cannot be.
pub(super) fn understood(guide: &Guide, session: &OpenSession, task: Task, desk: &Desk) -> Option<String> {
    let setup = session.state.setup.as_ref()?;
    let units = desk.units;
    let collar = |text: &str| {
        let turns = parse::turns(text).ok()?.value;
        Some(phrase::guide::turns_understood(turns, setup, units))
    };
    match task {
        Task::Read => {
            let reading = parse::length(guide.field.text(), units).ok()?.value;
            Some(phrase::guide::reading_understood(reading, setup, units))
        }
        Task::Collar(suggested) if guide.field.is_empty() => {
            Some(phrase::guide::turns_suggested(suggested, units))
        }
        Task::Collar(_) => collar(guide.field.text()),
        Task::Turns => collar(guide.note_field.text()),
        Task::Condition => {
            let named = condition(guide, session, units).ok()?;
            Some(phrase::condition::understood(named.as_ref(), units))
        }
        Task::Joins => {
            let joining = typed_joining(guide.note_field.text(), setup, desk).ok()?;
            Some(format!("= {}: {}", joining.name(units), joining.words()))
        }
        _ => None,
    }
}

/// The reading being typed; none while the text is no possible reading.
pub(super) fn typed_reading(
    guide: &Guide,
    session: &OpenSession,
    task: Task,
    units: UnitSet,
) -> Option<Length> {
    let setup = session.state.setup.as_ref().filter(|_| task == Task::Read)?;
    let reading = parse::length(guide.field.text(), units).ok()?.value;
    (reading <= setup.shock.stroke).then_some(reading)
}

/// The sag of the reading being typed, and where it lies; none while the text is no possible reading.
pub(super) fn typed_sag(
    guide: &Guide,
    session: &OpenSession,
    task: Task,
    units: UnitSet,
) -> Option<(Share, Standing)> {
    let setup = session.state.setup.as_ref()?;
    let sag = Share::fraction(typed_reading(guide, session, task, units)? / setup.shock.stroke);
    Some((sag, Standing::of(sag, setup)))
}
