//! Energy left and ride height of the springs at hand, side by side as bars from zero, so that what a step gives is seen
//! beside what it takes.
//!
//! A bar is exact to half a cell and its figure stands behind it. Not here: the forecasts (`assessment::forecast`).

use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::spring_ladder;
use crate::assessment::{Assessment, Forecast};
use crate::phrase;
use crate::screen::theme::Theme;
use crate::session::Spring;
use crate::text::Shown;
use crate::units::UnitSet;

/// Cells of a figure behind its bar, with the blank before it.
const FIGURE: usize = 10;
/// Cells between the two bars.
const GAP: usize = 2;
/// Bars shorter than this compare nothing.
const SHORTEST_BAR: usize = 8;
/// Longer bars than this only spread the figures.
const LONGEST_BAR: usize = 44;

/// What the bars are drawn from.
#[derive(Debug, Clone, Copy)]
pub struct Bars<'a> {
    /// The forecasts to draw, softest first.
    pub assessment: &'a Assessment,
    /// The springs as told.
    pub springs: &'a [Spring],
    /// The units of the figures.
    pub units: UnitSet,
}

/// The heading and a line a spring, for so many cells and lines: every spring that fits the shock where there is room, else
/// only those that are compared. Nothing where even those do not fit.
pub fn lines(bars: Bars<'_>, width: usize, room: usize, theme: Theme) -> Vec<Line<'static>> {
    let possible = || bars.assessment.forecasts.iter().filter(|forecast| forecast.fit.is_possible());
    let all: Vec<&Forecast> = possible().collect();
    let compared: Vec<&Forecast> = possible().filter(|forecast| is_compared(bars, forecast)).collect();
    let shown = if all.len() < room { all } else { compared };
    let names = shown.iter().map(|forecast| name(bars, forecast).width()).max().unwrap_or(0);
    let left = width.saturating_sub(2 + names + 2 * (1 + FIGURE) + GAP) / 2;
    if shown.is_empty() || shown.len() >= room || left < SHORTEST_BAR {
        return Vec::new();
    }
    let columns = BarColumns { names, bar: left.min(LONGEST_BAR) };
    let full = |figure: fn(&Forecast) -> f64| shown.iter().map(|one| figure(one)).fold(0.0, f64::max);
    let full = [full(energy), full(sinks)];
    let line = |forecast: &&Forecast| columns.line(bars, forecast, full, theme);
    std::iter::once(columns.heading(theme)).chain(shown.iter().map(line)).collect()
}

fn is_compared(bars: Bars<'_>, forecast: &Forecast) -> bool {
    bars.assessment.changes.iter().any(|change| change.forecast.spring == forecast.spring)
}

fn name(bars: Bars<'_>, forecast: &Forecast) -> String {
    phrase::spring(forecast.spring, bars.springs, bars.units)
}

/// Lengths of bars go by the value; which unit it is in makes no difference to their shares.
fn energy(forecast: &Forecast) -> f64 {
    forecast.ride.energy_left.value()
}

fn sinks(forecast: &Forecast) -> f64 {
    forecast.ride.axle_sinks.value()
}

#[derive(Debug, Clone, Copy)]
struct BarColumns {
    names: usize,
    bar: usize,
}

impl BarColumns {
    fn heading(self, theme: Theme) -> Line<'static> {
        let [energy, sinks] = phrase::SPRING_BARS;
        let column = self.bar + 1 + FIGURE + GAP;
        let left = " ".repeat(2 + self.names + 1);
        let fitted = |title: &str| Shown::from(title).fitted(column - GAP);
        Line::from(vec![
            Span::raw(left),
            Span::styled(format!("{:<column$}", fitted(energy)), theme.quiet()),
            Span::styled(fitted(sinks), theme.quiet()),
        ])
    }

    fn line(self, bars: Bars<'_>, forecast: &Forecast, full: [f64; 2], theme: Theme) -> Line<'static> {
        let (mark, ink) = spring_ladder::shape(spring_ladder::best_match(bars.assessment), forecast, theme);
        let style = if is_compared(bars, forecast) { theme.strong() } else { theme.text() };
        let name = name(bars, forecast);
        let gap = " ".repeat(self.names.saturating_sub(name.width()) + 1);
        let ride = &forecast.ride;
        let mut spans =
            vec![Span::styled(format!("{mark} "), ink), Span::styled(name, style), Span::raw(gap)];
        let figures = [bars.units.show(ride.energy_left), bars.units.show(ride.axle_sinks)];
        for ((value, full), figure) in [energy(forecast), sinks(forecast)].into_iter().zip(full).zip(figures)
        {
            spans.extend(self.bar(value / full, &figure, style));
        }
        Line::from(spans)
    }

    /// A bar of its share of the full length, in half cells, and the figure at its end.
    fn bar(self, share: f64, figure: &str, style: Style) -> [Span<'static>; 2] {
        let halves = self.bar * 2;
        let filled = (0..halves).take_while(|half| (*half as f64 + 0.5) <= share * halves as f64).count();
        // Half as high as a cell, so that a bar stands apart from the one below it.
        let bar = "▄".repeat(filled / 2) + if filled % 2 == 1 { "▖" } else { "" };
        let rest = self.bar + 1 + FIGURE + GAP - bar.width();
        [Span::styled(bar, style), Span::styled(format!(" {figure:<width$}", width = rest - 1), style)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_exact_to_half_a_cell() {
        let columns = BarColumns { names: 9, bar: 10 };
        let drawn = |share: f64| columns.bar(share, "114 J", Style::new())[0].content.to_string();
        assert_eq!(drawn(1.0), "▄▄▄▄▄▄▄▄▄▄");
        assert_eq!(drawn(0.55), "▄▄▄▄▄▖");
        assert_eq!(drawn(0.0), "");
        assert_eq!(drawn(f64::NAN), "");
    }
}
