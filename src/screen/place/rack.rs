//! The shop's rack: its springs listed, added, changed, counted and removed. Every change is on disk at once, and each can be
//! taken back until the rack is left.
//!
//! A file that cannot be read is shown with all its faults and never written over. Not here: the file
//! (`archive::rack_file`), the line of a spring (`line`).

mod drawing;
mod line;
mod shelf;

use ratatui::Frame;
use ratatui::layout::Rect;

use super::Component;
use crate::phrase::{self, places};
use crate::screen::click_targets::ClickTargets;
use crate::screen::control::{Confirm, List, TypedKey, TypedLine};
use crate::screen::effect::{Effect, ShopRack};
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Model, Notice, Reply};
use crate::session::shop_rack::mark_twice;
use crate::session::{Refusal, ShopSpring, Stamp};
use crate::text::mark::Mark;

/// The most of one kind.
const MOST_OF_A_KIND: u8 = 99;

/// The most there may be of this one: a mark is of one spring.
fn most_of(spring: &ShopSpring) -> u8 {
    if spring.marked.is_some() { 1 } else { MOST_OF_A_KIND }
}

/// The rack being looked at and changed.
#[derive(Debug, Default)]
pub struct RackPlace {
    /// The springs as last changed, while the file has not taken them.
    changed: Option<Vec<ShopSpring>>,
    /// The springs before each change that can be taken back.
    before: Vec<Vec<ShopSpring>>,
    list: List,
    /// The spring being typed: the place it changes, none for a new one.
    line: TypedLine<Option<usize>>,
    /// The line that reads in two ways and was asked about.
    asked: Option<String>,
    /// Whether leaving what the file did not take was asked about.
    leaving: Confirm<()>,
}

impl RackPlace {
    /// The rack with a spring marked.
    pub fn at(spring: usize) -> Self {
        let mut rack = Self::default();
        rack.list.mark(spring);
        rack
    }

    /// The springs as they stand.
    fn springs<'a>(&'a self, desk: &'a Desk) -> &'a [ShopSpring] {
        self.changed.as_deref().unwrap_or(desk.shelf.rack.kinds())
    }

    fn marked(&self, desk: &Desk) -> usize {
        self.list.marked(self.springs(desk).len())
    }

    /// Changes the springs and has them kept.
    fn change(&mut self, desk: &Desk, change: impl FnOnce(&mut Vec<ShopSpring>)) -> Reply {
        let before = self.springs(desk).to_vec();
        let mut springs = before.clone();
        change(&mut springs);
        if springs == before {
            return Reply::stay();
        }
        self.before.push(before);
        self.keep(springs)
    }

    fn change_marked(&mut self, desk: &Desk, change: impl FnOnce(&mut ShopSpring)) -> Reply {
        let marked = self.marked(desk);
        self.change(desk, |springs| {
            springs.get_mut(marked).map(change);
        })
    }

    fn keep(&mut self, springs: Vec<ShopSpring>) -> Reply {
        self.changed = Some(springs.clone());
        Reply::asking(vec![Effect::KeepRack(springs)])
    }

    /// Takes in that the file has the changes.
    pub fn saved(&mut self) {
        self.changed = None;
    }

    /// Takes the line in; one that cannot be read stays.
    fn accept(&mut self, desk: &mut Desk) -> Reply {
        let Some((place, text)) = self.line.typed() else { return Reply::stay() };
        let before = place.and_then(|place| self.springs(desk).get(place));
        // A line that was not touched keeps figures finer than it shows.
        let untouched = before.filter(|spring| phrase::rack::line(spring, desk.units) == text);
        let read = untouched.map_or_else(|| line::read(text, desk.units), |spring| Ok(vec![*spring]));
        let question = line::question(text, desk.units).filter(|_| untouched.is_none());
        match read {
            Ok(kinds) => {
                if let (Some(question), true) = (question, self.asked.as_deref() != Some(text)) {
                    self.asked = Some(text.to_owned());
                    desk.say(Notice::Said(question));
                    return Reply::stay();
                }
                if let Some(mark) = self.taken(desk, place, &kinds) {
                    desk.say(Notice::Refused(Refusal::SameMarkTwice(mark)));
                    return Reply::stay();
                }
                self.asked = None;
                self.list.mark(place.unwrap_or(usize::MAX));
                self.line.close();
                self.change(desk, |springs| match place.filter(|place| *place < springs.len()) {
                    Some(place) => drop(springs.splice(place..=place, kinds)),
                    None => springs.extend(kinds),
                })
            }
            Err(notice) => {
                desk.say(notice);
                Reply::stay()
            }
        }
    }

