//! All that the screen knows: a stack of places, and the desk they share.
//!
//! Not here: the open record and what it means (`open_session`), drawing, and any file.

mod layers;
mod marks;
mod open_session;
mod reply;

pub use open_session::{FirstSpringForecast, OpenSession};
pub use reply::{Go, Reply};

use super::catalogue::Catalogue;
use super::click_targets::{ClickTargets, Extent, ViewSize};
use super::effect::{CountNews, Effect, PastRecord, SessionList, ShopRack, StorageState};
use super::keys::{Action, Pressed};
use super::place::Place;
use super::place::home::Home;
use super::repeat_guard::RepeatGuard;
use super::settings_in_force::SettingsInForce;
use super::theme::Theme;
use crate::archive::SessionName;
use crate::assessment::marks::MarkBook;
use crate::phrase::forget::ForgetOutcome;
use crate::session::limits::Figure;
use crate::session::machine::{self, EntryMisfit};
use crate::session::{Deed, Detail, Record, Refusal, ShopSpring, Stamp, State};
use crate::settings::Mouse;
use crate::text::FreeText;
use crate::units::{Quantity, UnitSet, Unreadable};

/// The whole of it.
#[derive(Debug)]
pub struct Model {
    /// The first screen.
    home: Place,
    /// The places one went to from there; the last is shown.
    further: Vec<Place>,
    /// What the places share.
    pub desk: Desk,
    /// Whether what is asked now has stood on the screen.
    sight: RepeatGuard,
    /// What can be clicked on the screen as it stands; nothing once a key has changed what is to be drawn.
    click_targets: ClickTargets,
}

/// What the places share.
#[derive(Debug)]
pub struct Desk {
    /// Where records live, and which there are.
    pub shelf: Shelf,
    /// What is known of all sessions, once somebody looked.
    pub catalogue: Option<Catalogue>,
    /// What all sessions teach of marked springs.
    marks: MarkBook,
    /// The record open on the desk.
    pub session: Option<OpenSession>,
    /// The units figures are shown in.
    pub units: UnitSet,
    /// Inks and glyphs.
    pub theme: Theme,
    /// Whose the mouse is.
    pub mouse: Mouse,
    /// The settings.
    pub settled: SettingsInForce,
    /// The last thing that has to be said, until the next key.
    pub notice: Option<Notice>,
    /// What of the place's list or text the last frame showed.
    pub window: ViewSize,
    /// How much of what is to be answered it showed.
    pub extent: Extent,
    /// The line from which on a caution longer than its room is shown.
    pub read_from: usize,
    /// The line of quick trials as it was left, and the session it was left in by the moment that was opened.
    pub line_left: Option<(Stamp, String)>,
}

/// The records there are.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    /// Where they live, safe to show.
    pub folder: String,
    /// Those of the folder.
    pub past: SessionList,
    /// The springs of the shop.
    pub rack: ShopRack,
    /// Titles of the demonstrations.
    pub demonstrations: Vec<String>,
    /// The session discarded last from the first screen, which undo brings back.
    pub discarded: Option<SessionName>,
}

/// Something that has to be said.
#[derive(Debug, Clone, PartialEq)]
pub enum Notice {
    /// A deed or detail was refused.
    Refused(Refusal),
    /// What was typed cannot be read.
    Unreadable(Unreadable),
    /// A figure is possible but unusual; a second Enter takes it.
    Unusual(Figure, Quantity),
    /// The last step is in memory only, and leaving would lose it.
    LeavingLoses,
    /// A sentence.
    Said(String),
}

impl Model {
    /// The first screen.
    pub fn new(shelf: Shelf, units: UnitSet, theme: Theme) -> Self {
        let settled = SettingsInForce::under(theme);
        let mouse = settled.settings().mouse;
        let window = ViewSize::default();
        let desk = Desk {
            shelf,
            catalogue: None,
            marks: MarkBook::default(),
            session: None,
            units,
            theme,
            mouse,
            settled,
            notice: None,
            window,
            extent: Extent::Whole,
            read_from: 0,
            line_left: None,
        };
        Self {
            home: Home::default().into(),
            further: Vec::new(),
            desk,
            sight: RepeatGuard::new(),
            click_targets: ClickTargets::default(),
        }
    }

    /// Where one is.
    pub fn place(&self) -> &Place {
        self.further.last().unwrap_or(&self.home)
    }

