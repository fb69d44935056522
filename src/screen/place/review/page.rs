//! How one past session looks: what it came to, its sets and springs, what was told, and the whole walk with times.
//!
//! On a wide screen the walk stands beside the rest and is what scrolls; on a small one everything is one column. Not here:
//! the words (`phrase`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::sitting::{Seen, Sitting};
use crate::phrase;
use crate::screen::hits::Hits;
use crate::screen::model::{Desk, OpenSession};
use crate::screen::part::sag_columns::Columns;
use crate::screen::part::{set_table, spring_ladder};
use crate::session::{Detail, Origin, Record, machine};
use crate::text::Shown;
use crate::text::wrap::wrap;

/// From this width on the walk stands beside the rest.
const WIDE: u16 = 116;
/// Cells of the column beside it.
const BESIDE: u16 = 62;
/// Cells of the time before a deed.
const TIME: usize = 7;
/// The most sets and springs that are listed.
const MOST: usize = 12;

/// Draws it.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, sitting: &Sitting, desk: &Desk, hits: &mut Hits) {
    if area.width < WIDE {
        let (mut lines, walk) = columns(sitting, usize::from(area.width), desk);
        lines.extend(walk);
        sitting.scroll.draw(frame, area, lines, hits);
        return;
    }
    let [left, _, right] =
        Layout::horizontal([Constraint::Length(BESIDE), Constraint::Length(3), Constraint::Min(1)])
            .areas(area);
    let (facts, _) = columns(sitting, usize::from(left.width), desk);
    let (_, walk) = columns(sitting, usize::from(right.width), desk);
    frame.render_widget(Paragraph::new(facts), left);
    sitting.scroll.draw(frame, right, walk, hits);
}

/// What is known of the session, and its walk.
fn columns(sitting: &Sitting, width: usize, desk: &Desk) -> (Vec<Line<'static>>, Vec<Line<'static>>) {
    match &sitting.seen {
        Seen::Whole { session, remark } => {
            let mut facts = heading(&session.record, width, desk);
            if let Some(remark) = remark {
                facts.extend(wrapped(remark, width, desk.theme.alert()));
            }
            facts.extend(came_to(session, width, desk));
            facts.extend(told(session, width, desk));
            (facts, walk(&session.record, phrase::guide::HISTORY, width, desk))
        }
        Seen::Before { because, version } => {
            let mut facts = damage(sitting, because, width, desk);
            facts.extend(wrapped(phrase::review::GO_ON_BEFORE, width, desk.theme.text()));
            facts.extend(heading(version, width, desk));
            (facts, walk(version, phrase::review::BEFORE, width, desk))
        }
        Seen::InPart { because, readable } => {
            let mut facts = damage(sitting, because, width, desk);
            let Some(record) = readable else { return (facts, Vec::new()) };
            facts.extend(wrapped(phrase::review::GO_ON_IN_A_COPY, width, desk.theme.text()));
            facts.extend(heading(record, width, desk));
            (facts, walk(record, phrase::review::READABLE, width, desk))
        }
    }
}

/// Which file is damaged, and how.
fn damage(sitting: &Sitting, because: &str, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let mut lines = vec![Line::raw(""), Line::styled(sitting.name.record(), desk.theme.strong())];
    lines.extend(wrapped(&phrase::sentence(because), width, desk.theme.alert()));
    lines
}

/// Whose session it was, and when.
fn heading(record: &Record, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let names: Vec<String> = [&record.intake.who, &record.intake.bike_label]
        .iter()
        .filter(|name| !name.is_empty())
        .map(|name| name.shown().fitted(width / 2))
        .collect();
    let name = if names.is_empty() { phrase::review::NO_NAME.to_owned() } else { names.join(" · ") };
    let opened = record.opened.format("%A, %-d %B %Y, %H:%M").to_string();
    let mut lines = vec![
        Line::raw(""),
        Line::styled(Shown::from(name.as_str()).fitted(width), desk.theme.strong()),
        Line::raw(opened),
    ];
    if record.intake.origin == Origin::Demonstration {
        lines.extend(wrapped(phrase::DEMONSTRATION, width, desk.theme.alert()));
    }
    lines
}

