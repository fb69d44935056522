//! The main column: what the step is, what to do now, and what to enter for it.

use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::drawing::{Layouted, Scene};
use super::trail::{self, NOTE_ROW};
use super::{Task, choice, choice_rows, entry, list};
use crate::phrase;
use crate::screen::click_targets::ViewSize;
use crate::screen::part::sag_columns::SagColumns;
use crate::screen::part::spring_ladder::{self, Ladder, LadderSprings};
use crate::screen::part::{caution_box, condition_line};
use crate::session::{Caution, Hazard, Reading, ReadingSet, Step};
use crate::text::Shown;
use crate::text::wrap::wrap;

/// The main column, ready to be drawn.
pub(super) struct Body {
    /// Its lines from the top.
    pub(super) lines: Vec<Line<'static>>,
    /// Cautions in a frame below the lines.
    pub(super) cautions: Vec<Caution>,
    /// The line of the entry field, and the cells left of it.
    pub(super) field: Option<(usize, u16)>,
    /// Lines that can be clicked, each with its place in a list.
    pub(super) places: Vec<(usize, usize)>,
    /// The marked place.
    pub(super) marked: usize,
    /// What of a long list is in sight.
    pub(super) window: Option<ViewSize>,
}

/// Cells of the widest line of text: longer ones are lost on the way back.
pub(super) const TEXT: usize = 72;

/// Room to write in.
#[derive(Clone, Copy)]
pub(super) struct Room {
    pub(super) width: usize,
    pub(super) height: usize,
}

/// The main column for an area of that size: where it would be too long, without what the step is for.
pub(super) fn body(scene: Scene<'_>, area: Rect) -> Body {
    let body = in_full(scene, area);
    if body.height(area.width) <= area.height || scene.layout == Layouted::Small {
        return body;
    }
    in_full(Scene { layout: Layouted::Small, ..scene }, area)
}

fn in_full(scene: Scene<'_>, area: Rect) -> Body {
    let room = Room { width: usize::from(area.width), height: usize::from(area.height) };
    let (lines, places) = (heading(scene, room), Vec::new());
    let mut body = Body { lines, cautions: Vec::new(), field: None, places, marked: 0, window: None };
    match scene.task {
        // The stroke is asked for over the whole width (`drawing`).
        Task::Acknowledge(_) | Task::Stroke => body.cautions = scene.session.state.cautions_now(),
        Task::AllDone => {
            let (lines, cautions) = list::question(scene);
            body.lines.extend(lines);
            body.cautions = cautions;
        }
        Task::Tick(check) => {
            let left = Room { height: room.height.saturating_sub(body.lines.len()), ..room };
            let ticks = list::ticks(scene, check, left);
            // Only the line that is due can be answered.
            body.places.extend(ticks.due.map(|due| (body.lines.len() + due, 0)));
            body.lines.extend(ticks.lines);
        }
        Task::Seat => body.lines.extend(prompt(scene, room)),
        Task::Collar(_) | Task::Read => {
            body.lines.extend(prompt(scene, room));
            body.enter(scene);
        }
        Task::Choose => {
            body.lines.extend(advice(scene, room));
            let clear = body.lines.len() >= usize::from(scene.figure);
            let width = if clear { scene.width.max(room.width) } else { room.width };
            body.list(choice_rows::rows(scene, width), 0, scene.guide.marked_choice(scene.session));
        }
        Task::Trail => trail(&mut body, scene, room),
        Task::Look => {
            let left = Room { height: room.height.saturating_sub(body.lines.len()), ..room };
            let (lines, window) = list::summary(scene, left);
            body.lines.extend(lines);
            body.window = Some(window);
        }
        Task::VoidWhich => {
            body.lines
                .extend([Line::styled(phrase::guide::VOID_WHICH, scene.desk.theme.strong()), Line::raw("")]);
            readings(&mut body, scene, room);
        }
        Task::Springs => {
            let left = Room { height: room.height.saturating_sub(body.lines.len()), ..room };
            let marked = scene.guide.marked_line_of_springs(scene.session);
            if let Some(ladder) = ladder(scene, Some(marked), phrase::guide::WHICH_SPRING, left) {
                body.lines.push(ladder.heading);
                body.list(ladder.rungs, ladder.first, marked);
                body.lines.push(ladder.legend);
            }
        }
        Task::Note | Task::Skip | Task::VoidWhy(_) | Task::Joins | Task::Turns | Task::Condition => {
            body.lines.extend(wrapped(&aside_prompt(scene), room, scene.desk.theme.text()));
            body.enter(scene);
        }
    }
    body
}

