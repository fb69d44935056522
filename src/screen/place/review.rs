//! All past sessions of the folder, newest first, search as you type.
//!
//! A search line is always focused: letters belong to it, and commands are keys that no text needs. The list is there at
//! once from what is remembered; what changed since is looked for behind it and told as it comes. Not here: what is found
//! (`archive::search`), one session in full (`page`).

mod columns;
pub mod page;
mod past;
pub mod past_session;

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Component, compare, tally as tally_place};
use crate::archive::SessionName;
use crate::archive::index::{Contents, IndexedSession};
use crate::phrase;
use crate::phrase::places;
use crate::screen::catalogue::{Catalogue, ScanProgress};
use crate::screen::click_targets::{ClickTargets, ListInSight};
use crate::screen::control::List;
use crate::screen::effect::Effect;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Notice, Reply};
use crate::screen::part::field::{self, TextField};
use crate::screen::part::session_preview;
use crate::session::Stamp;
use crate::text::Shown;

/// From this width on the marked session is previewed beside the list.
const WIDE: u16 = 126;
/// Cells of the preview.
const BESIDE: u16 = 40;
/// Lines above the list: a blank one, the search line, a blank one, the headings.
const ABOVE: u16 = 4;

/// The search line, which session of those found is marked, and those picked for comparing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Review {
    field: TextField,
    list: List,
    /// By name: they stay picked whatever is found next.
    picked: Vec<SessionName>,
}

impl Review {
    /// Picks a session, or lets it go; where no more can be picked, says so.
    fn pick(&mut self, name: SessionName) -> Result<(), String> {
        match self.picked.iter().position(|picked| *picked == name) {
            Some(place) => drop(self.picked.remove(place)),
            None if self.picked.len() == compare::MOST => {
                return Err(phrase::review::enough_picked(compare::MOST));
            }
            None => self.picked.push(name),
        }
        Ok(())
    }

    /// The marked place; what is found may have become less since it was marked.
    fn marked(&self, catalogue: &Catalogue) -> usize {
        self.list.marked(catalogue.found())
    }
}

impl Component for Review {
    fn title(&self) -> &'static str {
        places::REVIEW
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        let some = desk.catalogue.as_ref().is_some_and(|catalogue| catalogue.found() > 0);
        let mut live = if some { vec![Action::Accept, Action::Pick, Action::Forget] } else { Vec::new() };
        if self.picked.len() > 1 {
            live.push(Action::Compare);
        }
        live.extend([
            Action::Next,
            Action::Previous,
            Action::PageDown,
            Action::PageUp,
            Action::Tally,
            Action::Back,
        ]);
        live
    }

    fn typing(&self, _: &Desk) -> Typing {
        Typing::Text
    }

    fn enter(&self, _: &Desk) -> Option<String> {
        Some(phrase::enter::OPEN.to_owned())
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        update(self, desk, pressed)
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        draw(frame, area, self, &model.desk, click_targets);
    }
}

/// Takes a key in.
fn update(review: &mut Review, desk: &mut Desk, pressed: Pressed) -> Reply {
    let Some(catalogue) = &mut desk.catalogue else {
        return if pressed == Pressed::Action(Action::Back) { Reply::going(Go::Back) } else { Reply::stay() };
    };
    let marked = review.marked(catalogue);
    if review.list.take(&pressed, catalogue.found(), desk.window) {
        return Reply::stay();
    }
    match pressed {
        Pressed::Edit(edit) => {
            review.field.edit(edit);
            catalogue.ask(review.field.text());
            review.list = List::default();
        }
        Pressed::Action(Action::Back) if review.field.is_empty() => return Reply::going(Go::Back),
        Pressed::Action(Action::Back) => {
            review.field.clear();
            catalogue.ask("");
            review.list = List::default();
        }
        Pressed::Action(Action::Accept) => {
            let look = catalogue.at(marked).map(|session| Effect::LookAt(session.name.clone()));
            return Reply::asking(look.into_iter().collect());
        }
        Pressed::Action(Action::Pick) => {
            let name = catalogue.at(marked).map(|session| session.name.clone());
            if let Some(Err(words)) = name.map(|name| review.pick(name)) {
                desk.say(Notice::Said(words));
            }
        }
        Pressed::Action(Action::Forget) => {
            if let Some(Contents::Read(summary)) = catalogue.at(marked).map(|session| &session.contents) {
                return Reply::asking(vec![Effect::Trace(summary.customer.clone())]);
            }
            desk.say(Notice::Said(phrase::forget::NAMELESS.to_owned()));
        }
        Pressed::Action(Action::Tally) => return tally_place::open(),
        Pressed::Action(Action::Compare) if review.picked.len() > 1 => {
            return Reply::asking(vec![Effect::Compare(review.picked.clone())]);
        }
        Pressed::Line(_) | Pressed::Action(_) => {}
    }
    Reply::stay()
}

