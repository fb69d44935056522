//! The settings: a list in which every change holds at once, from the same frame on, and is kept at once.
//!
//! A choice is turned with the arrows, a figure or a band of aim is typed. A file that cannot be read is shown with all its
//! faults and never written over. Not here: the file (`archive::settings_file`), what is read from a typed line (`line`).

mod drawing;
mod line;

pub use drawing::draw;

use super::neighbour;
use crate::archive::form;
use crate::assets;
use crate::phrase;
use crate::screen::effect::Effect;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Notice, OpenSession, Reply};
use crate::screen::part::field::Field;
use crate::screen::settled::Filed;
use crate::settings::{Glyphs, Ink, RateRow, Setting, Settings, StartingSprings};
use crate::units::UnitSet;

/// How many lines a page goes.
const PAGE: usize = 6;

/// The list of settings.
#[derive(Debug)]
pub struct SettingsList {
    marked: usize,
    /// The settings before each change that can be taken back.
    before: Vec<Settings>,
    typing: Option<Typed>,
    /// A line left before it was accepted, to be found again.
    set_aside: Option<Typed>,
    /// An invented session, for a wide screen to show how things look.
    sample: Option<Box<OpenSession>>,
}

/// A line being typed, and what it is for.
#[derive(Debug)]
struct Typed {
    what: Line,
    field: Field,
    /// What stood in the field when it was opened.
    opened_with: String,
}

/// What a typed line is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Line {
    /// The ruler.
    Ruler,
    /// A row of rates.
    RateRow,
    /// The band at this place.
    Band(usize),
    /// Another band.
    NewBand,
}

/// A line of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Row {
    /// A setting of its own.
    Of(Setting),
    /// A band of aim, by its place.
    Band(usize),
    /// To bring the trade's bands back.
    TradesBands,
}

impl Default for SettingsList {
    fn default() -> Self {
        let sample = assets::DEMONSTRATIONS.first().and_then(|demonstration| {
            let read = form::read(demonstration.text).ok()?;
            OpenSession::to_look_at(read.record).ok().map(Box::new)
        });
        Self { marked: 0, before: Vec::new(), typing: None, set_aside: None, sample }
    }
}

impl SettingsList {
    /// The actions live here, in the order of the footer.
    pub fn live(&self, desk: &Desk) -> Vec<Action> {
        if matches!(desk.settled.filed, Filed::Unreadable(_)) {
            return vec![Action::Back];
        }
        if self.typing.is_some() {
            return vec![Action::Accept, Action::Back];
        }
        let mut live = vec![Action::Accept, Action::Next, Action::Previous];
        match self.row(desk) {
            Row::Of(Setting::Ruler) | Row::TradesBands => {}
            Row::Of(_) => live.extend([Action::ChoiceRight, Action::ChoiceLeft]),
            Row::Band(_) => live.push(Action::Remove),
        }
        live.extend([Action::Add, Action::PageDown, Action::PageUp, Action::Back]);
        if !self.before.is_empty() {
            live.push(Action::TakeBack);
        }
        live
    }

    /// What the focused field takes.
    pub fn typing(&self) -> Typing {
        match self.typing.as_ref().map(|typed| typed.what) {
            None => Typing::Nothing,
            Some(Line::Ruler | Line::RateRow) => Typing::Figure,
            Some(Line::Band(_) | Line::NewBand) => Typing::Text,
        }
    }

    /// The place of the marked line; there may be fewer bands than when it was marked.
    fn marked(&self, desk: &Desk) -> usize {
        self.marked.min(rows(desk.settled.settings()).len().saturating_sub(1))
    }

    /// The marked line.
    fn row(&self, desk: &Desk) -> Row {
        let rows = rows(desk.settled.settings());
        rows.get(self.marked(desk)).copied().unwrap_or(Row::Of(Setting::Units))
    }

    /// Opens a line, or the same one as it was left.
    fn open(&mut self, what: Line, text: &str) {
        let same = self.set_aside.take().filter(|aside| aside.what == what && aside.opened_with == text);
        let fresh = || Typed { what, field: Field::holding(text), opened_with: text.to_owned() };
        self.typing = Some(same.unwrap_or_else(fresh));
    }

    /// Lets changed settings hold, and has them kept.
    fn change(&mut self, desk: &mut Desk, change: impl FnOnce(&mut Settings)) -> Reply {
        let before = desk.settled.settings().clone();
        let mut settings = before.clone();
        change(&mut settings);
        self.before.push(before);
        hold(desk, settings)
    }
}

/// Every line of the list.
fn rows(settings: &Settings) -> Vec<Row> {
    let bands = (0..settings.aims.all().len()).map(Row::Band);
    let trades = settings.aims.lacks_the_trades().then_some(Row::TradesBands);
    Setting::ALL.into_iter().map(Row::Of).chain(bands).chain(trades).collect()
}