impl Body {
    /// Lines it takes at that width.
    pub(super) fn height(&self, width: u16) -> u16 {
        let boxed = if self.cautions.is_empty() { 0 } else { caution_box::height(width, &self.cautions) };
        u16::try_from(self.lines.len()).unwrap_or(u16::MAX).saturating_add(boxed)
    }

    /// Lines out of sight above, where so many are in sight: the field with how it is understood, or the marked line, are.
    pub(super) fn unseen(&self, height: usize) -> usize {
        let marked = self.places.iter().find(|(_, place)| *place == self.marked).map(|(line, _)| line + 1);
        let last = self.field.map(|(line, _)| line + 2).or(marked).unwrap_or(0);
        last.saturating_sub(height)
    }

    /// Lines of a list, from a place of it on.
    fn list(&mut self, lines: Vec<Line<'static>>, first: usize, marked: usize) {
        self.places.extend((self.lines.len()..).zip(first..first + lines.len()));
        self.lines.extend(lines);
        self.marked = marked;
    }

    /// An entry field, and below it how its text is understood.
    fn enter(&mut self, scene: Scene<'_>) {
        let theme = scene.desk.theme;
        if scene.layout != Layouted::Small {
            self.lines.push(Line::raw(""));
        }
        self.field = Some((self.lines.len(), 2));
        self.lines.push(Line::styled("▸", theme.accent()));
        let understood = entry::understood(scene.guide, scene.session, scene.task, scene.desk);
        self.lines.push(Line::styled(format!("  {}", understood.unwrap_or_default()), theme.strong()));
    }
}

/// A text in lines.
pub(super) fn wrapped(text: &str, room: Room, style: Style) -> Vec<Line<'static>> {
    wrap(text, room.width.min(TEXT)).into_iter().map(|line| Line::styled(line, style)).collect()
}

