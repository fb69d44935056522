//! What every key and every answer of the shell does to the model, wherever one is.
//!
//! Keys that mean the same everywhere are dealt with here, all others go to the place. Not here: any I/O.

use chrono::SubsecRound;
use crossterm::event::{Event, KeyEvent, KeyEventKind, MouseButton, MouseEvent, MouseEventKind};
use ratatui::layout::Position;

use super::catalogue::{Catalogue, ScanProgress};
use super::click_targets::{ClickTarget, Extent};
use super::effect::{Answer, BackgroundNews, Effect, StorageState};
use super::keys::{self, Action, Edit, Pressed, Typing};
use super::model::{Go, Model, Notice};
use super::place::Place;
use super::place::compare::Compare;
use super::place::forget::Forget;
use super::place::help::Help;
use super::place::palette::{Palette, PaletteChoice};
use super::place::review::past_session::PastSession;
use super::place::versions::Versions;
use super::settings_in_force::SettingsFileState;
use crate::archive::index::ScanNews;
use crate::phrase;
use crate::phrase::guide::UnusedKey;
use crate::session::Stamp;

/// Takes an event of the terminal in.
pub fn event(model: &mut Model, event: Event, at: Stamp) -> Vec<Effect> {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => self::key(model, key, at),
        Event::Mouse(mouse) => self::mouse(model, mouse, at),
        // Lines are broken anew, so where somebody was in a caution says nothing any more.
        Event::Resize(..) => {
            model.desk.read_from = 0;
            Vec::new()
        }
        Event::Paste(text) if takes_text(model) => {
            model.desk.notice = None;
            model.forget_hits();
            let at = at.trunc_subsecs(0);
            model.press(Pressed::Edit(Edit::Insert(text)), at)
        }
        _ => Vec::new(),
    }
}

fn takes_text(model: &Model) -> bool {
    model.place().typing(&model.desk) != Typing::Nothing && shows_something(model)
}

/// Whether the window is large enough to show what keys do; where it is not, they do nothing that goes into a record.
fn shows_something(model: &Model) -> bool {
    !matches!(model.desk.extent, Extent::Nothing | Extent::OnlyTheWayBack)
}

/// What a key may do while the window is too small to show what comes of it.
fn may_be_done_blind(action: Action, extent: Extent) -> bool {
    match action {
        Action::Quit | Action::Leave | Action::Suspend | Action::Repaint => true,
        Action::Back => extent == Extent::OnlyTheWayBack,
        _ => false,
    }
}

/// A click does what the key at that spot does, the wheel goes up and down a list; where neither does anything here, nothing
/// is said, because a hand that only moves a mouse out of the way has asked for nothing.
fn mouse(model: &mut Model, mouse: MouseEvent, at: Stamp) -> Vec<Effect> {
    let spot = match mouse.kind {
        MouseEventKind::ScrollDown => Some(ClickTarget::Key(Action::Next)),
        MouseEventKind::ScrollUp => Some(ClickTarget::Key(Action::Previous)),
        MouseEventKind::Down(MouseButton::Left) => {
            model.click_targets().at(Position::new(mouse.column, mouse.row))
        }
        _ => None,
    };
    let pressed = match spot {
        Some(ClickTarget::Key(action)) => Pressed::Action(action),
        Some(ClickTarget::Marked) => Pressed::Action(Action::Accept),
        Some(ClickTarget::Line(place)) => Pressed::Line(place),
        None => return Vec::new(),
    };
    let is_live = match &pressed {
        Pressed::Action(action) => model.place().live(&model.desk).contains(action),
        _ => true,
    };
    if is_live { act(model, pressed, KeyEventKind::Press, at) } else { Vec::new() }
}

fn key(model: &mut Model, key: KeyEvent, at: Stamp) -> Vec<Effect> {
    let typing = model.place().typing(&model.desk);
    let mut live = model.place().live(&model.desk);
    if !shows_something(model) {
        live.retain(|action| may_be_done_blind(*action, model.desk.extent));
        return match keys::pressed(key, &live, typing) {
            Some(pressed @ Pressed::Action(_)) => act(model, pressed, key.kind, at),
            _ => Vec::new(),
        };
    }
    let lines = model.place().numbered(&model.desk);
    if let Some(place) = keys::numbered(key, typing).filter(|place| *place < lines) {
        let mut effects = act(model, Pressed::Line(place), key.kind, at);
        effects.extend(act(model, Pressed::Action(Action::Accept), key.kind, at));
        return effects;
    }
    let Some(pressed) = keys::pressed(key, &live, typing) else {
        let key = match keys::elsewhere(key, typing) {
            Some((Action::Accept, _)) => UnusedKey::Accept,
            Some((_, name)) => UnusedKey::Elsewhere(name),
            None => UnusedKey::Unbound,
        };
        let instead = model.place().what_to_do(&model.desk);
        model.desk.say(Notice::Said(phrase::guide::key_does_nothing(&key, instead.as_deref())));
        return Vec::new();
    };
    act(model, pressed, key.kind, at)
}

