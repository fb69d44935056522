//! A hazard of the spring on the bike, over the whole width at every size: its figures in a line, and its caution in a frame.
//!
//! Not here: when it is acknowledged (`place`), and the cautions of the work (`caution_box`).

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::{caution_box, field};
use crate::phrase;
use crate::screen::click_targets::ClickTargets;
use crate::screen::model::{Desk, OpenSession};
use crate::session::Hazard;
use crate::text::wrap::wrap;

/// Draws it, and below it what is typed as the stroke where that is asked for.
pub fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    hazard: Hazard,
    session: &OpenSession,
    typed: &field::TextField,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let width = area.width.min(100);
    let figures = phrase::hazard::figures(hazard, Some(&session.state.entered.springs), desk.units);
    let mut lines: Vec<Line<'_>> = wrap(&figures, usize::from(width))
        .into_iter()
        .map(|line| Line::styled(line, desk.theme.title()))
        .collect();
    lines.push(Line::raw(""));
    let below = |rows: usize| {
        let y = area.y.saturating_add(u16::try_from(rows).unwrap_or(u16::MAX));
        Rect { y, width, height: area.bottom().saturating_sub(y), ..area }.intersection(area)
    };
    let cautions = [hazard.caution()];
    if hazard.forbids_riding() {
        caution_box::draw(
            frame,
            below(lines.len()),
            &cautions,
            phrase::guide::ACKNOWLEDGE,
            desk,
            click_targets,
        );
    } else {
        let room = below(lines.len());
        let room = Rect { height: room.height.saturating_sub(2), ..room };
        caution_box::draw(frame, room, &cautions, phrase::hazard::STROKE, desk, click_targets);
        let line =
            below(lines.len() + usize::from(caution_box::height(width, &cautions).min(room.height)) + 1);
        let mark = Rect { height: line.height.min(1), ..line };
        frame.render_widget(Paragraph::new(Line::styled("▸", desk.theme.accent())), mark);
        let entry = Rect { x: mark.x.saturating_add(2), width: mark.width.saturating_sub(2), ..mark };
        field::draw(frame, entry.intersection(area), typed, desk.theme);
    }
    frame.render_widget(Paragraph::new(lines), area);
}
