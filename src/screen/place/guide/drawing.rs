//! How the guided walk is laid out: rail, main column with a strip of readings below, and on a wide screen the sets so far
//! and the springs at hand beside it.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::body::{self, Body};
use super::{Guide, Task, choice, rail, strip};
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::spring_table::{self, Rack};
use crate::screen::part::wrap::wrap;
use crate::screen::part::{caution_box, field, set_table};

/// From this width on there is a column at the side.
const WIDE: u16 = 116;
/// Cells of the column at the side.
const SIDE: u16 = 60;

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
    let side = if area.width >= WIDE { SIDE } else { 0 };
    let [left, _, main, _, right] = Layout::horizontal([
        Constraint::Length(rail::WIDTH),
        Constraint::Length(2),
        Constraint::Min(0),
        Constraint::Length(if side > 0 { 3 } else { 0 }),
        Constraint::Length(side),
    ])
    .areas(area);
    rail::draw(frame, left, session, desk);
    draw_main(frame, main, scene);
    if side > 0 {
        draw_side(frame, right, scene);
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

fn draw_side(frame: &mut Frame<'_>, area: Rect, scene: Scene<'_>) {
    let Some(assessment) = &scene.session.assessment else { return };
    let (units, theme) = (scene.desk.units, scene.desk.theme);
    let height = usize::from(area.height);
    let heading = |text: &'static str| Line::styled(text, theme.strong());
    let mut lines = vec![heading(phrase::guide::SETS)];
    lines.extend(set_table::lines(scene.session, (height / 3).max(1), units, theme));
    let warnings = warnings(scene, usize::from(area.width));
    let kept = if warnings.is_empty() { 0 } else { (warnings.len() + 2).min(height / 3) };
    let room = height.saturating_sub(lines.len() + 2 + kept);
    lines.extend([Line::raw(""), spring_heading(theme)]);
    let rack = Rack {
        forecasts: &assessment.forecasts,
        springs: &scene.session.state.told.rack,
        landing: choice::landing(assessment),
        marked: None,
    };
    lines.extend(spring_table::lines(rack, room.min(assessment.forecasts.len() + 1), units, theme));
    if kept > 0 {
        lines.extend([Line::raw(""), heading(phrase::guide::WARNINGS)]);
        lines.extend(warnings);
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// The heading of the springs, with those of its columns.
fn spring_heading(theme: crate::screen::theme::Theme) -> Line<'static> {
    Line::from(vec![
        ratatui::text::Span::styled(phrase::guide::SPRINGS, theme.strong()),
        ratatui::text::Span::styled(format!("  {}", phrase::guide::SPRING_COLUMNS), theme.quiet()),
    ])
}

/// What deserves a look, in lines.
fn warnings(scene: Scene<'_>, width: usize) -> Vec<Line<'static>> {
    let (Some(assessment), Some(setup)) = (&scene.session.assessment, &scene.session.state.setup) else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    for warning in &assessment.warnings {
        let text = phrase::warning(warning, setup, scene.desk.units);
        let mut marks = std::iter::once("! ").chain(std::iter::repeat("  "));
        let wrapped = wrap(&text, width.saturating_sub(2)).into_iter();
        lines.extend(wrapped.map(|line| Line::raw(format!("{}{line}", marks.next().unwrap_or("  ")))));
    }
    lines
}
