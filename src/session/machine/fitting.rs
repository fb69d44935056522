//! What can be fitted and set: no spring that binds or is too narrow, no collar past the limit.
//!
//! Not here: what is on the bike already and was found so (`session::hazard`).

use crate::session::intake::SpringNumber;
use crate::session::limits::Figure;
use crate::session::refusal::Refusal;
use crate::session::state::State;
use crate::units::{Quantity, Turns};

impl State {
    /// Whether the spring can go on, with the collar this far past contact.
    pub(super) fn can_fit(&self, number: SpringNumber, preload_turns: Turns) -> Result<(), Refusal> {
        if self.on_bike.fitted == Some(number) {
            return Err(Refusal::AlreadyFitted(number));
        }
        let setup = self.setup_known()?;
        let spring = setup.spring(number).ok_or(Refusal::NoSuchSpring(number))?;
        if let (Some(bore), Some(body)) = (spring.bore, setup.shock.body_diameter)
            && bore < body
        {
            return Err(Refusal::TooNarrow { spring: number });
        }
        self.must_not_bind(number, preload_turns)
    }

    /// Whether the collar can be set this far past contact with the spring on the bike.
    pub(super) fn can_stand_at(&self, preload_turns: Turns) -> Result<(), Refusal> {
        Figure::PreloadTurns.check(Quantity::Turns(preload_turns))?;
        let setup = self.setup_known()?;
        let (allowed, from) = (setup.shock.turns_limit, setup.turns_limit_from());
        if preload_turns > allowed {
            return Err(Refusal::BeyondTurnsLimit { asked: preload_turns, allowed, from });
        }
        let fitted = self.on_bike.fitted.ok_or(self.elsewhere())?;
        self.must_not_bind(fitted, preload_turns)
    }

    fn must_not_bind(&self, number: SpringNumber, preload_turns: Turns) -> Result<(), Refusal> {
        let setup = self.setup_known()?;
        let needed = setup.shock.stroke + setup.shock.preload(preload_turns);
        match setup.spring(number).and_then(|spring| spring.stroke) {
            Some(spring_stroke) if spring_stroke < needed => {
                Err(Refusal::WouldBind { spring: number, spring_stroke, needed })
            }
            _ => Ok(()),
        }
    }
}
