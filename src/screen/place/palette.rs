//! Everything that can be done now, in one list that letters narrow: the actions of the table of keys, the springs of the rack
//! where one can be used, and, while no session is open, every past session.
//!
//! What answers a question or ticks a check is not in it: that is answered where it is read. Nor is what only moves the mark.
//! Not here: doing what was chosen (`update`), and how letters find a name (`fuzzy`).

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use super::{Component, Place};
use crate::archive::SessionName;
use crate::archive::index::{Contents, IndexedSession};
use crate::phrase::{self, palette as words, places};
use crate::screen::LEAST;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::{Layer, LayerKey, List};
use crate::screen::fuzzy;
use crate::screen::keys::{Action, Pressed, Typing, binding};
use crate::screen::model::{Desk, Go, Model, Reply};
use crate::screen::theme::Theme;
use crate::session::Stamp;
use crate::text::Shown;
use crate::text::wrap::wrap;

/// The most sessions listed at once; typing finds the others.
const MOST_SESSIONS: usize = 100;

/// The list, and what the place beneath it offers.
#[derive(Debug)]
pub struct Palette {
    layer: Layer,
    list: List,
    /// The actions of the place beneath, with the key of each.
    actions: Vec<(Action, String)>,
    springs: SpringUse,
    /// The sessions that what is typed finds, with how many there are besides.
    sessions: Vec<PaletteItem>,
    more: usize,
}

/// What a spring of the rack is good for at the place beneath.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SpringUse {
    Nothing,
    /// It is shown on the rack.
    Shown,
    /// It goes onto the line of quick trials.
    Typed,
}

/// What can be chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PaletteChoice {
    /// An action of the table of keys.
    Action(Action),
    /// A past session.
    Session(SessionName),
    /// A spring, by its place on the rack.
    Spring(usize),
}

/// A line of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
struct PaletteItem {
    choice: PaletteChoice,
    name: String,
    /// The letters that were hit.
    letters: Vec<usize>,
    /// What stands at the right: the key, or what it is.
    aside: String,
}

impl Palette {
    /// The palette of a place.
    pub fn over(ground: &Place, desk: &Desk) -> Self {
        let typing = ground.typing(desk);
        let offered = |action: &Action| !action.moves() && !action.answers() && *action != Action::Palette;
        let keyed = |action: Action| Some((action, binding(action).shown(typing)?));
        let springs = match (&desk.session, ground.takes_spring(desk)) {
            (Some(_), true) => SpringUse::Typed,
            (Some(_), false) => SpringUse::Nothing,
            (None, _) => SpringUse::Shown,
        };
        let mut actions: Vec<_> = ground.live(desk).into_iter().filter(offered).filter_map(keyed).collect();
        // An Enter too many, before anything is typed, does no harm.
        actions.sort_by_key(|(action, _)| *action != Action::Help);
        Self {
            layer: Layer::default(),
            list: List::default(),
            actions,
            springs,
            sessions: Vec::new(),
            more: 0,
        }
    }

    /// What is marked.
    pub fn choice(&self, desk: &Desk) -> Option<PaletteChoice> {
        self.marked(desk).map(|item| item.choice)
    }

    fn marked(&self, desk: &Desk) -> Option<PaletteItem> {
        let mut items = self.items(desk);
        let marked = self.list.marked(items.len());
        (marked < items.len()).then(|| items.swap_remove(marked))
    }

    /// Actions and springs by how well they are found, then the sessions.
    fn items(&self, desk: &Desk) -> Vec<PaletteItem> {
        let query = self.layer.query();
        let mut found: Vec<_> = self.actions(query).chain(self.springs(query, desk)).collect();
        found.sort_by(|(one, _), (other, _)| one.cmp(other));
        let sessions = if query.trim().is_empty() { newest(desk).0 } else { self.sessions.clone() };
        found.into_iter().map(|(_, item)| item).chain(sessions).collect()
    }

    /// By the name first; one whose meaning alone has the words comes behind.
    fn actions(&self, query: &str) -> impl Iterator<Item = (Option<FoundBy>, PaletteItem)> {
        self.actions.iter().filter_map(move |(action, key)| {
            let row = binding(*action);
            let by_name = fuzzy::find(query, row.name);
            let by_meaning = || fuzzy::holds(query, row.meaning).then_some(FoundBy::Meaning);
            let letters = by_name.as_ref().map(|hit| hit.letters.clone()).unwrap_or_default();
            let by = by_name.map(FoundBy::Name).or_else(by_meaning)?;
            let (choice, name) = (PaletteChoice::Action(*action), row.name.to_owned());
            Some((ranked(query, by), PaletteItem { choice, name, letters, aside: key.clone() }))
        })
    }

    fn springs(&self, query: &str, desk: &Desk) -> impl Iterator<Item = (Option<FoundBy>, PaletteItem)> {
        let kinds = if self.springs == SpringUse::Nothing { &[] } else { desk.shelf.rack.kinds() };
        kinds.iter().enumerate().filter_map(move |(place, spring)| {
            let name = phrase::rack::line(spring, desk.units);
            let hit = fuzzy::find(query, &name)?;
            let (choice, letters) = (PaletteChoice::Spring(place), hit.letters.clone());
            let item = PaletteItem { choice, name, letters, aside: words::SPRING.to_owned() };
            Some((ranked(query, FoundBy::Name(hit)), item))
        })
    }

