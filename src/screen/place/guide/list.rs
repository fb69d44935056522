//! The long lists of the main column: the tick list of a step, and the record of a closed session.

use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::body::{Room, wrapped};
use super::drawing::{Layouted, Scene};
use crate::phrase;
use crate::screen::click_targets::ViewSize;
use crate::screen::keys::{Action, Typing, binding};
use crate::screen::model::OpenSession;
use crate::screen::part::set_table;
use crate::session::state::CheckAnswer;
use crate::session::{Caution, Check, Deed, Entry, Spring, TickAnswer, machine};
use crate::text::wrap::wrap;
use crate::text::{FreeText, Shown};
use crate::units::UnitSet;

/// What is left of the list, done all at once: before each line the cautions that stand before it.
pub(super) fn all_done(session: &OpenSession) -> Vec<Deed> {
    let state = &session.state;
    let left = left_of(session);
    let cautions = state.cautions_now().into_iter().chain(left.iter().flat_map(|check| {
        state.step.cautions(Some(*check)).filter(|caution| !state.cautions.settled(*caution))
    }));
    let mut seen: Vec<Caution> = Vec::new();
    for caution in cautions {
        if !seen.contains(&caution) && (caution != Caution::SpringBinds || state.binding_is_open()) {
            seen.push(caution);
        }
    }
    let ticked = left.into_iter().map(|check| Deed::Ticked(check, TickAnswer::Done));
    seen.into_iter().map(Deed::CautionSeen).chain(ticked).collect()
}

/// The checks of the list that have no answer yet.
fn left_of(session: &OpenSession) -> Vec<Check> {
    let ticks = &session.state.ticks;
    let open = |check: &Check| !ticks.iter().any(|(ticked, _)| ticked == check);
    session.state.step.checks().iter().copied().filter(open).collect()
}

/// The question whether all that is left is done: what guards from harm by name, and the cautions not read yet in full
/// (below, in their frame).
pub(super) fn question(scene: Scene<'_>) -> (Vec<Line<'static>>, Vec<Caution>) {
    let (session, theme) = (scene.session, scene.desk.theme);
    let left = left_of(session);
    let (guards, others): (Vec<Check>, Vec<Check>) =
        left.into_iter().partition(|check| check.guards_from_harm());
    let mut lines = vec![Line::styled(phrase::guide::ALL_DONE, theme.strong())];
    lines.extend(guards.iter().map(|check| {
        Line::from(vec![Span::styled("! ", theme.alert()), Span::raw(phrase::check(*check).line.clone())])
    }));
    if !others.is_empty() {
        lines.push(Line::styled(format!("  {}", phrase::guide::and_others(others.len())), theme.quiet()));
    }
    lines.push(Line::styled(phrase::guide::ALL_DONE_KEYS, theme.strong()));
    let unread = all_done(session).into_iter().filter_map(|deed| match deed {
        Deed::CautionSeen(caution) => Some(caution),
        _ => None,
    });
    (lines, unread.collect())
}

/// A tick list in sight.
pub(super) struct Ticks {
    pub(super) lines: Vec<Line<'static>>,
    /// Which of them is due; none where it is out of sight.
    pub(super) due: Option<usize>,
}

/// The list with the line at hand opened up; where it is longer than the room, the lines round that one.
pub(super) fn ticks(scene: Scene<'_>, due: Check, room: Room) -> Ticks {
    let theme = scene.desk.theme;
    let mut lines = Vec::new();
    let mut here = 0;
    for check in scene.session.state.step.checks() {
        let words = phrase::check(*check);
        if *check == due {
            here = lines.len();
            lines.push(Line::from(vec![
                Span::styled("▶ ", theme.accent()),
                Span::styled(format!(" {} ", words.line), theme.marked()),
            ]));
            let detail = wrap(&words.detail, room.width.saturating_sub(3)).into_iter();
            lines.extend(detail.map(|line| Line::raw(format!("   {line}"))));
            lines.extend(beside(scene, *check).into_iter().flat_map(|words| {
                wrap(&words, room.width.saturating_sub(3))
                    .into_iter()
                    .map(|line| Line::styled(format!("   {line}"), theme.strong()))
                    .collect::<Vec<_>>()
            }));
            if due.may_be_absent() {
                let key = binding(Action::HasNone).shown(Typing::Nothing).unwrap_or_default();
                lines.push(Line::styled(format!("   {}", phrase::guide::may_be_absent(&key)), theme.quiet()));
            }
        } else {
            lines.push(answered(scene, *check, room));
        }
    }
    let first = (here + 5).saturating_sub(room.height).min(lines.len().saturating_sub(room.height));
    let lines = lines.into_iter().skip(first).take(room.height).collect();
    Ticks { lines, due: here.checked_sub(first).filter(|line| *line < room.height) }
}

