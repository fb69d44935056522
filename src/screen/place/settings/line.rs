//! What a typed line of the settings stands for: a ruler, a row of rates, a band of aim.
//!
//! ```text
//! 0.5 mm                          the least difference of the ruler
//! 350-600 by 50                   a row of rates, in steps of 25 or 50 lb/in
//! lively, 25 +- 1.5               a band; its half-width may be left out, and the comma where the name ends in a letter
//! ```
//!
//! A line that was not touched keeps figures finer than it shows. Not here: what is possible (`settings`).

use super::{Line, said};
use crate::phrase;
use crate::screen::model::Notice;
use crate::screen::place::intake::rack;
use crate::session::Aim;
use crate::settings::{AimBand, RateRow, RateStep, RowFault, Ruler, Settings, StartingSprings};
use crate::units::{UnitSet, parse};

/// The settings with what the line says.
pub(super) fn read(what: Line, text: &str, settings: &Settings, units: UnitSet) -> Result<Settings, Notice> {
    let mut changed = settings.clone();
    match what {
        Line::Ruler if text == units.show(settings.ruler.least_difference()) => {}
        Line::Ruler => changed.ruler = ruler(text, units)?,
        Line::RateRow => changed.springs = StartingSprings::Row(row(text, units)?),
        Line::NewBand => {
            let band = band(text, Aim::PLANTED, units)?;
            changed.aims.add(band).map_err(|fault| said(phrase::settings::band_fault(&fault, units)))?;
        }
        Line::Band(place) => {
            let before = settings.aims.all().get(place);
            if before.is_some_and(|band| phrase::settings::band_line(band, units) == text) {
                return Ok(changed);
            }
            let customary = before.map_or(Aim::PLANTED, AimBand::aim);
            let band = band(text, customary, units)?;
            let replaced = changed.aims.replace(place, band);
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
    let springs = rack::read(text, units, &[]).map_err(|fault| said(fault.sentence(units)))?;
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
fn band(text: &str, as_wide_as: Aim, units: UnitSet) -> Result<AimBand, Notice> {
    let (name, figures) = parted(text).ok_or_else(|| said(phrase::settings::BAND_TAKES.to_owned()))?;
    let figures = figures.replace("+/-", "±").replace("+-", "±");
    let share = |text: &str| parse::share(text).map(|read| read.value).map_err(Notice::Unreadable);
    let aim = match figures.split_once('±') {
        Some((sag, half_width)) => Aim { sag: share(sag)?, half_width: share(half_width)? },
        None => Aim { sag: share(&figures)?, ..as_wide_as },
    };
    AimBand::new(name, aim).map_err(|fault| said(phrase::settings::band_fault(&fault, units)))
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

    fn read_band(text: &str) -> (String, Aim) {
        let band = band(text, Aim::PLANTED, UnitSet::Trade).expect(text);
        (band.name().as_typed().to_owned(), band.aim())
    }

    #[test]
    fn a_band_is_typed_with_and_without_comma_and_half_width() {
        let park = |half_width| Aim { sag: Share::percent(27.0), half_width: Share::percent(half_width) };
        assert_eq!(read_band("park, 27 +- 2"), ("park".to_owned(), park(2.0)));
        assert_eq!(read_band("big park 27"), ("big park".to_owned(), park(1.5)));
        assert_eq!(read_band("park, big, 27.0 ± 2.0 %"), ("park, big".to_owned(), park(2.0)));
    }

    #[test]
    fn what_is_no_band_is_refused_in_words() {
        for text in ["", "27", "park", "park, x", "park, 90", "27, 27"] {
            assert!(band(text, Aim::PLANTED, UnitSet::Trade).is_err(), "{text}");
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
        let fine = Aim { sag: Share::percent(27.125), half_width: Share::percent(1.5) };
        settings.aims.add(AimBand::new("fine", fine).expect("possible")).expect("room");
        let shown = phrase::settings::band_line(&settings.aims.all()[2], UnitSet::Trade);
        let again = read(Line::Band(2), &shown, &settings, UnitSet::Trade);
        assert_eq!(again.as_ref(), Ok(&settings));
    }
}
