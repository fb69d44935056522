//! Quick trials in a small window: the sag, the advice, the readings of the present set, what deserves a look, and the line.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use super::Trials;
use super::drawing::{self, hand};
use super::line;
use crate::phrase;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::{large_figure, set_table, shock_picture, warnings};
use crate::text::Shown;
use crate::text::wrap::wrap;
use crate::units::{Show, Turns};

/// The most lines of advice, and of warnings.
const MOST: usize = 2;

/// Draws it.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, trials: &Trials, session: &OpenSession, desk: &Desk) {
    let (Some(setup), Some(assessment)) = (&session.state.setup, &session.assessment) else { return };
    let width = usize::from(area.width);
    let advice = wrap(&phrase::advice(assessment, setup, desk.units).headline, width);
    let advice: Vec<Line<'_>> =
        advice.into_iter().take(MOST).map(|line| Line::styled(line, desk.theme.strong())).collect();
    let warnings = warnings::lines(session, desk, width, MOST);
    let below = lines_of(&advice) + lines_of(&warnings) + 1 + 2;
    let figure = match area.height.saturating_sub(below) {
        left if left > large_figure::LOW => 1 + large_figure::LOW,
        left => left.min(1),
    };
    let spare = area.height.saturating_sub(below + figure);
    let picture = if spare > shock_picture::HEIGHT { shock_picture::HEIGHT + 1 } else { 0 };
    let [top, advised, readings, shock, worth_a_look, entry] = Layout::vertical([
        Constraint::Length(figure),
        Constraint::Length(lines_of(&advice)),
        Constraint::Length(1),
        Constraint::Min(picture),
        Constraint::Length(lines_of(&warnings)),
        Constraint::Length(2),
    ])
    .areas(area);
    draw_sag(frame, top, session, desk);
    frame.render_widget(Paragraph::new(advice), advised);
    frame.render_widget(present(session, width, desk), readings);
    drawing::draw_shock(frame, shock, trials, session, desk);
    frame.render_widget(Paragraph::new(warnings), worth_a_look);
    let understood =
        line::understood(trials.field.text(), hand(setup, session, desk), desk.units).unwrap_or_default();
    drawing::draw_field(frame, entry, trials, understood, desk);
}

fn lines_of(lines: &[Line<'_>]) -> u16 {
    u16::try_from(lines.len()).unwrap_or(u16::MAX)
}

/// The sag of the present set and where it lies, large where there is room.
fn draw_sag(frame: &mut Frame<'_>, area: Rect, session: &OpenSession, desk: &Desk) {
    let Some(finding) = session.present_finding() else { return };
    let theme = desk.theme;
    let sag = format!("{} %", finding.sag.value.written(desk.units).figure);
    let standing = set_table::standing(finding.standing, theme);
    if area.height <= large_figure::LOW {
        let line = Line::from(vec![Span::styled(format!("{sag}  "), theme.strong()), standing]);
        return frame.render_widget(line, area);
    }
    let [label, figure] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
    frame.render_widget(Line::from(standing), label);
    large_figure::draw(frame, figure, &sag, set_table::ink(finding.standing, theme), theme);
}

/// The spring on the bike, the last readings with it by their numbers, those that do not count in brackets, and their
/// average where there is room.
pub(super) fn present(session: &OpenSession, width: usize, desk: &Desk) -> Line<'static> {
    let Some(set) = session.state.present_set() else { return Line::raw("") };
    let theme = desk.theme;
    let mut name = phrase::spring(set.spring, &session.state.entered.springs, desk.units);
    if set.preload_turns != Turns::ZERO {
        name = format!("{name} +{}", desk.units.show(set.preload_turns));
    }
    let name = phrase::condition::behind(name, session.state.condition());
    let name = Shown::from(name.as_str()).to_string();
    let average = session
        .present_finding()
        .map(|finding| format!("  {} {}", phrase::guide::mean(finding), finding.average.shown(desk.units)));
    let average = average.filter(|average| width > 2 * (name.len() + average.len())).unwrap_or_default();
    let mut left = width.saturating_sub(name.width() + average.width());
    let mut shown: Vec<Span<'static>> = Vec::new();
    for reading in set.readings.iter().rev() {
        let figure = reading.distance.ruled(desk.units).figure;
        let (figure, style) = match reading.void {
            Some(_) => (format!("({figure})"), theme.void()),
            None => (figure, theme.strong()),
        };
        let number = format!("  #{} ", reading.number.0);
        let Some(room) = left.checked_sub(number.width() + figure.width()) else { break };
        left = room;
        shown.extend([Span::styled(figure, style), Span::styled(number, theme.quiet())]);
    }
    let name = Span::styled(name, theme.quiet());
    let average = Span::styled(average, theme.text());
    std::iter::once(name).chain(shown.into_iter().rev()).chain([average]).collect()
}
