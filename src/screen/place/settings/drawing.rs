//! How the settings look: the list, below it what the marked line does or what is typed, and on a wide screen an invented
//! session in the theme, glyphs and units chosen.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{SettingsEntry, SettingsList, SettingsRow, rows};
use crate::phrase;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::ListLine;
use crate::screen::model::Desk;
use crate::screen::part::side_column;
use crate::screen::settings_in_force::SettingsFileState;
use crate::settings::{PaperLine, Setting};
use crate::text::Shown;
use crate::text::wrap::wrap;

/// Cells of the column of labels.
const LABELS: usize = 26;
/// Lines below the list: a blank one, what the marked line does, where it is kept.
const BELOW: u16 = 6;

/// Draws it.
pub(super) fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    list: &SettingsList,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    if let SettingsFileState::Unreadable(faults) = &desk.settled.filed {
        return draw_faults(frame, area, faults, desk);
    }
    let side = side_column::width(area);
    let [main, _, right] =
        Layout::horizontal([Constraint::Min(0), Constraint::Length(side.min(4)), Constraint::Length(side)])
            .areas(area);
    if side > 0 {
        draw_sample(frame, right, list, desk);
    }
    // What a line does stands right below the list, however tall the screen is.
    let lines = lines(list, usize::from(main.width), desk);
    let height = u16::try_from(lines.len()).unwrap_or(u16::MAX).min(main.height.saturating_sub(BELOW)).max(1);
    let [top, below] = Layout::vertical([Constraint::Length(height), Constraint::Length(BELOW)]).areas(main);
    // While a line is typed only it can be answered.
    let click_targets = list.line.typed().is_none().then_some(click_targets);
    list.list.draw(frame, top, lines, desk.window, click_targets);
    match list.line.typed() {
        Some((what, _)) => {
            let takes = match what {
                SettingsEntry::Ruler => phrase::settings::RULER_TAKES,
                SettingsEntry::RateRow => phrase::settings::ROW_TAKES,
                SettingsEntry::Paper(line) => phrase::settings::paper_meaning(line),
                SettingsEntry::Band(_) | SettingsEntry::NewBand => phrase::settings::BAND_TAKES,
            };
            list.line.draw(frame, below, text(takes, below.width, desk.theme.text()), 48, desk.theme);
        }
        None => draw_meaning(frame, below, list.row(desk), desk),
    }
}

/// The lines of the list; a blank one and a heading stand before the bands.
fn lines(list: &SettingsList, width: usize, desk: &Desk) -> Vec<ListLine<'static>> {
    let theme = desk.theme;
    let settings = desk.settled.settings();
    let marked = list.marked(desk);
    let mut lines: Vec<ListLine<'static>> = vec![(Line::raw(""), None)];
    for (place, row) in rows(settings).into_iter().enumerate() {
        if place == Setting::ALL.len() {
            lines.extend(bands_heading(width, desk).into_iter().map(|line| (line, None)));
        }
        if row == SettingsRow::Paper(PaperLine::Shop) {
            if settings.target_ranges.all().is_empty() {
                lines.push((Line::styled(format!("   {}", phrase::settings::NO_BANDS), theme.quiet()), None));
            }
            lines.push((Line::raw(""), None));
        }
        lines.push((row_line(row, place == marked && list.line.typed().is_none(), width, desk), Some(place)));
    }
    lines
}

fn bands_heading(width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let heading = Shown::from(phrase::settings::BANDS).fitted(width);
    vec![Line::raw(""), Line::styled(heading, desk.theme.quiet())]
}

fn row_line(row: SettingsRow, is_marked: bool, width: usize, desk: &Desk) -> Line<'static> {
    let theme = desk.theme;
    let settings = desk.settled.settings();
    let (label, value) = match row {
        SettingsRow::Of(setting) => (
            phrase::settings::label(setting).to_owned(),
            phrase::settings::value(setting, settings, desk.units),
        ),
        SettingsRow::Band(place) => {
            settings.target_ranges.all().get(place).map_or_else(Default::default, |band| {
                (band.name().shown().to_string(), phrase::settings::band(band, desk.units))
            })
        }
        SettingsRow::TradesBands => (phrase::settings::TRADES_BANDS.to_owned(), String::new()),
        SettingsRow::Paper(line) => {
            let text = settings.paper.line(line);
            (phrase::settings::paper_label(line).to_owned(), text.shown().to_string())
        }
    };
    let label = Shown::from(label.as_str());
    let gap = " ".repeat(LABELS.saturating_sub(label.width() + 2).max(1));
    let (mark, style) = if is_marked { ("▸ ", theme.marked()) } else { ("  ", theme.text()) };
    let aside = at_present(row, desk).map(|aside| format!("   {aside}")).unwrap_or_default();
    let room = width.saturating_sub(4 + label.width() + gap.len());
    let value = Shown::from(value.as_str()).fitted(room);
    let aside = Shown::from(aside.as_str()).fitted(room.saturating_sub(Shown::from(value.as_str()).width()));
    Line::from(vec![
        Span::styled(mark, theme.accent()),
        Span::styled(format!(" {label} "), style),
        Span::raw(gap),
        Span::styled(value, theme.strong()),
        Span::styled(aside, theme.quiet()),
    ])
}

