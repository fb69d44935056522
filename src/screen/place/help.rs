//! Help, a layer over the place one works at: its keys, why its step is done, and on a second page the words of the trade.
//! What is typed narrows both pages.
//!
//! Not here: the texts (`screen::keys`, `phrase`, `assets/walk.ron`).

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::{Component, Place};
use crate::phrase::{self, places};
use crate::screen::LEAST;
use crate::screen::click_targets::{ClickTarget, ClickTargets};
use crate::screen::control::{Layer, LayerKey, Scroll};
use crate::screen::fuzzy;
use crate::screen::keys::{Action, Pressed, Typing, binding};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::screen::part::warnings;
use crate::screen::theme::Theme;
use crate::session::{Stamp, Step};
use crate::text::wrap::wrap;

/// Which page is turned to, what narrows it, and how far it is scrolled.
#[derive(Debug, Default)]
pub struct Help {
    layer: Layer,
    page: HelpPage,
    scroll: Scroll,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum HelpPage {
    /// The keys of the place beneath, and the reasons of its step.
    #[default]
    Here,
    /// The words of the trade.
    Words,
}

/// A heading, and what is under it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct HelpSection {
    heading: String,
    paragraphs: Vec<Paragraphed>,
}

/// A paragraph of the help.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Paragraphed {
    /// A key or a word, and what it means.
    Entry(String, String),
    Text(String),
}

impl Help {
    /// Both pages as far as they hold what is typed, and the one to show: where only the other holds it, that one.
    fn pages(&self, model: &Model) -> ([Vec<HelpSection>; 2], usize) {
        let pages = [here(model), words()].map(|page| narrowed(page, self.layer.query()));
        let turned = usize::from(self.page == HelpPage::Words);
        let shown =
            if pages[turned].is_empty() && !pages[1 - turned].is_empty() { 1 - turned } else { turned };
        (pages, shown)
    }
}

impl Component for Help {
    fn title(&self) -> &'static str {
        places::HELP
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn is_layer(&self) -> bool {
        true
    }

