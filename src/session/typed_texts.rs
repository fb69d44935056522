//! Every text that somebody typed into a record, by what it is of: for taking a person out of one.
//!
//! Pure, and complete: a deed that comes to hold a text has to be named here. Not here: what a text is replaced by
//! (`archive::forget`).

use super::condition::Condition;
use super::entry::{Deed, Entry, Record};
use super::facts::{Detail, Fact, Intake, Value};
use super::ride_told::RideTold;
use super::sheet::{Item, Sheet, Written};
use crate::text::FreeText;

/// What a typed text is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TextOf {
    /// Whose bike it is.
    Customer,
    /// What the bike is called.
    Bike,
    /// A work order.
    WorkOrder,
    /// A note, or a reason somebody gave.
    Note,
    /// Who did something.
    Mechanic,
    /// A setting or a part, such as tyre pressures.
    Setting,
}

/// What stands in the place of a text.
pub type Replacement<'a> = &'a mut dyn FnMut(TextOf, &FreeText) -> FreeText;

impl Record {
    /// The record with something else in the place of every text; what is empty stays so. All that is no text is as it was.
    #[must_use]
    pub fn with_texts(&self, replace: Replacement<'_>) -> Self {
        let mut replace =
            |of, text: &FreeText| if text.is_empty() { text.clone() } else { replace(of, text) };
        let intake = intake(&self.intake, &mut replace);
        let entry = |Entry { at, by, deed: done }: &Entry| Entry {
            at: *at,
            by: replace(TextOf::Mechanic, by),
            deed: deed(done, &mut replace),
        };
        Self { opened: self.opened, intake, entries: self.entries.iter().map(entry).collect() }
    }
}

fn intake(entered: &Intake, replace: Replacement<'_>) -> Intake {
    let mut intake = entered.clone();
    for fact in Fact::ALL {
        if let Some(Value::Text(text)) = entered.entered(*fact)
            && let Some(detail) = fact.detail(Some(Value::Text(replace(text_of(*fact), &text))))
        {
            intake.put(detail);
        }
    }
    intake
}

const fn text_of(fact: Fact) -> TextOf {
    match fact {
        Fact::Customer => TextOf::Customer,
        Fact::BikeName => TextOf::Bike,
        _ => TextOf::Note,
    }
}

fn detail(entered: &Detail, replace: Replacement<'_>) -> Detail {
    let fact = entered.fact();
    let mut alone = Intake::default();
    alone.put(entered.clone());
    match alone.entered(fact) {
        Some(Value::Text(text)) => {
            fact.detail(Some(Value::Text(replace(text_of(fact), &text)))).unwrap_or_else(|| entered.clone())
        }
        _ => entered.clone(),
    }
}

fn deed(done: &Deed, replace: Replacement<'_>) -> Deed {
    let mut note = |text: &FreeText| replace(TextOf::Note, text);
    match done {
        Deed::Entered(entered) => Deed::Entered(detail(entered, replace)),
        Deed::TrailRidden { bottoming, ride_height, feel, note: said } => Deed::TrailRidden {
            bottoming: *bottoming,
            ride_height: *ride_height,
            feel: *feel,
            note: note(said),
        },
        Deed::Voided { reading, because } => Deed::Voided { reading: *reading, because: note(because) },
        Deed::Skipped { because } => Deed::Skipped { because: note(because) },
        Deed::Under(condition) => Deed::Under(
            condition.as_ref().map(|read| Condition { name: note(&read.name), rider: read.rider }),
        ),
        Deed::Noted(text) => Deed::Noted(note(text)),
        Deed::AsFound(found) => Deed::AsFound(Box::new(sheet(found, replace))),
        Deed::AsLeft(left) => Deed::AsLeft(Box::new(sheet(left, replace))),
        Deed::RideTold(RideTold { deepest, symptom, changed }) => {
            Deed::RideTold(RideTold { deepest: *deepest, symptom: *symptom, changed: note(changed) })
        }
        Deed::IntakeDone
        | Deed::CautionSeen(_)
        | Deed::Ticked(..)
        | Deed::TrialsOpened { .. }
        | Deed::Unloaded { .. }
        | Deed::IndicatorSeated
        | Deed::Read { .. }
        | Deed::Trial { .. }
        | Deed::ReadHow { .. }
        | Deed::GapLookedFor(_)
        | Deed::Risen { .. }
        | Deed::EnoughReadings
        | Deed::Decided(_)
        | Deed::PreloadSet { .. }
        | Deed::Swapped { .. }
        | Deed::KerbDropped(_)
        | Deed::Closed
        | Deed::TakenBack
        | Deed::StartedAgain
        | Deed::Undone
        | Deed::Redone => done.clone(),
    }
}

fn sheet(sheet: &Sheet, replace: Replacement<'_>) -> Sheet {
    Item::ALL.iter().fold(sheet.clone(), |sheet, item| match sheet.of(*item) {
        Some(Written::Text(text)) if !text.is_empty() => {
            let of = if *item == Item::WorkOrder { TextOf::WorkOrder } else { TextOf::Setting };
            let text = replace(of, &text);
            sheet.with(*item, Some(Written::Text(text)))
        }
        _ => sheet,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::{Bottoming, Feel, ReadingNumber, RideHeight};

    fn text(word: &str) -> FreeText {
        FreeText::new(word)
    }

    /// A record with a text in every place that takes one; it need not fit the walk.
    fn full() -> Record {
        let at = chrono::DateTime::UNIX_EPOCH.into();
        let mut record = Record::new(at);
        for fact in Fact::ALL {
            if let Some(detail) = fact.detail(Some(Value::Text(text("secret")))) {
                record.intake.put(detail);
            }
        }
        let sheet = Item::ALL
            .iter()
            .fold(Sheet::default(), |sheet, item| sheet.with(*item, Some(Written::Text(text("secret")))));
        let deeds = [
            Deed::Entered(Detail::Customer(text("secret"))),
            Deed::TrailRidden {
                bottoming: Bottoming::Never,
                ride_height: RideHeight::Right,
                feel: Feel::Right,
                note: text("secret"),
            },
            Deed::Voided { reading: ReadingNumber(1), because: text("secret") },
            Deed::Skipped { because: text("secret") },
            Deed::Noted(text("secret")),
            Deed::AsFound(Box::new(sheet.clone())),
            Deed::AsLeft(Box::new(sheet)),
            Deed::RideTold(RideTold { changed: text("secret"), ..RideTold::default() }),
        ];
        record.entries = deeds.into_iter().map(|deed| Entry { at, by: text("secret"), deed }).collect();
        record
    }

    #[test]
    fn every_text_of_a_record_is_replaced() {
        let record = full();
        assert_eq!(format!("{record:?}").matches("secret").count(), 3 + 8 + 6 + 2 * 7);
        let without = record.with_texts(&mut |_, _| text("x"));
        assert!(!format!("{without:?}").contains("secret"), "{without:?}");
    }

    #[test]
    fn a_text_that_is_left_as_it_is_leaves_the_record_as_it_is() {
        let record = full();
        assert_eq!(record.with_texts(&mut |_, text| text.clone()), record);
    }
}
