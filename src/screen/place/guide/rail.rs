//! The rail of steps in one line, and the one figure that matters, set large.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::drawing::{Layouted, Scene};
use super::entry;
use crate::assessment::{Advice, Assessment, Standing, kerb};
use crate::phrase;
use crate::screen::model::OpenSession;
use crate::screen::part::{large_figure, set_table};
use crate::screen::theme::Theme;
use crate::session::{Plan, SpringNumber, Step};
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

/// Draws the rail: a sign for every step, which of them this one is, and at the right what comes next.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, session: &OpenSession, theme: Theme) {
    let step = session.state.step;
    let mut spans: Vec<Span<'_>> = Step::ALL.iter().map(|step| sign(*step, session, theme)).collect();
    spans.push(Span::styled(phrase::rail::step_of(place(step) + 1, Step::ALL.len()), theme.quiet()));
    frame.render_widget(Line::from(spans), area);
    if let Some(next) = next(step) {
        let next = Line::styled(phrase::rail::next_step(&phrase::step(next).title), theme.quiet());
        frame.render_widget(next.right_aligned(), area);
    }
}

/// The step that follows; none where the decision has yet to say it, and at the end.
fn next(step: Step) -> Option<Step> {
    let open = matches!(step, Step::Decision | Step::SetPreload | Step::Swap | Step::AfterTrail);
    Step::ALL.get(place(step) + 1).copied().filter(|_| !open)
}

fn place(step: Step) -> usize {
    Step::ALL.iter().position(|other| *other == step).unwrap_or(0)
}

pub(super) fn draw_figure(frame: &mut Frame<'_>, area: Rect, large: RailFigure, theme: Theme) {
    let [label, figure] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
    frame.render_widget(Paragraph::new(large.label), label);
    if figure.height > 0 {
        large_figure::draw(frame, figure, &large.figure, theme.strong(), theme);
    }
}

fn sign(step: Step, session: &OpenSession, theme: Theme) -> Span<'static> {
    match passage(step, session) {
        StepMark::Done => Span::styled("✓", theme.good()),
        StepMark::Here => Span::styled("▸", theme.accent()),
        StepMark::ToCome => Span::styled("○", theme.quiet()),
        StepMark::NotNeeded => Span::styled("─", theme.quiet()),
    }
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
            Step::KerbDrop if kerb::finding(&session.state).is_none() => StepMark::NotNeeded,
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

/// The next step at the decision, the spring to fit during the swap, the sag elsewhere: that of the reading being typed, or of the set; nothing before.
pub(super) fn large(scene: Scene<'_>) -> Option<RailFigure> {
    let Scene { session, desk, .. } = scene;
    let assessment = session.assessment.as_ref()?;
    if let Plan::Spring(number) = session.state.plan
        && session.state.step == Step::Swap
    {
        let rate = session.state.entered.springs.iter().find(|spring| spring.number == number)?.label;
        let written = rate.written(desk.units);
        let label = Line::raw(format!("{}, {}", phrase::rail::TO_FIT, written.unit));
        return Some(RailFigure { label, figure: written.figure });
    }
    if session.state.step == Step::Decision
        && let Some(step) = next_step(assessment, desk.units)
    {
        return Some(step);
    }
    if let Some((sag, standing)) = entry::typed_sag(scene.guide, session, scene.task, desk.units) {
        return Some(large_sag(phrase::guide::AS_TYPED, sag, standing, scene));
    }
    // One sag for the eye: at rest, from all that was read; a set's own mean is told small.
    let present = session.present_finding().and_then(|_| assessment.present())?;
    let standing = Standing::of(present.sag.value, session.state.setup.as_ref()?);
    Some(large_sag(phrase::guide::SAG, present.sag.value, standing, scene))
}

fn large_sag(name: &str, sag: Share, standing: Standing, scene: Scene<'_>) -> RailFigure {
    let Scene { session, desk, .. } = scene;
    let name = Span::styled(format!("{name}  "), desk.theme.strong());
    // In the narrow column the condition stands behind the title of the step alone.
    let stands = if scene.layout == Layouted::Wide {
        set_table::standing_now(standing, session, desk.theme)
    } else {
        Line::from(set_table::standing(standing, desk.theme))
    };
    let label = std::iter::once(name).chain(stands.spans);
    RailFigure { label: label.collect(), figure: format!("{} %", sag.written(desk.units).figure) }
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
