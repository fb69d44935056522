//! The column at the side of a wide screen: the sets so far and the springs at hand on one scale of sag, what deserves a
//! look, and on a tall one sag against rate.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::rate_chart;
use super::sag_columns::SagColumns;
use super::set_chart;
use super::spring_ladder::{self, LadderSprings};
use super::warnings;
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};

/// What the work beside the column needs: as much as on the least screen, and the gap between them.
const WORK: u16 = 76 + 4;
/// Cells of the column: at least, enough, and at most.
const SIDE: [u16; 3] = [46, 58, 96];

/// Cells the column takes of an area: all that the work leaves, and half of every cell beyond enough; none where that is
/// too little.
pub fn width(area: Rect) -> u16 {
    let [least, enough, most] = SIDE;
    match area.width.saturating_sub(WORK) {
        left if left < least => 0,
        left if left <= enough => left,
        left => (enough + (left - enough) / 2).min(most),
    }
}

/// Draws it; nothing while the intake is open.
pub fn draw(frame: &mut Frame<'_>, area: Rect, session: &OpenSession, desk: &Desk) {
    let (units, theme) = (desk.units, desk.theme);
    let width = usize::from(area.width);
    let (Some(springs), Some(columns)) =
        (LadderSprings::of(session, None), SagColumns::of(session, width, units))
    else {
        return;
    };
    let height = usize::from(area.height);
    let mut lines = vec![set_chart::heading(columns, theme)];
    lines.extend(set_chart::lines(session, columns, (height / 3).max(1), units, theme));
    lines.push(columns.gap(theme));
    let warnings = warnings::lines(session, desk, width, (height / 3).saturating_sub(2).max(1));
    let kept = if warnings.is_empty() { 0 } else { warnings.len() + 2 };
    let room = height.saturating_sub(lines.len() + 1 + kept);
    lines.extend(spring_ladder::ladder(springs, columns, phrase::guide::SPRINGS, room, units, theme).lines());
    if kept > 0 {
        lines.extend([Line::raw(""), Line::styled(phrase::guide::WARNINGS, theme.strong())]);
        lines.extend(warnings);
    }
    let below = Rect { y: area.y.saturating_add(u16::try_from(lines.len() + 1).unwrap_or(u16::MAX)), ..area };
    let below = Rect { height: area.bottom().saturating_sub(below.y), ..below }.intersection(area);
    frame.render_widget(Paragraph::new(lines), area);
    rate_chart::draw(frame, below, session, units, theme);
}