/// What was written down that is wanted at this check: the adjusters as they were found, and what the spring asks of them.
fn beside(scene: Scene<'_>, check: Check) -> Vec<String> {
    let (state, units) = (&scene.session.state, scene.desk.units);
    if check != Check::AdjustersReset {
        return Vec::new();
    }
    let rebound = state.setup.iter().flat_map(|setup| phrase::around::rebound(setup, state, units));
    phrase::sheet::to_set_back(&state.found, units).into_iter().chain(rebound).collect()
}

fn answered(scene: Scene<'_>, check: Check, room: Room) -> Line<'static> {
    let theme = scene.desk.theme;
    let line = &phrase::check(check).line;
    let ticks = &scene.session.state.ticks;
    let answer = ticks.iter().find(|(ticked, _)| *ticked == check).map(|(_, how)| how);
    match answer {
        None => Line::styled(format!("○  {line}"), theme.quiet()),
        Some(CheckAnswer::How(TickAnswer::Done)) => {
            Line::from(vec![Span::styled("✓  ", theme.good()), Span::raw(line.clone())])
        }
        Some(CheckAnswer::How(TickAnswer::HasNone)) => {
            Line::raw(format!("–  {line}: {}", phrase::guide::HAS_NONE))
        }
        Some(CheckAnswer::Skipped(because)) => {
            let because = because.shown().fitted(room.width.saturating_sub(line.width() + 5));
            Line::raw(format!("×  {line}: {because}"))
        }
    }
}

/// The sets of a closed session and what was done in it, from the marked line on; and which part of it is in sight.
pub(super) fn summary(scene: Scene<'_>, room: Room) -> (Vec<Line<'static>>, ViewSize) {
    let (session, units, theme) = (scene.session, scene.desk.units, scene.desk.theme);
    let mut lines = Vec::new();
    if scene.layout != Layouted::Wide {
        lines.push(Line::styled(phrase::guide::SETS, theme.strong()));
        lines.extend(set_table::lines(session, room.width, 4, scene.desk));
    }
    if let Some(finding) = session.assessment.as_ref().and_then(|assessment| assessment.trail.as_ref()) {
        lines.extend(wrapped(&phrase::trail_finding(finding, units), room, theme.text()));
    }
    let state = &session.state;
    let rebound: Vec<String> =
        state.setup.iter().flat_map(|setup| phrase::around::rebound(setup, state, units)).collect();
    lines.extend(rebound.iter().flat_map(|words| wrapped(words, room, theme.text())));
    if !lines.is_empty() {
        lines.push(Line::raw(""));
    }
    lines.push(Line::styled(phrase::guide::HISTORY, theme.strong()));
    let visible = room.height.saturating_sub(lines.len());
    let deeds = machine::in_effect(&session.record);
    let mut before = None;
    let mut entered = |index: usize| {
        let entry = &session.record.entries[index];
        // Whose hand it was stands where it changes.
        let by = (before != Some(&entry.by) && !entry.by.is_empty()).then_some(&entry.by);
        before = Some(&entry.by);
        entered(entry, by, &session.state.entered.springs, room, units)
    };
    let history: Vec<Vec<Line<'static>>> = deeds.into_iter().map(&mut entered).collect();
    let last = last_start(&history, visible);
    let first = scene.guide.marked.unwrap_or(0).min(last);
    lines.extend(history.into_iter().skip(first).flatten().take(visible));
    (lines, ViewSize { first, height: visible, last })
}

/// One deed with its time, in as many lines as its words take.
fn entered(
    entry: &Entry,
    by: Option<&FreeText>,
    springs: &[Spring],
    room: Room,
    units: UnitSet,
) -> Vec<Line<'static>> {
    const TIME: usize = 7;
    let words = phrase::deed(&entry.deed, units, springs);
    let words = by.map_or_else(|| words.clone(), |by| format!("{words} ({})", phrase::review::by(by)));
    let safe = Shown::from(words.as_str());
    let heads = std::iter::once(entry.at.format("%H:%M").to_string()).chain(std::iter::repeat(String::new()));
    let lines = wrap(safe.as_str(), room.width.saturating_sub(TIME)).into_iter().zip(heads);
    lines.map(|(line, head)| Line::raw(format!("{head:<TIME$}{line}"))).collect()
}

/// The first deed from which all to the last are in sight.
fn last_start(history: &[Vec<Line<'_>>], visible: usize) -> usize {
    let heights = history.iter().rev().scan(0, |taken, deed| {
        *taken += deed.len();
        Some(*taken)
    });
    history.len() - heights.take_while(|taken| *taken <= visible).count()
}
