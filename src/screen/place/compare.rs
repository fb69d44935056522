//! Sessions side by side, oldest first, of one bike or picked by hand: their figures with the differences marked, their
//! sags against date, and the springs that sag more than they did on the same bike.
//!
//! Not here: what counts as more (`assessment::season`), and the words (`phrase::compare`).

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::Component;
use crate::archive::SessionName;
use crate::archive::index::Contents;
use crate::archive::search::fold;
use crate::assessment::Assessment;
use crate::assessment::season::{ComparedVisit, sags_more};
use crate::phrase;
use crate::phrase::compare::DateForm;
use crate::screen::catalogue::Catalogue;
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::Scroll;
use crate::screen::effect::{FoundRecord, PastRecord};
use crate::screen::keys::{Action, Pressed};
use crate::screen::model::{Desk, Go, Model, OpenSession, Reply};
use crate::session::{Intake, Setup, Stamp};
use crate::text::wrap::wrap;
use crate::text::{FreeText, Shown};

/// The most sessions compared, the newest.
pub const MOST: usize = 12;
/// Cells of the column of labels, the mark before a label among them.
const LABELS: usize = 22;
/// Cells of a session's column.
const COLUMN: usize = 18;
/// Before a row in which all sessions are alike.
const MARK_NONE: char = ' ';

/// The sessions compared.
#[derive(Debug)]
pub struct Compare {
    /// Oldest first; each has its details complete.
    sessions: Vec<OpenSession>,
    /// How many more were asked for, whose details are not complete or which cannot be read.
    incomplete: usize,
    scroll: Scroll,
}

impl Compare {
    /// The sessions among these that can be compared; none if they are not two.
    pub fn of(past: Vec<PastRecord>) -> Option<Self> {
        let asked = past.len();
        let readable = past.into_iter().filter_map(|one| match one.found {
            FoundRecord::Sound(record) | FoundRecord::Edited(record) | FoundRecord::Left { record, .. } => {
                OpenSession::to_look_at(record).ok()
            }
            FoundRecord::Unreadable { .. } => None,
        });
        let mut sessions: Vec<OpenSession> =
            readable.filter(|session| session.assessment.is_some()).collect();
        sessions.sort_by_key(|session| session.record.opened);
        let incomplete = asked - sessions.len();
        (sessions.len() > 1).then_some(Self { sessions, incomplete, scroll: Scroll::default() })
    }

    fn is_of_one_bike(&self) -> bool {
        self.sessions.windows(2).all(|pair| are_of_one_bike(&pair[0], &pair[1]))
    }

    /// How the sessions are told apart by when they were begun.
    fn when(&self) -> DateForm {
        DateForm::of(self.sessions.iter().map(|session| session.record.opened))
    }

    /// Every session with what it means.
    fn assessed(&self) -> impl Iterator<Item = (&OpenSession, &Setup, &Assessment)> {
        self.sessions.iter().filter_map(|session| {
            Some((session, session.state.setup.as_ref()?, session.assessment.as_ref()?))
        })
    }
}

/// Whose bike, and which: names folded, so that a capital or an accent makes no other bike. At least one of the two is
/// there: of sessions that name neither nobody can tell whether their bikes are one.
#[derive(Debug, PartialEq, Eq)]
struct Bike([String; 2]);

impl Bike {
    fn named(customer: &FreeText, bike: &FreeText) -> Option<Self> {
        let names = [customer, bike].map(|name| fold(name.as_typed()).trim().to_owned());
        names.iter().any(|name| !name.is_empty()).then_some(Self(names))
    }

    fn of(session: &OpenSession) -> Option<Self> {
        Self::named(&session.state.entered.customer, &session.state.entered.bike_name)
    }
}

fn are_of_one_bike(one: &OpenSession, other: &OpenSession) -> bool {
    Bike::of(one).is_some_and(|bike| Bike::of(other) == Some(bike))
}