/// Takes a key in.
pub fn update(list: &mut SettingsList, desk: &mut Desk, pressed: Pressed) -> Reply {
    if list.typing.is_some() {
        return type_line(list, desk, pressed);
    }
    let end = rows(desk.settled.settings()).len().saturating_sub(1);
    let marked = list.marked(desk);
    let action = match pressed {
        Pressed::Line(place) => {
            list.marked = place;
            return Reply::stay();
        }
        Pressed::Edit(_) => return Reply::stay(),
        Pressed::Action(action) => action,
    };
    match action {
        Action::Next => list.marked = (marked + 1).min(end),
        Action::Previous => list.marked = marked.saturating_sub(1),
        Action::PageDown => list.marked = (marked + PAGE).min(end),
        Action::PageUp => list.marked = marked.saturating_sub(PAGE),
        Action::ChoiceRight => return turn(list, desk, 1),
        Action::ChoiceLeft => return turn(list, desk, -1),
        Action::Accept => return enter(list, desk),
        Action::Add => list.open(Line::NewBand, ""),
        Action::Remove => {
            if let Row::Band(place) = list.row(desk) {
                return list.change(desk, |settings| settings.aims.remove(place));
            }
        }
        Action::TakeBack => {
            return list.before.pop().map_or_else(Reply::stay, |settings| hold(desk, settings));
        }
        Action::Back => return Reply::going(Go::Back),
        _ => {}
    }
    Reply::stay()
}

fn hold(desk: &mut Desk, settings: Settings) -> Reply {
    desk.settle(settings.clone());
    Reply::asking(vec![Effect::KeepSettings(Box::new(settings))])
}

/// What Enter does to the marked line: opens what is typed, turns what is chosen.
fn enter(list: &mut SettingsList, desk: &mut Desk) -> Reply {
    let (settings, units) = (desk.settled.settings(), desk.units);
    match list.row(desk) {
        Row::Of(Setting::Ruler) => {
            let text = units.show(settings.ruler.least_difference());
            list.open(Line::Ruler, &text);
        }
        Row::Of(Setting::Springs) => {
            let row = match settings.springs {
                StartingSprings::Row(row) => row,
                _ => RateRow::USUAL,
            };
            list.open(Line::RateRow, &phrase::settings::row_line(row));
        }
        Row::Band(place) => {
            if let Some(band) = settings.aims.all().get(place) {
                let text = phrase::settings::band_line(band, units);
                list.open(Line::Band(place), &text);
            }
        }
        Row::TradesBands => return list.change(desk, |settings| settings.aims.bring_back_the_trades()),
        Row::Of(_) => return turn(list, desk, 1),
    }
    Reply::stay()
}

/// Turns the marked choice so many places on, round and round.
fn turn(list: &mut SettingsList, desk: &mut Desk, by: isize) -> Reply {
    let Row::Of(setting) = list.row(desk) else { return Reply::stay() };
    list.change(desk, |settings| match setting {
        Setting::Units => settings.units = neighbour(&UnitSet::ALL, settings.units, by),
        Setting::Theme => settings.ink = neighbour(&or_none(Ink::ALL), settings.ink, by),
        Setting::Glyphs => settings.glyphs = neighbour(&or_none(Glyphs::ALL), settings.glyphs, by),
        Setting::Mouse => settings.mouse = settings.mouse.other(),
        Setting::Springs => settings.springs = other_springs(settings.springs, by),
        Setting::Ruler => {}
    })
}

/// Nothing chosen, and each choice.
fn or_none<T>(all: impl IntoIterator<Item = T>) -> Vec<Option<T>> {
    std::iter::once(None).chain(all.into_iter().map(Some)).collect()
}

/// The shop's rack, a row of rates, nothing, and round again; a row of one's own stays a row.
fn other_springs(springs: StartingSprings, by: isize) -> StartingSprings {
    let row = match springs {
        StartingSprings::Row(row) => row,
        _ => RateRow::USUAL,
    };
    let all = [StartingSprings::ShopRack, StartingSprings::Row(row), StartingSprings::Nothing];
    neighbour(&all, springs, by)
}

/// Takes a key into the line being typed.
fn type_line(list: &mut SettingsList, desk: &mut Desk, pressed: Pressed) -> Reply {
    let Some(typed) = &mut list.typing else { return Reply::stay() };
    match pressed {
        Pressed::Edit(edit) => typed.field.edit(edit),
        Pressed::Action(Action::Back) => {
            list.set_aside = list.typing.take().filter(|line| line.field.text() != line.opened_with);
            if list.set_aside.is_some() {
                desk.say(Notice::Said(phrase::rack::SET_ASIDE.to_owned()));
            }
        }
        Pressed::Action(Action::Accept) => return accept(list, desk),
        Pressed::Action(_) | Pressed::Line(_) => {}
    }
    Reply::stay()
}

/// Takes the line in; one that cannot be read stays.
fn accept(list: &mut SettingsList, desk: &mut Desk) -> Reply {
    let Some(typed) = &list.typing else { return Reply::stay() };
    let what = typed.what;
    match line::read(what, typed.field.text(), desk.settled.settings(), desk.units) {
        Err(notice) => {
            desk.say(notice);
            Reply::stay()
        }
        Ok(settings) => {
            list.typing = None;
            if what == Line::NewBand {
                list.marked = Setting::ALL.len() + settings.aims.all().len() - 1;
            }
            if settings == *desk.settled.settings() {
                return Reply::stay();
            }
            list.change(desk, |there| *there = settings)
        }
    }
}

/// A sentence to say.
fn said(sentence: String) -> Notice {
    Notice::Said(sentence)
}
