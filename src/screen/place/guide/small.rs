//! The guided walk in a small window, a split of a terminal or a phone: no rail of steps, but the figure that matters, what to
//! do and enter now, the advice, and what deserves a look.
//!
//! Where not all fits, the advice goes first and then the large digits; warnings and what is to be answered never do.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::drawing::{Scene, draw_body};
use super::rail::{self, RailFigure};
use super::{Task, body, picture, strip};
use crate::screen::click_targets::ClickTargets;
use crate::screen::part::{large_figure, warnings};

/// The most lines of advice.
const ADVICE: usize = 2;

/// Draws it.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, scene: Scene<'_>, click_targets: &mut ClickTargets) {
    let width = usize::from(area.width);
    let large = rail::large(scene).filter(|_| !matches!(scene.task, Task::Acknowledge(_)));
    let needed = body::body(scene, area).height(area.width).min(area.height);
    let mut left = area.height - needed;
    let warnings = warnings::lines(scene.session, scene.desk, width, usize::from(left).clamp(1, 3));
    left = left.saturating_sub(lines_of(&warnings));
    let figure = match &large {
        None => 0,
        Some(_) if left > large_figure::LOW => 1 + large_figure::LOW,
        Some(_) => left.min(1),
    };
    left -= figure;
    let advice = strip::headline(scene, width, ADVICE.min(usize::from(left)));
    let [top, middle, advised, worth_a_look] = Layout::vertical([
        Constraint::Length(figure),
        Constraint::Min(0),
        Constraint::Length(lines_of(&advice)),
        Constraint::Length(lines_of(&warnings)),
    ])
    .areas(area);
    if let Some(large) = large {
        draw_figure(frame, top, large, scene);
    }
    let body = body::body(scene, middle);
    draw_body(frame, middle, &body, scene, click_targets);
    let used = body.height(middle.width).min(middle.height);
    picture::draw(frame, Rect { y: middle.y + used, height: middle.height - used, ..middle }, scene);
    frame.render_widget(Paragraph::new(advice), advised);
    frame.render_widget(Paragraph::new(warnings), worth_a_look);
}

fn lines_of(lines: &[Line<'_>]) -> u16 {
    u16::try_from(lines.len()).unwrap_or(u16::MAX)
}

/// The figure with what it is: large, or in one line.
fn draw_figure(frame: &mut Frame<'_>, area: Rect, large: RailFigure, scene: Scene<'_>) {
    let theme = scene.desk.theme;
    if area.height > large_figure::LOW {
        return rail::draw_figure(frame, area, large, theme);
    }
    let mut line = large.label;
    line.spans.insert(0, Span::styled(format!("{}  ", large.figure), theme.strong()));
    frame.render_widget(line, area);
}