/// Does what a key or a click came to.
fn act(model: &mut Model, pressed: Pressed, kind: KeyEventKind, at: Stamp) -> Vec<Effect> {
    model.forget_hits();
    let answers = matches!(pressed, Pressed::Action(action) if action.answers());
    let held = kind == KeyEventKind::Repeat && model.place().asks(&model.desk);
    let too_soon = answers && model.answers_too_soon(at);
    if answers && (held || too_soon || model.asks_unseen()) {
        // What the last answer had to say stays: it was not read either.
        model.desk.notice.get_or_insert(Notice::Said(phrase::guide::ONE_AT_A_TIME.to_owned()));
        return Vec::new();
    }
    if answers && model.reads_on() {
        return Vec::new();
    }
    // Whole seconds in the record: nobody sits down more precisely than that.
    let at = at.trunc_subsecs(0);
    let warned = model.desk.notice.take() == Some(Notice::LeavingLoses);
    match pressed {
        Pressed::Action(Action::Quit | Action::Leave) if warned => vec![Effect::LetGo, Effect::Leave],
        Pressed::Action(Action::Quit | Action::Leave) => leave(model),
        Pressed::Action(Action::Suspend) => vec![Effect::Suspend],
        Pressed::Action(Action::Repaint) => vec![Effect::Repaint],
        Pressed::Action(Action::Units) => {
            model.change_units();
            Vec::new()
        }
        Pressed::Action(Action::Mouse) => {
            model.desk.mouse = model.desk.mouse.other();
            let said = phrase::settings::mouse_for_now(model.desk.mouse);
            model.desk.say(Notice::Said(said.to_owned()));
            Vec::new()
        }
        Pressed::Action(Action::Figures) => {
            let figures = model.place().figures(&model.desk);
            model.go(figures.map_or(Go::Stay, Go::To))
        }
        Pressed::Action(Action::Help) if matches!(model.place(), Place::Help(_)) => model.go(Go::Back),
        Pressed::Action(Action::Help) => {
            model.open_layer(Help::default().into());
            Vec::new()
        }
        Pressed::Action(Action::Palette) if matches!(model.place(), Place::Palette(_)) => model.go(Go::Back),
        Pressed::Action(Action::Palette) => open_palette(model),
        Pressed::Action(Action::Accept) if matches!(model.place(), Place::Palette(_)) => choose(model, at),
        pressed => model.press(pressed, at),
    }
}

/// Opens the palette; where no session is open, with what is known of all sessions and of the rack.
fn open_palette(model: &mut Model) -> Vec<Effect> {
    let palette = Palette::over(model.ground(), &model.desk);
    model.open_layer(palette.into());
    let asks = model.desk.session.is_none() && model.desk.catalogue.is_none();
    if asks { vec![Effect::TakeStock, Effect::ReadRack] } else { Vec::new() }
}

/// Does what was chosen in the palette, as its key would have.
fn choose(model: &mut Model, at: Stamp) -> Vec<Effect> {
    match model.take_choice() {
        Some(PaletteChoice::Action(action)) => act(model, Pressed::Action(action), KeyEventKind::Press, at),
        Some(PaletteChoice::Session(name)) => vec![Effect::LookAt(name)],
        Some(PaletteChoice::Spring(spring)) => model.take_spring(spring),
        None => Vec::new(),
    }
}

/// Leaves at once where the last step is kept; else tries once more to keep it, and says what leaving would lose.
fn leave(model: &mut Model) -> Vec<Effect> {
    let again = model.desk.keep_again();
    if again.is_empty() {
        return vec![Effect::LetGo, Effect::Leave];
    }
    model.desk.say(Notice::LeavingLoses);
    again
}