/// The advice, the sets, the springs and the warnings of its assessment.
fn came_to(session: &OpenSession, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let (theme, units) = (desk.theme, desk.units);
    let state = &session.state;
    let title = |text: &str| [Line::raw(""), Line::styled(text.to_owned(), theme.title())];
    let mut lines: Vec<Line<'static>> = title(phrase::review::CAME_TO).into();
    lines.push(Line::raw(phrase::review::came_to(state, units)));
    let start = session.outlook.as_ref();
    let start = start.and_then(|one| phrase::review::start_with(&one.assessment, &one.setup, units));
    lines.extend(start.into_iter().flat_map(|start| wrapped(&start, width, theme.text())));
    let (Some(setup), Some(assessment)) = (&state.setup, &session.assessment) else { return lines };
    if state.step != crate::session::Step::Closed {
        let advice = phrase::advice(assessment, setup, units);
        lines.extend(wrapped(&format!("{}. {}", advice.headline, advice.reason), width, theme.text()));
    }
    let load = format!(
        "{}: {}. {}",
        phrase::review::LOAD,
        assessment.learned.load.shown(units),
        phrase::review::wanted(assessment.learned.wanted_rate, units)
    );
    lines.extend(wrapped(&load, width, theme.text()));
    if let Some(finding) = &assessment.trail {
        lines.extend(wrapped(&phrase::trail_finding(finding, units), width, theme.text()));
    }
    for warning in &assessment.warnings {
        lines.extend(wrapped(&phrase::warning(warning, setup, units), width, theme.alert()));
    }
    lines.extend(title(phrase::guide::SETS));
    lines.extend(set_table::lines(session, width, MOST, desk));
    let rack = spring_ladder::Rack::of(session, None);
    if let (Some(rack), Some(columns)) = (rack, Columns::of(session, width, units)) {
        lines.push(Line::raw(""));
        lines
            .extend(spring_ladder::ladder(rack, columns, phrase::guide::SPRINGS, MOST, units, theme).lines());
    }
    lines
}

/// Every detail, as it stood at the end.
fn told(session: &OpenSession, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let told = &session.state.told;
    let mut lines = vec![Line::raw(""), Line::styled(phrase::review::TOLD.to_owned(), desk.theme.title())];
    let details = told.details().into_iter();
    lines.extend(details.flat_map(|detail| {
        let words = match &detail {
            Detail::Notes(notes) => phrase::review::notes(notes),
            detail => phrase::opening(&phrase::detail(detail, desk.units, &told.rack)),
        };
        wrapped(&words, width, desk.theme.text())
    }));
    lines
}

/// Every deed with its time; what was taken back is there and says so.
fn walk(record: &Record, title: &str, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let theme = desk.theme;
    let in_effect = machine::in_effect(record);
    // Springs may have joined the list since the intake; a walk that does not fold tells of those it began with.
    let state = machine::replay(record);
    let rack = state.as_ref().map_or(&record.intake.rack, |state| &state.told.rack);
    let mut lines = vec![Line::raw(""), Line::styled(title.to_owned(), theme.title())];
    let mut day = record.opened.date_naive();
    for (index, entry) in record.entries.iter().enumerate() {
        if entry.at.date_naive() != day {
            day = entry.at.date_naive();
            lines.push(Line::styled(phrase::review::day(entry.at), theme.strong()));
        }
        let counts = in_effect.binary_search(&index).is_ok() || phrase::review::is_about_others(&entry.deed);
        let words = phrase::deed(&entry.deed, desk.units, rack);
        let (words, style) = if counts {
            (words, weight(&entry.deed, desk))
        } else {
            (format!("{words} ({})", phrase::review::TAKEN_BACK), theme.void())
        };
        let time = entry.at.format("%H:%M").to_string();
        let heads = std::iter::once(time).chain(std::iter::repeat(String::new()));
        let words = wrapped(&words, width.saturating_sub(TIME), style).into_iter().zip(heads);
        lines.extend(words.map(|(words, head)| {
            let mut line = words;
            line.spans.insert(0, Span::styled(format!("{head:<TIME$}"), theme.quiet()));
            line
        }));
    }
    lines
}

/// Readings, changes and decisions stand out from ticks and cautions.
fn weight(deed: &crate::session::Deed, desk: &Desk) -> Style {
    use crate::session::Deed;
    match deed {
        Deed::CautionSeen(_) | Deed::Ticked(..) | Deed::IndicatorSeated => desk.theme.quiet(),
        Deed::Read { .. } | Deed::Trial { .. } | Deed::Decided(_) | Deed::Refitted { .. } => {
            desk.theme.strong()
        }
        _ => desk.theme.text(),
    }
}

fn wrapped(text: &str, width: usize, style: Style) -> Vec<Line<'static>> {
    let safe = Shown::from(text);
    wrap(safe.as_str(), width).into_iter().map(|line| Line::styled(line, style)).collect()
}