/// Draws it: of the list only the lines in sight.
fn draw(frame: &mut Frame<'_>, area: Rect, review: &Review, desk: &Desk, click_targets: &mut ClickTargets) {
    let Some(catalogue) = &desk.catalogue else { return };
    let side = if area.width < WIDE { 0 } else { BESIDE };
    let [area, _, beside] =
        Layout::horizontal([Constraint::Min(1), Constraint::Length(side.min(4)), Constraint::Length(side)])
            .areas(area);
    draw_preview(frame, beside, catalogue.at(review.marked(catalogue)), desk);
    let [above, list, below] =
        Layout::vertical([Constraint::Length(ABOVE), Constraint::Min(1), Constraint::Length(2)]).areas(area);
    let room = usize::from(list.height);
    let marked = review.marked(catalogue);
    let first = marked.saturating_sub(room / 2).min(catalogue.found().saturating_sub(room));
    let in_sight = || (first..first + room).filter_map(|place| catalogue.at(place));
    let longest = in_sight().map(|session| columns::customer_width(session, list.width)).max().unwrap_or(0);
    let legend =
        if columns::has_signs(list.width, in_sight()) { phrase::review::DEMONSTRATION_LEGEND } else { "" };
    let columns = columns::ReviewColumns::of(list.width, longest);
    draw_search(frame, above, review, &columns, desk);
    let line = |place: usize| {
        let session = catalogue.at(place)?;
        let mark = if place == marked { "▸" } else { " " };
        let picked = if review.picked.contains(&session.name) { phrase::review::PICKED } else { " " };
        let line = columns.line(&format!("{mark}{picked}"), session, desk);
        Some(if place == marked { line.style(desk.theme.marked()) } else { line })
    };
    let mut lines: Vec<Line<'_>> = (first..catalogue.found().min(first + room)).filter_map(line).collect();
    click_targets.list(list, ListInSight { first, count: lines.len(), marked: Some(marked) });
    if catalogue.all().is_empty() && *catalogue.check() == ScanProgress::Done {
        lines.push(Line::raw(phrase::review::NONE_YET));
    }
    frame.render_widget(Paragraph::new(lines), list);
    frame.render_widget(
        Paragraph::new(vec![Line::raw(""), tally(review, catalogue, legend, below.width, desk)]),
        below,
    );
}

/// The marked session beside the list, where there is room for it.
fn draw_preview(frame: &mut Frame<'_>, area: Rect, marked: Option<&IndexedSession>, desk: &Desk) {
    let Some(session) = marked.filter(|_| !area.is_empty()) else { return };
    match &session.contents {
        Contents::Read(summary) => {
            let names = [&summary.customer, &summary.bike].into_iter().filter(|name| !name.is_empty());
            let name = names.map(|name| name.shown().fitted(60)).collect::<Vec<_>>().join(" · ");
            let opened = summary.opened.format("%-d %B %Y, %H:%M").to_string();
            session_preview::draw(frame, area, Some(&summary.work), [name, opened], desk);
        }
        Contents::Unreadable { because, .. } => {
            let because = Shown::from(because.as_str()).fitted(200);
            session_preview::draw(frame, area, None, [session.name.to_string(), because], desk);
        }
    }
}

fn draw_search(
    frame: &mut Frame<'_>,
    area: Rect,
    review: &Review,
    columns: &columns::ReviewColumns,
    desk: &Desk,
) {
    let theme = desk.theme;
    let label = format!("{}  ", phrase::review::FIND);
    let label_width = u16::try_from(label.len()).unwrap_or(0);
    let lines = vec![
        Line::raw(""),
        Line::styled(label, theme.strong()),
        Line::raw(""),
        Line::styled(columns.headings(desk.units), theme.quiet()),
    ];
    frame.render_widget(Paragraph::new(lines), area);
    let width = area.width.saturating_sub(label_width);
    let line =
        Rect { x: area.x + label_width.min(area.width), y: area.y.saturating_add(1), width, height: 1 };
    let line = line.intersection(area);
    let field_line = Rect { width: line.width.min(36), ..line };
    let beside = Rect { x: line.x + field_line.width, width: line.width - field_line.width, ..line };
    field::draw(frame, field_line, &review.field, theme);
    if review.field.is_empty() {
        let takes = Span::styled(format!("  {}", phrase::review::FIND_TAKES), theme.quiet());
        frame.render_widget(Paragraph::new(takes), beside);
    }
}

/// How many were found and picked, what signs say, and how far the look for changes has come.
fn tally(
    review: &Review,
    catalogue: &Catalogue,
    legend: &'static str,
    width: u16,
    desk: &Desk,
) -> Line<'static> {
    let theme = desk.theme;
    let found = phrase::review::found(catalogue.found(), catalogue.all().len());
    let picked = match review.picked.len() {
        0 => String::new(),
        count => format!("   {}", phrase::review::picked(count)),
    };
    let (check, style) = match catalogue.check() {
        ScanProgress::UnderWay { files, of } => (phrase::review::looking(*files, *of), theme.text()),
        ScanProgress::Done => (String::new(), theme.text()),
        ScanProgress::Failed(because) => (because.clone(), theme.alert()),
    };
    let legend = if legend.is_empty() { String::new() } else { format!("   {legend}") };
    let room = usize::from(width).saturating_sub(found.len() + picked.len() + legend.len() + 3);
    let check = Shown::from(check.as_str()).fitted(room);
    Line::from(vec![
        Span::raw(found),
        Span::styled(picked, theme.accent()),
        Span::styled(legend, theme.quiet()),
        Span::raw("   "),
        Span::styled(check, style),
    ])
}