    /// Takes in that the shop's rack is on disk.
    pub(super) fn rack_kept(&mut self, springs: Vec<ShopSpring>) {
        self.desk.take_rack(ShopRack::Read(springs));
        if let Some(Place::Rack(rack)) = self.further.last_mut() {
            rack.saved();
        }
    }

    /// Takes note that a frame was drawn: what is asked now stands on the screen.
    pub fn was_drawn(&mut self) {
        self.sight.was_drawn();
    }

    /// Takes note of what can be clicked in the frame that was drawn.
    pub fn was_drawn_with(&mut self, click_targets: ClickTargets) {
        self.desk.extent = click_targets.extent();
        if !matches!(self.desk.extent, Extent::Nothing | Extent::OnlyTheWayBack) {
            self.was_drawn();
        }
        self.desk.window = click_targets.in_sight();
        self.click_targets = click_targets;
    }

    /// What can be clicked.
    pub(super) const fn click_targets(&self) -> &ClickTargets {
        &self.click_targets
    }

    /// From now on nothing can be clicked, until the next frame shows what came of a key or a click.
    pub(super) fn forget_hits(&mut self) {
        self.click_targets = ClickTargets::default();
    }

    /// Whether the place asks for a yes that nobody can have read yet.
    pub(super) fn asks_unseen(&self) -> bool {
        self.sight.is_unseen() && self.place().asks(&self.desk)
    }

    /// Takes note of a key that can answer yes; whether it came too soon for a question that guards from harm.
    pub(super) fn answers_too_soon(&mut self, at: Stamp) -> bool {
        self.sight.pressed_too_soon(at) && self.place().guards(&self.desk)
    }

    /// Goes on reading a caution that was not shown to its end; false where the frame showed all of it.
    pub(super) fn reads_on(&mut self) -> bool {
        let Extent::GoesOn(next) = self.desk.extent else { return false };
        self.desk.read_from = next;
        self.sight.answered();
        true
    }

    /// Hands a key to the place one is at.
    pub(super) fn press(&mut self, pressed: Pressed, at: Stamp) -> Vec<Effect> {
        let place = self.further.last_mut().unwrap_or(&mut self.home);
        let answers = matches!(pressed, Pressed::Action(action) if action.answers());
        let leaves = pressed == Pressed::Action(Action::Back);
        let reply = place.update(&mut self.desk, pressed, at);
        let mut effects = reply.effects;
        if answers || effects.iter().any(|effect| matches!(effect, Effect::Keep(_))) {
            self.sight.answered();
        }
        if answers || leaves {
            self.desk.read_from = 0;
        }
        effects.extend(self.go(reply.go));
        effects
    }

    /// Hands the text of a table to the place one is at.
    pub(super) fn take_table(&mut self, table: &str) {
        self.further.last_mut().unwrap_or(&mut self.home).take_table(&mut self.desk, table);
    }

    /// Hands what came of sessions to the tally, wherever one went from there.
    pub(super) fn take_count(&mut self, news: CountNews) {
        let tally = self.further.iter_mut().find_map(|place| match place {
            Place::Tally(tally) => Some(tally),
            _ => None,
        });
        if let Some(tally) = tally {
            tally.take_in(news);
        }
    }

    /// Shows what came of forgetting a customer; the session of theirs that was looked at is no longer there to go back to.
    pub(super) fn forgotten(&mut self, outcome: ForgetOutcome) {
        let Some(Place::Forget(place)) = self.further.pop() else { return };
        self.further.retain(|place| !matches!(place, Place::PastSession(_)));
        self.further.push(place.done(outcome).into());
    }

    /// Hands the last session of a customer to the place one is at.
    pub(super) fn take_visit(&mut self, past: PastRecord) {
        self.further.last_mut().unwrap_or(&mut self.home).take_visit(&mut self.desk, past);
    }

    /// Shows everything in the next set of units.
    pub(super) fn change_units(&mut self) {
        self.desk.units = self.desk.units.next();
        let place = self.further.iter_mut().rev().find(|place| !place.is_layer());
        place.unwrap_or(&mut self.home).change_units(&self.desk);
    }

    /// Goes to the place of a record just laid out as if straight from the first screen, whatever lay between.
    pub(super) fn begin_at(&mut self, mut place: Place) {
        place.change_units(&self.desk);
        self.further = vec![place];
    }

