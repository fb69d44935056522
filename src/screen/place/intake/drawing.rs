//! How the form looks: rows in groups, the focused one opened up, and on a wide screen what is still needed beside it.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use super::row::{FormOrder, IntakeRow};
use super::{Form, rows, starting, still_needed, warning};
use crate::phrase;
use crate::screen::click_targets::{ClickTarget, ClickTargets};
use crate::screen::keys::Typing;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::{field, hazard_box};
use crate::screen::place::curve::{self, Curve};
use crate::session::Fact;
use crate::text::Shown;
use crate::text::wrap::wrap;
use crate::units::Kind;

/// Cells of the column of labels, where there is room for it and for figures.
const LABELS: u16 = 32;
/// From this width on what a row opens up to stands below its figure, else below its label.
const INDENTED: u16 = 70;

/// Cells of the column of labels at that width.
fn labels(width: u16) -> u16 {
    LABELS.min(width * 9 / 20)
}
/// From this width on there is a second column.
const WIDE: u16 = 116;

/// A line of the form, and which row it belongs to if it is the first line of one.
struct DrawnForm<'a> {
    line: Line<'a>,
    opens: Option<IntakeRow>,
}

/// Draws it.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    form: &Form,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let Some(session) = &desk.session else { return };
    if let Some(hazard) = warning::due(form, desk) {
        return hazard_box::draw(frame, area, hazard, session, &form.field, desk, click_targets);
    }
    let main = if area.width >= WIDE {
        let [main, _, side] =
            Layout::horizontal([Constraint::Min(1), Constraint::Length(4), Constraint::Length(38)])
                .areas(area);
        if form.focus == IntakeRow::Of(Fact::Leverage) {
            curve::draw(frame, side, &Curve { knowledge: form.knowledge(desk) }, desk);
        } else {
            draw_side(frame, side, form, session, desk);
        }
        main
    } else {
        area
    };
    let lines = lines(form, session, desk, main.width);
    let focus = lines.iter().position(|drawn| drawn.opens == Some(form.focus)).unwrap_or(0);
    let height = usize::from(main.height);
    // The focused row and all it opens up to stay in sight, and the row after it.
    let after = lines.iter().skip(focus + 1).position(|drawn| drawn.opens.is_some());
    let last = after.map_or(lines.len(), |after| focus + after + 2);
    let first = last.saturating_sub(height).min(lines.len().saturating_sub(height)).min(focus);
    for (drawn, line) in lines.iter().skip(first).zip(main.rows()) {
        note(drawn, line, form, desk, click_targets);
    }
    let visible: Vec<Line<'_>> = lines.into_iter().skip(first).take(height).map(|drawn| drawn.line).collect();
    frame.render_widget(Paragraph::new(visible), main);
    if form.focus.typing() != Typing::Nothing {
        let row = u16::try_from(focus.saturating_sub(first)).unwrap_or(u16::MAX);
        let line = Rect {
            x: main.x.saturating_add(labels(main.width)),
            y: main.y.saturating_add(row),
            width: main.width.saturating_sub(labels(main.width)).min(60),
            height: 1,
        };
        draw_entry(frame, line.intersection(main), form, desk);
    }
}

/// Notes a line that can be clicked. A click on the focused row puts no text in: it may not be typed to the end.
fn note(drawn: &DrawnForm<'_>, line: Rect, form: &Form, desk: &Desk, click_targets: &mut ClickTargets) {
    let Some(row) = drawn.opens else { return };
    if row != form.focus {
        if let Some(place) = rows(form, desk).iter().position(|one| *one == row) {
            click_targets.note(line, ClickTarget::Line(place));
        }
    } else if row == IntakeRow::Begin {
        click_targets.note(line, ClickTarget::Marked);
    }
}

