//! What a row offers while nothing was told: what is customary, and for aim, ruler and springs what the settings say.
//!
//! Nothing of it enters the record before somebody accepts it. Not here: what is customary elsewhere (`row`).

use std::borrow::Cow;

use super::row::IntakeRow;
use crate::phrase;
use crate::screen::model::Desk;
use crate::session::{Fact, Spring, Target};
use crate::settings::StartingSprings;
use crate::units::Share;

/// The text a row stands for: what is offered where nothing is typed, the figures of a band called by its name, else what is
/// typed.
pub(super) fn text<'t>(row: IntakeRow, typed: &'t str, desk: &Desk) -> Cow<'t, str> {
    let settings = desk.settled.settings();
    let nothing = typed.trim().is_empty();
    match row {
        IntakeRow::Of(Fact::Target) if nothing => {
            settings.target_ranges.all().first().map_or(Cow::Borrowed(typed), |band| spelled(band.target()))
        }
        IntakeRow::Of(Fact::Target) => {
            settings.target_ranges.called(typed).map_or(Cow::Borrowed(typed), |band| spelled(band.target()))
        }
        // In millimetres, which keeps what was set to the last digit whatever units are shown.
        IntakeRow::Of(Fact::Ruler) if nothing => {
            Cow::Owned(format!("{} mm", settings.ruler.least_difference().as_mm()))
        }
        row => row.suggestion().filter(|_| nothing).map_or(Cow::Borrowed(typed), Cow::Borrowed),
    }
}

/// The same in words, where nothing is typed.
pub(super) fn offered(row: IntakeRow, desk: &Desk) -> Option<String> {
    let settings = desk.settled.settings();
    match row {
        IntakeRow::Of(Fact::Target) => {
            phrase::settings::bands_offered(settings.target_ranges.all(), desk.units)
        }
        IntakeRow::Of(Fact::Ruler) => Some(phrase::settings::ruler_offered(settings.ruler, desk.units)),
        row => row.suggestion().map(phrase::intake::customary),
    }
}

/// The springs to start with.
pub(super) fn springs(desk: &Desk) -> Vec<Spring> {
    match desk.settled.settings().springs {
        StartingSprings::ShopRack => desk.shelf.rack.at_hand(),
        StartingSprings::Row(row) => row.springs(),
        StartingSprings::Nothing => Vec::new(),
    }
}

/// The same in words.
pub(super) fn springs_offered(springs: &[Spring], desk: &Desk) -> String {
    match desk.settled.settings().springs {
        StartingSprings::Row(row) => phrase::settings::row_offered(row, desk.units),
        _ => phrase::rack::offered(springs, desk.units),
    }
}

/// A band as figures that read back to it, every digit of them.
fn spelled(target: Target) -> Cow<'static, str> {
    let percent = |share: Share| (share.as_percent() * 1e6).round() / 1e6;
    Cow::Owned(format!("{} ± {} %", percent(target.sag), percent(target.tolerance)))
}
