//! How the guided walk is laid out: rail, main column with a strip of readings below, and on a wide screen the sets so far
//! and the springs at hand beside it.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

use super::body::{self, Body};
use super::{Guide, Task, picture, rail, small, strip};
use crate::phrase;
use crate::screen::click_targets::{ClickTarget, ClickTargets};
use crate::screen::is_full;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::{caution_box, field, hazard_box, side_column, warnings};
use crate::screen::place::stroke;
use crate::text::wrap::wrap;

/// The most lines of warnings beside a step.
const WARNINGS: usize = 5;
/// The most lines the step itself takes of a tall screen.
const STEP: u16 = 22;

/// What a frame of the guide is drawn from.
#[derive(Clone, Copy)]
pub(super) struct Scene<'a> {
    pub(super) guide: &'a Guide,
    pub(super) session: &'a OpenSession,
    pub(super) desk: &'a Desk,
    pub(super) task: Task,
    pub(super) layout: Layouted,
}

/// How much of the guide there is room for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Layouted {
    /// The step, and the figure that matters.
    Small,
    /// Beside it the rail of steps.
    Usual,
    /// And a column with the sets so far and the springs at hand.
    Wide,
}

/// Draws it.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    guide: &Guide,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let Some(session) = &desk.session else { return };
    let window = frame.area();
    let widened = rail::widened(window);
    let side = side_column::width(Rect { width: area.width.saturating_sub(widened), ..area });
    let layout = match () {
        () if !is_full(window) => Layouted::Small,
        () if side > 0 => Layouted::Wide,
        () => Layouted::Usual,
    };
    let scene = Scene { guide, session, desk, task: guide.task(session), layout };
    if let (Task::Acknowledge(_) | Task::Stroke, Some(hazard)) = (scene.task, stroke::hazard_due(session)) {
        return hazard_box::draw(frame, area, hazard, session, &guide.field, desk, click_targets);
    }
    if layout == Layouted::Small {
        return small::draw(frame, area, scene, click_targets);
    }
    let [left, _, main, _, right] = Layout::horizontal([
        Constraint::Length(rail::width(window)),
        Constraint::Length(2),
        Constraint::Min(0),
        Constraint::Length(side.min(4)),
        Constraint::Length(side),
    ])
    .areas(area);
    rail::draw(frame, left, scene);
    draw_main(frame, main, scene, click_targets);
    if side > 0 {
        side_column::draw(frame, right, session, desk);
    }
}

fn draw_main(frame: &mut Frame<'_>, area: Rect, scene: Scene<'_>, click_targets: &mut ClickTargets) {
    let reasons = reasons(area.width, scene);
    let (area, below) = with_reasons(area, reasons.len(), scene);
    let body = body::body(scene, area);
    let room = usize::from(area.height.saturating_sub(body.height(area.width))).clamp(1, WARNINGS);
    let warnings = match scene.layout {
        Layouted::Wide => Vec::new(),
        _ => warnings::lines(scene.session, scene.desk, usize::from(area.width), room),
    };
    let [area, worth_a_look] =
        Layout::vertical([Constraint::Min(0), Constraint::Length(lines_of(&warnings))]).areas(area);
    frame.render_widget(Paragraph::new(warnings), worth_a_look);
    let strip = strip::lines(scene, area.width);
    let height = u16::try_from(strip.len()).unwrap_or(u16::MAX);
    // What has to be done now comes before what was read: the strip goes where both do not fit.
    let fits = body.height(area.width).saturating_add(height) <= area.height;
    let height = if fits { height } else { 0 };
    let [top, bottom] = Layout::vertical([Constraint::Min(0), Constraint::Length(height)]).areas(area);
    draw_body(frame, top, &body, scene, click_targets);
    let used = body.height(area.width).min(top.height);
    let left = Rect { y: top.y + used, height: top.height - used, ..top };
    picture::draw(frame, left, scene);
    frame.render_widget(Paragraph::new(strip), bottom);
    frame.render_widget(Paragraph::new(reasons), below);
}

/// On a tall screen the step keeps to the upper part, and why it is done stands below; where that does not fit whole, the
/// step has all of it.
fn with_reasons(area: Rect, reasons: usize, scene: Scene<'_>) -> (Rect, Rect) {
    let reasons = u16::try_from(reasons).unwrap_or(u16::MAX);
    let fits = scene.task != Task::Look && area.height > STEP.saturating_add(reasons);
    let below = if fits { area.height - STEP - 1 } else { 0 };
    let [step, _, below] =
        Layout::vertical([Constraint::Min(0), Constraint::Length(below.min(1)), Constraint::Length(below)])
            .areas(area);
    (step, below)
}

/// Why the step is done.
fn reasons(width: u16, scene: Scene<'_>) -> Vec<Line<'static>> {
    let theme = scene.desk.theme;
    let reasons = phrase::step(scene.session.state.step).why.iter();
    let wrapped = reasons.flat_map(|reason| wrap(reason, usize::from(width).min(body::TEXT)));
    let lines = wrapped.map(|line| Line::styled(line, theme.quiet()));
    std::iter::once(Line::styled(phrase::guide::WHY, theme.quiet())).chain(lines).collect()
}

fn lines_of(lines: &[Line<'_>]) -> u16 {
    u16::try_from(lines.len()).unwrap_or(u16::MAX)
}

/// Notes the lines that can be clicked, the first of them out of sight.
fn note_places(area: Rect, body: &Body, unseen: usize, click_targets: &mut ClickTargets) {
    for (line, place) in &body.places {
        if let Some(row) = line.checked_sub(unseen).and_then(|line| area.rows().nth(line)) {
            click_targets.note(
                row,
                if *place == body.marked { ClickTarget::Marked } else { ClickTarget::Line(*place) },
            );
        }
    }
}

/// Draws the main column; where it is longer than its room, what is marked or typed stays in sight.
pub(super) fn draw_body(
    frame: &mut Frame<'_>,
    area: Rect,
    body: &Body,
    scene: Scene<'_>,
    click_targets: &mut ClickTargets,
) {
    let theme = scene.desk.theme;
    let unseen = body.unseen(usize::from(area.height));
    note_places(area, body, unseen, click_targets);
    if let Some(window) = body.window {
        click_targets.window(window);
    }
    frame.render_widget(Paragraph::new(body.lines[unseen.min(body.lines.len())..].to_vec()), area);
    let below = |row: usize, height: u16| {
        let row = row.saturating_sub(unseen);
        let y = area.y.saturating_add(u16::try_from(row).unwrap_or(u16::MAX));
        Rect { y, height, ..area }.intersection(area)
    };
    if !body.cautions.is_empty() {
        let room = below(body.lines.len(), area.height);
        let key = if scene.task == Task::AllDone { "" } else { phrase::guide::ACKNOWLEDGE };
        caution_box::draw(frame, room, &body.cautions, key, scene.desk, click_targets);
    }
    if let Some((row, indent)) = body.field {
        let line = below(row, 1);
        let entry = Rect { x: line.x + indent, width: line.width.saturating_sub(indent), ..line };
        let typed = if scene.task.is_aside() { &scene.guide.note_field } else { &scene.guide.field };
        field::draw(frame, entry.intersection(area), typed, theme);
    }
}
