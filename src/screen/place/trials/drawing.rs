//! How quick trials are laid out: the table, the verdict beside it, the line to type below, and on a wide screen the
//! springs at hand.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::line::LineContext;
use super::{PendingSwap, TrialStage, Trials, line, small, table, update};
use crate::assessment::{SetFinding, Standing};
use crate::phrase;
use crate::screen::click_targets::{ClickTargets, ViewSize};
use crate::screen::is_full;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::shock_picture::{self, ShockPicture};
use crate::screen::part::{caution_box, field, hazard_box, large_figure, set_table, side_column, warnings};
use crate::session::{Caution, Setup, Step};
use crate::text::wrap::wrap;
use crate::units::{Length, Show, Turns};

/// The most lines of warnings.
const WARNINGS: usize = 3;
/// Lines of the entry: a rule, the field, how it is understood, and what it takes.
const ENTRY: u16 = 6;
/// From so many lines on there is room for the shock between the verdict and the entry.
const ROOMY: u16 = 25;

/// Draws it.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    trials: &Trials,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let Some(session) = &desk.session else { return };
    match trials.stage(session) {
        TrialStage::Hazard(hazard) | TrialStage::Stroke(hazard) => {
            hazard_box::draw(frame, area, hazard, session, &trials.field, desk, click_targets);
        }
        TrialStage::Cautions(cautions) => {
            let heading = phrase::trials::CAUTIONS;
            draw_cautions(frame, area, heading, &cautions, phrase::guide::ACKNOWLEDGE, desk, click_targets);
        }
        TrialStage::Change(change) => draw_change(frame, area, change, session, desk, click_targets),
        TrialStage::Collar => draw_collar(frame, area, trials, session, desk),
        TrialStage::Line if !is_full(frame.area()) => small::draw(frame, area, trials, session, desk),
        TrialStage::Line => draw_line(frame, area, trials, session, desk, click_targets),
    }
}

fn draw_cautions(
    frame: &mut Frame<'_>,
    area: Rect,
    heading: &str,
    cautions: &[Caution],
    keys: &str,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let [top, below] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
    frame.render_widget(Paragraph::new(Line::styled(heading.to_owned(), desk.theme.title())), top);
    let below = Rect { width: below.width.min(100), ..below };
    caution_box::draw(frame, below, cautions, keys, desk, click_targets);
}

fn draw_change(
    frame: &mut Frame<'_>,
    area: Rect,
    change: PendingSwap,
    session: &OpenSession,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let read = update::read_before(session, change).into_iter();
    let read = read.map(|caution| format!("! {}", phrase::caution(caution).headline));
    let heading = std::iter::once(change.words(&session.state.entered.springs, desk.units)).chain(read);
    let heading = heading.collect::<Vec<_>>().join("  ");
    let cautions = update::cautions(session, change);
    draw_cautions(frame, area, &heading, &cautions, phrase::guide::CONFIRM_CHANGE, desk, click_targets);
}

/// Where the collar stands as trials begin.
fn draw_collar(frame: &mut Frame<'_>, area: Rect, trials: &Trials, session: &OpenSession, desk: &Desk) {
    let words = phrase::step(Step::Unload);
    let theme = desk.theme;
    let width = usize::from(area.width);
    let mut lines = vec![Line::styled(words.title.clone(), theme.title())];
    if is_full(frame.area()) {
        lines.extend(wrap(&words.instruction, width).into_iter().map(Line::raw));
        lines.push(Line::raw(""));
    }
    lines.extend(wrap(&words.entry, width).into_iter().map(|line| Line::styled(line, theme.strong())));
    let setup = session.state.setup.as_ref();
    let typed = crate::units::parse::turns(trials.field.text()).ok();
    let understood = match (typed, setup) {
        (Some(turns), Some(setup)) => phrase::guide::turns_understood(turns.value, setup, desk.units),
        _ if trials.field.is_empty() => phrase::guide::turns_suggested(Turns::ZERO, desk.units),
        _ => String::new(),
    };
    let entry = u16::try_from(lines.len() + 1).unwrap_or(u16::MAX);
    frame.render_widget(Paragraph::new(lines), area);
    let below = Rect { y: area.y.saturating_add(entry), height: 2, ..area }.intersection(area);
    draw_field(frame, below, trials, understood, desk);
}