/// Title with the progress of the step to its right, what to do, and an empty line.
fn heading(scene: Scene<'_>, room: Room) -> Vec<Line<'static>> {
    let theme = scene.desk.theme;
    let words = phrase::step(scene.session.state.step);
    let progress = progress(scene).unwrap_or_default();
    let words_title =
        Shown::from(words.title.as_str()).fitted(room.width.saturating_sub(progress.width() + 1));
    let gap = room.width.saturating_sub(words_title.width() + progress.width());
    let title = Line::from(vec![
        Span::styled(words_title, theme.title()),
        Span::raw(" ".repeat(gap)),
        Span::styled(progress, theme.text()),
    ]);
    let mut lines = vec![title];
    if scene.layout == Layouted::Small {
        return lines;
    }
    let said_below = scene.task.is_aside() || (scene.task == Task::Choose && advised_here(scene));
    if !said_below {
        let how = scene.session.state.how;
        let instruction =
            phrase::guide::instruction(scene.session.state.step, how).unwrap_or(&words.instruction);
        lines.extend(wrapped(instruction, room, theme.text()));
    }
    let in_place = in_place(scene, room);
    // The headline of the advice stands by itself; its room goes to the ladder.
    if !said_below || !in_place.is_empty() || scene.task.is_aside() {
        lines.extend(in_place);
        lines.push(Line::raw(""));
    }
    lines
}

/// The cautions of the step that were read before, a line for all, and hazards of the spring on the bike for as long as
/// there are any.
fn in_place(scene: Scene<'_>, room: Room) -> Vec<Line<'static>> {
    let state = &scene.session.state;
    if matches!(scene.task, Task::Acknowledge(_) | Task::Stroke | Task::Look) || scene.task.is_aside() {
        return Vec::new();
    }
    let grave = state.hazards().into_iter().filter(|hazard| hazard.forbids_riding());
    let read = state.cautions_here().filter(|caution| state.cautions.settled(*caution));
    let all = grave.map(Hazard::caution).chain(read);
    let mut lines: Vec<String> = Vec::new();
    for caution in all {
        let words = format!("! {}", phrase::caution(caution).headline);
        match lines.last_mut() {
            Some(line) if line.width() + 2 + words.width() <= room.width => {
                line.push_str("  ");
                line.push_str(&words);
            }
            _ => lines.push(words),
        }
    }
    lines.into_iter().map(|line| Line::styled(line, scene.desk.theme.alert())).collect()
}

/// Whether the step says what is advised instead of what it is for.
fn advised_here(scene: Scene<'_>) -> bool {
    scene.session.state.step == Step::Decision
}

/// Which reading of how many, which line of the list, or which spring goes on.
fn progress(scene: Scene<'_>) -> Option<String> {
    let state = &scene.session.state;
    match scene.task {
        Task::Seat | Task::Read => state
            .present_set()
            .map(|set| phrase::condition::behind(phrase::guide::readings_progress(set), state.condition())),
        Task::Tick(_) | Task::Acknowledge(_) if state.step == Step::Swap => planned(scene),
        Task::Tick(_) => Some(phrase::guide::list_progress(state.ticks.len(), state.step.checks().len())),
        Task::Collar(_) | Task::Choose => state
            .on_bike
            .fitted
            .map(|number| phrase::spring(number, &state.entered.springs, scene.desk.units))
            .map(|spring| phrase::condition::behind(spring, state.condition())),
        _ => None,
    }
}

fn planned(scene: Scene<'_>) -> Option<String> {
    let state = &scene.session.state;
    let crate::session::Plan::Spring(number) = state.plan else { return None };
    Some(phrase::guide::going_on(&phrase::spring(number, &state.entered.springs, scene.desk.units)))
}

/// What to type or press now.
fn prompt(scene: Scene<'_>, room: Room) -> Vec<Line<'static>> {
    let text = phrase::awaiting(scene.session.state.awaiting(), scene.desk.units);
    wrapped(&text, room, scene.desk.theme.strong())
}

fn aside_prompt(scene: Scene<'_>) -> String {
    match scene.task {
        Task::Condition => phrase::condition::question(scene.session.state.condition(), scene.desk.units),
        Task::Note => phrase::guide::NOTE.to_owned(),
        Task::Skip => phrase::guide::SKIP.to_owned(),
        Task::Joins => phrase::shop_alternatives::WHICH_JOINS.to_owned(),
        Task::VoidWhy(number) => phrase::guide::void_why(number.0),
        _ => phrase::guide::WHICH_TURNS.to_owned(),
    }
}

/// The advice.
fn advice(scene: Scene<'_>, room: Room) -> Vec<Line<'static>> {
    let (session, units, theme) = (scene.session, scene.desk.units, scene.desk.theme);
    let mut lines = Vec::new();
    if let (Some(assessment), Some(setup)) = (&session.assessment, &session.state.setup) {
        if session.state.step == Step::Decision {
            let advice = phrase::advice(assessment, setup, units);
            let shop_alternatives = session.shop_alternatives.as_ref();
            let shops = choice::offered(session);
            let [headline, reason] = phrase::shop_alternatives::verdict(
                advice,
                assessment,
                shop_alternatives,
                shops,
                setup,
                units,
            );
            lines.extend(wrapped(&headline, room, theme.strong()));
            let judged = session.state.condition().map(phrase::condition::judged);
            lines.extend(judged.iter().flat_map(|words| wrapped(words, room, theme.strong())));
            let reason = wrapped(&reason, room, theme.text());
            let taken = 1 + lines.len() + reason.len() + choice::choices(session).len();
            if scene.layout != Layouted::Small || taken <= room.height {
                lines.extend(reason);
                let beside = condition_line::difference(session, scene.desk);
                lines.extend(beside.iter().flat_map(|words| wrapped(words, room, theme.strong())));
            }
        } else if session.state.step == Step::KerbDrop {
            lines.extend(kerb(scene, room));
        } else if let Some(finding) = &assessment.trail {
            lines.extend(wrapped(&phrase::trail_finding(finding, units), room, theme.strong()));
            let remedy = assessment.remedy.map(|(bothers, first)| phrase::ride::first_remedy(bothers, first));
            lines.extend(remedy.iter().flat_map(|words| wrapped(words, room, theme.text())));
        }
        if scene.layout != Layouted::Small {
            lines.push(Line::raw(""));
        }
    }
    lines
}

/// What the last roll off the kerb asks of the knob.
fn kerb(scene: Scene<'_>, room: Room) -> Vec<Line<'static>> {
    let finding = scene.session.assessment.as_ref().and_then(|assessment| assessment.kerb);
    let words = finding.and_then(phrase::kerb::next);
    words.map_or_else(Vec::new, |words| wrapped(&words, room, scene.desk.theme.strong()))
}

/// Three rows of answers and a remark.
fn trail(body: &mut Body, scene: Scene<'_>, room: Room) {
    let theme = scene.desk.theme;
    let focus = scene.guide.trail_row();
    for (row, label) in phrase::guide::TRAIL.into_iter().enumerate() {
        let (mark, style) = if row == focus { ("▸ ", theme.strong()) } else { ("  ", theme.text()) };
        body.lines.push(Line::from(vec![Span::styled(mark, theme.accent()), Span::styled(label, style)]));
        if row < NOTE_ROW {
            body.lines.push(answers(scene, row));
        } else if focus == NOTE_ROW {
            body.field = Some((body.lines.len(), 4));
        } else {
            let typed = Shown::from(scene.guide.field.text());
            let lines = wrap(typed.as_str(), room.width.saturating_sub(4)).into_iter();
            body.lines.extend(lines.map(|line| Line::raw(format!("    {line}"))));
        }
    }
    if focus == NOTE_ROW {
        body.lines.push(Line::raw(""));
    }
    body.lines.extend(wrapped(phrase::guide::TRAIL_KEYS, room, theme.quiet()));
}

fn answers(scene: Scene<'_>, row: usize) -> Line<'static> {
    let theme = scene.desk.theme;
    let taken = scene.guide.answers.of(row);
    let mut spans = vec![Span::raw("  ")];
    for (index, answer) in trail::offered(row).into_iter().enumerate() {
        let (mark, style) =
            if taken == Some(index) { ("●", theme.marked()) } else { ("○", theme.text()) };
        spans.push(Span::styled(format!(" {mark} {answer} "), style));
    }
    Line::from(spans)
}

/// The readings that count, to choose one from.
fn readings(body: &mut Body, scene: Scene<'_>, room: Room) {
    let theme = scene.desk.theme;
    let marked = scene.guide.marked_line_of_readings(scene.session);
    let sets = scene.session.state.sets.iter();
    let counting = sets.flat_map(|set| set.counting().map(move |reading| (set, reading)));
    let visible = room.height.saturating_sub(6).max(1);
    let first = marked.saturating_sub(visible.saturating_sub(1));
    let line = |(index, (set, reading)): (usize, (&ReadingSet, &Reading))| {
        let (mark, style) = if index == marked { ("▸", theme.marked()) } else { (" ", theme.text()) };
        let spring = phrase::spring(set.spring, &scene.session.state.entered.springs, scene.desk.units);
        let moved = reading.distance.ruled(scene.desk.units).to_string();
        let text = format!(" {:>2}   {moved:>8}   {spring} ", reading.number.0);
        Line::from(vec![Span::styled(mark, theme.accent()), Span::styled(text, style)])
    };
    body.list(counting.enumerate().skip(first).take(visible).map(line).collect(), first, marked);
}

/// The rack as a ladder, one rung under the choosing mark where a spring is to be chosen.
pub(super) fn ladder(scene: Scene<'_>, marked: Option<usize>, title: &str, room: Room) -> Option<Ladder> {
    let (session, units, theme) = (scene.session, scene.desk.units, scene.desk.theme);
    let (rack, columns) = (LadderSprings::of(session, marked)?, SagColumns::of(session, room.width, units)?);
    Some(spring_ladder::ladder(rack, columns, title, room.height.saturating_sub(1), units, theme))
}
