//! The settings: a list in which every change holds at once, from the same frame on, and is kept at once.
//!
//! A choice is turned with the arrows, a figure or a band of aim is typed. A file that cannot be read is shown with all its
//! faults and never written over. Not here: the file (`archive::settings_file`), what is read from a typed line (`line`).

mod drawing;
mod line;

use ratatui::Frame;
use ratatui::layout::Rect;

use super::{Component, neighbour};
use crate::archive::form;
use crate::assets;
use crate::phrase::{self, places};
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::{self, List, TypedKey};
use crate::screen::effect::Effect;
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Notice, OpenSession, Reply};
use crate::screen::settings_in_force::SettingsFileState;
use crate::session::Stamp;
use crate::settings::{Glyphs, Ink, PaperLine, RateRow, Setting, Settings, StartingSprings};
use crate::units::UnitSet;

/// The list of settings.
#[derive(Debug)]
pub struct SettingsList {
    list: List,
    /// The settings before each change that can be taken back.
    before: Vec<Settings>,
    line: control::TypedLine<SettingsEntry>,
    /// An invented session, for a wide screen to show how things look.
    sample: Option<Box<OpenSession>>,
}

/// What a typed line is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SettingsEntry {
    /// The ruler.
    Ruler,
    /// A row of rates.
    RateRow,
    /// The band at this place.
    Band(usize),
    /// Another band.
    NewBand,
    /// A line of the shop's paper.
    Paper(PaperLine),
}

/// A line of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum SettingsRow {
    /// A setting of its own.
    Of(Setting),
    /// A band of aim, by its place.
    Band(usize),
    /// To bring the trade's bands back.
    TradesBands,
    /// A line of the shop's paper.
    Paper(PaperLine),
}

impl Default for SettingsList {
    fn default() -> Self {
        let sample = assets::DEMONSTRATIONS.first().and_then(|demonstration| {
            let read = form::read(demonstration.text).ok()?;
            OpenSession::to_look_at(read.record).ok().map(Box::new)
        });
        Self { list: List::default(), before: Vec::new(), line: control::TypedLine::default(), sample }
    }
}

impl SettingsList {
    /// The place of the marked line.
    fn marked(&self, desk: &Desk) -> usize {
        self.list.marked(rows(desk.settled.settings()).len())
    }

    /// The marked line.
    fn row(&self, desk: &Desk) -> SettingsRow {
        let rows = rows(desk.settled.settings());
        rows.get(self.marked(desk)).copied().unwrap_or(SettingsRow::Of(Setting::Units))
    }

    /// Lets changed settings hold, and has them kept.
    fn change(&mut self, desk: &mut Desk, change: impl FnOnce(&mut Settings)) -> Reply {
        let before = desk.settled.settings().clone();
        let mut settings = before.clone();
        change(&mut settings);
        self.before.push(before);
        hold(desk, settings)
    }

    /// Takes the line in; one that cannot be read stays.
    fn accept(&mut self, desk: &mut Desk) -> Reply {
        let Some((what, text)) = self.line.typed() else { return Reply::stay() };
        match line::read(what, text, desk.settled.settings(), desk.units) {
            Err(notice) => {
                desk.say(notice);
                Reply::stay()
            }
            Ok(settings) => {
                self.line.close();
                if what == SettingsEntry::NewBand {
                    self.list.mark(Setting::ALL.len() + settings.target_ranges.all().len() - 1);
                }
                if settings == *desk.settled.settings() {
                    return Reply::stay();
                }
                self.change(desk, |there| *there = settings)
            }
        }
    }
}

