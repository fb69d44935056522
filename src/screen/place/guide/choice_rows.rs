//! The choices of the decision as rows: what each would come to, its chance as a bar, and what it takes in minutes.
//!
//! Not here: which there are and what they come to (`choice`).

use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::choice::{self, DecisionChoice, Outlook};
use super::drawing::Scene;
use crate::phrase;
use crate::screen::theme::{Glyphs, Theme};
use crate::units::Share;

/// Cells of a bar, and of the columns behind it: the chance in tens, the minutes.
const BAR: usize = 10;
const TENS: usize = 8;
const MINUTES: usize = 7;
/// Cells of the sag a choice would come to.
const SAG: usize = 13;
/// Cells of the names that leave room for all columns.
const NAMES: usize = 23;
/// From this width on the columns stand in line.
const COLUMNS: usize = 2 + NAMES + 1 + SAG + BAR + TENS + MINUTES + 8;

/// A row a choice: the marked one under the mark, the advised one said to be.
pub(super) fn rows(scene: Scene<'_>, width: usize) -> Vec<Line<'static>> {
    let advised = choice::advised(scene.session);
    let all = choice::choices(scene.session).into_iter().enumerate();
    all.map(|(index, option)| row(scene, option, index, advised == Some(index), width)).collect()
}

fn row(
    scene: Scene<'_>,
    option: DecisionChoice,
    index: usize,
    is_advised: bool,
    width: usize,
) -> Line<'static> {
    let (session, units, theme) = (scene.session, scene.desk.units, scene.desk.theme);
    let words = choice::words(option, session, units);
    let here = index == scene.guide.marked_choice(session);
    let (mark, style) = if here { ("▸", theme.marked()) } else { (" ", theme.text()) };
    let outlook = choice::outlook(option, session);
    let star = if is_advised { phrase::guide::ADVISED } else { "" };
    let mut spans = vec![Span::styled(mark, theme.accent()), Span::styled(format!(" {words} "), style)];
    if width < COLUMNS {
        let tail = outlook
            .map(|outlook| [format!("→ {}", outlook.sag.shown(units)), phrase::in_tens(outlook.chance)]);
        let room = width.saturating_sub(words.width() + 3);
        let (sag, chance, star) = fitted(tail.unwrap_or_default(), star, room);
        spans.extend([Span::raw(format!("{sag}{chance}")), Span::styled(star, theme.good())]);
        return Line::from(spans);
    }
    let gap = " ".repeat(NAMES.saturating_sub(words.width()));
    let minutes = choice::minutes(option, session).map(phrase::rail::minutes).unwrap_or_default();
    spans.push(Span::raw(gap));
    if let Some(Outlook { sag, chance }) = outlook {
        spans.push(Span::raw(format!("{:<SAG$}", sag.shown(units))));
        spans.extend(bar(chance, theme));
        spans.push(Span::raw(format!("{:>TENS$}", phrase::in_tens(chance))));
    } else {
        let blank = (SAG + BAR + TENS).saturating_sub(words.width().saturating_sub(NAMES));
        spans.push(Span::raw(" ".repeat(blank)));
    }
    spans.push(Span::styled(format!("{minutes:>MINUTES$} "), theme.quiet()));
    spans.push(Span::styled(star, theme.good()));
    Line::from(spans)
}

/// A bar as long as the chance, on a track as long as certainty.
fn bar(chance: Share, theme: Theme) -> [Span<'static>; 2] {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of ten cells")]
    let cells = (chance.as_fraction().clamp(0.0, 1.0) * BAR as f64).round() as usize;
    let [full, empty] = if theme.glyphs == Glyphs::Full { ["▄", "▁"] } else { ["#", "."] };
    [Span::styled(full.repeat(cells), theme.strong()), Span::styled(empty.repeat(BAR - cells), theme.quiet())]
}

/// What there is room for behind a choice: the sag it comes to first, then that it is advised, then its chance.
fn fitted([sag, likely]: [String; 2], star: &str, room: usize) -> (String, String, String) {
    let mut left = room;
    let mut fit = |before: &str, text: &str| {
        let whole = format!("{before}{text}");
        let fits = !text.is_empty() && whole.width() <= left;
        left -= if fits { whole.width() } else { 0 };
        if fits { whole } else { String::new() }
    };
    let sag = fit(" ", &sag);
    let star = fit(" ", star);
    let likely = if sag.is_empty() { String::new() } else { fit(", ", &likely) };
    (sag, likely, star)
}