    /// Looks for past sessions as the list of them does; none while a session is open, whose place they would take.
    fn find_sessions(&mut self, desk: &mut Desk) {
        (self.sessions, self.more) = (Vec::new(), 0);
        let Some(catalogue) = desk.catalogue.as_mut().filter(|_| desk.session.is_none()) else { return };
        let found = catalogue.find(self.layer.query());
        self.more = found.len().saturating_sub(MOST_SESSIONS);
        let listed = found.into_iter().take(MOST_SESSIONS).filter_map(|place| catalogue.all().get(place));
        self.sessions = listed.map(session).collect();
    }

    /// What choosing the line does, in a sentence and for the footer.
    fn says(&self, choice: &PaletteChoice) -> [&'static str; 2] {
        match (choice, self.springs) {
            (PaletteChoice::Action(action), _) => [binding(*action).meaning, binding(*action).name],
            (PaletteChoice::Session(_), _) => [words::SESSION_MEANING, words::LOOK_AT],
            (PaletteChoice::Spring(_), SpringUse::Typed) => [words::SPRING_ON_THE_LINE, words::TYPE_SWAP],
            (PaletteChoice::Spring(_), _) => [words::SPRING_MEANING, words::SHOW_SPRING],
        }
    }
}

/// How something was found, the best first.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
enum FoundBy {
    Name(fuzzy::FuzzyMatch),
    Meaning,
}

/// Nothing typed leaves everything in its order.
fn ranked(query: &str, by: FoundBy) -> Option<FoundBy> {
    (!query.trim().is_empty()).then_some(by)
}

/// The newest sessions, and how many there are besides.
fn newest(desk: &Desk) -> (Vec<PaletteItem>, usize) {
    let Some(catalogue) = desk.catalogue.as_ref().filter(|_| desk.session.is_none()) else {
        return (Vec::new(), 0);
    };
    let all = catalogue.all();
    (all.iter().take(MOST_SESSIONS).map(session).collect(), all.len().saturating_sub(MOST_SESSIONS))
}

fn session(session: &IndexedSession) -> PaletteItem {
    let name = match &session.contents {
        Contents::Read(summary) => words::session(&summary.customer, &summary.bike, &summary.opened),
        Contents::Unreadable { .. } => session.name.to_string(),
    };
    let choice = PaletteChoice::Session(session.name.clone());
    PaletteItem { choice, name, letters: Vec::new(), aside: words::SESSION.to_owned() }
}

impl Component for Palette {
    fn title(&self) -> &'static str {
        places::PALETTE
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

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        let some = self.marked(desk).map(|_| Action::Accept);
        let moves = [Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back];
        some.into_iter().chain(moves).collect()
    }

    fn enter(&self, desk: &Desk) -> Option<String> {
        let marked = self.marked(desk)?;
        let [_, enter] = self.says(&marked.choice);
        Some(enter.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        match self.layer.take(&pressed) {
            LayerKey::Closed => return Reply::going(Go::Back),
            LayerKey::Narrowed => {
                self.list = List::default();
                self.find_sessions(desk);
            }
            LayerKey::Listed => {
                self.list.take(&pressed, self.items(desk).len(), desk.window);
            }
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        let (desk, theme) = (&model.desk, model.desk.theme);
        let room = self.layer.draw(frame, area, places::PALETTE, model);
        let [list, _, below] =
            Layout::vertical([Constraint::Min(1), Constraint::Length(1), Constraint::Length(2)])
                .areas(room.below);
        let items = self.items(desk);
        let marked = self.list.marked(items.len());
        let says = items.get(marked).map_or(words::NOTHING_FOUND, |item| self.says(&item.choice)[0]);
        let said = wrap(says, usize::from(below.width)).into_iter().map(Line::raw);
        frame.render_widget(Paragraph::new(said.collect::<Vec<_>>()), below);
        let more = if self.layer.query().trim().is_empty() { newest(desk).1 } else { self.more };
        let set = |(place, item)| (line(item, place == marked, usize::from(list.width), theme), Some(place));
        let mut lines: Vec<_> = items.iter().enumerate().map(set).collect();
        lines.extend((more > 0).then(|| (Line::styled(words::more_sessions(more), theme.quiet()), None)));
        self.list.draw(frame, list, lines, desk.window, Some(click_targets));
    }
}

/// A line: the mark, the name with the letters hit underlined, and at the right what it is.
fn line(item: &PaletteItem, is_marked: bool, width: usize, theme: Theme) -> Line<'static> {
    let (mark, ground) = if is_marked { ("▸ ", theme.marked()) } else { ("  ", theme.text()) };
    let name = Shown::from(item.name.as_str()).fitted(width.saturating_sub(item.aside.width() + 4));
    let gap = width.saturating_sub(name.width() + item.aside.width() + 2);
    let inked = |(place, letter): (usize, char)| {
        let hit = if item.letters.contains(&place) { theme.field() } else { Style::new() };
        Span::styled(letter.to_string(), ground.patch(hit))
    };
    let mut spans = vec![Span::styled(mark, ground)];
    spans.extend(name.chars().enumerate().map(inked));
    spans.push(Span::styled(" ".repeat(gap), ground));
    spans.push(Span::styled(item.aside.clone(), ground));
    Line::from(spans)
}
