//! Typical values: what is calculated with where nothing was entered (common practice, no source; the makers know better).
//!
//! They never enter a record, so that whoever reads it later can tell what was entered from what was not. [`Setup`] names the
//! facts they stand for. Not here: what a shop chose for itself (`settings`), which enters the record when the work begins.
//!
//! [`Setup`]: super::Setup

use super::facts::{Fact, Intake, Value};
use super::intake::Target;
use crate::units::{Length, Mass, Turns};

/// A trail or enduro bike (common practice, no source).
pub const BIKE: Mass = Mass::kg(15.0);
/// Thread of a preload collar.
pub const COLLAR_PITCH: Length = Length::mm(1.25);
/// Turns of preload most makers of shocks allow; nobody's limit before it was looked up.
pub const TURNS_ALLOWED: Turns = Turns::of(2.0);
/// The target range.
pub const AIM: Target = Target::PLANTED;
/// Half a millimetre, as an eye reads between the marks of a steel rule.
pub const RULER: Length = Length::mm(0.5);
/// Readings with the first spring before there is advice: two tell a bounce; whether a third pays is calculated.
pub const READINGS: u8 = 2;
/// Readings with every later spring or collar position: what was learned before says the rest.
pub const READINGS_LATER: u8 = 1;
/// A grown rider with kit: so far from many a rider that a reading has to say more than the weights.
pub const RIDER: Mass = Mass::kg(80.0);
/// Travel of the wheel over stroke of the shock.
pub const MEAN_LEVERAGE: f64 = 2.6;

impl Fact {
    /// What stands for it while it is not entered, and is shown so; none where nothing does.
    pub const fn typical(self) -> Option<Value> {
        use crate::units::Quantity as Q;
        Some(match self {
            Self::Bike => Value::Figure(Q::Mass(BIKE)),
            Self::CollarPitch => Value::Figure(Q::Length(COLLAR_PITCH)),
            Self::TurnsLimit => Value::Figure(Q::Turns(TURNS_ALLOWED)),
            Self::Target => Value::Target(AIM),
            Self::Ruler => Value::Figure(Q::Length(RULER)),
            Self::ReadingsEach => Value::Figure(Q::Count(READINGS as u16)),
            _ => return None,
        })
    }
}

impl Intake {
    /// The facts that were not entered and that something typical stands for, the load of quick trials among them.
    pub fn not_entered(&self) -> Vec<Fact> {
        let stood_for = |fact: &Fact| fact.typical().is_some() || matches!(fact, Fact::Rider | Fact::Travel);
        Fact::ALL.iter().copied().filter(|fact| stood_for(fact) && self.entered(*fact).is_none()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::Shape;
    use crate::units::Quantity;

    #[test]
    fn every_typical_value_is_a_usual_one() {
        for fact in Fact::ALL {
            if let (Shape::Figure(field), Some(Value::Figure(figure))) = (fact.about().shape, fact.typical())
            {
                assert!(field.check(figure).is_ok() && !field.is_unusual(figure), "{fact:?}");
            }
        }
        let rider = Quantity::Mass(RIDER);
        assert!(!crate::session::limits::Figure::Rider.is_unusual(rider));
    }

    #[test]
    fn what_was_entered_is_not_typical() {
        let entered = Intake { bike: Some(BIKE), rider: Some(RIDER), ..Intake::default() };
        let stood_for = entered.not_entered();
        assert!(!stood_for.contains(&Fact::Bike) && !stood_for.contains(&Fact::Rider));
        assert!(stood_for.contains(&Fact::CollarPitch) && stood_for.contains(&Fact::Travel));
    }
}
