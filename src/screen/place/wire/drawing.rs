//! How the form of a spring from its wire looks: rows, the focused one opened up, and the result below.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{WireForm, WireResult, WireRow, sentence};
use crate::mechanics::wire::WireFigure;
use crate::phrase;
use crate::screen::click_targets::{ClickTargets, ListInSight};
use crate::screen::model::Desk;
use crate::screen::part::field;
use crate::text::Shown;
use crate::text::wrap::wrap;
use crate::units::Kind;

/// Cells of the column of labels.
const LABELS: u16 = 26;
/// Cells of a field.
const FIELD: u16 = 20;
/// Cells of the widest line of text.
const TEXT: usize = 100;

/// Draws it.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    form: &WireForm,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let width = usize::from(area.width).min(TEXT);
    let hint = wrap(hint(form.focus), width.saturating_sub(2));
    let rows = u16::try_from(WireRow::ALL.len()).unwrap_or(u16::MAX);
    let hint_lines = u16::try_from(hint.len()).unwrap_or(u16::MAX);
    // Below the least height of a screen every line is needed for the result and its caution.
    let apart = u16::from(area.height > 20);
    let [_, list, _, below, _, result] = Layout::vertical([
        Constraint::Length(apart),
        Constraint::Length(rows),
        Constraint::Length(apart),
        Constraint::Length(hint_lines),
        Constraint::Length(1),
        Constraint::Min(0),
    ])
    .areas(area);
    for (row, line) in WireRow::ALL.into_iter().zip(list.rows()) {
        draw_row(frame, line, row, form, desk);
    }
    // No line is the marked one: Enter only goes on to the next.
    click_targets.list(list, ListInSight { first: 0, count: WireRow::ALL.len(), marked: None });
    let hint: Vec<Line<'_>> =
        hint.into_iter().map(|line| Line::styled(format!("  {line}"), desk.theme.quiet())).collect();
    frame.render_widget(Paragraph::new(hint), below);
    frame.render_widget(Paragraph::new(result_lines(form, width, desk)), result);
}

fn draw_row(frame: &mut Frame<'_>, area: Rect, row: WireRow, form: &WireForm, desk: &Desk) {
    let theme = desk.theme;
    let focused = row == form.focus;
    let (mark, style) = if focused { ("▸ ", theme.strong()) } else { ("  ", theme.text()) };
    let labels = usize::from(LABELS) - 2;
    let label = format!("{:<labels$}", name(row));
    let value = match row {
        WireRow::Ends => chosen(phrase::end_type(form.ends), focused),
        WireRow::Material => chosen(phrase::material(form.material), focused),
        row if focused => return draw_field(frame, area, row, [mark, &label], form, desk),
        row => Shown::from(form.shown(row).as_str()).fitted(usize::from(area.width.saturating_sub(LABELS))),
    };
    let value = if value.is_empty() && row != WireRow::FreeLength { "needed".to_owned() } else { value };
    let spans = [Span::styled(mark, theme.accent()), Span::styled(label, style), Span::styled(value, style)];
    frame.render_widget(Line::from(spans.to_vec()), area);
}

/// The focused field, and behind it the unit a bare figure is taken in.
fn draw_field(
    frame: &mut Frame<'_>,
    area: Rect,
    row: WireRow,
    label: [&str; 2],
    form: &WireForm,
    desk: &Desk,
) {
    let Some(text) = form.field(row) else { return };
    let [mark, label] = label;
    let spans = vec![Span::styled(mark, desk.theme.accent()), Span::styled(label, desk.theme.strong())];
    frame.render_widget(Line::from(spans), area);
    let [_, entry, unit] =
        Layout::horizontal([Constraint::Length(LABELS), Constraint::Length(FIELD), Constraint::Min(0)])
            .areas(area);
    field::draw(frame, entry, text, desk.theme);
    let symbol = if row == WireRow::Coils || field::names_a_unit(text.text()) {
        ""
    } else {
        form.units.unit(Kind::Length).symbol()
    };
    frame.render_widget(Line::raw(format!(" {symbol}")), unit);
}

/// A choice, with arrows where the keys move it.
fn chosen(name: &str, focused: bool) -> String {
    if focused { format!("◂ {name} ▸") } else { name.to_owned() }
}

fn result_lines(form: &WireForm, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let theme = desk.theme;
    let outcome = form.outcome();
    let set = |text: &str, style| wrap(text, width).into_iter().map(move |line| Line::styled(line, style));
    if let Some(said) = sentence(&outcome, desk.units) {
        // What is still needed is no fault yet.
        let style = if matches!(outcome, WireResult::Needs(_)) { theme.text() } else { theme.strong() };
        return set(&Shown::from(said.as_str()).to_string(), style).collect();
    }
    let WireResult::Calculated(figures) = outcome else { return Vec::new() };
    let labels = usize::from(LABELS);
    let mut lines: Vec<Line<'static>> = phrase::wire(&figures, desk.units)
        .into_iter()
        .map(|(name, figure)| {
            Line::from(vec![Span::raw(format!("{name:<labels$}")), Span::styled(figure, theme.strong())])
        })
        .collect();
    let unusual = phrase::wire_unusual(&figures, desk.units);
    let apart = unusual.is_none().then(|| Line::raw(""));
    lines.extend(unusual.iter().flat_map(|unusual| set(unusual, theme.alert())));
    lines.extend(apart);
    lines.extend(set(phrase::MAKER_FIRST, theme.text()));
    lines
}

/// What a row is called.
pub(super) fn name(row: WireRow) -> String {
    phrase::wire::row_name(match row {
        WireRow::Wire => phrase::wire_figure(WireFigure::Wire),
        WireRow::Outer => phrase::wire_figure(WireFigure::Outer),
        WireRow::Coils => phrase::wire_figure(WireFigure::Coils),
        WireRow::FreeLength => phrase::wire_figure(WireFigure::FreeLength),
        WireRow::Calipers => phrase::wire_figure(WireFigure::Calipers),
        WireRow::Ends => phrase::wire::ENDS,
        WireRow::Material => phrase::wire::MATERIAL,
    })
}

/// What a row takes.
const fn hint(row: WireRow) -> &'static str {
    match row {
        WireRow::Wire => "Measure bare wire: 1 % too thick reads 4 % too stiff.",
        WireRow::Outer => "Over the outside of the coils, at three places.",
        WireRow::Coils => "Count all of them, the ends included, to the eighth: 7.25 or 7 1/4.",
        WireRow::Ends => "Closed: the last coil touches its neighbour. Ground: it is cut flat.",
        WireRow::Material => "Steel sticks to a magnet; titanium does not, and is lighter.",
        WireRow::FreeLength => "The spring off the shock, end to end. May stay empty.",
        WireRow::Calipers => "How far a diameter may be off, as a standard uncertainty.",
    }
}
