//! The columns that sets and springs share: mark, name, scale of sag, figure, and what stands at the end.
//!
//! One set of columns for both keeps the lane of the band in one line down the screen. Not here: the rows (`set_chart`,
//! `spring_ladder`) and what is drawn on the scale (`sag_scale`).

use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::sag_scale::{SagScale, ScaleRow};
use super::set_chart;
use crate::assessment::{Forecast, SetFinding};
use crate::mechanics::Fit;
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::theme::Theme;
use crate::text::Shown;
use crate::units::{Estimate, Share, UnitSet};

/// Cells of a sag with its uncertainty, without the sign of its unit.
const FIGURE: usize = 10;
/// Cells of a chance, and of how many readings a set has.
const TAIL: usize = 7;
/// Fewer cells than this say nothing, and the figures go to make room.
const SHORTEST_SCALE: usize = 14;

/// The columns for one session at one width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SagColumns {
    /// Cells of the mark or the number, with the gap behind it.
    marks: usize,
    names: usize,
    /// Cells of the figures, with the gap before them; none where the scale needs the room.
    figures: usize,
    /// The scale between.
    pub scale: SagScale,
    units: UnitSet,
}

/// One line of the columns.
pub struct SagLine {
    /// The mark at the left, or the number.
    pub mark: Span<'static>,
    /// The name of the spring.
    pub name: Span<'static>,
    /// What stands on the scale.
    pub row: ScaleRow,
    /// The sag, and how it is set.
    pub sag: (Estimate<Share>, Style),
    /// What stands at the end.
    pub tail: Vec<Span<'static>>,
}

impl SagColumns {
    /// The columns of a session; none while the intake is open.
    pub fn of(session: &OpenSession, width: usize, units: UnitSet) -> Option<Self> {
        let assessment = session.assessment.as_ref()?;
        let target = session.state.setup.as_ref()?.target;
        let springs = &session.state.entered.springs;
        let forecasts = &assessment.forecasts;
        let name = |forecast: &Forecast| phrase::spring(forecast.spring, springs, units).width();
        let set = |set: &SetFinding| set_chart::name(set, session, units).width();
        let names = forecasts.iter().map(name).chain(assessment.sets.iter().map(set));
        let names = names.max().unwrap_or(0).clamp(9, 21);
        let doubtful = forecasts.iter().filter(|forecast| forecast.fit != Fit::Fits);
        let fits = doubtful.map(|forecast| phrase::guide::fit(forecast.fit).width() + 1).max().unwrap_or(0);
        let marks = if session.state.sets.len() < 10 { 2 } else { 3 };
        let left = width.saturating_sub(marks + names + 1 + 1 + TAIL + fits);
        let figures = if left > SHORTEST_SCALE + FIGURE { FIGURE + 1 } else { 0 };
        let scale = SagScale::of(assessment, target, left.saturating_sub(figures));
        Some(Self { marks, names, figures, scale, units })
    }

    /// A title, the ticks of the scale, and what the figures are.
    pub fn heading(self, title: &str, [figure, tail]: [&str; 2], theme: Theme) -> Line<'static> {
        let left = self.marks + self.names + 1;
        let room = left + self.scale.ticks(self.units).len();
        let title = Shown::from(title).fitted(room);
        let ticks = behind(&self.scale.ticks(self.units), title.width().saturating_sub(left));
        let figure = if self.figures > 0 { format!(" {figure:>FIGURE$}") } else { String::new() };
        Line::from(vec![
            Span::styled(format!("{title:<left$}"), theme.strong()),
            Span::styled(format!("{ticks}{figure} {tail:>TAIL$}"), theme.quiet()),
        ])
    }

    /// An empty line with the lane on it, so that it runs on from one table to the next.
    pub fn gap(self, theme: Theme) -> Line<'static> {
        let left = Span::raw(" ".repeat(self.marks + self.names + 1));
        std::iter::once(left).chain(self.scale.row(theme).spans()).collect()
    }

    /// One line.
    pub fn line(self, entry: SagLine) -> Line<'static> {
        let SagLine { mark, name, row, sag: (sag, style), tail } = entry;
        let figure = match self.figures {
            0 => " ".to_owned(),
            _ => format!(" {:>FIGURE$} ", sag.written(self.units).figure),
        };
        let gap = " ".repeat(self.marks.saturating_sub(mark.content.width()));
        let fitted = Shown::from(name.content.as_ref()).fitted(self.names);
        let blank = " ".repeat(self.names.saturating_sub(fitted.width()) + 1);
        let mut spans = vec![mark, Span::raw(gap), Span::styled(fitted, name.style), Span::raw(blank)];
        spans.extend(row.spans());
        spans.push(Span::styled(figure, style));
        spans.extend(tail);
        Line::from(spans)
    }
}

/// What is left of the ticks behind a title that reaches so many cells into them; no tick is cut in two.
fn behind(ticks: &str, reach: usize) -> String {
    if reach == 0 {
        return ticks.to_owned();
    }
    let rest: String = ticks.chars().skip(reach).collect();
    let whole = rest.trim_start_matches(|letter: char| !letter.is_whitespace());
    format!("{whole:>width$}", width = rest.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_title_takes_whole_ticks_away() {
        assert_eq!(behind("25    30    35 ", 0), "25    30    35 ");
        assert_eq!(behind("25    30    35 ", 1), "     30    35 ");
        assert_eq!(behind("25    30    35 ", 7), "    35 ".replace("    35", "     35"));
    }
}