/// The sessions of the same customer and bike as one of them, itself among them; none where it names neither.
pub fn of_one_bike(catalogue: &Catalogue, name: &SessionName) -> Vec<SessionName> {
    let all = catalogue.all();
    let summary = |contents: &Contents| match contents {
        Contents::Read(summary) => Bike::named(&summary.customer, &summary.bike),
        Contents::Unreadable { .. } => None,
    };
    let Some(wanted) = all.iter().find(|one| one.name == *name).and_then(|one| summary(&one.contents)) else {
        return Vec::new();
    };
    let same = all.iter().filter(|one| summary(&one.contents).as_ref() == Some(&wanted));
    same.take(MOST).map(|one| one.name.clone()).collect()
}

impl Component for Compare {
    fn title(&self) -> &'static str {
        if self.is_of_one_bike() { phrase::compare::ONE_BIKE } else { phrase::compare::SIDE_BY_SIDE }
    }

    fn actions(&self, _: &Desk) -> Vec<Action> {
        vec![Action::Next, Action::Previous, Action::PageDown, Action::PageUp, Action::Back]
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        if pressed == Pressed::Action(Action::Back) {
            return Reply::going(Go::Back);
        }
        self.scroll.take(&pressed, desk.window);
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        self.scroll.draw(frame, area, lines(self, usize::from(area.width), &model.desk), click_targets);
    }
}

fn lines(compare: &Compare, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let mut lines = table(compare, width, desk);
    lines.extend(odd(compare, width, desk));
    lines.extend(sags(compare, width, desk));
    lines
}

/// The figures of the newest sessions there is room for.
fn table(compare: &Compare, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let (theme, units) = (desk.theme, desk.units);
    let room = (width.saturating_sub(LABELS) / COLUMN).max(1);
    let left_out = compare.sessions.len().saturating_sub(room);
    let shown: Vec<_> = compare.assessed().skip(left_out).collect();
    let when = compare.when();
    let days = shown.iter().map(|(session, ..)| when.figures(session.record.opened));
    let mut lines = heads(compare, desk);
    lines.push(Line::styled(row(MARK_NONE, "", days), theme.strong()));
    lines.extend(names(compare, &shown, desk));
    let figures: Vec<[String; 11]> = shown
        .iter()
        .map(|(session, setup, assessment)| {
            phrase::compare::figures(setup, &session.state, assessment, units)
        })
        .collect();
    for (index, label) in phrase::compare::ROWS.into_iter().enumerate() {
        let texts = figures.iter().map(|one| one[index].clone());
        let same = figures.windows(2).all(|pair| pair[0][index] == pair[1][index]);
        let (mark, style) =
            if same { (MARK_NONE, theme.text()) } else { (phrase::compare::DIFFERS, theme.strong()) };
        lines.push(Line::styled(row(mark, label, texts), style));
    }
    lines.push(Line::styled(phrase::compare::LEGEND, theme.quiet()));
    if left_out > 0 {
        lines.push(Line::styled(phrase::compare::left_out(left_out), theme.quiet()));
    }
    if compare.incomplete > 0 {
        lines.push(Line::styled(phrase::compare::incomplete(compare.incomplete), theme.alert()));
    }
    lines
}

/// Whose bike it is, where all are of one.
fn heads(compare: &Compare, desk: &Desk) -> Vec<Line<'static>> {
    let mut lines = vec![Line::raw("")];
    if let Some(session) = compare.sessions.last().filter(|_| compare.is_of_one_bike()) {
        let entered = &session.state.entered;
        let whose = phrase::compare::whose(&entered.customer, &entered.bike_name);
        lines.push(Line::styled(whose, desk.theme.title()));
        lines.push(Line::raw(""));
    }
    lines
}

/// Customer and bike of each, where they are not all of one.
fn names(
    compare: &Compare,
    shown: &[(&OpenSession, &Setup, &Assessment)],
    desk: &Desk,
) -> Vec<Line<'static>> {
    if compare.is_of_one_bike() {
        return Vec::new();
    }
    let line = |label: &str, name: fn(&Intake) -> &FreeText| {
        let names: Vec<_> = shown.iter().map(|(session, ..)| name(&session.state.entered).shown()).collect();
        let same = names.windows(2).all(|pair| pair[0] == pair[1]);
        let mark = if same { MARK_NONE } else { phrase::compare::DIFFERS };
        let texts = names.iter().map(ToString::to_string);
        Line::styled(row(mark, label, texts), desk.theme.strong())
    };
    let [customer, bike] = phrase::compare::NAMES;
    vec![line(customer, |entered| &entered.customer), line(bike, |entered| &entered.bike_name)]
}

