//! Sag against spring rate: the curve all sets together come to, the sets beside it, and the target range as their ground.
//!
//! Where a set stands off the curve, its spring's label is off or something was not as it was said to be. Not here: the
//! curve itself (`assessment::forecast`).

use std::ops::Range;

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::text::Line;
use ratatui::widgets::canvas::{Canvas, Line as Stroke};

use super::{set_table, target};
use crate::assessment::{Assessment, SetFinding};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::{Setup, Spring, Target};
use crate::units::{Share, Show, SpringRate, UnitSet};

/// The smallest chart that says anything, with heading and rates.
const LEAST: (u16, u16) = (40, 9);
/// The most lines it takes.
const TALLEST: u16 = 44;
/// Cells of the figures along the upright axis.
const FIGURES: u16 = 5;

/// Draws it at the top of the area; nothing where the area is small or no set was taken yet.
pub fn draw(frame: &mut Frame<'_>, area: Rect, session: &OpenSession, units: UnitSet, theme: Theme) {
    let area = Rect { height: area.height.min(TALLEST), ..area.intersection(frame.area()) };
    let (Some(assessment), Some(setup)) = (&session.assessment, &session.state.setup) else { return };
    if area.width < LEAST.0 || area.height < LEAST.1 || assessment.sets.is_empty() {
        return;
    }
    let [heading, middle, rates] =
        Layout::vertical([Constraint::Length(1), Constraint::Min(0), Constraint::Length(1)]).areas(area);
    let [figures, plot] = Layout::horizontal([Constraint::Length(FIGURES), Constraint::Min(0)]).areas(middle);
    let Some(window) = RateRange::of(assessment, setup.target, plot) else { return };
    frame.render_widget(Line::styled(phrase::guide::sag_against_rate(units), theme.strong()), heading);
    draw_figures(frame, figures, setup.target, window, units, theme);
    draw_curve(frame, assessment, window, theme);
    for set in &assessment.sets {
        draw_set(frame, set, setup, window, theme);
    }
    lay_target(frame, setup.target, window, theme);
    draw_rates(frame, rates, setup, window, units, theme);
}

/// The stretch of rates and sags in sight, over its cells.
#[derive(Clone, Copy)]
struct RateRange {
    plot: Rect,
    /// In N/mm.
    rates: [f64; 2],
    /// In per cent of stroke.
    sags: [f64; 2],
}

impl RateRange {
    /// The whole curve, every set, and the band; none where there is no curve.
    fn of(assessment: &Assessment, target: Target, plot: Rect) -> Option<Self> {
        let (first, last) = (assessment.curve.first()?, assessment.curve.last()?);
        let ends = [first.1, last.1, target.low(), target.high()];
        let sags = ends.into_iter().chain(assessment.sets.iter().map(|set| set.sag.value));
        let around = sags
            .map(Share::as_percent)
            .fold([f64::INFINITY, 0.0], |[low, high], sag| [f64::min(low, sag), f64::max(high, sag)]);
        let sags = [around[0] - 1.0, around[1] + 1.0];
        Some(Self { plot, rates: [first.0.as_n_per_mm(), last.0.as_n_per_mm()], sags })
    }

    fn column(self, rate: SpringRate) -> u16 {
        let share = (rate.as_n_per_mm() - self.rates[0]) / (self.rates[1] - self.rates[0]);
        self.plot.x + cell(share, self.plot.width)
    }

    fn line(self, sag: Share) -> u16 {
        self.plot.y + cell(self.down(sag), self.plot.height)
    }

    /// The share of the way down.
    fn down(self, sag: Share) -> f64 {
        (self.sags[1] - sag.as_percent()) / (self.sags[1] - self.sags[0])
    }

    /// The lines of the target range.
    fn target(self, target: Target) -> Range<u16> {
        let halves =
            [target.high(), target.low()].map(|edge| self.down(edge) * 2.0 * f64::from(self.plot.height));
        let cells = target::cells(halves);
        let line = |cell: usize| self.plot.y.saturating_add(u16::try_from(cell).unwrap_or(u16::MAX));
        line(cells.start).min(self.plot.bottom())..line(cells.end).min(self.plot.bottom())
    }

