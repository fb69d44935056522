//! The shop's rack: its springs listed, added, changed, counted and removed. Every change is on disk at once, and each can be
//! taken back until the rack is left.
//!
//! A file that cannot be read is shown with all its faults and never written over. Not here: the file
//! (`archive::rack_file`), the line of a spring (`line`).

mod drawing;
mod line;

pub use drawing::draw;

use crate::phrase;
use crate::screen::effect::{Effect, ShopRack};
use crate::screen::keys::{Action, Pressed, Typing};
use crate::screen::model::{Desk, Go, Notice, Reply};
use crate::screen::part::field::Field;
use crate::session::ShopSpring;

/// The most of one kind.
const MOST_OF_A_KIND: u8 = 99;
/// How many lines a page goes.
const PAGE: usize = 10;

/// The rack being looked at and changed.
#[derive(Debug, Default)]
pub struct Rack {
    /// The springs as last changed, while the file has not taken them.
    changed: Option<Vec<ShopSpring>>,
    /// The springs before each change that can be taken back.
    before: Vec<Vec<ShopSpring>>,
    marked: usize,
    editing: Option<Editing>,
    /// A line left before it was accepted, to be found again.
    set_aside: Option<Editing>,
    leaving: Leaving,
}

/// A line being typed.
#[derive(Debug)]
struct Editing {
    /// The place it changes; none for a new one.
    place: Option<usize>,
    field: Field,
    /// What stood in the field when it was opened.
    opened_with: String,
}

/// Whether leaving changes behind was asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Leaving {
    #[default]
    NotAsked,
    Asked,
}

impl Rack {
    /// The springs as they stand.
    fn springs<'a>(&'a self, desk: &'a Desk) -> &'a [ShopSpring] {
        match (&self.changed, &desk.shelf.rack) {
            (Some(changed), _) => changed,
            (None, ShopRack::Read(springs)) => springs,
            (None, ShopRack::Unreadable(_)) => &[],
        }
    }

    /// The actions live here, in the order of the footer.
    pub fn live(&self, desk: &Desk) -> Vec<Action> {
        if matches!(desk.shelf.rack, ShopRack::Unreadable(_)) {
            return vec![Action::Back];
        }
        if self.editing.is_some() {
            return vec![Action::Accept, Action::Back];
        }
        let mut live = Vec::new();
        if !self.springs(desk).is_empty() {
            live.extend([Action::Accept, Action::Remove, Action::ChoiceRight, Action::ChoiceLeft]);
        }
        live.extend([
            Action::Add,
            Action::Next,
            Action::Previous,
            Action::PageDown,
            Action::PageUp,
            Action::Back,
        ]);
        if !self.before.is_empty() {
            live.push(Action::TakeBack);
        }
        live
    }

    /// What the focused field takes.
    pub fn typing(&self) -> Typing {
        if self.editing.is_some() { Typing::Figure } else { Typing::Nothing }
    }

