//! The line on top: whose bike, what is known of it, and whether the last step is kept.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, Borders, Paragraph};
use unicode_width::UnicodeWidthStr;

use crate::screen::effect::Keeping;
use crate::screen::model::{Model, OpenSession};
use crate::screen::theme::Theme;
use crate::text::Shown;
use crate::units::UnitSet;

const SEPARATOR: &str = " · ";

/// Draws it, with a rule below.
pub fn draw(frame: &mut Frame<'_>, area: Rect, model: &Model) {
    let theme = model.desk.theme;
    let area = area.intersection(frame.area());
    let width = usize::from(area.width.saturating_sub(4));
    let (kept, style) = keeping(model.desk.session.as_ref(), theme);
    let mut parts = vec!["coilwright".to_owned(), model.place().title().to_owned()];
    if let Some(session) = &model.desk.session {
        parts.extend(facts(session, model.desk.units));
    }
    let name = parts.remove(0);
    let rest = Shown::from(format!("{SEPARATOR}{}", parts.join(SEPARATOR)).as_str());
    let rest = rest.fitted(width.saturating_sub(name.width() + kept.width() + 2));
    let gap = width.saturating_sub(name.width() + rest.width() + kept.width());
    let line = Line::from(vec![
        Span::styled(name, theme.strong()),
        Span::styled(rest, theme.text()),
        Span::raw(" ".repeat(gap)),
        Span::styled(kept, style),
    ]);
    let block = Block::new()
        .borders(Borders::BOTTOM)
        .border_style(theme.quiet())
        .padding(ratatui::widgets::Padding::horizontal(2));
    frame.render_widget(Paragraph::new(line).block(block), area);
}

fn facts(session: &OpenSession, units: UnitSet) -> Vec<String> {
    let told = &session.state.told;
    let texts = [&told.who, &told.bike_label].map(|text| text.shown().fitted(24));
    let stroke = told.stroke.map(|stroke| format!("{} stroke", units.show(stroke)));
    let aim = told.aim.map(|aim| {
        let figure = |share: crate::units::Share| crate::units::Show::written(share, units);
        format!("aim {} ± {}", figure(aim.sag).figure, figure(aim.half_width))
    });
    texts.into_iter().filter(|text| !text.is_empty()).chain(stroke).chain(aim).collect()
}

fn keeping(session: Option<&OpenSession>, theme: Theme) -> (&'static str, ratatui::style::Style) {
    match session.map(|session| &session.keeping) {
        None => ("", theme.text()),
        Some(Keeping::NothingYet) => ("nothing told yet", theme.quiet()),
        Some(Keeping::Kept) => ("✓ kept", theme.good()),
        Some(Keeping::InSpool { .. }) => ("kept on this machine only", theme.alert()),
        Some(Keeping::OnlyInMemory { .. }) => ("NOT KEPT, in memory only", theme.alert()),
        Some(Keeping::ReadOnly { .. }) => ("only to look at", theme.strong()),
    }
}
