//! What a typed line of the settings stands for: a ruler, a row of rates, a band of aim.
//!
//! ```text
//! 0.5 mm                          the least difference of the ruler
//! 350-600 by 50                   a row of rates, in steps of 25 or 50 lb/in
//! lively, 25 +- 1.5               a band; its half-width may be left out, and the comma where the name ends in a letter
//! ```
//!
//! A line that was not touched keeps figures finer than it shows. Not here: what is possible (`settings`).

use super::{SettingsEntry, said};
use crate::phrase;
use crate::screen::model::Notice;
use crate::screen::place::intake::spring_list;
use crate::screen::place::typed_target;
use crate::session::Target;
use crate::settings::{RateRow, RateStep, RowFault, Ruler, Settings, StartingSprings, TargetRange};
use crate::text::FreeText;
use crate::units::{UnitSet, parse};

/// The settings with what the line says.
pub(super) fn read(
    what: SettingsEntry,
    text: &str,
    settings: &Settings,
    units: UnitSet,
) -> Result<Settings, Notice> {
    let mut changed = settings.clone();
    match what {
        SettingsEntry::Ruler if text == units.show(settings.ruler.least_difference()) => {}
        SettingsEntry::Ruler => changed.ruler = ruler(text, units)?,
        SettingsEntry::RateRow => changed.springs = StartingSprings::Row(row(text, units)?),
        SettingsEntry::Paper(line) => changed.paper.put(line, FreeText::new(text)),
        SettingsEntry::NewBand => {
            let band = band(text, Target::PLANTED, units)?;
            changed
                .target_ranges
                .add(band)
                .map_err(|fault| said(phrase::settings::band_fault(&fault, units)))?;
        }
        SettingsEntry::Band(place) => {
            let before = settings.target_ranges.all().get(place);
            if before.is_some_and(|band| phrase::settings::band_line(band, units) == text) {
                return Ok(changed);
            }
            let customary = before.map_or(Target::PLANTED, TargetRange::target);
            let band = band(text, customary, units)?;
            let replaced = changed.target_ranges.replace(place, band);
            replaced.map_err(|fault| said(phrase::settings::band_fault(&fault, units)))?;
        }
    }
    Ok(changed)
}

fn ruler(text: &str, units: UnitSet) -> Result<Ruler, Notice> {
    let length = parse::length(text, units).map_err(Notice::Unreadable)?;
    Ruler::new(length.value).map_err(Notice::Refused)
}

/// A row in even steps, read as the intake reads its springs.
fn row(text: &str, units: UnitSet) -> Result<RateRow, Notice> {
    let springs = spring_list::read(text, units, &[]).map_err(|fault| said(fault.sentence(units)))?;
    let rates: Vec<_> = springs.iter().map(|spring| spring.label).collect();
    let fault = |fault| said(phrase::settings::row_fault(&fault, units));
    let steps: Option<Vec<RateStep>> = rates.windows(2).map(|pair| RateStep::of(pair[1] - pair[0])).collect();
    let steps = steps.ok_or_else(|| fault(RowFault::OddStep))?;
    let step = steps.first().copied().unwrap_or(RateStep::Usual);
    if steps.iter().any(|other| *other != step) {
        return Err(fault(RowFault::OddStep));
    }
    match (rates.first(), rates.last()) {
        (Some(from), Some(to)) => RateRow::new(*from, *to, step).map_err(fault),
        _ => Err(fault(RowFault::EndsBelow)),
    }
}

/// A name and its band; where only its middle is given, as wide as another.
fn band(text: &str, as_wide_as: Target, units: UnitSet) -> Result<TargetRange, Notice> {
    let (name, figures) = parted(text).ok_or_else(|| said(phrase::settings::BAND_TAKES.to_owned()))?;
    let target = typed_target::read(figures, as_wide_as).map_err(Notice::Unreadable)?;
    TargetRange::new(name, target).map_err(|fault| said(phrase::settings::band_fault(&fault, units)))
}

/// The name, and the figures behind its comma; without one, behind the last blank before a figure.
fn parted(text: &str) -> Option<(&str, &str)> {
    text.rsplit_once(", ").or_else(|| {
        let figure = text
            .match_indices(' ')
            .find(|(blank, _)| text[blank + 1..].starts_with(|letter: char| letter.is_ascii_digit()));
        figure.map(|(blank, _)| (&text[..blank], &text[blank + 1..]))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Share;

    fn read_band(text: &str) -> (String, Target) {
        let band = band(text, Target::PLANTED, UnitSet::Trade).expect(text);
        (band.name().as_typed().to_owned(), band.target())
    }

    #[test]
    fn a_band_is_typed_with_and_without_comma_and_half_width() {
        let park = |tolerance| Target { sag: Share::percent(27.0), tolerance: Share::percent(tolerance) };
        assert_eq!(read_band("park, 27 +- 2"), ("park".to_owned(), park(2.0)));
        assert_eq!(read_band("big park 27"), ("big park".to_owned(), park(1.5)));
        assert_eq!(read_band("park, big, 27.0 ± 2.0 %"), ("park, big".to_owned(), park(2.0)));
    }

    #[test]
    fn what_is_no_band_is_refused_in_words() {
        for text in ["", "27", "park", "park, x", "park, 90", "27, 27"] {
            assert!(band(text, Target::PLANTED, UnitSet::Trade).is_err(), "{text}");
        }
    }

    #[test]
    fn a_row_reads_back_as_it_is_written() {
        let text = phrase::settings::row_line(RateRow::USUAL);
        for units in UnitSet::ALL {
            let again = row(&text, units).expect("it reads");
            assert_eq!(phrase::settings::row_line(again), text);
        }
        assert!(row("350-600 by 40", UnitSet::Trade).is_err());
        assert!(row("350 375 425", UnitSet::Trade).is_err());
    }

    #[test]
    fn a_line_left_alone_keeps_figures_finer_than_it_shows() {
        let mut settings = Settings::default();
        let fine = Target { sag: Share::percent(27.125), tolerance: Share::percent(1.5) };
        settings.target_ranges.add(TargetRange::new("fine", fine).expect("possible")).expect("room");
        let shown = phrase::settings::band_line(&settings.target_ranges.all()[2], UnitSet::Trade);
        let again = read(SettingsEntry::Band(2), &shown, &settings, UnitSet::Trade);
        assert_eq!(again.as_ref(), Ok(&settings));
    }
}