/// The focused field, and behind it the unit a bare figure is taken in.
fn draw_entry(frame: &mut Frame<'_>, line: Rect, form: &Form, desk: &Desk) {
    let own = form.focus.kind().map_or("", |kind| desk.units.unit(kind).symbol());
    let unit = if field::names_a_unit(form.field.text()) { "" } else { own };
    let unit_width = u16::try_from(unit.width()).unwrap_or(0);
    let long =
        form.focus == IntakeRow::Of(Fact::Leverage) || matches!(form.focus.kind(), None | Some(Kind::Rate));
    let most = if long { line.width } else { 24 };
    let width = line.width.saturating_sub(unit_width + 1).min(most);
    field::draw(frame, Rect { width, ..line }, &form.field, desk.theme);
    let behind = Rect { x: line.x + width, width: line.width - width, ..line };
    frame.render_widget(Paragraph::new(format!(" {unit}")), behind);
}

fn lines<'a>(form: &Form, session: &OpenSession, desk: &Desk, width: u16) -> Vec<DrawnForm<'a>> {
    let order = FormOrder::of(&session.state.entered, form.then);
    let mut lines = vec![plain(Line::raw(""))];
    lines.extend(coming_back(session, desk, width));
    for row in rows(form, desk) {
        // What stands below the focused row ends in a blank line already.
        let is_blank = |drawn: &DrawnForm<'_>| drawn.opens.is_none() && drawn.line.width() == 0;
        if order.opens_a_group(row) && !lines.last().is_some_and(is_blank) {
            lines.push(plain(Line::raw("")));
        }
        lines.push(DrawnForm { line: row_line(row, form, session, desk, width), opens: Some(row) });
        if row == form.focus {
            lines.extend(opened(row, form, session, desk, width));
        }
    }
    lines
}

/// Above the rows of a customer who is back: what is used of the earlier session, and the spring to start with.
fn coming_back<'a>(session: &OpenSession, desk: &Desk, width: u16) -> Vec<DrawnForm<'a>> {
    let Some(earlier) = &session.state.entered.earlier else { return Vec::new() };
    let (theme, entered) = (desk.theme, &session.state.entered);
    let used =
        phrase::review::earlier_used(earlier, entered.rider, entered.travel.zip(entered.stroke), desk.units);
    let said = [
        Some((used, theme.text())),
        start_with(session, desk).map(|start| (start, theme.strong())),
        Some((phrase::review::ASK_FIRST.to_owned(), theme.quiet())),
    ];
    let set = |(text, style): (String, _)| {
        wrap(&text, usize::from(width)).into_iter().map(move |line| plain(Line::styled(line, style)))
    };
    said.into_iter().flatten().flat_map(set).collect()
}

/// The spring to start with, as far as anybody can tell before a reading.
fn start_with(session: &OpenSession, desk: &Desk) -> Option<String> {
    let outlook = session.outlook.as_ref()?;
    phrase::review::start_with(&outlook.assessment, &outlook.setup, desk.units)
}

