//! The line on top: whose bike, what is known of it, and whether the last step is kept.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, Borders, Paragraph};
use unicode_width::UnicodeWidthStr;

use crate::phrase;
use crate::screen::effect::StorageState;
use crate::screen::margin;
use crate::screen::model::{Model, OpenSession};
use crate::screen::theme::Theme;
use crate::session::Origin;
use crate::text::Shown;
use crate::units::UnitSet;

const SEPARATOR: &str = " · ";
/// Cells a name keeps, however little room there is.
const SHORTEST_NAME: usize = 6;

/// Draws it, with a rule below.
pub fn draw(frame: &mut Frame<'_>, area: Rect, model: &Model) {
    let theme = model.desk.theme;
    let area = area.intersection(frame.area());
    let margin = margin(frame.area());
    let width = usize::from(area.width.saturating_sub(2 * margin));
    let session = model.desk.session.as_ref();
    let (kept, style) = keeping(session, theme);
    let only_shown = session.is_some_and(|session| matches!(session.keeping, StorageState::ReadOnly { .. }));
    let kept = match session.map(|session| session.record.intake.origin) {
        Some(Origin::Demonstration) if only_shown => phrase::review::ONLY_SHOWN.to_owned(),
        Some(Origin::Demonstration) => format!("{}, {kept}", phrase::review::IS_DEMONSTRATION),
        Some(Origin::Workshop) | None => kept.to_owned(),
    };
    let place = model.ground().title();
    let room = width.saturating_sub(kept.width() + 2);
    let (name, rest) = match &model.desk.session {
        None => ("coilwright", format!("{SEPARATOR}{place}")),
        Some(session) => (place, facts(session, model.desk.units, room.saturating_sub(place.width()))),
    };
    let rest = Shown::from(rest.as_str()).fitted(room.saturating_sub(name.width()));
    // A name that was cut and stands at the end of what was cut again.
    let rest = rest.replace("……", "…");
    let gap = width.saturating_sub(name.width() + rest.width() + kept.width());
    let line = Line::from(vec![
        Span::styled(name, theme.strong()),
        Span::styled(rest, theme.text()),
        Span::raw(" ".repeat(gap)),
        Span::styled(kept, style),
    ]);
    let rule = if area.height > 1 { Borders::BOTTOM } else { Borders::NONE };
    let block = Block::new()
        .borders(rule)
        .border_style(theme.quiet())
        .padding(ratatui::widgets::Padding::horizontal(margin));
    frame.render_widget(Paragraph::new(line).block(block), area);
}

/// Customer, bike, stroke and aim, each with a separator before it. Whose bike it is comes first: stroke and aim give way
/// where the names would be cut, and only names too long for all of the line share it with the aim.
fn facts(session: &OpenSession, units: UnitSet, room: usize) -> String {
    let entered = &session.state.entered;
    let stroke = entered.stroke.map(|stroke| format!("{SEPARATOR}{} stroke", units.show(stroke)));
    let target = session.state.setup.as_ref().map(|setup| setup.target).or(entered.target);
    let target = target.map(|target| format!("{SEPARATOR}target {}", phrase::target_range(target, units)));
    let names: Vec<Shown> = [&entered.customer, &entered.bike_name]
        .iter()
        .filter(|text| !text.is_empty())
        .map(|text| text.shown())
        .collect();
    let whole: usize = names.iter().map(|name| SEPARATOR.width() + name.width()).sum();
    let (stroke, target) = (stroke.unwrap_or_default(), target.unwrap_or_default());
    for figures in [stroke + &target, target.clone(), String::new()] {
        if whole + figures.width() <= room {
            return names.iter().map(|name| format!("{SEPARATOR}{name}")).chain([figures]).collect();
        }
    }
    let figures = target;
    let left = room.saturating_sub(figures.width()).checked_div(names.len()).unwrap_or(0);
    let share = left.saturating_sub(SEPARATOR.width()).max(SHORTEST_NAME);
    names.iter().map(|name| format!("{SEPARATOR}{}", name.fitted(share))).chain([figures]).collect()
}

fn keeping(session: Option<&OpenSession>, theme: Theme) -> (&'static str, ratatui::style::Style) {
    match session.map(|session| &session.keeping) {
        None => ("", theme.text()),
        Some(StorageState::NothingYet) => ("nothing entered yet", theme.quiet()),
        Some(StorageState::Kept) => ("✓ saved", theme.good()),
        Some(StorageState::InSpool { .. }) => ("saved on this computer only", theme.alert()),
        Some(StorageState::OnlyInMemory { .. }) => ("NOT SAVED", theme.alert()),
        Some(StorageState::ReadOnly { .. }) => ("view only", theme.strong()),
    }
}