/// Takes in what was found behind the screen; what is known at the end of it is to be remembered.
pub fn news(model: &mut Model, news: Vec<BackgroundNews>) -> Vec<Effect> {
    let mut scanned = Vec::new();
    for piece in news {
        match piece {
            BackgroundNews::Scanned(piece) => scanned.push(piece),
            BackgroundNews::Counted(piece) => model.take_count(piece),
        }
    }
    if scanned.is_empty() { Vec::new() } else { self::scanned(model, scanned) }
}

/// Takes in what the look found which sessions there are.
fn scanned(model: &mut Model, news: Vec<ScanNews>) -> Vec<Effect> {
    let Some(catalogue) = &mut model.desk.catalogue else { return Vec::new() };
    let remember = catalogue.take_in(news).map(Effect::Remember);
    if !matches!(catalogue.check(), ScanProgress::UnderWay { .. }) {
        model.desk.learn_marks();
    }
    remember.into_iter().collect()
}

/// Takes an answer of the shell in.
pub fn answer(model: &mut Model, answer: Answer) {
    match answer {
        Answer::Done => {}
        Answer::Kept(keeping) => {
            let lost = matches!(keeping, StorageState::OnlyInMemory { .. });
            if lost
                && matches!(&model.desk.notice, Some(Notice::Said(words)) if words == phrase::guide::NOTE_KEPT)
            {
                model.desk.notice = None;
            }
            if let Some(session) = &mut model.desk.session {
                session.keeping = keeping;
            }
        }
        Answer::Opened { record, keeping, note } => {
            open(model, *record, keeping);
            model.desk.notice = model.desk.notice.take().or(note.map(Notice::Said));
        }
        Answer::KeptBeside(sentence) => {
            if let Some(session) = &mut model.desk.session {
                session.keeping = StorageState::Kept;
            }
            model.desk.say(Notice::Said(sentence));
        }
        Answer::Discarded(name) => {
            model.desk.say(Notice::Said(phrase::folder::discarded(name.as_str())));
            model.desk.shelf.discarded = Some(name);
        }
        Answer::Said(sentence) | Answer::Failed(sentence) => model.desk.say(Notice::Said(sentence)),
        Answer::TableRead(table) => model.take_table(&table),
        Answer::Recalled(past) => model.take_visit(*past),
        Answer::Listed(past) => {
            let said = past.unlisted.clone().or(past.note.clone());
            model.desk.shelf.past = past;
            if let Some(words) = said.filter(|_| model.desk.notice.is_none()) {
                model.desk.say(Notice::Said(words));
            }
        }
        Answer::Stock(index) => {
            model.desk.catalogue = Some(Catalogue::new(*index));
            model.desk.learn_marks();
        }
        Answer::Rack(rack) => model.desk.take_rack(rack),
        Answer::RackKept(springs) => model.rack_kept(springs),
        Answer::Settings(file) => model.desk.take_settings(file),
        Answer::SettingsKept => model.desk.settled.filed = SettingsFileState::Kept,
        Answer::SettingsNotKept(because) => model.desk.settled.filed = SettingsFileState::NotKept(because),
        Answer::Compared(past) => match Compare::of(past) {
            Some(compare) => drop(model.go(Go::To(compare.into()))),
            None => model.desk.say(Notice::Said(phrase::compare::TOO_FEW.to_owned())),
        },
        Answer::VersionsSeen(found) => drop(model.go(Go::To(Versions::of(*found).into()))),
        Answer::Traced(found) => drop(model.go(Go::To(Forget::of(*found).into()))),
        Answer::Forgotten(outcome) => model.forgotten(*outcome),
        Answer::LookedAt(past) => {
            let page = PastSession::of(*past);
            model.go(Go::To(page.into()));
        }
    }
}

fn open(model: &mut Model, record: crate::session::Record, keeping: StorageState) {
    match model.desk.lay_out(record, keeping) {
        Ok(()) => {
            if let Some(session) = &model.desk.session {
                let mut place = Place::of(session);
                let left = model.desk.line_left.take().filter(|(opened, _)| *opened == session.record.opened);
                if let (Place::Trials(trials), Some((_, line))) = (&mut place, left) {
                    trials.take_up(&line);
                }
                model.begin_at(place);
            }
        }
        Err(misfit) => model.desk.say(Notice::Said(format!(
            "Entry {} of this record does not fit what is before it, so the record was left alone. It may have been \
             changed outside the program.",
            misfit.entry
        ))),
    }
}
