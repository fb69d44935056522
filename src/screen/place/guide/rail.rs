//! The rail of steps, and below it the one figure that matters, set large.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::drawing::Scene;
use super::entry;
use crate::assessment::{Advice, Assessment, Standing};
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::{large_figure, set_table};
use crate::screen::theme::Theme;
use crate::session::{SpringNumber, Step};
use crate::units::{Share, Show, SpringRate, Turns, UnitSet};

/// Cells the rail takes at least.
const WIDTH: u16 = 20;
/// From this width on the rail is as wide as the figure below it wants.
const ROOMY: u16 = 130;

/// Cells the rail takes of a window.
pub(super) fn width(window: Rect) -> u16 {
    let figure = large_figure::cells_for("30.5", window.height);
    if window.width < ROOMY { WIDTH } else { WIDTH.max(figure) }
}

/// Cells it takes beyond the least.
pub(super) fn widened(window: Rect) -> u16 {
    width(window) - WIDTH
}

/// Draws the rail, and the large figure below it.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, scene: Scene<'_>) {
    let Scene { session, desk, .. } = scene;
    let steps = u16::try_from(Step::ALL.len()).unwrap_or(12);
    let large = large(scene);
    // A message must not make the figure small: the last steps of the rail give way to it.
    let kept = if large.is_some() { 1 + large_figure::height(frame.area().height) } else { 0 };
    let gap = u16::from(area.height > steps + kept);
    let steps = steps.min(area.height.saturating_sub(kept + gap));
    let [rail, _, figure] =
        Layout::vertical([Constraint::Length(steps), Constraint::Length(gap), Constraint::Min(0)])
            .areas(area);
    let lines: Vec<Line<'_>> = Step::ALL.iter().map(|step| line(*step, session, desk.theme)).collect();
    frame.render_widget(Paragraph::new(lines), rail);
    if let Some(large) = large {
        draw_figure(frame, figure, large, desk.theme);
    }
}

pub(super) fn draw_figure(frame: &mut Frame<'_>, area: Rect, large: RailFigure, theme: Theme) {
    let [label, figure] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
    frame.render_widget(Paragraph::new(large.label), label);
    if figure.height > 0 {
        large_figure::draw(frame, figure, &large.figure, theme.strong(), theme);
    }
}

fn line(step: Step, session: &OpenSession, theme: Theme) -> Line<'static> {
    let title = phrase::step(step).title.clone();
    let (mark, mark_ink, ink) = match passage(step, session) {
        StepMark::Done => ("✓ ", theme.good(), theme.text()),
        StepMark::Here => ("▶ ", theme.accent(), theme.strong()),
        StepMark::ToCome => ("○ ", theme.quiet(), theme.quiet()),
        StepMark::NotNeeded => ("  ", theme.quiet(), theme.quiet()),
    };
    Line::from(vec![Span::styled(mark, mark_ink), Span::styled(title, ink)])
}

/// How the walk stands to a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum StepMark {
    Done,
    Here,
    ToCome,
    /// Passed by: nothing was turned or changed.
    NotNeeded,
}

fn passage(step: Step, session: &OpenSession) -> StepMark {
    let place = |step: Step| Step::ALL.iter().position(|other| *other == step).unwrap_or(0);
    let sets = &session.state.sets;
    let trimmed = || {
        sets.windows(2)
            .any(|two| two[0].spring == two[1].spring && two[0].preload_turns != two[1].preload_turns)
    };
    match place(step).cmp(&place(session.state.step)) {
        std::cmp::Ordering::Equal => StepMark::Here,
        std::cmp::Ordering::Greater => StepMark::ToCome,
        std::cmp::Ordering::Less => match step {
            Step::SetPreload if !trimmed() => StepMark::NotNeeded,
            Step::Swap if session.state.on_bike.swaps == 0 => StepMark::NotNeeded,
            Step::TrailCheck if session.state.trail.is_empty() => StepMark::NotNeeded,
            _ => StepMark::Done,
        },
    }
}

/// A figure to be set large, with what it is.
pub(super) struct RailFigure {
    pub(super) label: Line<'static>,
    pub(super) figure: String,
}

/// The next step at the verdict, the sag elsewhere: that of the reading being typed, or of the set; nothing before.
pub(super) fn large(scene: Scene<'_>) -> Option<RailFigure> {
    let Scene { session, desk, .. } = scene;
    let assessment = session.assessment.as_ref()?;
    if session.state.step == Step::Decision
        && let Some(step) = next_step(assessment, desk.units)
    {
        return Some(step);
    }
    if let Some((sag, standing)) = entry::typed_sag(scene.guide, session, scene.task, desk.units) {
        return Some(large_sag(phrase::guide::AS_TYPED, sag, standing, desk));
    }
    // One sag for the eye: at rest, from all that was read; a set's own mean is told small.
    let present = session.present_finding().and_then(|_| assessment.present())?;
    let standing = Standing::of(present.sag.value, session.state.setup.as_ref()?);
    Some(large_sag(phrase::guide::SAG, present.sag.value, standing, desk))
}

fn large_sag(name: &str, sag: Share, standing: Standing, desk: &Desk) -> RailFigure {
    let label = vec![
        Span::styled(format!("{name}  "), desk.theme.strong()),
        set_table::standing(standing, desk.theme),
    ];
    RailFigure { label: Line::from(label), figure: format!("{} %", sag.written(desk.units).figure) }
}

/// A change of spring or collar, with its sign.
fn next_step(assessment: &Assessment, units: UnitSet) -> Option<RailFigure> {
    let label = |number: SpringNumber| {
        assessment.forecasts.iter().find(|one| one.spring == number).map(|one| one.label)
    };
    let (sign, written) = match &assessment.advice {
        Advice::Swap { best_match, .. } => {
            let change = label(*best_match)? - assessment.present()?.label;
            (change > SpringRate::ZERO, change.abs().written(units))
        }
        Advice::SetPreload(plan) => {
            let turns = format!("{}", plan.by.abs().value());
            (plan.by > Turns::ZERO, crate::units::FigureText { figure: turns, ..plan.by.written(units) })
        }
        _ => return None,
    };
    let label = Line::raw(format!("{}, {}", phrase::guide::STEP, written.unit));
    Some(RailFigure { label, figure: format!("{}{}", if sign { "+" } else { "−" }, written.figure) })
}
