//! Help: the keys of the place one came from, why the present step is done, and the words of the trade.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::phrase;
use crate::screen::keys::{Action, Pressed, binding};
use crate::screen::model::{Go, Model, Reply};
use crate::screen::theme::Theme;
use crate::session::Step;
use crate::text::wrap::wrap;

/// How far it is scrolled, in paragraphs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Help {
    first: usize,
}

/// The actions live here.
pub const LIVE: &[Action] =
    &[Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back, Action::Accept];

/// A paragraph of the help.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Paragraphed {
    Heading(String),
    /// A key or a word, and what it means.
    Entry(String, String),
    Text(String),
}

/// Takes a key in.
pub fn update(help: &mut Help, pressed: &Pressed) -> Reply {
    let Pressed::Action(action) = pressed else { return Reply::stay() };
    match action {
        Action::Next => help.first += 1,
        Action::Previous => help.first = help.first.saturating_sub(1),
        Action::PageDown => help.first += 8,
        Action::PageUp => help.first = help.first.saturating_sub(8),
        Action::Back | Action::Accept => return Reply::going(Go::Back),
        _ => {}
    }
    Reply::stay()
}

/// Draws it.
pub fn draw(frame: &mut Frame<'_>, area: Rect, help: &Help, model: &Model) {
    let theme = model.desk.theme;
    let paragraphs = paragraphs(model);
    let width = usize::from(area.width.min(100));
    let first = help.first.min(paragraphs.len().saturating_sub(1));
    let lines: Vec<Line<'_>> =
        paragraphs[first..].iter().flat_map(|paragraph| set(paragraph, width, theme)).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

fn paragraphs(model: &Model) -> Vec<Paragraphed> {
    let before = model.place_before().unwrap_or(model.place());
    let mut paragraphs = vec![Paragraphed::Heading(format!("Keys: {}", before.title()))];
    paragraphs.extend(before.live(&model.desk).into_iter().map(|action| {
        let row = binding(action);
        Paragraphed::Entry(row.all_shown(), row.meaning.to_owned())
    }));
    paragraphs.push(Paragraphed::Text(String::new()));
    paragraphs.push(Paragraphed::Text(
        "Every step accepted is on disk before it is shown as done. Leaving at any moment loses nothing."
            .to_owned(),
    ));
    paragraphs.extend(model.desk.session.iter().flat_map(|session| reasons(session.state.step)));
    paragraphs.push(Paragraphed::Heading("Words".to_owned()));
    paragraphs.extend(phrase::glossary().iter().map(|term| {
        let unit = term.unit.as_ref().map(|unit| format!(" Unit: {unit}.")).unwrap_or_default();
        Paragraphed::Entry(term.term.clone(), format!("{}{unit}", term.meaning))
    }));
    paragraphs
}

/// Why the present step is done.
fn reasons(step: Step) -> Vec<Paragraphed> {
    let words = phrase::step(step);
    let why = words.why.iter().map(|sentence| Paragraphed::Text(sentence.clone()));
    std::iter::once(Paragraphed::Heading(format!("Why: {}", words.title))).chain(why).collect()
}

fn set(paragraph: &Paragraphed, width: usize, theme: Theme) -> Vec<Line<'static>> {
    const KEYS: usize = 20;
    match paragraph {
        Paragraphed::Heading(text) => {
            vec![Line::raw(""), Line::styled(text.clone(), theme.strong()), Line::raw("")]
        }
        Paragraphed::Text(text) => wrap(text, width).into_iter().map(Line::raw).collect(),
        Paragraphed::Entry(key, meaning) => {
            let mut lines = wrap(meaning, width.saturating_sub(KEYS)).into_iter();
            let first = lines.next().unwrap_or_default();
            let head = Line::from(vec![Span::styled(format!("{key:<KEYS$}"), theme.key()), Span::raw(first)]);
            let rest = lines.map(|line| Line::raw(format!("{:KEYS$}{line}", "")));
            std::iter::once(head).chain(rest).collect()
        }
    }
}