    fn typing(&self, _: &Desk) -> Typing {
        Typing::Figure
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Accept, Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back]
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        let other = if self.page == HelpPage::Here { places::TURN_TO_WORDS } else { places::TURN_TO_KEYS };
        Some(other.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        match self.layer.take(&pressed) {
            LayerKey::Closed => return Reply::going(Go::Back),
            LayerKey::Narrowed => self.scroll = Scroll::default(),
            LayerKey::Listed if pressed == Pressed::Action(Action::Accept) => {
                self.page = if self.page == HelpPage::Here { HelpPage::Words } else { HelpPage::Here };
                self.scroll = Scroll::default();
            }
            LayerKey::Listed => {
                self.scroll.take(&pressed, desk.window);
            }
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        let theme = model.desk.theme;
        let room = self.layer.draw(frame, area, places::HELP, model);
        let (pages, shown) = self.pages(model);
        let counts = pages.each_ref().map(|page| page.iter().map(|section| section.paragraphs.len()).sum());
        let heads = places::help_pages(counts[0], counts[1]);
        let head = |(page, name): (usize, String)| {
            let (mark, style) = if page == shown { ("▸ ", theme.strong()) } else { ("  ", theme.text()) };
            [Span::styled(mark, style), Span::styled(name, style), Span::raw("  ")]
        };
        let heads: Line<'_> = heads.into_iter().enumerate().flat_map(head).collect();
        frame.render_widget(heads, room.beside);
        click_targets.note(room.beside, ClickTarget::Key(Action::Accept));
        let mut lines: Vec<Line<'static>> = pages[shown]
            .iter()
            .flat_map(|section| set(section, usize::from(room.below.width), theme))
            .collect();
        // The first heading needs no line above it.
        lines.drain(..lines.len().min(1));
        if lines.is_empty() {
            lines.push(Line::raw(places::NOT_IN_HELP));
        }
        self.scroll.draw(frame, room.below, lines, click_targets);
    }
}

/// What holds the words typed; a heading that holds them keeps all under it.
fn narrowed(page: Vec<HelpSection>, query: &str) -> Vec<HelpSection> {
    let holds = |paragraph: &Paragraphed| match paragraph {
        Paragraphed::Entry(key, meaning) => fuzzy::holds(query, &format!("{key} {meaning}")),
        Paragraphed::Text(text) => fuzzy::holds(query, text),
    };
    let narrow = |mut section: HelpSection| {
        if !fuzzy::holds(query, &section.heading) {
            section.paragraphs.retain(holds);
        }
        (!section.paragraphs.is_empty()).then_some(section)
    };
    page.into_iter().filter_map(narrow).collect()
}

/// What is to be checked, what can be typed and pressed at the place beneath, and why its step is done.
fn here(model: &Model) -> Vec<HelpSection> {
    let ground = model.ground();
    let typing = ground.typing(&model.desk);
    let warnings = worth_a_look(&model.desk);
    let line = matches!(ground, Place::Trials(_)).then(line_of_trials);
    let mut keys: Vec<Paragraphed> = ground
        .live(&model.desk)
        .into_iter()
        .filter_map(|action| {
            let row = binding(action);
            let keys = row.all_shown(typing);
            (!keys.is_empty()).then(|| Paragraphed::Entry(keys, places::named(row.name, row.meaning)))
        })
        .collect();
    if typing != Typing::Nothing {
        let edits =
            phrase::intake::EDITS.map(|[keys, meaning]| Paragraphed::Entry(keys.into(), meaning.into()));
        keys.extend(edits);
    }
    if typing == Typing::Figure {
        keys.push(Paragraphed::Text(phrase::intake::TYPING_REPLACES.to_owned()));
    }
    keys.push(Paragraphed::Text(places::LEAVING_LOSES_NOTHING.to_owned()));
    let keys = HelpSection { heading: places::keys_of(ground.title()), paragraphs: keys };
    let why = ground.step(&model.desk).map(reasons);
    line.into_iter().chain(warnings).chain([keys]).chain(why).collect()
}

/// Every warning in full: where one works there may be room for the first only.
fn worth_a_look(desk: &Desk) -> Option<HelpSection> {
    let warnings = warnings::sentences(desk.session.as_ref()?, desk);
    let paragraphs: Vec<Paragraphed> = warnings.into_iter().map(Paragraphed::Text).collect();
    (!paragraphs.is_empty()).then(|| HelpSection { heading: phrase::guide::WARNINGS.to_owned(), paragraphs })
}

/// What the one line of quick trials takes.
fn line_of_trials() -> HelpSection {
    let forms = phrase::trials::FORMS.map(|[form, meaning]| Paragraphed::Entry(form.into(), meaning.into()));
    HelpSection { heading: phrase::trials::LINE.to_owned(), paragraphs: forms.into() }
}

/// The words of the trade.
fn words() -> Vec<HelpSection> {
    let entry = |term: &phrase::Term| {
        let unit = term.unit.as_deref().map(places::unit).unwrap_or_default();
        Paragraphed::Entry(term.term.clone(), format!("{}{unit}", term.meaning))
    };
    let paragraphs = phrase::glossary().iter().map(entry).collect();
    vec![HelpSection { heading: places::WORDS.to_owned(), paragraphs }]
}

/// Why the present step is done.
fn reasons(step: Step) -> HelpSection {
    let words = phrase::step(step);
    let why = words.why.iter().map(|sentence| Paragraphed::Text(sentence.clone()));
    HelpSection { heading: places::why(&words.title), paragraphs: why.collect() }
}

fn set(section: &HelpSection, width: usize, theme: Theme) -> Vec<Line<'static>> {
    let heading = [Line::raw(""), Line::styled(section.heading.clone(), theme.strong()), Line::raw("")];
    let below = section.paragraphs.iter().flat_map(|paragraph| paragraph_lines(paragraph, width, theme));
    heading.into_iter().chain(below).collect()
}

fn paragraph_lines(paragraph: &Paragraphed, width: usize, theme: Theme) -> Vec<Line<'static>> {
    const KEYS: usize = 20;
    match paragraph {
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
