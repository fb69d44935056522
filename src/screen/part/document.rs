//! A document set on the screen: blocks as lines of a width, in the inks of the theme.
//!
//! Not here: what it says (`document`), and pictures, which whoever has the session hands in.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::document::{Block, Picture, Tone};
use crate::screen::theme::Theme;
use crate::text::Shown;
use crate::text::wrap::wrap;

/// Cells of the lead of a line.
const LEAD: usize = 7;

/// The lines of a document.
pub fn lines(
    document: &[Block],
    width: usize,
    theme: Theme,
    picture: impl Fn(&Picture, usize) -> Vec<Line<'static>>,
) -> Vec<Line<'static>> {
    let text = |text: &str, style: Style| wrapped(text, width, style);
    let set = |block: &Block| match block {
        Block::Title(title, aside) => {
            let title = Line::styled(Shown::from(title.as_str()).fitted(width), theme.strong());
            let aside = (!aside.is_empty()).then(|| Line::raw(aside.clone()));
            [Line::raw(""), title].into_iter().chain(aside).collect()
        }
        Block::Heading(title) => vec![Line::raw(""), Line::styled(title.clone(), theme.title())],
        Block::Mark(mark) => text(mark, theme.alert()),
        Block::Text(tone, words) => text(words, style(*tone, theme)),
        Block::Lines(lines) => {
            lines.iter().flat_map(|(lead, tone, words)| led(lead, *tone, words, width, theme)).collect()
        }
        Block::Picture(what) => picture(what, width),
        Block::List(title, items, _) if !items.is_empty() => {
            let title = [Line::raw(""), Line::styled(*title, theme.title())];
            title.into_iter().chain(items.iter().flat_map(|item| text(item, theme.text()))).collect()
        }
        Block::Last(words) => text(words, theme.quiet()),
        Block::List(..) | Block::Facts(_) | Block::Figure(..) | Block::Table(_) | Block::Beside(_) => {
            Vec::new()
        }
    };
    document.iter().flat_map(set).collect()
}

/// Words behind their lead, set in under themselves.
fn led(lead: &str, tone: Tone, words: &str, width: usize, theme: Theme) -> Vec<Line<'static>> {
    let leads = std::iter::once(lead.to_owned()).chain(std::iter::repeat(String::new()));
    let lines = wrapped(words, width.saturating_sub(LEAD), style(tone, theme)).into_iter().zip(leads);
    let behind = |(mut line, lead): (Line<'static>, String)| {
        line.spans.insert(0, Span::styled(format!("{lead:<LEAD$}"), theme.quiet()));
        line
    };
    lines.map(behind).collect()
}

fn style(tone: Tone, theme: Theme) -> Style {
    match tone {
        Tone::Plain => theme.text(),
        Tone::Strong => theme.strong(),
        Tone::Quiet => theme.quiet(),
        Tone::Alert => theme.alert(),
        Tone::Void => theme.void(),
    }
}

fn wrapped(text: &str, width: usize, style: Style) -> Vec<Line<'static>> {
    let safe = Shown::from(text);
    wrap(safe.as_str(), width).into_iter().map(|line| Line::styled(line, style)).collect()
}
