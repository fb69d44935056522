//! The marked session beside a list of sessions: whose bike, the last sag set large, what is fitted, and the step it
//! stands at.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::archive::index::WorkSummary;
use crate::phrase::{self, places};
use crate::screen::model::Desk;
use crate::screen::part::{large_figure, set_table};
use crate::text::wrap::wrap;
use crate::units::Show;

/// Draws it, below what the list calls the session; of a record that could not be read only that.
pub fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    work: Option<&WorkSummary>,
    [name, state]: [String; 2],
    desk: &Desk,
) {
    let theme = desk.theme;
    let width = usize::from(area.width);
    let said = |text: &str, style| {
        wrap(text, width).into_iter().map(move |line| Line::styled(line, style)).collect::<Vec<_>>()
    };
    let mut lines = vec![Line::raw("")];
    lines.extend(said(&name, theme.title()));
    lines.extend(said(&state, theme.quiet()));
    lines.push(Line::raw(""));
    let above = u16::try_from(lines.len()).unwrap_or(u16::MAX);
    let Some(work) = work else {
        return frame.render_widget(Paragraph::new(lines), area);
    };
    let figure = work.sag.map_or(0, |_| large_figure::height(frame.area().height) + 2);
    let [top, sag, below] =
        Layout::vertical([Constraint::Length(above), Constraint::Length(figure), Constraint::Min(0)])
            .areas(area);
    frame.render_widget(Paragraph::new(lines), top);
    if let Some(share) = work.sag {
        let [label, figure] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(sag);
        let standing = work.standing.map(|standing| set_table::standing(standing, theme));
        let name = Span::styled(format!("{}  ", phrase::guide::SAG), theme.strong());
        frame.render_widget(std::iter::once(name).chain(standing).collect::<Line<'_>>(), label);
        let written = format!("{} %", share.written(desk.units).figure);
        large_figure::draw(frame, figure, &written, theme.strong(), theme);
    }
    let rows = rows(work, desk).into_iter().map(|(label, entered)| {
        let label = Span::styled(format!("{label:<20}"), theme.quiet());
        Line::from(vec![label, Span::raw(entered)])
    });
    frame.render_widget(Paragraph::new(rows.collect::<Vec<_>>()), below);
}

/// What is known of it, each with its name.
fn rows(work: &WorkSummary, desk: &Desk) -> Vec<(&'static str, String)> {
    let units = desk.units;
    let [target, fitted, swaps, step] = places::PREVIEW;
    [
        work.target.map(|share| (target, units.show(share))),
        work.fitted.map(|rate| (fitted, units.show(rate))),
        (work.swaps > 0).then(|| (swaps, work.swaps.to_string())),
        Some((step, phrase::step(work.step).title.clone())),
    ]
    .into_iter()
    .flatten()
    .collect()
}