/// What holds at present where it is not what the setting says.
fn at_present(row: SettingsRow, desk: &Desk) -> Option<String> {
    use phrase::settings::{at_present, from_the_command_line, glyphs, ink, mouse};
    let settings = desk.settled.settings();
    let look = desk.settled.look;
    match row {
        SettingsRow::Of(Setting::Units) if desk.units != settings.units => {
            Some(at_present(phrase::unit_set(desk.units)))
        }
        SettingsRow::Of(Setting::Theme) => match (look.asked_ink, settings.ink) {
            (Some(asked), _) => Some(from_the_command_line(ink(asked), "--theme")),
            (None, None) => Some(at_present(ink(desk.theme.ink))),
            (None, Some(_)) => None,
        },
        SettingsRow::Of(Setting::Glyphs) => match (look.asked_glyphs, settings.glyphs) {
            (Some(asked), _) => Some(from_the_command_line(glyphs(asked), "--ascii")),
            (None, None) => Some(at_present(glyphs(desk.theme.glyphs))),
            (None, Some(_)) => None,
        },
        SettingsRow::Of(Setting::Mouse) if desk.mouse != settings.mouse => {
            Some(at_present(mouse(desk.mouse)))
        }
        _ => None,
    }
}

/// What the marked line does, and where the settings are kept.
fn draw_meaning(frame: &mut Frame<'_>, area: Rect, row: SettingsRow, desk: &Desk) {
    let theme = desk.theme;
    let meaning = match row {
        SettingsRow::Of(setting) => phrase::settings::meaning(setting),
        SettingsRow::Band(_) => phrase::settings::BAND_MEANS,
        SettingsRow::TradesBands => phrase::settings::TRADES_BANDS_MEAN,
        SettingsRow::Paper(line) => phrase::settings::paper_meaning(line),
    };
    let (kept, style) = match &desk.settled.filed {
        SettingsFileState::NotKept(because) => (phrase::settings::not_kept(because), theme.alert()),
        _ => (phrase::settings::kept_in(&desk.settled.place), theme.quiet()),
    };
    let mut lines = vec![Line::raw("")];
    lines.extend(text(meaning, area.width, theme.text()));
    lines.extend(text(&kept, area.width, style));
    frame.render_widget(Paragraph::new(lines), area);
}

/// An invented session, and each ink with what it is for.
fn draw_sample(frame: &mut Frame<'_>, area: Rect, list: &SettingsList, desk: &Desk) {
    let theme = desk.theme;
    let [heading, body] = Layout::vertical([Constraint::Length(7), Constraint::Min(0)]).areas(area);
    let inks = [theme.good(), theme.alert(), theme.accent(), theme.quiet()];
    let mut lines = vec![Line::raw(""), Line::styled(phrase::settings::SAMPLE, theme.title())];
    let named = phrase::settings::SAMPLE_INKS.into_iter().zip(inks);
    lines.extend(named.map(|(name, ink)| Line::styled(format!("  {name}"), ink)));
    frame.render_widget(Paragraph::new(lines), heading);
    if let Some(sample) = &list.sample {
        side_column::draw(frame, body, sample, desk);
    }
}

fn draw_faults(frame: &mut Frame<'_>, area: Rect, faults: &[String], desk: &Desk) {
    let theme = desk.theme;
    let mut lines = vec![Line::raw(""), Line::styled(phrase::settings::FAULTS, theme.alert()), Line::raw("")];
    lines.extend(text(&desk.settled.place, area.width, theme.quiet()));
    lines.extend(faults.iter().flat_map(|fault| text(fault, area.width, theme.text())));
    lines.push(Line::raw(""));
    lines.extend(text(phrase::settings::FAULTS_WAY_OUT, area.width, theme.text()));
    frame.render_widget(Paragraph::new(lines), area);
}

fn text(text: &str, width: u16, style: Style) -> Vec<Line<'static>> {
    let safe = Shown::from(text);
    wrap(safe.as_str(), usize::from(width)).into_iter().map(|line| Line::styled(line, style)).collect()
}