fn plain(line: Line<'_>) -> DrawnForm<'_> {
    DrawnForm { line, opens: None }
}

/// Label and value of a row.
fn row_line<'a>(row: IntakeRow, form: &Form, session: &OpenSession, desk: &Desk, width: u16) -> Line<'a> {
    let theme = desk.theme;
    let entered = &session.state.entered;
    let label_width = usize::from(labels(width).saturating_sub(2));
    let label = Shown::from(row.label().as_str()).fitted(label_width.saturating_sub(1));
    let label = format!("{label:<label_width$}");
    let room = usize::from(width.saturating_sub(labels(width)));
    if row == form.focus {
        let style = if row == IntakeRow::Begin { theme.marked() } else { theme.strong() };
        return Line::from(vec![Span::styled("▸ ", theme.accent()), Span::styled(label, style)]);
    }
    let value = Shown::from(row.entered(entered, desk.units).as_str()).fitted(room);
    let mut line = vec![Span::raw("  "), Span::styled(label, theme.text())];
    let filled = starting::filled(row, desk).filter(|_| value.is_empty());
    match (form.drafts.get(&row), filled) {
        (Some(draft), _) => line.push(Span::styled(phrase::intake::draft(draft), theme.alert())),
        (None, Some(filled)) => {
            line.push(Span::styled(Shown::from(filled.value.as_str()).fitted(room), theme.text()));
            line.push(Span::styled(format!("  {}", filled.source), theme.quiet()));
        }
        (None, None) if value.is_empty() && row.is_asked_first(entered, form.then) => {
            line.push(Span::styled(phrase::intake::NEEDED, theme.quiet()));
        }
        (None, None) => line.push(Span::styled(value, theme.text())),
    }
    Line::from(line)
}

/// What stands below the focused row: how the text is understood or what is customary, and what it takes.
fn opened<'a>(
    row: IntakeRow,
    form: &Form,
    session: &OpenSession,
    desk: &Desk,
    width: u16,
) -> Vec<DrawnForm<'a>> {
    let entered = &session.state.entered;
    let text = form.field.text();
    let understood = if text.trim().is_empty() {
        None
    } else {
        let beside = starting::with_springs(entered, desk);
        row.understood(&starting::text(row, text, desk), &beside, desk.units)
    };
    let offered = starting::offered(row, desk).filter(|_| text.trim().is_empty());
    let springs = (row == IntakeRow::Of(Fact::SpringOnArrival) && !entered.springs.is_empty()).then(|| {
        let names =
            entered.springs.iter().map(|spring| phrase::spring(spring.number, &entered.springs, desk.units));
        phrase::intake::at_hand(&names.collect::<Vec<_>>())
    });
    let indent = usize::from(if width < INDENTED { 2 } else { labels(width) });
    let room = usize::from(width).saturating_sub(indent);
    let set = |text: &str, style| {
        let lines = wrap(text, room).into_iter();
        lines.map(move |line| plain(Line::styled(format!("{:indent$}{line}", ""), style))).collect::<Vec<_>>()
    };
    let start = if row == IntakeRow::Begin { start_with(session, desk) } else { None };
    let customers = form.known.as_ref().map(|known| {
        let row = |(text, is_marked): (String, bool)| {
            let style = if is_marked { desk.theme.marked() } else { desk.theme.text() };
            let text = Shown::from(text.as_str()).fitted(room);
            plain(Line::from(vec![Span::raw(" ".repeat(indent)), Span::styled(text, style)]))
        };
        known.lines().into_iter().map(row).chain(set(known.hint(), desk.theme.quiet())).collect()
    });
    let strong = understood.or(offered).or(start).map(|text| set(&text, desk.theme.strong()));
    let list = springs.map(|text| set(&text, desk.theme.text()).into_iter().take(3).collect());
    [
        customers,
        strong,
        list,
        Some(set(row.takes(desk.units), desk.theme.text())),
        Some(vec![plain(Line::raw(""))]),
    ]
    .into_iter()
    .flatten()
    .flatten()
    .collect()
}

fn draw_side(frame: &mut Frame<'_>, area: Rect, form: &Form, session: &OpenSession, desk: &Desk) {
    let theme = desk.theme;
    let entered = &session.state.entered;
    let missing = still_needed(form, desk);
    let mut lines =
        vec![Line::raw(""), Line::styled(phrase::intake::STILL_NEEDED, theme.strong()), Line::raw("")];
    if missing.is_empty() {
        lines.push(Line::styled(phrase::intake::NOTHING_NEEDED, theme.good()));
    }
    lines.extend(missing.into_iter().map(|missing| Line::raw(format!("· {}", phrase::missing(missing)))));
    if !entered.springs.is_empty() {
        lines.extend([Line::raw(""), Line::styled(phrase::guide::SPRINGS, theme.strong()), Line::raw("")]);
    }
    let room = usize::from(area.height).saturating_sub(lines.len() + 1);
    lines.extend(entered.springs.iter().take(room).map(|spring| {
        let not_known = || phrase::intake::STROKE_NOT_KNOWN.to_owned();
        let stroke = spring.stroke.map_or_else(not_known, |stroke| desk.units.show(stroke));
        let mark = if entered.spring_on_arrival == Some(spring.number) { "▶" } else { " " };
        let number = spring.mark().map_or_else(|| format!("#{}", spring.number.0), |mark| mark.to_string());
        Line::raw(format!("{mark} {number:<4} {:>12}   {stroke}", desk.units.show(spring.label)))
    }));
    if entered.springs.len() > room {
        lines.push(Line::styled(phrase::intake::and_more(entered.springs.len() - room), theme.quiet()));
    }
    frame.render_widget(Paragraph::new(lines), area);
}
