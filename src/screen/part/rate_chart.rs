//! Sag against spring rate: the curve all sets together come to, the sets beside it, and the lane of the aim band.
//!
//! Where a set stands off the curve, its spring's label is off or something was not as it was said to be. Not here: the
//! curve itself (`assessment::forecast`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::text::Line;
use ratatui::widgets::canvas::{Canvas, Line as Stroke};

use super::set_table;
use crate::assessment::{Assessment, SetFinding};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::session::{Setup, Spring, Target};
use crate::units::{Share, Show, SpringRate, UnitSet};

/// The smallest chart that says anything, with heading and rates.
const LEAST: (u16, u16) = (40, 9);
/// The most lines it takes.
const TALLEST: u16 = 18;
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
    draw_lane(frame, figures, setup.target, window, units, theme);
    draw_curve(frame, assessment, window, theme);
    for set in &assessment.sets {
        draw_set(frame, set, setup, window, theme);
    }
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
        let share = (self.sags[1] - sag.as_percent()) / (self.sags[1] - self.sags[0]);
        self.plot.y + cell(share, self.plot.height)
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

/// The lane across the plot, and the sag at its edges and at the ends of the upright axis.
fn draw_lane(
    frame: &mut Frame<'_>,
    figures: Rect,
    target: Target,
    window: RateRange,
    units: UnitSet,
    theme: Theme,
) {
    let plot = window.plot;
    let buffer = frame.buffer_mut();
    for line in window.line(target.high())..=window.line(target.low()) {
        buffer.set_stringn(
            plot.x,
            line,
            "░".repeat(usize::from(plot.width)),
            usize::from(plot.width),
            theme.lane(),
        );
    }
    let named = [window.sags[1], window.sags[0]].map(Share::percent);
    for sag in named.into_iter().chain([target.sag]) {
        let figure = format!("{:>4}", sag.written(units).figure);
        buffer.set_stringn(figures.x, window.line(sag), figure, usize::from(figures.width), theme.quiet());
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
    let (column, line) = (window.column(spring.rate()), window.line(set.sag.value));
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
