//! The strip below the step: the readings of the present set, their mean, the sag beside the band, and the verdict.

use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::Task;
use super::drawing::Scene;
use crate::assessment::SetFinding;
use crate::phrase;
use crate::screen::part::set_table;
use crate::session::{ReadingSet, Setup, Step};
use crate::text::wrap::wrap;
use crate::units::Show;

/// The lines of the strip; none while there is nothing to show or something else needs the room.
pub(super) fn lines(scene: Scene<'_>, width: u16) -> Vec<Line<'static>> {
    let state = &scene.session.state;
    let (Some(setup), Some(set)) = (&state.setup, state.present_set()) else { return Vec::new() };
    if scene.task == Task::Look || matches!(scene.task, Task::Trail) {
        return Vec::new();
    }
    let theme = scene.desk.theme;
    let width = usize::from(width);
    let finding = scene.session.present_finding();
    let measuring =
        matches!(state.step, Step::SeatIndicator | Step::SeatedReading | Step::Verdict | Step::Trim);
    let mut lines = Vec::new();
    if measuring && !set.readings.is_empty() {
        lines.push(readings(set, finding, scene, width));
    }
    lines.extend(finding.map(|finding| sag(finding, setup, scene)));
    if matches!(state.step, Step::SeatIndicator | Step::SeatedReading) {
        lines.extend(verdict(scene, setup, width));
    }
    if !lines.is_empty() {
        lines.insert(0, Line::styled("─".repeat(width), theme.quiet()));
    }
    lines
}

/// The last readings that fit the line, void ones struck out, and their mean.
fn readings(set: &ReadingSet, finding: Option<&SetFinding>, scene: Scene<'_>, width: usize) -> Line<'static> {
    let (units, theme) = (scene.desk.units, scene.desk.theme);
    let mean = finding.map(|set| format!("  {} {}", phrase::guide::mean(set), set.moved.shown(units)));
    let mean = mean.unwrap_or_default();
    let label = format!("{}  ", phrase::guide::READINGS);
    let room = width.saturating_sub(label.width() + mean.width() + 2);
    let figure = |moved: crate::units::Length| moved.even(units).figure;
    let mut shown: Vec<Span<'static>> = Vec::new();
    let mut used = 0;
    for reading in set.readings.iter().rev() {
        let text = match reading.void {
            Some(_) => format!("({})", figure(reading.moved)),
            None => figure(reading.moved),
        };
        used += text.width() + 2;
        if used > room {
            shown.push(Span::styled(" …", theme.quiet()));
            break;
        }
        let style = if reading.void.is_some() { theme.void() } else { theme.strong() };
        shown.push(Span::raw("  "));
        shown.push(Span::styled(text, style));
    }
    shown.reverse();
    let head = std::iter::once(Span::styled(label, theme.quiet()));
    let mean = Span::raw(mean);
    head.chain(shown).chain([mean]).collect()
}

/// Sag with its uncertainty, where it lies, and the band.
fn sag(finding: &SetFinding, setup: &Setup, scene: Scene<'_>) -> Line<'static> {
    let (units, theme) = (scene.desk.units, scene.desk.theme);
    let beside = phrase::guide::standing_beside(finding.standing, setup.aim, units);
    Line::from(vec![
        Span::styled(format!("{:<10}", phrase::guide::THIS_SET), theme.quiet()),
        Span::styled(format!("{}  ", finding.sag.shown(units)), theme.strong()),
        Span::styled(
            format!("{} {beside}", set_table::mark(finding.standing)),
            set_table::ink(finding.standing, theme),
        ),
    ])
}

/// Headline and reason of the advice.
fn verdict(scene: Scene<'_>, setup: &Setup, width: usize) -> Vec<Line<'static>> {
    let Some(assessment) = &scene.session.assessment else { return Vec::new() };
    let words = phrase::advice(assessment, setup, scene.desk.units);
    let reason = wrap(&words.reason, width).into_iter().map(Line::raw);
    std::iter::once(Line::styled(words.headline, scene.desk.theme.strong())).chain(reason).collect()
}
