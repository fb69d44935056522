//! The hazard of a spring that cannot be ridden, put before the mechanic as soon as the details say so.
//!
//! While the intake is open there is no entry for it yet: what was read here is entered when the work begins, if it still
//! holds then. Not here: what is a hazard (`session::hazard`).

use super::Form;
use crate::screen::effect::Effect;
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Reply};
use crate::session::{Deed, Hazard, Stamp};

/// The hazard to be read now.
pub(super) fn due(form: &Form, desk: &Desk) -> Option<Hazard> {
    let hazards = desk.session.as_ref()?.state.pending_hazards().into_iter();
    hazards.filter(|hazard| hazard.forbids_riding()).find(|hazard| !form.read.contains(hazard))
}

/// What a key does while it stands over the form.
pub(super) fn answered(
    form: &mut Form,
    desk: &mut Desk,
    hazard: Hazard,
    pressed: &Pressed,
    at: Stamp,
) -> Reply {
    match pressed {
        Pressed::Action(Action::Accept)
            if desk.session.as_ref().is_some_and(|open| open.state.setup.is_some()) =>
        {
            Reply::asking(acknowledged(desk, hazard, at))
        }
        Pressed::Action(Action::Accept) => {
            form.read.push(hazard);
            Reply::stay()
        }
        Pressed::Action(Action::Back) => Reply::going(Go::Back),
        _ => Reply::stay(),
    }
}

/// Enters that it was read, where it still holds.
pub(super) fn acknowledged(desk: &mut Desk, hazard: Hazard, at: Stamp) -> Vec<Effect> {
    let holds = desk.session.as_ref().is_some_and(|open| open.state.pending_hazards().contains(&hazard));
    if holds { desk.advance(at, Deed::CautionSeen(hazard.caution())) } else { Vec::new() }
}