/// The field with its mark, and how it is understood on the line below.
pub(super) fn draw_field(
    frame: &mut Frame<'_>,
    area: Rect,
    trials: &Trials,
    understood: String,
    desk: &Desk,
) {
    let theme = desk.theme;
    let lines = vec![
        Line::styled("▸", theme.accent()),
        Line::from(vec![Span::raw("  "), Span::styled(understood, theme.strong())]),
    ];
    frame.render_widget(Paragraph::new(lines), area);
    let entry = Rect { x: area.x.saturating_add(2), width: area.width.saturating_sub(2).min(70), ..area };
    field::draw(frame, entry.intersection(area), &trials.field, theme);
}

fn draw_line(
    frame: &mut Frame<'_>,
    area: Rect,
    trials: &Trials,
    session: &OpenSession,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let side = side_column::width(area);
    let [left, _, right] =
        Layout::horizontal([Constraint::Min(0), Constraint::Length(side.min(3)), Constraint::Length(side)])
            .areas(area);
    let picture = if left.height >= ROOMY { shock_picture::HEIGHT + 1 } else { 0 };
    let warnings = match side {
        0 => warnings::lines(session, desk, usize::from(left.width), WARNINGS),
        _ => Vec::new(),
    };
    let [top, worth_a_look, _, picture, entry] = Layout::vertical([
        Constraint::Min(0),
        Constraint::Length(u16::try_from(warnings.len()).unwrap_or(0)),
        Constraint::Length(picture.min(1)),
        Constraint::Length(picture),
        Constraint::Length(ENTRY),
    ])
    .areas(left);
    let [rows, _, verdict] =
        Layout::horizontal([Constraint::Length(table::WIDTH), Constraint::Length(3), Constraint::Min(0)])
            .areas(top);
    let in_sight = Rect { height: rows.height.saturating_sub(1), ..rows };
    click_targets.window(ViewSize::of(0, in_sight, table::lines_of(session)));
    let lines = table::lines(session, usize::from(rows.height), trials.below, desk.units, desk.theme);
    frame.render_widget(Paragraph::new(lines), rows);
    frame.render_widget(Paragraph::new(warnings), worth_a_look);
    draw_verdict(frame, verdict, session, desk);
    draw_shock(frame, picture, trials, session, desk);
    draw_entry(frame, entry, trials, session, desk);
    if side > 0 {
        side_column::draw(frame, right, session, desk);
    }
}

/// The shock with the indicator as typed, else where the last reading left it.
pub(super) fn draw_shock(
    frame: &mut Frame<'_>,
    area: Rect,
    trials: &Trials,
    session: &OpenSession,
    desk: &Desk,
) {
    let Some(setup) = &session.state.setup else { return };
    let last = || Some(session.state.present_set()?.counting().last()?.distance);
    let moved = line::typed_reading(trials.field.text(), hand(setup, desk), desk.units).or_else(last);
    if let Some(shown) = ShockPicture::of(session, moved.unwrap_or(Length::ZERO)) {
        shock_picture::draw(frame, area, shown, desk.units, desk.theme);
    }
}

/// The springs the line may mean.
pub(super) fn hand<'a>(setup: &'a Setup, desk: &'a Desk) -> LineContext<'a> {
    LineContext { setup, shop: desk.shelf.rack.kinds() }
}

