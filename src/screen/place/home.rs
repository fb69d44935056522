//! The first screen: go on with what is unfinished, begin something new, or look at what was done.
//!
//! Not here: past sessions in full (`review`).

mod words;

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

use words::{past_words, words};

use super::intake::{AfterForm, Form};
use super::rack::RackPlace;
use super::review::Review;
use super::settings::SettingsList;
use super::wire::WireForm;
use super::{Component, help, tally};
use crate::phrase::{self, places};
use crate::screen::click_targets::{ClickTargets, ListInSight};
use crate::screen::control::{Confirm, List};
use crate::screen::effect::{Effect, ListedSession, ListedSummary, SessionProgress, StorageState};
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, Notice, Reply};
use crate::screen::part::session_preview;
use crate::screen::{LEAST, is_full};
use crate::session::{Record, Stamp};
use crate::text::Shown;

/// The most unfinished sessions that are offered at once, and of the found ones.
const MOST_UNFINISHED: usize = 5;
const MOST_FOUND: usize = 3;
/// From this width on there is more to say of a choice than its name.
const DETAILED: u16 = 56;
/// From this width on the newest sessions stand beside the choices.
const WIDE: u16 = 116;

/// Which list of the first screen is shown, and the marked line of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Home {
    page: Page,
    list: List,
    /// The line whose session is to be discarded, asked about.
    asked: Confirm<usize>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Page {
    #[default]
    Top,
    Demonstrations,
}

impl Default for Home {
    fn default() -> Self {
        Self { page: Page::Top, list: List::ROUND, asked: Confirm::default() }
    }
}

/// Something to choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum HomeChoice {
    /// Go on with the past session of that place in the list.
    Continue(usize),
    /// The same with one whose record is not among the records any more.
    Found(usize),
    /// The newest session that is in two versions.
    Versions,
    New,
    Trials,
    Demonstrations,
    Past,
    Rack,
    Settings,
    Wire,
    Help,
    Quit,
    OpenDemonstration(usize),
}

impl Home {
    fn choices(self, desk: &Desk) -> Vec<HomeChoice> {
        match self.page {
            Page::Top => {
                let newest = &desk.shelf.past.newest;
                let mut unfinished: Vec<usize> =
                    (0..newest.len()).filter(|at| is_unfinished(&newest[*at])).collect();
                unfinished.sort_by_key(|at| std::cmp::Reverse(last_worked(&newest[*at])));
                unfinished.truncate(MOST_UNFINISHED);
                let found = (0..newest.len())
                    .filter(|at| !unfinished.contains(at) && is_found(&newest[*at]))
                    .take(MOST_FOUND)
                    .map(HomeChoice::Found);
                let rest = [
                    HomeChoice::New,
                    HomeChoice::Trials,
                    HomeChoice::Past,
                    HomeChoice::Rack,
                    HomeChoice::Wire,
                    HomeChoice::Settings,
                    HomeChoice::Demonstrations,
                    HomeChoice::Help,
                    HomeChoice::Quit,
                ];
                let in_two = (!desk.shelf.past.in_two_versions.is_empty()).then_some(HomeChoice::Versions);
                let unfinished = unfinished.iter().copied().map(HomeChoice::Continue);
                unfinished.chain(found).chain(in_two).chain(rest).collect()
            }
            Page::Demonstrations => {
                (0..desk.shelf.demonstrations.len()).map(HomeChoice::OpenDemonstration).collect()
            }
        }
    }
}

impl Home {
    /// The unfinished session that is marked, by its place in the list of the newest.
    fn marked_session(self, desk: &Desk) -> Option<usize> {
        let choices = self.choices(desk);
        match choices.get(self.list.marked(choices.len())) {
            Some(HomeChoice::Continue(index)) => Some(*index),
            _ => None,
        }
    }
}

impl Component for Home {
    fn title(&self) -> &'static str {
        places::HOME
    }

    fn least(&self) -> (u16, u16) {
        LEAST
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        let mut live = vec![Action::Accept, Action::Next, Action::Previous];
        if self.marked_session(desk).is_some() {
            live.push(Action::Remove);
        }
        if self.page == Page::Top && desk.shelf.discarded.is_some() {
            live.push(Action::Undo);
        }
        if self.page == Page::Top {
            live.push(Action::Tally);
        } else {
            live.extend([Action::PageDown, Action::PageUp, Action::Back]);
        }
        live
    }

    fn numbered(&self, desk: &Desk) -> usize {
        self.choices(desk).len()
    }

    fn enter(&self, desk: &Desk) -> Option<String> {
        let choices = self.choices(desk);
        let marked = choices.get(self.list.marked(choices.len()))?;
        Some(match marked {
            HomeChoice::Continue(_) | HomeChoice::Found(_) => phrase::enter::GO_ON.to_owned(),
            HomeChoice::OpenDemonstration(_) => phrase::enter::OPEN.to_owned(),
            other => phrase::enter::choice(&words(*other, desk).0),
        })
    }

    fn is_outermost(&self) -> bool {
        self.page == Page::Top
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, at: Stamp) -> Reply {
        update(self, desk, &pressed, at)
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        draw(frame, area, self, &model.desk, click_targets);
    }
}