fn row(mark: char, label: &str, texts: impl Iterator<Item = String>) -> String {
    let mut line = format!("{:<LABELS$}", format!("{mark} {label}"));
    for text in texts {
        let text = Shown::from(text.as_str()).fitted(COLUMN - 2);
        line.push_str(&" ".repeat(COLUMN - 2 - text.width()));
        line.push_str(&text);
        line.push_str("  ");
    }
    line
}

/// Springs that sag more than they did on the same bike, from each session to every later one; nothing where no two
/// sessions are of one bike.
fn odd(compare: &Compare, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let sessions: Vec<_> = compare.assessed().collect();
    let mut said: Vec<String> = Vec::new();
    let mut of_one_bike = false;
    let when = compare.when();
    for (index, (later, setup, assessment)) in sessions.iter().enumerate() {
        let after = ComparedVisit { setup, sets: &assessment.sets };
        let of_the_bike = sessions[..index].iter().filter(|(earlier, ..)| are_of_one_bike(earlier, later));
        for (earlier, setup, assessment) in of_the_bike {
            of_one_bike = true;
            let before = ComparedVisit { setup, sets: &assessment.sets };
            let (from, to) = (earlier.record.opened, later.record.opened);
            let more = sags_more(before, after).into_iter();
            said.extend(more.map(|more| phrase::compare::more_sag(&more, from, to, when, desk.units)));
        }
    }
    if !of_one_bike {
        return Vec::new();
    }
    let mut lines = vec![Line::raw(""), heading(phrase::compare::WORTH_A_LOOK, desk)];
    let set = |text: &str, style: Style| {
        wrap(text, width).into_iter().map(move |line| Line::styled(line, style)).collect::<Vec<_>>()
    };
    if said.is_empty() {
        lines.push(Line::raw(phrase::compare::NOTHING_ODD));
    } else {
        lines.extend(said.iter().flat_map(|text| set(text, desk.theme.alert())));
        lines.extend(set(phrase::compare::MORE_SAG_MEANS, desk.theme.text()));
    }
    lines
}

/// The customer in a column of its own.
fn customer(session: &OpenSession) -> String {
    let name = session.state.entered.customer.shown().fitted(COLUMN - 2);
    let blanks = " ".repeat(COLUMN - 2 - name.width());
    name + &blanks
}

/// Every set of readings on one scale, time going down.
fn sags(compare: &Compare, width: usize, desk: &Desk) -> Vec<Line<'static>> {
    let sets: Vec<_> = compare
        .assessed()
        .flat_map(|(session, setup, assessment)| assessment.sets.iter().map(move |set| (session, setup, set)))
        .collect();
    let (of_one_bike, when) = (compare.is_of_one_bike(), compare.when());
    let percent = |set: &crate::assessment::SetFinding| set.sag.value.as_percent();
    let least = sets.iter().map(|(_, _, set)| percent(set)).fold(f64::INFINITY, f64::min).floor();
    let most = sets.iter().map(|(_, _, set)| percent(set)).fold(0.0, f64::max).ceil();
    let mut lines = vec![Line::raw(""), heading(phrase::compare::SAGS, desk)];
    for (session, setup, set) in sets {
        let entered = phrase::compare::sag(&when.figures(session.record.opened), set, setup, desk.units);
        let entered = if of_one_bike { entered } else { format!("{entered}  {}", customer(session)) };
        let room = width.saturating_sub(entered.width() + 3).min(60);
        let share = (percent(set) - least) / (most - least).max(1.0);
        let place = (0..room).rfind(|cell| *cell as f64 <= share * room.saturating_sub(1) as f64);
        let strip: String = (0..room).map(|cell| if Some(cell) == place { '●' } else { '·' }).collect();
        lines.push(Line::from(vec![Span::raw(entered + "  "), Span::styled(strip, desk.theme.accent())]));
    }
    lines
}

fn heading(text: &str, desk: &Desk) -> Line<'static> {
    Line::styled(text.to_owned(), desk.theme.title())
}