/// Rule, field, how the line is understood, and what it takes.
fn draw_entry(frame: &mut Frame<'_>, area: Rect, trials: &Trials, session: &OpenSession, desk: &Desk) {
    let Some(setup) = &session.state.setup else { return };
    let theme = desk.theme;
    let [rule, typed, takes] =
        Layout::vertical([Constraint::Length(1), Constraint::Length(2), Constraint::Min(0)]).areas(area);
    let line = Line::styled("─".repeat(usize::from(area.width)), theme.quiet());
    frame.render_widget(Paragraph::new(line), rule);
    let understood = line::understood(trials.field.text(), hand(setup, desk), desk.units).unwrap_or_default();
    draw_field(frame, typed, trials, understood, desk);
    let mut hints: Vec<Line<'_>> =
        phrase::trials::takes(desk.units).into_iter().map(|hint| Line::styled(hint, theme.quiet())).collect();
    if let Some(caution) = line::caution(trials.field.text(), hand(setup, desk), desk.units) {
        hints[0] = Line::styled(format!("! {}", phrase::caution(caution).headline), theme.alert());
    }
    frame.render_widget(Paragraph::new(hints), takes);
}

/// The sag set large, the figures behind it, and what to do.
fn draw_verdict(frame: &mut Frame<'_>, area: Rect, session: &OpenSession, desk: &Desk) {
    let (Some(setup), Some(assessment)) = (&session.state.setup, &session.assessment) else { return };
    let theme = desk.theme;
    let width = usize::from(area.width);
    let finding = session.present_finding();
    let mut top = area;
    if let Some(present) = finding.and_then(|_| assessment.present()) {
        let standing = Standing::of(present.sag.value, setup);
        let [label, figure, rest] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(large_figure::height(frame.area().height)),
            Constraint::Min(0),
        ])
        .areas(area);
        frame.render_widget(Paragraph::new(set_table::standing(standing, theme)), label);
        let sag = format!("{} %", present.sag.value.written(desk.units).figure);
        large_figure::draw(frame, figure, &sag, set_table::ink(standing, theme), theme);
        top = rest;
    }
    let words = phrase::advice(assessment, setup, desk.units);
    let bold = |line| Line::styled(line, theme.strong());
    let mut lines: Vec<Line<'_>> = wrap(&words.headline, width).into_iter().map(bold).collect();
    let figures = finding.map_or_else(Vec::new, |finding| figures(finding, setup, desk));
    let mut entered = |text: &str| {
        let entered = wrap(text, width);
        let fits = lines.len() + entered.len() + figures.len() < usize::from(top.height);
        lines.extend(entered.into_iter().filter(|_| fits).map(Line::raw));
        fits
    };
    // A reason is told whole or not at all, half of one would mislead; a spring that can be had comes before it.
    if let Some(shop_alternatives) = &session.shop_alternatives
        && !entered(&phrase::shop_alternatives::shop_alternatives(shop_alternatives, setup, desk.units))
    {
        entered(&phrase::shop_alternatives::in_short(shop_alternatives, desk.units));
    }
    entered(&words.reason);
    if finding.is_some() {
        lines.push(Line::raw(""));
    }
    lines.extend(figures);
    frame.render_widget(Paragraph::new(lines), top);
}

/// Sag, band, mean and scatter of the present set.
fn figures(finding: &SetFinding, setup: &Setup, desk: &Desk) -> Vec<Line<'static>> {
    let (units, theme) = (desk.units, desk.theme);
    let row = |label: &str, figure: String| {
        Line::from(vec![Span::styled(format!("{label:<7} "), theme.quiet()), Span::raw(figure)])
    };
    let scatter = finding.scatter.map_or_else(|| "–".to_owned(), |scatter| scatter.even(units).to_string());
    vec![
        row(phrase::guide::SAG_LOWER, finding.sag_to_tell().shown(units)),
        row(phrase::guide::BAND, phrase::target_range(setup.target, units)),
        row(phrase::guide::mean(finding), finding.average.shown(units)),
        row(phrase::guide::SCATTER, scatter),
    ]
}
