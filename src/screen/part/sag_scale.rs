//! The scale of sag that sets and springs share, and one row drawn on it: the lane of the aim band, intervals exact to half
//! a cell, marks, and arrows for what lies off the scale.
//!
//! Rows above one another on one scale let the eye compare them without reading a figure. Not here: which rows there are
//! (`set_chart`, `spring_ladder`).

use std::ops::Range;

use ratatui::style::Style;
use ratatui::text::Span;

use super::target::{self, Lies};
use crate::assessment::Assessment;
use crate::screen::theme::Theme;
use crate::session::Target;
use crate::units::{Share, Show, UnitSet};

/// What lies to the left of the scale.
const OFF_LEFT: &str = "«";
/// What lies to the right of it.
const OFF_RIGHT: &str = "»";
/// The farthest from the middle of the band, in per cent of stroke, that the scale reaches for.
const REACH: f64 = 15.0;
/// Per cent of stroke left free beyond the outermost interval.
const MARGIN: f64 = 0.5;
/// Cells between the ends of two tick labels, at least.
const TICK_GAP: f64 = 5.0;

/// A stretch of sag laid over so many cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SagScale {
    /// Its ends, in per cent of the stroke.
    low: f64,
    high: f64,
    cells: usize,
    target: Target,
}

impl SagScale {
    /// The scale that shows the band, every set, and every spring not too far from either.
    pub fn of(assessment: &Assessment, target: Target, cells: usize) -> Self {
        let around =
            |middle: Share, half: Share| ((middle - half).as_percent(), (middle + half).as_percent());
        let sets = assessment.sets.iter().map(|set| around(set.sag.value, set.ninety_percent));
        let springs = assessment.forecasts.iter().map(|one| around(one.sag.value, one.ninety_percent()));
        let middle = target.sag.as_percent();
        let mut low = target.low().as_percent() - 2.0 * MARGIN;
        let mut high = target.high().as_percent() + 2.0 * MARGIN;
        for (least, most) in sets.chain(springs) {
            low = low.min((least - MARGIN).max(middle - REACH));
            high = high.max((most + MARGIN).min(middle + REACH));
        }
        Self { low: low.max(0.0), high: high.min(100.0), cells, target }
    }

    /// Half cells from the left end, unrounded; beyond the ends for what lies off the scale.
    fn halves(self, sag: Share) -> f64 {
        (sag.as_percent() - self.low) / (self.high - self.low) * 2.0 * self.cells as f64
    }

    /// The border between two half cells that is nearest, kept on the scale.
    fn border(self, sag: Share) -> usize {
        let last = 2 * self.cells;
        // Clamped to the scale first, so the cast can neither wrap nor lose anything.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the scale")]
        let border = self.halves(sag).round().clamp(0.0, last as f64) as usize;
        border
    }

    /// The cells of the target range, at least one.
    fn lane(self) -> Range<usize> {
        let cells = target::cells([self.target.low(), self.target.high()].map(|edge| self.halves(edge)));
        cells.start.min(self.cells)..cells.end.min(self.cells)
    }

    /// The cell a sag is marked in: in the range exactly when it lies in it.
    fn cell(self, sag: Share) -> usize {
        let lies = match () {
            () if self.target.holds(sag) => Lies::Inside,
            () if sag < self.target.sag => Lies::Below,
            () => Lies::Above,
        };
        let lane = self.lane();
        target::half(self.halves(sag), lies, &(2 * lane.start..2 * lane.end)) / 2
    }

    /// The edges of the target range beside it, and round figures along the scale where they do not touch these.
    pub fn ticks(self, units: UnitSet) -> String {
        let mut line = vec![' '; self.cells];
        let range = self.lane();
        let written = |edge: Share| edge.written(units).figure;
        let mut put = |start: Option<usize>, figure: &str| {
            let Some(start) = start.filter(|start| start + figure.len() <= self.cells) else { return };
            let around = start.saturating_sub(1)..(start + figure.len() + 1).min(self.cells);
            if line[around].iter().all(|cell| *cell == ' ') {
                line.splice(start..start + figure.len(), figure.chars());
            }
        };
        let low = written(self.target.low());
        put(range.start.checked_sub(low.len()), &low);
        put(Some(range.end), &written(self.target.high()));
        let per_cell = (self.high - self.low) / self.cells.max(1) as f64;
        let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
        let step = steps.into_iter().find(|step| step / per_cell >= TICK_GAP).unwrap_or(100.0);
        let mut tick = (self.low / step).ceil() * step;
        while tick <= self.high {
            let figure = Share::percent(tick).written(units).figure;
            let whole = figure.split('.').next().unwrap_or_default();
            let start = (self.border(Share::percent(tick)) / 2).saturating_sub(whole.len() / 2);
            if !(range.start..range.end).contains(&start) {
                put(Some(start), whole);
            }
            tick += step;
        }
        line.into_iter().collect()
    }

    /// An empty row: the target range, and nothing on it.
    pub fn row(self, theme: Theme) -> ScaleRow {
        ScaleRow { scale: self, theme, cells: vec![(" ", theme.text()); self.cells] }
    }
}

