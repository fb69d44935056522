//! How the guided walk is laid out: the rail of steps in a line, the step with the figure that matters at its right, the shock
//! and a strip of readings below, and on a wide screen the sets so far and the spring list beside it.
//!
//! While readings are taken the picture stands in the same lines whatever is typed, said or done.

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
use crate::screen::part::{
    caution_box, field, hazard_box, large_figure, shock_picture, side_column, warnings,
};
use crate::screen::place::stroke;
use crate::text::wrap::wrap;

/// The most lines of warnings beside a step.
const WARNINGS: usize = 5;
/// The most lines the step itself takes of a tall screen.
const STEP: u16 = 22;
/// Lines of the strip at most, with the label of the figure and the gap above the picture.
const STRIP: u16 = 9;
/// Lines of the step while a reading is taken; the picture stands below them.
const MEASURING: u16 = 11;
/// In a window higher than that the rail stands by itself.
const TALL: u16 = 28;

/// What a frame of the guide is drawn from.
#[derive(Clone, Copy)]
pub(super) struct Scene<'a> {
    pub(super) guide: &'a Guide,
    pub(super) session: &'a OpenSession,
    pub(super) desk: &'a Desk,
    pub(super) task: Task,
    pub(super) layout: Layouted,
    /// Cells across below the figure that matters.
    pub(super) width: usize,
    /// Lines of that figure, beside which the text is narrower.
    pub(super) figure: u16,
}

/// How much of the guide there is room for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Layouted {
    /// The step, and the figure that matters.
    Small,
    /// Above it the rail of steps, at its right the figure that matters.
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
    let side = side_column::width(Rect { width: area.width.saturating_sub(rail::widened(window)), ..area });
    let layout = match () {
        () if !is_full(window) => Layouted::Small,
        () if side > 0 => Layouted::Wide,
        () => Layouted::Usual,
    };
    let mut scene = Scene { guide, session, desk, task: guide.task(session), layout, width: 0, figure: 0 };
    if let (Task::Acknowledge(_) | Task::Stroke, Some(hazard)) = (scene.task, stroke::hazard_due(session)) {
        return hazard_box::draw(frame, area, hazard, session, &guide.field, desk, click_targets);
    }
    if layout == Layouted::Small {
        return small::draw(frame, area, scene, click_targets);
    }
    let gap = u16::from(window.height > TALL);
    let [steps, _, rest] =
        Layout::vertical([Constraint::Length(1), Constraint::Length(gap), Constraint::Min(0)]).areas(area);
    let [main, _, right] =
        Layout::horizontal([Constraint::Min(0), Constraint::Length(side.min(4)), Constraint::Length(side)])
            .areas(rest);
    rail::draw(frame, steps, session, desk.theme);
    scene.width = usize::from(main.width);
    draw_main(frame, main, scene, click_targets);
    if side > 0 {
        side_column::draw(frame, right, session, desk);
    }
}

fn draw_main(frame: &mut Frame<'_>, area: Rect, scene: Scene<'_>, click_targets: &mut ClickTargets) {
    let reasons = reasons(area.width, scene);
    let (area, below) = with_reasons(area, reasons.len(), frame.area().height, scene);
    let column = rail::width(frame.area());
    let text = |area: Rect| Rect { width: area.width.saturating_sub(column + 2), ..area };
    let (screen, theme) = (frame.area().height, scene.desk.theme);
    let lines = |large: rail::RailFigure| 1 + large_figure::lines_of(&large.figure, column, screen, theme);
    let figure = rail::large(scene).map_or(0, lines);
    let scene = Scene { figure, ..scene };
    let body = body::body(scene, text(area));
    let used = body.height(text(area).width);
    let room = usize::from(area.height.saturating_sub(used)).clamp(1, WARNINGS);
    let warnings = match scene.layout {
        Layouted::Wide => Vec::new(),
        _ => warnings::lines(scene.session, scene.desk, usize::from(area.width), room),
    };
    let [area, worth_a_look] =
        Layout::vertical([Constraint::Min(0), Constraint::Length(lines_of(&warnings))]).areas(area);
    frame.render_widget(Paragraph::new(warnings), worth_a_look);
    // What has to be done now comes before what was read, and the picture of it as well. While readings are taken the
    // picture stands below the lines that the step and the figure may come to.
    let measuring = MEASURING.max(1 + large_figure::height(screen));
    let measured = matches!(scene.task, Task::Seat | Task::Read);
    let kept = match scene.task {
        Task::Seat | Task::Read => used.max(measuring).saturating_add(shock_picture::HEIGHT),
        Task::Choose => used.saturating_add(picture::LEAST_LADDER),
        _ => used,
    };
    let strip = strip::lines(scene, area.width, usize::from(area.height.saturating_sub(kept)));
    let [top, bottom] =
        Layout::vertical([Constraint::Min(0), Constraint::Length(lines_of(&strip))]).areas(area);
    let body_area = if scene.task == Task::Choose { top } else { text(top) };
    draw_body(frame, body_area, &body, scene, click_targets);
    draw_figure(frame, top, column, scene);
    let fixed = measured && top.height >= measuring.saturating_add(shock_picture::HEIGHT);
    let above = if fixed { used.max(measuring) } else { used }.max(figure).min(top.height);
    picture::draw(frame, Rect { y: top.y + above, height: top.height - above, ..top }, scene);
    frame.render_widget(Paragraph::new(strip), bottom);
    frame.render_widget(Paragraph::new(reasons), below);
}

/// The figure that matters, in a column of its own at the right.
fn draw_figure(frame: &mut Frame<'_>, area: Rect, column: u16, scene: Scene<'_>) {
    let Some(large) = rail::large(scene) else { return };
    let left = area.width.saturating_sub(column);
    let height = scene.figure.min(area.height);
    let place = Rect { x: area.x + left, width: area.width - left, height, ..area };
    rail::draw_figure(frame, place, large, scene.desk.theme);
}

/// On a tall screen the step keeps to the upper part, and why it is done stands below; where that does not fit whole, the
/// step has all of it.
fn with_reasons(area: Rect, reasons: usize, screen: u16, scene: Scene<'_>) -> (Rect, Rect) {
    let reasons = u16::try_from(reasons).unwrap_or(u16::MAX);
    let step = STEP.max(large_figure::height(screen) + shock_picture::HEIGHT + STRIP);
    let fits = scene.task != Task::Look && area.height > step.saturating_add(reasons);
    let below = if fits { area.height - step - 1 } else { 0 };
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
