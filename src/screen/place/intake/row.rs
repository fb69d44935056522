//! The rows of the form: their order, which may stay empty, what each takes; all of it from the table of facts.
//!
//! Not here: how the text of a row becomes a detail and back (`text`), and what is possible (`session::limits`).

use crate::phrase::{self, intake as words};
use crate::screen::keys::Typing;
use crate::session::{Fact, FormRow, Group, Intake, Shape};
use crate::units::Kind;

/// A row of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum IntakeRow {
    /// A fact to be told.
    Of(Fact),
    /// On to the work.
    Begin,
}

/// In what order the rows stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FormOrder {
    /// From the customer to the springs.
    FirstVisit,
    /// What may have changed first, then on to the work; all that is likely the same below.
    Return,
}

/// What may have changed since an earlier session.
const MAY_HAVE_CHANGED: [IntakeRow; 3] =
    [IntakeRow::Of(Fact::Rider), IntakeRow::Of(Fact::SpringOnArrival), IntakeRow::Of(Fact::Target)];

impl FormOrder {
    /// The order for what was told: a customer is back if an earlier session taught something.
    pub fn of(entered: &Intake) -> Self {
        if entered.earlier.is_some() { Self::Return } else { Self::FirstVisit }
    }

    /// The rows in this order.
    pub fn rows(self) -> Vec<IntakeRow> {
        let all = IntakeRow::all();
        match self {
            Self::FirstVisit => all,
            Self::Return => {
                let first = MAY_HAVE_CHANGED.into_iter().chain([IntakeRow::Begin]);
                first
                    .clone()
                    .chain(all.into_iter().filter(|row| first.clone().all(|one| one != *row)))
                    .collect()
            }
        }
    }

    /// Whether a group of rows begins at this one.
    pub fn opens_a_group(self, row: IntakeRow) -> bool {
        let IntakeRow::Of(fact) = row else { return self == Self::FirstVisit };
        match self {
            Self::FirstVisit => {
                matches!(fact, Fact::Rider | Fact::Travel | Fact::Target | Fact::Springs | Fact::WheelLoad)
            }
            Self::Return => matches!(
                fact,
                Fact::Rider | Fact::Customer | Fact::Travel | Fact::Ruler | Fact::Springs | Fact::WheelLoad
            ),
        }
    }
}

impl IntakeRow {
    /// Every row, in the order they are asked for at a first visit; what few measure comes after the row that begins the work.
    pub fn all() -> Vec<Self> {
        let mut asked: Vec<(Group, Fact)> =
            Fact::ALL.iter().filter_map(|fact| Some((fact.about().row?.group, *fact))).collect();
        asked.sort_by_key(|(group, _)| *group);
        let measured = asked.partition_point(|(group, _)| *group < Group::Measured);
        let mut rows: Vec<Self> = asked.into_iter().map(|(_, fact)| Self::Of(fact)).collect();
        rows.insert(measured, Self::Begin);
        rows
    }

    fn form(self) -> Option<FormRow> {
        match self {
            Self::Of(fact) => fact.about().row,
            Self::Begin => None,
        }
    }

    /// What kind of value it takes.
    pub(super) fn shape(self) -> Option<Shape> {
        match self {
            Self::Of(fact) => Some(fact.about().shape),
            Self::Begin => None,
        }
    }

    /// What it is called.
    pub fn label(self) -> String {
        match self {
            Self::Of(fact) => {
                let about = fact.about();
                phrase::opening(about.row.and_then(|row| row.label).unwrap_or(about.name))
            }
            Self::Begin => words::BEGIN[0].to_owned(),
        }
    }

    /// What it takes, in a sentence.
    pub fn takes(self) -> &'static str {
        self.form().map_or(words::BEGIN[1], |row| row.takes)
    }

    /// What is customary, offered while nothing was told. Aim, ruler and springs are offered from the settings.
    pub fn suggestion(self) -> Option<&'static str> {
        self.form()?.customary
    }

    /// Whether it may stay empty.
    pub fn is_optional(self) -> bool {
        matches!(self, Self::Of(fact) if fact.about().lacking.is_none())
    }

    /// Whether the work cannot begin before it is told.
    pub fn is_lacking(self, entered: &Intake) -> bool {
        matches!(self, Self::Of(fact) if fact.about().lacking.is_some() && entered.entered(fact).is_none())
    }

    /// What its field takes.
    pub fn typing(self) -> Typing {
        match self.shape() {
            None => Typing::Nothing,
            Some(Shape::Text) => Typing::Text,
            Some(_) => Typing::Figure,
        }
    }

    /// Whether typing replaces what stands in the row when it is reached: a figure, not a text nor a line of several.
    pub(super) fn is_replaced(self) -> bool {
        self.typing() == Typing::Figure && !matches!(self.shape(), Some(Shape::Leverage | Shape::Springs))
    }

    /// The kind of figure a bare one is taken for.
    pub fn kind(self) -> Option<Kind> {
        match self.shape()? {
            Shape::Target => Some(Kind::Share),
            Shape::Leverage => Some(Kind::Ratio),
            Shape::Springs | Shape::Spring => Some(Kind::Rate),
            Shape::Figure(field) => Some(field.limits().least.kind()),
            Shape::Text | Shape::WheelLoad | Shape::Charge | Shape::Earlier => None,
        }
    }
}