/// Whether it is no record in the folder, so that the list of past sessions does not have it.
fn is_found(past: &ListedSession) -> bool {
    matches!(
        past.summary,
        ListedSummary::Read { progress: SessionProgress::FoundBeside | SessionProgress::FoundInSpool, .. }
    )
}

/// When something was last done in it; nothing of one that cannot be read.
fn last_worked(past: &ListedSession) -> Option<Stamp> {
    match &past.summary {
        ListedSummary::Read { work, .. } => Some(work.last_worked),
        ListedSummary::Unreadable(_) => None,
    }
}

fn is_unfinished(past: &ListedSession) -> bool {
    // A record that is gone may have been removed on purpose; one that never left the spool was not.
    matches!(
        past.summary,
        ListedSummary::Read { progress: SessionProgress::Unfinished | SessionProgress::FoundInSpool, .. }
    )
}

/// Takes a key in.
fn update(home: &mut Home, desk: &mut Desk, pressed: &Pressed, at: Stamp) -> Reply {
    let choices = home.choices(desk);
    if home.list.take(pressed, choices.len(), desk.window) {
        home.asked.forget();
        return Reply::stay();
    }
    match pressed {
        Pressed::Action(Action::Remove) => return discard(home, desk),
        Pressed::Action(Action::Undo) => {
            let back = desk.shelf.discarded.take().map(Effect::BringBack);
            return Reply::asking(back.into_iter().chain([Effect::List]).collect());
        }
        Pressed::Action(Action::Tally) => return tally::open(),
        Pressed::Action(Action::Back) => *home = Home::default(),
        Pressed::Action(Action::Accept) => {
            let choice = choices.get(home.list.marked(choices.len()));
            return choice.map_or_else(Reply::stay, |choice| choose(home, desk, *choice, at));
        }
        _ => {}
    }
    Reply::stay()
}

/// Puts the marked session into the wastebasket, once that was asked about.
fn discard(home: &mut Home, desk: &mut Desk) -> Reply {
    let Some(session) = home.marked_session(desk) else { return Reply::stay() };
    let Some(past) = desk.shelf.past.newest.get(session) else { return Reply::stay() };
    if !home.asked.once(session) {
        let (name, _) = past_words(desk, session);
        desk.say(Notice::Said(places::discard(&name)));
        return Reply::stay();
    }
    home.asked.forget();
    Reply::asking(vec![Effect::Discard(Some(past.name.clone())), Effect::List])
}

fn choose(home: &mut Home, desk: &mut Desk, choice: HomeChoice, at: Stamp) -> Reply {
    match choice {
        HomeChoice::New => begin(desk, AfterForm::Guide, at),
        HomeChoice::Trials => begin(desk, AfterForm::Trials, at),
        HomeChoice::Demonstrations => {
            *home = Home { page: Page::Demonstrations, ..Home::default() };
            Reply::stay()
        }
        HomeChoice::Past => {
            Reply { effects: vec![Effect::TakeStock, Effect::ReadRack], go: Go::To(Review::default().into()) }
        }
        HomeChoice::Rack => Reply {
            effects: vec![Effect::TakeStock, Effect::ReadRack],
            go: Go::To(RackPlace::default().into()),
        },
        HomeChoice::Settings => {
            Reply { effects: vec![Effect::ReadSettings], go: Go::To(SettingsList::default().into()) }
        }
        HomeChoice::Versions => {
            let newest = desk.shelf.past.in_two_versions.first();
            Reply::asking(newest.map(|name| Effect::SeeVersions(name.clone())).into_iter().collect())
        }
        HomeChoice::Wire => Reply::going(Go::To(WireForm::new(desk.units).into())),
        HomeChoice::Help => Reply::going(Go::To(help::Help::default().into())),
        HomeChoice::Quit => Reply::asking(vec![Effect::Leave]),
        HomeChoice::Continue(index) | HomeChoice::Found(index) => {
            let open = desk.shelf.past.newest.get(index).map(|past| Effect::Open(past.name.clone()));
            Reply::asking(open.into_iter().chain([Effect::ReadRack, Effect::TakeStock]).collect())
        }
        HomeChoice::OpenDemonstration(index) => {
            Reply::asking(vec![Effect::OpenDemonstration(index), Effect::ReadRack])
        }
    }
}

fn begin(desk: &mut Desk, then: AfterForm, at: Stamp) -> Reply {
    let record = Record::new(at);
    let form = Form::new(&record.intake).then(then, &record.intake);
    if desk.lay_out(record, StorageState::NothingYet).is_err() {
        return Reply::stay();
    }
    // The rack may have been changed since it was read, on the screen of another laptop or by hand.
    // All sessions are looked at behind the form, so that a customer who was here is known by the name.
    let effects = vec![Effect::Begin { opened: at }, Effect::ReadRack, Effect::TakeStock];
    Reply { effects, go: Go::To(form.into()) }
}

