//! The springs at hand, one line a spring: its mark, rate, forecast sag with uncertainty, chance of the band, and fit.
//!
//! The mark tells by shape: on the bike, measured before, or the one that lands best. Not here: the forecasts themselves.

use ratatui::text::{Line, Span};

use unicode_width::UnicodeWidthStr;

use crate::assessment::{Advice, Assessment, Forecast, Known};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::{Spring, SpringNumber};
use crate::text::Shown;
use crate::units::UnitSet;

const FITTED: &str = "▶";
const MEASURED: &str = "●";
const LANDING: &str = "◆";

/// What the table is drawn from.
#[derive(Debug, Clone, Copy)]
pub struct Rack<'a> {
    /// Every spring, softest first.
    pub forecasts: &'a [Forecast],
    /// The springs as told.
    pub springs: &'a [Spring],
    /// The one with the best chance, where the advice names one.
    pub landing: Option<SpringNumber>,
    /// The line under the choosing mark, where there is one.
    pub marked: Option<usize>,
}

impl<'a> Rack<'a> {
    /// The rack of a session; none while the intake is open.
    pub fn of(session: &'a OpenSession, marked: Option<usize>) -> Option<Self> {
        let assessment = session.assessment.as_ref()?;
        let forecasts = &assessment.forecasts;
        Some(Self { forecasts, springs: &session.state.told.rack, landing: landing(assessment), marked })
    }

    /// Cells of the column of names: more where springs with one label bear their numbers.
    fn names(self, units: UnitSet) -> usize {
        let name = |forecast: &Forecast| phrase::spring(forecast.spring, self.springs, units).width();
        self.forecasts.iter().map(name).max().unwrap_or(0).clamp(9, 21)
    }
}

/// The spring the advice leads to in the end; none while it asks for no other spring.
pub fn landing(assessment: &Assessment) -> Option<SpringNumber> {
    match &assessment.advice {
        Advice::Swap { landing, .. } | Advice::FirstSpring { landing, .. } => Some(*landing),
        Advice::NothingOnTheRack { nearest, .. } => *nearest,
        _ => None,
    }
}

/// The heading of the table, with those of its columns.
pub fn heading(rack: Rack<'_>, title: &str, units: UnitSet, theme: Theme) -> Line<'static> {
    let [sag, chance] = phrase::guide::SPRING_COLUMNS;
    let gap = (rack.names(units) + 16).saturating_sub(title.width());
    Line::from(vec![
        Span::styled(title.to_owned(), theme.strong()),
        Span::styled(format!("{sag:>gap$}  {chance:>6}"), theme.quiet()),
    ])
}

/// The lines that fit into the room, those round the marked or fitted spring first, and the legend of the marks.
pub fn lines(rack: Rack<'_>, room: usize, units: UnitSet, theme: Theme) -> Vec<Line<'static>> {
    let visible = room.saturating_sub(1).max(1);
    let total = rack.forecasts.len();
    let fitted = rack.forecasts.iter().position(|forecast| forecast.known == Known::OnTheBike);
    let centre = rack.marked.or(fitted).unwrap_or(0);
    let first = centre.saturating_sub(visible / 2).min(total.saturating_sub(visible));
    let shown = rack.forecasts.iter().enumerate().skip(first).take(visible);
    let mut lines: Vec<Line<'static>> =
        shown.map(|(index, forecast)| line(rack, index, forecast, units, theme)).collect();
    lines.push(legend(rack, total.saturating_sub(lines.len()), theme));
    lines
}

fn line(rack: Rack<'_>, index: usize, forecast: &Forecast, units: UnitSet, theme: Theme) -> Line<'static> {
    let name = phrase::spring(forecast.spring, rack.springs, units);
    let names = rack.names(units);
    let name = Shown::from(name.as_str()).fitted(names);
    let row = format!(
        " {name:<names$} {:>13}  {:>4.0} %  {:<10}",
        forecast.sag.shown(units),
        forecast.chance.as_percent().clamp(0.0, 100.0),
        phrase::guide::fit(forecast.fit)
    );
    let (mark, ink) = match forecast.known {
        Known::OnTheBike => (FITTED, theme.accent()),
        _ if rack.landing == Some(forecast.spring) => (LANDING, theme.good()),
        Known::Measured => (MEASURED, theme.text()),
        Known::ByLabel => (" ", theme.text()),
    };
    let style = match forecast.known {
        _ if rack.marked == Some(index) => theme.marked(),
        _ if !forecast.fit.is_possible() => theme.quiet(),
        Known::OnTheBike => theme.strong(),
        _ => theme.text(),
    };
    Line::from(vec![Span::styled(mark, ink), Span::styled(row, style)])
}

/// What the marks in sight mean.
fn legend(rack: Rack<'_>, unseen: usize, theme: Theme) -> Line<'static> {
    let has = |known| rack.forecasts.iter().any(|forecast| forecast.known == known);
    let named = |mark: &str, known| {
        let words = phrase::guide::known(known).filter(|_| has(known))?;
        Some(format!("{mark} {words}"))
    };
    let landing = rack.landing.map(|_| format!("{LANDING} {}", phrase::guide::LANDING));
    let more = (unseen > 0).then(|| phrase::guide::unseen(unseen));
    let parts = [named(FITTED, Known::OnTheBike), named(MEASURED, Known::Measured), landing, more];
    let text = parts.into_iter().flatten().collect::<Vec<_>>().join("   ");
    Line::styled(text, theme.quiet())
}