    fn marked(&self, desk: &Desk) -> usize {
        self.marked.min(self.springs(desk).len().saturating_sub(1))
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

    fn take_back(&mut self) -> Reply {
        let springs = self.before.pop();
        springs.map_or_else(Reply::stay, |springs| self.keep(springs))
    }

    fn keep(&mut self, springs: Vec<ShopSpring>) -> Reply {
        self.changed = Some(springs.clone());
        Reply::asking(vec![Effect::KeepRack(springs)])
    }

    /// Opens a line, or the same one as it was left.
    fn open(&mut self, place: Option<usize>, text: &str) {
        let same = self.set_aside.take().filter(|aside| aside.place == place && aside.opened_with == text);
        let fresh = || Editing { place, field: Field::holding(text), opened_with: text.to_owned() };
        self.editing = Some(same.unwrap_or_else(fresh));
    }
}

/// Takes a key in.
pub fn update(rack: &mut Rack, desk: &mut Desk, pressed: Pressed) -> Reply {
    let asked = std::mem::take(&mut rack.leaving);
    if rack.editing.is_some() {
        return type_line(rack, desk, pressed);
    }
    if let Pressed::Line(place) = pressed {
        rack.marked = place;
    }
    let Pressed::Action(action) = pressed else { return Reply::stay() };
    let last = rack.springs(desk).len().saturating_sub(1);
    let marked = rack.marked(desk);
    match action {
        Action::Next => rack.marked = (marked + 1).min(last),
        Action::Previous => rack.marked = marked.saturating_sub(1),
        Action::PageDown => rack.marked = (marked + PAGE).min(last),
        Action::PageUp => rack.marked = marked.saturating_sub(PAGE),
        Action::ChoiceRight => {
            return count(rack, desk, |count| count.saturating_add(1).min(MOST_OF_A_KIND));
        }
        Action::ChoiceLeft => return count(rack, desk, |count| count.saturating_sub(1)),
        Action::Remove => return remove(rack, desk, marked),
        Action::TakeBack => return rack.take_back(),
        Action::Add => rack.open(None, ""),
        Action::Accept => edit(rack, desk),
        Action::Back => return back(rack, asked),
        _ => {}
    }
    Reply::stay()
}

fn count(rack: &mut Rack, desk: &Desk, change: impl FnOnce(u8) -> u8) -> Reply {
    let marked = rack.marked(desk);
    rack.change(desk, |springs| {
        if let Some(spring) = springs.get_mut(marked) {
            spring.count = change(spring.count);
        }
    })
}

fn remove(rack: &mut Rack, desk: &Desk, marked: usize) -> Reply {
    rack.change(desk, |springs| {
        if marked < springs.len() {
            springs.remove(marked);
        }
    })
}

/// Opens the line of the marked spring.
fn edit(rack: &mut Rack, desk: &Desk) {
    let place = rack.marked(desk);
    if let Some(spring) = rack.springs(desk).get(place) {
        let text = phrase::rack::line(spring, desk.units);
        rack.open(Some(place), &text);
    }
}

/// Takes a key into the line being typed.
fn type_line(rack: &mut Rack, desk: &mut Desk, pressed: Pressed) -> Reply {
    let Some(editing) = &mut rack.editing else { return Reply::stay() };
    match pressed {
        Pressed::Edit(edit) => editing.field.edit(edit),
        Pressed::Action(Action::Back) => {
            rack.set_aside = rack.editing.take().filter(|line| line.field.text() != line.opened_with);
            if rack.set_aside.is_some() {
                desk.say(Notice::Said(phrase::rack::SET_ASIDE.to_owned()));
            }
        }
        Pressed::Action(Action::Accept) => return accept(rack, desk),
        Pressed::Action(_) | Pressed::Line(_) => {}
    }
    Reply::stay()
}

/// Takes the line in; one that cannot be read stays.
fn accept(rack: &mut Rack, desk: &mut Desk) -> Reply {
    let Some(editing) = &rack.editing else { return Reply::stay() };
    let place = editing.place;
    let before = place.and_then(|place| rack.springs(desk).get(place));
    let unchanged =
        before.is_some_and(|spring| phrase::rack::line(spring, desk.units) == editing.field.text());
    // A line that was not touched keeps figures finer than it shows.
    let read = match before {
        Some(spring) if unchanged => Ok(*spring),
        _ => line::read(editing.field.text(), desk.units),
    };
    match read {
        Ok(spring) => {
            rack.marked = place.unwrap_or(usize::MAX);
            rack.editing = None;
            rack.change(desk, |springs| match place.and_then(|place| springs.get_mut(place)) {
                Some(there) => *there = spring,
                None => springs.push(spring),
            })
        }
        Err(notice) => {
            desk.say(notice);
            Reply::stay()
        }
    }
}

/// One level back. What the file did not take is tried once more, and only then left behind.
fn back(rack: &mut Rack, asked: Leaving) -> Reply {
    match rack.changed.clone() {
        Some(springs) if asked == Leaving::NotAsked => {
            rack.leaving = Leaving::Asked;
            rack.keep(springs)
        }
        _ => Reply::going(Go::Back),
    }
}

/// Takes in that the file has the changes.
pub fn saved(rack: &mut Rack) {
    rack.changed = None;
}
