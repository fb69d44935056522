//! How the guided walk is laid out: rail, main column with a strip of readings below, and on a wide screen the sets so far
//! and the springs at hand beside it.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::widgets::Paragraph;

use super::body::{self, Body};
use super::{Guide, Task, rail, strip};
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::{caution_box, field, side_column};

/// What a frame of the guide is drawn from.
#[derive(Clone, Copy)]
pub(super) struct Scene<'a> {
    pub(super) guide: &'a Guide,
    pub(super) session: &'a OpenSession,
    pub(super) desk: &'a Desk,
    pub(super) task: Task,
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, guide: &Guide, desk: &Desk) {
    let Some(session) = &desk.session else { return };
    let scene = Scene { guide, session, desk, task: guide.task(session) };
    let side = side_column::width(area);
    let [left, _, main, _, right] = Layout::horizontal([
        Constraint::Length(rail::WIDTH),
        Constraint::Length(2),
        Constraint::Min(0),
        Constraint::Length(side.min(3)),
        Constraint::Length(side),
    ])
    .areas(area);
    rail::draw(frame, left, session, desk);
    draw_main(frame, main, scene);
    if side > 0 {
        side_column::draw(frame, right, session, desk);
    }
}

fn draw_main(frame: &mut Frame<'_>, area: Rect, scene: Scene<'_>) {
    let strip = strip::lines(scene, area.width);
    let height = u16::try_from(strip.len()).unwrap_or(0);
    let [top, bottom] = Layout::vertical([Constraint::Min(0), Constraint::Length(height)]).areas(area);
    let body = body::body(scene, top);
    draw_body(frame, top, &body, scene);
    frame.render_widget(Paragraph::new(strip), bottom);
}

fn draw_body(frame: &mut Frame<'_>, area: Rect, body: &Body, scene: Scene<'_>) {
    let theme = scene.desk.theme;
    frame.render_widget(Paragraph::new(body.lines.clone()), area);
    let below = |row: usize, height: u16| {
        let y = area.y.saturating_add(u16::try_from(row).unwrap_or(u16::MAX));
        Rect { y, height, ..area }.intersection(area)
    };
    if let Some(caution) = body.caution {
        let room = below(body.lines.len(), area.height);
        caution_box::draw(frame, room, &[caution], phrase::guide::ACKNOWLEDGE, theme);
    }
    if let Some((row, indent)) = body.field {
        let line = below(row, 1);
        let entry = Rect { x: line.x + indent, width: line.width.saturating_sub(indent), ..line };
        let typed = if scene.task.is_aside() { &scene.guide.aside } else { &scene.guide.field };
        field::draw(frame, entry.intersection(area), typed, theme);
    }
}
