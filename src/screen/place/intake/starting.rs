//! What a row stands for while nothing was entered: what the settings and the rack of the shop say, else what is typical.
//!
//! The shop's own values enter the record when the work begins, because the record must mean the same after the settings
//! were changed. Typical values never do. Not here: what is typical (`session::typical`).

use std::borrow::Cow;

use super::row::IntakeRow;
use crate::phrase;
use crate::screen::model::Desk;
use crate::screen::place::typed_target;
use crate::session::{Detail, Fact, Intake, Spring, Target, Value, typical};
use crate::settings::{StartingSprings, TargetRange};

/// A value that stands in a row though nobody entered it, and where it comes from.
pub(super) struct Filled {
    pub(super) value: String,
    pub(super) source: &'static str,
}

/// Whether something stands in the row though nobody entered it.
pub(super) fn is_filled(row: IntakeRow, desk: &Desk) -> bool {
    filled(row, desk).is_some()
}

/// What stands in the row while nothing is entered; none where nothing does.
pub(super) fn filled(row: IntakeRow, desk: &Desk) -> Option<Filled> {
    let settings = |value: String| Some(Filled { value, source: phrase::intake::FROM_SETTINGS });
    match row {
        IntakeRow::Of(Fact::Target) if target(desk).is_some() => {
            settings(phrase::target_range(target(desk)?, desk.units))
        }
        IntakeRow::Of(Fact::Ruler) if ruler(desk).is_some() => {
            settings(desk.units.show(desk.settled.settings().ruler.least_difference()))
        }
        IntakeRow::Of(Fact::Springs) => {
            let springs = springs(desk);
            if springs.is_empty() {
                return None;
            }
            let source = match desk.settled.settings().springs {
                StartingSprings::Row(_) => phrase::intake::FROM_SETTINGS,
                StartingSprings::ShopRack | StartingSprings::Nothing => phrase::intake::FROM_RACK,
            };
            Some(Filled { value: phrase::intake::springs_in_short(&springs, desk.units), source })
        }
        row => {
            let value = match row.typical()? {
                Value::Figure(figure) => desk.units.show(figure),
                Value::Target(target) => phrase::target_range(target, desk.units),
                _ => return None,
            };
            Some(Filled { value, source: phrase::intake::TYPICAL })
        }
    }
}

/// The text a row stands for: the figures of a band called by its name, else what is typed.
pub(super) fn text<'t>(row: IntakeRow, typed: &'t str, desk: &Desk) -> Cow<'t, str> {
    let called = || desk.settled.settings().target_ranges.called(typed);
    match row {
        IntakeRow::Of(Fact::Target) if !typed.trim().is_empty() => {
            called().map_or(Cow::Borrowed(typed), |band| typed_target::written(band.target()))
        }
        _ => Cow::Borrowed(typed),
    }
}

/// What stands in the row, in words, where it is empty.
pub(super) fn offered(row: IntakeRow, desk: &Desk) -> Option<String> {
    let settings = desk.settled.settings();
    let bands = || phrase::settings::bands_offered(settings.target_ranges.all(), desk.units);
    match row {
        IntakeRow::Of(Fact::Target) if settings.target_ranges.all().len() > 1 => bands(),
        row => filled(row, desk).map(|filled| phrase::intake::stands(filled.source, &filled.value)),
    }
}

/// The shop's target range, where it is another than the typical one.
fn target(desk: &Desk) -> Option<Target> {
    let first = desk.settled.settings().target_ranges.all().first().map(TargetRange::target);
    first.filter(|target| *target != typical::AIM)
}

/// The shop's ruler, where it is another than the typical one.
fn ruler(desk: &Desk) -> Option<crate::units::Length> {
    Some(desk.settled.settings().ruler.least_difference()).filter(|ruler| *ruler != typical::RULER)
}

/// The springs to start with.
pub(super) fn springs(desk: &Desk) -> Vec<Spring> {
    match desk.settled.settings().springs {
        StartingSprings::ShopRack => desk.shelf.rack.at_hand(),
        StartingSprings::Row(row) => row.springs(),
        StartingSprings::Nothing => Vec::new(),
    }
}

/// The intake with the springs to start with, where none were told: what the spring on the bike is looked for in.
pub(super) fn with_springs(entered: &Intake, desk: &Desk) -> Intake {
    let rack = if entered.springs.is_empty() { springs(desk) } else { entered.springs.clone() };
    Intake { springs: rack, ..entered.clone() }
}

/// The intake with those of the springs to start with that have marks, where none were told: what a typed list may name.
pub(super) fn with_marks(entered: &Intake, desk: &Desk) -> Intake {
    let mut intake = with_springs(entered, desk);
    if entered.springs.is_empty() {
        intake.springs.retain(|spring| spring.marked.is_some());
    }
    intake
}

/// What the shop's settings and rack say of what was not entered, to be told as the work begins.
pub(super) fn shops_own(entered: &Intake, desk: &Desk) -> Vec<Detail> {
    let springs = Some(springs(desk)).filter(|springs| entered.springs.is_empty() && !springs.is_empty());
    let target = target(desk).filter(|_| entered.target.is_none());
    let ruler = ruler(desk).filter(|_| entered.ruler.is_none());
    let details = [springs.map(Detail::Springs), target.map(Detail::Target), ruler.map(Detail::Ruler)];
    details.into_iter().flatten().collect()
}
