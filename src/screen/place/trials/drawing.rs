//! How quick trials are laid out: the sag and what to do above, a row a set below, then which of them wins, the readings of the
//! present set, where there is room the shock, and the line to type at the bottom.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::line::LineContext;
use super::round::RoundTheSets;
use super::{PendingSwap, TrialStage, Trials, line, sets, small, table, update};
use crate::assessment::Standing;
use crate::phrase;
use crate::screen::click_targets::{ClickTargets, ViewSize};
use crate::screen::is_full;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::shock_picture::{self, ShockPicture};
use crate::screen::part::{caution_box, field, hazard_box, large_figure, set_table};
use crate::session::{Caution, Setup, Step};
use crate::text::wrap::wrap;
use crate::units::{Length, Show, Turns};

/// Cells the large figure has at least.
const FIGURE: u16 = 22;
/// Cells of the widest line of text.
pub(super) const TEXT: usize = 72;
/// Cells of the field where a caution stands behind it.
const BESIDE: u16 = 32;

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
    let width = usize::from(area.width);
    let figure = 1 + large_figure::height(frame.area().height);
    let [band, rest] = Layout::vertical([Constraint::Length(figure), Constraint::Min(0)]).areas(area);
    let untold = draw_verdict(frame, band, session, desk);
    let round = RoundTheSets::of(trials, session, untold.as_deref(), rest, desk);
    let RoundTheSets { told, warnings, hints, picture, entry } = round;
    let [table, told_area, readings, worth_a_look, picture, entry] = Layout::vertical([
        Constraint::Min(0),
        Constraint::Length(lines_of(&told)),
        Constraint::Length(1),
        Constraint::Length(lines_of(&warnings)),
        Constraint::Length(picture),
        Constraint::Length(entry),
    ])
    .areas(rest);
    draw_table(frame, table, trials, session, desk, click_targets);
    frame.render_widget(Paragraph::new(told), told_area);
    frame.render_widget(small::present(session, width, desk), readings);
    frame.render_widget(Paragraph::new(warnings), worth_a_look);
    let picture =
        Rect { y: picture.y + picture.height.min(1), height: picture.height.saturating_sub(1), ..picture };
    draw_shock(frame, picture, trials, session, desk);
    draw_entry(frame, entry, trials, session, desk, hints);
}

fn lines_of(lines: &[Line<'_>]) -> u16 {
    u16::try_from(lines.len()).unwrap_or(u16::MAX)
}

/// The sets, or every trial where somebody went back through them.
fn draw_table(
    frame: &mut Frame<'_>,
    area: Rect,
    trials: &Trials,
    session: &OpenSession,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let in_sight = Rect { height: area.height.saturating_sub(1), ..area };
    click_targets.window(ViewSize::of(0, in_sight, table::lines_of(session)));
    let room = usize::from(area.height);
    let lines = match trials.below {
        0 => sets::lines(session, usize::from(area.width), room, desk),
        below => table::lines(session, room, below, desk.units, desk.theme),
    };
    frame.render_widget(Paragraph::new(lines), area);
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
    let moved =
        line::typed_reading(trials.field.text(), hand(setup, session, desk), desk.units).or_else(last);
    if let Some(shown) = ShockPicture::of(session, moved.unwrap_or(Length::ZERO)) {
        shock_picture::draw(frame, area, shown, desk.units, desk.theme);
    }
}

/// The springs the line may mean.
pub(super) fn hand<'a>(setup: &'a Setup, session: &'a OpenSession, desk: &'a Desk) -> LineContext<'a> {
    let counting = session.state.sets.iter().rev().find_map(|set| set.counting().last());
    LineContext { setup, shop: desk.shelf.rack.kinds(), last: counting.map(|reading| reading.number) }
}

/// Rule, field, how the line is understood, and what it takes; where there is room for two lines only, field and how it is
/// understood, and the caution of what is typed behind the field.
fn draw_entry(
    frame: &mut Frame<'_>,
    area: Rect,
    trials: &Trials,
    session: &OpenSession,
    desk: &Desk,
    hints: Vec<Line<'static>>,
) {
    let Some(setup) = &session.state.setup else { return };
    let ruled = area.height.saturating_sub(2).min(1);
    let [rule, typed, takes] =
        Layout::vertical([Constraint::Length(ruled), Constraint::Length(2), Constraint::Min(0)]).areas(area);
    let line = Line::styled("─".repeat(usize::from(area.width)), desk.theme.quiet());
    frame.render_widget(Paragraph::new(line), rule);
    let hand = hand(setup, session, desk);
    let understood = line::understood(trials.field.text(), hand, desk.units).unwrap_or_default();
    let behind = Rect { x: typed.x + BESIDE, width: typed.width.saturating_sub(BESIDE), height: 1, ..typed };
    let beside = ruled == 0 && line::caution(trials.field.text(), hand, desk.units).is_some();
    let field = if beside { Rect { width: BESIDE, ..typed } } else { typed };
    draw_field(frame, field, trials, understood, desk);
    let takes = if beside { behind } else { takes };
    frame.render_widget(Paragraph::new(hints), takes);
}

/// The sag set large and what to do beside it; gives back the reason where it finds no room.
fn draw_verdict(frame: &mut Frame<'_>, area: Rect, session: &OpenSession, desk: &Desk) -> Option<String> {
    let (setup, assessment) = (session.state.setup.as_ref()?, session.assessment.as_ref()?);
    let theme = desk.theme;
    let column = FIGURE.max(large_figure::cells_for("30.5", frame.area().height) + 1);
    let [left, right] = Layout::horizontal([Constraint::Length(column), Constraint::Min(0)]).areas(area);
    if let Some(present) = session.present_finding().and_then(|_| assessment.present()) {
        let standing = Standing::of(present.sag.value, setup);
        let [label, figure] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(left);
        frame.render_widget(set_table::standing_now(standing, session, theme), label);
        let sag = format!("{} %", present.sag.value.written(desk.units).figure);
        large_figure::draw(frame, figure, &sag, set_table::ink(standing, theme), theme);
    }
    let width = usize::from(right.width).min(TEXT);
    let words = phrase::advice(assessment, setup, desk.units);
    let mut lines: Vec<Line<'_>> =
        wrap(&words.headline, width).into_iter().map(|line| Line::styled(line, theme.strong())).collect();
    let mut entered = |text: &str| {
        let entered = wrap(text, width);
        let fits = lines.len() + entered.len() <= usize::from(right.height);
        lines.extend(entered.into_iter().filter(|_| fits).map(Line::raw));
        fits
    };
    // A reason is told whole or not at all, half of one would mislead; a spring that can be had comes before it.
    if let Some(shop_alternatives) = &session.shop_alternatives
        && !entered(&phrase::shop_alternatives::shop_alternatives(shop_alternatives, setup, desk.units))
    {
        entered(&phrase::shop_alternatives::in_short(shop_alternatives, desk.units));
    }
    let untold = if entered(&words.reason) { None } else { Some(words.reason) };
    frame.render_widget(Paragraph::new(lines), right);
    untold
}
