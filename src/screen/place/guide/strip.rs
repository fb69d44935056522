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

/// The lines of the strip there is room for: the reason goes first, whole, then the rule above; none while there is nothing to
/// show or something else needs the room.
pub(super) fn lines(scene: Scene<'_>, width: u16, room: usize) -> Vec<Line<'static>> {
    let state = &scene.session.state;
    let (Some(setup), Some(set)) = (&state.setup, state.present_set()) else { return Vec::new() };
    if scene.task == Task::Look || matches!(scene.task, Task::Trail) {
        return Vec::new();
    }
    let width = usize::from(width);
    let finding = scene.session.present_finding();
    let reading = matches!(state.step, Step::SeatIndicator | Step::SeatedReading);
    let measuring = reading || matches!(state.step, Step::Decision | Step::SetPreload);
    let mut lines = Vec::new();
    if measuring && !set.readings.is_empty() {
        lines.push(readings(set, finding, scene, width));
    }
    lines.extend(finding.map(|finding| sag(finding, setup, scene)));
    let [headline, reason] = if reading { verdict(scene, setup, width) } else { Default::default() };
    lines.extend(headline);
    let ruled = if lines.len() + reason.len() < room {
        lines.extend(reason);
        true
    } else {
        lines.len() < room
    };
    lines.truncate(room);
    if ruled && !lines.is_empty() {
        lines.insert(0, Line::styled("─".repeat(width), scene.desk.theme.quiet()));
    }
    lines
}

/// The readings that fit the line, void ones struck out, and their mean.
fn readings(set: &ReadingSet, finding: Option<&SetFinding>, scene: Scene<'_>, width: usize) -> Line<'static> {
    let (units, theme) = (scene.desk.units, scene.desk.theme);
    let mean = finding.map(|set| format!("  {} {}", phrase::guide::mean(set), set.average.shown(units)));
    let mean = mean.unwrap_or_default();
    let label = format!("{}  ", phrase::guide::READINGS);
    let room = width.saturating_sub(label.width() + mean.width());
    let all = set.readings.iter().map(|reading| {
        let figure = reading.distance.ruled(units).figure;
        match reading.void {
            Some(_) => StripReading { text: format!("({figure})"), counts: ReadingState::Not },
            None => StripReading { text: figure, counts: ReadingState::Fully },
        }
    });
    let (left_out, shown) = fitted(all.collect(), room);
    let mut spans = vec![Span::styled(label, theme.quiet()), Span::styled(left_out, theme.quiet())];
    for (place, figure) in shown.into_iter().enumerate() {
        let style = if figure.counts == ReadingState::Not { theme.void() } else { theme.strong() };
        spans.push(Span::raw(if place == 0 { "" } else { BETWEEN }));
        spans.push(Span::styled(figure.text, style));
    }
    spans.push(Span::raw(mean));
    Line::from(spans)
}

/// Between two readings.
const BETWEEN: &str = "  ";

/// A reading as it is written.
struct StripReading {
    text: String,
    counts: ReadingState,
}

/// Whether a reading counts, or is void.
#[derive(Clone, Copy, PartialEq, Eq)]
enum ReadingState {
    Fully,
    Not,
}

/// The readings there is room for, and before them how many are left out: void ones first, then the oldest.
fn fitted(mut figures: Vec<StripReading>, room: usize) -> (String, Vec<StripReading>) {
    let all = figures.len();
    loop {
        let left_out = phrase::guide::readings_left_out(all - figures.len());
        let gaps = figures.len().saturating_sub(1) * BETWEEN.len();
        let taken: usize = figures.iter().map(|figure| figure.text.width()).sum();
        if left_out.width() + taken + gaps <= room || figures.is_empty() {
            return (left_out, figures);
        }
        figures.remove(figures.iter().position(|figure| figure.counts == ReadingState::Not).unwrap_or(0));
    }
}

/// Sag with its uncertainty, where it lies, and the band.
fn sag(finding: &SetFinding, setup: &Setup, scene: Scene<'_>) -> Line<'static> {
    let (units, theme) = (scene.desk.units, scene.desk.theme);
    let beside = phrase::guide::standing_beside(finding.sag.value, finding.standing, setup.target, units);
    Line::from(vec![
        Span::styled(format!("{:<10}", phrase::guide::THIS_SET), theme.quiet()),
        Span::styled(format!("{}  ", finding.sag_to_tell().shown(units)), theme.strong()),
        Span::styled(
            format!("{} {beside}", set_table::mark(finding.standing)),
            set_table::ink(finding.standing, theme),
        ),
    ])
}

/// The advice in so many lines, while readings are taken: the strip of a small window.
pub(super) fn headline(scene: Scene<'_>, width: usize, room: usize) -> Vec<Line<'static>> {
    let measuring = matches!(scene.session.state.step, Step::SeatIndicator | Step::SeatedReading);
    let setup =
        scene.session.state.setup.as_ref().filter(|_| measuring && scene.session.present_finding().is_some());
    let Some((assessment, setup)) = scene.session.assessment.as_ref().zip(setup) else { return Vec::new() };
    let words = wrap(&phrase::advice(assessment, setup, scene.desk.units).headline, width);
    if words.len() > room {
        return Vec::new();
    }
    words.into_iter().map(|line| Line::styled(line, scene.desk.theme.strong())).collect()
}

/// Headline and reason of the advice.
fn verdict(scene: Scene<'_>, setup: &Setup, width: usize) -> [Vec<Line<'static>>; 2] {
    let Some(assessment) = &scene.session.assessment else { return Default::default() };
    let words = phrase::advice(assessment, setup, scene.desk.units);
    let reason = wrap(&words.reason, width.min(super::body::TEXT)).into_iter().map(Line::raw);
    [vec![Line::styled(words.headline, scene.desk.theme.strong())], reason.collect()]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is shown of these readings in that room; void ones are in brackets.
    fn shown(readings: &str, room: usize) -> String {
        let figure = |text: &str| StripReading {
            text: text.to_owned(),
            counts: if text.starts_with('(') { ReadingState::Not } else { ReadingState::Fully },
        };
        let (left_out, figures) = fitted(readings.split(' ').map(figure).collect(), room);
        let texts: Vec<String> = figures.into_iter().map(|figure| figure.text).collect();
        left_out + &texts.join(BETWEEN)
    }

    #[test]
    fn a_void_reading_goes_before_a_good_one_and_then_the_oldest() {
        let readings = "21.0 (26.0) 20.5 21.5";
        assert_eq!(shown(readings, 24), "21.0  (26.0)  20.5  21.5");
        assert_eq!(shown(readings, 23), "+1… 21.0  20.5  21.5");
        assert_eq!(shown(readings, 16), "+2… 20.5  21.5");
        assert_eq!(shown("21.0 (26.0) 20.5 (9.0) 21.5", 24), "+2… 21.0  20.5  21.5");
        assert_eq!(shown("20.0 20.5 21.0 21.5", 18), "+2… 21.0  21.5");
        assert_eq!(shown(readings, 3), "+4… ");
    }
}
