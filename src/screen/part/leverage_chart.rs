//! The leverage ratio over the stroke: the curve, and what the measured pairs say between one and the next.
//!
//! Curve and points differ by shape, so that neither colour nor braille is needed to tell them apart. Not here: the
//! fitting (`mechanics`), and the words of the figures (`phrase::leverage`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::symbols::Marker;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Axis, Chart, Dataset, GraphType, Paragraph};

use crate::mechanics::survey::{LeverageSurvey, RatioAt};
use crate::phrase;
use crate::screen::model::Desk;
use crate::units::{Kind, Length, Show};

/// A point that a pair and the next one give.
const POINT: char = '●';
/// Cells of the column of names.
const NAMES: usize = 16;
/// Least height of a chart worth drawing.
const LEAST_HEIGHT: u16 = 6;
/// Height beyond which a chart only makes a small change look steep: so many lines, or on a wide screen as many as keep its
/// shape.
const GREATEST_HEIGHT: u16 = 18;
/// Cells of width for each line of height.
const SHAPE: u16 = 5;

/// Draws the chart with its figures below; where the area is low, the figures alone.
pub fn draw(frame: &mut Frame<'_>, area: Rect, survey: &LeverageSurvey, desk: &Desk) {
    let area = area.intersection(frame.area());
    let figures = figures(survey, desk);
    let lines = u16::try_from(figures.len()).unwrap_or(u16::MAX);
    let greatest = GREATEST_HEIGHT.max(area.width / SHAPE);
    let most = area.height.saturating_sub(lines + 1).min(greatest);
    let [chart, _, below] =
        Layout::vertical([Constraint::Length(most), Constraint::Length(1), Constraint::Min(0)]).areas(area);
    if chart.height >= LEAST_HEIGHT {
        draw_chart(frame, chart, survey, desk);
        frame.render_widget(Paragraph::new(figures), below);
    } else {
        frame.render_widget(Paragraph::new(figures), area);
    }
}

fn figures(survey: &LeverageSurvey, desk: &Desk) -> Vec<Line<'static>> {
    let row = |(name, figure): (&'static str, String)| {
        let style = desk.theme.strong();
        Line::from(vec![Span::raw(format!("{name:<NAMES$}")), Span::styled(figure, style)])
    };
    let mut lines: Vec<Line<'static>> = phrase::survey(survey, desk.units).into_iter().map(row).collect();
    if !survey.measured.is_empty() {
        let legend = format!("{POINT} {}", phrase::leverage::BETWEEN_PAIRS);
        lines.push(Line::styled(legend, desk.theme.text()));
    }
    lines
}

fn draw_chart(frame: &mut Frame<'_>, area: Rect, survey: &LeverageSurvey, desk: &Desk) {
    let (units, theme) = (desk.units, desk.theme);
    let places = |list: &[RatioAt]| -> Vec<(f64, f64)> { list.iter().map(place).collect() };
    let (curve, points) = (places(&survey.curve), places(&survey.measured));
    let stroke = survey.curve.last().map_or(Length::ZERO, |last| last.stroke);
    let bounds = bounds(curve.iter().chain(&points).map(|(_, ratio)| *ratio));
    let datasets = vec![
        Dataset::default()
            .marker(Marker::Braille)
            .graph_type(GraphType::Line)
            .style(theme.accent())
            .data(&curve),
        Dataset::default()
            .marker(Marker::Custom(POINT))
            .graph_type(GraphType::Scatter)
            .style(theme.strong())
            .data(&points),
    ];
    let figure = |length: Length| length.even(units).figure;
    let end = format!("{} {}", figure(stroke), units.unit(Kind::Length).symbol());
    let along = Axis::default()
        .bounds([0.0, stroke.as_mm().max(f64::MIN_POSITIVE)])
        .labels([figure(Length::ZERO), figure(stroke / 2.0), end])
        .style(theme.text());
    let [low, high] = bounds;
    let up = Axis::default()
        .title(phrase::leverage::RATIO_OVER_STROKE)
        .bounds(bounds)
        .labels([low, 0.5 * (low + high), high].map(|ratio| format!("{ratio:.2}")))
        .style(theme.text());
    frame.render_widget(Chart::new(datasets).x_axis(along).y_axis(up), area);
}

fn place(at: &RatioAt) -> (f64, f64) {
    (at.stroke.as_mm(), at.ratio.value())
}

/// An axis that takes all ratios, out to tenths, and is at least a fifth high: a ratio that hardly changes is not blown up
/// to look as if it did.
fn bounds(ratios: impl Iterator<Item = f64>) -> [f64; 2] {
    let (low, high) = ratios
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), ratio| (low.min(ratio), high.max(ratio)));
    if !low.is_finite() || !high.is_finite() {
        return [0.0, 1.0];
    }
    let (middle, half) = (0.5 * (low + high), (0.5 * (high - low)).max(0.1));
    [((middle - half) * 10.0 + 1e-9).floor() / 10.0, ((middle + half) * 10.0 - 1e-9).ceil() / 10.0]
}