/// Draws it; where there is room, the newest sessions beside the choices.
fn draw(frame: &mut Frame<'_>, area: Rect, home: &Home, desk: &Desk, click_targets: &mut ClickTargets) {
    if area.width < WIDE || home.page != Page::Top || desk.shelf.past.newest.is_empty() {
        return draw_choices(frame, area, home, desk, click_targets);
    }
    let [main, _, side] =
        Layout::horizontal([Constraint::Min(1), Constraint::Length(4), Constraint::Length(42)]).areas(area);
    draw_choices(frame, main, home, desk, click_targets);
    let choices = home.choices(desk);
    if let Some(HomeChoice::Continue(index) | HomeChoice::Found(index)) =
        choices.get(home.list.marked(choices.len()))
        && let Some(past) = desk.shelf.past.newest.get(*index)
    {
        let (name, state) = past_words(desk, *index);
        let work = match &past.summary {
            ListedSummary::Read { work, .. } => Some(work),
            ListedSummary::Unreadable(_) => None,
        };
        return session_preview::draw(frame, side, work, [name, state], desk);
    }
    let mut lines = vec![Line::raw(""), Line::styled(places::NEWEST, desk.theme.strong()), Line::raw("")];
    let room = usize::from(side.height).saturating_sub(lines.len()) / 3;
    for index in 0..desk.shelf.past.newest.len().min(room) {
        let (name, detail) = past_words(desk, index);
        lines.extend([Line::raw(name), Line::styled(detail, desk.theme.quiet()), Line::raw("")]);
    }
    frame.render_widget(Paragraph::new(lines), side);
}

fn draw_choices(
    frame: &mut Frame<'_>,
    area: Rect,
    home: &Home,
    desk: &Desk,
    click_targets: &mut ClickTargets,
) {
    let theme = desk.theme;
    let choices = home.choices(desk);
    let marked = home.list.marked(choices.len());
    let full = is_full(frame.area());
    let mut lines = if full {
        vec![Line::raw(""), Line::styled(heading(*home), theme.strong()), Line::raw("")]
    } else {
        Vec::new()
    };
    let above = lines.len();
    let room = usize::from(area.height).saturating_sub(if full { 7 } else { 0 }).max(1);
    let first = marked.saturating_sub(room.saturating_sub(1));
    // The column follows the choices that are always there: the name of a customer would push it about.
    let names = |choice: &&HomeChoice| !matches!(choice, HomeChoice::Continue(_) | HomeChoice::Found(_));
    let lasting = choices.iter().filter(names).map(|choice| words(*choice, desk).0.width());
    let column = lasting.max().unwrap_or(0);
    let in_sight: Vec<HomeChoice> = choices.iter().skip(first).take(room).copied().collect();
    let mut shown: Vec<(String, String)> = in_sight.iter().map(|choice| words(*choice, desk)).collect();
    // What there is to say of a session stays whole, and a long name gives way to it; of the others the name does.
    for (choice, (label, detail)) in in_sight.iter().zip(&mut shown) {
        if area.width < DETAILED {
            detail.clear();
        } else if names(&choice) {
            *detail = Shown::from(detail.as_str()).fitted(usize::from(area.width).saturating_sub(column + 9));
        }
        let most = usize::from(area.width).saturating_sub(detail.width() + 9);
        *label = Shown::from(label.as_str()).fitted(most);
    }
    let above = u16::try_from(above).unwrap_or(0);
    let list = Rect { y: area.y.saturating_add(above), height: area.height.saturating_sub(above), ..area };
    click_targets.list(list, ListInSight { first, count: shown.len(), marked: Some(marked) });
    for (index, (label, detail)) in shown.into_iter().enumerate() {
        let here = first + index == marked;
        let (mark, style) = if here { ("▸ ", theme.marked()) } else { ("  ", theme.text()) };
        let gap = " ".repeat(column.saturating_sub(label.width()) + 3);
        let numeral = first + index + 1;
        let numeral = if numeral < 10 { format!("{numeral} ") } else { "  ".to_owned() };
        lines.push(Line::from(vec![
            Span::styled(mark, theme.accent()),
            Span::styled(numeral, theme.quiet()),
            Span::styled(format!(" {label} "), style),
            Span::styled(format!("{gap}{detail}"), theme.text()),
        ]));
    }
    if choices.is_empty() {
        lines.push(Line::raw(format!("  {}", places::NOTHING_HERE)));
    }
    if full {
        lines.push(Line::raw(""));
        lines.push(Line::styled(places::records_live_in(&desk.shelf.folder), theme.text()));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn heading(home: Home) -> &'static str {
    match home.page {
        Page::Top => places::HEADING,
        Page::Demonstrations => places::DEMONSTRATIONS_HEADING,
    }
}
