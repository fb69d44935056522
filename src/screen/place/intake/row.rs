//! The rows of the form: their order, which may stay empty, what each takes; all of it from the table of facts.
//!
//! Not here: how the text of a row becomes a detail and back (`text`), and what is possible (`session::limits`).

use super::AfterForm;
use crate::phrase::{self, intake as words};
use crate::screen::keys::Typing;
use crate::session::{Fact, FormRow, Group, Intake, Shape, Value};
use crate::units::{Kind, UnitSet};

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
    /// The few questions of a first visit, then on to the work; below, what stands filled in, and what may be left out.
    FirstVisit,
    /// The same for quick trials, which begin from stroke and spring: sag in per cent needs nothing else.
    Trials,
    /// What may have changed first, then on to the work; all that is likely the same below.
    Return,
}

/// Whose bike it is; may stay empty.
const NAMES: [Fact; 2] = [Fact::Customer, Fact::BikeName];
/// What nobody can fill in but the mechanic.
const ASKED: [Fact; 4] = [Fact::Rider, Fact::Travel, Fact::Stroke, Fact::SpringOnArrival];
/// What quick trials ask.
const ASKED_FOR_TRIALS: [Fact; 2] = [Fact::Stroke, Fact::SpringOnArrival];
/// What may have changed since an earlier session.
const MAY_HAVE_CHANGED: [Fact; 3] = [Fact::Rider, Fact::SpringOnArrival, Fact::Target];
/// What stands filled in: by the shop's settings and rack, and by typical values.
const FILLED: [Fact; 7] = [
    Fact::Springs,
    Fact::Bike,
    Fact::Target,
    Fact::Ruler,
    Fact::ReadingsEach,
    Fact::CollarPitch,
    Fact::TurnsLimit,
];

impl FormOrder {
    /// The order for what was told, and for where the form leads: a customer is back if an earlier session taught
    /// something.
    pub fn of(entered: &Intake, then: AfterForm) -> Self {
        match then {
            _ if entered.earlier.is_some() => Self::Return,
            AfterForm::Guide => Self::FirstVisit,
            AfterForm::Trials => Self::Trials,
        }
    }

    /// The row the focus is at first: the first question.
    pub const fn first(self) -> IntakeRow {
        match self {
            Self::FirstVisit => IntakeRow::Of(ASKED[0]),
            Self::Trials => IntakeRow::Of(ASKED_FOR_TRIALS[0]),
            Self::Return => IntakeRow::Of(MAY_HAVE_CHANGED[0]),
        }
    }

    /// The rows in this order.
    pub fn rows(self) -> Vec<IntakeRow> {
        let (above, below): (Vec<Fact>, Vec<Fact>) = match self {
            Self::FirstVisit => (NAMES.into_iter().chain(ASKED).collect(), FILLED.to_vec()),
            Self::Trials => (
                NAMES.into_iter().chain(ASKED_FOR_TRIALS).collect(),
                [Fact::Rider, Fact::Travel].into_iter().chain(FILLED).collect(),
            ),
            Self::Return => (MAY_HAVE_CHANGED.to_vec(), NAMES.to_vec()),
        };
        let rest = in_groups().into_iter().filter(|fact| !above.contains(fact) && !below.contains(fact));
        let rest: Vec<Fact> = rest.collect();
        let of = |facts: Vec<Fact>| facts.into_iter().map(IntakeRow::Of);
        of(above).chain([IntakeRow::Begin]).chain(of(below)).chain(of(rest)).collect()
    }

    /// Whether a group of rows begins at this one.
    pub fn opens_a_group(self, row: IntakeRow) -> bool {
        let opens = |facts: &[Fact]| matches!(row, IntakeRow::Of(fact) if facts.contains(&fact));
        match self {
            Self::FirstVisit => opens(&[ASKED[0], FILLED[0], Fact::Leverage, Fact::WheelLoad]),
            Self::Trials => opens(&[ASKED_FOR_TRIALS[0], Fact::Rider, Fact::Leverage, Fact::WheelLoad]),
            Self::Return => opens(&[
                Fact::Rider,
                Fact::Customer,
                Fact::Travel,
                Fact::Ruler,
                Fact::Springs,
                Fact::WheelLoad,
            ]),
        }
    }
}

/// Every fact that has a row, in the order of the groups; the notes, which nothing waits for, come last.
fn in_groups() -> Vec<Fact> {
    let mut asked: Vec<(bool, Group, Fact)> = Fact::ALL
        .iter()
        .filter_map(|fact| Some((*fact == Fact::Notes, fact.about().row?.group, *fact)))
        .collect();
    asked.sort_by_key(|(is_last, group, _)| (*is_last, *group));
    asked.into_iter().map(|(_, _, fact)| fact).collect()
}

impl IntakeRow {
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

    /// What it takes, in a sentence, in the units shown.
    pub fn takes(self, units: UnitSet) -> &'static str {
        let imperial = |row: &FormRow| row.imperial.filter(|_| units == UnitSet::Imperial);
        self.form().map_or(words::BEGIN[1], |row| imperial(&row).unwrap_or(row.takes))
    }

    /// The typical value that is calculated with while nothing is entered.
    pub fn typical(self) -> Option<Value> {
        match self {
            Self::Of(fact) => fact.typical(),
            Self::Begin => None,
        }
    }

    /// Whether it may stay empty.
    pub fn is_optional(self) -> bool {
        matches!(self, Self::Of(fact) if fact.about().lacking.is_none())
    }

    /// Whether it says whose session it is, which may be put right even after closing.
    pub fn is_of_the_customer(self) -> bool {
        self.form().is_some_and(|row| row.group == Group::Customer)
    }

    /// Whether the work is not begun before it is told, there where the form leads. Quick trials find the load from the
    /// readings; only where no spring is fitted yet do they need the weights to name the first one.
    pub fn is_asked_first(self, entered: &Intake, then: AfterForm) -> bool {
        let Self::Of(fact) = self else { return false };
        let needed = match fact {
            Fact::Rider | Fact::Travel => then == AfterForm::Guide || entered.spring_on_arrival.is_none(),
            fact => entered.missing().contains(&fact),
        };
        needed && entered.entered(fact).is_none()
    }

    /// What its field takes.
    pub fn typing(self) -> Typing {
        match self.shape() {
            None => Typing::Nothing,
            Some(Shape::Text) => Typing::Text,
            Some(_) => Typing::Figure,
        }
    }

    /// Whether typing replaces what is in the row when it is reached: a figure or a list of springs, not a text nor what is
    /// known of the leverage.
    pub(super) fn is_replaced(self) -> bool {
        self.typing() == Typing::Figure && !matches!(self.shape(), Some(Shape::Leverage))
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