impl Component for SettingsList {
    fn title(&self) -> &'static str {
        places::SETTINGS
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        use Action as A;
        if matches!(desk.settled.filed, SettingsFileState::Unreadable(_)) {
            return vec![A::Back];
        }
        if self.line.typed().is_some() {
            return vec![A::Accept, A::Back];
        }
        let mut live = vec![A::Accept, A::Next, A::Previous];
        match self.row(desk) {
            SettingsRow::Of(Setting::Ruler) | SettingsRow::TradesBands | SettingsRow::Paper(_) => {}
            SettingsRow::Of(_) => live.extend([A::ChoiceRight, A::ChoiceLeft]),
            SettingsRow::Band(_) => live.push(A::Remove),
        }
        live.extend([A::Add, A::PageDown, A::PageUp, A::Back]);
        live.extend((!self.before.is_empty()).then_some(A::Undo));
        live
    }

    fn typing(&self, _: &Desk) -> Typing {
        match self.line.typed() {
            None => Typing::Nothing,
            Some((SettingsEntry::Ruler | SettingsEntry::RateRow, _)) => Typing::Figure,
            Some((SettingsEntry::Band(_) | SettingsEntry::NewBand | SettingsEntry::Paper(_), _)) => {
                Typing::Text
            }
        }
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        match self.line.take(&pressed, desk) {
            Some(TypedKey::Accepted) => return self.accept(desk),
            Some(TypedKey::Taken) => return Reply::stay(),
            None => {}
        }
        if self.list.take(&pressed, rows(desk.settled.settings()).len(), desk.window) {
            return Reply::stay();
        }
        let Pressed::Action(action) = pressed else { return Reply::stay() };
        match action {
            Action::ChoiceRight => return turn(self, desk, 1),
            Action::ChoiceLeft => return turn(self, desk, -1),
            Action::Accept => return enter(self, desk),
            Action::Add => self.line.open(SettingsEntry::NewBand, ""),
            Action::Remove => {
                if let SettingsRow::Band(place) = self.row(desk) {
                    return self.change(desk, |settings| settings.target_ranges.remove(place));
                }
            }
            Action::Undo => {
                return self.before.pop().map_or_else(Reply::stay, |settings| hold(desk, settings));
            }
            Action::Back => return Reply::going(Go::Back),
            _ => {}
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk, click_targets);
    }
}

/// Every line of the list.
fn rows(settings: &Settings) -> Vec<SettingsRow> {
    let bands = (0..settings.target_ranges.all().len()).map(SettingsRow::Band);
    let trades = settings.target_ranges.lacks_the_trades().then_some(SettingsRow::TradesBands);
    Setting::ALL
        .into_iter()
        .map(SettingsRow::Of)
        .chain(bands)
        .chain(trades)
        .chain(PaperLine::ALL.map(SettingsRow::Paper))
        .collect()
}

fn hold(desk: &mut Desk, settings: Settings) -> Reply {
    desk.settle(settings.clone());
    Reply::asking(vec![Effect::KeepSettings(Box::new(settings))])
}

/// What Enter does to the marked line: opens what is typed, turns what is chosen.
fn enter(list: &mut SettingsList, desk: &mut Desk) -> Reply {
    let (settings, units) = (desk.settled.settings(), desk.units);
    match list.row(desk) {
        SettingsRow::Of(Setting::Ruler) => {
            let text = units.show(settings.ruler.least_difference());
            list.line.open(SettingsEntry::Ruler, &text);
        }
        SettingsRow::Of(Setting::Springs) => {
            let row = match settings.springs {
                StartingSprings::Row(row) => row,
                _ => RateRow::USUAL,
            };
            list.line.open(SettingsEntry::RateRow, &phrase::settings::row_line(row));
        }
        SettingsRow::Band(place) => {
            if let Some(band) = settings.target_ranges.all().get(place) {
                let text = phrase::settings::band_line(band, units);
                list.line.open(SettingsEntry::Band(place), &text);
            }
        }
        SettingsRow::Paper(line) => {
            list.line.open(SettingsEntry::Paper(line), settings.paper.line(line).as_typed());
        }
        SettingsRow::TradesBands => {
            return list.change(desk, |settings| settings.target_ranges.bring_back_the_trades());
        }
        SettingsRow::Of(_) => return turn(list, desk, 1),
    }
    Reply::stay()
}

/// Turns the marked choice so many places on, round and round.
fn turn(list: &mut SettingsList, desk: &mut Desk, by: isize) -> Reply {
    let SettingsRow::Of(setting) = list.row(desk) else { return Reply::stay() };
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

/// A sentence to say.
fn said(sentence: String) -> Notice {
    Notice::Said(sentence)
}