    /// The line a set is marked in: in the target range exactly when its sag is.
    fn marked(self, sag: Share, target: Target) -> u16 {
        let range = self.target(target);
        let line = self.line(sag);
        let last = self.plot.bottom().saturating_sub(1);
        match () {
            () if target.holds(sag) => line.clamp(range.start, range.end.saturating_sub(1).max(range.start)),
            () if sag > target.sag => line.min(range.start.saturating_sub(1)).max(self.plot.y),
            () => line.max(range.end).min(last),
        }
    }
}

/// The cell of so many that a share of the way lies in.
fn cell(share: f64, cells: u16) -> u16 {
    let last = f64::from(cells.saturating_sub(1));
    // Clamped first, so the cast can neither wrap nor lose anything.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the cells")]
    let cell = (share * f64::from(cells)).floor().clamp(0.0, last) as u16;
    cell
}

/// The target range across the plot, under what is drawn there: a canvas would wipe it away.
fn lay_target(frame: &mut Frame<'_>, target: Target, window: RateRange, theme: Theme) {
    let lines = window.target(target);
    let across = |y: u16, height: u16| Rect { y, height, ..window.plot }.intersection(window.plot);
    let area = across(lines.start, lines.end - lines.start);
    let edges = [across(lines.start.saturating_sub(1), 1), across(lines.end, 1)];
    target::lay(frame.buffer_mut(), area, edges, "─", theme);
}

/// The sag at the edges of the range and at the ends of the upright axis.
fn draw_figures(
    frame: &mut Frame<'_>,
    figures: Rect,
    target: Target,
    window: RateRange,
    units: UnitSet,
    theme: Theme,
) {
    let lines = window.target(target);
    let ends = [window.sags[1], window.sags[0]].map(Share::percent).map(|sag| (sag, window.line(sag)));
    let edges = [(target.high(), lines.start), (target.low(), lines.end.saturating_sub(1))];
    let mut taken = Vec::new();
    // The edges come first: a line holds one figure.
    for (sag, line) in edges.into_iter().chain(ends) {
        if !taken.contains(&line) {
            taken.push(line);
            let figure = format!("{:>4}", sag.written(units).figure);
            frame.buffer_mut().set_stringn(
                figures.x,
                line,
                figure,
                usize::from(figures.width),
                theme.quiet(),
            );
        }
    }
}

fn draw_curve(frame: &mut Frame<'_>, assessment: &Assessment, window: RateRange, theme: Theme) {
    let color = theme.text().fg.unwrap_or(Color::Reset);
    let canvas =
        Canvas::default().marker(Marker::Braille).x_bounds(window.rates).y_bounds(window.sags).paint(
            |context| {
                for two in assessment.curve.windows(2) {
                    let [(x1, y1), (x2, y2)] =
                        [two[0], two[1]].map(|(rate, sag)| (rate.as_n_per_mm(), sag.as_percent()));
                    context.draw(&Stroke { x1, y1, x2, y2, color });
                }
            },
        );
    frame.render_widget(canvas, window.plot);
}

/// The mark of a set where its spring's label and its sag meet, the number of the set beside it.
fn draw_set(frame: &mut Frame<'_>, set: &SetFinding, setup: &Setup, window: RateRange, theme: Theme) {
    let Some(spring) = setup.spring(set.spring) else { return };
    let (column, line) = (window.column(spring.rate()), window.marked(set.sag.value, setup.target));
    let buffer = frame.buffer_mut();
    buffer.set_stringn(column, line, set_table::mark(set.standing), 1, set_table::ink(set.standing, theme));
    let left = usize::from(window.plot.right().saturating_sub(column + 1));
    buffer.set_stringn(column + 1, line, set.number.to_string(), left, theme.strong());
}

/// The springs at hand below their places, as many as there is room for.
fn draw_rates(
    frame: &mut Frame<'_>,
    area: Rect,
    setup: &Setup,
    window: RateRange,
    units: UnitSet,
    theme: Theme,
) {
    let mut rates: Vec<SpringRate> = setup.springs.iter().map(Spring::rate).collect();
    rates.sort_by(|one, other| one.value().total_cmp(&other.value()));
    let mut free = area.x;
    for rate in rates {
        let figure = rate.written(units).figure;
        let width = u16::try_from(figure.len()).unwrap_or(u16::MAX);
        let column = window.column(rate).saturating_sub(width / 2);
        if column >= free && column + width <= area.right() {
            frame.buffer_mut().set_stringn(column, area.y, &figure, usize::from(width), theme.quiet());
            free = column + width + 1;
        }
    }
}
