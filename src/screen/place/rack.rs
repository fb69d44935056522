//! The shop's rack: its springs listed, added, changed, counted and removed; saved only when asked, so that leaving without
//! saving takes everything back.
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
    /// The springs as changed so far; none while nothing was changed.
    changed: Option<Vec<ShopSpring>>,
    marked: usize,
    editing: Option<Editing>,
    leaving: Leaving,
}

/// A line being typed.
#[derive(Debug)]
struct Editing {
    /// The place it changes; none for a new one.
    place: Option<usize>,
    field: Field,
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
            Action::Save,
            Action::Next,
            Action::Previous,
            Action::PageDown,
            Action::PageUp,
            Action::Back,
        ]);
        live
    }

    /// What the focused field takes.
    pub fn typing(&self) -> Typing {
        if self.editing.is_some() { Typing::Figure } else { Typing::Nothing }
    }

    fn marked(&self, desk: &Desk) -> usize {
        self.marked.min(self.springs(desk).len().saturating_sub(1))
    }

    /// Changes the springs, not yet the file.
    fn change(&mut self, desk: &Desk, change: impl FnOnce(&mut Vec<ShopSpring>)) {
        let mut springs = self.springs(desk).to_vec();
        change(&mut springs);
        self.changed = Some(springs).filter(|springs| desk.shelf.rack != ShopRack::Read(springs.clone()));
    }
}

/// Takes a key in.
pub fn update(rack: &mut Rack, desk: &mut Desk, pressed: Pressed) -> Reply {
    let asked = std::mem::take(&mut rack.leaving);
    if rack.editing.is_some() {
        type_line(rack, desk, pressed);
        return Reply::stay();
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
        Action::ChoiceRight => count(rack, desk, |count| count.saturating_add(1).min(MOST_OF_A_KIND)),
        Action::ChoiceLeft => count(rack, desk, |count| count.saturating_sub(1)),
        Action::Remove => rack.change(desk, |springs| {
            if marked < springs.len() {
                springs.remove(marked);
            }
        }),
        Action::Add => rack.editing = Some(Editing { place: None, field: Field::default() }),
        Action::Accept => edit(rack, desk),
        Action::Save => return save(rack, desk),
        Action::Back => return back(rack, desk, asked),
        _ => {}
    }
    Reply::stay()
}

fn count(rack: &mut Rack, desk: &Desk, change: impl FnOnce(u8) -> u8) {
    let marked = rack.marked(desk);
    rack.change(desk, |springs| {
        if let Some(spring) = springs.get_mut(marked) {
            spring.count = change(spring.count);
        }
    });
}

/// Opens the line of the marked spring.
fn edit(rack: &mut Rack, desk: &Desk) {
    let place = rack.marked(desk);
    if let Some(spring) = rack.springs(desk).get(place) {
        let field = Field::holding(&phrase::rack::line(spring, desk.units));
        rack.editing = Some(Editing { place: Some(place), field });
    }
}

/// Takes a key into the line being typed.
fn type_line(rack: &mut Rack, desk: &mut Desk, pressed: Pressed) {
    let Some(editing) = &mut rack.editing else { return };
    match pressed {
        Pressed::Edit(edit) => editing.field.edit(edit),
        Pressed::Action(Action::Back) => rack.editing = None,
        Pressed::Action(Action::Accept) => accept(rack, desk),
        Pressed::Action(_) | Pressed::Line(_) => {}
    }
}

/// Takes the line in; one that cannot be read stays.
fn accept(rack: &mut Rack, desk: &mut Desk) {
    let Some(editing) = &rack.editing else { return };
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
            rack.change(desk, |springs| match place.and_then(|place| springs.get_mut(place)) {
                Some(there) => *there = spring,
                None => springs.push(spring),
            });
            rack.marked = place.unwrap_or(usize::MAX);
            rack.editing = None;
        }
        Err(notice) => desk.say(notice),
    }
}

fn save(rack: &mut Rack, desk: &mut Desk) -> Reply {
    if rack.changed.is_none() {
        desk.say(Notice::Said(phrase::rack::NOTHING_TO_SAVE.to_owned()));
    }
    Reply::asking(rack.changed.clone().map(Effect::KeepRack).into_iter().collect())
}

/// One level back; changes that were not saved are asked about first.
fn back(rack: &mut Rack, desk: &mut Desk, asked: Leaving) -> Reply {
    if rack.changed.is_some() && asked == Leaving::NotAsked {
        rack.leaving = Leaving::Asked;
        desk.say(Notice::Said(phrase::rack::LEAVING.to_owned()));
        return Reply::stay();
    }
    Reply::going(Go::Back)
}

/// Takes in that the file has the changes.
pub fn saved(rack: &mut Rack) {
    rack.changed = None;
}