    /// The mark of these springs that another on the rack bears already.
    fn taken(&self, desk: &Desk, place: Option<usize>, kinds: &[ShopSpring]) -> Option<Mark> {
        let others = self.springs(desk).iter().enumerate().filter(|(other, _)| Some(*other) != place);
        mark_twice(others.map(|(_, other)| other).chain(kinds).filter_map(ShopSpring::mark))
    }

    /// One level back. What the file did not take is tried once more, and only then left behind.
    fn back(&mut self, asked: Confirm<()>) -> Reply {
        match self.changed.clone() {
            Some(springs) if !asked.stands() => {
                self.leaving.once(());
                self.keep(springs)
            }
            _ => Reply::going(Go::Back),
        }
    }
}

impl Component for RackPlace {
    fn title(&self) -> &'static str {
        places::RACK
    }

    fn actions(&self, desk: &Desk) -> Vec<Action> {
        use Action as A;
        if matches!(desk.shelf.rack, ShopRack::Unreadable(_)) {
            return vec![A::Back];
        }
        if self.line.typed().is_some() {
            return vec![A::Accept, A::Back];
        }
        let mut live = Vec::new();
        if !self.springs(desk).is_empty() {
            live.extend([A::Accept, A::Remove, A::ChoiceRight, A::ChoiceLeft]);
        }
        live.extend([A::Add, A::Next, A::Previous, A::PageDown, A::PageUp, A::Back]);
        live.extend((!self.before.is_empty()).then_some(A::Undo));
        live
    }

    fn takes_spring(&self, _: &Desk) -> bool {
        self.line.typed().is_none() && self.changed.is_none()
    }

    fn take_spring(&mut self, _: &Desk, spring: usize) {
        self.list.mark(spring);
    }

    fn typing(&self, _: &Desk) -> Typing {
        if self.line.typed().is_some() { Typing::Figure } else { Typing::Nothing }
    }

    fn update(&mut self, desk: &mut Desk, pressed: Pressed, _: Stamp) -> Reply {
        let asked = std::mem::take(&mut self.leaving);
        match self.line.take(&pressed, desk) {
            Some(TypedKey::Accepted) => return self.accept(desk),
            Some(TypedKey::Taken) => return Reply::stay(),
            None => {}
        }
        let marked = self.marked(desk);
        if self.list.take(&pressed, self.springs(desk).len(), desk.window) {
            return Reply::stay();
        }
        let Pressed::Action(action) = pressed else { return Reply::stay() };
        match action {
            Action::ChoiceRight => {
                return self.change_marked(desk, |spring| {
                    spring.count = (spring.count + 1).min(most_of(spring));
                });
            }
            Action::ChoiceLeft => {
                return self.change_marked(desk, |spring| spring.count = spring.count.saturating_sub(1));
            }
            Action::Remove => {
                return self.change(desk, |springs| {
                    if marked < springs.len() {
                        springs.remove(marked);
                    }
                });
            }
            Action::Undo => {
                let springs = self.before.pop();
                return springs.map_or_else(Reply::stay, |springs| self.keep(springs));
            }
            Action::Add => self.line.open(None, ""),
            Action::Accept => {
                if let Some(spring) = self.springs(desk).get(marked) {
                    let text = phrase::rack::line(spring, desk.units);
                    self.line.open(Some(marked), &text);
                }
            }
            Action::Back => return self.back(asked),
            _ => {}
        }
        Reply::stay()
    }

    fn draw(&self, frame: &mut Frame<'_>, area: Rect, model: &Model, click_targets: &mut ClickTargets) {
        drawing::draw(frame, area, self, &model.desk, click_targets);
    }
}
