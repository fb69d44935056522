//! What has to be said: a standing line while the record is not where it should be, and the last refusal or question.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Text};
use ratatui::widgets::{Block, Padding, Paragraph};

use crate::phrase;
use crate::screen::effect::StorageState;
use crate::screen::model::{Model, Notice};
use crate::screen::{is_full, margin};
use crate::text::Shown;
use crate::text::wrap::wrap;
use crate::units::UnitSet;

/// The most lines it takes, and in a small window.
const MOST: [usize; 2] = [5, 3];

/// Lines it takes in that window; none while nothing has to be said.
pub fn height(window: Rect, model: &Model) -> u16 {
    u16::try_from(lines(window, model).len()).unwrap_or(0)
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, model: &Model) {
    let margin = margin(frame.area());
    let lines = lines(frame.area(), model).into_iter().map(|(line, style)| Line::styled(line, style));
    let text = Text::from(lines.collect::<Vec<_>>());
    frame.render_widget(Paragraph::new(text).block(Block::new().padding(Padding::horizontal(margin))), area);
}

fn lines(window: Rect, model: &Model) -> Vec<(String, Style)> {
    let theme = model.desk.theme;
    let width = usize::from(window.width.saturating_sub(2 * margin(window)));
    let most = MOST[usize::from(!is_full(window))];
    let standing = model.desk.session.as_ref().and_then(|session| standing(&session.keeping));
    let said = model.desk.notice.as_ref().map(|notice| sentence(notice, model.desk.units));
    let styled = |text: Option<String>, style: Style| {
        let safe = text.map(|text| Shown::from(text.as_str()).to_string());
        safe.map_or(Vec::new(), |text| wrap(&text, width)).into_iter().map(move |line| (line, style))
    };
    let said: Vec<_> = styled(said, theme.strong()).collect();
    // However long the standing line is, what was said last is seen.
    let room = most.saturating_sub(said.len()).max(1);
    let said: Vec<_> = styled(standing, theme.alert()).take(room).chain(said).take(most).collect();
    // A blank line keeps it apart from the place above.
    let apart = (!said.is_empty() && is_full(window)).then(|| (String::new(), theme.text()));
    apart.into_iter().chain(said).collect()
}

/// What stands as long as the record is not in the records folder.
fn standing(keeping: &StorageState) -> Option<String> {
    match keeping {
        StorageState::NothingYet | StorageState::Kept | StorageState::ReadOnly { .. } => None,
        StorageState::InSpool { because } => Some(format!("Saved on this computer only. {because}")),
        StorageState::OnlyInMemory { because } => Some(format!("Not saved: in memory only. {because}")),
    }
}

/// The sentence for a notice.
pub fn sentence(notice: &Notice, units: UnitSet) -> String {
    match notice {
        Notice::Refused(refusal) => phrase::refusal(refusal, units),
        Notice::Unreadable(unreadable) => phrase::unreadable(unreadable, units),
        Notice::Unusual(field, entered) => phrase::unusual(*field, *entered, units),
        Notice::LeavingLoses => {
            "The last step could not be saved. Press Ctrl-C again to quit without it.".to_owned()
        }
        Notice::Said(sentence) => sentence.clone(),
    }
}
