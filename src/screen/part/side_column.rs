//! The column at the side of a wide screen: the sets so far, the springs at hand, and what deserves a look.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::set_table;
use super::spring_table::{self, Rack};
use super::wrap::wrap;
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};

/// From this width on there is a column at the side.
const WIDE: u16 = 116;
/// Cells of the column.
const SIDE: u16 = 58;

/// Cells the column takes of an area: none where the area is narrow.
pub const fn width(area: Rect) -> u16 {
    if area.width >= WIDE { SIDE } else { 0 }
}

/// Draws it; nothing while the intake is open.
pub fn draw(frame: &mut Frame<'_>, area: Rect, session: &OpenSession, desk: &Desk) {
    let Some(rack) = Rack::of(session, None) else { return };
    let (units, theme) = (desk.units, desk.theme);
    let height = usize::from(area.height);
    let heading = |text: &'static str| Line::styled(text, theme.strong());
    let mut lines = vec![heading(phrase::guide::SETS)];
    lines.extend(set_table::lines(session, usize::from(area.width), (height / 3).max(1), desk));
    let warnings = warnings(session, desk, usize::from(area.width));
    let kept = if warnings.is_empty() { 0 } else { (warnings.len() + 2).min(height / 3) };
    let room = height.saturating_sub(lines.len() + 2 + kept);
    lines.extend([Line::raw(""), spring_table::heading(rack, phrase::guide::SPRINGS, units, theme)]);
    lines.extend(spring_table::lines(rack, room.min(rack.forecasts.len() + 1), units, theme));
    if kept > 0 {
        lines.extend([Line::raw(""), heading(phrase::guide::WARNINGS)]);
        lines.extend(warnings);
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// What deserves a look, in lines.
fn warnings(session: &OpenSession, desk: &Desk, width: usize) -> Vec<Line<'static>> {
    let (Some(assessment), Some(setup)) = (&session.assessment, &session.state.setup) else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    for warning in &assessment.warnings {
        let text = phrase::warning(warning, setup, desk.units);
        let wrapped = wrap(&text, width.saturating_sub(2)).into_iter().enumerate();
        lines.extend(wrapped.map(|(index, line)| {
            let mark = if index == 0 { "! " } else { "  " };
            Line::from(vec![Span::styled(mark, desk.theme.alert()), Span::raw(line)])
        }));
    }
    lines
}
