//! How the sheet looks: a row each, the focused one opened up, what was found beside what is left, and what a row takes.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{SheetColumn, SheetForm, SheetRow};
use crate::phrase;
use crate::screen::click_targets::{ClickTargets, ListInSight};
use crate::screen::model::Desk;
use crate::screen::part::field;
use crate::text::Shown;
use crate::text::wrap::wrap;

/// Cells of the column of labels.
const LABELS: u16 = 23;
/// Cells of what is written.
const WRITTEN: u16 = 34;

/// Draws it: the rows round the focused one where there is no room for all.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    form: &SheetForm,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let width = usize::from(area.width);
    let hint = wrap(form.takes(form.focus), width.saturating_sub(2));
    let hint_lines = u16::try_from(hint.len()).unwrap_or(u16::MAX);
    let [head, list, _, below] = Layout::vertical([
        Constraint::Length(2),
        Constraint::Min(1),
        Constraint::Length(1),
        Constraint::Length(hint_lines),
    ])
    .areas(area);
    frame.render_widget(Paragraph::new(heading(form, desk)), head);
    let room = usize::from(list.height);
    let first = (form.focus + 1).saturating_sub(room.max(1));
    for (place, line) in (first..form.rows.len()).zip(list.rows()) {
        draw_row(frame, line, place, form, desk);
    }
    let count = room.min(form.rows.len() - first.min(form.rows.len()));
    click_targets.list(list, ListInSight { first, count, marked: None });
    let hint: Vec<Line<'_>> =
        hint.into_iter().map(|line| Line::styled(format!("  {line}"), desk.theme.quiet())).collect();
    frame.render_widget(Paragraph::new(hint), below);
}

fn heading(form: &SheetForm, desk: &Desk) -> Vec<Line<'static>> {
    let theme = desk.theme;
    let labels = usize::from(LABELS);
    let written = usize::from(WRITTEN);
    let heads = match form.column {
        SheetColumn::Found => vec![Span::styled(phrase::sheet::FOUND, theme.title())],
        SheetColumn::Left => vec![
            Span::styled(format!("{:<written$}", phrase::sheet::LEFT), theme.title()),
            Span::styled(phrase::sheet::FOUND, theme.quiet()),
        ],
    };
    let columns = std::iter::once(Span::raw(" ".repeat(labels))).chain(heads).collect::<Vec<_>>();
    vec![Line::styled(phrase::sheet::HOW, theme.quiet()), Line::from(columns)]
}

fn draw_row(frame: &mut Frame<'_>, area: Rect, place: usize, form: &SheetForm, desk: &Desk) {
    let theme = desk.theme;
    let focused = place == form.focus;
    let (mark, style) = if focused { ("▸ ", theme.strong()) } else { ("  ", theme.text()) };
    let labels = usize::from(LABELS) - 2;
    let label = format!("{:<labels$}", form.name(place));
    frame.render_widget(
        Line::from(vec![Span::styled(mark, theme.accent()), Span::styled(label, style)]),
        area,
    );
    let [_, entry, beside] =
        Layout::horizontal([Constraint::Length(LABELS), Constraint::Length(WRITTEN), Constraint::Min(0)])
            .areas(area);
    let (row, text) = &form.rows[place];
    match row {
        SheetRow::Bothers => {
            let name = form.bothers.map_or(phrase::ride::NOTHING_BOTHERS, phrase::ride::symptom);
            let name = if focused { format!("◂ {name} ▸") } else { name.to_owned() };
            frame.render_widget(Line::styled(name, style), entry);
        }
        _ if focused => field::draw(frame, entry, text, theme),
        _ => {
            let shown = Shown::from(text.text()).fitted(usize::from(entry.width.saturating_sub(1)));
            frame.render_widget(Line::styled(shown, style), entry);
        }
    }
    frame.render_widget(
        Line::styled(found_beside(*row, form, desk, usize::from(beside.width)), theme.quiet()),
        beside,
    );
}

/// What was found in the row, while the other column is written.
fn found_beside(row: SheetRow, form: &SheetForm, desk: &Desk, width: usize) -> String {
    let SheetRow::Of(item) = row else { return String::new() };
    let session = desk.session.as_ref().filter(|_| form.column == SheetColumn::Left);
    let found = session.and_then(|session| phrase::sheet::value(&session.state.found, item, desk.units));
    Shown::from(found.unwrap_or_default().as_str()).fitted(width)
}