    /// Goes somewhere; coming home lets go of the record, unless that would lose its last step.
    pub(super) fn go(&mut self, go: Go) -> Vec<Effect> {
        if !matches!(go, Go::Stay) {
            self.desk.window = ViewSize::default();
            self.desk.read_from = 0;
        }
        match go {
            Go::Back if self.further.len() == 1 => {
                let again = self.desk.keep_again();
                if !again.is_empty() {
                    self.desk.say(Notice::LeavingLoses);
                    return again;
                }
                self.further.pop();
            }
            Go::Back => drop(self.further.pop()),
            Go::Stay => {}
            Go::To(mut place) => {
                place.change_units(&self.desk);
                self.further.push(place);
            }
            Go::FromHome(place) => self.begin_at(place),
            Go::Instead(mut place) => {
                place.change_units(&self.desk);
                self.further.pop();
                self.further.push(place);
            }
        }
        if self.further.is_empty() && self.desk.session.take().is_some() {
            return vec![Effect::LetGo, Effect::List];
        }
        Vec::new()
    }
}

impl Desk {
    /// Says something until the next key.
    pub fn say(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    /// Why the open session can only be looked at; none where it can be gone on with.
    pub fn only_to_look_at(&self) -> Option<&str> {
        match &self.session.as_ref()?.keeping {
            StorageState::ReadOnly { because } => Some(because),
            _ => None,
        }
    }

    /// The effect of trying once more to keep a step that is in memory only; none where everything is saved.
    pub fn keep_again(&self) -> Vec<Effect> {
        let session = self.session.as_ref();
        let lost = session.filter(|session| {
            matches!(session.keeping, StorageState::OnlyInMemory { .. }) && !session.is_blank()
        });
        lost.map(|session| Effect::Keep(Box::new(session.record.clone()))).into_iter().collect()
    }

    /// Puts a record on the desk.
    ///
    /// # Errors
    /// When its entries do not fit the walk: it was changed by hand or is damaged.
    pub fn lay_out(&mut self, record: Record, keeping: StorageState) -> Result<(), EntryMisfit> {
        let state = machine::replay(&record)?;
        self.session = Some(OpenSession::folded(record, state, keeping));
        self.look_beyond();
        Ok(())
    }

    /// Takes in what hangs on the shop's rack.
    pub(super) fn take_rack(&mut self, rack: ShopRack) {
        self.shelf.rack = rack;
        self.learn_marks();
    }

    fn look_beyond(&mut self) {
        if let Some(session) = &mut self.session {
            session.look_beyond(self.shelf.rack.kinds());
        }
    }

    /// Does a deed in the open session: accepted, it is to be kept; refused, the refusal is said.
    pub fn advance(&mut self, at: Stamp, deed: Deed) -> Vec<Effect> {
        let by = self.mechanic();
        self.change(|record| machine::advance_by(record, at, by, deed))
    }

    /// Does deeds one after another; the record is to be kept once, as it stands after the last one accepted.
    ///
    /// # Errors
    /// With what is to be kept all the same, when one was refused; the refusal is said and the rest left undone.
    pub fn advance_all(&mut self, at: Stamp, deeds: Vec<Deed>) -> Result<Vec<Effect>, Vec<Effect>> {
        let mut kept = Vec::new();
        for deed in deeds {
            let effects = self.advance(at, deed);
            if effects.is_empty() {
                return Err(kept);
            }
            kept = effects;
        }
        Ok(kept)
    }

    /// Takes a detail into the open session: accepted, it is to be kept; refused, the refusal is said.
    pub fn enter(&mut self, at: Stamp, detail: Detail) -> Vec<Effect> {
        let by = self.mechanic();
        self.change(|record| machine::enter_by(record, at, by, detail))
    }

    /// Who works here, by the settings.
    fn mechanic(&self) -> FreeText {
        self.settled.settings().paper.mechanic.clone()
    }

    fn change(&mut self, change: impl FnOnce(&mut Record) -> Result<State, Refusal>) -> Vec<Effect> {
        let Some(session) = &mut self.session else { return Vec::new() };
        if let StorageState::ReadOnly { because } = &session.keeping {
            self.notice = Some(Notice::Said(because.clone()));
            return Vec::new();
        }
        match change(&mut session.record) {
            Ok(state) => {
                session.state = state;
                session.reassess();
                session.look_beyond(self.shelf.rack.kinds());
                vec![Effect::Keep(Box::new(session.record.clone()))]
            }
            Err(refusal) => {
                self.notice = Some(Notice::Refused(refusal));
                Vec::new()
            }
        }
    }
}
