//! A correction as it stands in a file ⇄ a [`session::Detail`]. Not here: the parts it is made of (`told`).

use super::figure::Text;
use super::told::{Aim, Detail, Spring};
use crate::session::{self, SpringNumber};

impl From<session::Detail> for Detail {
    fn from(detail: session::Detail) -> Self {
        use session::Detail as D;
        match detail {
            D::Who(text) => Self::Who(Text(text)),
            D::Notes(text) => Self::Notes(Text(text)),
            D::BikeLabel(text) => Self::BikeLabel(Text(text)),
            D::Rider(mass) => Self::Rider { kg: mass.into() },
            D::Bike(mass) => Self::Bike { kg: mass.into() },
            D::WheelLoad(load) => Self::WheelLoad(load.map(Into::into)),
            D::Earlier(earlier) => Self::Earlier(earlier.map(Into::into)),
            D::Travel(length) => Self::Travel { mm: length.into() },
            D::Leverage(knowledge) => Self::Leverage(knowledge.into()),
            D::Stroke(length) => Self::Stroke { mm: length.into() },
            D::CollarPitch(length) => Self::CollarPitch { mm: length.into() },
            D::TurnsAllowed(turns) => Self::TurnsAllowed { turns: turns.into() },
            D::BodyDiameter(length) => Self::BodyDiameter { mm: length.map(Into::into) },
            D::Wheelbase(length) => Self::Wheelbase { mm: length.map(Into::into) },
            D::RearCentre(length) => Self::RearCentre { mm: length.map(Into::into) },
            D::Aim(aim) => Self::Aim(Aim(aim)),
            D::Ruler(length) => Self::Ruler { mm: length.into() },
            D::ReadingsWanted(count) => Self::ReadingsWanted(count),
            D::Rack(rack) => Self::Rack(rack.into_iter().map(Spring).collect()),
            D::Fitted(number) => Self::Fitted(number.map(|number| number.0)),
        }
    }
}

impl From<Detail> for session::Detail {
    fn from(detail: Detail) -> Self {
        use Detail as W;
        match detail {
            W::Who(Text(text)) => Self::Who(text),
            W::Notes(Text(text)) => Self::Notes(text),
            W::BikeLabel(Text(text)) => Self::BikeLabel(text),
            W::Rider { kg } => Self::Rider(kg.into()),
            W::Bike { kg } => Self::Bike(kg.into()),
            W::WheelLoad(load) => Self::WheelLoad(load.map(Into::into)),
            W::Earlier(earlier) => Self::Earlier(earlier.map(Into::into)),
            W::Travel { mm } => Self::Travel(mm.into()),
            W::Leverage(leverage) => Self::Leverage(leverage.into()),
            W::Stroke { mm } => Self::Stroke(mm.into()),
            W::CollarPitch { mm } => Self::CollarPitch(mm.into()),
            W::TurnsAllowed { turns } => Self::TurnsAllowed(turns.into()),
            W::BodyDiameter { mm } => Self::BodyDiameter(mm.map(Into::into)),
            W::Wheelbase { mm } => Self::Wheelbase(mm.map(Into::into)),
            W::RearCentre { mm } => Self::RearCentre(mm.map(Into::into)),
            W::Aim(Aim(aim)) => Self::Aim(aim),
            W::Ruler { mm } => Self::Ruler(mm.into()),
            W::ReadingsWanted(count) => Self::ReadingsWanted(count),
            W::Rack(rack) => Self::Rack(rack.into_iter().map(|Spring(spring)| spring).collect()),
            W::Fitted(number) => Self::Fitted(number.map(SpringNumber)),
        }
    }
}
