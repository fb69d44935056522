//! Whether a yes can have been meant for what stands on the screen: what was drawn since the last answer, and how long ago a
//! key that answers yes was last pressed.
//!
//! Both are asked without a clock: the loop says when a frame was drawn and brings the time of each key. Not here: which
//! questions there are (`place`), and what becomes of a yes that came too soon (`update`).

use chrono::TimeDelta;

use crate::session::Stamp;

/// What is known of the eyes and the finger of whoever sits there.
#[derive(Debug)]
pub(super) struct RepeatGuard {
    screen: ShownScreen,
    /// When a key was last pressed that can answer yes, whether it did or not.
    last_yes: Option<Stamp>,
}

/// Whether what is asked now has stood on the screen. An Enter that came before it did cannot have been meant for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum ShownScreen {
    /// A frame was drawn since the last answer.
    Drawn,
    /// Something was answered, and what came of it was not drawn yet.
    NotYet,
}

/// Sooner after the last press of a key that answers yes, another answers nothing that guards from harm.
///
/// Nobody has read a caution so soon: to press a key at something that appears takes about a quarter of a second, and
/// reading comes on top (reaction to a sight, from memory: 0.2 to 0.25 s). Terminals that send the repeat of a held key as
/// ordinary presses repeat every 30 to 100 ms; each press dropped begins the wait anew, so a key held down answers nothing
/// more until it is let go. Somebody who ticks as fast as he reads is never that fast. What is left is the first repeat,
/// which most systems send half a second after the press: it may answer one question that nobody let go for.
const TOO_SOON: TimeDelta = TimeDelta::milliseconds(250);

impl RepeatGuard {
    /// Everything on the screen was seen, and nothing was answered yet.
    pub(super) const fn new() -> Self {
        Self { screen: ShownScreen::Drawn, last_yes: None }
    }

    /// A frame was drawn: what is asked now stands on the screen.
    pub(super) const fn was_drawn(&mut self) {
        self.screen = ShownScreen::Drawn;
    }

    /// Something was answered; what is asked next was not drawn yet.
    pub(super) const fn answered(&mut self) {
        self.screen = ShownScreen::NotYet;
    }

    /// Whether what is asked now has not stood on the screen yet.
    pub(super) fn is_unseen(&self) -> bool {
        self.screen == ShownScreen::NotYet
    }

    /// Takes note of a key that can answer yes; whether it came too soon after the last one. A clock that did not move, or
    /// was set back, says nothing.
    pub(super) fn pressed_too_soon(&mut self, at: Stamp) -> bool {
        let passed = self.last_yes.replace(at).map(|last| at.signed_duration_since(last));
        passed.is_some_and(|passed| passed > TimeDelta::zero() && passed < TOO_SOON)
    }
}