/// One row of cells on the scale.
#[derive(Debug, Clone)]
pub struct ScaleRow {
    scale: SagScale,
    theme: Theme,
    cells: Vec<(&'static str, Style)>,
}

impl ScaleRow {
    /// Draws the 90 % interval as a thin line and the standard interval as a thick one.
    pub fn interval(&mut self, sag: Share, standard: Share, ninety: Share, ink: Style) {
        let between = |half: Share| self.scale.border(sag - half)..self.scale.border(sag + half);
        let (thick, thin) = (between(standard), between(ninety));
        let weight = |half: usize| match () {
            () if thick.contains(&half) => 2,
            () if thin.contains(&half) => 1,
            () => 0,
        };
        for (cell, drawn) in self.cells.iter_mut().enumerate() {
            let line = line(weight(2 * cell), weight(2 * cell + 1));
            if line != " " {
                *drawn = (line, ink);
            }
        }
    }

    /// Puts a mark where the sag lies, or an arrow at the end of the scale it lies beyond.
    pub fn mark(&mut self, sag: Share, mark: &'static str, ink: Style) {
        let last = self.cells.len().saturating_sub(1);
        let place = self.scale.halves(sag);
        let (cell, mark) = match place {
            place if place < 0.0 => (0, OFF_LEFT),
            place if place > 2.0 * self.scale.cells as f64 => (last, OFF_RIGHT),
            _ => (self.scale.cell(sag).min(last), mark),
        };
        if let Some(drawn) = self.cells.get_mut(cell) {
            *drawn = (mark, ink);
        }
    }

    /// The row as runs of one ink, on the ground of the target range.
    pub fn spans(mut self) -> Vec<Span<'static>> {
        let lane = self.scale.lane();
        if self.theme.ground().is_none() {
            for edge in [lane.start.checked_sub(1), Some(lane.end)].into_iter().flatten() {
                if let Some(blank) = self.cells.get_mut(edge).filter(|cell| cell.0 == " ") {
                    blank.0 = target::EDGE;
                }
            }
        }
        if !lane.is_empty() {
            for cell in &mut self.cells[lane] {
                cell.1 = target::on_ground(cell.1, self.theme);
            }
        }
        let mut spans: Vec<Span<'static>> = Vec::new();
        for (symbol, style) in self.cells {
            match spans.last_mut() {
                Some(last) if last.style == style => last.content.to_mut().push_str(symbol),
                _ => spans.push(Span::styled(symbol, style)),
            }
        }
        spans
    }
}

/// The line of a cell by the weight of its halves: none, thin, thick.
const fn line(left: u8, right: u8) -> &'static str {
    match (left, right) {
        (0, 0) => " ",
        (0, 1) => "╶",
        (0, _) => "╺",
        (1, 0) => "╴",
        (1, 1) => "─",
        (1, _) => "╼",
        (_, 0) => "╸",
        (_, 1) => "╾",
        (_, _) => "━",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ten per cent of stroke over twenty cells: a half cell is a quarter of a per cent.
    fn scale() -> SagScale {
        SagScale { low: 25.0, high: 35.0, cells: 20, target: Target::PLANTED }
    }

    /// The row as text, blanks of the target range as colons.
    fn text(row: ScaleRow) -> String {
        let shown = |span: &Span<'_>| match span.style.bg {
            Some(_) => span.content.replace(' ', ":"),
            None => span.content.to_string(),
        };
        row.spans().iter().map(shown).collect()
    }

    #[test]
    fn the_ground_lies_where_the_band_does() {
        assert_eq!(text(scale().row(Theme::DARK)), "       ::::::       ");
    }

    #[test]
    fn without_colour_two_lines_edge_it() {
        let plain = Theme { ink: crate::screen::theme::Ink::Plain, ..Theme::DARK };
        assert_eq!(text(scale().row(plain)), "      │      │      ");
    }

    #[test]
    fn a_mark_stands_on_the_ground_exactly_when_the_sag_is_in_the_band() {
        for tenth in 250..350 {
            let sag = Share::percent(f64::from(tenth) / 10.0);
            let mut row = scale().row(Theme::DARK);
            row.mark(sag, "●", Style::new());
            let on_ground =
                row.spans().iter().any(|span| span.content.contains('●') && span.style.bg.is_some());
            assert_eq!(on_ground, Target::PLANTED.holds(sag), "{sag:?}");
        }
    }

    #[test]
    fn an_interval_is_exact_to_half_a_cell() {
        let mut row = scale().row(Theme::DARK);
        let of = Share::percent;
        row.interval(of(33.0), of(0.5), of(0.75), Style::new());
        assert_eq!(text(row), "       :::::: ╶━━╴  ");
    }

    #[test]
    fn a_thin_end_and_a_thick_middle_share_a_cell() {
        assert_eq!((line(1, 2), line(2, 1), line(2, 0)), ("╼", "╾", "╸"));
    }

    #[test]
    fn what_lies_off_the_scale_is_an_arrow_at_its_end() {
        let mut row = scale().row(Theme::DARK);
        row.mark(Share::percent(40.0), "●", Style::new());
        row.mark(Share::percent(20.0), "●", Style::new());
        assert_eq!(text(row), "«      ::::::      »");
    }

    #[test]
    fn ticks_stand_over_their_places() {
        assert_eq!(scale().ticks(UnitSet::Trade), "25 28.5      31.5   ");
    }

    #[test]
    fn no_cell_at_all_is_no_trouble() {
        let none = SagScale { cells: 0, ..scale() };
        let mut row = none.row(Theme::DARK);
        row.interval(Share::percent(30.0), Share::percent(1.0), Share::percent(2.0), Style::new());
        row.mark(Share::percent(30.0), "●", Style::new());
        assert_eq!((text(row), none.ticks(UnitSet::Trade)), (String::new(), String::new()));
    }
}
