//! Help: the keys of the place one came from, why the present step is done, and the words of the trade.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Component, Place};
use crate::phrase::{self, places};
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::Scroll;
use crate::screen::keys::{Action, Pressed, Typing, binding};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::screen::part::warnings;
use crate::screen::theme::Theme;
use crate::session::{Stamp, Step};
use crate::text::wrap::wrap;

/// How far it is scrolled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Help {
    scroll: Scroll,
}

/// A paragraph of the help.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Paragraphed {
    Heading(String),
    /// A key or a word, and what it means.
    Entry(String, String),
    Text(String),
}

impl Component for Help {
    fn title(&self) -> &'static str {
        places::HELP
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back, Action::Accept]
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        Some(phrase::enter::BACK.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        if let Pressed::Action(Action::Back | Action::Accept) = pressed {
            Reply::going(Go::Back)
        } else {
            self.scroll.take(&pressed, desk.window);
            Reply::stay()
        }
    }

    /// Why the step is done, the keys, the words of the trade; in two columns on a wide screen.
    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        let set = |paragraphs: Vec<Paragraphed>, area: Rect| -> Vec<Line<'static>> {
            paragraphs.iter().flat_map(|one| set(one, usize::from(area.width), model.desk.theme)).collect()
        };
        let (here, words) = (here(model), words());
        if area.width < WIDE {
            let area = Rect { width: area.width.min(LINE), ..area };
            self.scroll.draw(frame, area, set([here, words].concat(), area), click_targets);
            return;
        }
        let [left, _, right] =
            Layout::horizontal([Constraint::Fill(1), Constraint::Length(4), Constraint::Fill(1)]).areas(area);
        frame.render_widget(Paragraph::new(set(here, left)), left);
        self.scroll.draw(frame, right, set(words, right), click_targets);
    }
}

/// From this width on the words of the trade stand beside the rest.
const WIDE: u16 = 130;
/// Cells of the widest line.
const LINE: u16 = 100;

/// Why the step at hand is done, and the keys of the place one came from.
fn here(model: &Model) -> Vec<Paragraphed> {
    let before = model.place_before().unwrap_or(model.place());
    let typing = before.typing(&model.desk);
    let mut paragraphs = if matches!(before, Place::Trials(_)) { line_of_trials() } else { Vec::new() };
    paragraphs.extend(worth_a_look(&model.desk));
    paragraphs.extend(before.step(&model.desk).into_iter().flat_map(reasons));
    paragraphs.push(Paragraphed::Heading(places::keys_of(before.title())));
    paragraphs.extend(before.live(&model.desk).into_iter().filter_map(|action| {
        let row = binding(action);
        let keys = row.all_shown(typing);
        (!keys.is_empty()).then(|| Paragraphed::Entry(keys, row.meaning.to_owned()))
    }));
    if typing != Typing::Nothing {
        let edits =
            phrase::intake::EDITS.map(|[keys, meaning]| Paragraphed::Entry(keys.into(), meaning.into()));
        paragraphs.extend(edits);
    }
    if typing == Typing::Figure {
        paragraphs.push(Paragraphed::Text(String::new()));
        paragraphs.push(Paragraphed::Text(phrase::intake::TYPING_REPLACES.to_owned()));
    }
    paragraphs.push(Paragraphed::Text(String::new()));
    paragraphs.push(Paragraphed::Text(places::LEAVING_LOSES_NOTHING.to_owned()));
    paragraphs
}

/// Every warning in full: where one works there may be room for the first only.
fn worth_a_look(desk: &Desk) -> Vec<Paragraphed> {
    let warnings = desk.session.as_ref().map_or_else(Vec::new, |session| warnings::sentences(session, desk));
    let heading = (!warnings.is_empty()).then(|| Paragraphed::Heading(phrase::guide::WARNINGS.to_owned()));
    heading.into_iter().chain(warnings.into_iter().map(Paragraphed::Text)).collect()
}

/// What the one line of quick trials takes.
fn line_of_trials() -> Vec<Paragraphed> {
    let heading = Paragraphed::Heading(phrase::trials::LINE.to_owned());
    let forms = phrase::trials::FORMS.map(|[form, meaning]| Paragraphed::Entry(form.into(), meaning.into()));
    std::iter::once(heading).chain(forms).collect()
}

/// The words of the trade.
fn words() -> Vec<Paragraphed> {
    let entry = |term: &phrase::Term| {
        let unit = term.unit.as_deref().map(places::unit).unwrap_or_default();
        Paragraphed::Entry(term.term.clone(), format!("{}{unit}", term.meaning))
    };
    let heading = Paragraphed::Heading(places::WORDS.to_owned());
    std::iter::once(heading).chain(phrase::glossary().iter().map(entry)).collect()
}

/// Why the present step is done.
fn reasons(step: Step) -> Vec<Paragraphed> {
    let words = phrase::step(step);
    let why = words.why.iter().map(|sentence| Paragraphed::Text(sentence.clone()));
    std::iter::once(Paragraphed::Heading(places::why(&words.title))).chain(why).collect()
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
