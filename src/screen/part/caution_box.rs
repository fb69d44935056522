//! Cautions in a frame of their own: what can happen, how it is kept from happening, and the key that acknowledges it.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, BorderType, Padding, Paragraph};

use crate::phrase;
use crate::screen::click_targets::{ClickTargets, Extent};
use crate::screen::model::Desk;
use crate::screen::theme::Theme;
use crate::session::Caution;
use crate::text::wrap::wrap;

/// From this width on the text keeps a distance from its frame.
const ROOMY: u16 = 50;

/// Cells between frame and text.
const fn padding(width: u16) -> u16 {
    if width < ROOMY { 0 } else { 2 }
}

/// Lines the frame takes at that width, with an empty line between two cautions.
pub fn height(width: u16, cautions: &[Caution]) -> u16 {
    let gaps = cautions.len().saturating_sub(1);
    let lines: usize = cautions.iter().map(|caution| text(*caution, width).len()).sum();
    u16::try_from(lines + gaps + 2).unwrap_or(u16::MAX)
}

/// Draws the frame at the top of the area, the key below it on its lower edge. Where the area is short, the cautions stand
/// without a line between them; where it is shorter still, a page of them is shown, and only the last can be acknowledged.
pub fn draw(
    frame: &mut Frame<'_>,
    area: Rect,
    cautions: &[Caution],
    key: &str,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let theme = desk.theme;
    let roomy = height(area.width, cautions) <= area.height;
    let mut lines = Vec::new();
    for caution in cautions {
        if roomy && !lines.is_empty() {
            lines.push(Line::raw(""));
        }
        lines.extend(styled(*caution, area.width, theme));
    }
    let room = usize::from(area.height.saturating_sub(2));
    let first = desk.read_from.min(lines.len().saturating_sub(room));
    let left = lines.len().saturating_sub(first + room);
    let key = if left > 0 {
        // A line of the page before stays, so that the eye finds where it was.
        click_targets.shows(Extent::GoesOn(first + room.saturating_sub(1).max(usize::from(room > 0))));
        phrase::guide::read_on(left)
    } else {
        key.to_owned()
    };
    let lines: Vec<Line<'static>> = lines.into_iter().skip(first).take(room).collect();
    let height = u16::try_from(lines.len() + 2).unwrap_or(u16::MAX).min(area.height);
    let area = Rect { height, ..area }.intersection(frame.area());
    let block = Block::bordered()
        .border_type(BorderType::Thick)
        .border_style(theme.alert())
        .padding(Padding::horizontal(padding(area.width)))
        .title_bottom(Line::styled(format!(" {key} "), theme.strong()));
    frame.render_widget(Paragraph::new(lines).block(block), area);
}

fn styled(caution: Caution, width: u16, theme: Theme) -> Vec<Line<'static>> {
    let mut lines = text(caution, width).into_iter();
    let head = lines.next().map(|head| Line::from(Span::styled(head, theme.alert())));
    head.into_iter().chain(lines.map(Line::raw)).collect()
}

/// The headline, and the text in lines.
fn text(caution: Caution, width: u16) -> Vec<String> {
    let words = phrase::caution(caution);
    let room = usize::from(width.saturating_sub(2 + 2 * padding(width)));
    let mut lines = vec![format!("! {}", words.headline)];
    lines.extend(wrap(&words.text, room));
    lines
}
